#!/usr/bin/python3
"""test_preferences.py: what a new plan starts with, and distances in inches

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import re

from window import LIT, SHADOW, Window, check, wait_for


def set_number(window, name, number):
    window.find("spin button", name).click(30)
    window.key("ctrl+a")
    window.type(number)
    window.key("Return")


def set_preferences(window):
    window.key("ctrl+comma")
    window.find("label", "Colour profile of the monitor")
    window.focus("Preferences")
    set_number(window, "Height of the figure, mm", "54")
    set_number(window, "Width of a spot, pixels at most", "6")
    window.choose("Distances in", "inches")
    set_number(window, "Distance from the eye, inches", "20")
    window.find("label", "Distance from the eye, inches")
    window.key("Escape")
    window.focus()


def main():
    with Window() as window:
        window.focus()
        set_preferences(window)
        window.key("ctrl+o")
        window.answer_chooser("Open a Picture or a Plan", window.picture)
        window.image().drag(*window.on_picture(*LIT), *window.on_picture(*SHADOW))
        window.mixed(7)
        window.find("push button", "Arm’s length").click()
        window.find("label", "Distance, inches")
        window.find("label", re.compile(r"merge in bands narrower than about [\d.]+ mm at 20 in \(an estimate\)"))
        window.key("ctrl+s")
        window.answer_chooser("Save the Plan", window.plan)
        wait_for("the plan", lambda: window.find_all("label", "saved"))
        plan = window.read_plan()
        check(plan["figure_height_mm"] == 54, "the painter's figure", plan["figure_height_mm"])
        radius = plan["surfaces"][0]["runs"][0]["radius"]
        check(radius == 3, "the painter's spots", radius)
        window.check_quiet(window.close())


main()
