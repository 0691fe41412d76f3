#!/usr/bin/python3
"""test_finish.py: the finish check: both pictures with the same eyes and in the same place, held to the pixels of
their files as PIL reads them; the report on the clipboard, held to what the command line prints of the same plan; a surface that is outlined

Run under tests/gui/headless.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import io
import math
import os
import re
import shutil
import subprocess
import sys

from PIL import Image, ImageCms

import sheet
from make_screenshots import CARD
from test_outline import COAT
from window import DATA, PICTURE, Window, check, wait_for

FILES = ("lighthouse.jpg", "lighthouse-finished.jpg")
# From the middle of a view, screen pixels: nothing lies over these.
PLACES = ((-150, -90), (-60, 110), (40, -120), (120, 60), (170, -40))

READ_CLIPBOARD = """
import gi
gi.require_version("Gdk", "4.0")
gi.require_version("Gtk", "4.0")
from gi.repository import Gdk, GLib, Gtk
Gtk.init()
loop = GLib.MainLoop()
def done(clipboard, result):
    print(clipboard.read_text_finish(result), end="")
    loop.quit()
Gdk.Display.get_default().get_clipboard().read_text_async(None, done)
loop.run()
"""


def clipboard():
    return subprocess.run([sys.executable, "-c", READ_CLIPBOARD], stdout=subprocess.PIPE, check=True, timeout=60,
                          universal_newlines=True).stdout


def lay(window):
    """The finished figure's photo, without its card."""
    window.go_to("Finish check")
    window.find("push button", "Open a photo…").click()
    window.answer_chooser("Open a Photo of the Finished Figure", os.path.join(window.folder, FILES[1]))
    return [window.find("image", name) for name in ("Reference", "Finished figure")]


def outline(window):
    """One more surface, that has no run."""
    window.image().draw([window.on_picture(*p) for p in COAT], hold=["ctrl"])
    wait_for("an outline", lambda: "Outline of" in window.image().description)
    window.key("Escape")  # the name that waits to be typed


def box(view):
    """The outline's, in pixels of the view's picture."""
    found = re.search(r"outline of \d+ corners within (-?\d+), (-?\d+) and (-?\d+), (-?\d+)\.", view.description)
    return found and tuple(map(int, found.groups()))


def near(values, others, within):
    return values and all(abs(a - b) <= within for a, b in zip(values, others))


def moved(view, by, within=1):
    """Whether the outline has gone where it was meant to, by what @by adds to left, top, right and bottom; places are
    told to whole pixels."""
    start = box(view)
    return lambda: near(box(view), [a + b for a, b in zip(start, by)], within)


def outlined(window, views):
    """It lies where it does on the reference, is moved as a whole and by a corner, with the pointer and with keys, and
    what became of the surface follows."""
    row = place(window).find("list item", re.compile(r"^Surface \d+$"))
    places = [(min(p[i] for p in COAT), max(p[i] for p in COAT)) for i in (0, 1)]
    on_reference = [*(p[0] for p in places), *(p[1] for p in places)]
    wait_for("the outline on both", lambda: all(box(view) for view in views))
    check(near(box(views[0]), on_reference, 5), "on the reference", views[0].description, on_reference)
    size = read_file(FILES[1]).size
    by = size[0] / PICTURE[0]
    check(near(box(views[1]), [by * v for v in on_reference], 5), "on the photo", views[1].description)
    wait_for("it is measured", lambda: "range" in row.description)
    kept = row.description

    def spot(x, y):
        _, _, width, height = views[1].extents()
        zoom = min(width / size[0], height / size[1])
        return (width - size[0] * zoom) / 2 + x * zoom, (height - size[1] * zoom) / 2 + y * zoom

    inside, away = (by * 700, by * 850), (by * 700 - 150, by * 850 - 100)
    there = moved(views[1], (-150, -100, -150, -100), 2)
    views[1].drag(*spot(*inside), *spot(*away))
    wait_for("the whole has moved", there)
    wait_for("it is read there", lambda: row.description != kept)
    window.key("ctrl+z")
    wait_for("one step back", lambda: row.description == kept)

    # The corner at the right, then all by keys.
    left, top, right, bottom = box(views[1])
    at = by * max(COAT)[0], by * max(COAT)[1]
    there = moved(views[1], (0, 0, 90, 0), 2)
    views[1].drag(*spot(*at), *spot(at[0] + 90, at[1]))
    wait_for("a corner has moved", there)
    check("Arrows move corner" in views[1].description, "what the arrows move", views[1].description)
    there = moved(views[1], (0, 0, -10, 0))
    window.key("shift+Left")
    wait_for("back by ten pixels", there)
    for _ in range(17):
        if "Arrows move the outline" in views[1].description:
            break
        window.key("Return")
    check("Arrows move the outline" in views[1].description, "the whole", views[1].description)
    there = moved(views[1], (3, 12, 3, 12))
    window.key("Right", "Right", "Right", "shift+Down", "Down", "Down")
    wait_for("moved by keys", there)
    window.key("l")
    wait_for("laid anew", lambda: near(box(views[1]), (left, top, right, bottom), 0))
    wait_for("measured anew", lambda: row.description == kept)
    row.parent.children[0].click()
    wait_for("a run again", lambda: "run from lit" in views[1].description)


