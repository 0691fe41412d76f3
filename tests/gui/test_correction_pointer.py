#!/usr/bin/python3
"""test_correction_pointer.py: a warm photograph is corrected by chart, cards and a guess, with the pointer

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import tempfile

from chart_photo import CARDS, CORNERS, HEIGHT, WIDTH, write
from window import Window, check, wait_for


def picture(w):
    return w.known("image", re.compile("^Reference, warm"))


def at(w, x, y):
    """Where a pixel of the whole picture is in the view of it."""
    _, _, width, height = picture(w).extents()
    zoom = min(width / WIDTH, height / HEIGHT)
    return (width - WIDTH * zoom) / 2 + x * zoom, (height - HEIGHT * zoom) / 2 + y * zoom


def middle(card):
    left, top, right, bottom, _ = CARDS[card]
    return (left + right) // 2, (top + bottom) // 2


def open_place(w, state, choice=None):
    w.button(state).click()
    w.find("panel", "To compare")
    if choice:
        w.find("list item", choice).click()
    wait_for("the whole picture", lambda: picture(w).extents()[2] < 900)


def use(w, state):
    button = w.find("push button", "Use this correction")
    wait_for("something to use", lambda: button.has("SENSITIVE"))
    button.click()
    w.button(state)
    wait_for("the place to be left", lambda: not w.find_all("panel", "To compare"))


def numbers(node):
    return tuple(map(int, re.findall(r"\d+", node.name.split(", ", 1)[1])))


def draw_run(w):
    picture(w).drag(*at(w, 130, 620), *at(w, 400, 640))
    w.mixed(7)
    w.key("Escape")
    return [s.words for s in w.steps()]


def corner(w, i):
    return w.find("push button", re.compile("^corner %d of 4, " % (i + 1)))


def drag_corner(w, i, to):
    picture(w).drag(*at(w, *numbers(corner(w, i))), *at(w, *to))
    wait_for("corner %d" % (i + 1), lambda: max(abs(a - b) for a, b in zip(numbers(corner(w, i)), to)) <= 2)


def by_chart(w, before):
    open_place(w, "Uncorrected photograph", "24-patch chart")
    w.find("label", re.compile("does not look like the chart"))
    check(not w.find("push button", "Use this correction").has("SENSITIVE"), "nothing to use yet")
    for i in range(4):
        drag_corner(w, i, CORNERS[i])
    wait_for("24 patches", lambda: len(w.find_all("list item", re.compile(r"^\d+, [\w .]+, error \d+\.\d"))) == 24)
    group = w.find("panel", "24-patch chart")
    check("24 of 24 patches used" in group.description, "all are used", group.description)
    check(w.find_all("label", re.compile("An estimate: of 100 colours")), "how sure it is")
    use(w, "Corrected with the colour chart")
    wait_for("another stair", lambda: [s.words for s in w.mixed(7)] != before)
    w.key("ctrl+z")
    w.button("Uncorrected photograph")
    wait_for("the stair as it was", lambda: [s.words for s in w.mixed(7)] == before)


def by_cards(w):
    """One click finds the grey card; the white one is drawn."""
    open_place(w, "Uncorrected photograph", "Grey or white card")
    picture(w).click(*at(w, *middle("grey")))
    grey = w.find("push button", re.compile("^grey card, "))
    x, y, radius = numbers(grey)
    check(abs(x - 750) <= 2 and abs(y - 230) <= 2 and 60 < radius < 110, "as much as is even", grey.name)
    w.find(None, "White card").click()
    x, y = middle("white")
    picture(w).drag(*at(w, x, y), *at(w, x + 40, y))
    white = w.find("push button", re.compile("^white card, "))
    check(abs(numbers(white)[2] - 40) <= 3, "as large as it was drawn", white.name)
    use(w, "Corrected with neutral cards")


def by_guess(w):
    open_place(w, "Corrected with neutral cards", "No correction")
    w.find("label", "The light looks warm (a guess). Correct for it?")
    w.find("push button", "Correct").click()
    use(w, "Light guessed, not measured")


def leave(w):
    """Esc changes nothing."""
    open_place(w, "Light guessed, not measured", "24-patch chart")
    corner(w, 0)
    w.key("Escape")
    w.button("Light guessed, not measured")


def mark_clipping(w):
    w.find("push button", "Clipping").click()
    words = wait_for("the shares", lambda: re.search(
        r"clipped lights, ([\d.]+) % of the picture; lost shadows, ([\d.]+) %", picture(w).description))
    lights, shadows = map(float, words.groups())
    # The foot of the cylinder is black: 440 x 70 of the picture's 1200 x 900 pixels.
    check(abs(shadows - 100 * 440 * 70 / (WIDTH * HEIGHT)) < 0.3, "lost shadows", shadows)
    check(0.2 < lights < 2.0, "clipped lights", lights)


def main():
    with tempfile.TemporaryDirectory() as folder:
        with Window(write(os.path.join(folder, "warm.png")), paints=6) as w:
            w.focus()
            w.find("label", "No surface yet. Drag one line across a surface.")
            before = draw_run(w)
            by_chart(w, before)
            by_cards(w)
            by_guess(w)
            leave(w)
            mark_clipping(w)
            check(not w.complaints(), "no complaint", *w.complaints())
    print("the correction by pointer: done")


if __name__ == "__main__":
    main()
