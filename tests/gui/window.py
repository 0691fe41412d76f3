"""window.py: the window of Tonestair with the demo's picture, as the tests handle it

Where the program and the sources are, TS_TEST_GUI and TS_TEST_SOURCE say.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import json
import os
import re
import shutil
import tempfile

from driver import Failure, Program, wait_for, xdo

SOURCE = os.environ.get("TS_TEST_SOURCE") or os.path.join(os.path.dirname(__file__), "..", "..")
DATA = os.path.join(os.path.abspath(SOURCE), "data")
PICTURE = (1600, 1200)  # pixels of the demo's picture

# The coat's left sleeve, from data/demo/lighthouse-places.csv.
LIT, SHADOW = (140, 980), (250, 1000)


def check(condition, what, *values):
    """An assertion that says what was there instead."""
    if not condition:
        raise AssertionError("%s%s" % (what, "".join("\n  %r" % (v,) for v in values)))


class Step:
    """One step of the stair as its description tells it."""

    def __init__(self, node):
        self.node = node
        self.words = node.description
        lightness = re.search(r"\bL\* (\d+)\.", self.words)
        self.lightness = int(lightness.group(1)) if lightness else None
        self.recipe = re.findall(r"(\d+) ([A-Z][\w’' ]*?)(?= \+|,)", self.words)
        self.error = re.search(r"within about dE (\d+)", self.words)
        self.verdicts = re.findall(r"(too close|may read|reads|too wide) to (\d+)", self.words)


class Window(Program):
    """The program under test; its files lie in a folder of its own."""

    def __init__(self, *files, paints=None, state=None, data=DATA):
        """@paints: only so many of the demo's, for tests that look at each; @state: a folder that
        outlives the window; @data: what is installed, or a copy that may be written to."""
        program = os.environ.get("TS_TEST_GUI") or os.path.join(SOURCE, "build/src/gui/tonestair")
        self.holder = tempfile.TemporaryDirectory(prefix="tonestair-test-")
        self.folder = self.holder.name
        self.picture = shutil.copy(os.path.join(DATA, "demo", "lighthouse.jpg"), self.folder)
        self.plan = os.path.join(self.folder, "coat.tonestair")
        self.card = os.path.join(self.folder, "coat.pdf")
        self.nodes = {}
        self.n_saved = 0
        data = self.reduced_data(paints) if paints else data
        # What a killed program kept is offered at the next start: not to the next test.
        state = state or os.path.join(self.folder, "state")
        super().__init__([program, *(f or self.picture for f in files)],
                         {"TONESTAIR_DATA": data, "XDG_STATE_HOME": state, **self.probe()})

    def probe(self):
        """The environment that has the main loop watched, where tests/bench/probe.c has been built."""
        self.probed = os.path.join(self.folder, "probe")
        library = os.environ.get("TS_TEST_PROBE")
        return {"LD_PRELOAD": library, "TS_PROBE_FILE": self.probed} if library else {}

    def reduced_data(self, n):
        name = os.path.join("demo", "lighthouse-paints.csv")
        os.mkdir(os.path.join(self.folder, "demo"))
        with open(os.path.join(DATA, name), encoding="utf-8") as source:
            lines = source.readlines()
        head = next(i for i, line in enumerate(lines) if not line.startswith("#")) + 1
        with open(os.path.join(self.folder, name), "w", encoding="utf-8") as file:
            file.writelines(lines[:head + n])
        return self.folder

    def stop(self):
        super().stop()
        self.holder.cleanup()

    # What is there

    def known(self, role, name):
        """Found once: walking the whole window takes a second."""
        key = role, getattr(name, "pattern", name)
        if key not in self.nodes:
            self.nodes[key] = self.find(role, name)
        return self.nodes[key]

    def image(self):
        return self.known("image", re.compile("^Reference, lighthouse"))

    def curve(self):
        return self.known("table", re.compile("^Lightness curve"))

    def stair(self):
        return self.known("list", re.compile("^Stair of"))

    def on_picture(self, x, y):
        """Where a pixel of the whole picture is in the view of it."""
        _, _, width, height = self.image().extents()
        zoom = min(width / PICTURE[0], height / PICTURE[1])
        return (width - PICTURE[0] * zoom) / 2 + x * zoom, (height - PICTURE[1] * zoom) / 2 + y * zoom

    def run(self):
        """The ends of the selected run, in pixels of the picture."""
        found = re.search(r"lit (\d+), (\d+) to shadow (\d+), (\d+)", self.image().description)
        return found and (tuple(map(int, found.groups()[:2])), tuple(map(int, found.groups()[2:])))

    def steps(self):
        return [Step(n) for n in self.stair().children]

    def mixed(self, n):
        """So many steps, once each has its mix."""
        def all_there():
            steps = self.steps()
            return steps if len(steps) == n and all(s.error and s.recipe for s in steps) else None
        wait_for("%d steps with mixes" % n, all_there)
        wait_for("the end of the search", lambda: not self.is_busy())
        return wait_for("%d steps with mixes" % n, all_there)

    def is_busy(self):
        return any(n.name == "Stop" for n in self.stair_bar().find_all("push button"))

    def stair_bar(self):
        return self.known("combo box", "Number of steps").parent

    def choice(self, name):
        """What a drop-down has chosen."""
        labels = self.known("combo box", name).find_all("label")
        return labels[0].name if labels else None

    def focused(self):
        """What has the keyboard."""
        return next((n for n in self.root.walk() if n.seen.has("FOCUSED")), None)

    def button(self, name):
        """The button of that name that takes the focus: a menu button's inner one, say."""
        return wait_for("button %s" % name, lambda: next(
            (n for n in self.find_all("push button", name) if n.seen.has("FOCUSABLE")), None))

    # What is done

    def go_to(self, place):
        button = self.known("push button", place)
        button.click()
        wait_for("place %s" % place, lambda: button.has("PRESSED"))

    def choose(self, name, choice):
        """That row of the drop-down of that name."""
        box = self.find("combo box", name)
        box.click()
        wait_for("the rows", lambda: next((row for row in box.find_all("list item") if any(
            label.name == choice for label in row.find_all("label"))), None)).click()

    def answer_chooser(self, title, path, button=None):
        """Gives the file chooser of that title a path, by Return or by the button of that name."""
        chooser = self.find(None, title)
        self.focus(title)
        entry = None
        if button != "Open" and title.startswith("Save"):
            entry = chooser.find("text", re.compile("^Name"))
            wait_for("the entry's keyboard", lambda: entry.has("FOCUSED"))
            self.key("ctrl+a")
        self.type(path)
        if entry is not None:
            wait_for("the path in the entry", lambda: path == entry.text)
        if button is None:
            self.key("Return")
        else:
            chooser.find("push button", re.compile(r"\b%s$" % button)).click()
        wait_for("the chooser to go", lambda: not self.find_all(None, title))
        self.focus()

    def save_paints(self):
        """The set as the program hands it out: the rows of its table by name."""
        self.n_saved += 1
        path = os.path.join(self.folder, "saved-%d.csv" % self.n_saved)
        self.button("More").click()
        self.find("menu item", "Save paints…").click()
        self.answer_chooser("Save the Paints", path)
        wait_for("the file", lambda: os.path.exists(path))
        with open(path, encoding="utf-8", newline="") as file:
            return {row["name"]: row for row in csv.DictReader(line for line in file if not line.startswith("#"))}

    def read_plan(self):
        wait_for("the plan on disk", lambda: os.path.exists(self.plan))
        with open(self.plan, encoding="utf-8") as file:
            return json.load(file)

    def check_files(self, n_steps):
        """The plan and the card on disk are what was made."""
        plan = self.read_plan()
        surfaces = plan["surfaces"]
        check(len(surfaces) == 1, "one surface in the plan", surfaces)
        check(surfaces[0]["name"] == "Coat", "its name", surfaces[0]["name"])
        check(n_steps == find_number(surfaces[0], "n_steps", "steps"), "its steps", surfaces[0])
        with open(self.card, "rb") as file:
            card = file.read()
        check(card.startswith(b"%PDF-1."), "a PDF file", card[:16])
        check(card.rstrip().endswith(b"%%EOF") and len(card) > 10000, "a whole PDF file", len(card))

    def print_stall(self):
        """How long the painter waited at most, of a program that has ended: a figure, not a test."""
        if os.path.exists(self.probed):
            with open(self.probed, encoding="utf-8") as file:
                seen = {name: float(value) for name, value in map(str.split, file)}
            print("longest main-loop stall %.0f ms (%.0f ms of them computed), %.1f s after the start"
                  % (seen["stall_ms"], seen["stall_computing_ms"], seen["at_s"]))

    def check_quiet(self, status):
        check(status == 0, "it ended well", status, self.messages)
        check(not self.complaints(), "no complaint", *self.complaints())


def find_number(value, *names):
    """The first whole number so called, wherever in the object it is."""
    if isinstance(value, dict):
        for name in names:
            if isinstance(value.get(name), int):
                return value[name]
        for inner in value.values():
            found = find_number(inner, *names)
            if found is not None:
                return found
    return None


__all__ = ["Failure", "LIT", "PICTURE", "SHADOW", "SOURCE", "Step", "Window", "check", "wait_for", "xdo"]
