#!/usr/bin/python3
"""test_surfaces.py: the list of surfaces by keyboard and menu, and a copy of the plan with its pictures

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import os
import re

from window import LIT, SHADOW, Window, check, wait_for


def names(window):
    return [row.name for row in window.known("list", "Surfaces").children]


def wait_for_names(window, *wanted):
    wait_for("surfaces %s" % ", ".join(wanted), lambda: names(window) == list(wanted))


def by_keyboard(window):
    window.known("list", "Surfaces").children[0].click()
    window.key("ctrl+d")
    wait_for_names(window, "Coat", "Coat 2")
    window.key("alt+Up")
    wait_for_names(window, "Coat 2", "Coat")
    window.key("h")
    window.find("image", "Hidden on the picture until it is chosen")
    window.key("h")
    wait_for("it is shown", lambda: not window.find_all("image", "Hidden on the picture until it is chosen"))


def by_menu(window):
    window.known("list", "Surfaces").children[1].click(button=3)
    window.find("menu item", "Move up").click()
    wait_for_names(window, "Coat", "Coat 2")
    window.known("list", "Surfaces").children[1].click(button=3)
    window.find("menu item", "Hide on the picture").click()
    window.find("image", "Hidden on the picture until it is chosen")
    window.known("list", "Surfaces").children[1].click(button=3)
    window.find("menu item", "Show on the picture").click()
    wait_for("it is shown", lambda: not window.find_all("image", "Hidden on the picture until it is chosen"))


def pack(window):
    place = os.path.join(window.folder, "place")
    os.mkdir(place)
    window.button("Menu").click()
    window.find("menu item", "Save a copy with its pictures…").click()
    window.answer_chooser("Where the Copy Goes", place)
    window.find("label", re.compile("^A copy with its pictures is in .*lighthouse\\.$"))
    check(sorted(os.listdir(os.path.join(place, "lighthouse"))) == ["lighthouse.jpg", "lighthouse.tonestair"],
          "plan and picture", os.listdir(place))
    with open(os.path.join(place, "lighthouse", "lighthouse.tonestair"), encoding="utf-8") as file:
        plan = json.load(file)
    check(plan["pictures"][0]["path"] == "lighthouse.jpg", "the picture's path", plan["pictures"][0])
    check([s["name"] for s in plan["surfaces"]] == ["Coat", "Coat 2"], "the plan as it is now", plan["surfaces"])
    window.find("label", "not saved")


def main():
    with Window(None, paints=6) as window:
        window.focus()
        window.image().drag(*window.on_picture(*LIT), *window.on_picture(*SHADOW))
        window.mixed(7)
        window.type("Coat")
        window.key("Return")
        wait_for_names(window, "Coat")
        by_keyboard(window)
        by_menu(window)
        pack(window)
        check(not window.complaints(), "no complaint", *window.complaints())


main()
