#!/usr/bin/python3
"""test_beside.py: two pictures side by side, by keys and by pointer; what they show is looked at in their pixels

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import shutil

from PIL import Image, ImageChops

from window import LIT, PICTURE, SHADOW, Window, check, wait_for, xdo

COAT, PLACES = (300, 900), [(300, 900), (420, 420), (700, 640), (1200, 1100)]


def beside(window):
    """The other picture, looked for near the first: a walk through the window takes a second."""
    found = window.image().parent.find_all("image", re.compile("^Beside it: "))
    return found[0] if found else None


def shot(window):
    path = os.path.join(window.folder, "shot.png")
    window.shoot(path, whole_screen=True)
    return Image.open(path).convert("RGB")


def colour(picture, node, x, y):
    left, top = node.point(x, y)
    return picture.getpixel((left, top))


def is_grey(rgb):
    return max(rgb) - min(rgb) <= 2


def zoom(window):
    return int(window.known("push button", re.compile(r"^\d+ %$")).name[:-2])


def same_place(window, looks):
    """Pixels of the two stand in the same place: greys where lightness alone is shown."""
    left, right = window.image(), beside(window)
    picture = shot(window)
    for place in PLACES:
        at = window.on_picture(*place)
        one, other = colour(picture, left, *at), colour(picture, right, *at)
        check(not is_grey(one), "colour on the left at %s, %s" % place, one)
        looks(one, other)


def luminance(rgb):
    """Relative, of an sRGB colour: IEC 61966-2-1."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (v / 255 for v in rgb)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def values(one, other):
    check(is_grey(other), "lightness alone on the right", other)
    check(abs(luminance(one) - luminance(other)) < 0.012, "as light as the left", one, other)


def like(one, other):
    check(max(abs(a - b) for a, b in zip(one, other)) <= 12, "the same colour", one, other)


def by_keys(window):
    window.image().click(*window.on_picture(1560, 60))
    window.key("Escape", "b")
    wait_for("the other picture", lambda: beside(window))
    check(beside(window).name == "Beside it: values only", "values beside colour", beside(window).name)
    same_place(window, values)
    _, _, w, _ = window.image().extents()
    check(abs(w - beside(window).extents()[2]) <= 1, "as wide", w, beside(window).extents())
    check(abs(zoom(window) - 100 * w / PICTURE[0]) <= 1, "the figure at Fit", zoom(window), w)


def moved(before, after, node, dx, dy):
    """The middle of a view shows what it did, moved: what is drawn over it stays out of it."""
    left, top = node.point(0, 0)
    _, _, w, h = node.extents()
    box = tuple(map(int, (left + w * .25, top + h * .25, left + w * .7, top + h * .7)))
    was = before.crop(box)
    now = after.crop((box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy))
    off = max(high for _, high in ImageChops.difference(was, now).getextrema())
    still = max(high for _, high in ImageChops.difference(was, after.crop(box)).getextrema())
    check(off <= 24 < still, "it moved by %d, %d in %s" % (dx, dy, node.name), off, still)


def together(window):
    """Keys, wheel and drag on either move both."""
    before = zoom(window)
    window.key("plus", "plus")
    wait_for("a larger picture", lambda: zoom(window) > before * 1.5)
    picture = shot(window)
    _, _, w, h = window.image().extents()
    for x, y in ((w * .3, h * .4), (w * .5, h * .5), (w * .7, h * .8)):
        values(colour(picture, window.image(), x, y), colour(picture, beside(window), x, y))
    larger = zoom(window)
    xdo("mousemove", *beside(window).point(w * .5, h * .5))
    xdo("click", "--repeat", 2, 5)
    wait_for("the wheel on the other", lambda: zoom(window) < larger)
    before_drag = shot(window)
    beside(window).drag(w * .5, h * .5, w * .5 + 60, h * .5 + 30)
    picture = shot(window)
    for node in (window.image(), beside(window)):
        moved(before_drag, picture, node, 60, 30)
    values(colour(picture, window.image(), w * .5, h * .6), colour(picture, beside(window), w * .5, h * .6))
    window.key("0")
    wait_for("the whole picture", lambda: zoom(window) == before)


def choose(window):
    """V with Shift goes through the looks; the choice over it tells them as well."""
    names = []
    for _ in range(4):
        names.append(beside(window).name.partition(": ")[2])
        window.key("shift+v")
        wait_for("another", lambda: not beside(window).name.endswith(names[-1]))
    check(names[0] == "values only" and names[1] == "steps of the stair" and names[2].startswith("at arm’s length: ")
          and names[3].startswith("finished figure, "), "four to choose from", names)
    check(window.image().parent.find_all("combo box", "What stands beside the picture"), "a choice over it")
    wait_for("as it is", lambda: beside(window).name == "Beside it: as it is")
    same_place(window, like)


def greys(window):
    window.key("shift+v", "shift+v")
    wait_for("steps", lambda: beside(window).name == "Beside it: steps of the stair")
    x, y = beside(window).point(0, 0)
    _, _, w, h = beside(window).extents()
    seen = shot(window).crop((x + w // 8, y + h // 3, x + w - w // 8, y + h * 2 // 3)).getcolors(100000)
    many = [rgb for count, rgb in seen if count > w * h / 200]
    check(2 <= len(many) <= 9 and all(is_grey(rgb) for rgb in many), "as many greys as steps", many)


def another_picture(window):
    """Another picture of the plan beside it, with the same eyes."""
    window.key("shift+v", "shift+v")
    wait_for("the finished figure", lambda: beside(window).name.startswith("Beside it: finished"))
    at = window.on_picture(*COAT)
    check(not is_grey(colour(shot(window), beside(window), *at)), "in colour as well")
    window.key("v")
    values_button = window.known("push button", "Values")
    wait_for("values", lambda: values_button.has("PRESSED"))
    check(is_grey(colour(shot(window), beside(window), *at)), "grey as well")
    window.key("v", "v", "b")
    wait_for("one picture", lambda: beside(window) is None)


def main():
    with Window(None, paints=4) as window:
        window.image().drag(*window.on_picture(*LIT), *window.on_picture(*SHADOW))
        window.mixed(7)
        finished = shutil.copy(window.picture, os.path.join(window.folder, "finished.jpg"))
        window.go_to("Finish check")
        window.find("push button", "Open a photo…").click()
        window.answer_chooser("Open a Photo of the Finished Figure", finished)
        window.find("image", "Finished figure")
        window.go_to("Picture")
        by_keys(window)
        together(window)
        choose(window)
        greys(window)
        another_picture(window)
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
