#!/usr/bin/python3
"""test_stair.py: the curve in words, why a mix is offered, and a stair that two surfaces share

With the demo's plan and all its paints. Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re

from window import DATA, Window, check, wait_for

PLAN = os.path.join(DATA, "demo", "lighthouse.tonestair")
REASONS = r"Nearest|Simplest: \d paints?|Shares its paints with steps? [\d and]+|Forgives a drop too many|" \
    r"Holds under a warm lamp|Holds under a white LED|Other paints"


def settled(window):
    wait_for("the mixes", lambda: window.steps() and all(s.error for s in window.steps()) and not window.is_busy(),
             limit=120)
    return window.steps()


def choose(window, name):
    """As assistive technology does: some lie under the edge of the list."""
    surfaces = window.find("list", "Surfaces")
    names = [n.name for n in surfaces.children]
    surfaces.select(names.index(name))
    wait_for("its stair", lambda: window.stair().name == "Stair of " + name)
    return settled(window)


def curves(window):
    """A falling curve with a place for its core shadow, a terminator with its range, and a free one."""
    choose(window, "Coat")
    check(re.match(r"falls from \d+ to \d+, core shadow at \d+ %( \(\d+ to \d+\))?, 2 outliers; left out: ",
                   window.curve().description), "what falls", window.curve().description)
    choose(window, "Cap")
    found = re.search(r"terminator at (\d+) % \((\d+) to (\d+)\)", window.curve().description)
    check(found, "the steepest fall", window.curve().description)
    at, low, high = map(int, found.groups())
    check(low <= at <= high and low < high, "lies within its range", found.groups())
    choose(window, "Brass")
    check(re.match(r"goes freely between \d+ and \d+, 0 outliers$", window.curve().description), "what is polished",
          window.curve().description)


def offers(window):
    """Each has a reason; under a white LED another mix may hold better."""
    seen = set()
    for surface, step in (("Leather", 3), ("Cap", 4), ("Scarf", 1)):
        choose(window, surface)
        window.steps()[step].node.click(times=2)
        rows = wait_for("offers", lambda: window.find("list", "Other mixes").find_all("list item"))
        names = [r.name for r in rows]
        check(all(re.fullmatch(REASONS, n) for n in names), "known reasons", names)
        check(len({r.description for r in rows}) == len(rows), "each mix once", [r.description for r in rows])
        check("Nearest" in names[:2], "the nearest is first, or after a simpler one as good", names)
        seen |= set(names)
        window.key("Escape")
        wait_for("the list of surfaces", lambda: window.find_all("list", "Surfaces"))
    check("Holds under a white LED" in seen and "Holds under a warm lamp" in seen, "other lights count", seen)


def shared(window):
    """What is done to a stair is done for both, and the bar says whose it is."""
    choose(window, "Cap")
    before = [s.lightness for s in window.steps()]
    window.button("Range and light…").click()
    choice = window.find("combo box", "Whose stair it has")
    choice.click()
    wait_for("the keyboard in the rows", lambda: any(n.seen.has("FOCUSED") for n in choice.find_all("list item")))
    window.key("Home", "Down", "Return")  # its own, that of the first
    wait_for("the choice", lambda: any(n.name == "the stair of Coat" for n in choice.find_all("label")))
    window.key("Escape")
    wait_for("the other stair", lambda: [s.lightness for s in window.steps()] != before)
    coat = [s.lightness for s in window.steps()]
    wait_for("whose it is", lambda: any(n.name == "Cap, as Coat" for n in window.stair_bar().find_all("label")))
    settled(window)[1].node.click()
    window.key("Insert")
    wait_for("one more", lambda: len(window.steps()) == len(coat) + 1)
    changed = [s.lightness for s in window.steps()]
    choose(window, "Coat")
    check([s.lightness for s in window.steps()] == changed, "both have it", changed)
    check(abs(changed[2] - (coat[1] + coat[2]) / 2) <= 1, "halfway between its neighbours", coat, changed)


def told(window):
    """What is said of a change goes with the next one: its Undo would take back that one."""
    choose(window, "Coat")
    n = len(window.steps())
    window.steps()[1].node.click()
    window.key("Delete")
    window.find("label", "Step 3 merged into 2.")
    window.steps()[2].node.click()
    window.key("Up")
    wait_for("no word of it", lambda: not window.find_all("label", "Step 3 merged into 2."))
    window.key("ctrl+z", "ctrl+z")
    wait_for("all steps", lambda: len(window.steps()) == n)


def menu_of_step(window, step, item):
    """What the keys do, by the other button: each item as it is called then."""
    window.steps()[step].node.click(button=3)
    window.find("menu item", item).click()


def by_menu(window):
    choose(window, "Coat")
    recipe = window.steps()[2].recipe
    menu_of_step(window, 2, "Lock the mix")
    wait_for("a locked step", lambda: "locked" in window.steps()[2].words)
    menu_of_step(window, 2, "Unlock the mix")
    wait_for("a free step", lambda: "locked" not in window.steps()[2].words)
    n = len(window.steps())
    menu_of_step(window, 2, "Add a step after this one")
    wait_for("one more", lambda: len(window.steps()) == n + 1)
    menu_of_step(window, 3, "Merge with the next")
    wait_for("as many as before", lambda: len(window.steps()) == n)
    menu_of_step(window, 4, "Other mixes for 5…")
    window.find("list", "Other mixes")
    window.key("Escape")
    wait_for("the list of surfaces", lambda: window.find_all("list", "Surfaces"))
    window.focus()
    window.key(*["ctrl+z"] * 4)
    wait_for("what was there", lambda: "not saved" not in [n.name for n in window.find_all("label")])
    check(settled(window)[2].recipe == recipe, "the same mix", recipe, window.steps()[2].recipe)


def main():
    with Window(PLAN) as window:
        window.find("list item", re.compile("^Step 1$"), limit=60)
        told(window)
        by_menu(window)
        curves(window)
        offers(window)
        shared(window)
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
