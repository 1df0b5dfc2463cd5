#!/usr/bin/python3
"""Hands that know nothing: random clicks, drags, keys and numbers into the real program. Prints TAP.

    run-on-display.sh random_hands.py FLAPWRIGHT DEMOS [--seed N] [--minutes M] [--steps N] [--patience S]

What is done at a step follows from the seed and the step's number alone, so a run can be played again; what it
meets also depends on how fast the machine is. Watched: sanitizers, what GLib complains of, ends that are none,
a main loop that does not answer, memory. The program may write in its own home and nowhere else (Landlock)."""

import argparse
import ctypes
import glob
import os
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time

import gi

gi.require_version("Gio", "2.0")
from gi.repository import Gio, GLib  # noqa: E402

BUS_NAME = "org.flapwright.Flapwright"
WIDTH, HEIGHT = 1600, 1000
WINDOW_MB = 10  # what a design's window takes: they are opened and left open
SILENT = 90  # seconds without an answer, whatever the program is doing: a machine may be busy
LINES_OF_TROUBLE = ("CRITICAL", "WARNING", "ERROR", "runtime error", "Sanitizer", "assertion")
# What GTK 4.8 says of its own: its count of pressed widgets, when what is pressed goes from sight; a scroll bar that it
# had laid out, when its text view scrolls while it is painted; its dialog for files, painted before the folder is known (see
# drive.py); a list opened by a key from what the screen does not show, for no monitor is near it (gdksurface-x11.c).
NOT_OURS = ("Broken accounting of active state", "Trying to snapshot GtkGizmo", "Trying to snapshot GtkButton",
            "gdk_monitor_get_geometry: assertion")

# What opens pages and windows: each comes round again and again, in an order drawn anew.
OPENERS = ["ctrl+n", "ctrl+shift+n", "ctrl+o", "ctrl+shift+s", "ctrl+e", "ctrl+l", "ctrl+shift+l", "ctrl+b", "ctrl+t",
           "ctrl+k", "ctrl+r", "ctrl+m", "ctrl+g", "ctrl+f", "F2", "alt+u", "alt+l", "alt+a", "alt+e", "alt+k", "F1", "F9", "F10",
           "shift+F1", "ctrl+F1", "ctrl+slash", "ctrl+s"]
SWITCHES = ["alt+m", "alt+i", "space", "shift+space", "alt+Right", "alt+Left", "alt+Page_Down", "alt+Page_Up", "alt+shift+Page_Down",
            "ctrl+1", "ctrl+2", "ctrl+3", "ctrl+4", "ctrl+5", "ctrl+0", "ctrl+plus", "ctrl+minus", "alt+1", "alt+2", "alt+3", "alt+p",
            "alt+w", "alt+r", "alt+d", "alt+h", "alt+t", "alt+f", "alt+shift+f", "alt+s", "alt+o", "alt+n", "alt+g", "alt+b", "alt+v"]
KEYS = ["Tab", "shift+Tab", "Up", "Down", "Left", "Right", "Return", "Escape", "space", "Delete", "BackSpace", "Home", "End",
        "Page_Up", "Page_Down", "bracketleft", "bracketright", "shift+Up", "ctrl+a", "ctrl+c", "ctrl+v", "Menu"]
NUMBERS = ["0", "1", "-1", "12.5", "30", "90", "180", "360", "1e5", "-1e5", "999999", "1e6", "1e-6", "0.001", "3/4 in", "1 1/2\"",
           "30 deg", "0.5 rad", "2,5 cm", "120 g", "abc", "", "inner.top=30", "arm.top=20..40", "push=45", "arm-rod.length"]
ENDS = ["ctrl+q", "ctrl+w", "alt+F4"]


# ---- A program that can write at home only ----

def landlock(home):
    """Called in the child, before the program runs. OSError where the system cannot do it."""
    libc = ctypes.CDLL(None, use_errno=True)
    writes = sum(1 << bit for bit in (1, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14))

    class Rules(ctypes.Structure):
        _fields_ = [("fs", ctypes.c_uint64)]

    class Beneath(ctypes.Structure):
        _pack_ = 1
        _fields_ = [("access", ctypes.c_uint64), ("fd", ctypes.c_int32)]

    rules = Rules(writes)
    ruleset = libc.syscall(444, ctypes.byref(rules), ctypes.c_size_t(8), 0)
    if ruleset < 0:
        raise OSError("no Landlock")
    for path, access in ((home, writes), ("/dev", 1 << 1), ("/proc", 1 << 1)):
        fd = os.open(path, os.O_PATH)
        rule = Beneath(access, fd)
        if libc.syscall(445, ruleset, 1, ctypes.byref(rule), 0) != 0:
            raise OSError("no Landlock")
        os.close(fd)
    libc.prctl(38, 1, 0, 0, 0)
    if libc.syscall(446, ruleset, 0) != 0:
        raise OSError("no Landlock")


