#!/usr/bin/python3
"""Paint sets in and out: tables, CGATS text, more paints added.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os

import cli
from cli import PAINTS, PLAN

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
