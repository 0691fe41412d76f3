#!/usr/bin/python3
"""test_chosen.py: several spots of a run chosen by keys, clicks and a band, moved and removed in one step

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import time

from window import Window, check, wait_for, xdo

FROM, TO = (300, 700), (560, 960)


def chosen(window):
    found = re.search(r"(\d+) spots? chosen", window.image().description)
    return int(found.group(1)) if found else 0


def spots(window):
    return int(re.search(r"(\d+) spots\.", window.image().description).group(1))


def at(window, index):
    """Where a spot stands that was laid along the line."""
    n = spots(window)
    return window.on_picture(*(a + (b - a) * index / (n - 1) for a, b in zip(FROM, TO)))


def undo_name(window):
    return window.known("push button", "Undo").description


def click(window, place, held=None):
    if held:
        xdo("keydown", held)
    window.image().click(*place)
    if held:
        xdo("keyup", held)


def band(window, start, end):
    (px, py), (qx, qy) = window.image().point(*start), window.image().point(*end)
    xdo("mousemove", px, py)
    xdo("mousedown", 3)
    for i in range(1, 6):
        xdo("mousemove", round(px + (qx - px) * i / 5), round(py + (qy - py) * i / 5))
        time.sleep(0.015)
    if os.environ.get("TS_TEST_SHOT"):
        os.system("import -window root %s-band.png" % os.environ["TS_TEST_SHOT"])
    xdo("mouseup", 3)


def by_keys(window):
    """Tab to spots, S; the arrows move all, one step back for each press; Delete takes all away."""
    window.image().click(*window.on_picture(1560, 60))
    window.key("Tab", "Tab", "s", "Tab", "s", "Tab", "Tab", "s")
    wait_for("three spots", lambda: chosen(window) == 3)
    window.key("s")
    wait_for("two", lambda: chosen(window) == 2)
    window.key("s")
    wait_for("three", lambda: chosen(window) == 3)
    run, n = window.run(), spots(window)
    window.key("shift+Right")
    wait_for("them to move", lambda: undo_name(window) == "Move spots")
    check(window.run() == run, "the ends stay", window.run(), run)
    window.key("ctrl+z")
    wait_for("all of them back", lambda: undo_name(window) == "Add a Surface")
    check(chosen(window) == 3, "still chosen", window.image().description)
    window.key("Delete")
    wait_for("fewer", lambda: spots(window) == n - 3)
    check(chosen(window) == 0, "nothing is chosen")
    window.key("ctrl+z")
    wait_for("all of them", lambda: spots(window) == n)


def all_of_them(window):
    """Ctrl+A is the whole run: it moves as one, and goes as one."""
    run, n = window.run(), spots(window)
    window.key("ctrl+a")
    wait_for("all", lambda: chosen(window) == n)
    window.key("Down", "shift+Left")
    moved = tuple((x - 10, y + 1) for x, y in run)
    wait_for("the run to move", lambda: window.run() == moved)
    window.key("ctrl+z", "ctrl+z")
    wait_for("it to be back", lambda: window.run() == run)
    window.key("Delete")
    wait_for("it to go", lambda: window.run() is None)
    window.key("ctrl+z")
    wait_for("it again", lambda: window.run() == run)
    window.key("ctrl+a")
    wait_for("all", lambda: chosen(window) == n)
    window.key("Escape")
    wait_for("none", lambda: chosen(window) == 0)


def by_pointer(window):
    """Clicks with Shift or Ctrl, on the line the whole run; a band; a drag moves what is chosen."""
    run, n = window.run(), spots(window)
    click(window, at(window, 2), "shift")
    wait_for("one", lambda: chosen(window) == 1)
    click(window, at(window, 3), "ctrl")
    wait_for("two", lambda: chosen(window) == 2)
    click(window, at(window, 2), "shift")
    wait_for("one less", lambda: chosen(window) == 1)
    (ax, ay), (bx, by) = at(window, 1), at(window, 4)
    band(window, (ax - 4, ay - 4), (bx + 4, by + 4))
    wait_for("four within the band", lambda: chosen(window) == 4)
    if os.environ.get("TS_TEST_SHOT"):
        window.shoot(os.environ["TS_TEST_SHOT"] + ".png")
    x, y = at(window, 2)
    window.image().drag(x, y, x + 30, y - 20)
    wait_for("them to be dragged", lambda: undo_name(window) == "Move Spots")
    check(window.run() == run and spots(window) == n, "the ends stay", window.run(), run)
    window.key("ctrl+z")
    wait_for("one step back", lambda: undo_name(window) == "Add a Surface")
    click(window, window.on_picture(1560, 60))
    wait_for("none", lambda: chosen(window) == 0)
    check(window.image().description.startswith("1 surface."), "nothing was drawn", window.image().description)


def main():
    with Window(None, paints=4) as window:
        window.image().drag(*window.on_picture(*FROM), *window.on_picture(*TO))
        window.mixed(7)
        window.key("Escape")
        check(max(abs(a - b) for p, q in zip(window.run(), (FROM, TO)) for a, b in zip(p, q)) <= 2, "a run", window.run())
        by_keys(window)
        all_of_them(window)
        by_pointer(window)
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
