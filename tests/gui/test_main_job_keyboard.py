#!/usr/bin/python3
"""test_main_job_keyboard.py: from a picture to the printed card, with a keyboard alone

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import re

from window import LIT, PICTURE, SHADOW, Window, check, wait_for


def move_cross(window, before, after):
    """By tens with Shift, then by single pixels."""
    for wanted, there, less, more in ((after[0], before[0], "Left", "Right"), (after[1], before[1], "Up", "Down")):
        key = more if wanted > there else less
        tens, ones = divmod(abs(wanted - there), 10)
        window.key(*["shift+" + key] * tens, *[key] * ones)


def cross(window):
    found = re.search(r"Cross at (\d+), (\d+)", window.image().description)
    return found and tuple(map(int, found.groups()))


def open_picture(window):
    window.key("ctrl+o")
    window.answer_chooser("Open a Picture or a Plan", window.picture)
    window.find("label", "No surface yet. Drag one line across a surface.")


def focus_area(window, node, key="F6", limit=8):
    """F6 until the keyboard is in that area."""
    for _ in range(limit):
        if any(n.seen.has("FOCUSED") for n in node.walk()):
            return
        window.key(key)
        wait_for("the keyboard somewhere", lambda: window.focused() is not None)
    raise AssertionError("F6 does not come to %s" % node.name)


def draw_run(window):
    focus_area(window, window.image())
    window.key("r")
    start = wait_for("the cross", lambda: cross(window))
    check(max(abs(start[0] - PICTURE[0] // 2), abs(start[1] - PICTURE[1] // 2)) <= 1, "in the middle", start)
    move_cross(window, start, LIT)
    wait_for("the cross at the lit end", lambda: cross(window) == LIT)
    window.key("Return")
    move_cross(window, LIT, SHADOW)
    wait_for("the cross at the shadow end", lambda: cross(window) == SHADOW)
    window.key("Return")
    window.mixed(7)
    check(window.run() == (LIT, SHADOW), "a run to the pixel", window.run())


def name_surface(window):
    entry = window.find("text", "Name of the surface")
    wait_for("the keyboard in the name", lambda: entry.has("FOCUSED"))
    window.type("Coat")
    window.key("Return")
    window.find("list", "Stair of Coat")


def move_spot(window):
    """Tab to the first end; the arrows move it; what is focused is said."""
    focus_area(window, window.image(), "shift+F6")
    window.key("Tab")
    wait_for("the first spot", lambda: "Spot 1 of" in window.image().description)
    before = [s.words for s in window.mixed(7)]
    window.key("shift+Right", "Down")
    wait_for("the end to be moved", lambda: window.run()[0] == (LIT[0] + 10, LIT[1] + 1))
    wait_for("other steps", lambda: [s.words for s in window.mixed(7)] != before)
    window.key("Tab")
    wait_for("the second spot", lambda: "Spot 2 of" in window.image().description)


def choose_steps(window):
    """The fourth row of the drop-down: five steps."""
    choice = window.known("combo box", "Number of steps")
    focus_area(window, choice)
    window.key("space")
    wait_for("the keyboard in the rows", lambda: any(n.seen.has("FOCUSED") for n in choice.find_all("list item")))
    window.key("Home", "Down", "Down", "Down", "Return")
    window.mixed(5)
    wait_for("the choice", lambda: window.choice("Number of steps") == "5 steps")


def move_step(window):
    """The arrows choose a step on the curve and make it lighter; undo and redo."""
    focus_area(window, window.curve(), "shift+F6")
    window.key("Left", "Left", "Left", "Left", "Left", "Right")
    wait_for("the second step", lambda: window.steps()[1].node.has("SELECTED"))
    before = window.steps()[1].lightness
    window.key("Up", "Up")
    wait_for("a lighter step", lambda: window.steps()[1].lightness == before + 2)
    wait_for("the word for it", lambda: window.choice("Spacing of steps") == "placed by hand")
    window.key("ctrl+z")
    wait_for("undone", lambda: window.steps()[1].lightness == before + 1)
    window.key("ctrl+shift+z")
    wait_for("redone", lambda: window.steps()[1].lightness == before + 2)


def walk_stair(window):
    """Along the stair; a lock; the other mixes and back."""
    focus_area(window, window.stair())
    window.key("Home", "Right")
    wait_for("the second step", lambda: window.steps()[1].node.has("FOCUSED"))
    window.mixed(5)
    window.key("l")
    wait_for("the lock", lambda: "locked" in window.steps()[1].words)
    window.key("l")
    wait_for("no lock", lambda: "locked" not in window.steps()[1].words)


def visit_places(window):
    places = (("alt+3", "Brief"), ("alt+4", "Finish check"), ("alt+1", "Picture"), ("alt+2", "Paints"),
              ("alt+5", "Mixing card"))
    buttons = [window.known("push button", name) for _, name in places]
    for (key, name), button in zip(places, buttons):
        window.key(key)
        wait_for(name, lambda: button.has("PRESSED"))


def save_card(window):
    """Print asks; Esc leaves. The card as a file, by Tab and Return."""
    window.key("alt+5")
    window.find("image", "Page 1 of the mixing card")
    window.key("ctrl+p")
    window.find("dialog", "Print")
    window.focus("Print")
    window.key("Escape")
    wait_for("the dialog to go", lambda: not window.find_all("dialog", "Print"))
    window.focus()
    save = window.known("push button", "Save as PDF…")

    def tab():
        window.key("Tab")
        return save.has("FOCUSED")
    wait_for("Tab to come to the button", tab)
    window.key("Return")
    window.answer_chooser("Save the Mixing Card", window.card)


def save_plan(window):
    window.key("ctrl+s")
    window.answer_chooser("Save the Plan", window.plan)
    window.find("label", "saved")


def main():
    with Window() as w:
        w.focus()
        w.find("label", "Drop a picture here")
        open_picture(w)
        draw_run(w)
        name_surface(w)
        move_spot(w)
        choose_steps(w)
        move_step(w)
        walk_stair(w)
        save_card(w)
        save_plan(w)
        visit_places(w)
        code = w.close()
        w.check_files(5)
        w.check_quiet(code)
        w.print_stall()
    print("the main job by keyboard: done")


if __name__ == "__main__":
    main()
