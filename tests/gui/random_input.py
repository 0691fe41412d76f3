#!/usr/bin/python3
"""random_input.py: clicks, drags, wheel and keys at random in a real window, which must not mind

  random_input.py SECONDS [SEED]

Run under tests/gui/headless, best with a sanitized program in TS_TEST_GUI. The same seed makes the
same input. Fails on a crash, a sanitizer's report or a critical warning, and where the plan can no
longer be saved and read by the command line (TS_TEST_CLI).

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time

from window import DATA, Window, check, wait_for

BATCH = 25  # events between two looks at the program

KEYS = ("Tab shift+Tab Return Escape Escape space Delete Insert Left Right Up Down shift+Left shift+Up "
        "Home End Page_Up Page_Down plus minus 0 1 v m g l r c b s o a h shift+v shift+c shift+o F6 shift+F6 ctrl+z ctrl+z ctrl+z ctrl+z "
        "ctrl+shift+z ctrl+shift+z ctrl+s ctrl+v ctrl+c ctrl+shift+c ctrl+p alt+1 alt+1 alt+1 alt+2 alt+3 "
        "alt+4 alt+5 F10 F1 ctrl+comma ctrl+question ctrl+f ctrl+o ctrl+shift+s ctrl+a BackSpace 5 9").split()


class Hand:
    """Words for xdotool, at random."""

    def __init__(self, random_source, width, height):
        self.random, self.width, self.height = random_source, width, height
        self.words = []

    def place(self):
        # The header's window buttons are left alone: closing is tried by its own.
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
    return os.path.join(folder, "lighthouse.tonestair")


class Session:
    """One start of the program after another, in one folder."""

    def __init__(self, folder, seed):
        self.folder, self.random = folder, random.Random(seed)
        self.plan = make_folder(folder)
        self.n_events = self.n_starts = 0

    def start(self):
        self.n_starts += 1
        # What a start without a file offers is tried too.
        files = self.random.choice(((self.plan,), (self.plan,), (), (os.path.join(self.folder, "lighthouse.jpg"),)))
        return Window(*files, state=os.path.join(self.folder, "state"))

    def judge(self, window):
        check(not window.complaints(), "no complaint", *window.complaints()[:5], window.messages[-3000:])
        check("Sanitizer" not in window.messages, "no report", window.messages[-6000:])

    def run(self, until):
        while time.monotonic() < until:
            with self.start() as window:
                window.focus()
                hand = Hand(self.random, 1280, 800)
                end = min(until, time.monotonic() + self.random.uniform(20, 90))
                while time.monotonic() < end and window.process.poll() is None:
                    # A window that is gone, or a chooser over it, may take some of it: that is no fault.
                    subprocess.run(["xdotool", "-"], input=hand.batch(), text=True, timeout=120,
                                   stderr=subprocess.DEVNULL)
                    self.n_events += BATCH
                    self.judge(window)
                status = window.process.poll()
                check(status in (None, 0), "it lives, or has been closed", status, window.messages[-6000:])

    def check_saved(self):
        """A plan that went through all of it opens, changes, is saved and is read."""
        with Window(self.plan, state=os.path.join(self.folder, "state")) as window:
            window.focus()
            window.find("label", re.compile("^(saved|not saved)$"))
            window.key("ctrl+s")
            wait_for("nothing to save", lambda: window.find_all("label", "saved"))
            self.judge(window)
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
        os.chdir("/")


main()
