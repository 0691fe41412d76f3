#!/usr/bin/python3
"""Limits of mixes, stairs mixed together, the order of work, and advice, from the shell.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import cli
from cli import PAINTS, PICTURE, PLAN

RUN = ("--run", "600,600:720,960", "--grey", "1347.7,340.9,60,49.5")


def names(recipe):
    return {part["paint"] for part in recipe["parts"]}


class Limits(cli.CliTest):
    TARGET = ("--paints", PAINTS, "--target", "45,18,22")

    def test_rules(self):
        free = self.answer("mix", *self.TARGET)["targets"][0]["recipes"]
        used = sorted(names(free[0]))[0]
        for recipe in self.answer("mix", *self.TARGET, "--leave-out", used)["targets"][0]["recipes"]:
            self.assertNotIn(used, names(recipe))
        held = self.answer("mix", *self.TARGET, "--must-hold", "Strong Green")["targets"][0]["recipes"]
        self.assertTrue(held)
        for recipe in held:
            self.assertIn("Strong Green", names(recipe))
        self.assertGreaterEqual(held[0]["delta_e_2000"], free[0]["delta_e_2000"])

    def test_opaque_only(self):
        target = ("--paints", PAINTS, "--target", "60,20,60")
        free = self.answer("mix", *target)["targets"][0]["recipes"]
        opaque = self.answer("mix", *target, "--opaque-only")["targets"][0]["recipes"]
        self.assertGreaterEqual(opaque[0]["delta_e_2000"], free[0]["delta_e_2000"])
        for recipe in opaque:
            text = " + ".join("%d %s" % (p["parts"], p["paint"]) for p in recipe["parts"])
            film = self.answer("predict", "--paints", PAINTS, "--recipe", text, "--coats", "2")
            self.assertGreaterEqual(film["contrast_ratio"], 0.98 - 1e-3)

    def test_refusals(self):
        self.run_cli("mix", *self.TARGET, "--leave-out", "No Such Paint", status=1)
        self.run_cli("mix", *self.TARGET, "--must-hold", "Plain White", "--must-hold", "Sand",
                     "--max-paints", "1", status=1)

    def test_advice(self):
        use = [word for name in ("Plain White", "Lamp Black", "Red Earth") for word in ("--use", name)]
        answer = self.answer("mix", "--paints", PAINTS, *use, "--target", "50,-20,-40", "--advise")
        target, = answer["targets"]
        self.assertFalse(target["reachable"])
        self.assertLess(target["nearest_less_wanted_C"], -10)
        self.assertEqual(answer["out_of_reach"], 1)
        self.assertTrue(answer["advice"][0]["approximate"])
        self.assertIn(answer["advice"][0]["kind"], ("phthalo_blue", "cobalt_blue", "cerulean", "turquoise"))


class Together(cli.CliTest):
    def stair(self, *more):
        return self.answer("stair", PICTURE, *RUN, "--steps", "5", "--paints", PAINTS, *more)

    def test_fewer_paints(self):
        apart = self.stair()
        alone = set().union(*(names(t["recipes"][0]) for t in apart["targets"]))
        fewest = self.stair("--together", "fewest", "--bottles", "--sequence")
        chosen = set().union(*(names(t["chosen"]) for t in fewest["targets"]))
        self.assertLess(len(chosen), len(alone))
        self.assertEqual(fewest["together"]["n_paints"], len(chosen))
        self.assertEqual(set(fewest["together"]["paints"]), chosen)
        self.assertTrue(fewest["together"]["proven"])
        counts = [b["n_paints"] for b in fewest["bottles"]]
        self.assertEqual(counts, sorted(set(counts), reverse=True))
        limited = self.stair("--together", "truest", "--most-paints", str(len(chosen) - 1))
        self.assertLessEqual(limited["together"]["n_paints"], len(chosen) - 1)
        # The nearest mixes are told all the same.
        self.assertEqual(fewest["targets"][0]["recipes"], apart["targets"][0]["recipes"])

    def test_sequence(self):
        answer = self.stair("--together", "between", "--sequence", "--area-mm2", "2000", "--coats", "2")
        out = sum(d["drops"] for w in answer["sequence"] for d in w["drops"])
        painted = sum(w["mix_drops"] for w in answer["sequence"] if w["do"] == "paint")
        self.assertEqual(out, answer["drops_put_out"])
        self.assertAlmostEqual(out, painted + answer["drops_left_over"], delta=0.02)
        self.assertEqual(sorted(w["step"] for w in answer["sequence"] if w["do"] == "paint"), [1, 2, 3, 4, 5])

    def test_plan_keeps_what_was_decided(self):
        plan = self.path("p.tonestair")
        answer = self.stair("--together", "between", "--leave-out", "Lamp Black", "--medium", "Matt Medium",
                            "--thin", "0.5", "--plan", plan)
        again = self.answer("palette", plan)
        surface, = again["surfaces"]
        self.assertEqual(surface["together"]["paints"], answer["together"]["paints"])
        self.assertTrue(any(w["medium_drops"] > 0 for w in surface["sequence"]))

    def test_refusals(self):
        common = ("stair", PICTURE, *RUN, "--paints", PAINTS)
        self.run_cli(*common, "--together", "cheapest", status=2)
        self.run_cli(*common, "--area-mm2", "nan", status=2)
        self.run_cli(*common, "--medium", "No Such", status=1)


class Palette(cli.CliTest):
    def test_whole_plan(self):
        answer = self.answer("palette", PLAN, "--smallest", "4", "--replace", "Bone White")
        every = set()
        for surface in answer["surfaces"]:
            for work in surface.get("sequence", []):
                every |= {d["paint"] for d in work["drops"]}
        self.assertLess(answer["smallest"]["n_paints"], len(every))
        for one in answer["replaced"]:
            self.assertIn("Bone White", names(one["before"]))
            self.assertNotIn("Bone White", names(one["after"]))
        self.assertTrue(answer["replaced"])

    def test_refusals(self):
        self.run_cli("palette", PLAN, "--replace", "No Such Paint", status=1)
        self.run_cli("palette", PLAN, "--smallest", "nan", status=2)
        self.run_cli("palette", self.path("none.tonestair"), status=1)


cli.main()
