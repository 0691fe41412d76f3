#!/usr/bin/python3
"""test_swatch.py: a step's colour laid on the picture and compared with it; colours and recipes copied and dragged out

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import math
import os
import re
import time

from PIL import Image

from window import LIT, SHADOW, Window, check, wait_for, xdo

SCARF = (660, 560)


def ciede2000(one, other):
    """ISO/CIE 11664-6, written down from Sharma, Wu and Dalal 2005."""
    (L1, a1, b1), (L2, a2, b2) = one, other
    mean = (math.hypot(a1, b1) + math.hypot(a2, b2)) / 2
    g = 0.5 * (1 - math.sqrt(mean ** 7 / (mean ** 7 + 25 ** 7)))
    a1, a2 = a1 * (1 + g), a2 * (1 + g)
    c1, c2 = math.hypot(a1, b1), math.hypot(a2, b2)
    h1, h2 = (math.degrees(math.atan2(b, a)) % 360 for a, b in ((a1, b1), (a2, b2)))
    dh = 0 if c1 * c2 == 0 else (h2 - h1 + 180) % 360 - 180
    dL, dC, dH = L2 - L1, c2 - c1, 2 * math.sqrt(c1 * c2) * math.sin(math.radians(dh / 2))
    L, c = (L1 + L2) / 2, (c1 + c2) / 2
    h = (h1 + dh / 2) % 360 if c1 * c2 else h1 + h2
    t = (1 - 0.17 * math.cos(math.radians(h - 30)) + 0.24 * math.cos(math.radians(2 * h))
         + 0.32 * math.cos(math.radians(3 * h + 6)) - 0.2 * math.cos(math.radians(4 * h - 63)))
    turn = 60 * math.exp(-((h - 275) / 25) ** 2)
    rc = 2 * math.sqrt(c ** 7 / (c ** 7 + 25 ** 7))
    sl = 1 + 0.015 * (L - 50) ** 2 / math.sqrt(20 + (L - 50) ** 2)
    x, y, z = dL / sl, dC / (1 + 0.045 * c), dH / (1 + 0.015 * c * t)
    return math.sqrt(x * x + y * y + z * z - math.sin(math.radians(turn)) * rc * y * z)


class Told:
    """What the swatch says."""

    def __init__(self, node):
        words = node.description.replace("−", "-")
        labs = re.findall(r"L\* (-?\d+) a (-?\d+) b (-?\d+)", words)
        self.words = words
        self.place = tuple(map(int, re.match(r"At (\d+), (\d+):", words).groups()))
        self.laid, self.picture = (tuple(map(int, lab)) for lab in labs)
        self.kind = re.search(r": (mix|wanted) (\d+):", words).groups()
        found = re.search(r"dE (\d+) from", words)
        self.far = int(found.group(1)) if found else None
        self.unsure = int(re.search(r"give or take (?:dE )?(\d+)", words).group(1))


def swatch(window):
    found = [n for n in window.image().children if n.name == "Comparison swatch"]
    return found[0] if found else None


def told(window):
    return Told(swatch(window))


def check_difference(window):
    """As far as the told colours are, which are rounded; or no farther than is sure."""
    now = told(window)
    far = ciede2000(now.laid, now.picture)
    if now.far is None:
        check(far <= now.unsure + 1.5, "as the picture", now.words, far)
    else:
        check(abs(far - now.far) <= 1.5 and now.far >= now.unsure - 1, "CIEDE2000 between them", now.words, far)
    for word, sign in (("lighter", 1), ("darker", -1)):
        if word in now.words:
            check((now.laid[0] - now.picture[0]) * sign > 0, word, now.words)
    return now


def by_keys(window):
    window.steps()[3].node.click()
    window.image().click(*window.on_picture(1560, 60))
    xdo("mousemove", *window.image().point(*window.on_picture(*SCARF)))
    window.key("Escape", "c")
    node = wait_for("the swatch", lambda: swatch(window))
    wait_for("its keyboard", lambda: node.has("FOCUSED"))
    start = told(window).place
    check(all(abs(a - b) <= 2 for a, b in zip(start, SCARF)), "where the pointer is", start)
    window.key("Right", "Right", "shift+Down", "Up")
    wait_for("its way", lambda: told(window).place == (start[0] + 2, start[1] + 9))
    check(told(window).kind == ("mix", "4"), "the step that is chosen", told(window).words)
    check_difference(window)
    window.key("shift+c")
    wait_for("the wanted colour", lambda: told(window).kind == ("wanted", "4"))
    check_difference(window)
    window.key("shift+c")


def follows(window):
    """Another step, and the same in its chip."""
    steps = window.steps()
    before = check_difference(window)
    steps[0].node.click()
    wait_for("the first step", lambda: told(window).kind == ("mix", "1"))
    now = check_difference(window)
    check(now.laid[0] > before.laid[0] and now.picture == before.picture, "a lighter colour on the same", now.words)
    path = os.path.join(window.folder, "shot.png")
    window.shoot(path, whole_screen=True)
    picture = Image.open(path).convert("RGB")
    _, _, w, h = swatch(window).extents()
    laid = picture.getpixel(swatch(window).point(w / 2, h / 2))
    left, top, width, _ = steps[0].node.box()
    chip = picture.getpixel((round(left + width / 2), round(top + 23 + 7 + 36 + 18)))
    check(laid == chip, "the colour of its chip", laid, chip)


def by_pointer(window):
    before = told(window).place
    _, _, w, h = swatch(window).extents()
    swatch(window).drag(w / 2 + 5, h / 2 - 4, w / 2 + 105, h / 2 + 46)
    zoom = window.on_picture(1000, 0)[0] - window.on_picture(0, 0)[0]
    wait_for("it to be dragged", lambda: told(window).place != before)
    moved = [(a - b) * zoom / 1000 for a, b in zip(told(window).place, before)]
    check(abs(moved[0] - 100) <= 1.5 and abs(moved[1] - 50) <= 1.5, "as far as the hand", moved)
    check(len(window.find_all("list item", re.compile("^Step"))) == 7, "no run was drawn")
    check_difference(window)
    window.key("plus", "plus")
    check(told(window).place == told(window).place, "it lies where it lay")
    window.key("0", "Delete")
    wait_for("it to go", lambda: swatch(window) is None)
    wait_for("the picture's keyboard", lambda: window.image().has("FOCUSED"))
    window.key("c")
    wait_for("another", lambda: swatch(window))
    window.key("Escape", "c")
    wait_for("it to go by its key", lambda: swatch(window) is None)


def dragged_out(window):
    """A chip on the picture is a swatch; a recipe is text wherever text can be dropped."""
    node = window.steps()[2].node
    left, top, width, _ = node.box()
    for y, kind in ((23 + 7 + 12, "wanted"), (23 + 7 + 36 + 20, "mix")):
        onto(window, (left + width / 2, top + y), window.image().point(*window.on_picture(300, 700)))
        wait_for("the %s colour on the picture" % kind, lambda: swatch(window) and told(window).kind == (kind, "3"))
        check(all(abs(a - b) <= 4 for a, b in zip(told(window).place, (300, 700))), "where it was dropped",
              told(window).place)
        window.key("Delete")
        wait_for("it to go", lambda: swatch(window) is None)


def onto(window, start, end):
    """At a hand's pace: what lies under the pointer has to answer before it is let go."""
    pace = 0.03 * float(os.environ.get("TS_TEST_PATIENCE", "1"))
    xdo("mousemove", round(start[0]), round(start[1]))
    xdo("mousedown", 1)
    for i in range(1, 11):
        xdo("mousemove", *(round(a + (b - a) * i / 10) for a, b in zip(start, end)))
        time.sleep(pace)
    for i in range(5):
        xdo("mousemove", round(end[0]) + i % 2, round(end[1]))
        time.sleep(4 * pace)
    xdo("mouseup", 1)


