"""The accessibility tree of a program in one look: all nodes by one call of the bus, where walking it takes thousands.

For long walks through the window; what it finds is what drive.Program finds."""

import re
import subprocess
import time

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, Gio, GLib  # noqa: E402

IFACE = "org.a11y.atspi."
# What is in them is known by their own name.
LEAVES = {int(role) for role in (Atspi.Role.LABEL, Atspi.Role.TEXT, Atspi.Role.SLIDER, Atspi.Role.SCROLL_BAR)}
ROOT = "/org/a11y/atspi/accessible/root"


class Node:
    """One node as it was when it was looked at."""

    def __init__(self, item):
        _, _, parent, _, _, _, self.name, role, self.description, states = item
        self.path, self.parent = item[0][1], parent[1]
        self.role = Atspi.role_get_name(Atspi.Role(role))
        self.states = states[0] | states[1] << 32

    def has(self, state):
        return bool(self.states >> int(state) & 1)

    sensitive = property(lambda self: self.has(Atspi.StateType.SENSITIVE))
    focused = property(lambda self: self.has(Atspi.StateType.FOCUSED))


class Tree:
    def __init__(self, pid):
        self.items = {}
        session = Gio.bus_get_sync(Gio.BusType.SESSION)
        address = session.call_sync("org.a11y.Bus", "/org/a11y/bus", "org.a11y.Bus", "GetAddress", None, None, 0, -1, None)
        flags = Gio.DBusConnectionFlags.AUTHENTICATION_CLIENT | Gio.DBusConnectionFlags.MESSAGE_BUS_CONNECTION
        self.bus = Gio.DBusConnection.new_for_address_sync(address.unpack()[0], flags, None, None)
        self.name = next(name for name in self._daemon("ListNames", None) if self._pid(name) == pid)

    def _daemon(self, method, words):
        return self.bus.call_sync("org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus", method, words, None,
                                  0, -1, None).unpack()[0]

    def _pid(self, name):
        try:
            return self._daemon("GetConnectionUnixProcessID", GLib.Variant("(s)", (name,)))
        except GLib.Error:
            return 0

    def _call(self, path, interface, method, words=None):
        return self.bus.call_sync(self.name, path, interface, method, words, None, 0, 10000, None).unpack()

    def _children(self, paths):
        """Of many nodes: all are asked before the first has answered. One that has gone has none."""
        answers = {}
        loop = GLib.MainContext.default()

        def answered(bus, result, path):
            try:
                answers[path] = [child[1] for child in bus.call_finish(result).unpack()[0]]
            except GLib.Error:
                answers[path] = []
        for path in paths:
            self.bus.call(self.name, path, IFACE + "Accessible", "GetChildren", None, None, 0, 10000, None, answered, path)
        while len(answers) < len(paths):
            loop.iteration(True)
        return [child for path in paths for child in answers[path]]

    def windows(self):
        """How many there are, dialogs among them."""
        return len(self._children([ROOT]))

    def nodes(self):
        """All that is in sight of the tree, in its order level by level. The program knows names and roles at once, but
        only of nodes that were asked for."""
        level, seen = [ROOT], []
        while level:
            level = self._children([path for path in level if path not in self.items or self.items[path][7] not in LEAVES])
            seen += level
        self.items = {item[0][1]: item for item in self._call("/org/a11y/atspi/cache", IFACE + "Cache", "GetItems")[0]}
        return [Node(self.items[path]) for path in seen if path in self.items]

    def is_in(self, node, other):
        """As the nodes were last looked at."""
        path = node.path
        while path in self.items and path != other.path:
            path = self.items[path][2][1]
        return path == other.path

    def act(self, node):
        """Presses it, wherever it is scrolled to."""
        self._call(node.path, IFACE + "Action", "DoAction", GLib.Variant("(i)", (0,)))

    def value(self, node):
        return self._call(node.path, "org.freedesktop.DBus.Properties", "Get",
                          GLib.Variant("(ss)", (IFACE + "Value", "CurrentValue")))[0]

    def _extents(self, path):
        return self._call(path, IFACE + "Component", "GetExtents", GLib.Variant("(u)", (1,)))[0]

    def _origin(self, node):
        """Where its window begins on the screen, as drive.Program.origin () finds it."""
        while node.parent in self.items and self.items[node.parent][7] != int(Atspi.Role.APPLICATION):
            node = Node(self.items[node.parent])
        width = self._extents(node.path)[2]
        for window in xdo("search", "--onlyvisible", "--name", re.escape(node.name)):
            place = dict(line.split("=") for line in xdo("getwindowgeometry", "--shell", window))
            border = (int(place["WIDTH"]) - width) / 2
            if 0 <= border < 60:
                return int(place["X"]) + border, int(place["Y"]) + border
        return None

    def middle(self, node):
        """Its middle on the screen, once it stands still."""
        before = None
        for _ in range(60):
            box = self._extents(node.path)
            if box[2] > 0 and box == before:
                origin = self._origin(node)
                return (origin[0] + box[0] + box[2] / 2, origin[1] + box[1] + box[3] / 2) if origin else None
            before = box
            time.sleep(0.06)
        return None


def xdo(*words):
    return subprocess.run(["xdotool", *words], capture_output=True, text=True, check=False).stdout.split()
