#!/usr/bin/python3
"""Every verb answers with its JSON, and refuses what it should.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import math
import os
import re
import stat

import cli
from cli import PAINTS, PICTURE, PLAN

TWO_PAINTS = """name,kind,opacity,L,a,b
White,paint,opaque,96,0,2
Black,paint,opaque,12,0,0
Blue,paint,semi-opaque,35,5,-45
Primer,primer,opaque,60,0,0
"""


class Measure(cli.CliTest):
    def test_spots_and_runs(self):
        answer = self.answer("measure", PICTURE, "--spot", "600,500,10", "--spot", "601,500,0.5",
                             "--run", "600,500:700,560:720,600", "--spots", "9", "--radius", "4")
        self.assertEqual(len(answer["spots"]), 11)
        for spot in answer["spots"]:
            for key in ("x", "y", "radius", "lab_d50", "spread", "pixels", "clipped_share"):
                self.assertIn(key, spot)
        self.assertEqual(answer["spots"][0]["x"], 600)
        self.assertTrue(280 <= answer["spots"][0]["pixels"] <= 316)
        run = answer["spots"][2:]
        self.assertEqual([s["position"] for s in run], [i / 8 for i in range(9)])
        self.assertEqual((run[0]["x"], run[0]["y"]), (600, 500))
        self.assertEqual((run[-1]["x"], run[-1]["y"]), (720, 600))

    def test_refusals(self):
        self.run_cli("measure", PICTURE, status=2)
        self.run_cli("measure", PICTURE, "--spot", "1,2", status=2)
        self.run_cli("measure", PICTURE, "--spot", "nan,2,3", status=2)
        self.run_cli("measure", PICTURE, "--spot", "-50,2,3", status=1)
        self.run_cli("measure", PICTURE, "--spot", "1e9,2,3", status=1)
        self.run_cli("measure", PICTURE, "--spot", "5,5,3", "--grey", "1,1,1", "--chart", "1,1:2,2:3,3:4,4", status=2)
        self.run_cli("measure", self.path("none.png"), "--spot", "5,5,3", status=1)
        self.run_cli("measure", self.folder.name, "--spot", "5,5,3", status=1)
        self.run_cli("measure", self.path("text.png", "hello"), "--spot", "5,5,3", status=1)

    def test_fifo_is_refused_at_once(self):
        pipe = self.path("pipe.png")
        os.mkfifo(pipe)
        self.run_cli("measure", pipe, "--spot", "5,5,3", status=1)


class Outline(cli.CliTest):
    """The coat's right side, drawn loosely: scarf and strap are in it."""
    COAT = "550,590:650,560:760,600:830,720:830,1045:640,1045:560,930:530,760"

    def test_measure(self):
        answer = self.answer("measure", PICTURE, "--outline", self.COAT, "--grey", "1347.7,340.9,60,49.5")
        outline, = answer["outlines"]
        self.assertTrue(100_000 < outline["pixels"] < 140_000)
        self.assertTrue(0.01 < outline["left_out_share"] < 0.3)
        L = [tone["lab_d50"][0] for tone in outline["tones"]]
        self.assertEqual(L, sorted(L, reverse=True))

    def test_stair(self):
        answer = self.answer("stair", PICTURE, "--outline", self.COAT, "--paints", PAINTS, "--steps", "5",
                             "--spacing", "area", "--max-paints", "2", "--max-parts", "4")
        self.assertEqual(len(answer["area_shares"]), 5)
        self.assertAlmostEqual(sum(answer["area_shares"]), 1.0, places=6)
        for share in answer["area_shares"]:
            self.assertTrue(0.1 < share < 0.35, answer["area_shares"])
        self.assertEqual(len(answer["steps"]), 5)

    def test_refused(self):
        self.run_cli("measure", PICTURE, "--outline", "1,1:2,2", status=2)
        self.run_cli("measure", PICTURE, "--outline", "1,1:4,1:4,4", status=1)
        self.run_cli("stair", PICTURE, "--outline", self.COAT, "--paints", PAINTS, "--spacing", "even", status=2)


