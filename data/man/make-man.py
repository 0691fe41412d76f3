#!/usr/bin/python3
"""make-man.py: the manual page of tonestair-cli, its verbs as the program itself tells them

  make-man.py PAGE.1.in TONESTAIR-CLI > PAGE.1

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import subprocess
import sys


def ask(program, *words):
    return subprocess.run([program, *words], check=True, stdout=subprocess.PIPE, text=True,
                          env={**os.environ, "LC_ALL": "C.UTF-8"}, timeout=60).stdout


def roff(text):
    text = text.replace("\\", "\\e").replace("-", "\\-")
    text = re.sub(r"[^\x00-\x7f]", lambda m: "\\[u%04X]" % ord(m.group(0)), text)
    return re.sub(r"^([.'])", r"\\&\1", text)


def verb_page(program, verb):
    """Its usage, what it does, and its own options."""
    words = ask(program, verb, "--help")
    usage = re.search(r"^  tonestair-cli (.*)$", words, re.M).group(1)
    summary = words.split("\n\n")[1].strip()
    lines = [".SS %s" % roff(usage), roff(summary)]
    own = words[words.index("Application Options:"):].splitlines()[1:]
    for line in own:
        option = re.match(r"  (--\S+?=?.*?)  +(\S.*)$", line)
        if option:
            lines += [".TP", ".B %s" % roff(option.group(1)), roff(option.group(2)) + "."]
    return "\n".join(lines)


def main():
    page, program = sys.argv[1:]
    verbs = re.findall(r"^  ([a-z]+) +\S", ask(program, "--help"), re.M)
    with open(page, encoding="utf-8") as source:
        text = source.read()
    sys.stdout.write(text.replace("@VERBS@", "\n".join(verb_page(program, v) for v in verbs)))


main()
