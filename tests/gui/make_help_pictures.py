#!/usr/bin/python3
"""make_help_pictures.py: pictures of the manual from the demo plan: make_help_pictures.py FOLDER NAME...

make-help-pictures.sh runs it.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os
import re
import sys
import tempfile

import sheet
from make_screenshots import PLAN, fill_screen, finish_check, go_to, with_plan
from PIL import Image
from window import DATA, Window

EDGE = 5  # the border that GTK draws where no shadow can be
PAINTS = os.path.join(DATA, "demo", "lighthouse-paints.csv")


def main_window(w):
    """The stair of the first surface, mixes and all."""


def correction(w):
    w.find("push button", "Corrected with the grey card").click()
    w.find("push button", "Use this correction")


def brief(w):
    """In a narrow window, where places are behind a button."""
    w.focus()
    w.key("alt+3")
    w.find("label", "Brief")


def palette(w):
    w.go_to("Mixing card")
    w.find("check box", re.compile("^Put out"))


def bottles(w):
    w.button(re.compile(r"^\d+ paints$")).click()
    w.find("list item", re.compile("paints, about dE"), limit=120)


def swatch_sheet(w):
    """Forty of the demo's paints, each on a contrast card, the grid on them and the first names typed."""
    with open(PAINTS, encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        names = [row["name"] for row in rows if row["kind"] == "paint"][:40]
    picture = sheet.make(sheet.cli_beside(os.environ["TS_TEST_GUI"]), PAINTS, names, 5, 8, os.path.join(w.folder, "sheet.png"))
    w.go_to("Paints")
    w.find("push button", "Swatch sheet…").click()
    w.answer_chooser("Open a Photograph of a Swatch Sheet", picture)
    w.find("push button", re.compile("^Add"))
    w.find("combo box", "What each cell is").click()
    w.key("Down", "Return")
    view = w.find("image", re.compile("^corner 1 of 4 of the swatches")).parent
    _, _, width, height = view.extents()
    zoom = min(width / sheet.WIDTH, height / sheet.HEIGHT)
    left, top = (width - sheet.WIDTH * zoom) / 2, (height - sheet.HEIGHT * zoom) / 2
    for i, (x, y) in enumerate(sheet.corners(5, 8)):
        corner = w.find("image", re.compile("^corner %d of 4 of the swatches" % (i + 1)))
        cx, cy, cw, ch = corner.extents()
        vx, vy, _, _ = view.extents()
        view.drag(cx - vx + cw / 2, cy - vy + ch / 2, left + x * zoom, top + y * zoom)
    for i, entry in enumerate(w.find("list", "Cells of the sheet").find_all("text")[:20]):
        entry.text = "My " + names[i]  # the set has these names already
    w.find("push button", re.compile("^Add [0-9]"))


# What is shown, and which part of the window: left, top, right, bottom.
PICTURES = {
    "run": (main_window, (165, 56, 785, 510)),
    "stair": (main_window, (0, 550, 720, 800)),
    "curve": (main_window, (951, 336, 1280, 546)),
    "correction": (correction, (560, 56, 1280, 500)),
    "paints": (go_to("Paints", ("list", "Paints")), (0, 56, 456, 420)),
    "brief": (brief, (0, 56, 630, 428)),
    "palette": (palette, (898, 206, 1280, 800)),
    "bottles": (bottles, (381, 177, 648, 552)),
    "sheet": (swatch_sheet, (560, 56, 1280, 560)),
    "finish": (finish_check, (560, 56, 1280, 625)),
}


def save(shot, box, path):
    """Whole: fewer colours would be other colours."""
    with Image.open(shot) as whole:
        part = whole.convert("RGB").crop(tuple(v + EDGE for v in box))
    part.save(path, optimize=True)


def main(folder, names):
    for name in names:
        show, box = PICTURES[name]
        path = os.path.join(folder, name + ".png")
        with Window(PLAN) as w, tempfile.TemporaryDirectory() as scratch:
            fill_screen(w)
            with_plan(w)
            show(w)
            shot = os.path.join(scratch, "shot.png")
            w.shoot(shot, whole_screen=True)
            save(shot, box, path)
        print("wrote", path, os.path.getsize(path))


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
