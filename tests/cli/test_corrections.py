"""test_corrections.py: chart, cards, another photograph and a guess, from the command line

SPDX-License-Identifier: GPL-3.0-or-later

The pictures are drawn here: sRGB's colours of known CIELAB under a cast, an exposure and a contrast
curve. CIELAB and CIEDE2000 are scikit-image's.
"""
import os
import unittest

import numpy
from PIL import Image
from skimage.color import deltaE_ciede2000

import cli

WHITE = numpy.array([0.9642, 1.0, 0.8249])
# Linear sRGB to XYZ D50 (ICC's sRGB: the primaries adapted by Bradford).
TO_XYZ = numpy.array([[0.4360747, 0.3850649, 0.1430804], [0.2225045, 0.7168786, 0.0606169],
                      [0.0139322, 0.0971045, 0.7141733]])
PITCH, SIZE = 40, 34
CORNERS = "37,37:237,37:237,157:37,157"
PAINTS = [(45, 30, 20), (60, -15, 30), (35, 5, -25), (70, 10, 40), (25, -5, 5)]
GREYS = [(20.0, 0, 0), (49.5, 0, 0), (92.0, 0, 0)]


def linear_from_lab(lab):
    lab = numpy.asarray(lab, float)
    y = (lab[..., 0] + 16) / 116
    f = numpy.stack([y + lab[..., 1] / 500, y, y - lab[..., 2] / 200], -1)
    xyz = WHITE * numpy.where(f > 6 / 29, f ** 3, 3 * (6 / 29) ** 2 * (f - 4 / 29))
    return xyz @ numpy.linalg.inv(TO_XYZ).T


def chart():
    rows = []
    with open(os.path.join(cli.SOURCE, "data", "charts", "later.txt"), encoding="utf-8") as file:
        inside = False
        for line in file:
            inside = (inside or line.startswith("BEGIN_DATA\n")) and not line.startswith("END_DATA\n")
            if inside and not line.startswith("BEGIN"):
                rows.append([float(word) for word in line.split()[-3:]])
    assert len(rows) == 24
    return rows


