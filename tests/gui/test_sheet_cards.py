#!/usr/bin/python3
"""test_sheet_cards.py: swatches on contrast cards, in a real window: names that are known, a light on one of them, a printed sheet

What comes in is compared with what the picture was made from (sheet.py). Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import subprocess

from PIL import Image
from skimage.color import deltaE_ciede2000

import sheet
from test_sheet import Sheet, lab, open_paints
from window import DATA, SOURCE, Window, check, wait_for

PAINTS = os.path.join(DATA, "demo", "lighthouse-paints.csv")
CARDS = ["Bone White", "Chrome Leaf", "Cold Pale Grey", "Dark Cherry", "Dark Umber", "Fair Skin"]
GLOSSY = 4
MOST_OFF = 1.5  # CIEDE2000: the picture has 8 bits a channel


def contrast_cards(window, cli, known):
    """Two rows of three; the glossy one is left out, and a name that is known or there twice is said so."""
    path = os.path.join(window.folder, "cards.png")
    sheet.make(cli, PAINTS, CARDS, 2, 3, path, glossy=[GLOSSY])
    place = Sheet(window, path)
    place.set_cells(2, 3)
    place.window.choose("What each cell is", "each on a contrast card")
    place.lay("corner %d of 4 of the swatches", sheet.corners(2, 3), (sheet.WIDTH, sheet.HEIGHT))
    place.name_cells([known] + ["Card %d" % i for i in range(1, 6)])
    place.wait_for_word("1 paint is there already and is measured again")
    place.bar.parent.find("push button", "Take 5 paints")
    place.name_cells(["Card 1"])
    place.wait_for_word("1 name is there twice")
    place.name_cells(["Card 0"])
    place.wait_for_word("cannot be used")
    place.add(5)
    paints = window.save_paints()
    check("Card %d" % GLOSSY not in paints, "the glossy one is left out", sorted(paints))
    for i, name in enumerate(CARDS):
        if i == GLOSSY:
            continue
        row = paints["Card %d" % i]
        for suffix, over in (("_white", "92,0,2"), ("_black", "12,0,0")):
            # A film that hides the card comes as its masstone.
            asked, got = sheet.predict(cli, PAINTS, name, over), lab(row, suffix if row["L_white"] else "")
            off = deltaE_ciede2000(asked, got)
            check(off <= MOST_OFF, "%s over %s" % (name, over), asked, got, off)


def printed_sheet(window, cli):
    """The sheet that the program draws is known again by its rings: nothing is left to set."""
    path = os.path.join(window.folder, "printed.png")
    subprocess.run([cli, "paints", PAINTS, "--template", path], check=True, stdout=subprocess.DEVNULL, timeout=60)
    width, height = Image.open(path).size
    place = Sheet(window, path)
    wait_for("its forty cells", lambda: len(place.list.children) == 40)
    for name, number in (("Rows", 8), ("Columns", 5)):
        value = place.bar.find("spin button", name).value
        check(value == number, name, value)
    place.wait_for_word("^the printed sheet$")
    corners = [place.corner("corner %d of 4 of the swatches" % i) for i in (1, 2, 3, 4)]
    left, right = sum(corners[i][0] for i in (0, 3)) / 2, sum(corners[i][0] for i in (1, 2)) / 2
    top, bottom = sum(corners[i][1] for i in (0, 1)) / 2, sum(corners[i][1] for i in (2, 3)) / 2
    check(abs(left + right - width) < 0.01 * width and right - left > 0.75 * width, "from side to side", corners)
    check(top > 0.15 * height and bottom > 0.9 * height, "below the words", corners)
    window.key("Escape")


def main():
    program = os.environ.get("TS_TEST_GUI") or os.path.join(SOURCE, "build/src/gui/tonestair")
    with Window(None, paints=6) as window:
        open_paints(window)
        printed_sheet(window, sheet.cli_beside(program))
        contrast_cards(window, sheet.cli_beside(program), window.find("list", "Paints").children[0].name)
        check(not window.complaints(), "no complaint", *window.complaints())
    print("swatches on contrast cards: done")


if __name__ == "__main__":
    main()
