#!/usr/bin/python3
"""make_screenshots.py: pictures of the window with the demo plan: make_screenshots.py FOLDER NAME...

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import subprocess
import sys
import tempfile

import chart_photo
import test_correction_pointer as warm
import test_sheet
from window import DATA, PICTURE, Window, wait_for

PLAN = os.path.join(DATA, "demo", "lighthouse.tonestair")
FINISHED = os.path.join(DATA, "demo", "lighthouse-finished.jpg")
CARD = 1348, 341  # of the finished picture


def main_window(w):
    """The stair of the first surface, mixes and all."""


def go_to(place, what):
    def show(w):
        w.go_to(place)
        w.find(*what)
    return show


def other_mixes(w):
    w.stair().children[3].click(times=2)
    w.find("list", "Other mixes")
    w.find("push button", "Keep")


def outline(w):
    """The coat's right side, drawn loosely."""
    w.image().draw([w.on_picture(*p) for p in ((550, 590), (650, 560), (760, 600), (830, 720), (830, 1045), (640, 1045),
                                               (560, 930), (530, 760))], hold=["ctrl", "shift"])
    wait_for("what the steps cover", lambda: "covers" in w.steps()[0].words)
    wait_for("all mixes", lambda: all(s.error for s in w.steps()) and not w.is_busy(), limit=120)


def stair_check(w):
    """Steps merged and added until all three verdicts are there."""
    outline(w)
    w.steps()[0].node.click()
    for key in ("Delete", "Delete"):
        n = len(w.steps())
        w.key(key)
        wait_for("a step less", lambda: len(w.steps()) < n)
    w.steps()[3].node.click()
    w.key("Insert", "Insert")
    wait_for("two more", lambda: len(w.steps()) == 7)
    wait_for("all mixes", lambda: all(s.error for s in w.steps()) and not w.is_busy(), limit=120)


def look(name):
    def show(w):
        w.find("push button", name).click()
        w.find("push button", re.compile("^What touches")).click()
        for other in ("Leather", "Scarf", "Brass"):
            w.find("check box", other).click()
        w.key("Escape")
        w.find("label", "Coat and Leather")
    return show


def choose_paint(w, name, shown):
    """Found by its name: it may be out of sight."""
    w.find("entry", re.compile("^Find among")).click()
    w.type(name)
    rows = w.find("list", "Paints")
    wait_for("it alone", lambda: len(rows.find_all("list item")) == 1)
    rows.find("list item", name).click()
    w.find(*shown)
    w.find("entry", re.compile("^Find among")).click()
    w.key("Escape")
    wait_for("all paints", lambda: len(rows.find_all("list item")) > 1)


def paint(name):
    """One paint, in the Paints place."""
    def show(w):
        w.go_to("Paints")
        choose_paint(w, name, ("image", "Reflectance of " + name))
    return show


def mix_by_hand(w):
    """Three parts of one paint and one of another, and what they make."""
    w.go_to("Paints")
    w.find("push button", "Try a mix…").click()
    for name, parts in (("Clear Honey", 3), ("Brown Ink", 1)):
        choose_paint(w, name, ("push button", "Add a part of " + name))
        add = w.find("push button", "Add a part of " + name)
        for _ in range(parts):
            add.click()
    w.find("image", re.compile("^The mix"))


def gamut(w):
    w.go_to("Paints")
    w.find("image", "What these paints can mix")


def two_pictures(w):
    """Values beside colours, and a step's mix laid on the coat."""
    w.stair().children[2].click()
    w.image().click(*w.on_picture(1560, 60))
    w.key("Escape", "b")
    w.find("image", re.compile("^Beside it: values only"))
    w.key("c")
    (left, top, width, height), (x, y, _, _) = w.find("image", "Comparison swatch").extents(), w.image().extents()
    w.image().drag(left + width / 2 - x, top + height / 2 - y, *w.on_picture(420, 760))


def finish_check(w):
    """The finished figure, with its card pointed at in the right of the two pictures."""
    w.go_to("Finish check")
    w.find("push button", "Open a photo…").click()
    w.answer_chooser("Open a Photo of the Finished Figure", FINISHED)
    w.find("push button", "Point at a grey card").click()
    view = w.find("image", re.compile("^Finished figure"))
    _, _, width, height = view.extents()
    zoom = min(width / PICTURE[0], height / PICTURE[1])
    view.click((width - PICTURE[0] * zoom) / 2 + CARD[0] * zoom, (height - PICTURE[1] * zoom) / 2 + CARD[1] * zoom)
    w.find("push button", re.compile("^Corrected with the grey card"))