class Curve(cli.CliTest):
    def test_polished_is_proposed(self):
        rows = "position,L,a,b,se\n" + "".join("%g,%g,5,10,1\n" % (i / 30, 50 + 30 * math.cos(12 * i / 30))
                                                for i in range(31))
        self.assertTrue(self.answer("curve", self.path("data.csv", rows), "--steps", "5")["seems_polished"])
        answer = self.answer("curve", self.path("data.csv", rows), "--steps", "5", "--polished")
        self.assertFalse(answer["seems_polished"])
        low, high = answer["highlight_position_range"]
        self.assertLessEqual(low, answer["highlight_position"])
        self.assertLess(high - low, 1)

    def test_curve(self):
        rows = "position,L,a,b,se\n" + "".join("%g,%g,%g,%g,0.5\n" % (i / 20, 80 - 55 * i / 20, 5, 10)
                                                for i in range(21))
        answer = self.answer("curve", self.path("data.csv", rows), "--steps", "5")
        self.assertEqual(answer["shape"], "falling")
        self.assertEqual(answer["outliers"], [])
        self.assertFalse(answer["seems_polished"])
        self.assertEqual(answer["highlight_position"], 0)
        self.assertNotIn("terminator_position", answer)
        self.assertEqual(len(answer["steps"]), 5)
        self.assertAlmostEqual(answer["steps"][0]["lab_d50"][0], 80, delta=1)
        self.assertAlmostEqual(answer["steps"][2]["lab_d50"][0], 52.5, delta=1)
        self.assertAlmostEqual(answer["core_shadow_position"], 1, delta=0.05)
        for point in answer["curve"]:
            self.assertLessEqual(point["low"], point["L"])
            self.assertGreaterEqual(point["high"], point["L"])
            self.assertTrue({"position", "a", "b"} <= set(point))

    def test_refusals(self):
        self.run_cli("curve", self.path("a.csv", "x,y\n1,2\n"), "--steps", "5", status=1)
        self.run_cli("curve", self.path("b.csv", "position,L\n0,fish\n"), "--steps", "5", status=1)
        self.run_cli("curve", self.path("c.csv", "position,L\n"), "--steps", "5", status=1)
        self.run_cli("curve", self.path("d.csv", "position,L\n0,50\n1,20\n"), "--steps", "99", status=2)


class Mix(cli.CliTest):
    def test_targets(self):
        answer = self.answer("mix", "--paints", PAINTS, "--target", "50,20,20", "--target", "60,-90,100",
                             "--max-paints", "2", "--max-parts", "6", "--best", "3")
        reachable, far = answer["targets"]
        self.assertTrue(reachable["reachable"])
        self.assertFalse(far["reachable"])
        self.assertEqual(far["out_of_reach"] != "", True)
        for target in answer["targets"]:
            self.assertEqual(len(target["recipes"]), 3)
            differences = [r["delta_e_2000"] for r in target["recipes"]]
            self.assertEqual(differences, sorted(differences))
            names = set()
            for recipe in target["recipes"]:
                self.assertLessEqual(len(recipe["parts"]), 2)
                self.assertLessEqual(sum(p["parts"] for p in recipe["parts"]), 6)
                names.add(frozenset(p["paint"] for p in recipe["parts"]))
                for key in ("lab_d50", "delta_e_2000_drop_error", "delta_e_2000_illuminant_a"):
                    self.assertIn(key, recipe)
            self.assertEqual(len(names), 3)

    def test_kinds_and_stock_are_left_out(self):
        table = TWO_PAINTS.replace("name,", "name,stock,").replace("White,", "White,full,") \
            .replace("Black,", "Black,out,").replace("Blue,", "Blue,low,").replace("Primer,", "Primer,full,")
        answer = self.answer("mix", "--paints", self.path("s.csv", table), "--target", "60,0,0", "--best", "9")
        used = {p["paint"] for r in answer["targets"][0]["recipes"] for p in r["parts"]}
        self.assertEqual(used, {"White", "Blue"})
        named = self.answer("mix", "--paints", self.path("s.csv"), "--target", "60,0,0", "--use", "Primer",
                            "--use", "black")
        used = {p["paint"] for r in named["targets"][0]["recipes"] for p in r["parts"]}
        self.assertIn("Primer", used)
        self.assertTrue(used <= {"Primer", "Black"})

    def test_refusals(self):
        self.run_cli("mix", "--target", "50,0,0", status=2)
        self.run_cli("mix", "--paints", PAINTS, status=2)
        self.run_cli("mix", "--paints", PAINTS, "--target", "50,0", status=2)
        self.run_cli("mix", "--paints", PAINTS, "--target", "50,0,inf", status=2)
        self.run_cli("mix", "--paints", PAINTS, "--target", "50,0,0", "--max-paints", "9", status=2)
        self.run_cli("mix", "--paints", self.path("none.csv"), "--target", "50,0,0", status=1)
        self.run_cli("mix", "--paints", PAINTS, "--target", "50,0,0", "--use", "Nothing like it", status=1)


