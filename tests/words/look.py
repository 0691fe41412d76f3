#!/usr/bin/python3
"""look.py: the window in a language, every place of it: what is cut off, and pictures to look at

    look.py BUILD LANGUAGE [--dark] [--scale N] [--shots FOLDER] [--rtl] [--text PERCENT] [--size WxH]...

LANGUAGE is one of po/LINGUAS, "en", or "pseudo": longer by 40 % and accented, from pseudo.py. --dark and --scale are
the screen's; see look-words.c for the other options. The exit status is 1 where something is cut off.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import subprocess
import sys
import tempfile

import texts


def screen(options):
    """What of the options is for the screen, which holds a window of 1600 x 1000, and the rest."""
    rest, scale, dark = list(options), 1, []
    if "--dark" in rest:
        rest.remove("--dark")
        dark = ["--dark"]
    if "--scale" in rest:
        at = rest.index("--scale")
        scale = int(rest[at + 1])
        del rest[at:at + 2]
    return ["--size", "%dx%d" % (1700 * scale, 1100 * scale), "--scale", str(scale), "--limit", "900"] + dark, rest


def main(build, language, options):
    on_screen, options = screen(options)
    build = os.path.abspath(build)
    plan = os.path.join(texts.TOP, "data", "demo", "lighthouse.tonestair")
    with tempfile.TemporaryDirectory() as folder:
        if language == "pseudo":
            po = texts.make_pseudo(folder)
        else:
            po = os.path.join(texts.TOP, "po", language + ".po")
        if language != "en":
            made = texts.compile_po(po, folder, language)
            if made.returncode != 0:
                print(made.stdout)
                return 1
        return subprocess.run(
            ["sh", os.path.join(texts.TOP, "tests", "gui", "headless"), *on_screen, "--", "env",
             "GTK_A11Y=none", os.path.join(build, "tests", "words", "look-words"), plan, *options],
            env={**os.environ, "TONESTAIR_LOCALE": folder, "LANGUAGE": language,
                 "TONESTAIR_DATA": os.path.join(texts.TOP, "data"),
                 "GSETTINGS_SCHEMA_DIR": os.path.join(build, "data")}, timeout=1000).returncode


if __name__ == "__main__":
    if len(sys.argv) < 3:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], sys.argv[2], sys.argv[3:]))
