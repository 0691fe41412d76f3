#!/usr/bin/python3
"""test_names.py: every control of the window has a name, every drawing a description

The whole window is walked as assistive technology finds it, in every place of it. Run under
tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import re

from gi.repository import GLib
from window import LIT, SHADOW, Window, check, wait_for

CONTROLS = {"push button", "toggle button", "check box", "radio button", "combo box", "text", "entry",
            "spin button", "slider", "list", "list item", "tree", "tree table", "table", "image", "menu item",
            "check menu item", "radio menu item", "link", "page tab", "level bar", "progress bar",
            "color chooser"}
# Whose name may be what stands in them.
BY_CONTENT = {"push button", "toggle button", "check box", "radio button", "list item", "menu item",
              "check menu item", "radio menu item", "link", "page tab"}
# Drawings of our own whose state is told by their description.
DRAWINGS = {"image": re.compile("^(Reference|Finished figure|Stair$|Wanted and mixed|What these paints can mix"
                                "|Lightness against chroma|Reflectance of)"),
            "list": re.compile("^Stair of"),
            "list item": re.compile(r"^Step \d+$"),
            "table": re.compile("^Lightness curve")}


def has_words(node):
    return any(n.seen.role == "label" and n.seen.name for n in node.walk(hidden=True))


def fault(node, inside):
    """What is wrong with a control's name, or None."""
    role, raw, name = node.seen.role, node.seen.raw_name, node.seen.name
    if role not in CONTROLS:
        return None
    if role == "push button" and not node.seen.has("FOCUSABLE"):
        return None  # a menu button: the control is the button within it
    if role in ("list", "image") and inside & {"combo box", "push button", "list item", "text", "menu item"}:
        return None  # a drop-down's rows; what stands on a button
    if re.match(r"_|.*\w_\w", name):
        return "an underscore in its name"
    if re.fullmatch(r"(.+) \1", name):
        return "a name said twice"
    if not name and not (role in BY_CONTENT and has_words(node)):
        return "no name (%s)" % raw
    drawn = DRAWINGS.get(role)
    if drawn is not None and drawn.match(name) and not node.description:
        return "no description"
    return None


def audit(root, place):
    """The faults below a node, hidden or not, and the names of the controls that were looked at."""
    faults, names = set(), set()
    # The shortcuts are GTK's own; their buttons have no names in 4.8.
    for node in root.walk(hidden=True, leave_out=lambda seen: seen.raw_name == "GtkShortcutsWindow"):
        if node.seen.role not in CONTROLS:
            continue
        names.add(node.seen.name)
        try:
            wrong = fault(node, {seen.role for seen in node.above})
        except GLib.Error:  # gone meanwhile
            continue
        if wrong:
            path = ["%s %s" % (seen.role, seen.raw_name) for seen in node.above[-3:]] + [node.seen.role]
            faults.add("%s: %s: %s" % (place, wrong, " / ".join(path)))
    return faults, names


def look_into(window, button, role, inside):
    """What is wrong in the popover of that button, and what was seen in it."""
    window.button(button).click()
    node = window.find(role, inside)
    while node.parent.raw_name != "GtkPopoverContent":
        node = node.parent
    found = audit(node, button)
    window.key("Escape")
    return found


def look_at_shortcuts(window):
    window.key("ctrl+question")
    shortcuts = window.find("frame", "Keyboard shortcuts")
    words = {n.seen.name for n in shortcuts.walk(hidden=True) if n.seen.role == "label"}
    check({"Undo", "Next area, previous area", "Lock the mix"} <= words, "the keys are told", words)
    window.focus("Keyboard shortcuts")
    window.key("Escape")
    window.focus()


def look_at_correction(window):
    """The correction's place with a chart on the picture."""
    window.button("Uncorrected photograph").click()
    window.find("list item", "24-patch chart").click()
    window.find("push button", re.compile("^corner 4 of 4, "))
    found = audit(window.root, "correction")
    window.key("Escape")
    window.button("Uncorrected photograph")
    return found


def with_plan():
    with Window(None, paints=6) as w:
        w.focus()
        w.find("label", "No surface yet. Drag one line across a surface.")
        buttons = [w.known("push button", name) for name in ("Brief", "Finish check", "Mixing card", "Paints")]
        picture = w.known("push button", "Picture")
        w.image().drag(*w.on_picture(*LIT), *w.on_picture(*SHADOW))
        w.mixed(7)
        w.key("Escape")
        faults, seen = set(), set()
        for what in (("Menu", "menu item", "Keyboard shortcuts"),
                     ("Range and light…", None, "Colour of the light")):
            found, names = look_into(w, *what)
            faults |= found
            seen |= names
        found, names = look_at_correction(w)
        faults |= found
        seen |= names
        w.stair().children[0].click(times=2)
        w.find("list", "Other mixes")
        look_at_shortcuts(w)
        for button in buttons:
            button.click()
            wait_for("the place", lambda: button.has("PRESSED"))
            if button.name == "Mixing card":
                w.find("image", "Page 1 of the mixing card")  # a thread draws it
        picture.click()
        found, names = audit(w.root, "with a plan")
        faults |= found
        seen |= names
        for name in ("Step 7", "As shot", "Clipping", "L* of the White card", "Make of the chart",
                     "Colour of the light", "Other mixes", "Order of the paints", "What these paints can mix",
                     "Lines of the brief", "Page 1 of the mixing card", "About Tonestair", "Close"):
            check(name in seen, "the walk has seen %s" % name, sorted(seen))
        check(not w.complaints(), "no complaint", *w.complaints())
    return faults


def empty():
    with Window(paints=6) as w:
        w.find("label", "Drop a picture here")
        faults, seen = audit(w.root, "empty")
        check("Open the demo" in seen, "the walk has seen the empty window", sorted(seen))
        check(not w.complaints(), "no complaint", *w.complaints())
    return faults


def main():
    faults = with_plan() | empty()
    check(not faults, "%d faults" % len(faults), *sorted(faults))
    print("every control has a name")


if __name__ == "__main__":
    main()
