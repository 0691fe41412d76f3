"""places.py: ways to every place of the program, and what can be aimed at there

For random_input.py: a way starts wherever an earlier one has left the window, and says whether it came
to its place. Nothing is asserted: a window that was clicked at random may well be in the way.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import contextlib
import os
import re
import subprocess
import time

import driver
from driver import matches
from gi.repository import GLib
from window import Failure, wait_for

PATIENCE = float(os.environ.get("TS_TEST_PATIENCE", "1"))
CONTROLS = {"push button", "toggle button", "check box", "radio button", "combo box", "text", "entry", "spin button",
            "slider", "list item", "table", "image", "menu item", "link", "color chooser"}
LEAVES = {"label", "image", "scroll bar", "slider", "text", "separator"}
# The pages of the window, by the button that shows them.
PAGES = {"Picture": ("TsPicturePlace", "TsEmptyView"), "Paints": ("TsPaintsPane",), "Brief": ("TsBriefPane",),
         "Finish check": ("TsFinishPane",), "Mixing card": ("TsCardPane",)}
ALL_PAGES = {name for names in PAGES.values() for name in names}


def ask_display(*words):
    return subprocess.run(["xdotool", *words], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
                          timeout=30).stdout.strip()


@contextlib.contextmanager
def hurried():
    """What is not there at once is given up: random input may have taken it away."""
    limit, driver.LIMIT = driver.LIMIT, PATIENCE
    try:
        yield
    finally:
        driver.LIMIT = limit


def foremost():
    """The title of the window that has the keyboard."""
    return ask_display("getwindowfocus", "getwindowname")


def is_over(window):
    """Whether another window than the main one has the keyboard."""
    return ask_display("getwindowfocus") != str(window.main_id)


def find_page_buttons(window):
    return {n.seen.name: n for top in window.root.children for n in walk_shown(top, "")
            if n.seen.role == "push button" and n.seen.name in PAGES}


def shown_page(window):
    """Which of the main window's buttons for its pages is down, or None."""
    for name, button in window.page_buttons.items():
        try:
            if button.has("PRESSED"):
                return name
        except GLib.Error:
            continue
    return None


def walk_shown(node, page):
    """What is in sight below a node: of the pages that lie one on the other, only the one that is named."""
    others = set() if page is None else ALL_PAGES - set(PAGES.get(page, ()))
    return node.walk(leave_out=lambda seen: seen.raw_name in others, leaves=LEAVES)


def in_sight(window):
    """All that is shown in the window that has the keyboard, or in all where that one is not known."""
    title, over = foremost(), is_over(window)
    tops = window.root.children
    for top in [t for t in tops if t.raw_name == title] or tops:
        yield from walk_shown(top, None if over else shown_page(window))


def controls(window):
    """What can be aimed at in the window that has the keyboard, each with where and what it is."""
    page = foremost() if is_over(window) else shown_page(window)
    return [(n, "%s: %s %s" % (page, n.seen.role, re.sub(r"[\d.,−-]+", "N", n.seen.name))) for n in in_sight(window)
            if n.seen.role in CONTROLS and n.seen.has("SENSITIVE")]


