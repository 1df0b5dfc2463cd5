"""Starts the real program on a display of its own and drives it as a person would: with mouse and
keys, and through the accessibility tree.

Runs inside a display and a session bus: see run-on-display.sh."""

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
import traceback
import warnings

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi  # noqa: E402

warnings.simplefilter("ignore", DeprecationWarning)
PATIENCE = 30.0  # seconds for anything that will come: a machine may be busy
# What GTK 4.8 says of its own, and nothing comes of it. Any other complaint fails.
OF_THE_TOOLKIT = (
    # When the tree is read while a page is made anew: what was asked about has no window yet, and gets its role with it.
    "gtk_at_context_set_accessible_role: assertion '!self->realized' failed",
    # Twice, when its dialog for files is painted before its folder is known (slow disk, busy machine): the row of folders
    # gives its two arrows no place until then (gtk_path_bar_size_allocate in gtkpathbar.c), but shows them.
    "Trying to snapshot GtkButton",
)


class Failed(Exception):
    pass


def check(truth, words):
    if not truth:
        raise Failed(words)


def wait_until(what, words, seconds=PATIENCE):
    """What `what` gives, once it is true."""
    end = time.monotonic() + seconds
    while True:
        begin = time.monotonic()
        got = what()
        if got:
            return got
        now = time.monotonic()
        if now > end:
            raise Failed(words() if callable(words) else words)
        time.sleep(min(max(0.05, now - begin), 0.5))  # a look costs the program time too


def children(node):
    try:
        count, counted = node.get_child_count(), time.monotonic()
        for i in range(count):
            # A window may go meanwhile, and GTK 4.8 complains of a number past the last.
            if time.monotonic() - counted > 0.02 and i >= node.get_child_count():
                return
            child = node.get_child_at_index(i)
            if child is not None:
                yield child
    except gi.repository.GLib.Error:
        return  # it went while it was looked at


def walk(node):
    yield node
    for child in children(node):
        yield from walk(child)


def is_sensitive(node):
    return node.get_state_set().contains(Atspi.StateType.SENSITIVE)


def role_of(node):
    try:
        return node.get_role_name()
    except gi.repository.GLib.Error:
        return ""


def name_of(node):
    try:
        return node.get_name() or ""
    except gi.repository.GLib.Error:
        return ""


def xdo_words(*words):
    run = subprocess.run(["xdotool", *words], capture_output=True, text=True, check=False)
    return run.stdout.split()


def settings_file(home, kind="config"):
    """Where a program with that home keeps what was chosen ("config") or how it was left ("state")."""
    return os.path.join(home, kind, "flapwright", "settings.keyfile" if kind == "config" else "state.keyfile")


def settings_text(home, kind="config"):
    """What stands there; "" if nothing does yet."""
    path = settings_file(home, kind)
    if not os.path.exists(path):
        return ""
    with open(path, encoding="utf-8") as file:
        return file.read()


def write_state(home, lines):
    """How the program was left, as lines of its key file."""
    path = settings_file(home, "state")
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "w", encoding="utf-8") as file:
        file.write("[State]\n" + lines)


