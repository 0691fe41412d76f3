#!/usr/bin/python3
"""test_wishes.py: wishes for stairs that cannot be read are told of, and are not written over

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import tempfile

from window import DATA, Window, check, wait_for

SPOILT = '{"format":"tonestair-wishes","wishes":[{"name":"Moonlight"},'


def name_one(window, name):
    window.button("Range and light…").click()
    entry = window.find("text", "Name to keep range and colours under")
    entry.click()
    wait_for("the keyboard in the entry", lambda: entry.has("FOCUSED"))
    window.type(name)
    window.key("Return")
    window.find("push button", name)


def main():
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_CONFIG_HOME"] = folder
        path = os.path.join(folder, "tonestair", "wishes.json")
        os.mkdir(os.path.dirname(path))
        with open(path, "w", encoding="utf-8") as file:
            file.write(SPOILT)
        with Window(os.path.join(DATA, "demo", "lighthouse.tonestair")) as window:
            wait_for("the stair", window.steps)
            name_one(window, "Noon")
            wait_for("the file", lambda: os.path.exists(path + "~"))
            window.find("label", re.compile(r"wishes\.json~"))
            window.key("Escape")
            name_one(window, "Dusk")
            with open(path + "~", encoding="utf-8") as file:
                check(file.read() == SPOILT, "what could not be read stays")
            check(not window.complaints(), "no complaint", window.complaints())


main()
