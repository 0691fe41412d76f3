#!/usr/bin/python3
"""test_brief.py: the client's brief in a real window: typed, measured off the picture, mixed otherwise, handed over

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os
import re
import shutil

from gi.repository import GLib
from window import DATA, Window, check, wait_for

COAT = (650, 800)  # an even place of the coat


def lines(window):
    try:
        return [row.name for row in window.known("list", "Lines of the brief").children]
    except GLib.Error:
        return []  # the rows are being made anew


def detail(window):
    return window.find("text", "Name of the line")


def rename(window, name):
    wait_for("the name", lambda: detail(window).has("FOCUSED"))
    window.key("ctrl+a")
    window.type(name)
    window.key("Return")
    wait_for(name, lambda: name in lines(window))


def wait_for_offers(window):
    wait_for("other mixes", lambda: not window.find_all("label", "Looking for other mixes…"), limit=60)


def add(window):
    window.find("push button", "Add a line").click()
    rename(window, "Band")
    window.find("spin button", "Asked for, L*").click()
    window.key("ctrl+a")
    window.type("40")
    window.key("Return")
    wait_for("the line", lambda: "Band" in lines(window))


def type_code(window):
    """A name with a code says the colour."""
    window.find("push button", "Add a line").click()
    wait_for("the name", lambda: detail(window).has("FOCUSED"))
    window.key("ctrl+a")
    window.type("Belt #808080")
    window.key("Return")
    wait_for("its line", lambda: "Belt" in lines(window))
    window.key("ctrl+z", "ctrl+z")
    wait_for("both steps back", lambda: len(lines(window)) == 6)


def leave_by_click(window):
    """What was typed holds when another line is clicked, which is then the one that is looked at."""
    rows = window.known("list", "Lines of the brief")

    def row(name):
        return next(n for n in rows.children if n.name == name)
    row("Band").click()
    detail(window).click()
    window.key("ctrl+a")
    window.type("Ribbon")
    other = next(name for name in lines(window) if name != "Band")
    row(other).click()
    wait_for("its new name", lambda: "Ribbon" in lines(window))
    wait_for("the other line", lambda: detail(window).text == other)
    row("Ribbon").click()
    window.find("spin button", "Asked for, L*").click()
    window.key("ctrl+a")
    window.type("30")
    row(other).click()
    wait_for("the other line", lambda: detail(window).text == other)
    # The line itself, whose row is made anew while it takes the keyboard.
    detail(window).click()
    window.key("ctrl+a")
    window.type("Trim")
    row(other).click()
    wait_for("its newer name", lambda: "Trim" in lines(window))
    row("Ribbon").click()
    wait_for("its number", lambda: window.find("spin button", "Asked for, L*").value == 30)
    window.key("ctrl+z", "ctrl+z", "ctrl+z")
    wait_for("three steps back", lambda: {"Band", other} <= set(lines(window)))


def measure(window):
    window.find("push button", "Measure off the picture…").click()
    wait_for("the picture", lambda: window.known("push button", "Picture").has("PRESSED"))
    window.image().click(*window.on_picture(*COAT))
    wait_for("its line", lambda: any(n.startswith("Colour ") for n in lines(window)))
    window.find("image", "Measured off a picture")
    window.find("label", re.compile("^lighthouse.jpg, as corrected"))


def use_another(window):
    wait_for_offers(window)
    button = next(b for b in window.find_all("push button", re.compile(r"^Use \d+ ")))
    recipe = button.name[len("Use "):]
    button.click()
    window.find("push button", "Use the nearest mix")
    window.find("label", recipe)
    return recipe


def hand_over(window, recipe):
    card, table = os.path.join(window.folder, "client.pdf"), os.path.join(window.folder, "results.csv")
    window.find("push button", "Make the client’s card…").click()
    window.answer_chooser("Save the Client’s Card", card)
    window.find("push button", "Save results…").click()
    window.answer_chooser("Save the Results", table)
    wait_for("both files", lambda: os.path.exists(card) and os.path.exists(table))
    with open(table, newline="", encoding="utf-8") as file:
        rows = {row["name"]: row for row in csv.DictReader(file)}
    check(rows["Band"]["asked_L"] == "40", "what was typed", rows["Band"])
    check(any(row["recipe"] == recipe for row in rows.values()), "the mix that was chosen", recipe, rows)


def main():
    with Window() as window:
        plan = shutil.copy(os.path.join(DATA, "demo", "lighthouse.tonestair"), window.folder)
        window.focus()
        window.key("ctrl+o")
        window.answer_chooser("Open a Picture or a Plan", plan)
        window.mixed(7)
        window.go_to("Brief")
        wait_for("five lines", lambda: len(lines(window)) == 5)
        add(window)
        type_code(window)
        leave_by_click(window)
        measure(window)
        recipe = use_another(window)
        hand_over(window, recipe)
        window.known("list", "Lines of the brief").children[-1].click()
        window.key("Delete")
        wait_for("a line less", lambda: len(lines(window)) == 6)
        window.key("ctrl+z")
        wait_for("it is there again", lambda: len(lines(window)) == 7)
        window.key("ctrl+s")
        window.find("label", "saved")
        window.check_quiet(window.close())


main()