class Program:
    """One run. `home` None: with a home of its own, in which the first steps were seen."""

    def __init__(self, program, *arguments, home=None, settings="first-steps-done=true\n", size=(1600, 1000)):
        self.home = home or tempfile.mkdtemp(prefix="flapwright-test-")
        self.own_home = home is None
        if home is None:
            write_state(self.home, settings + f"width={size[0]}\nheight={size[1]}\n")
        environment = dict(os.environ, HOME=self.home,
                           XDG_CONFIG_HOME=os.path.join(self.home, "config"),
                           XDG_STATE_HOME=os.path.join(self.home, "state"),
                           XDG_DATA_HOME=os.path.join(self.home, "data"),
                           XDG_CACHE_HOME=os.path.join(self.home, "cache"))
        self.output = open(os.path.join(self.home, "output.txt"), "a+", encoding="utf-8")
        self.process = subprocess.Popen([program, *arguments], env=environment, cwd=self.home,
                                        stdout=self.output, stderr=self.output)
        self.node = wait_until(self._find_application, "the program is not in the accessibility tree")
        self.find("push button", "New design")  # the window is there

    def _find_application(self):
        self.check_alive()
        desktop = Atspi.get_desktop(0)
        for node in children(desktop):
            try:
                if node.get_process_id() == self.process.pid and node.get_child_count() > 0:
                    return node
            except gi.repository.GLib.Error:
                continue
        return None

    def check_alive(self):
        if self.process.poll() is not None:
            raise Failed("the program has ended: " + self.said())
        faults = [line for line in self.complaints() if "CRITICAL" in line]
        if faults:
            raise Failed("the program complained: " + "; ".join(faults))

    def said(self):
        self.output.flush()
        with open(self.output.name, encoding="utf-8") as file:
            return file.read()

    def complaints(self):
        return [line for line in self.said().splitlines()
                if ("CRITICAL" in line or "WARNING" in line or "ERROR" in line) and not any(words in line for words in OF_THE_TOOLKIT)]

    # ---- The accessibility tree ----

    def seek(self, role, name):
        """The first node of that role whose name starts so; None. What is hidden is not in the tree."""
        self.check_alive()
        for node in walk(self.node):
            if role_of(node) == role and name_of(node).startswith(name):
                return node
        return None

    def find(self, role, name, seconds=PATIENCE):
        return wait_until(lambda: self.seek(role, name), f"no {role} named {name!r} in sight", seconds)

    def gone(self, role, name):
        wait_until(lambda: self.seek(role, name) is None, f"the {role} named {name!r} is still there")

    def says(self, words, seconds=PATIENCE):
        """Waits for a label or a message that holds the words; returns its whole text."""
        def seek():
            self.check_alive()
            for node in walk(self.node):
                name = name_of(node)
                if words in name:
                    return name
            return None
        return wait_until(seek, f"nothing says {words!r}", seconds)

    def title(self):
        """Name of the window: the design's title."""
        return next((name_of(node) for node in children(self.node)), "")

    # ---- Mouse and keys ----

    @staticmethod
    def xdo(*words):
        subprocess.run(["xdotool", *[str(word) for word in words]], check=True)

    def origin(self, node):
        """Where the node's window begins on the screen. The tree knows places in the window only, and
        the window has a border around what the tree counts."""
        frame = node
        while frame.get_parent() is not None and role_of(frame.get_parent()) != "application":
            frame = frame.get_parent()
        size = Atspi.Component.get_extents(frame, Atspi.CoordType.WINDOW)
        for window in xdo_words("search", "--onlyvisible", "--name", re.escape(name_of(frame))):
            place = dict(line.split("=") for line in xdo_words("getwindowgeometry", "--shell", window))
            border = (int(place["WIDTH"]) - size.width) / 2
            if 0 <= border < 60:
                return int(place["X"]) + border, int(place["Y"]) + border
        raise Failed(f"no window {name_of(frame)!r} on the screen")

    def place(self, node):
        """x, y, width, height on the screen."""
        box = Atspi.Component.get_extents(node, Atspi.CoordType.WINDOW)
        x, y = self.origin(node)
        return box.x + x, box.y + y, box.width, box.height

    def center(self, node):
        """Of where the node has come to rest: what has just appeared may still be moved about."""
        def rested():
            before = self.place(node)
            time.sleep(0.06)
            return before if before[2] > 0 and before == self.place(node) else None
        x, y, width, height = wait_until(rested, f"{name_of(node)!r} does not stand still")
        return x + width / 2, y + height / 2

    def click(self, node):
        x, y = self.center(node)
        self.xdo("mousemove", int(x), int(y), "click", 1)

    def press(self, role, name):
        node = self.find(role, name)
        wait_until(lambda: is_sensitive(node), f"{name!r} cannot be pressed")
        self.click(node)
        return node

    def drag(self, x, y, dx, dy, steps=8):
        self.xdo("mousemove", int(x), int(y), "mousedown", 1)
        for i in range(1, steps + 1):
            self.xdo("mousemove", int(x + dx * i / steps), int(y + dy * i / steps))
            time.sleep(0.02)
        self.xdo("mouseup", 1)

    def give_keyboard(self):
        """To the newest window, where nothing has it: as a window manager does after a dialog has closed. There is
        none here, and keys would go to whatever the pointer is over, a tooltip at times."""
        windows = xdo_words("search", "--all", "--onlyvisible", "--pid", str(self.process.pid), "--name", ".")
        if windows and not set(xdo_words("getwindowfocus")) & set(windows):
            self.xdo("windowfocus", windows[-1])

    def key(self, *keys):
        self.give_keyboard()
        for key in keys:
            self.xdo("key", key)

    def type(self, text):
        self.give_keyboard()
        self.xdo("type", "--delay", 12, text)

    def shot(self, path):
        subprocess.run(["import", "-window", "root", path], check=True)

    # ---- The end ----

    def kill(self):
        """As a crash would."""
        self.process.kill()
        self.process.wait()

    def wait_end(self, seconds=PATIENCE):
        try:
            return self.process.wait(timeout=seconds)
        except subprocess.TimeoutExpired as error:
            raise Failed("the program goes on") from error

    def close(self):
        if self.process.poll() is None:
            self.process.terminate()
            try:
                self.process.wait(timeout=3)
            except subprocess.TimeoutExpired:
                self.kill()
        self.output.close()
        if self.own_home:
            shutil.rmtree(self.home, ignore_errors=True)


def run(tests):
    """Runs functions named by sentences, and prints TAP. Each opens and closes what it needs. Words on
    the command line, behind the files, choose those whose names hold one of them."""
    words = [word for word in sys.argv[1:] if not os.path.exists(word)]
    tests = [test for test in tests if not words or any(word in test.__name__ for word in words)]
    failed = 0
    print(f"1..{len(tests)}")
    for number, test in enumerate(tests, 1):
        name = test.__name__.replace("_", " ")
        begin = time.monotonic()
        try:
            test()
            print(f"ok {number} - {name}\n# {time.monotonic() - begin:.1f} s", flush=True)
        except Exception as error:  # any failure is this test's alone
            failed += 1
            print(f"not ok {number} - {name}")
            for line in (str(error) + "\n" + traceback.format_exc()).splitlines():
                print("#", line)
            sys.stdout.flush()
    return 1 if failed else 0
