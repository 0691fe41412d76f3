#!/usr/bin/python3
"""test_hover.py: what the pointer rests on is marked in the picture, in the curve and in the stair alike

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import io
import subprocess
import time

from PIL import Image, ImageChops

from window import LIT, SHADOW, Window, check, xdo


def grab():
    """The screen once two pictures in a row are equal; the pointer stays where it is."""
    last = None
    for _ in range(40):
        picture = subprocess.run(["import", "-silent", "-window", "root", "-depth", "8", "png:-"],
                                 stdout=subprocess.PIPE, check=True, timeout=60).stdout
        now = Image.open(io.BytesIO(picture)).convert("RGB")
        if last is not None and ImageChops.difference(now, last).getbbox() is None:
            break
        last = now
        time.sleep(0.05)
    return now


class Places:
    """Picture, curve and stair as they are with the pointer on none of them."""

    def __init__(self, window):
        self.boxes = {name: tuple(round(v) for v in node.box()) for name, node in
                      (("picture", window.image()), ("curve", window.curve()), ("stair", window.stair()))}
        self.rest = self.look(0, 0)

    def look(self, x, y):
        xdo("mousemove", x, y)
        screen = grab()
        return {name: screen.crop((x, y, x + w, y + h)) for name, (x, y, w, h) in self.boxes.items()}

    def marked(self, x, y):
        """Where something is another with the pointer there."""
        now = self.look(round(x), round(y))
        return {name for name in now if ImageChops.difference(now[name], self.rest[name]).getbbox()}


def from_the_curve(places):
    """Along a few lines of the plot until a step or a spot is met."""
    left, top, width, height = places.boxes["curve"]
    seen = set()
    for down in (0.3, 0.5, 0.4, 0.6, 0.2, 0.7):
        for across in range(12, 96, 3):
            found = places.marked(left + width * across / 100, top + height * down)
            if {"stair", "picture"} <= found:
                return found
            seen |= found
    return seen


def main():
    with Window(None, paints=4) as window:
        window.image().draw([window.on_picture(*LIT), window.on_picture(*SHADOW)])
        window.mixed(7)
        window.key("Escape")
        places = Places(window)
        x, y, width, height = window.steps()[4].node.box()
        found = places.marked(x + width / 2, y + height / 3)
        check({"curve", "picture"} <= found, "a step under the pointer is marked in curve and picture", found)
        x, y = window.image().point(*window.on_picture(*window.run()[0]))
        found = places.marked(x, y)
        check({"curve", "stair"} <= found, "a spot under the pointer is marked in curve and stair", found)
        found = from_the_curve(places)
        check({"stair", "picture"} <= found, "a point of the curve is marked in stair and picture", found)
        check(not places.marked(0, 0), "nothing is left marked")
        check(not window.complaints(), "no complaint", *window.complaints())


if __name__ == "__main__":
    main()
