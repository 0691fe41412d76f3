#!/usr/bin/python3
"""with-german.py: runs a program where numbers have commas and every text differs: with-german.py PROGRAM

Makes the locale de_DE.UTF-8 with localedef, for that program only, and the language "pseudo"; the exit status is the
program's, 77 (skipped) where the sources of the locale are not installed.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import shutil
import subprocess
import sys
import tempfile

import texts


def main(program):
    if shutil.which("localedef") is None:
        return 77
    with tempfile.TemporaryDirectory() as folder:
        locales = os.path.join(folder, "locales")
        os.mkdir(locales)
        made = subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", os.path.join(locales, "de_DE.UTF-8")],
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, timeout=120)
        if made.returncode != 0:
            print(made.stdout)
            return 77
        said = texts.compile_po(texts.make_pseudo(folder), folder, "pseudo")
        if said.returncode != 0:
            print(said.stdout)
            return 1
        return subprocess.run([program], timeout=240,
                              env={**os.environ, "LOCPATH": locales, "TONESTAIR_LOCALE": folder}).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
