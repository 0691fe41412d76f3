#!/usr/bin/python3
"""test_together.py: files that are opened: at once, and the demo, which is not saved over

Pictures stand side by side in one plan, each plan has a window.

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import shutil
import tempfile

from window import DATA, LIT, SHADOW, Window, check, wait_for

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


def demo():
    """Saving it asks where."""
    with tempfile.TemporaryDirectory() as folder:
        data = shutil.copytree(DATA, os.path.join(folder, "data"))
        own = os.path.join(data, "demo", "lighthouse.tonestair")
        with open(own, "rb") as file:
            before = file.read()
        with Window(data=data) as window:
            window.focus()
            window.find("push button", "Open the demo").click()
            window.find("list", re.compile("^Stair of"))
            window.image().drag(*window.on_picture(*LIT), *window.on_picture(*SHADOW))
            window.find("label", "not saved")
            window.key("ctrl+s")
            window.answer_chooser("Save the Plan", window.plan)
            window.find("label", "saved")
            check("lighthouse.jpg" in str(window.read_plan()["pictures"]), "the plan elsewhere")
            check(not window.complaints(), "no complaint", *window.complaints())
        with open(own, "rb") as file:
            check(file.read() == before, "the demo as it was")


def main():
    pictures()
    plans()
    demo()
    print("what is opened together stands together, and the demo stays")


if __name__ == "__main__":
    main()
