"""cli.py: what the tests of the command line share

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import os
import subprocess
import sys
import tempfile
import unittest

PROGRAM = os.environ["TS_TEST_CLI"]
SOURCE = os.environ["TS_TEST_SOURCE"]
DEMO = os.path.join(SOURCE, "data", "demo")
PICTURE = os.path.join(DEMO, "lighthouse.jpg")
PAINTS = os.path.join(DEMO, "lighthouse-paints.csv")
PLAN = os.path.join(DEMO, "lighthouse.tonestair")


class CliTest(unittest.TestCase):
    """Runs the program in an empty folder of its own."""

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)

    def path(self, name, text=None):
        path = os.path.join(self.folder.name, name)
        if text is not None:
            with open(path, "w", encoding="utf-8") as file:
                file.write(text)
        return path

    def run_cli(self, *words, status=0):
        done = subprocess.run([PROGRAM, *map(str, words)], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                              text=True, timeout=300, cwd=self.folder.name)
        self.assertEqual(done.returncode, status, "%s: %s" % (words, done.stderr))
        if status != 0:
            lines = done.stderr.strip().splitlines()
            self.assertEqual(len(lines), 1, done.stderr)
            self.assertEqual(done.stdout, "")
        return done

    def answer(self, *words):
        answer = json.loads(self.run_cli(*words, "--json").stdout)
        self.assertEqual(answer["format"], 1)
        return answer


def main():
    result = unittest.main(argv=[sys.argv[0], "-v"], exit=False).result
    sys.exit(0 if result.wasSuccessful() else 1)
