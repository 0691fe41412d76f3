#!/usr/bin/python3
"""test_verdicts.py: every verdict of the Picture place can be read in grey print and by a screen reader

Walks all surfaces of the demo plan and stairs that are too close, too wide and doubtful; looks at the words that
assistive technology is given, and at the pixels of the verdicts, which must be grey. Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import os
import re
import tempfile

from PIL import Image

from window import DATA, Window, check, wait_for

PLAN = os.path.join(DATA, "demo", "lighthouse.tonestair")
N_PAINTS = 14
WORDS = {"reads", "may read", "too close", "too wide"}
LIGHTS = ["under a white LED", "under a tungsten lamp", "to eyes without red cones", "to eyes without green cones",
          "to eyes without blue cones"]


def settled(window):
    wait_for("the mixes", lambda: window.steps() and all(s.error for s in window.steps()) and not window.is_busy(),
             limit=90)
    return window.steps()


def check_words(window, name):
    """Each pair of neighbours says the same from both sides; returns the verdicts in order."""
    steps = settled(window)
    found = []
    for i, step in enumerate(steps):
        verdicts = {int(to): word for word, to in step.verdicts}
        check(set(verdicts) == {i, i + 2} & set(range(1, len(steps) + 1)), "a verdict to each neighbour of " + name,
              step.words)
        check(set(verdicts.values()) <= WORDS, "known words", step.words)
        check(re.search(r"L\* \d+\. value \d+\.\d", step.words), "lightness and value", step.words)
        if i > 0:
            check(verdicts[i] == found[-1], "both say the same of %d and %d" % (i, i + 1), step.words)
        if i + 1 < len(steps):
            found.append(verdicts[i + 2])
    return found


def count_words(words):
    """What the list says of a stair: "1 too close, 2 may read", or "all read"."""
    return {word: int(n) for n, word in re.findall(r"(\d+) (too close|too wide|may read)", words)}


def check_summary(window, row, verdicts):
    strip = next(n for n in row.walk(hidden=True) if n.name == "Stair")
    told = count_words(strip.description)
    for word in ("too close", "too wide"):
        check(told.get(word, 0) == verdicts.count(word), "the list counts what is %s in %s" % (word, row.name),
              strip.description, verdicts)
    check(re.search(r"range \d+: (wide enough|may be wide enough|too narrow)",
                    " ".join(n.name for n in window.stair_bar().find_all("label"))), "the range in words")


def check_grey(window):
    """Verdicts are drawn without colour: what a grey print shows is all there is."""
    path = os.path.join(window.folder, "shot.png")
    window.shoot(path, whole_screen=True)
    left, _, width, _ = window.stair().box()
    x, y, _, _ = window.steps()[0].node.box()
    top = y + 23 + 2 * (7 + 36) + 2  # caption, and the chips with the field about them
    rows = Image.open(path).convert("RGB").crop((round(x), round(top), round(left + width), round(top + 24)))
    pixels = list(rows.getdata())
    check(len(set(pixels)) > 10, "something is drawn there", rows.size)
    coloured = [p for p in pixels if max(p) - min(p) > 8]
    check(len(coloured) < len(pixels) * 0.001, "verdicts without colour", len(coloured), len(pixels), coloured[:5])


def surfaces(window, rows):
    """All of the demo's, by the keyboard: the last ones lie under the edge of the list."""
    seen = set()
    check(len(rows) >= 5, "surfaces in the list", len(rows))
    rows[0].click()
    for i, row in enumerate(rows):
        if i > 0:
            window.key("Down")
        wait_for("its stair", lambda: window.stair().name == "Stair of " + row.name)
        verdicts = check_words(window, row.name)
        check_summary(window, row, verdicts)
        seen |= set(verdicts)
    window.key(*["Up"] * len(rows))
    wait_for("the first stair", lambda: window.stair().name == "Stair of " + rows[0].name)
    return seen


def extremes(window, row):
    seen = set()
    for key, times, what in (("Insert", 5, "12 steps"), ("Delete", 9, "3 steps")):
        window.steps()[1].node.click()
        for _ in range(times):
            before = len(window.steps())
            window.key(key)
            wait_for("another stair", lambda: len(window.steps()) != before)
        verdicts = check_words(window, what)
        check_summary(window, row, verdicts)
        check_grey(window)
        seen |= set(verdicts)
    return seen


def looks(window):
    """Values: other lights, other eyes and what touches, each a line of words with a shape."""
    window.find("push button", "Values").click()
    panel = window.find("label", LIGHTS[0]).parent.parent.parent
    for light in LIGHTS:
        words = [n.name for n in panel.find("label", light).parent.find_all("label") if n.name != light]
        check(len(words) == 1 and re.fullmatch(r"as in daylight|\d+ merges?", words[0]), "a verdict " + light, words)
    panel.find("push button", re.compile("^What touches")).click()
    window.find("check box", "Leather").click()
    window.key("Escape")
    label = panel.find("label", "Coat and Leather")
    words = [n.name for n in label.parent.find_all("label") if n.name != label.name]
    check(re.fullmatch(r"(reads|may read|too close), \d+ L\* apart", words[0]), "surfaces that touch, in words", words)


def comes_first(window, first, then):
    """Whether one heading stands above the other."""
    tops = [window.find("label", name).box()[1] for name in (first, then)]
    return tops[0] < tops[1]


def arms_length(window):
    """What belongs to the picture as it is shown stands first, in sight."""
    check(comes_first(window, "Where surfaces touch", "At arm’s length") and window.find_all("label", "Lightness alone"),
          "lightness first beside values")
    window.find("push button", "Arm’s length").click()
    wait_for("distance first", lambda: comes_first(window, "Distance, cm", "Where surfaces touch"))
    check(not window.find_all("label", "Lightness alone"), "a picture in colour is not lightness alone")
    window.find("push button", "Values").click()
    wait_for("distance last", lambda: comes_first(window, "Where surfaces touch", "Distance, cm"))


def reduced_plan(folder):
    """The demo's plan with a few of its paints, so that mixes are there at once."""
    with open(PLAN, encoding="utf-8") as file:
        plan = json.load(file)
    table = plan["paints"]["table"]
    head = next(i for i, line in enumerate(table) if not line.startswith("#")) + 1
    plan["paints"]["table"] = table[:head + N_PAINTS]
    for surface in plan["surfaces"]:
        surface.pop("locked", None)
    for picture in plan["pictures"]:
        picture["path"] = os.path.join(os.path.dirname(PLAN), picture["path"])
    path = os.path.join(folder, "lighthouse.tonestair")
    with open(path, "w", encoding="utf-8") as file:
        json.dump(plan, file)
    return path


def main():
    with tempfile.TemporaryDirectory() as folder, Window(reduced_plan(folder)) as window:
        window.find("list item", re.compile("^Step 1$"), limit=60)
        settled(window)
        rows = window.find("list", "Surfaces").find_all("list item")
        seen = surfaces(window, rows) | extremes(window, rows[0])
        check(seen == WORDS, "all verdicts were met", seen)
        check("falls from" in window.curve().description, "the curve in words", window.curve().description)
        looks(window)
        arms_length(window)
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