class Predict(cli.CliTest):
    def test_mix_and_film(self):
        paints = self.path("p.csv", TWO_PAINTS)
        white = self.answer("predict", "--paints", paints, "--recipe", "1 White")
        mixed = self.answer("predict", "--paints", paints, "--recipe", "3 white + 1 Blue")
        black = self.answer("predict", "--paints", paints, "--recipe", "1 Black")
        self.assertAlmostEqual(white["lab_d50"][0], 96, delta=0.01)
        self.assertEqual(len(white["reflectance"]), 31)
        self.assertTrue(black["lab_d50"][0] < mixed["lab_d50"][0] < white["lab_d50"][0])
        self.assertLess(mixed["lab_d50"][2], -5)
        self.assertTrue(0 < mixed["contrast_ratio"] <= 1)

    def test_coats_come_nearer_to_the_masstone(self):
        # Common practice, no source: two thin coats cover better than one.
        last = 100
        full = self.answer("predict", "--paints", PAINTS, "--recipe", "1 Plain White")["lab_d50"][0]
        for coats in (0, 0.5, 1, 2, 4, 8):
            L = self.answer("predict", "--paints", PAINTS, "--recipe", "1 Plain White", "--over", "15,0,0",
                            "--coats", coats)["lab_d50"][0]
            self.assertLessEqual(abs(full - L), last)
            last = abs(full - L)
        self.assertLess(last, 1)

    def test_glaze_tints_and_does_not_hide(self):
        # Common practice, no source: one part of paint in three of medium.
        paints = self.path("p.csv", TWO_PAINTS)
        glaze = self.answer("predict", "--paints", paints, "--recipe", "1 Blue", "--over", "80,0,0", "--coats", "1",
                            "--medium", "3")
        coat = self.answer("predict", "--paints", paints, "--recipe", "1 Blue", "--over", "80,0,0", "--coats", "1")
        self.assertLess(glaze["contrast_ratio"], 0.9)
        self.assertLess(coat["lab_d50"][0], glaze["lab_d50"][0])
        self.assertLess(glaze["lab_d50"][0], 80)

    def test_refusals(self):
        self.run_cli("predict", "--paints", PAINTS, status=2)
        self.run_cli("predict", "--paints", PAINTS, "--recipe", "2 Unheard Of", status=1)
        self.run_cli("predict", "--paints", PAINTS, "--recipe", "", status=1)
        self.run_cli("predict", "--paints", PAINTS, "--recipe", "1 Plain White", "--over", "Nowhere", status=1)


class Calibrate(cli.CliTest):
    def test_refines(self):
        paints = self.path("p.csv", TWO_PAINTS)
        swatches = self.path("s.csv", "recipe,L,a,b\n1 White,95,0,3\n1 Blue,33,6,-44\n1 White + 1 Blue,52,-2,-36\n"
                                      "3 White + 1 Blue,66,-5,-27\n")
        answer = self.answer("calibrate", paints, "--swatches", swatches, "--out", self.path("new.csv"))
        self.assertLess(answer["after_median_delta_e_2000"], answer["before_median_delta_e_2000"])
        self.answer("paints", self.path("new.csv"))
        before = self.answer("predict", "--paints", paints, "--recipe", "2 White + 1 Blue")["lab_d50"]
        after = self.answer("predict", "--paints", self.path("new.csv"), "--recipe", "2 White + 1 Blue")["lab_d50"]
        self.assertNotEqual(before, after)

    def test_refusals(self):
        self.run_cli("calibrate", PAINTS, status=2)
        self.run_cli("calibrate", PAINTS, "--swatches", self.path("s.csv", "recipe,L,a,b\n1 Nobody,50,0,0\n"),
                     "--out", self.path("o.csv"), status=1)
        self.assertFalse(os.path.exists(self.path("o.csv")))