def can_lock():
    return ctypes.CDLL(None).syscall(444, None, 0, 1) >= 3  # the first that guards truncation


# ---- Mouse and keys ----

class Look(ctypes.Structure):  # XWindowAttributes
    _fields_ = [("place", ctypes.c_int * 4), ("border", ctypes.c_int), ("depth", ctypes.c_int), ("visual", ctypes.c_void_p),
                ("root", ctypes.c_ulong), ("hints", ctypes.c_int * 4), ("planes", ctypes.c_ulong * 2), ("under", ctypes.c_int),
                ("colours", ctypes.c_ulong), ("installed", ctypes.c_int), ("seen", ctypes.c_int), ("more", ctypes.c_long * 8)]


IGNORE = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_void_p)(lambda display, error: 0)


class Hands:
    def __init__(self):
        self.x11, self.xtest = ctypes.CDLL("libX11.so.6"), ctypes.CDLL("libXtst.so.6")
        self.x11.XSetErrorHandler(IGNORE)  # a window that is asked about may have gone
        self.x11.XOpenDisplay.restype = ctypes.c_void_p
        self.x11.XStringToKeysym.restype = ctypes.c_ulong
        self.x11.XkbKeycodeToKeysym.restype = ctypes.c_ulong
        self.display = ctypes.c_void_p(self.x11.XOpenDisplay(None))
        self.named = {" ": "space", ".": "period", ",": "comma", "/": "slash", "-": "minus", "=": "equal", '"': "quotedbl",
                      "*": "asterisk", "@": "at"}

        self.say_windows_are_moved()

    def say_windows_are_moved(self):
        """Tells the display that a window manager moves windows, and moves none. Without one GDK 4.8 moves them by
        itself, and ends the program with an X error where a window goes while it is moved."""
        self.x11.XDefaultRootWindow.restype = self.x11.XCreateSimpleWindow.restype = self.x11.XInternAtom.restype = ctypes.c_ulong
        root = ctypes.c_ulong(self.x11.XDefaultRootWindow(self.display))
        own = ctypes.c_ulong(self.x11.XCreateSimpleWindow(self.display, root, -10, -10, 1, 1, 0, ctypes.c_ulong(0), ctypes.c_ulong(0)))

        def put(window, name, kind, value):
            atom = ctypes.c_ulong(self.x11.XInternAtom(self.display, name, 0))
            self.x11.XChangeProperty(self.display, window, atom, ctypes.c_ulong(kind), 32, 0, ctypes.byref(value), 1)

        for window in (root, own):
            put(window, b"_NET_SUPPORTING_WM_CHECK", 33, own)  # XA_WINDOW
        put(root, b"_NET_SUPPORTED", 4, ctypes.c_ulong(self.x11.XInternAtom(self.display, b"_NET_WM_MOVERESIZE", 0)))  # XA_ATOM
        self.flush()

    def flush(self):
        self.x11.XSync(self.display, 0)

    def move(self, x, y):
        self.xtest.XTestFakeMotionEvent(self.display, -1, int(x), int(y), 0)

    def button(self, number, down):
        self.xtest.XTestFakeButtonEvent(self.display, number, int(down), 0)

    def click(self, number=1, times=1):
        for _ in range(times):
            self.button(number, True)
            self.button(number, False)

    def code(self, name):
        """The key, and whether Shift goes with it."""
        sym = self.x11.XStringToKeysym(name.encode())
        code = self.x11.XKeysymToKeycode(self.display, ctypes.c_ulong(sym))
        return code, self.x11.XkbKeycodeToKeysym(self.display, code, 0, 0) != sym

    def key(self, words):
        *mods, name = words.split("+")
        code, shifted = self.code(name)
        held = [self.code({"ctrl": "Control_L", "alt": "Alt_L", "shift": "Shift_L"}[mod])[0] for mod in mods]
        if shifted and "shift" not in mods:
            held.append(self.code("Shift_L")[0])
        for k in held:
            self.xtest.XTestFakeKeyEvent(self.display, k, 1, 0)
        self.xtest.XTestFakeKeyEvent(self.display, code, 1, 0)
        self.xtest.XTestFakeKeyEvent(self.display, code, 0, 0)
        for k in reversed(held):
            self.xtest.XTestFakeKeyEvent(self.display, k, 0, 0)

    def type(self, text):
        for letter in text:
            self.key(self.named.get(letter, letter))

    def title(self, window):
        """Of a window in sight, else empty."""
        look, name = Look(), ctypes.c_char_p()
        window = ctypes.c_ulong(window)
        if not self.x11.XGetWindowAttributes(self.display, window, ctypes.byref(look)) or look.seen != 2:  # IsViewable
            return ""
        kind, form, n, rest = ctypes.c_ulong(), ctypes.c_int(), ctypes.c_ulong(), ctypes.c_ulong()
        atom = ctypes.c_ulong(self.x11.XInternAtom(self.display, b"_NET_WM_NAME", 0))
        self.x11.XGetWindowProperty(self.display, window, atom, ctypes.c_long(0), ctypes.c_long(256), 0, ctypes.c_ulong(0),
                                    ctypes.byref(kind), ctypes.byref(form), ctypes.byref(n), ctypes.byref(rest), ctypes.byref(name))
        text = (name.value or b"").decode(errors="replace")
        self.x11.XFree(name)
        return text

    def windows(self):
        root, parent, children, n = ctypes.c_ulong(), ctypes.c_ulong(), ctypes.POINTER(ctypes.c_ulong)(), ctypes.c_uint()
        self.x11.XQueryTree(self.display, ctypes.c_ulong(self.x11.XDefaultRootWindow(self.display)), ctypes.byref(root),
                            ctypes.byref(parent), ctypes.byref(children), ctypes.byref(n))
        windows = children[:n.value]
        self.x11.XFree(children)
        return windows

    def find(self, titles):
        """A window in sight that has one of the titles; None."""
        return next((window for window in self.windows() if self.title(window) in titles), None)

    def count(self):
        """Windows in sight that have a title."""
        return sum(self.title(window) != "" for window in self.windows())

    def focus(self, window):
        self.x11.XSetInputFocus(self.display, ctypes.c_ulong(window), 2, ctypes.c_ulong(0))  # RevertToParent


