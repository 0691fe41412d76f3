#!/usr/bin/python3
"""check_po.py: whether the languages are whole, against texts taken afresh from the sources

    check_po.py [check [COMPLETE...]]    msgfmt --check of every po; those named have every text, none of them fuzzy
    check_po.py update [LANGUAGE...]     brings the po files up to the sources (msgmerge), without guesses
    check_po.py new LANGUAGE             writes an empty po

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import subprocess
import sys
import tempfile

import texts

PO = os.path.join(texts.TOP, "po")
PLURALS = {
    "de": "nplurals=2; plural=(n != 1);",
    "es": "nplurals=2; plural=(n != 1);",
    "fr": "nplurals=2; plural=(n > 1);",
    "ja": "nplurals=1; plural=0;",
    "pl": "nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2);",
}
HEADER = """\
# Tonestair in another language.
# This file is distributed under the same license as Tonestair.
#
msgid ""
msgstr ""
"Project-Id-Version: tonestair\\n"
"PO-Revision-Date: 2026-01-01 00:00+0000\\n"
"Last-Translator: the makers of Tonestair\\n"
"Language-Team: none\\n"
"Language: %s\\n"
"MIME-Version: 1.0\\n"
"Content-Type: text/plain; charset=UTF-8\\n"
"Content-Transfer-Encoding: 8bit\\n"
"Plural-Forms: %s\\n"
"""


def path_of(language):
    return os.path.join(PO, language + ".po")


def merge(language, pot, path):
    """The po of a language for the texts of today. Places and the date of the pot would change with every commit."""
    subprocess.run(["msgmerge", "--quiet", "--no-fuzzy-matching", "--no-location", "--no-wrap", "--sort-output",
                    "--output-file=" + path, path_of(language), pot], check=True, timeout=120)
    subprocess.run(["msgattrib", "--no-obsolete", "--no-wrap", "--no-location", "--sort-output",
                    "--output-file=" + path, path], check=True, timeout=120)
    with open(path, encoding="utf-8") as file:
        text = file.read()
    with open(path, "w", encoding="utf-8") as file:
        file.write(re.sub(r'"(POT-Creation-Date|Report-Msgid-Bugs-To):[^\n]*\n', "", text))


def find_faults(language, complete, pot, folder):
    """What is wrong with a language, as lines; nothing where it is whole."""
    made = texts.compile_po(path_of(language), os.path.join(folder, "mo"), language)
    if made.returncode != 0:
        return ["po/%s.po: %s" % (language, line) for line in made.stdout.splitlines()]
    merged = os.path.join(folder, language + ".po")
    merge(language, pot, merged)
    made = texts.compile_po(merged, os.path.join(folder, "mo"), language)
    print("%s: %s" % (language, made.stdout.strip()))
    if language not in complete or re.fullmatch(r"\d+ translated messages?\.", made.stdout.strip()):
        return []
    left = subprocess.run(["msgattrib", "--untranslated", "--no-wrap", "--no-location", merged], text=True,
                          stdout=subprocess.PIPE, check=True, timeout=120).stdout
    return ["po/%s.po has no %s" % (language, line) for line in re.findall(r'^msgid (".+")$', left, re.M)] or \
        ["po/%s.po has fuzzy texts" % language]


def check(complete):
    faults = ["%s is to be whole and stands not in po/LINGUAS" % name
              for name in complete if name not in texts.languages()]
    with tempfile.TemporaryDirectory() as folder:
        pot = texts.make_pot(os.path.join(folder, "words.pot"))
        for language in texts.languages():
            faults += find_faults(language, complete, pot, folder)
    print("\n".join(faults))
    return 1 if faults else 0


def update(languages):
    with tempfile.TemporaryDirectory() as folder:
        pot = texts.make_pot(os.path.join(folder, "words.pot"))
        for language in languages or texts.languages():
            merge(language, pot, path_of(language))
    return 0


def main(words):
    command, rest = (words or ["check"])[0], words[1:]
    if command == "check":
        return check(rest)
    if command == "update":
        return update(rest)
    if command == "new" and len(rest) == 1 and not os.path.exists(path_of(rest[0])):
        with open(path_of(rest[0]), "w", encoding="utf-8") as file:
            file.write(HEADER % (rest[0], PLURALS[rest[0]]))
        return update(rest)
    print(__doc__)
    return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
