#!/usr/bin/python3
"""Paint sets in and out: tables, CGATS text, more paints added.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os

import cli
from cli import PAINTS, PICTURE, PLAN, SOURCE

DEVICE = """CGATS.17
BEGIN_DATA_FORMAT
SAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B
END_DATA_FORMAT
BEGIN_DATA
1 "Measured Rust" 45 30 35
2 "Measured Moss" 40 -20 25
END_DATA
"""


class Paints(cli.CliTest):
    def test_import_and_export(self):
        device = self.path("device.txt", DEVICE)
        alone = self.answer("paints", device)
        self.assertEqual([p["paint"] for p in alone["paints"]], ["Measured Rust", "Measured Moss"])
        before = self.answer("paints", PAINTS)
        out = self.path("out.csv")
        after = self.answer("paints", PAINTS, "--import", device, "--out", out)
        self.assertEqual(len(after["paints"]), len(before["paints"]) + 2)
        self.assertEqual(self.answer("paints", out)["paints"], after["paints"])
        # CGATS text keeps what mixes depend on.
        cgats = self.path("out.txt")
        self.run_cli("paints", out, "--out", cgats)
        again = self.answer("paints", cgats)["paints"]
        for one, other in zip(after["paints"], again):
            self.assertEqual(one["paint"], other["paint"])
            for a, b in zip(one["lab_d50"], other["lab_d50"]):
                self.assertAlmostEqual(a, b, places=2)
            if one["coats_to_hide"] is not None:
                self.assertAlmostEqual(one["coats_to_hide"], other["coats_to_hide"], places=2)
            self.assertAlmostEqual(one["error_delta_e_2000"], other["error_delta_e_2000"], delta=0.11)

    def test_refusals(self):
        device = self.path("device.txt", DEVICE)
        out = self.path("out.csv")
        self.run_cli("paints", PAINTS, "--import", device, "--import", device, "--out", out, status=1)
        self.assertFalse(os.path.exists(out))
        self.run_cli("paints", PAINTS, "--import", self.path("none.txt"), status=1)
        self.run_cli("paints", self.path("short.txt", "CGATS.17\nBEGIN_DATA_FORMAT\n"), status=1)


def published(name):
    """Rows of a table in tests/fixtures/published, which names its source."""
    with open(os.path.join(SOURCE, "tests", "fixtures", "published", name), encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


class Predict(cli.CliTest):
    def test_published_mixes(self):
        """Whole parts of 19 acrylics: km_acrylics_mix_checks.csv through a set's file and predict."""
        bands = ["%s%d" % (letter, nm) for letter in "KS" for nm in range(400, 701, 10)]
        rows = ["name," + ",".join(bands)]
        rows += [row["ci"] + "," + ",".join(row[b] for b in bands) for row in published("km_acrylics_2016.csv")]
        paints = self.path("acrylics.csv", "# surface: k1=0.03 k2=0.65\n" + "\n".join(rows) + "\n")
        checks = published("km_acrylics_mix_checks.csv")
        self.assertEqual(len(checks), 14)
        for check in checks:
            answer = self.answer("predict", "--paints", paints, "--recipe", check["recipe"])
            for nm in (420, 450, 500, 550, 600, 650):
                self.assertAlmostEqual(answer["reflectance"][(nm - 400) // 10], float(check["R%d" % nm]), delta=6e-7)
            # The table sums 380 to 750 nm at 10 nm; see test-km-published.c.
            for got, key, most in zip(answer["lab_d50"], "Lab", (0.005, 0.06, 0.06)):
                self.assertAlmostEqual(got, float(check[key]), delta=most)

    def test_sprayed_primer(self):
        words = ["predict", "--paints", PAINTS, "--recipe", "1 Strong Blue"]
        answer = self.answer(*words, "--sprayed", "20,0,0:92,0,1", "--coats", "0.5")
        ground = [p["ground_lab_d50"][0] for p in answer["sprayed"]]
        self.assertEqual([round(L) for L in ground], [20, 56, 92])
        film = [p["lab_d50"][0] for p in answer["sprayed"]]
        self.assertTrue(film[0] < film[1] < film[2])
        for place, over in zip((0, 2), ("20,0,0", "92,0,1")):
            plain = self.answer(*words, "--over", over, "--coats", "0.5")
            self.assertEqual(plain["lab_d50"], answer["sprayed"][place]["lab_d50"])
        self.run_cli(*words, "--sprayed", "20,0,0", status=2)
        self.run_cli(*words, "--sprayed", "20,0,0:92,0,1", "--over", "20,0,0", status=2)
        self.run_cli(*words, "--sprayed", "Nothing:92,0,1", status=1)


class Template(cli.CliTest):
    def test_printed_sheet_is_found_again(self):
        """The page itself, black and white to the very ends of the range: clipped, and nothing is saved."""
        page, names, out = self.path("sheet.png"), self.path("names.txt", "One\nTwo\n"), self.path("out.csv")
        self.run_cli("paints", PAINTS, "--template", page)
        answer = self.answer("sheet", page)
        self.assertEqual({cell.get("mark") for cell in answer["cells"]}, {"clipped"})
        self.assertEqual(len(answer["cells"]), 40)
        self.assertTrue(answer["corners"][0]["x"] < answer["corners"][1]["x"])
        self.run_cli("sheet", page, "--names", names, "--out", out, status=1)
        self.assertFalse(os.path.exists(out))
        self.run_cli("paints", PAINTS, "--template", self.path("sheet.doc"), status=1)
        self.run_cli("sheet", PICTURE, status=1)


class Next(cli.CliTest):
    def test_next_mixes(self):
        answer = self.answer("calibrate", PAINTS, "--next", "3")
        self.assertEqual(len(answer["next"]), 3)
        for mix in answer["next"]:
            self.assertLess(mix["after_spread_delta_e_2000"], mix["before_spread_delta_e_2000"])
            # It can be painted as it stands.
            self.answer("predict", "--paints", PAINTS, "--recipe", mix["recipe"])
        plan = self.answer("calibrate", PAINTS, "--next", "3", "--plan", PLAN)
        self.assertNotEqual(plan["next"], answer["next"])

    def test_next_after_swatches(self):
        first = self.answer("calibrate", PAINTS, "--next", "1")["next"][0]["recipe"]
        lab = self.answer("predict", "--paints", PAINTS, "--recipe", first)["lab_d50"]
        swatches = self.path("swatches.csv", "recipe,L,a,b\n%s,%g,%g,%g\n" % (first, *lab))
        after = self.answer("calibrate", PAINTS, "--swatches", swatches, "--out", self.path("new.csv"), "--next", "1")
        self.assertNotEqual(after["next"][0]["recipe"], first)

    def test_usage(self):
        self.run_cli("calibrate", PAINTS, status=2)
        self.run_cli("calibrate", PAINTS, "--next", "-1", status=2)
        self.run_cli("calibrate", PAINTS, "--plan", PLAN, status=2)
        self.run_cli("calibrate", PAINTS, "--out", self.path("new.csv"), "--next", "1", status=2)
        self.run_cli("calibrate", PAINTS, "--next", "1", "--plan", self.path("none.tonestair"), status=1)


cli.main()
