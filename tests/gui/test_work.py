#!/usr/bin/python3
"""test_work.py: what is ticked off at the palette is marked in the stair; and plans opened before are in the menu

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import shutil

from window import DATA, Window, check, wait_for


def painted(window):
    return [s.node.name for s in window.steps() if s.words.endswith("painted")]


def tick(window, pattern):
    box = wait_for(pattern, lambda: next((n for n in window.find(None, "The order of work").find_all("check box")
                                          if re.match(pattern, n.name)), None))
    box.click()
    wait_for("the tick", lambda: box.has("CHECKED"))


def main():
    with Window() as window:
        for name in ("lighthouse.tonestair", "lighthouse-finished.jpg"):
            shutil.copy(os.path.join(DATA, "demo", name), window.folder)
        window.focus()
        window.key("ctrl+o")
        window.answer_chooser("Open a Picture or a Plan", os.path.join(window.folder, "lighthouse.tonestair"))
        window.mixed(7)
        check(painted(window) == [], "nothing is painted", painted(window))
        window.go_to("Mixing card")
        tick(window, "Put out .* for step 4")
        tick(window, "Paint step 4;")
        window.go_to("Picture")
        wait_for("a painted step", lambda: painted(window) == ["Step 4"])
        window.key("ctrl+z")
        wait_for("no painted step", lambda: painted(window) == [])
        window.key("ctrl+z")
        window.find("label", "saved")
        window.button("Menu").click()
        window.find("menu item", "Open recent").click()
        window.find("menu item", "lighthouse").click()
        wait_for("the plan anew", lambda: not window.button("Undo").has("SENSITIVE") and
                 not window.button("Redo").has("SENSITIVE"))
        window.mixed(7)
        window.check_quiet(window.close())


main()
