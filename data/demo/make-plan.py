#!/usr/bin/python3
"""Makes the demo plan: make-plan.py TONESTAIR-CLI > lighthouse.tonestair, run in data/demo.

Each surface is worked out by the program itself; this only puts them into one plan, with the client's lines.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import subprocess
import sys
import tempfile

CARD = "1347.7,340.9,60,49.5"
PICTURE = "lighthouse.jpg"
PAINTS = "lighthouse-paints.csv"

# Name, run from lit to shadow, steps, wanted L* of the ends, the shadow's colour and how much of it the deepest step
# gets, more words. Shadows are mixed cooler and greyer than the photograph has them (common practice, no source).
SURFACES = [
    ("Coat", "610,640:640,960", 7, "80,24", ((24, 7, 7), 0.9), ""),
    ("Skin", "440,340:512,336", 7, "77,28", ((28, 13, 8), 0.8), ""),
    ("Scarf", "480,545:560,560", 6, "92,44", ((44, 0, 5), 0.6), ""),
    ("Leather", "312,660:270,590", 6, "62,23", ((23, 8, 6), 0.9), ""),
    ("Brass", "840,1002:964,1002", 6, "85,28", ((28, 8, 12), 0.7), "--polished"),
    ("Cap", "330,225:604,245", 6, "58,20", ((20, -6, -9), 0.8), ""),
]

# Invented: what a client might ask for. Name, L*, a*, b*, tolerance (CIEDE2000).
BRIEF = [
    ("Waxed coat, dark ochre", 52, 11, 38, 4),
    ("Wool scarf, undyed", 88, 2, 13, 3),
    ("Cap, sea green", 34, -23, -10, 3),
    ("Old brass", 62, 5, 40, 4),
    ("Signal flag", 44, 66, 46, 3),
]


def plan_of(cli, surface, folder):
    name, run, steps, ends, shadow, more = surface
    path = os.path.join(folder, "one.tonestair")
    subprocess.run([cli, "stair", PICTURE, "--run", run, "--steps", str(steps), "--range", ends, "--grey", CARD,
                    "--paints", PAINTS, "--name", name, "--plan", path, *more.split()],
                   check=True, stdout=subprocess.DEVNULL)
    with open(path, encoding="utf-8") as file:
        text = file.read()
    lab, amount = shadow
    return re.sub(r'("lightness_range": \[[^]]*\])',
                  r'\1,\n        "shadow_lab": [%d, %d, %d],\n        "shadow_amount": %g' % (*lab, amount), text)


def block(text, member):
    """What stands between the brackets of a list at the top level."""
    return re.search(r'\n  "%s": \[\n(.*?)\n  \],?\n' % member, text, re.S).group(1)


def brief_line(name, L, a, b, tolerance):
    return ('    {\n      "name": "%s",\n      "lab": [%d, %d, %d],\n      "tolerance_delta_e_2000": %d\n    }'
            % (name, L, a, b, tolerance))


def main():
    cli = os.path.abspath(sys.argv[1])
    here = os.path.dirname(os.path.abspath(__file__))
    os.chdir(here)
    with tempfile.TemporaryDirectory() as folder:
        plans = [plan_of(cli, surface, folder) for surface in SURFACES]
    text = plans[0]
    text = text.replace(block(text, "surfaces"), ",\n".join(block(plan, "surfaces") for plan in plans))
    text = text.replace('"brief": []', '"brief": [\n%s\n  ]' % ",\n".join(brief_line(*line) for line in BRIEF))
    text = re.sub(r'"path": "[^"]*"', '"path": "%s"' % PICTURE, text)
    text = text.replace('"title": "%s"' % PICTURE, '"title": "The lighthouse keeper"')
    text = re.sub(r'"name": "lighthouse-paints.csv"', '"name": "The keeper’s paints"', text)
    sys.stdout.write(text)


main()
