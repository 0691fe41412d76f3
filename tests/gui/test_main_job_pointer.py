#!/usr/bin/python3
"""test_main_job_pointer.py: from a picture to the printed card, with a pointer alone

Only names and paths are typed. Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
from window import LIT, SHADOW, Window, check, wait_for


def drag_run(window):
    """One drag, and the whole chain is there."""
    window.image().drag(*window.on_picture(*LIT), *window.on_picture(*SHADOW))
    steps = window.mixed(7)
    lightness = [s.lightness for s in steps]
    check(lightness == sorted(lightness, reverse=True) and lightness[0] > lightness[-1] + 10,
          "steps from light to dark", lightness)
    for i, step in enumerate(steps):
        check(all(int(parts) > 0 for parts, _ in step.recipe), "whole parts", step.words)
        check({int(to) for _, to in step.verdicts} == {i, i + 2} & set(range(1, 8)),
              "a verdict against each neighbour", step.words)
    check("falls from" in window.curve().description, "the curve in words", window.curve().description)
    lit, shadow = window.run()
    check(max(abs(a - b) for a, b in zip(lit + shadow, LIT + SHADOW)) <= 4,
          "the run lies where it was drawn", lit, shadow)


def name_surface(window):
    """The new surface's name waits to be typed over; later its menu renames it."""
    entry = window.find("text", "Name of the surface")
    wait_for("the keyboard in the name", lambda: entry.has("FOCUSED"))
    window.type("Cloak")
    window.key("Return")
    row = window.find("list item", "Cloak")
    row.click(button=3)
    window.find("menu item", "Rename").click()
    wait_for("the keyboard in the name", lambda: entry.has("FOCUSED"))
    window.type("Coat")
    window.key("Return")
    window.find("list item", "Coat")
    window.find("list", "Stair of Coat")


def drag_end(window):
    """The end follows the hand, and all downstream follows it."""
    before = [s.words for s in window.mixed(7)]
    wanted = (240, 990)
    window.image().drag(*window.on_picture(*window.run()[1]), *window.on_picture(*wanted))
    wait_for("the end to be moved", lambda: window.run()[1] != SHADOW)
    _, shadow = window.run()
    check(max(abs(a - b) for a, b in zip(shadow, wanted)) <= 6, "where the end was let go", shadow)
    wait_for("other steps", lambda: [s.words for s in window.mixed(7)] != before)


def choose_steps(window):
    """Five steps, by the drop-down."""
    window.choose("Number of steps", "5 steps")
    window.mixed(5)
    wait_for("the choice", lambda: window.choice("Number of steps") == "5 steps")


def find_on_curve(window, index):
    """Where a step lies on the curve: clicks along its lightness until it is the one selected."""
    curve = window.curve()
    _, _, width, height = curve.extents()
    line = 14  # of the axes' letters, about; a step is taken hold of from 11 pixels off
    top, bottom = line / 2 + 1, height - line - 8
    steps = window.mixed(5)
    for most in (60, 80, 100):  # what the axis ends with
        y = bottom - (bottom - top) * steps[index].lightness / most
        for x in range(30, int(width) - 30, 9):
            curve.click(x, y)
            if steps[index].node.has("SELECTED"):
                return x, y
    raise AssertionError("step %d is not on the curve" % (index + 1))


def drag_step(window):
    """A step dragged upwards on the curve is wanted lighter, and then lies where a hand put it."""
    window.mixed(5)[4].node.click()
    x, y = find_on_curve(window, 2)
    before = window.steps()[2].lightness
    window.curve().drag(x, y, x, y - 12)
    wait_for("a lighter step", lambda: window.steps()[2].lightness > before)
    wait_for("the word for it", lambda: window.choice("Spacing of steps") == "placed by hand")
    after = [s.lightness for s in window.mixed(5)]

    window.button("Undo").click()
    wait_for("undone", lambda: window.steps()[2].lightness == before)
    window.button("Redo").click()
    wait_for("redone", lambda: [s.lightness for s in window.steps()] == after)
    window.mixed(5)


def save_card(window):
    window.go_to("Mixing card")
    window.find("image", "Page 1 of the mixing card")
    window.button("Save as PDF…").click()
    window.answer_chooser("Save the Mixing Card", window.card, "Save")
    window.go_to("Picture")


def save_plan(window):
    window.find("label", "not saved")
    window.button("Menu").click()
    window.find("menu item", "Save").click()
    window.answer_chooser("Save the Plan", window.plan, "Save")
    window.find("label", "saved")


def main():
    with Window(None) as w:
        w.focus()
        w.find("label", "No surface yet. Drag one line across a surface.")
        drag_run(w)
        name_surface(w)
        drag_end(w)
        choose_steps(w)
        drag_step(w)
        save_card(w)
        save_plan(w)
        w.button("Close").click()
        code = w.process.wait(20)
        w.check_files(5)
        w.check_quiet(code)
        w.print_stall()
    print("the main job by pointer: done")


if __name__ == "__main__":
    main()
