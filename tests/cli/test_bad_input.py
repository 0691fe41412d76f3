"""test_bad_input.py: the command line against files and words that are wrong or meant to harm

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import os
import shutil
import subprocess
import time
import unittest

import cli
from cli import PAINTS, PICTURE, PLAN, PROGRAM

ACCENTS = "name,L,a,b\nBlanc Cassé,90,0,8\nÉbène,15,0,0\n"


class Plans(cli.CliTest):
    def changed_plan(self, **members):
        with open(PLAN, encoding="utf-8") as file:
            plan = json.load(file)
        plan.update(members)
        return self.path("changed.tonestair", json.dumps(plan))

    def test_brackets_hidden_from_the_count_of_depth(self):
        # The parser takes comments and single marks, which RFC 8259 has not; it recurses on brackets.
        for start in ("/*\"*/", "{'\"':", "//\"\n"):
            done = self.run_cli("check", self.path("deep.tonestair", start + "[" * 200000), status=1)
            self.assertIn("not JSON", done.stderr)
        self.run_cli("check", self.path("deep.tonestair", "[" * 200000), status=1)

    def test_slashes_and_marks_within_texts_are_kept(self):
        self.answer("check", self.changed_plan(title="the keeper's coat // 1/2 \" /* */"))

    def test_long_texts_do_not_hang_the_card(self):
        start = time.monotonic()
        self.answer("card", self.changed_plan(title="x" * 100000, brief=[]), "--out", self.path("card.svg"))
        self.assertLess(time.monotonic() - start, 30)

    def test_plan_opened_again_has_the_same_steps(self):
        saved = self.path("again.tonestair")
        for steps in (4, 6, 7):
            made = self.answer("stair", PICTURE, "--run", "600,500:720,620", "--steps", steps, "--paints", PAINTS,
                               "--plan", saved, "--grey", "1347.7,340.9,60")
            again = self.answer("check", saved)["surfaces"][0]
            self.assertEqual([s.get("role") for s in made["steps"]], [s.get("role") for s in again["steps"]])
            for one, other in zip(made["steps"], again["steps"]):
                for a, b in zip(one["lab_d50"], other["lab_d50"]):
                    self.assertAlmostEqual(a, b, delta=0.01)


class Words(cli.CliTest):
    def test_names_are_utf8_without_a_language(self):
        paints = self.path("p.csv", ACCENTS)
        os.environ["LC_ALL"] = "C"
        self.addCleanup(os.environ.pop, "LC_ALL")
        done = subprocess.run([PROGRAM, "mix", "--paints", paints, "--target", "15,0,0", "--use", "ébène", "--json"],
                              stdout=subprocess.PIPE, check=True)
        answer = json.loads(done.stdout.decode("utf-8"))
        self.assertEqual(answer["targets"][0]["recipes"][0]["parts"][0]["paint"], "Ébène")

    def test_names_of_files_that_are_no_utf8(self):
        """Bytes as a camera or an old archive may leave them."""
        odd = os.fsdecode(b"\xe9\xff.jpg")
        shutil.copy(PICTURE, self.path(odd))
        shutil.copy(PAINTS, self.path(odd + ".csv"))
        self.answer("stair", odd, "--run", "600,500:720,620", "--steps", "3", "--paints", odd + ".csv", "--plan", odd + ".t",
                    "--card", odd + ".svg")
        self.assertEqual(self.answer("check", odd + ".t")["pictures"][0]["state"], "unchanged")
        self.assertTrue(self.answer("card", odd + ".t", "--out", odd + ".csv2.csv")["file"].isprintable())
        packed = self.run_cli("pack", odd + ".t").stdout.strip()
        self.assertEqual(self.answer("check", packed)["pictures"][0]["state"], "unchanged")
        self.run_cli("check", odd, status=1)

    def test_two_dashes_end_the_options(self):
        self.run_cli("paints", "--json", "--", PAINTS)
        self.run_cli("paints", "--json", PAINTS)
        self.run_cli("paints", "--", PAINTS, "--json", status=2)
        shutil.copy(PAINTS, self.path("-set.csv"))
        self.run_cli("paints", "--", "-set.csv")

    def test_numbers_out_of_range(self):
        predict = ("predict", "--paints", PAINTS, "--recipe", "1 Plain White", "--over", "20,0,0", "--coats")
        for coats in ("-1", "-0.01", "nan", "inf", "1001"):
            self.run_cli(*predict, coats, status=2)
        mix = ("mix", "--paints", PAINTS, "--target")
        for target in ("0x32,0,0", "nan,0,0", "50,0,1e999", "50,0", ""):
            self.run_cli(*mix, target, status=2)
        for reach in ("0", "-1", "nan", "inf", "101"):
            self.run_cli(*mix, "50,0,0", "--reach", reach, status=2)

    def test_paints_used_and_left_out(self):
        mix = ("mix", "--paints", PAINTS, "--target", "50,0,0", "--leave-out", "lamp black")
        for option in ("--use", "--must-hold"):
            done = self.run_cli(*mix, option, "Lamp Black", status=2)
            self.assertIn(option, done.stderr)
        self.run_cli(*mix, "--leave-out", "Lamp Black", "--must-hold", "Sand")

    def test_nothing_has_no_sign(self):
        paints = self.path("p.csv", "name,L,a,b\nMiddle,50,0,0\nDark,20,0,0\n")
        self.assertNotIn("-0.0", self.run_cli("paints", paints).stdout)
        self.assertNotIn("-0.0", self.run_cli("mix", "--paints", paints, "--target", "30,-0.01,-0.04").stdout)

    def test_one_line_without_control_characters(self):
        for name in ("a\x1b[31mb", "a\u2028b", "a\x0bb", "a\rb\nc"):
            done = self.run_cli("paints", name, status=1)
            self.assertTrue(done.stderr[:-1].isprintable(), repr(done.stderr))

    @unittest.skipUnless(os.path.exists("/dev/full"), "no full device here")
    def test_answer_that_cannot_be_written(self):
        for words in (["paints", PAINTS], ["paints", PAINTS, "--json"]):
            with open("/dev/full", "wb") as full:
                done = subprocess.run([PROGRAM, *words], stdout=full, stderr=subprocess.PIPE, text=True)
            self.assertEqual(done.returncode, 1)
            self.assertEqual(len(done.stderr.splitlines()), 1)


class Outputs(cli.CliTest):
    def test_places_that_cannot_be_written(self):
        for out in ("/dev/full", "/dev/null", self.folder.name, "/nowhere/card.pdf"):
            self.run_cli("stair", PICTURE, "--run", "600,500:720,620", "--steps", "3", "--paints", PAINTS,
                         "--plan", out, status=1)
        self.assertEqual(os.listdir(self.folder.name), [])

    def test_inputs_are_not_replaced(self):
        swatches = self.path("s.csv", "recipe,L,a,b\n1 Plain White,95,0,2\n")
        paints = shutil.copy(PAINTS, self.path("p.csv"))
        picture = shutil.copy(PICTURE, self.path("x.jpg"))
        plan = shutil.copy(PLAN, self.path("plan.csv"))
        os.symlink("s.csv", self.path("link.csv"))
        before = {name: os.stat(self.path(name)).st_mtime_ns for name in os.listdir(self.folder.name)}
        for out in (swatches, paints, self.path("link.csv")):
            self.run_cli("calibrate", paints, "--swatches", swatches, "--out", out, status=2)
        self.run_cli("card", plan, "--out", plan, status=2)
        stair = ("stair", picture, "--run", "600,500:720,620", "--paints", paints)
        for words in (("--plan", picture), ("--plan", paints), ("--plan", "../%s/x.jpg" % os.path.basename(self.folder.name)),
                      ("--card", "a.csv", "--plan", "a.csv")):
            self.run_cli(*stair, *words, status=2)
        for words in (("brief", self.path("b.csv", "name,L,a,b\nx,50,0,0\n"), "--paints", paints, "--card", "new.pdf",
                       "--results", "./new.pdf"),
                      ("paints", paints, "--template", "new.pdf", "--out", "../%s/new.pdf" % os.path.basename(self.folder.name)),
                      ("paints", paints, "--template", paints)):
            self.run_cli(*words, status=2)
        os.remove(self.path("b.csv"))
        after = {name: os.stat(self.path(name)).st_mtime_ns for name in os.listdir(self.folder.name)}
        self.assertEqual(before, after)


cli.main()
