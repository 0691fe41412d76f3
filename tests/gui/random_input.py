#!/usr/bin/python3
"""random_input.py: clicks, drags, wheel and keys at random in a real window, which must not mind

  random_input.py SECONDS [SEED]

Run under tests/gui/headless, best with a sanitized program in TS_TEST_GUI. Every place is gone to in turn, in an order
drawn by the seed, and there half of the clicks aim at what can be pressed, least pressed first. The same seed makes the
same choices; what they meet depends on how quick the machine is. Fails on a crash, a sanitizer's report or a critical
warning, and where the plan can no longer be saved and read by the command line (TS_TEST_CLI).

SPDX-License-Identifier: GPL-3.0-or-later
"""
import collections
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time

from gi.repository import GLib
from places import PLACES, Ways, controls, hurried
from window import DATA, Failure, Window, check, wait_for

BATCH = 25  # events between two looks at the program
AIMS = 10  # things aimed at in a batch
# What GTK 4.8 says of itself, as backtraces without a function of ours have shown, or as there is nothing of that kind
# in this program. Nothing else is passed over.
GTK_OWN = re.compile("|".join((
    # A menu that opens in a window that was dragged off every monitor: no layout for it is found there.
    r"gdk_monitor_get_geometry: assertion 'GDK_IS_MONITOR \(monitor\)' failed",
    # The timer of a tooltip, whose popover or dialog has gone meanwhile.
    r"(gdk_surface_get_device_position|_gtk_widget_find_at_coords): assertion 'GDK_IS_SURFACE \(surface\)' failed",
    # The print dialog, gone while its list of printers is made: there is no GtkColumnView of ours.
    r"gtk_column_view_get_model: assertion 'GTK_IS_COLUMN_VIEW \(self\)' failed",
    # The menu of the file chooser's list, asked for as the chooser goes: the one call of ours looks first.
    r"gtk_widget_compute_bounds: assertion 'GTK_IS_WIDGET \(widget\)' failed",
    # The file chooser's list, sorted while its folder is another: there is no GtkTreeSortable of ours.
    r"gtk_tree_sortable_\w+: assertion 'GTK_IS_TREE_SORTABLE \(sortable\)' failed",
    # What is no critical warning: it is told at the end of a start, and fails nothing.
    r"Gtk-WARNING \*\*: ",
    # The file chooser's button, pressed by a key, when the focus has gone from the chooser meanwhile.
    r"gtk_widget_is_ancestor: assertion 'GTK_IS_WIDGET \(widget\)' failed",
    # The columns of the file chooser's and the printers' list, moved by keys: there is no GtkTreeView of ours.
    r"gtk_css_node_insert_after: assertion 'previous_sibling == NULL \|\| previous_sibling->parent == parent' failed")))
# Of the model that it did not get the print dialog then asks what is selected.
AFTERMATH = re.compile(r"GTK_IS_COLUMN_VIEW .*\n.*gtk_single_selection_get_selected_item: assertion")

KEYS = ("Tab shift+Tab Return Escape Escape space Delete Insert Left Right Up Down shift+Left shift+Up "
        "Home End Page_Up Page_Down plus minus 0 1 v m g l r c b s o a h shift+v shift+c shift+o F6 shift+F6 ctrl+z ctrl+z ctrl+z ctrl+z "
        "ctrl+shift+z ctrl+shift+z ctrl+s ctrl+v ctrl+c ctrl+shift+c ctrl+p alt+1 alt+1 alt+1 alt+2 alt+3 "
        "alt+4 alt+5 F10 F1 ctrl+comma ctrl+question ctrl+f ctrl+o ctrl+shift+s ctrl+a BackSpace 5 9").split()


