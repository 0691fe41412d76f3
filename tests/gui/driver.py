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

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, GLib  # noqa: E402

LIMIT = 20.0 * float(os.environ.get("TS_TEST_PATIENCE", "1"))


class Failure(AssertionError):
    """Something that should have come did not."""


def wait_for(what, condition, limit=None):
    """The condition's value as soon as it is true."""
    end = time.monotonic() + (limit or LIMIT)
    while True:
        try:
            value = condition()
        except GLib.Error:  # gone while it was looked at
            value = None
        if value:
            return value
        if time.monotonic() > end:
            raise Failure("waited in vain for %s" % what)
        time.sleep(0.05)


def xdo(*words):
    subprocess.run(["xdotool", *[str(w) for w in words]], check=True, timeout=30)


def matches(pattern, text):
    if pattern is None:
        return True
    return bool(pattern.search(text)) if hasattr(pattern, "search") else pattern == text


class Node:
    """One accessible thing."""

    def __init__(self, program, accessible):
        self.program, self.accessible = program, accessible

    @property
    def role(self):
        return self.accessible.get_role_name()

    @property
    def raw_name(self):
        return self.accessible.get_name() or ""

    @property
    def name(self):
        """GTK 4.8 calls a thing without a name by its C type; that is no name."""
        raw = self.raw_name
        return "" if re.fullmatch(r"(Gtk|Ts)[A-Z]\w*", raw) else raw

    @property
    def description(self):
        return self.accessible.get_description() or ""

    def has(self, state):
        return self.accessible.get_state_set().contains(getattr(Atspi.StateType, state))

    @property
    def children(self):
        found = []
        for i in range(self.accessible.get_child_count()):
            child = self.accessible.get_child_at_index(i)
            if child is not None:
                found.append(Node(self.program, child))
        return found

    def walk(self, hidden=False):
        try:
            if not hidden and self is not self.program.root and not self.has("VISIBLE"):
                return
            children = self.children
        except GLib.Error:
            return
        yield self
        for child in children:
            yield from child.walk(hidden)

    def find_all(self, role=None, name=None):
        found = []
        for node in self.walk():
            try:
                if matches(role, node.role) and matches(name, node.name):
                    found.append(node)
            except GLib.Error:
                pass
        return found

    def find(self, role=None, name=None, limit=None):
        return wait_for("%s %s" % (role, name), lambda: (self.find_all(role, name) or [None])[0], limit)

    def press(self):
        """Its first action, or a click where it has none."""
        for node in self.walk():
            action = node.accessible.get_action_iface()
            if action is not None and action.get_n_actions() > 0:
                Atspi.Action.do_action(action, 0)
                return self
        return self.click()

    def set_text(self, text):
        editable = self.accessible.get_editable_text_iface()
        if editable is None:
            raise Failure("%s is not to be typed into" % self.name)
        Atspi.EditableText.set_text_contents(editable, text)
        return self

    def extents(self):
        """x, y, width, height in the window's own units."""
        component = self.accessible.get_component_iface()
        if component is None:
            raise Failure("%s has no place" % self.name)
        e = Atspi.Component.get_extents(component, Atspi.CoordType.WINDOW)
        return e.x, e.y, e.width, e.height

    def point(self, x=None, y=None):
        """A place in it, in its own units (its middle), as pixels of the screen."""
        left, top, width, height = self.extents()
        wx, wy = self.program.window_origin()
        s = self.program.scale
        return (round(wx + s * (left + (width / 2 if x is None else x))),
                round(wy + s * (top + (height / 2 if y is None else y))))

    def click(self, x=None, y=None, times=1):
        xdo("mousemove", *self.point(x, y))
        xdo("click", "--repeat", times, "--delay", 40, 1)
        return self

    def drag(self, x0, y0, x1, y1, steps=10, hold=None):
        if hold:
            xdo("keydown", hold)
        xdo("mousemove", *self.point(x0, y0))
        xdo("mousedown", 1)
        for i in range(1, steps + 1):
            xdo("mousemove", *self.point(x0 + (x1 - x0) * i / steps, y0 + (y1 - y0) * i / steps))
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
        self.root = None
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
        desktop = Atspi.get_desktop(0)
        desktop.clear_cache()
        for i in range(desktop.get_child_count()):
            accessible = desktop.get_child_at_index(i)
            if accessible is not None and accessible.get_process_id() == self.process.pid:
                accessible.set_cache_mask(Atspi.Cache.NONE)
                return Node(self, accessible)
        return None

    @property
    def messages(self):
        self.log.flush()
        self.log.seek(0)
        return self.log.read().decode(errors="replace")

    def _windows(self):
        found = subprocess.run(["xdotool", "search", "--all", "--onlyvisible", "--pid",
                                str(self.process.pid), "--name", ""],
                               stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, timeout=30)
        return [int(line) for line in found.stdout.split()]

    def _window_id(self):
        """The main window: the largest that the window manager knows."""
        best = None
        for xid in self._windows():
            text = subprocess.run(["xwininfo", "-id", str(xid)], stdout=subprocess.PIPE, text=True,
                                  stderr=subprocess.DEVNULL, timeout=30).stdout
            size = re.search(r"Width:\s+(\d+)\s+Height:\s+(\d+)", text)
            if size and "Override Redirect State: no" in text:
                area = int(size.group(1)) * int(size.group(2))
                if best is None or area > best[0]:
                    best = area, xid
        return best and best[1]

    def window_origin(self):
        """Where the window's content begins on the screen, in device pixels."""
        xid = self._window_id()
        text = subprocess.run(["xwininfo", "-id", str(xid)], stdout=subprocess.PIPE, text=True, timeout=30).stdout
        x, y, w, h = (int(re.search(k + r":\s+(-?\d+)", text).group(1)) for k in
                      ("Absolute upper-left X", "Absolute upper-left Y", "Width", "Height"))
        frame = next(n for n in self.root.children if n.has("VISIBLE"))
        _, _, fw, fh = frame.extents()
        return x + (w - fw * self.scale) // 2, y + (h - fh * self.scale) // 2

    def focus(self):
        xid = wait_for("its window", self._window_id)
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
        xdo("key", "--delay", 25, *keys)

    def type(self, text):
        xdo("type", "--delay", 12, "--", text)

    def shoot(self, path, whole_screen=False):
        """A PNG of the window once two pictures in a row are equal."""
        xdo("mousemove", 0, 0)
        window = "root" if whole_screen else str(self._window_id())
        last, end = None, time.monotonic() + 5
        while True:
            picture = subprocess.run(["import", "-silent", "-window", window, "-depth", "8", "+set",
                                      "date:create", "+set", "date:modify", "-define",
                                      "png:exclude-chunk=time,date", "png:-"],
                                     stdout=subprocess.PIPE, check=True, timeout=60).stdout
            if picture == last or time.monotonic() > end:
                break
            last = picture
            time.sleep(0.15)
        with open(path, "wb") as file:
            file.write(picture)

    def close(self):
        """Closes the window as its button does; the exit status."""
        xdo("windowactivate", self._window_id())
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
