#!/usr/bin/python3
"""pseudo.py: a language nobody speaks, to see which texts have no room: pseudo.py POT > PO

Every text is 40 % longer than in English, has accents above and below the line, and stands between brackets, so
that an end that is cut off is seen. Places for numbers and names, and mark-up, stay as they are.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import ast
import re
import sys

LONGER = 1.4
ACCENTS = str.maketrans("aceginosuyzACDEGINOSUYZ", "áçêģïñőšűÿžÁÇĎÊĢÏÑŐŠŰŸŽ")
KEPT = re.compile(r"%(?:\d+\$)?[-+ #0']*\d*(?:\.\d+)?(?:hh|h|ll|l|z)?[a-zA-Z%]|<[^<>]*>|&\w+;|\\n")
HEADER = ["Project-Id-Version: tonestair", "PO-Revision-Date: 2026-01-01 00:00+0000", "Last-Translator: pseudo.py",
          "Language-Team: none", "Language: pseudo", "MIME-Version: 1.0", "Content-Type: text/plain; charset=UTF-8",
          "Content-Transfer-Encoding: 8bit", "Plural-Forms: nplurals=2; plural=(n != 1);"]


def stretched(words, extra):
    """@words with about @extra more letters, spread over its vowels, so that lines break where they would."""
    vowels = [i for i, letter in enumerate(words) if letter.lower() in "aeiou"]
    if not vowels:
        return words + "~" * extra
    more = [extra * (k + 1) // len(vowels) - extra * k // len(vowels) for k in range(len(vowels))]
    grow = dict(zip(vowels, more))
    return "".join(letter + letter.lower() * grow.get(i, 0) for i, letter in enumerate(words))


def translate(text):
    if not re.search("[A-Za-z]", KEPT.sub("", text)):
        return text
    pieces, kept = KEPT.split(text), KEPT.findall(text) + [""]
    letters = sum(len(piece) for piece in pieces)
    wanted = max(0, round(letters * LONGER) - letters - 2)  # the brackets count
    out, given, seen = "", 0, 0
    for piece, place in zip(pieces, kept):
        seen += len(piece)
        extra = round(wanted * seen / letters) - given
        given += extra
        out += stretched(piece, extra).translate(ACCENTS) + place
    # Blanks at the ends join it to other texts.
    head, body, tail = re.fullmatch(r"(\s*)(.*?)(\s*)", out, re.S).groups()
    return "%s[%s]%s" % (head, body, tail)


def entries(pot):
    """Each entry as a dictionary of its keywords, msgid and the like, and its flags."""
    with open(pot, encoding="utf-8") as file:
        for block in re.split(r"\n\s*\n", file.read()):
            entry, key = {"flags": [l for l in block.splitlines() if l.startswith("#,")]}, None
            for line in block.splitlines():
                word = re.match(r'(msg\w+(?:\[\d\])?) (".*")$', line)
                if word:
                    key, line = word.groups()
                    entry[key] = ""
                if key and line.startswith('"'):
                    entry[key] += ast.literal_eval(line)
            if "msgid" in entry and entry["msgid"]:
                yield entry


def quoted(text):
    return '"%s"' % text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t")


def main(pot):
    print('msgid ""\nmsgstr ""\n"%s\\n"' % '\\n"\n"'.join(HEADER))
    for entry in entries(pot):
        print("\n" + "\n".join(entry["flags"]) if entry["flags"] else "")
        if "msgctxt" in entry:
            print("msgctxt", quoted(entry["msgctxt"]))
        print("msgid", quoted(entry["msgid"]))
        if "msgid_plural" in entry:
            print("msgid_plural", quoted(entry["msgid_plural"]))
            print("msgstr[0]", quoted(translate(entry["msgid"])))
            print("msgstr[1]", quoted(translate(entry["msgid_plural"])))
        else:
            print("msgstr", quoted(translate(entry["msgid"])))


if __name__ == "__main__":
    main(sys.argv[1])
