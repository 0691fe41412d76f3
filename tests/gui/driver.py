"""driver.py: finds, presses, types and drags in a running window, always with a limit

Widgets are found as assistive technology finds them; pointer and keys go through the X server, as
from a hand. Run under tests/gui/headless with Debian's own python3.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import signal
import subprocess
import tempfile
import time

from accessible import Accessible, Bus
from gi.repository import GLib

LIMIT = 20.0 * float(os.environ.get("TS_TEST_PATIENCE", "1"))


class Failure(AssertionError):
    """Something that should have come did not."""


def wait_for(what, condition, limit=None):
    """The condition's value as soon as it is true."""
    end = time.monotonic() + (limit or LIMIT)
    while True:
        begin = time.monotonic()
        try:
            value = condition()
        except GLib.Error:  # gone while it was looked at
            value = None
        if value:
            return value
        if time.monotonic() > end:
            raise Failure("waited in vain for %s" % what)
        # Looking costs the program time that it may need to get there.
        time.sleep(max(0.05, time.monotonic() - begin))


def xdo(*words):
    subprocess.run(["xdotool", *[str(w) for w in words]], check=True, timeout=30)


def matches(pattern, text):
    if pattern is None:
        return True
    return bool(pattern.search(text)) if hasattr(pattern, "search") else pattern == text


class Node(Accessible):
    """One accessible thing of a program, as a hand meets it."""

    def __init__(self, program, thing, seen=None, above=()):
        super().__init__(program.bus, thing, seen, above)
        self.program = program

    def make(self, thing, seen=None, above=()):
        return Node(self.program, thing, seen, above)

    def find_all(self, role=None, name=None):
        return [n for n in self.walk() if matches(role, n.seen.role) and matches(name, n.seen.name)]

    def find(self, role=None, name=None, limit=None):
        return wait_for("%s %s" % (role, name), lambda: (self.find_all(role, name) or [None])[0], limit)

    def press(self):
        """Its first action, or a click where it has none."""
        return self if self.act() else self.click()

    def box(self):
        """left, top, width, height on the screen, in device pixels."""
        chain, above = [self], self.parent
        # Asked for once: what is taken away meanwhile has none.
        while above is not None and above.role != "application":
            chain.append(above)
            above = above.parent
        scale = self.program.scale
        left, top, width, height = self.extents()
        origin = None
        for i, node in enumerate(chain[:-2]):
            if node.raw_name == "GtkPopoverContent":
                # A window of its own, but 4.8 counts from what the popover hangs on.
                _, _, pw, ph = chain[i + 1].extents()
                left, top = (a - b for a, b in zip((left, top), chain[i + 2].extents()))
                origin = self.program.popover_origin(pw * scale, ph * scale)
                break
        x, y = origin or self.program.window_origin(chain[-1])
        return x + scale * left, y + scale * top, scale * width, scale * height

    def point(self, x=None, y=None):
        """A place in it, in its own units (its middle), as pixels of the screen."""
        left, top, width, height = self.box()
        s = self.program.scale
        return (round(left + (width / 2 if x is None else s * x)),
                round(top + (height / 2 if y is None else s * y)))

    def click(self, x=None, y=None, times=1, button=1):
        xdo("mousemove", *self.point(x, y))
        xdo("click", "--repeat", times, "--delay", 40, button)
        return self

    def draw(self, places, hold=(), steps=4):
        """One drag from place to place, with keys held."""
        places = [self.point(x, y) for x, y in places]
        for key in hold:
            xdo("keydown", key)
        xdo("mousemove", *places[0])
        xdo("mousedown", 1)
        for (px, py), (qx, qy) in zip(places, places[1:]):
            for i in range(1, steps + 1):
                xdo("mousemove", round(px + (qx - px) * i / steps), round(py + (qy - py) * i / steps))
                time.sleep(0.015)
        xdo("mouseup", 1)
        for key in hold:
            xdo("keyup", key)
        return self

    def drag(self, x0, y0, x1, y1, steps=10, hold=None):
        if hold:
            xdo("keydown", hold)
        (px, py), (qx, qy) = self.point(x0, y0), self.point(x1, y1)
        xdo("mousemove", px, py)
        xdo("mousedown", 1)
        for i in range(1, steps + 1):
            # One jump would be one motion, and hide faults; so short a time is a hand's, not a wait.
            xdo("mousemove", round(px + (qx - px) * i / steps), round(py + (qy - py) * i / steps))
            time.sleep(0.015)
        xdo("mouseup", 1)
        if hold:
            xdo("keyup", hold)
        return self