def text_of(window, *keys):
    """What is copied, as an entry shows it."""
    window.key(*keys)
    window.key("ctrl+f")
    entry = wait_for("the search among the paints", lambda: next(
        (n for n in window.find_all("entry", re.compile("^Find among")) if n.has("FOCUSED")), None))
    window.key("ctrl+a", "ctrl+v")
    copied = wait_for("the text", lambda: entry.text)
    window.key("ctrl+a", "BackSpace", "alt+1")
    return copied


def copied(window):
    step = window.steps()[2]
    step.node.click()
    window.image().click(*window.on_picture(1560, 60))
    recipe = text_of(window, "ctrl+c")
    check(recipe == " + ".join("%s %s" % part for part in step.recipe), "the recipe", recipe, step.words)
    wait_for("the picture", lambda: window.known("push button", "Picture").has("PRESSED"))
    window.image().click(*window.on_picture(1560, 60))
    colour = text_of(window, "ctrl+shift+c")
    check(re.fullmatch(r"L\* \d+ a −?\d+ b −?\d+, (sRGB #[0-9A-F]{6}|outside sRGB)", colour), "the colour", colour)


def main():
    with Window(None, paints=8) as window:
        window.image().drag(*window.on_picture(*LIT), *window.on_picture(*SHADOW))
        window.mixed(7)
        window.key("Escape")
        by_keys(window)
        follows(window)
        by_pointer(window)
        if os.environ.get("TS_TEST_SHOT"):
            window.key("c")
            window.shoot(os.environ["TS_TEST_SHOT"])
            window.key("c")
        dragged_out(window)
        copied(window)
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
