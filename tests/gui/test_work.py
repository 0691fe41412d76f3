#!/usr/bin/python3
"""test_work.py: other mixes are only looked at; what is ticked off is marked in the stair;
another surface's work is chosen on the card; recent plans in the menu

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


def work(window):
    return [n.name for n in window.find(None, "The order of work").find_all("check box")]


def tick_while_typing(window):
    """A number that is being typed holds when a tick is clicked, and the click does too."""
    before = wait_for("the work", lambda: work(window))
    window.find("spin button", "Area of the surface, mm²").click(20)
    window.key("ctrl+a")
    window.type("4000")
    box = window.find(None, "The order of work").find_all("check box")[1]
    box.click()
    wait_for("the tick", lambda: box.has("CHECKED"))
    wait_for("larger amounts", lambda: len(work(window)) == len(before) and work(window) != before)
    window.key("ctrl+z", "ctrl+z")
    wait_for("as it was", lambda: work(window) == before and not box.has("CHECKED"))


def other_surface(window):
    """Another surface's work is chosen by pointer and by keyboard; it is the one shown everywhere then."""
    coat = wait_for("the coat's work", lambda: work(window))
    window.choose("Surface", "Skin")
    skin = wait_for("the skin's work", lambda: work(window) != coat and work(window))
    check(window.choice("Surface") == "Skin", "what is chosen is said", window.choice("Surface"))
    window.key("space")
    wait_for("the rows", lambda: window.find("combo box", "Surface").find_all("list item"))
    window.key("Down", "Return")
    wait_for("the scarf's work", lambda: window.choice("Surface") == "Scarf" and work(window) not in ([], coat, skin))
    window.go_to("Picture")
    window.find("list", "Stair of Scarf")
    window.go_to("Mixing card")
    window.choose("Surface", "Coat")
    wait_for("the coat's work", lambda: work(window) == coat)
    check(not window.complaints(), "no complaint", *window.complaints())


def on_the_card(window):
    """The card is longer with the work of all surfaces; it can be undone, and a saved plan has it."""
    plan = os.path.join(window.folder, "lighthouse.tonestair")

    def pages():
        return int(wait_for("the pages", lambda: window.find("label", re.compile(r"^\d+ pages?$"))).name.split()[0])

    window.go_to("Mixing card")
    short = pages()
    choice = window.find("check box", "With the order of work")
    check(not choice.has("CHECKED"), "the card is short at first")
    choice.click()
    wait_for("a longer card", lambda: pages() > short)
    window.key("ctrl+z")
    wait_for("the short card", lambda: pages() == short and not choice.has("CHECKED"))
    choice.click()
    window.key("ctrl+s")
    wait_for("the plan on disk", lambda: '"card_has_work": true' in open(plan, encoding="utf-8").read())
    choice.click()
    window.key("ctrl+s")
    wait_for("the plan on disk", lambda: "card_has_work" not in open(plan, encoding="utf-8").read())


def look_at_offers(window):
    """Of each step: looking takes none of them, though a simpler mix may stand before the one in use."""
    first = []
    for step in window.steps():
        step.node.click(times=2)
        rows = wait_for("offers", lambda: window.find("list", "Other mixes").find_all("list item"))
        chosen = [row.name for row in rows if row.has("SELECTED")]
        check(len(chosen) <= 1, "one in use", chosen)
        first.append(rows[0].name)
        window.key("Tab", "Tab", "Escape")
        window.find("label", "saved")
    check(any(not name.startswith("Nearest") for name in first), "a simpler one stands first somewhere", first)


def main():
    with Window() as window:
        for name in ("lighthouse.tonestair", "lighthouse-finished.jpg"):
            shutil.copy(os.path.join(DATA, "demo", name), window.folder)
        window.focus()
        window.key("ctrl+o")
        window.answer_chooser("Open a Picture or a Plan", os.path.join(window.folder, "lighthouse.tonestair"))
        window.mixed(7)
        check(painted(window) == [], "nothing is painted", painted(window))
        look_at_offers(window)
        window.go_to("Mixing card")
        tick(window, "Put out .* for step 4")
        tick(window, "Paint step 4;")
        window.go_to("Picture")
        wait_for("a painted step", lambda: painted(window) == ["Step 4"])
        window.key("ctrl+z")
        wait_for("no painted step", lambda: painted(window) == [])
        window.key("ctrl+z")
        window.find("label", "saved")
        on_the_card(window)
        tick_while_typing(window)
        other_surface(window)
        window.button("Menu").click()
        window.find("menu item", "Open recent").click()
        window.find("menu item", "lighthouse").click()
        wait_for("the plan anew", lambda: not window.button("Undo").has("SENSITIVE") and
                 not window.button("Redo").has("SENSITIVE"))
        window.mixed(7)
        window.check_quiet(window.close())


main()