class Stair(cli.CliTest):
    def test_whole_job(self):
        answer = self.answer("stair", PICTURE, "--run", "600,500:720,620", "--steps", "6", "--paints", PAINTS,
                             "--range", "20,85", "--distance-mm", "500", "--band-mm", "1.5",
                             "--card", self.path("card.pdf"), "--plan", self.path("plan.tonestair"))
        self.assertEqual(len(answer["steps"]), 6)
        self.assertEqual(len(answer["targets"]), 6)
        self.assertEqual(len(answer["checks"]), 5)
        self.assertAlmostEqual(answer["steps"][0]["lab_d50"][0], 85, delta=0.01)
        self.assertAlmostEqual(answer["steps"][-1]["lab_d50"][0], 20, delta=0.01)
        for check in answer["checks"]:
            self.assertIn(check["verdict"], ("too_close", "reads", "too_wide"))
            self.assertTrue({"from", "to", "delta_L", "delta_e_2000", "visibility"} <= set(check))
        self.check_range_error(answer)
        with open(self.path("card.pdf"), "rb") as file:
            self.assertEqual(file.read(5), b"%PDF-")
        checked = self.answer("check", self.path("plan.tonestair"))
        self.assertEqual([p["state"] for p in checked["pictures"]], ["unchanged"])
        self.assertEqual(checked["surfaces"][0]["checks"], answer["checks"])

    def check_range_error(self, answer):
        """Of the lightest and the darkest mix, less what their common paints get wrong in both."""
        mixes = [target["recipes"][0] for target in answer["targets"]]
        light, dark = (pick(mixes, key=lambda m: m["lab_d50"][0]) for pick in (max, min))
        self.assertAlmostEqual(answer["range_L"], light["lab_d50"][0] - dark["lab_d50"][0], delta=0.02)
        shares = [{p["paint"]: p["parts"] / sum(q["parts"] for q in m["parts"]) for p in m["parts"]}
                  for m in (light, dark)]
        common = sum(min(share, shares[1].get(paint, 0)) for paint, share in shares[0].items())
        a, b = light["error_delta_e_2000"], dark["error_delta_e_2000"]
        self.assertAlmostEqual(answer["range_error_L"], 0.6 * max(0, a * a + b * b - 2 * common * a * b) ** 0.5, delta=0.03)

    def test_accents(self):
        job = ["stair", PICTURE, "--run", "600,500:720,620", "--steps", "4", "--paints", PAINTS]
        answer = self.answer(*job, "--accent", "lip,2,2 signal red", "--plan", self.path("plan.tonestair"))
        accent = answer["accents"][0]
        step = answer["targets"][1]["recipes"][0]["parts"]
        self.assertEqual((accent["name"], accent["step"], accent["parts"]), ("lip", 2, 2))
        parts = {p["paint"]: p["parts"] for p in step}
        parts["Signal Red"] = parts.get("Signal Red", 0) + 2
        mixed = {p["paint"]: p["parts"] for p in accent["recipe"]["parts"]}
        shares = {paint: n / sum(parts.values()) for paint, n in parts.items()}
        self.assertEqual({paint: n / sum(mixed.values()) for paint, n in mixed.items()}, shares)
        checked = self.answer("check", self.path("plan.tonestair"))
        self.assertEqual(checked["surfaces"][0]["accents"], answer["accents"])
        self.answer("card", self.path("plan.tonestair"), "--out", self.path("card.csv"))
        with open(self.path("card.csv"), newline="", encoding="utf-8") as file:
            self.assertEqual([r["step"] for r in csv.DictReader(file) if r["role"] == "accent: lip"], ["2"])
        for wrong, status in (("lip", 2), ("lip,5,1 Signal Red", 2), ("lip,1,0 Signal Red", 2), ("lip,1,1 Nothing", 1)):
            self.run_cli(*job, "--accent", wrong, status=status)

    def test_nothing_is_half_written(self):
        os.chmod(self.folder.name, stat.S_IRUSR | stat.S_IXUSR)
        self.addCleanup(os.chmod, self.folder.name, stat.S_IRWXU)
        self.run_cli("stair", PICTURE, "--run", "600,500:720,620", "--steps", "3", "--paints", PAINTS,
                     "--card", "/nowhere/at/all/card.pdf", status=1)
        self.run_cli("stair", PICTURE, "--run", "600,500:720,620", "--steps", "3", "--paints", PAINTS,
                     "--card", self.path("card.doc"), status=1)
        self.assertEqual(os.listdir(self.folder.name), [])