class Ways:
    """The ways, each a verb that answers whether its place is there."""

    def __init__(self, window, folder):
        self.window, self.folder = window, folder
        if not hasattr(window, "main_id"):
            window.main_id, window.page_buttons = window._window_id(), find_page_buttons(window)

    # Tools

    def seen(self, role, name, seconds=1.5):
        end = time.monotonic() + seconds * PATIENCE
        while True:
            for node in in_sight(self.window):
                if matches(role, node.seen.role) and matches(name, node.seen.name):
                    return node
            if time.monotonic() > end:
                return None

    def titled(self, pattern, seconds=1.5):
        """Whether a window over the main one, so called, has the keyboard, soon."""
        end = time.monotonic() + seconds * PATIENCE
        while time.monotonic() < end:
            if is_over(self.window) and re.search(pattern, foremost()):
                return True
            time.sleep(0.05)
        return False

    def discard(self):
        """Where it is asked whether to save."""
        if self.titled("", 0.7):
            button = self.seen("push button", "Discard")
            if button is not None:
                button.press()

    def press(self, name):
        button = self.seen("push button", name)
        if button is not None:
            button.click()
        return button is not None

    def go_home(self):
        """To the main window: what lies over it is left by Esc, or closed."""
        self.window.key("Escape")
        for key in ("Escape", "Escape", "alt+F4", "Escape", "alt+F4"):
            if not is_over(self.window) or foremost() == "Openbox":
                break
            self.window.key(key)
            time.sleep(0.1 * PATIENCE)
        # Where it was minimised, this shows it again.
        ask_display("windowactivate", str(self.window.main_id), "windowmove", str(self.window.main_id), "0", "0")
        time.sleep(0.1 * PATIENCE)

    def open_file(self, name):
        """By the chooser, which takes the path that is typed."""
        self.window.key("ctrl+o")
        return self.choose("^Open a Picture or a Plan", name)

    def choose(self, title, name):
        if not self.titled(title):
            return False
        self.window.type(os.path.join(self.folder, name))
        self.window.key("Return")
        return True

    def page(self, name):
        self.go_home()
        if foremost() == "Tonestair" and not self.open_plan():
            return False
        return self.press(name) and shown_page(self.window) == name

    # Places

    def open_plan(self):
        self.go_home()
        if not self.open_file("lighthouse.tonestair"):
            return False
        self.discard()
        return self.seen("list", re.compile("^Stair of"), 4) is not None

    def open_picture(self):
        self.go_home()
        return self.open_file("lighthouse.jpg")

    def open_damaged(self):
        self.go_home()
        return self.open_file("damaged.jpg")

    def close_plan(self):
        self.go_home()
        self.window.key("F10")
        item = self.seen("menu item", "Close the plan")
        if item is None:
            return False
        item.click()
        self.discard()
        return self.seen("label", "Drop a picture here") is not None

    def demo(self):
        return self.close_plan() and self.press("Open the demo") and self.seen("list", re.compile("^Stair of"), 4)

    def picture(self):
        return self.page("Picture")

    def correction(self):
        if not self.page("Picture") or not self.press(re.compile("photograph$|^Corrected")):
            return False
        return self.seen("list item", "24-patch chart") is not None

    def chart(self):
        if not self.correction():
            return False
        self.seen("list item", "24-patch chart").click()
        return self.seen("push button", re.compile("^corner 4 of 4, ")) is not None

    def beside(self):
        return self.page("Picture") and self.press("Both") and self.seen("image", re.compile("^Beside it"))

    def values(self):
        return self.page("Picture") and self.press("Values")

    def outline(self):
        if not self.page("Picture"):
            return False
        image = self.seen("image", re.compile("^Reference"))
        if image is None:
            return False
        _, _, width, height = image.extents()
        image.draw([(width * x, height * y) for x, y in ((.35, .5), (.5, .5), (.5, .8), (.35, .8), (.33, .6))],
                   hold=["ctrl", "shift"])
        return True

    def run(self):
        if not self.page("Picture"):
            return False
        image = self.seen("image", re.compile("^Reference"))
        if image is None:
            return False
        _, _, width, height = image.extents()
        image.drag(width * .3, height * .3, width * .5, height * .7)
        return True

    def other_mixes(self):
        stair = self.page("Picture") and self.seen("list", re.compile("^Stair of"))
        if not stair or not stair.children:
            return False
        stair.children[len(stair.children) // 2].click(times=2)
        return self.seen("list", "Other mixes") is not None

    def range_and_light(self):
        return self.page("Picture") and self.press("Range and light…") and self.seen(None, "Colour of the light")

    def mixes(self):
        return self.page("Picture") and self.press(re.compile(r"^\d+ paints?$"))

    def surface_menu(self):
        row = self.page("Picture") and self.seen("list item", re.compile("^(Coat|Surface|Leather|Skin|Brass|Scarf)"))
        if not row:
            return False
        row.click(button=3)
        return self.seen("menu item", "Rename") is not None

    def paints(self):
        return self.page("Paints")

    def try_mix(self):
        return self.page("Paints") and self.press("Try a mix…")

    def add_paint(self):
        return self.page("Paints") and self.press("Add a paint")

    def swatch_sheet(self):
        if not self.page("Paints") or not self.press("Swatch sheet…"):
            return False
        return (self.choose("", "lighthouse.jpg")
                and self.seen("push button", "Turn the grid", 3))

    def paints_menu(self, item, title):
        if not self.page("Paints") or not self.press("More"):
            return False
        entry = self.seen("menu item", item)
        if entry is None:
            return False
        entry.click()
        return self.titled(title)

    def print_sheet(self):
        return self.paints_menu("Print a sheet for swatches…", "^Print")

    def save_sheet(self):
        return self.paints_menu("Save a sheet for swatches…", "^Save")

    def read_paints(self):
        return self.paints_menu("Read paints from a file…", "") and self.choose("", "lighthouse-paints.csv")

    def brief(self):
        return self.page("Brief")

    def read_brief(self):
        return self.page("Brief") and self.press("Read a list…") and self.choose("", "brief.csv")

    def paste_brief(self):
        return self.page("Brief") and self.press("Paste")

    def finish(self):
        return self.page("Finish check")

    def finished_photo(self):
        if not self.page("Finish check") or not self.press(re.compile("^Open (a|another) photo…$")):
            return False
        return (self.choose("^Open a Photo", "lighthouse-finished.jpg")
                and self.seen("image", re.compile("^Finished figure"), 4))

    def card(self):
        return self.page("Mixing card") and self.seen("image", "Page 1 of the mixing card", 3)

    def print_card(self):
        if not self.page("Mixing card"):
            return False
        self.window.key("ctrl+p")
        return self.titled("^Print")

    def save_card(self):
        return self.page("Mixing card") and self.press("Save as PDF…") and self.titled("^Save the Mixing Card")

    def by_key(self, key, title):
        self.go_home()
        self.window.key(key)
        return self.titled(title)

    def preferences(self):
        return self.by_key("ctrl+comma", "^Preferences$")

    def manual(self):
        return self.by_key("F1", "^Help$")

    def shortcuts(self):
        return self.by_key("ctrl+question", "^Keyboard shortcuts$|^Shortcuts$")

    def about(self):
        self.go_home()
        self.window.key("F10")
        item = self.seen("menu item", "About Tonestair")
        if item is None:
            return False
        item.click()
        return self.titled("^About")

    def menu(self):
        self.go_home()
        self.window.key("F10")
        return self.seen("menu item", "Keyboard shortcuts") is not None

    def save_elsewhere(self):
        return self.by_key("ctrl+shift+s", "^Save the Plan$")

    def second_window(self):
        """It is closed again, or worked in."""
        self.go_home()
        before = len(self.window._windows())
        self.window.key("ctrl+n")
        try:
            wait_for("another window", lambda: len(self.window._windows()) > before, 2 * PATIENCE)
        except Failure:
            return False
        return True

    def all_undone(self):
        self.go_home()
        self.window.key(*["ctrl+z"] * 30)
        self.window.key(*["ctrl+shift+z"] * 30)
        return True


PLACES = [name for name in vars(Ways) if not name.startswith("_") and name not in
          ("seen", "titled", "discard", "press", "go_home", "open_file", "choose", "page", "paints_menu", "by_key")]