def shot(window):
    path = os.path.join(window.folder, "shot.png")
    window.shoot(path, whole_screen=True)
    return Image.open(path).convert("RGB")


def is_like(rgb, file, x, y, around):
    """Whether a colour lies within what the file has @around a place: between pixels it is interpolated."""
    spots = [file.getpixel((round(x) + dx, round(y) + dy)) for dx in range(-around, around + 1)
             for dy in range(-around, around + 1)]
    return all(min(c) - 3 <= v <= max(c) + 3 for v, c in zip(rgb, zip(*spots)))


def shown_at(window, views, files, middle, around=(2, 1)):
    """The photo pixel by pixel with @middle in the middle of its view; the reference, a larger picture, at the same
    share of its own."""
    picture = shot(window)
    for view, file, near in zip(views, files, around):
        _, _, width, height = view.extents()
        by = file.width / files[1].width
        # The picture's corner is on a whole pixel of the screen.
        left, top = (-math.floor(m - size / 2 + 0.5) for m, size in zip(middle, (width, height)))
        for dx, dy in PLACES:
            x, y = int(width / 2) + dx, int(height / 2) + dy
            shown = picture.getpixel(view.point(x, y))
            check(is_like(shown, file, by * (x - left + 0.5) - 0.5, by * (y - top + 0.5) - 0.5, near),
                  "pixel %d, %d of %s" % (x, y, view.name), shown)


def place(window):
    return window.known("push button", re.compile("^(Lay the line anew)$")).parent.parent.parent


def here(window, name):
    """A button of this place: others have some of the same name."""
    return place(window).find("push button", name)


def figure(window):
    return here(window, re.compile(r"^\d+ %$")).name


def read_file(name):
    """As the screen shows it: Little CMS through PIL, from the profile in the file to sRGB."""
    image = Image.open(os.path.join(DATA, "demo", name)).convert("RGB")
    if "icc_profile" not in image.info:
        return image
    return ImageCms.profileToProfile(image, io.BytesIO(image.info["icc_profile"]), ImageCms.createProfile("sRGB"))


def zooms(window, views):
    files = [read_file(name) for name in FILES]
    middle = files[1].width / 2, files[1].height / 2
    fitted = figure(window)
    _, _, width, height = views[1].extents()
    wanted = 100 * min(width / files[1].width, height / files[1].height)
    check(abs(int(fitted[:-2]) - wanted) <= 0.51, "fitted", fitted, wanted)
    check(here(window, "Fit").has("PRESSED"), "Fit is chosen")
    here(window, "1:1").click()
    wait_for("1:1", lambda: figure(window) == "100 %")
    check(here(window, "1:1").has("PRESSED"), "1:1 is chosen")
    shown_at(window, views, files, middle, (2, 0))
    # On one of them, both follow; to half a pixel, which may be rounded either way.
    views[0].drag(width / 2 + 90, height / 2 + 50, width / 2 - 10, height / 2 + 10)
    shown_at(window, views, files, (middle[0] + 100, middle[1] + 40))
    window.key("Right")
    shown_at(window, views, files, (middle[0] + 140, middle[1] + 40))
    window.key("0")
    wait_for("the whole", lambda: figure(window) == fitted)
    window.key("1")
    wait_for("pixel by pixel", lambda: figure(window) == "100 %")
    window.key("0", "plus")
    wait_for("larger", lambda: int(figure(window)[:-2]) > int(fitted[:-2]))
    window.key("0")


