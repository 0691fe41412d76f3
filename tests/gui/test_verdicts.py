#!/usr/bin/python3
"""test_verdicts.py: every verdict of the Picture place can be read in grey print and by a screen reader

Walks all surfaces of the demo plan and stairs that are too close, too wide and doubtful; looks at the words that
assistive technology is given, and at the pixels of the verdicts, which must be grey. Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re

from PIL import Image

from window import DATA, Window, check, wait_for

PLAN = os.path.join(DATA, "demo", "lighthouse.tonestair")
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


def check_summary(window, name, verdicts):
    row = window.find("list item", name)
    strip = next(n for n in row.walk() if n.name == "Stair")
    told = count_words(strip.description)
    for word in ("too close", "too wide"):
        check(told.get(word, 0) == verdicts.count(word), "the list counts what is %s in %s" % (word, name),
              strip.description, verdicts)
    check(re.search(r"range \d+: (wide enough|too narrow)",
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


def surfaces(window):
    """All of the demo's."""
    seen = set()
    names = [n.name for n in window.find("list", "Surfaces").find_all("list item")]
    check(len(names) >= 5, "surfaces in the list", names)
    for name in names:
        if name == names[0]:
            window.find("list item", name).click()
        else:
            window.key("Down")  # the last ones lie under the edge of the list
        wait_for("its stair", lambda: window.find_all("list", "Stair of " + name))
        window.nodes.clear()
        verdicts = check_words(window, name)
        check_summary(window, name, verdicts)
        seen |= set(verdicts)
    return seen


def extremes(window):
    seen = set()
    for _ in range(10):
        window.key("Up")
    wait_for("the coat", lambda: window.find_all("list", "Stair of Coat"))
    window.nodes.clear()
    for key, times, what in (("Insert", 5, "12 steps"), ("Delete", 9, "3 steps")):
        window.steps()[1].node.click()
        for _ in range(times):
            before = len(window.steps())
            window.key(key)
            wait_for("another stair", lambda: len(window.steps()) != before)
        verdicts = check_words(window, "Coat in " + what)
        check_summary(window, "Coat", verdicts)
        check_grey(window)
        seen |= set(verdicts)
    return seen


def looks(window):
    """Values: other lights, other eyes and what touches, each a line of words with a shape."""
    window.find("push button", "Values").click()
    for light in LIGHTS:
        label = window.find("label", light)
        words = [n.name for n in label.parent.find_all("label") if n.name != light]
        check(len(words) == 1 and re.fullmatch(r"as in daylight|\d+ merges?", words[0]), "a verdict " + light, words)
    window.find("push button", re.compile("^What touches")).click()
    window.find("check box", "Leather").click()
    window.key("Escape")
    label = window.find("label", "Coat and Leather")
    words = [n.name for n in label.parent.find_all("label") if n.name != label.name]
    check(re.fullmatch(r"(reads|may read|too close), \d+ L\* apart", words[0]), "surfaces that touch, in words", words)
    window.find("push button", "Colour").click()


def main():
    with Window(PLAN) as window:
        window.find("list item", re.compile("^Step 1$"), limit=60)
        settled(window)
        seen = surfaces(window) | extremes(window)
        check(seen == WORDS, "all verdicts were met", seen)
        check("falls from" in window.curve().description, "the curve in words", window.curve().description)
        looks(window)
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
