#!/usr/bin/python3
"""test_sheet.py: the photograph of a swatch sheet comes in as paints, in a real window

Forty measured paints at full strength under a warm lamp, tilted ten degrees, beside a chart
(tests/sheet/render_sheet.py); how far they come in from what was measured is printed, in CIEDE2000 by scikit-image
(BSD-3-Clause). Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import sys

import numpy
from skimage.color import deltaE_ciede2000

from window import SOURCE, Window, check, wait_for

sys.path.insert(0, os.path.join(SOURCE, "tests", "sheet"))
import render_sheet  # noqa: E402

MOST_OFF = 1.5  # CIEDE2000, median of forty
WORLD = render_sheet.World(os.path.join(SOURCE, "tests", "fixtures", "published"))


class Sheet:
    """The place where a grid is laid over a photograph."""

    def __init__(self, window, path):
        self.window = window
        window.find("push button", "Swatch sheet…").click()
        window.answer_chooser("Open a Photograph of a Swatch Sheet", path)
        # Under the picture are all its choices, at its side all names.
        self.bar = window.find("spin button", "Rows").parent.parent
        self.view = next(n for n in self.bar.children if n.name == "Swatch sheet")
        self.side = self.bar.parent.children[1]
        self.list = self.side.find("list", "Cells of the sheet")
        wait_for("the picture", lambda: self.corner("corner 1 of 4 of the swatches"))

    def corner(self, name):
        ring = next((n for n in self.view.children if n.name == name), None)
        found = ring and re.match(r"(\d+), (\d+)$", ring.description)
        return found and tuple(map(int, found.groups()))

    def scale(self, size):
        """Of the picture in the view, and where it begins: it is fitted with a margin of 10."""
        _, _, width, height = self.view.extents()
        zoom = min((width - 20) / size[0], (height - 20) / size[1])
        return zoom, (width - size[0] * zoom) / 2, (height - size[1] * zoom) / 2

    def lay(self, what, places, size):
        """Drags rings, the farthest first, so that none is in the way of another."""
        zoom, left, top = self.scale(size)
        for i, place in enumerate(places):
            name = what % (i + 1)
            x, y = self.corner(name)
            self.view.drag(left + zoom * x, top + zoom * y, left + zoom * place[0], top + zoom * place[1])
            wait_for(name, lambda: max(abs(a - b) for a, b in zip(self.corner(name), place)) <= 1.5 / zoom)

    def set_cells(self, n_rows, n_columns):
        for name, number in (("Rows", n_rows), ("Columns", n_columns)):
            spin = self.bar.find("spin button", name)
            spin.value = number
        wait_for("so many cells", lambda: len(self.list.children) == n_rows * n_columns)

    def name_cells(self, names):
        for row, name in zip(self.list.children, names):
            row.find("text", re.compile("^Name of cell")).text = name

    def words(self):
        return [n.name for n in self.bar.find_all("label") + self.side.find_all("label")]

    def wait_for_word(self, pattern):
        return wait_for("words like " + pattern, lambda: next((t for t in self.words() if re.search(pattern, t)), None))

    def add(self, n):
        name = "Add %d paints" % n
        button = wait_for(name, lambda: next(iter(self.side.find_all("push button", name)), None))
        check(button.has("SENSITIVE"), "they can be added")
        button.press()
        self.window.find("label", "%d paints are added." % n)


def lab(row, suffix=""):
    return [float(row[c + suffix]) for c in "Lab"]


def lay_forty(window):
    """The photograph with its corners, chart and names laid; the place, the names and what was painted."""
    cells = numpy.concatenate([WORLD.pigments, WORLD.masstones()[:16]])
    path, reference = os.path.join(window.folder, "forty.png"), os.path.join(window.folder, "chart.txt")
    size = (1800, 1000)
    photographed = render_sheet.Sheet(WORLD, list(cells), 8)
    corners, chart = render_sheet.photograph(photographed, path, camera="c3", light="A", size=size)
    render_sheet.write_chart_reference(WORLD, reference)
    place = Sheet(window, path)
    check(len(place.list.children) == 40, "five rows of eight to begin with", len(place.list.children))
    place.window.choose("How the colours are corrected", "by a 24-patch chart")
    place.window.choose("Make of the chart", "Values from a file…")
    window.answer_chooser("Open the Values of a Chart", reference)
    place.wait_for_word("^This does not look like the chart")
    place.name_cells(["Swatch 0"])
    check(any(t.startswith("This does not look like the chart") for t in place.words()),
          "a name that is typed leaves standing why nothing is read", place.words())
    place.lay("corner patch %d of 4 of the chart", chart, size)
    place.lay("corner %d of 4 of the swatches", corners, size)
    names = ["Swatch %d" % i for i in range(40)]
    place.name_cells(names)
    place.wait_for_word("^40 cells are even")
    return place, names, cells


def forty(window):
    """The middle one comes in within dE 1.5."""
    place, names, cells = lay_forty(window)
    within = int(re.search(r"within about dE (\d+)", place.wait_for_word("^Corrected, within about")).group(1))
    place.add(40)
    paints = window.save_paints()
    off = numpy.array([deltaE_ciede2000(lab(paints[n]), t) for n, t in zip(names, WORLD.lab(cells))])
    print("forty swatches in the window, lamp A, 10 degrees: 40 in, median dE %.2f, 90 %% below %.2f, most %.2f; stated "
          "within about %d" % (numpy.median(off), numpy.quantile(off, 0.9), off.max(), within))
    check(numpy.median(off) <= MOST_OFF, "median of masstones", numpy.median(off))
    check(numpy.mean(off <= within) >= 0.85, "the stated error holds", within, sorted(off)[-6:])


def open_paints(window):
    window.focus()
    window.find("label", "No surface yet. Drag one line across a surface.")
    window.go_to("Paints")
    wait_for("the paints", lambda: window.find("list", "Paints").children[0].name)


def main():
    with Window(None, paints=6) as window:
        open_paints(window)
        forty(window)
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