def do_step(hands, seed, number):
    """One thing done; what it was, in words."""
    rand = random.Random(f"{seed}/{number}")
    x, y = rand.randrange(WIDTH), rand.randrange(HEIGHT)
    if number % 7 == 0:
        deck = OPENERS[:]
        turn, place = divmod(number // 7, len(deck))
        random.Random(f"{seed}/deck {turn}").shuffle(deck)
        hands.key(deck[place])
        return deck[place]
    kind = rand.choices(["click", "twice", "menu", "drag", "scroll", "key", "switch", "number", "undo", "end"],
                        [34, 4, 4, 10, 6, 16, 8, 9, 8, 0.15])[0]
    if kind in ("click", "twice", "menu"):
        hands.move(x, y)
        hands.click(3 if kind == "menu" else 1, 2 if kind == "twice" else 1)
        return f"{kind} {x} {y}"
    if kind == "drag":
        dx, dy = rand.randrange(-400, 400), rand.randrange(-300, 300)
        hands.move(x, y)
        hands.button(1, True)
        for i in range(1, 7):
            hands.move(x + dx * i / 6, y + dy * i / 6)
            hands.flush()
            time.sleep(0.01)
        if rand.random() < 0.1:
            hands.key("Escape")
        hands.button(1, False)
        return f"drag {x} {y} by {dx} {dy}"
    if kind == "scroll":
        hands.move(x, y)
        hands.click(rand.choice([4, 5, 6, 7]), rand.randrange(1, 6))
        return f"scroll {x} {y}"
    if kind == "number":
        text = rand.choice(NUMBERS)
        hands.key("ctrl+a")
        hands.type(text)
        hands.key(rand.choice(["Return", "Tab", "Escape"]))
        return f"type {text!r}"
    words = rand.choice({"key": KEYS, "switch": SWITCHES, "undo": ["ctrl+z", "ctrl+shift+z", "ctrl+y", "ctrl+z"], "end": ENDS}[kind])
    hands.key(words)
    return words


def file_titles():
    """What the toolkit's dialogs for files are called, as the program's source says; the last is the print dialog's own."""
    titles = set()
    for path in glob.glob(os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../src/app/*.c")):
        with open(path, encoding="utf-8") as file:
            titles.update(re.findall(r'(?:FwChoice \w+ = { \.title =|FwWorkshopExport \w+ = {(?: \.title =)?|\.file_title =) _ ?\("([^"]+)"',
                                     file.read()))
    return titles | {"Select a filename"}


# ---- The program ----

class Fault(Exception):
    pass


class Watched:
    def __init__(self, program, demos, seed, patience):
        self.program, self.seed, self.patience = program, seed, patience
        self.home = tempfile.mkdtemp(prefix="flapwright-hands-")
        os.mkdir(os.path.join(self.home, "tmp"))
        self.files = []
        for name in sorted(os.listdir(demos)):
            if name.endswith(".flap"):
                self.files.append(shutil.copy(os.path.join(demos, name), self.home))
        self.runs, self.ended_well, self.dialogs, self.before = 0, 0, 0, 0
        self.process, self.least, self.most = None, None, 0
        self.bus = Gio.bus_get_sync(Gio.BusType.SESSION)
        self.output = open(os.path.join(self.home, "output.txt"), "a+", encoding="utf-8", errors="replace")
        state = os.path.join(self.home, "state", "flapwright")
        os.makedirs(state)
        with open(os.path.join(state, "state.keyfile"), "w", encoding="utf-8") as file:
            file.write(f"[State]\nfirst-steps-done=true\nwidth={WIDTH}\nheight={HEIGHT}\n")

    def start(self):
        paths = {f"XDG_{kind.upper()}_HOME": os.path.join(self.home, kind) for kind in ("config", "state", "data", "cache")}
        environment = dict(os.environ, HOME=self.home, TMPDIR=os.path.join(self.home, "tmp"), **paths)
        file = self.files[(self.seed + self.runs) % len(self.files)]
        self.runs += 1
        self.process = subprocess.Popen([self.program, file], cwd=self.home, env=environment, stdout=self.output, stderr=self.output,
                                        preexec_fn=lambda: landlock(self.home))
        self.wait_answer()

    def processor_seconds(self):
        """Of the main thread: 0 where it is not known."""
        try:
            with open(f"/proc/{self.process.pid}/task/{self.process.pid}/stat", encoding="utf-8") as file:
                fields = file.read().rsplit(")", 1)[1].split()
            return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
        except OSError:
            return 0.0

    def answers(self):
        """Its main loop, within half a second: whoever asks for actions is answered there."""
        try:
            self.bus.call_sync(BUS_NAME, "/org/flapwright/Flapwright", "org.gtk.Actions", "List", None, None,
                               Gio.DBusCallFlags.NO_AUTO_START, 500, None)
            return True
        except GLib.Error:
            return False

    def wait_answer(self):
        """Until the main loop answers or the program has ended."""
        begin, worked = time.monotonic(), self.processor_seconds()
        young = self.before == 0
        while self.process.poll() is None:
            if self.answers():
                self.before = 1
                return
            busy, waited = self.processor_seconds() - worked, time.monotonic() - begin
            if (busy > self.patience and not young) or waited > SILENT:
                raise Fault(f"the main loop has not answered for {waited:.1f} s, of which it worked {busy:.1f} s\n" + self.stacks())
            time.sleep(0.02)
        self.check_end()

    def stacks(self):
        if shutil.which("gdb") is None:
            return ""
        got = subprocess.run(["gdb", "-p", str(self.process.pid), "-batch", "-ex", "bt 40"], capture_output=True, text=True, check=False)
        return "\n".join(line for line in got.stdout.splitlines() if line.startswith("#"))

    def check_end(self):
        if self.process.returncode != 0:
            raise Fault(f"the program ended with {self.process.returncode}")
        self.ended_well += 1
        self.before = 0

    def trouble(self):
        self.output.flush()
        with open(self.output.name, encoding="utf-8", errors="replace") as file:
            return [line for line in file.read().splitlines() if any(word in line for word in LINES_OF_TROUBLE)
                    and not any(word in line for word in NOT_OURS)]

    def said(self):
        with open(self.output.name, encoding="utf-8", errors="replace") as file:
            return file.read()

    def measure(self):
        """Megabytes in memory now."""
        try:
            with open(f"/proc/{self.process.pid}/statm", encoding="utf-8") as file:
                return int(file.read().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6
        except (OSError, IndexError):
            return 0

    def close(self):
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()
        self.output.close()
        shutil.rmtree(self.home, ignore_errors=True)


def let_go_of_files(hands, watched, titles):
    """GTK 4.8 complains of its own dialog for files, and at times ends, when it is clicked while it reads a folder. It is
    the toolkit's, and on a desktop mostly not even that but the desktop's: these hands let it read and close it."""
    tries = 0
    while watched.process.poll() is None and (window := hands.find(titles)) is not None:
        if tries == 20:
            raise Fault(f"{hands.title(window)!r} does not close")
        time.sleep(0.3)
        watched.wait_answer()
        hands.focus(window)
        hands.key("Escape")
        hands.flush()
        watched.wait_answer()
        tries += 1
    return tries > 0


def play(watched, args):
    """Steps done; a Fault says at which step and after what."""
    hands, titles = Hands(), file_titles()
    lately, number = [], args.first
    end = time.monotonic() + args.minutes * 60
    memory = []
    watched.start()
    while time.monotonic() < end and (args.steps == 0 or number < args.first + args.steps):
        try:
            lately.append(f"{number}: {do_step(hands, args.seed, number)}")
            hands.flush()
            if args.verbose:
                print("#", lately[-1], flush=True)
            watched.wait_answer()
            watched.dialogs += let_go_of_files(hands, watched, titles)
            number += 1
            if watched.process.poll() is not None:
                watched.start()
            if number % 50 == 0:
                memory.append((watched.measure(), hands.count()))
                complaints = watched.trouble()
                if complaints:
                    raise Fault("the program complained: " + "; ".join(complaints[:6]))
        except Fault as fault:
            raise Fault(f"{fault}\nsteps before: {'; '.join(lately[-12:])}\nsaid:\n{watched.said()[-6000:]}") from fault
    complaints = watched.trouble()
    if complaints:
        raise Fault("the program complained: " + "; ".join(complaints[:6]))
    return number - args.first, memory


def check_memory(memory, most):
    """The last quarter must not stand far above the second: the first is warming up. Open windows may take theirs."""
    if len(memory) < 8:
        return
    quarter = len(memory) // 4
    beside = [megabytes - WINDOW_MB * windows for megabytes, windows in memory]
    early, late = sorted(beside[quarter:2 * quarter])[quarter // 2], sorted(beside[-quarter:])[quarter // 2]
    if late - early > most:
        raise Fault(f"memory beside that of windows grew from {early:.0f} to {late:.0f} MB")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program")
    parser.add_argument("demos")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=10)
    parser.add_argument("--steps", type=int, default=0, help="0: as many as the minutes allow")
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--patience", type=float, default=3, help="seconds that the main loop may work without an answer")
    parser.add_argument("--growth", type=float, default=250, help="MB that memory may grow after it has warmed up")
    parser.add_argument("--verbose", action="store_true")
    args = parser.parse_args()
    print("1..1")
    name = "random clicks and keys neither end nor stop the program, nor make it complain"
    if not can_lock():
        print(f"ok 1 - {name} # SKIP the system cannot keep a program from writing elsewhere (Landlock)")
        return 0
    watched = Watched(os.path.abspath(args.program), args.demos, args.seed, args.patience)
    try:
        steps, memory = play(watched, args)
        check_memory(memory, args.growth)
        print(f"ok 1 - {name}\n# seed {args.seed}, {steps} steps, {watched.runs} starts, {watched.ended_well} ended by keys, "
              f"{watched.dialogs} dialogs for files; memory in MB (windows) "
              + " ".join(f"{m:.0f} ({n})" for m, n in memory[::max(1, len(memory) // 12)]))
        return 0
    except Fault as fault:
        print(f"not ok 1 - {name}\n# seed {args.seed}")
        for line in str(fault).splitlines():
            print("#", line)
        return 1
    finally:
        watched.close()


if __name__ == "__main__":
    sys.exit(main())