class Plan(cli.CliTest):
    def test_card_in_every_form(self):
        for ending, start in (("pdf", b"%PDF-"), ("svg", b"<?xml"), ("png", b"\x89PNG")):
            self.answer("card", PLAN, "--out", self.path("card." + ending))
            with open(self.path("card." + ending), "rb") as file:
                self.assertEqual(file.read(len(start)), start)
        short = self.answer("card", PLAN, "--out", self.path("short.pdf"))
        long = self.answer("card", PLAN, "--out", self.path("long.pdf"), "--work")
        self.assertGreater(long["pages"], short["pages"])
        self.answer("card", PLAN, "--out", self.path("work.csv"), "--work")
        self.answer("card", PLAN, "--out", self.path("card.csv"))
        with open(self.path("card.csv"), "rb") as one, open(self.path("work.csv"), "rb") as other:
            self.assertEqual(one.read(), other.read())
        with open(self.path("card.csv"), newline="", encoding="utf-8") as file:
            rows = list(csv.DictReader(file))
        self.assertGreater(len(rows), 10)
        self.assertTrue(all(row["recipe"] for row in rows))

    def test_finished(self):
        answer = self.answer("check", PLAN, "--finished", PICTURE)
        self.assertEqual(len(answer["finished"]), 1)
        self.assertGreater(len(answer["finished"][0]["surfaces"]), 2)
        step = answer["finished"][0]["surfaces"][0]["steps"][0]
        self.assertTrue({"planned_lab_d50", "achieved_lab_d50", "delta_L", "verdict"} <= set(step))

    def test_finished_by_outline_and_by_all_runs(self):
        """Held to the very picture they were planned from, the steps are where they were planned."""
        outline = "550,590:650,560:760,600:830,720:830,1045:640,1045"
        runs = ("--run", "705,930:803,930", "--run", "140,980:250,1000")
        for where in (("--outline", outline), runs):
            plan = self.path("plan.tonestair")
            made = self.answer("stair", PICTURE, *where, "--steps", "4", "--paints", PAINTS, "--plan", plan)
            answer = self.answer("check", plan, "--finished", PICTURE)
            steps = answer["finished"][0]["surfaces"][0]["steps"]
            self.assertEqual(len(steps), 4)
            for step, planned in zip(steps, made["steps"]):
                self.assertAlmostEqual(step["achieved_lab_d50"][0], planned["lab_d50"][0], delta=0.05)

    def test_finished_in_words(self):
        """The report says of each step what the JSON does."""
        words = {"as_planned": "as planned", "too_dark": "too dark", "too_light": "too light"}
        report = self.run_cli("check", PLAN, "--finished", PICTURE).stdout.partition("\n%s\n" % PICTURE)[2]
        lines = re.findall(r"^  (Step \d+: planned .*)", report, re.MULTILINE)
        steps = [(i, step) for surface in self.answer("check", PLAN, "--finished", PICTURE)["finished"][0]["surfaces"]
                 for i, step in enumerate(surface["steps"])]
        self.assertEqual(len(lines), len(steps))
        for line, (i, step) in zip(lines, steps):
            planned, achieved = (round(step[key][0]) for key in ("planned_lab_d50", "achieved_lab_d50"))
            self.assertTrue(line.startswith("Step %d: planned L* %d, achieved L* %d, " % (i + 1, planned, achieved)), line)
            self.assertIn(words[step["verdict"]], line)
            self.assertEqual("merged with step %d" % (i + 2) in line, step["merged_with_next"])
        self.assertEqual(report.count("What to repaint"), 1)

    def test_missing_picture_is_named(self):
        with open(PLAN, encoding="utf-8") as file:
            plan = self.path("moved.tonestair", file.read())
        answer = self.answer("check", plan)
        self.assertEqual(answer["pictures"][0]["state"], "missing")
        self.assertGreater(len(answer["surfaces"]), 2)

    def test_refusals(self):
        self.run_cli("check", self.path("bad.tonestair", "{}"), status=1)
        self.run_cli("card", PLAN, status=2)


    def test_pack(self):
        answer = self.answer("pack", PLAN, "--folder", self.folder.name)
        self.assertEqual(os.path.basename(answer["file"]), "The lighthouse keeper.tonestair")
        place = os.path.dirname(answer["file"])
        self.assertEqual(sorted(os.listdir(place)), ["The lighthouse keeper.tonestair", "lighthouse.jpg"])
        self.assertEqual(self.answer("check", answer["file"])["surfaces"], self.answer("check", PLAN)["surfaces"])
        self.run_cli("pack", PLAN, "--folder", self.path("nowhere"), status=1)