class Program:
    """A program under test."""

    def __init__(self, command, environment=None):
        self.scale = int(os.environ.get("GDK_SCALE", "1"))
        self.log = tempfile.TemporaryFile()
        self.process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=self.log,
                                        stderr=subprocess.STDOUT, start_new_session=True,
                                        env={**os.environ, **(environment or {})})
        self.bus, self.root = Bus(), None
        try:
            self.root = wait_for("the program", self._find_root)
            wait_for("its window", self._window_id)
        except BaseException:
            print(self.messages)
            self.stop()
            raise

    def _find_root(self):
        if self.process.poll() is not None:
            raise Failure("it ended with %s\n%s" % (self.process.returncode, self.messages))
        for name, path in self.bus.programs():
            if self.bus.process(name) == self.process.pid:
                return Node(self, (name, path))
        return None

    @property
    def messages(self):
        self.log.flush()
        self.log.seek(0)
        return self.log.read().decode(errors="replace")

    def _windows(self, name=""):
        found = subprocess.run(["xdotool", "search", "--all", "--onlyvisible", "--pid",
                                str(self.process.pid), "--name", name],
                               stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, timeout=30)
        return [int(line) for line in found.stdout.split()]

    @staticmethod
    def _geometry(xid):
        """x, y, width, height, and whether the window manager leaves it alone."""
        text = subprocess.run(["xwininfo", "-id", str(xid)], stdout=subprocess.PIPE, text=True,
                              stderr=subprocess.DEVNULL, timeout=30).stdout
        found = [re.search(k + r":\s+(-?\d+)", text) for k in
                 ("Absolute upper-left X", "Absolute upper-left Y", "Width", "Height")]
        if None in found:
            return None
        return [int(m.group(1)) for m in found], "Override Redirect State: yes" in text

    def _window_id(self, title=None):
        """The largest window that the window manager knows: the main one, or the one so called."""
        best = None
        for xid in self._windows("^%s$" % re.escape(title) if title else ""):
            known = self._geometry(xid)
            if known and not known[1]:
                area = known[0][2] * known[0][3]
                if best is None or area > best[0]:
                    best = area, xid
        return best and best[1]

    def window_origin(self, frame):
        """Where a window's content begins on the screen, in device pixels."""
        # A main window is found by its size: its title changes with the plan.
        title = None if frame.role == "frame" else frame.raw_name
        xid = wait_for("window %s" % title, lambda: self._window_id(title))
        (x, y, w, h), _ = wait_for("its place", lambda: self._geometry(xid))
        _, _, fw, fh = frame.extents()
        return x + (w - fw * self.scale) // 2, y + (h - fh * self.scale) // 2

    def popover_origin(self, width, height):
        """Where the popover of about that size stands."""
        best = None
        for xid in self._windows():
            known = self._geometry(xid)
            if known and known[1] and known[0][2] >= width and known[0][3] >= height:
                area = known[0][2] * known[0][3]
                if best is None or area < best[0]:
                    best = area, known[0][:2]
        if best is None:
            raise Failure("no popover of %dx%d on the screen" % (width, height))
        return best[1]

    def focus(self, title=None):
        """Gives the keyboard to its window, or to the one so called: earlier keys would be lost."""
        xid = wait_for("its window", lambda: self._window_id(title))
        xdo("windowactivate", xid)

        def focused():
            got = subprocess.run(["xdotool", "getwindowfocus"], stdout=subprocess.PIPE, text=True,
                                 stderr=subprocess.DEVNULL, timeout=30)
            return got.stdout.strip() == str(xid)
        wait_for("the keyboard", focused)
        return self

    def find(self, role=None, name=None, limit=None):
        return self.root.find(role, name, limit)

    def find_all(self, role=None, name=None):
        return self.root.find_all(role, name)

    def key(self, *keys):
        xdo("key", "--delay", 12, *keys)

    def type(self, text):
        """Types what the US layout has on one line: "\\n" and capitals beyond A to Z do not arrive."""
        xdo("type", "--delay", 12, "--", text)

    def shoot(self, path, whole_screen=False):
        """A PNG of the window once two pictures in a row are equal."""
        xdo("mousemove", 0, 0)
        window = "root" if whole_screen else str(self._window_id())
        last, end = None, time.monotonic() + 5
        while True:
            picture = subprocess.run(["import", "-silent", "-window", window, "-depth", "8", "ppm:-"],
                                     stdout=subprocess.PIPE, check=True, timeout=60).stdout
            if picture == last or time.monotonic() > end:
                break
            last = picture
            time.sleep(0.15)
        subprocess.run(["convert", "ppm:-", "+set", "date:create", "+set", "date:modify", "-define",
                        "png:exclude-chunk=time,date", "png:" + path], input=picture, check=True, timeout=60)

    def close(self):
        """Closes the window as its button does; the exit status."""
        self.focus()
        self.key("alt+F4")
        return self.process.wait(LIMIT)

    def complaints(self):
        return [line for line in self.messages.splitlines()
                if re.search(r"CRITICAL|WARNING|ERROR: |runtime error", line) and "dbind" not in line]

    def stop(self):
        for number in (signal.SIGTERM, signal.SIGKILL):
            try:
                os.killpg(self.process.pid, number)
                self.process.wait(3)
                return
            except (ProcessLookupError, subprocess.TimeoutExpired):
                continue

    def __enter__(self):
        return self

    def __exit__(self, kind, value, trace):
        if kind is not None:
            print("--- what the program said\n%s---" % self.messages)
        self.stop()
        self.log.close()