def together(w):
    """The coat's mixes chosen together, its paints put out in order."""
    w.find("push button", re.compile(r"^\d+ paints$")).click()
    w.find("check box", "together, in between").click()
    w.key("Escape")
    wait_for("all mixes", lambda: all(s.error for s in w.steps()) and not w.is_busy(), limit=120)
    w.go_to("Mixing card")
    rows = wait_for("the order of work", lambda: w.find(None, "The order of work").find_all("check box"))
    for row in rows[:3]:
        row.click()


def out_of_reach(w):
    """More contrast than the paints have: the first step opened."""
    w.find("push button", "Range and light…").click()
    w.find("push button", "high contrast").click()
    w.key("Escape")
    wait_for("all mixes", lambda: all(s.error for s in w.steps()) and not w.is_busy(), limit=120)
    w.stair().children[0].click(times=2)
    w.find("label", re.compile("out of reach"))
    wait_for("what would help", lambda: not w.find_all("label", re.compile("^Looking for a kind")), limit=60)


# Pictures of their own.

def correction_chart(w):
    warm.open_place(w, "Uncorrected photograph", "24-patch chart")
    for i, place in enumerate(chart_photo.CORNERS):
        warm.drag_corner(w, i, place)
    wait_for("24 patches", lambda: len(w.find_all("list item", re.compile(r"^\d+, [\w .]+, error \d+\.\d"))) == 24)


def correction_card(w):
    warm.open_place(w, "Uncorrected photograph", "Grey or white card")
    warm.picture(w).click(*warm.at(w, *warm.middle("grey")))
    w.find("push button", re.compile("^grey card, "))


def clipping(w):
    w.find("push button", "Clipping").click()
    wait_for("the shares", lambda: "clipped lights" in warm.picture(w).description)


def swatch_sheet(w):
    """Forty swatches, a chart beside them, under a warm lamp."""
    w.go_to("Paints")
    test_sheet.lay_forty(w)


SHOW = {
    "main-window": main_window,
    "main-window-dark": main_window,
    "main-window-2x": main_window,
    "main-window-960x600": main_window,
    "paints": gamut,
    "paint": paint("Deep Sea Blue"),
    "mix-by-hand": mix_by_hand,
    "swatch-sheet": swatch_sheet,
    "brief": go_to("Brief", ("label", "Brief")),
    "finish-check": finish_check,
    "mixing-card": go_to("Mixing card", ("image", "Page 1 of the mixing card")),
    "other-mixes": other_mixes,
    "out-of-reach": out_of_reach,
    "order-of-work": together,
    "curve-and-areas": outline,
    "stair-check": stair_check,
    "values": look("Values"),
    "values-dark": look("Values"),
    "arms-length": look("Arm’s length"),
    "two-pictures": two_pictures,
}

# Of a warm photograph with a chart and cards in it.
SHOW_WARM = {
    "correction-chart": correction_chart,
    "correction-card": correction_card,
    "clipping": clipping,
}


def fill_screen(w):
    """As large as the screen, its border included."""
    w.focus()
    w.button("Maximize").click()
    wait_for("a maximised window", lambda: b"MAXIMIZED_VERT" in subprocess.run(
        ["xprop", "-id", str(w._window_id()), "_NET_WM_STATE"], stdout=subprocess.PIPE, timeout=30).stdout)


def shoot(w, path):
    """The window without the border that GTK draws where no shadow can be."""
    w.shoot(path)
    edge = 5 * w.scale
    subprocess.run(["mogrify", "-shave", "%dx%d" % (edge, edge), "+repage", path], check=True, timeout=60)


def with_plan(w):
    w.find("list item", re.compile("^Step 1$"), limit=60)
    wait_for("all mixes", lambda: all(s.error for s in w.steps()) and not w.is_busy(), limit=120)
    wait_for("all surfaces", lambda: not w.find_all("label", re.compile("^looking for mixes")), limit=120)


def open_for(name, folder):
    """The window, and what is to be done in it."""
    if name == "empty":
        return Window(), lambda w: w.find("label", "Drop a picture here")
    if name in SHOW_WARM:
        return Window(chart_photo.write(os.path.join(folder, "warm.png"))), SHOW_WARM[name]
    return Window(PLAN), lambda w: (with_plan(w), SHOW[name](w))


def main(folder, names):
    for name in names:
        path = os.path.join(folder, name + ".png")
        with tempfile.TemporaryDirectory() as pictures:
            window, show = open_for(name, pictures)
            with window as w:
                fill_screen(w)
                show(w)
                shoot(w, path)
        print("wrote", path)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