class Brief(cli.CliTest):
    def test_brief(self):
        brief = self.path("b.csv", "name,L,a,b,tolerance\nBone,82,2,14,3\nElectric,60,-90,100,3\n")
        lines = self.answer("brief", brief, "--paints", PAINTS)["lines"]
        self.assertEqual([line["name"] for line in lines], ["Bone", "Electric"])
        self.assertEqual(lines[1]["verdict"], "fails")
        self.assertIn(lines[0]["verdict"], ("passes", "may_pass"))

    def test_refusals(self):
        self.run_cli("brief", self.path("b.csv", "name,L\nx,1\n"), "--paints", PAINTS, status=1)

    def test_brief_saved(self):
        brief = self.path("b.csv", "name,L,a,b,tolerance\nBone,82,2,14,30\nElectric,60,-90,100,3\n")
        card, table, text = self.path("client.pdf"), self.path("r.csv"), self.path("r.txt")
        self.answer("brief", brief, "--paints", PAINTS, "--card", card, "--results", table)
        with open(card, "rb") as file:
            self.assertTrue(file.read().startswith(b"%PDF-1."))
        with open(table, newline="", encoding="utf-8") as file:
            rows = list(csv.DictReader(file))
        self.assertEqual([row["verdict"] for row in rows], ["passes", "fails"])
        self.assertTrue(all(row["recipe"] for row in rows))
        self.answer("brief", brief, "--paints", PAINTS, "--results", text)
        # What was mixed is a brief that these paints pass.
        lines = self.answer("brief", text, "--paints", PAINTS)["lines"]
        self.assertLess(max(line["recipes"][0]["delta_e_2000"] for line in lines), 0.01)
        self.run_cli("brief", brief, "--paints", PAINTS, "--results", brief, status=2)


class Words(cli.CliTest):
    def test_help_and_usage(self):
        self.assertIn("Usage", self.run_cli("--help").stdout)
        for verb in ("measure", "stair", "curve", "mix", "predict", "calibrate", "check", "brief", "card", "paints"):
            self.assertIn(verb, self.run_cli("--help").stdout)
            self.assertIn("--json", self.run_cli(verb, "--help").stdout)
            self.run_cli(verb, "--no-such-option", status=2)
        self.run_cli(status=2)
        self.run_cli("paint-it", status=2)

    def test_paints(self):
        answer = self.answer("paints", PAINTS)
        self.assertGreaterEqual(len(answer["paints"]), 40)
        self.assertTrue(all(p["measured_from"] for p in answer["paints"]))
        self.run_cli("paints", self.path("d.csv", "name,L,a,b\nRed,40,60,30\nred,40,60,30\n"), status=1)

    def test_numbers_have_a_point_in_every_language(self):
        os.environ["LC_ALL"] = "de_DE.UTF-8"
        self.addCleanup(os.environ.pop, "LC_ALL")
        self.answer("mix", "--paints", PAINTS, "--target", "50.5,1.5,2.5")


cli.main()
