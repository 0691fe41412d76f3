#!/usr/bin/python3
"""test_paints.py: the Paints place: find, edit, undo, stock, a mix tried by hand and taught by a measured spot

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import re

from window import Window, check, wait_for

N_PAINTS = 12


class Place:
    """The Paints place: its list, and what stands beside it; looking at only these is quick."""

    def __init__(self, window):
        self.window = window
        window.go_to("Paints")
        self.list = window.find("list", "Paints")
        node = window.find("image", "What these paints can mix")
        while not node.find_all("list", "Paints"):
            node = node.parent
        self.side, self.middle = node.children[:2]
        self.page = self.middle.find("label")

    def rows(self):
        return self.list.children

    def names(self):
        """Without rows that are being made again."""
        return [row.name for row in self.rows() if row.name and row.role == "list item"]

    def row(self, name):
        return wait_for("the row of " + name, lambda: next((r for r in self.rows() if r.name == name), None))

    def press(self, name):
        self.middle.find("push button", name).press()

    def word(self, pattern):
        return wait_for("words like " + pattern, lambda: next(
            (n.name for n in self.middle.find_all("label") if re.search(pattern, n.name)), None))

    def title(self):
        """The name over the page of one paint."""
        return self.page.name

    def choose(self, name):
        self.row(name).click()
        wait_for("the page of " + name, lambda: self.title() == name)


def words(node):
    return [n.name for n in node.find_all("label") if n.name]


def find(place):
    """By a part of the name; Escape shows all again."""
    everything = place.names()
    check(len(everything) == N_PAINTS, "all paints", everything)
    place.side.find("entry", "Find among %d paints" % N_PAINTS).click()
    place.window.type("white")
    wait_for("those with white", lambda: 0 < len(place.names()) < N_PAINTS)
    check(all("white" in name.lower() for name in place.names()), "they are called so", place.names())
    check("%d found" % len(place.names()) in words(place.side), "how many", words(place.side))
    place.window.key("Escape")
    wait_for("all again", lambda: place.names() == everything)
    return everything


def edit(place, name, other):
    """A name that is taken is refused while it is typed; a new one is kept, and undone."""
    place.choose(name)
    place.press("Edit…")
    entry = place.middle.find("text", "Name")
    entry.text = other.upper()
    place.word("^There is a paint called %s already" % other)
    save = place.middle.find("push button", "Keep the changes")
    check(not save.has("SENSITIVE"), "it cannot be kept")
    entry.text = "Another Name"
    wait_for("it may be kept", lambda: save.has("SENSITIVE"))
    save.press()
    wait_for("the new name", lambda: place.title() == "Another Name")
    check(name not in place.names(), "the old one is gone", place.names())
    place.window.key("ctrl+z")
    wait_for("the old name", lambda: name in place.names() and "Another Name" not in place.names())


def add(place, name):
    """A colour that no surface can have is refused with a word; a possible one is added."""
    place.side.find("push button", "Add a paint").press()
    add_it = place.middle.find("push button", "Add it")
    place.middle.find("text", "Name").text = name
    for label, number in (("L*", "50"), ("a*", "150"), ("b*", "0")):
        place.middle.find("text", label).text = number
    wait_for("all that it needs", lambda: add_it.has("SENSITIVE"))
    add_it.press()
    place.word("none that a surface can have")
    place.middle.find("text", "a*").text = "20"
    place.press("Add it")
    wait_for("its page", lambda: place.title() == name)
    place.word(r"^L\* 50 a 20 b 0$")


def run_out(place, name):
    place.choose(name)
    place.press("out")
    wait_for("it is out", lambda: "stock out" in place.row(name).description)
    saved = place.window.save_paints()
    check(saved[name]["stock"] == "out", "it is out in the file", saved[name])
    return saved


def try_mix(place, first, second):
    """Parts put together; its error and its coats read."""
    place.side.find("push button", "Try a mix…").press()
    place.word("^Choose a paint in the list")
    for name, times in ((first, 2), (second, 1)):
        place.row(name).click()
        button = place.middle.find("push button", "Add a part of " + name)
        for n in range(1, times + 1):
            button.press()
            wait_for("%d of %s" % (n, name), lambda: place.middle.find_all("list item", "%d %s" % (n, name)))
    parts = [p.name for p in place.middle.find("list", "Parts of the mix").find_all("list item")]
    check(parts == ["2 " + first, "1 " + second], "the parts", parts)
    error = int(re.search(r"within about dE (\d+)", place.word("; one coat hides")).group(1))
    check(2 <= error <= 25, "an error that says something", error)
    place.press("One part less of " + first)
    wait_for("a part less", lambda: place.middle.find_all("list item", "1 " + first))
    for ground, falls in (("on white", True), ("on black", False)):
        told = place.middle.find("image", ground).description
        found = re.search(r"bare L\* (\d+); one to five coats L\* (\d+), \d+, \d+, \d+, (\d+)", told)
        bare, one, five = map(int, found.groups())
        check((bare >= one >= five) if falls else (bare <= one <= five), "coats lead away from the ground", told)


def teach(place, before):
    """A mix that was painted and photographed: two clicks, and the paints are refined."""
    place.press("Add as test swatch")
    place.middle.find("image", "Picture to measure a spot of").click()
    swatches = place.middle.find("list", "Test swatches")
    wait_for("what the fit says of it", lambda: re.search(
        r"off by dE|disagrees by dE", swatches.find_all("list item")[0].description))
    place.word("^The swatches are predicted to dE")
    check(place.window.save_paints() != before, "the paints are refined")


def main():
    with Window(None, paints=N_PAINTS) as window:
        window.focus()
        window.find("label", "No surface yet. Drag one line across a surface.")
        place = Place(window)
        everything = find(place)
        edit(place, everything[1], everything[2])
        add(place, "Test Rose")
        saved = run_out(place, everything[3])
        try_mix(place, everything[1], everything[2])
        teach(place, saved)
        check(not window.complaints(), "no complaint", *window.complaints())
    print("the Paints place: done")


if __name__ == "__main__":
    main()