def draw(path, exposure=0.8, cast=(1.05, 1.0, 0.8), contrast=0.3, with_chart=True):
    """Chart, a row of three greys at y 230 and a row of paints at y 290, 40 apart."""
    linear = numpy.full((330, 280, 3), 0.05)
    places = [(20 + PITCH * (i % 6), 20 + PITCH * (i // 6), lab) for i, lab in enumerate(chart())]
    places = places if with_chart else []
    places += [(20 + PITCH * i, 213, lab) for i, lab in enumerate(GREYS)]
    places += [(20 + PITCH * i, 273, lab) for i, lab in enumerate(PAINTS)]
    for x, y, lab in places:
        linear[y:y + SIZE, x:x + SIZE] = linear_from_lab(lab)
    linear = numpy.clip(exposure * linear * cast, 0.0, 1.0)
    v = numpy.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
    v += contrast * (v * v * (3 - 2 * v) - v)
    Image.fromarray(numpy.uint8(numpy.round(255 * v))).save(path)


def spots(y, n):
    return [word for i in range(n) for word in ("--spot", "%d,%d,12" % (37 + PITCH * i, y))]


def card(index, lightness=True):
    place = "%d,230,12" % (37 + PITCH * index)
    return place + (",%g" % GREYS[index][0] if lightness else "")


class Corrections(cli.CliTest):
    def off(self, path, *words, y=290, wanted=PAINTS):
        answer = self.answer("measure", path, *spots(y, len(wanted)), *words)
        found = numpy.array([spot["lab_d50"] for spot in answer["spots"]])
        off = deltaE_ciede2000(numpy.array(wanted, float), found)
        for spot, each in zip(answer["spots"], off):
            self.assertGreater(spot["error_delta_e_2000"], 0.4)
            self.assertLess(spot["error_L"], spot["error_delta_e_2000"] + 0.1)
        return off, answer

    def test_chart(self):
        path = self.path("one.png")
        draw(path)
        none, _ = self.off(path)
        off, answer = self.off(path, "--chart", CORNERS)
        self.assertEqual(answer["correction"]["kind"], "chart")
        self.assertEqual(len(answer["correction"]["patches"]), 24)
        self.assertGreater(none.mean(), 5.0)
        self.assertLess(off.mean(), 1.5)
        for spot, each in zip(answer["spots"], off):
            self.assertLess(each, spot["error_delta_e_2000"])

    def test_not_the_chart(self):
        path = self.path("one.png")
        draw(path)
        done = self.run_cli("measure", path, *spots(290, 1), "--chart", "37,77:237,77:237,197:37,197", status=1)
        self.assertIn("does not look like the chart", done.stderr)

    def test_three_cards(self):
        path = self.path("one.png")
        draw(path)
        one, answer = self.off(path, "--grey", card(1), y=230, wanted=GREYS)
        self.assertEqual(answer["correction"]["cards"], 1)
        three, answer = self.off(path, *[word for i in (2, 0, 1) for word in ("--grey", card(i))],
                                 y=230, wanted=GREYS)
        self.assertEqual(answer["correction"]["cards"], 3)
        self.assertLess(three.max(), 0.5)
        self.assertLess(three.max(), 0.5 * one.max())

    def test_other_photograph(self):
        first, second = self.path("first.png"), self.path("second.png")
        draw(first)
        draw(second, exposure=0.55, cast=(1.0, 1.0, 0.85), with_chart=False)
        unmatched, answer = self.off(second, "--chart", CORNERS, "--from", first)
        self.assertTrue(answer["correction"]["from_another_photograph"])
        match = "%s:%s" % (card(1, False), card(1, False))
        off, _ = self.off(second, "--chart", CORNERS, "--from", first, "--match", match)
        self.assertGreater(unmatched.mean(), 4.0)
        self.assertLess(off.mean(), 1.5)

    def test_plan_keeps_it(self):
        first, second = self.path("first.png"), self.path("second.png")
        draw(first)
        draw(second, exposure=0.55, with_chart=False)
        plan = self.path("plan.tonestair")
        match = "%s:%s" % (card(1, False), card(1, False))
        words = ("--run", "37,290:157,290", "--spots", "4", "--radius", "10", "--steps", "3",
                 "--paints", cli.PAINTS, "--max-paints", "2", "--max-parts", "3")
        made = self.answer("stair", second, *words, "--chart", CORNERS, "--from", first, "--match", match,
                           "--plan", plan)
        with open(plan, encoding="utf-8") as file:
            text = file.read()
        self.assertIn('"source": "first.png"', text)
        again, _ = self.off(second, "--from", plan, "--match", match)
        self.assertLess(again.mean(), 1.5)
        own, _ = self.off(first, "--from", plan)
        self.assertLess(own.mean(), 1.5)
        self.assertEqual(made["correction"]["kind"], "chart")

    def test_guess(self):
        path = self.path("one.png")
        draw(path, cast=(1.15, 1.0, 0.6), contrast=0.0)
        none, answer = self.off(path, y=230, wanted=GREYS)
        self.assertEqual(answer["light_guess"]["looks"], "warm")
        guessed, answer = self.off(path, "--guess", y=230, wanted=GREYS)
        self.assertEqual(answer["correction"]["kind"], "guess")
        self.assertLess(guessed.mean(), none.mean())
        self.assertIn("guess", self.run_cli("measure", path, *spots(230, 1)).stdout)

    def test_refusals(self):
        path = self.path("one.png")
        draw(path)
        spot = spots(290, 1)
        for words, status in (
                (("--guess", "--chart", CORNERS), 2), (("--match", "1,1,2:1,1,2"), 2), (("--from", path), 2),
                (("--grey", card(0), "--chart", CORNERS), 2), (("--grey", "37,230,12,101"), 2),
                (("--chart", CORNERS, "--from", path, "--match", "1,1,2"), 2),
                (("--chart", CORNERS, "--from", self.path("none.png")), 1),
                (("--from", cli.PAINTS + ".tonestair"), 1),
                # Black and white exchanged; twice the same card.
                (("--grey", "37,230,12,92", "--grey", "117,230,12,20"), 1),
                (("--grey", card(1), "--grey", card(1)), 1)):
            self.run_cli("measure", path, *spot, *words, status=status)


if __name__ == "__main__":
    cli.main()
