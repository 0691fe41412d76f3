#!/usr/bin/python3
"""test_outline.py: a whole surface outlined by pointer and by keys, and where the light is

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re

from window import Window, check, wait_for

# The coat's right side, loosely, from data/demo: a piece of the scarf and of the strap is in it.
COAT = [(550, 590), (650, 560), (760, 600), (830, 720), (830, 1045), (640, 1045), (560, 930), (530, 760)]


def shares(window):
    found = [re.search(r"covers (\d+) %", s.words) for s in window.steps()]
    return [int(f.group(1)) for f in found if f]


def by_pointer(window):
    window.image().draw([window.on_picture(*p) for p in COAT], hold=["ctrl"])
    wait_for("a stair", lambda: len(window.steps()) == 7)
    wait_for("an outline", lambda: "Outline of" in window.image().description)
    wait_for("shares of the area", lambda: len(shares(window)) >= 5)
    check(85 <= sum(shares(window)) <= 105, "all of the surface", shares(window))
    window.key("Escape")  # the name that waits to be typed


def by_keys(window):
    """A triangle of 100 pixels a side."""
    window.image().click(*window.on_picture(1500, 80))
    window.key("o")
    wait_for("the cross", lambda: "Cross at" in window.image().description)
    window.key("Return", *["shift+Right"] * 10, "Return", *["shift+Down"] * 10, "Return")
    wait_for("three corners", lambda: "3 corners so far" in window.image().description)
    window.key("o")
    wait_for("an outline", lambda: "Outline of 3 corners" in window.image().description)
    wait_for("two surfaces", lambda: window.image().description.startswith("2 surfaces"))
    window.key("Escape")


def the_light(window):
    window.image().click(*window.on_picture(1500, 80))
    window.key("a")
    wait_for("the cross", lambda: "Cross at" in window.image().description)
    window.image().draw([window.on_picture(100, 100), window.on_picture(400, 300)])
    wait_for("the arrow", lambda: "The light falls from" in window.image().description)
    found = re.search(r"falls from (\d+), (\d+) to (\d+), (\d+)", window.image().description)
    check(all(abs(int(a) - b) <= 5 for a, b in zip(found.groups(), (100, 100, 400, 300))),
          "the arrow lies where it was drawn", found.groups())
    window.key("a", "Return", *["shift+Right"] * 6, "Return")
    wait_for("another arrow", lambda: "falls from %s" % found.group(1) not in window.image().description)
    window.key("ctrl+z")
    wait_for("the first again", lambda: "falls from %s" % found.group(1) in window.image().description)


def main():
    with Window(None, paints=4) as window:
        window.image()
        by_pointer(window)
        if os.environ.get("TS_TEST_SHOT"):
            window.shoot(os.environ["TS_TEST_SHOT"])
        by_keys(window)
        the_light(window)
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
