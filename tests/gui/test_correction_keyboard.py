#!/usr/bin/python3
"""test_correction_keyboard.py: a warm photograph is corrected by its chart and a card, with a keyboard alone

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import tempfile

from chart_photo import CORNERS, write
from test_correction_pointer import corner, numbers, picture
from test_main_job_keyboard import focus_area
from window import Window, check, wait_for


def open_place(w, state):
    button = w.button(state)
    focus_area(w, button)
    for _ in range(4):
        if button.has("FOCUSED"):
            break
        w.key("Tab")
    w.key("space")
    w.find("panel", "To compare")


def choose(w, name, key):
    """The arrows go from choice to choice."""
    row = w.find("list item", name)
    for _ in range(4):
        if row.has("SELECTED"):
            return
        w.key(key)
        wait_for("the keyboard", lambda: w.focused() is not None)
    check(row.has("SELECTED"), "it is chosen", name)


def move(w, i, to):
    """By tens with Shift, then by single pixels; its name says where it is."""
    node = corner(w, i)
    wait_for("the keyboard on corner %d" % (i + 1), lambda: node.has("FOCUSED"))
    for axis, (less, more) in enumerate((("Left", "Right"), ("Up", "Down"))):
        there = numbers(node)[axis]
        key = more if to[axis] > there else less
        tens, ones = divmod(abs(to[axis] - there), 10)
        w.key(*["shift+" + key] * tens, *[key] * ones)
    wait_for("corner %d" % (i + 1), lambda: max(abs(a - b) for a, b in zip(numbers(corner(w, i)), to)) <= 1)


def press(w, name):
    """Tab until that button has the keyboard, then Return."""
    button = w.find("push button", name)
    wait_for("something to press", lambda: button.has("SENSITIVE"))

    def tab():
        w.key("Tab")
        return button.has("FOCUSED")
    wait_for("Tab to come to %s" % name, tab)
    w.key("Return")


def by_chart(w):
    open_place(w, "Uncorrected photograph")
    choose(w, "24-patch chart", "Up")
    group = w.find("panel", "24-patch chart")
    focus_area(w, group, "shift+F6")
    for i in range(4):
        move(w, i, CORNERS[i])
        if i < 3:
            w.key("Tab")
    wait_for("24 patches", lambda: "24 of 24 patches used" in group.description)
    focus_area(w, w.find("push button", "Back without changing anything"))
    press(w, "Use this correction")
    w.button("Corrected with the colour chart")
    w.key("ctrl+z")
    w.button("Uncorrected photograph")


def by_key(w):
    """G points at a grey card; H marks what is clipped."""
    focus_area(w, picture(w))
    w.key("g")
    wait_for("the cross", lambda: "Cross at" in picture(w).description)
    x, y = map(int, re.search(r"Cross at (\d+), (\d+)", picture(w).description).groups())
    w.key(*["shift+Right"] * ((750 - x) // 10), *["shift+Up"] * ((y - 230) // 10), "Return")
    button = w.button("Corrected with the grey card")
    check("shown as it was shot" in button.description, "why the steps look otherwise", button.description)
    w.key("h")
    wait_for("the marks", lambda: "clipped lights" in picture(w).description)
    w.key("h")
    wait_for("no marks", lambda: "clipped lights" not in picture(w).description)


def by_disc(w):
    """The card's ring is moved, made larger and taken off; Esc leaves it all as it was."""
    open_place(w, "Corrected with the grey card")
    ring = w.find("push button", re.compile("^grey card, "))
    focus_area(w, ring, "shift+F6")
    x, y, radius = numbers(ring)
    w.key("shift+Right", "Down", "Page_Up")
    wait_for("the ring moved", lambda: numbers(ring)[:2] == (x + 10, y + 1) and numbers(ring)[2] > radius)
    w.key("Delete")
    wait_for("no ring", lambda: not w.find_all("push button", re.compile("^grey card, ")))
    focus_area(w, w.find("push button", "Back without changing anything"))
    w.key("Escape")
    w.button("Corrected with the grey card")


def main():
    with tempfile.TemporaryDirectory() as folder:
        with Window(write(os.path.join(folder, "warm.png")), paints=6) as w:
            w.focus()
            w.find("label", "No surface yet. Drag one line across a surface.")
            by_chart(w)
            by_key(w)
            by_disc(w)
            check(not w.complaints(), "no complaint", *w.complaints())
    print("the correction by keyboard: done")


if __name__ == "__main__":
    main()
