"""Drives the program widgetwindow with real mouse and keys, and reads what it tells.

Runs inside a display and a session bus of its own: see run-on-display.sh."""

import os
import queue
import subprocess
import threading
import time


class Stage:
    """One run of widgetwindow. Coordinates are the window's, which lies at 0, 0 of the screen."""

    def __init__(self, program, design, *options):
        self.log = []
        self.process = subprocess.Popen([program, design, *options], stdin=subprocess.PIPE,
                                        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        self.lines = queue.Queue()
        self.errors = []
        threading.Thread(target=self._read, daemon=True).start()
        threading.Thread(target=self._read_errors, daemon=True).start()
        self.wait_for("ready")
        self.sync()
        self.settle(0.2)
        self.learn_places()

    def _read(self):
        for line in self.process.stdout:
            self.lines.put(line.rstrip("\n"))

    def _read_errors(self):
        for line in self.process.stderr:
            self.errors.append(line.rstrip("\n"))

    def warnings(self):
        return [e for e in self.errors if "CRITICAL" in e or "WARNING" in e or "ERROR" in e]

    def send(self, command):
        self.process.stdin.write(command + "\n")
        self.process.stdin.flush()

    def wait_for(self, start, seconds=10.0):
        """The first line from now on that starts so, or None."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            try:
                line = self.lines.get(timeout=0.05)
            except queue.Empty:
                continue
            self.log.append(line)
            if line.startswith(start):
                return line
        return None

    def drain(self):
        """All lines told since the last look."""
        got = []
        while not self.lines.empty():
            got.append(self.lines.get())
        self.log += got
        return got

    def settle(self, seconds=0.4):
        time.sleep(seconds)

    def learn_places(self):
        self.drain()
        self.places, self.handles = {}, {}
        self.send("places")
        end = time.monotonic() + 5
        while time.monotonic() < end:
            line = self.lines.get(timeout=5)
            word = line.split(" ")
            if word[0] == "size":
                self.places[word[5]] = tuple(int(w) for w in word[1:5])
            elif word[0] == "handle":
                self.handles.setdefault((word[1], " ".join(word[4:])), (int(word[2]), int(word[3])))
            elif line == "end":
                return

    def value(self, path):
        self.drain()
        self.send("value " + path)
        line = self.wait_for("value " + path + " ", 3)
        return float(line.rsplit(" ", 1)[1])

    # ---- Mouse and keys ----

    def sync(self):
        """Waits until the program has dealt with all input so far, however slow the machine is.
        What it tells meanwhile stays to be read."""
        kept = []
        self.send("sync")
        end = time.monotonic() + 20
        while time.monotonic() < end:
            try:
                line = self.lines.get(timeout=0.05)
            except queue.Empty:
                continue
            if line == "synced":
                break
            kept.append(line)
        for line in kept:
            self.lines.put(line)

    def xdo(self, *words):
        subprocess.run(["xdotool", *[str(w) for w in words]], check=True)

    def move(self, x, y):
        self.xdo("mousemove", int(x), int(y))
        self.sync()

    def click(self, x, y, button=1, times=1):
        self.move(x, y)
        self.xdo("click", "--repeat", times, "--delay", 80, button)
        self.sync()

    def drag(self, x, y, dx, dy, steps=8, release=True):
        self.move(x, y)
        self.xdo("mousedown", 1)
        self.sync()
        for i in range(1, steps + 1):
            self.move(x + dx * i / steps, y + dy * i / steps)
        if release:
            self.let_go()

    def let_go(self):
        self.xdo("mouseup", 1)
        self.sync()

    def key(self, *keys):
        for key in keys:
            self.xdo("key", key)
        self.sync()

    def type(self, text):
        self.xdo("type", "--delay", 15, text)
        self.sync()

    def pixels_of_ground(self):
        """The lower part of the front view, where base and floor are drawn, as a checksum."""
        x, y, width, height = self.places["front"]
        box = f"{width}x{height * 22 // 100}+{x}+{y + height * 78 // 100}"
        return subprocess.run(["sh", "-c", f"import -window root -crop {box} +repage rgb:- | md5sum"],
                              check=True, capture_output=True, text=True).stdout

    def shot(self, path):
        subprocess.run(["import", "-window", "root", path], check=True)

    def quit(self):
        try:
            self.send("quit")
            self.process.wait(timeout=5)
        except (subprocess.TimeoutExpired, BrokenPipeError):
            self.process.kill()
            self.process.wait()
        return self.process.returncode


def demo(name):
    return os.path.join(os.environ.get("FW_DEMOS", "data/demos"), name)
