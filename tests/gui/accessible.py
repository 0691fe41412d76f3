"""accessible.py: what a program tells assistive technology, asked over the accessibility bus (AT-SPI 2)

The bus is spoken to directly: libatspi asks one thing at a time, and most of a test would be spent on the way there and
back. What is known of a whole window is asked level by level, all of a level at once.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import collections
import itertools
import re

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, Gio, GLib  # noqa: E402

TIMEOUT = 25000  # milliseconds that one answer may take
AT_ONCE = 24  # questions on their way: the program answers all that have come in one turn of its main loop
IN_WINDOW = 1  # ATSPI_COORD_TYPE_WINDOW
CHILDLESS = {"label", "separator", "scroll bar"}
ROLES = {int(value): Atspi.role_get_name(value) for value in Atspi.Role.__enum_values__.values()}



def is_set(words, state):
    """Whether a set of states, in words of 32 bits, has the one so called."""
    i, bit = divmod(int(getattr(Atspi.StateType, state)), 32)
    return i < len(words) and bool(words[i] >> bit & 1)


def tidy(name):
    """GTK 4.8 calls a thing without a name by its C type; that is no name."""
    return "" if re.fullmatch(r"(Gtk|Ts)[A-Z]\w*", name) else name


class Seen(collections.namedtuple("Seen", "role raw_name states box")):
    """What was so when a walk came by; the box is x, y, width and height, or None."""

    @property
    def name(self):
        return tidy(self.raw_name)

    def has(self, state):
        return is_set(self.states, state)

    @property
    def is_shown(self):
        """Has a size, or is of the kind that has no place at all."""
        return self.has("VISIBLE") and (self.box is None or (self.box[2] > 0 and self.box[3] > 0))


class Bus:
    """The accessibility bus."""

    def __init__(self):
        session = Gio.bus_get_sync(Gio.BusType.SESSION)
        address, = session.call_sync("org.a11y.Bus", "/org/a11y/bus", "org.a11y.Bus", "GetAddress", None, None,
                                     Gio.DBusCallFlags.NONE, TIMEOUT).unpack()
        flags = Gio.DBusConnectionFlags
        self.connection = Gio.DBusConnection.new_for_address_sync(
            address, flags.AUTHENTICATION_CLIENT | flags.MESSAGE_BUS_CONNECTION, None, None)
        self.roles = {}  # of each thing, for good

    def ask(self, questions):
        """The answers to all of (object, interface, method, arguments), None for what was not answered."""
        answers, waiting, open_questions = [None] * len(questions), iter(enumerate(questions)), set()

        def put(i, question):
            (name, path), interface, method, arguments = question
            open_questions.add(i)
            self.connection.call(name, path, interface, method, arguments, None, Gio.DBusCallFlags.NONE, TIMEOUT, None,
                                 hear, i)

        def hear(connection, result, i):
            open_questions.remove(i)
            for following in itertools.islice(waiting, 1):
                put(*following)
            try:
                answers[i] = connection.call_finish(result).unpack()
            except GLib.Error:  # it is gone, or is of another kind
                pass

        for first in itertools.islice(waiting, AT_ONCE):
            put(*first)
        while open_questions:
            GLib.MainContext.default().iteration(True)
        return answers

    def call(self, thing, interface, method, arguments=None):
        name, path = thing
        return self.connection.call_sync(name, path, interface, method, arguments, None, Gio.DBusCallFlags.NONE,
                                         TIMEOUT, None).unpack()

    def process(self, name):
        return self.call(("org.freedesktop.DBus", "/org/freedesktop/DBus"), "org.freedesktop.DBus",
                         "GetConnectionUnixProcessID", GLib.Variant("(s)", (name,)))[0]

    def programs(self):
        """The root of each program on the bus."""
        registry = "org.a11y.atspi.Registry", "/org/a11y/atspi/accessible/root"
        return self.call(registry, "org.a11y.atspi.Accessible", "GetChildren")[0]


class Accessible:
    """One accessible thing. What it is asked can raise GLib.Error where it is gone."""

    def __init__(self, bus, thing, seen=None, above=()):
        """@seen and @above: what a walk saw of it, and of all above it from where the walk began."""
        self.bus, self.thing, self.seen, self.above = bus, tuple(thing), seen, above

    def make(self, thing, seen=None, above=()):
        """Another of its kind."""
        return type(self)(self.bus, thing, seen, above)

    def call(self, interface, method, arguments=None):
        return self.bus.call(self.thing, "org.a11y.atspi." + interface, method, arguments)

    def get(self, interface, name):
        arguments = GLib.Variant("(ss)", ("org.a11y.atspi." + interface, name))
        return self.bus.call(self.thing, "org.freedesktop.DBus.Properties", "Get", arguments)[0]

    @property
    def role(self):
        return ROLES[self.call("Accessible", "GetRole")[0]]

    @property
    def raw_name(self):
        return self.get("Accessible", "Name")

    @property
    def name(self):
        return tidy(self.raw_name)

    @property
    def description(self):
        return self.get("Accessible", "Description")

    def has(self, state):
        return is_set(self.call("Accessible", "GetState")[0], state)

    @property
    def parent(self):
        name, path = self.get("Accessible", "Parent")
        return self.make((name, path)) if name and not path.endswith("/null") else None

    @property
    def children(self):
        return [self.make(thing) for thing in self.call("Accessible", "GetChildren")[0]]

    def extents(self):
        """x, y, width, height in the window's own units."""
        return self.call("Component", "GetExtents", GLib.Variant("(u)", (IN_WINDOW,)))[0]

    @property
    def text(self):
        """What is written in it."""
        length = self.get("Text", "CharacterCount")
        return self.call("Text", "GetText", GLib.Variant("(ii)", (0, length)))[0]

    @text.setter
    def text(self, text):
        self.call("EditableText", "SetTextContents", GLib.Variant("(s)", (text,)))

    @property
    def value(self):
        """The number it stands at."""
        return self.get("Value", "CurrentValue")

    @value.setter
    def value(self, number):
        arguments = GLib.Variant("(ssv)", ("org.a11y.atspi.Value", "CurrentValue", GLib.Variant("d", number)))
        self.bus.call(self.thing, "org.freedesktop.DBus.Properties", "Set", arguments)

    def select(self, index):
        """One child of a list, whether it is in sight or not."""
        self.call("Selection", "SelectChild", GLib.Variant("(i)", (index,)))
        return self

    def act(self):
        """Does the first thing that it or one below it can do; whether there was one."""
        for node in self.walk():
            try:
                if node.get("Action", "NActions") > 0:
                    return node.call("Action", "DoAction", GLib.Variant("(i)", (0,)))[0]
            except GLib.Error:
                continue  # does nothing
        return False

    def look(self, things):
        """What each that is there looks like, with its children."""
        accessible, roles = "org.a11y.atspi.Accessible", self.bus.roles
        new = [thing for thing in things if thing not in roles]
        for thing, role in zip(new, self.bus.ask([(thing, accessible, "GetRole", None) for thing in new])):
            if role is not None:
                roles[thing] = ROLES[role[0]]
        things = [thing for thing in things if thing in roles]
        parents = [thing for thing in things if roles[thing] not in CHILDLESS]
        name = GLib.Variant("(ss)", (accessible, "Name"))
        window = GLib.Variant("(u)", (IN_WINDOW,))
        answers = iter(self.bus.ask(
            [(thing, "org.freedesktop.DBus.Properties", "Get", name) for thing in things] +
            [(thing, accessible, "GetState", None) for thing in things] +
            [(thing, "org.a11y.atspi.Component", "GetExtents", window) for thing in things] +
            [(thing, accessible, "GetChildren", None) for thing in parents]))
        names, states, boxes, children = (dict(zip(some, answers)) for some in (things, things, things, parents))
        for thing in things:
            if None not in (names[thing], states[thing], children.get(thing, ())):
                box = boxes[thing]
                yield (thing, Seen(roles[thing], names[thing][0], states[thing][0], box and box[0]),
                       [tuple(child) for child in children[thing][0]] if thing in children else [])

    def walk(self, hidden=False, leave_out=None, leaves=()):
        """It and all below it, in order, as seen; what takes no room only where it is wanted, which spares places that
        were not yet looked at. @leave_out says of what is seen whether to pass it by; below @leaves, roles, none looks."""
        found, below, level = {}, {}, [self.thing]
        while level:
            following = []
            for thing, seen, children in self.look(level):
                if not (hidden or seen.role == "application" or seen.is_shown):
                    continue
                if leave_out is not None and leave_out(seen):
                    continue
                found[thing] = seen
                below[thing] = [] if seen.role in leaves else children
                following += below[thing]
            level = following
        if self.thing in found:
            yield from self.in_order(self.thing, found, below)

    def in_order(self, thing, found, below, above=()):
        yield self.make(thing, found[thing], above)
        for child in below[thing]:
            if child in found:
                yield from self.in_order(child, found, below, above + (found[thing],))
