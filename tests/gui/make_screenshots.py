#!/usr/bin/python3
"""make_screenshots.py: pictures of the window with the demo plan: make_screenshots.py FOLDER NAME...

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import subprocess
import sys

from window import DATA, Window, wait_for

PLAN = os.path.join(DATA, "demo", "lighthouse.tonestair")


def main_window(w):
    """The stair of the first surface, mixes and all."""


def go_to(place, what):
    def show(w):
        w.go_to(place)
        w.find(*what)
    return show


def other_mixes(w):
    w.stair().children[3].click(times=2)
    w.find("list", "Other mixes")
    w.find("push button", "Keep")


def outline(w):
    """The coat's right side, drawn loosely."""
    w.image().draw([w.on_picture(*p) for p in ((550, 590), (650, 560), (760, 600), (830, 720), (830, 1045), (640, 1045),
                                               (560, 930), (530, 760))], hold=["ctrl", "shift"])
    wait_for("what the steps cover", lambda: "covers" in w.steps()[0].words)
    wait_for("all mixes", lambda: all(s.error for s in w.steps()) and not w.is_busy(), limit=120)


def stair_check(w):
    """Steps merged and added until all three verdicts are there."""
    outline(w)
    w.steps()[0].node.click()
    for key in ("Delete", "Delete"):
        n = len(w.steps())
        w.key(key)
        wait_for("a step less", lambda: len(w.steps()) < n)
    w.steps()[3].node.click()
    w.key("Insert", "Insert")
    wait_for("two more", lambda: len(w.steps()) == 7)
    wait_for("all mixes", lambda: all(s.error for s in w.steps()) and not w.is_busy(), limit=120)


def look(name):
    def show(w):
        w.find("push button", name).click()
        w.find("push button", re.compile("^What touches")).click()
        for other in ("Leather", "Scarf", "Brass"):
            w.find("check box", other).click()
        w.key("Escape")
        w.find("label", "Coat and Leather")
    return show


SHOW = {
    "main-window": main_window,
    "main-window-dark": main_window,
    "main-window-2x": main_window,
    "main-window-960x600": main_window,
    "paints": go_to("Paints", ("list", "Paints")),
    "brief": go_to("Brief", ("label", "Brief")),
    "finish-check": go_to("Finish check", ("push button", "Finish check")),
    "mixing-card": go_to("Mixing card", ("image", "Page 1 of the mixing card")),
    "other-mixes": other_mixes,
    "curve-and-areas": outline,
    "stair-check": stair_check,
    "values": look("Values"),
    "values-dark": look("Values"),
    "arms-length": look("Arm’s length"),
}


def fill_screen(w):
    """As large as the screen, its border included."""
    w.focus()
    w.button("Maximize").click()
    wait_for("a maximised window", lambda: b"MAXIMIZED_VERT" in subprocess.run(
        ["xprop", "-id", str(w._window_id()), "_NET_WM_STATE"], stdout=subprocess.PIPE, timeout=30).stdout)


def shoot(w, path):
    """The window without the border that GTK draws where no shadow can be."""
    w.shoot(path)
    edge = 5 * w.scale
    subprocess.run(["mogrify", "-shave", "%dx%d" % (edge, edge), "+repage", path], check=True, timeout=60)


def with_plan(w):
    w.find("list item", re.compile("^Step 1$"), limit=60)
    wait_for("all mixes", lambda: all(s.error for s in w.steps()) and not w.is_busy(), limit=120)
    wait_for("all surfaces", lambda: not w.find_all("label", re.compile("^looking for mixes")), limit=120)


def main(folder, names):
    for name in names:
        path = os.path.join(folder, name + ".png")
        if name == "empty":
            with Window() as w:
                fill_screen(w)
                w.find("label", "Drop a picture here")
                shoot(w, path)
        else:
            with Window(PLAN) as w:
                fill_screen(w)
                with_plan(w)
                SHOW[name](w)
                shoot(w, path)
        print("wrote", path)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