class Hand:
    """Words for xdotool, at random."""

    def __init__(self, random_source, width, height):
        self.random, self.width, self.height = random_source, width, height
        self.words = []
        self.aims = []

    def place(self):
        if self.aims and self.random.random() < 0.5:
            return self.aims[self.random.randrange(len(self.aims))]
        return self.random.randrange(2, self.width - 2), self.random.randrange(2, self.height - 2)

    def say(self, *words):
        self.words.append(" ".join(str(w) for w in words))

    def click(self):
        self.say("mousemove", *self.place())
        button = self.random.choice((1, 1, 1, 1, 3, 2))
        for _ in range(self.random.choice((1, 1, 1, 2))):
            self.say("click", button)

    def drag(self):
        (x, y), (u, v) = self.place(), self.place()
        held = self.random.choice((None, None, None, "shift", "ctrl", "space"))
        button = self.random.choice((1, 1, 1, 1, 2))
        if held:
            self.say("keydown", held)
        self.say("mousemove", x, y)
        self.say("mousedown", button)
        for i in range(1, 5):
            self.say("mousemove", x + (u - x) * i // 4, y + (v - y) * i // 4)
        if self.random.random() < 0.1:
            self.say("key", self.random.choice(("Escape", "ctrl+z", "Delete", "v")))
        self.say("mouseup", button)
        if held:
            self.say("keyup", held)

    def wheel(self):
        self.say("mousemove", *self.place())
        self.say("click", "--repeat", self.random.randrange(1, 6), self.random.choice((4, 5)))

    def keys(self):
        for _ in range(self.random.randrange(1, 5)):
            self.say("key", self.random.choice(KEYS))

    def batch(self):
        self.words = []
        for _ in range(BATCH):
            self.random.choices((self.click, self.drag, self.wheel, self.keys), (4, 3, 1, 4))[0]()
        return "\n".join(self.words) + "\n"


def make_folder(folder):
    for name in ("lighthouse.jpg", "lighthouse.tonestair", "lighthouse-finished.jpg",
                 "lighthouse-paints.csv"):
        shutil.copy(os.path.join(DATA, "demo", name), folder)
    with open(os.path.join(folder, "lighthouse.jpg"), "rb") as whole, open(
            os.path.join(folder, "damaged.jpg"), "wb") as damaged:
        damaged.write(whole.read(40000))
    with open(os.path.join(folder, "brief.csv"), "w", encoding="utf-8") as brief:
        brief.write("name,L,a,b,tolerance\nBone,82,2,14,3\nElectric,60,-90,100,3\n")
    return os.path.join(folder, "lighthouse.tonestair")


class Session:
    """One start of the program after another, in one folder."""

    def __init__(self, folder, seed):
        self.folder, self.random = folder, random.Random(seed)
        self.plan = make_folder(folder)
        # The demo's plan may be saved over.
        self.data = shutil.copytree(DATA, os.path.join(folder, "data"))
        self.n_events = self.n_starts = 0
        self.deck, self.tried, self.reached = [], set(), set()
        self.aimed_at = collections.Counter()
        self.said, self.last_places = [], []

    def start(self):
        self.n_starts += 1
        # What a start without a file offers is tried too.
        files = self.random.choice(((self.plan,), (self.plan,), (), (os.path.join(self.folder, "lighthouse.jpg"),)))
        return Window(*files, state=os.path.join(self.folder, "state"), data=self.data)

    def judge(self, window):
        """At the end of each start: what was said, so that a long run tells all of it; a report ends the run."""
        lines = window.complaints()
        said = [line for before, line in zip([""] + lines, lines)
                if not GTK_OWN.search(line) and not AFTERMATH.search(before + "\n" + line)]
        if said or lines:
            print("--- after %s the program had said\n%s---" % (", ".join(self.last_places), window.messages), flush=True)
        self.said += said
        check("Sanitizer" not in window.messages and "runtime error" not in window.messages, "no report",
              *self.last_places, window.messages[-9000:])

    def next_place(self):
        """Each once before any comes again."""
        if not self.deck:
            self.deck = self.random.sample(PLACES, len(PLACES))
        return self.deck.pop()

    def go(self, window):
        """To the next place; FALSE where the window was closed under way."""
        place = self.next_place()
        self.tried.add(place)
        self.last_places = self.last_places[-3:] + [place]
        try:
            with hurried():
                if getattr(Ways(window, self.folder), place)():
                    self.reached.add(place)
        except (Failure, GLib.Error, subprocess.SubprocessError):
            pass  # what random input has left may bar the way
        return window.process.poll() is None

    def aim(self, window):
        """Places on the screen of a few things in sight, those first that were aimed at least."""
        found = controls(window)
        self.random.shuffle(found)
        found.sort(key=lambda pair: self.aimed_at[pair[1]])
        places = []
        for node, what in found[:AIMS]:
            try:
                x, y = node.point()
            except GLib.Error:
                continue
            if 0 <= x < 1280 and 0 <= y < 800:
                places.append((x, y))
                self.aimed_at[what] += 1
        return places

    def play(self, window, hand):
        """A few batches in the next place."""
        if not self.go(window):
            return
        try:
            with hurried():
                hand.aims = self.aim(window)
        except (Failure, GLib.Error, subprocess.SubprocessError):
            hand.aims = []
        for _ in range(3):
            # A window that is gone, or a chooser over it, may take some of it: that is no fault.
            subprocess.run(["xdotool", "-"], input=hand.batch(), text=True, timeout=120, stderr=subprocess.DEVNULL)
            self.n_events += BATCH
            if window.process.poll() is not None:
                return

    def run(self, until):
        while time.monotonic() < until:
            with self.start() as window:
                window.focus()
                hand = Hand(self.random, 1280, 800)
                end = min(until, time.monotonic() + self.random.uniform(40, 120))
                while time.monotonic() < end and window.process.poll() is None:
                    self.play(window, hand)
                status = window.process.poll()
                self.judge(window)
                check(status in (None, 0), "it lives, or has been closed", status, *self.last_places,
                      window.messages[-6000:])

    def check_saved(self):
        """A plan that went through all of it opens, changes, is saved and is read."""
        with Window(self.plan, state=os.path.join(self.folder, "state"), data=self.data) as window:
            window.focus()
            window.find("label", re.compile("^(saved|not saved)$"))
            window.key("ctrl+s")
            wait_for("nothing to save", lambda: window.find_all("label", "saved"))
            self.judge(window)
        check(not self.said, "no complaint", *self.said[:20])
        cli = os.environ.get("TS_TEST_CLI")
        if cli:
            subprocess.run([cli, "card", self.plan, "--out", os.path.join(self.folder, "card.csv")], check=True,
                           timeout=300)


def main():
    seconds = float(sys.argv[1])
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    with tempfile.TemporaryDirectory(prefix="tonestair-random-") as folder:
        os.chdir(folder)
        session = Session(folder, seed)
        session.run(time.monotonic() + seconds)
        session.check_saved()
        print("%d events, %d starts, %.0f s, seed %d: no report, plan saved and read"
              % (session.n_events, session.n_starts, seconds, seed))
        print("%d of %d places reached, %d different things aimed at; not reached: %s"
              % (len(session.reached), len(PLACES), len(session.aimed_at),
                 ", ".join(sorted(session.tried - session.reached)) or "none"))
        os.chdir("/")


if __name__ == "__main__":
    main()