def pixels_of(picture, view):
    """The middle of a view, no words or edges in it."""
    _, _, width, height = view.extents()
    left, top = view.point(width * .1, height / 2 - 100)
    right, bottom = view.point(width * .9, height / 2 + 100)
    return picture.crop((left, top, right, bottom))


def grey_share(pixels):
    data = list(pixels.getdata())
    return sum(max(rgb) - min(rgb) <= 2 for rgb in data) / len(data)


def edges(pixels):
    """How many neighbours along a row differ by what is seen at once."""
    grey, width = list(pixels.convert("L").getdata()), pixels.width
    return sum(abs(a - b) > 20 for i, (a, b) in enumerate(zip(grey, grey[1:])) if (i + 1) % width)


def looks(window, views):
    """By keys, from one of the pictures, pixel by pixel: what merges at arm's length is small."""
    views[0].click(5, 60)
    window.key("1")
    colour = [pixels_of(shot(window), view) for view in views]
    for pixels in colour:
        check(grey_share(pixels) < 0.5, "colours", grey_share(pixels))
    window.key("v")
    wait_for("values", lambda: here(window, "Values").has("PRESSED"))
    for view in views:
        check(grey_share(pixels_of(shot(window), view)) > 0.999, "greys", grey_share(pixels_of(shot(window), view)))
    window.key("v")
    wait_for("arm's length", lambda: here(window, "Arm’s length").has("PRESSED"))
    for view, before in zip(views, colour):
        after = pixels_of(shot(window), view)
        check(edges(after) < 0.7 * edges(before), "fewer edges", edges(after), edges(before))
    window.key("v")
    wait_for("colour", lambda: here(window, "Colour").has("PRESSED"))


def report(window, views, plan):
    """Without a card and with one."""
    cli = sheet.cli_beside(os.environ["TS_TEST_GUI"])
    photo = os.path.join(window.folder, FILES[1])
    for said in ("No grey card: lightness is rough, hues are not judged", "Corrected with the grey card"):
        window.find("push button", said)
        window.key("ctrl+c")
        window.find("push button", "Copied")
        window.key("ctrl+s")
        wait_for("saved", lambda: window.find_all("label", "saved"))
        printed = subprocess.run([cli, "check", plan, "--finished", photo], stdout=subprocess.PIPE, check=True,
                                 timeout=120, universal_newlines=True).stdout
        printed = printed.partition("\n%s\n" % photo)[2]
        copied = clipboard()
        check(re.search(r"^Surface \d+: .*; range \d+ of \d+ kept", copied, re.MULTILINE), "the outlined", copied)
        check(copied == printed and said in copied and "What to repaint" in copied, "the report", copied, printed)
        if said.startswith("No"):
            window.key("g")
            _, _, width, height = views[1].extents()
            zoom = min(width / PICTURE[0], height / PICTURE[1])
            views[1].click((width - PICTURE[0] * zoom) / 2 + CARD[0] * zoom,
                           (height - PICTURE[1] * zoom) / 2 + CARD[1] * zoom)
    check(", dE " in clipboard(), "hues are judged with a card", clipboard())


def main():
    with Window() as window:
        for name in ("lighthouse.tonestair", *FILES):
            shutil.copy(os.path.join(DATA, "demo", name), window.folder)
        plan = os.path.join(window.folder, "lighthouse.tonestair")
        window.focus()
        window.key("ctrl+o")
        window.answer_chooser("Open a Picture or a Plan", plan)
        window.mixed(7)
        wait_for("all surfaces", lambda: not window.is_busy(), limit=120)
        outline(window)
        views = lay(window)
        outlined(window, views)
        zooms(window, views)
        looks(window, views)
        report(window, views, plan)
        window.check_quiet(window.close())


if __name__ == "__main__":
    main()
