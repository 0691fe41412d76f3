#!/usr/bin/python3
"""Forty swatches of measured paints, photographed tilted under a warm light beside a chart, come in by one command.

Prints how far the paints lie from the truth. CIEDE2000 by scikit-image (BSD-3-Clause).

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import sys

import numpy
from skimage.color import deltaE_ciede2000

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cli"))
import cli  # noqa: E402
import render_sheet  # noqa: E402

WORLD = render_sheet.World(os.path.join(cli.SOURCE, "tests", "fixtures", "published"))


def paints_of(test, path):
    return {p["paint"]: p for p in test.answer("paints", path)["paints"]}


class Photograph(cli.CliTest):
    def take(self, sheet, **how):
        picture, reference = self.path("sheet.png"), self.path("chart.txt")
        corners, chart = render_sheet.photograph(sheet, picture, **how)
        render_sheet.write_chart_reference(WORLD, reference)
        return [picture, "--corners", render_sheet.words(corners), "--rows", sheet.n_rows, "--columns",
                sheet.n_columns, "--chart", render_sheet.words(chart), "--chart-reference", reference]

    def test_forty_masstones(self):
        """24 painted pigments and 16 acrylics, hiding."""
        cells = numpy.concatenate([WORLD.pigments, WORLD.masstones()[:16]])
        names = ["Paint %d" % (i + 1) for i in range(40)]
        truth = WORLD.lab(cells)
        # The small-sensor camera sees colours unlike the eye, and its stated error says so.
        for light, cameras, most in (("LED-B1", ("c1", "c3", "c4"), 1.5), ("A", ("c1", "c3", "c4"), 1.5),
                                     ("LED-B1", ("c2",), 3.0)):
            everything = []
            for camera in cameras:
                words = self.take(render_sheet.Sheet(WORLD, list(cells), 8), camera=camera, light=light)
                out = self.path("set-%s-%s.csv" % (camera, light))
                answer = self.answer("sheet", *words, "--names", self.path("names.txt", "\n".join(names)), "--out", out)
                self.assertTrue(answer["light_evened"])
                self.assertEqual(answer["left_out"], [])
                self.assertEqual(answer["paints_added"], 40 - len(answer["left_out"]))
                paints = paints_of(self, out)
                taken = [(deltaE_ciede2000(paints[n]["lab_d50"], t), cell["error_delta_e_2000"])
                         for n, t, cell in zip(names, truth, answer["cells"]) if n in paints]
                off, within = numpy.array(taken).T
                print("camera %s, %s, tilted 10 degrees: %d of 40 in, median %.2f, 90 %% below %.2f, most %.2f; %d within "
                      "the stated error" % (camera, light, len(off), numpy.median(off), numpy.quantile(off, 0.9),
                                            off.max(), (off <= within).sum()))
                self.assertGreaterEqual((off <= within).sum(), 36)
                everything += list(off)
            print("all under %s: median %.2f" % (light, numpy.median(everything)))
            self.assertLessEqual(numpy.median(everything), most)

    def test_uneven_light_costs(self):
        """The same under a light that falls by half: evened by the bare card, and not where none shows."""
        cells = list(WORLD.masstones()[:16])
        truth = WORLD.lab(numpy.array(cells))
        sheet = render_sheet.Sheet(WORLD, cells, 4)
        answer = self.answer("sheet", *self.take(sheet, fall=0.4))
        off = [deltaE_ciede2000(c["lab_d50"], t) for c, t in zip(answer["cells"], truth)]
        self.assertTrue(answer["light_evened"])
        gutter, render_sheet.GUTTER = render_sheet.GUTTER, 0.0
        bare = self.answer("sheet", *self.take(sheet, fall=0.4))
        render_sheet.GUTTER = gutter
        off_bare = [deltaE_ciede2000(c["lab_d50"], t) for c, t in zip(bare["cells"], truth)]
        print("light falling by 40 %%: median %.2f evened, %.2f where no card shows"
              % (numpy.median(off), numpy.median(off_bare)))
        self.assertFalse(bare["light_evened"])
        self.assertLessEqual(numpy.median(off), 2.0)
        self.assertGreater(numpy.median(off_bare), numpy.median(off))

    def test_films_on_contrast_card(self):
        """One thin coat over white and black: masstone and hiding power follow."""
        white, black = render_sheet.Sheet(WORLD, [], 1).white, render_sheet.Sheet(WORLD, [], 1).black
        films = list(zip(WORLD.films(2.0, white), WORLD.films(2.0, black)))
        names = ["Film %d" % (i + 1) for i in range(20)]
        sheet = render_sheet.Sheet(WORLD, films + [(white, black)], 5, halves=True)
        out = self.path("films.csv")
        answer = self.answer("sheet", *self.take(sheet), "--halves", "--bare", render_sheet.BARE,
                             "--names", self.path("names.txt", "\n".join(names)), "--out", out)
        # The twentieth was not painted; some thin films over white are too vivid for the picture's colours.
        marks = [cell.get("mark") for cell in answer["cells"]]
        self.assertEqual(marks[19], "empty")
        self.assertTrue(set(marks[:19]) <= {None, "clipped"} and marks.count("clipped") <= 6, marks)
        self.assertEqual(answer["left_out"], [n for n, m in zip(names, marks) if m])
        good = [(n, c, f, m) for n, c, f, m in zip(names, answer["cells"], films, WORLD.masstones())
                if "mark" not in c]
        self.assertEqual(answer["paints_added"], len(good))
        over_white = [deltaE_ciede2000(c["lab_d50_white"], WORLD.lab(f[0])) for n, c, f, m in good]
        over_black = [deltaE_ciede2000(c["lab_d50_black"], WORLD.lab(f[1])) for n, c, f, m in good]
        paints = paints_of(self, out)
        off = [deltaE_ciede2000(paints[n]["lab_d50"], WORLD.lab(m)) for n, c, f, m in good]
        Y = WORLD.xyz[:, 1]
        ratio = [abs(c["contrast_ratio"] - f[1] @ Y / (f[0] @ Y)) for n, c, f, m in good]
        print("%d films: over white %.2f, over black %.2f, masstone from them %.1f (medians); contrast ratio off by %.3f"
              % (len(good), numpy.median(over_white), numpy.median(over_black), numpy.median(off), numpy.median(ratio)))
        self.assertLessEqual(numpy.median(over_white), 3.0)
        self.assertLessEqual(numpy.median(over_black), 2.0)
        self.assertLessEqual(numpy.median(ratio), 0.01)
        # Two thin films tell the colour of a thick layer only roughly, and each paint says so, with what its
        # readings leave open: 19 of 19 when this was written.
        within = [paints[n]["error_delta_e_2000"] for n, c, f, m in good]
        n_within = sum(o <= w for o, w in zip(off, within))
        print("%d of %d masstones within the stated error" % (n_within, len(good)))
        self.assertGreaterEqual(n_within, 0.88 * len(good))

    def test_refusals(self):
        sheet = render_sheet.Sheet(WORLD, list(WORLD.pigments[:4]), 2)
        words = self.take(sheet, size=(900, 600))
        out = self.path("out.csv")
        names = self.path("names.txt", "One\nTwo\nTHREE\nthree\n")
        self.run_cli("sheet", *words, "--names", names, "--out", out, status=1)
        self.assertFalse(os.path.exists(out))
        self.run_cli("sheet", *words, "--names", self.path("many.txt", "a\nb\nc\nd\ne\n"), "--out", out, status=1)
        self.run_cli("sheet", *words, "--out", out, status=2)
        self.run_cli("sheet", words[0], "--rows", "2", "--columns", "2", status=1)
        self.run_cli("sheet", words[0], "--corners", "0,0:9,9:5,5:1,1", "--rows", "2", "--columns", "2", status=1)
        self.run_cli("sheet", words[0], "--corners", "0,0:9,0:9,9:0,9", "--rows", "99", "--columns", "2", status=2)
        self.run_cli("sheet", *words, "--bare", "0.7", status=2)


cli.main()
