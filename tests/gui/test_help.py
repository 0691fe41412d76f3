#!/usr/bin/python3
"""test_help.py: F1 opens the manual at the chapter of the place; its contents, links, search and keys work

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re

from test_names import audit
from window import DATA, Window, check, wait_for

ENGLISH = os.path.join(DATA, "help", "en")


def title_of(chapter):
    with open(os.path.join(ENGLISH, chapter), encoding="utf-8") as file:
        return file.readline().lstrip("# ").strip()


def help_window(w):
    return next((n for n in w.root.children if n.role == "frame" and n.name == "Help"), None)


def shown(w):
    """The title of the chapter that is shown."""
    window = help_window(w)
    headings = window.find_all("heading") if window else []
    return headings[0].name if headings else None


def shows(w, chapter):
    wait_for("chapter %s" % chapter, lambda: shown(w) == title_of(chapter))


def rows(w):
    return [n.name for n in help_window(w).find("list", "Contents").find_all("list item")]


def close(w):
    w.focus("Help")
    w.key("Escape")
    wait_for("the manual to close", lambda: help_window(w) is None and not w._window_id("Help"))


def main():
    with Window() as w:
        w.focus()
        w.key("F1")
        shows(w, "README.md")
        check(len(rows(w)) == len(os.listdir(ENGLISH)), "every chapter is listed", rows(w))
        faults, _ = audit(help_window(w), "help")
        check(not faults, "controls with names", *sorted(faults))

        w.focus("Help")
        # A link by keyboard: past the contents.
        w.key("Tab", "Tab")
        first = help_window(w).find("label", re.compile("^" + title_of("first-plan.md") + ":"))
        wait_for("the first link's keyboard", lambda: first.has("FOCUSED"))
        w.key("Return")
        shows(w, "first-plan.md")
        check(help_window(w).find_all("image", re.compile("a line on the coat")), "a picture that is told")
        title = help_window(w).find("heading", title_of("first-plan.md"))
        top = title.extents()[1]
        w.key("Next")
        wait_for("the page further down", lambda: title.extents()[1] < top)
        w.key("alt+Left")
        shows(w, "README.md")

        w.key("ctrl+f")
        w.type("metamerism")
        wait_for("what was found", lambda: rows(w) == ["Other lights, other eyes"])
        w.key("Return")
        shows(w, "numbers.md")
        w.key("Escape")
        wait_for("all chapters", lambda: len(rows(w)) > 5)
        close(w)

        w.focus()
        w.key("alt+2")
        w.find("list", "Paints")
        w.key("F1")
        shows(w, "paints.md")
        # It follows the place while it is open.
        w.focus("Help")
        w.focus()
        w.key("alt+1")
        w.find("label", "Drop a picture here")
        w.button("Menu").click()
        w.find("menu item", "Help").click()
        shows(w, "README.md")
        w.check_quiet(w.close())


if __name__ == "__main__":
    main()
