#!/usr/bin/python3
"""test_accents.py: a step and something more, from the step's panel to the stair and to the plan on disk

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re

from window import LIT, SHADOW, Window, check, wait_for


def accent_of(step):
    found = re.search(r"Accent lip: (.+?); (.+?)\.", step.words)
    return found and found.groups()


def add(window):
    """A name and Return; the paint is the first of the set. The panel scrolls to what has the keyboard."""
    for _ in range(8):
        window.key("Tab")
        now = wait_for("the keyboard somewhere", window.focused)
        if now.name == "Name of the accent":
            break
    check(now.name == "Name of the accent", "the keyboard in the name", now.name)
    check(not window.find("push button", "Add the accent").has("SENSITIVE"), "no accent without a name")
    window.type("lip")
    window.key("Return")
    wait_for("the accent in the stair", lambda: accent_of(window.steps()[2]))


def main():
    with Window(None, paints=6) as window:
        window.image().draw([window.on_picture(*LIT), window.on_picture(*SHADOW)])
        steps = window.mixed(7)
        window.key("Escape")
        steps[2].node.click(times=2)
        window.find("list", "Other mixes")
        add(window)
        first = accent_of(window.steps()[2])
        if os.environ.get("TS_TEST_SHOT"):
            window.shoot(os.environ["TS_TEST_SHOT"])
        check("Plain White" in first[0] and "lighter" in first[1], "its paint is in the mix, and shows", first)
        spin = window.find("spin button", "Parts of Plain White for lip")
        spin.value = 3
        wait_for("more of it", lambda: accent_of(window.steps()[2]) != first)
        window.key("ctrl+z")
        wait_for("as it was", lambda: accent_of(window.steps()[2]) == first)
        window.key("Escape")
        window.steps()[0].node.click()
        window.key("Insert")
        wait_for("one more step", lambda: len(window.steps()) == 8)
        wait_for("it goes along", lambda: accent_of(window.steps()[3]) and not accent_of(window.steps()[2]))
        window.mixed(8)
        window.steps()[3].node.click(times=2)
        window.find("push button", "Remove lip").press()
        wait_for("none any more", lambda: not any(accent_of(s) for s in window.steps()))
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
