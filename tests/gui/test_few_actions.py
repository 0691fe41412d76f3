#!/usr/bin/python3
"""test_few_actions.py: how many times a hand does something from the start to a printed mixing card

Every click, drag, chord of keys and typed line goes through a counter; what comes out must be what the first
chapter of the manual promises. Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import glob
import os
import re
import tempfile

from window import LIT, SHADOW, SOURCE, Window, check, wait_for

WORDS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9}
PROMISE = re.compile(r"takes (\w+) actions from the empty window .*, and (\w+) from a picture")


class Hand:
    """The only way to the window; it counts."""

    def __init__(self, window):
        self.window, self.n = window, 0

    def key(self, key):
        self.n += 1
        self.window.key(key)

    def type(self, text):
        self.n += 1
        self.window.type(text)

    def click(self, node):
        self.n += 1
        node.click()

    def drag(self, node, *places):
        self.n += 1
        node.drag(*places)


def open_picture(window, hand):
    hand.key("ctrl+o")
    window.find(None, "Open a Picture or a Plan")
    window.focus("Open a Picture or a Plan")
    hand.type(window.picture)
    hand.key("Return")


def print_card(window, hand, folder, knows_printer):
    """One drag, and the mixes are there; the printer is chosen once."""
    image = wait_for("the picture", window.image)
    hand.drag(image, *window.on_picture(*LIT), *window.on_picture(*SHADOW))
    window.mixed(7)
    hand.key("ctrl+p")
    dialog = window.find("dialog", "Print")
    window.focus("Print")
    if not knows_printer:
        hand.click(dialog.find("label", "Print to File"))
    button = dialog.find("push button", re.compile("Print$"))
    wait_for("the printer to be chosen", lambda: button.has("SENSITIVE"))
    hand.click(button)

    def printed():
        return glob.glob(os.path.join(folder, "*.pdf")) + glob.glob(os.path.expanduser("~/**/*.pdf"), recursive=True)
    path = wait_for("the printed card", printed)[0]

    def is_whole():
        with open(path, "rb") as file:
            return file.read().rstrip().endswith(b"%%EOF")
    wait_for("the whole card", is_whole)
    os.remove(path)
    check(not window.complaints(), "no complaint", *window.complaints())


def count(state, knows_printer, *files):
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        with Window(*files, state=state) as window:
            hand = Hand(window)
            window.focus()
            if not files:
                window.find("label", "Drop a picture here")
                open_picture(window, hand)
            print_card(window, hand, folder, knows_printer)
            os.chdir("/")
            return hand.n


def promised():
    with open(os.path.join(SOURCE, "data", "help", "en", "first-plan.md"), encoding="utf-8") as file:
        found = PROMISE.search(file.read())
    check(found is not None, "the manual tells the numbers")
    return tuple(WORDS[w] for w in found.groups())


def main():
    with tempfile.TemporaryDirectory() as state:
        counted = count(state, False), count(state, True, None)
    print("to a printed card: %d actions the first time, from the empty window; %d with a picture from the desktop" % counted)
    check(counted == promised(), "what the manual promises", promised(), counted)


if __name__ == "__main__":
    main()
