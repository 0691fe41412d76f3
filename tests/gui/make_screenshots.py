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
