#!/usr/bin/python3
"""test_together.py: files that are opened at once: pictures side by side in one plan, each plan in a window

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import shutil
import tempfile

from window import DATA, Window, check, wait_for

PICTURE = os.path.join(DATA, "demo", "lighthouse.jpg")
FINISHED = os.path.join(DATA, "demo", "lighthouse-finished.jpg")


def both_shown(window):
    """The first is worked on, the second stands beside it."""
    window.find("image", "Reference, lighthouse.jpg")
    window.find("image", re.compile("^Beside it: .*lighthouse-finished.jpg"))


def titles(window):
    return sorted(n.name for n in window.root.children if n.role == "frame")


def pictures():
    with Window(PICTURE, FINISHED) as window:
        both_shown(window)
        check(titles(window) == ["lighthouse"], "one plan of both", titles(window))
        check(not window.complaints(), "no complaint", *window.complaints())


def plans():
    with tempfile.TemporaryDirectory() as folder:
        for name in ("lighthouse.tonestair", "lighthouse.jpg", "lighthouse-finished.jpg"):
            shutil.copy(os.path.join(DATA, "demo", name), folder)
        plan = os.path.join(folder, "lighthouse.tonestair")
        other = os.path.join(folder, "other.tonestair")
        with open(plan, encoding="utf-8") as whole, open(other, "w", encoding="utf-8") as copy:
            copy.write(whole.read().replace("The lighthouse keeper", "Another keeper"))
        with Window(FINISHED, plan, other) as window:
            wait_for("a window for each plan",
                     lambda: titles(window) == ["Another keeper", "The lighthouse keeper"])
            both_shown(window)
            check(not window.complaints(), "no complaint", *window.complaints())


def main():
    pictures()
    plans()
    print("what is opened together stands together")


if __name__ == "__main__":
    main()
