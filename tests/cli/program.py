"""Calls the real flapwright-cli and reads what it writes."""
import json
import os
import struct
import subprocess
import sys
import zlib

PROGRAM = sys.argv[1]
SOURCE = sys.argv[2]
DEMOS = os.path.join(SOURCE, "data", "demos")
CLEAN_DEMOS = ["dragonfly", "heron", "manta", "moth", "owl"]

# A bird whose body rides in a sleeve: its published pose is in test_turn.py.
EXAMPLE = {
    "format": "flapwright design", "version": 1, "title": "Example",
    "crank": {"runs": "across", "turns_per_minute": 40, "throws": [
        {"name": "mid", "radius": 40, "phase": 0, "station": 0},
        {"name": "in", "radius": 30, "phase": 180, "station": 150, "side": "both"}]},
    "body": {"ride": "sleeve", "throw": "mid", "post": 420, "guide": [0, 180], "mass": 900,
             "centre": [0, 35, 60], "gyration": 140},
    "panels": [{"name": "inner", "side": "both", "on": "body", "hinge": [45, 0, 0], "span": 210,
                "stops": [-60, 60], "mass": 160, "centre": [105, -10, 0],
                "inertia": [300000, 600000, 900000, 0]}],
    "rods": [{"name": "inrod", "side": "both", "from": {"throw": "in"},
              "to": {"panel": "inner", "at": [140, 0, -12]}, "length": 412, "near": 0, "mass": 30}],
}


class Result:
    def __init__(self, done):
        self.status = done.returncode
        self.out = done.stdout
        self.err = done.stderr.decode("utf-8", "replace")

    @property
    def text(self):
        return self.out.decode("utf-8")

    def __str__(self):
        return f"exit {self.status}\nout: {self.out[:400]}\nerr: {self.err[:400]}"


def call(*args, given=b"", locale="C.UTF-8", stdout=subprocess.PIPE):
    environment = dict(os.environ, LC_ALL=locale, LANGUAGE="")
    return Result(subprocess.run([PROGRAM, *args], input=given, stdout=stdout, stderr=subprocess.PIPE,
                                 env=environment))


def call_on(design, verb, *args, **options):
    """Gives a design (a dict, or its text) on standard input."""
    text = design if isinstance(design, bytes) else json.dumps(design).encode()
    return call(verb, "-", *args, given=text, **options)


def demo(name):
    return os.path.join(DEMOS, name + ".flap")


def read_demo(name):
    with open(demo(name), encoding="utf-8") as file:
        return json.load(file)


def table(csv_text):
    """Rows of a table as dicts; an empty cell is None."""
    lines = csv_text.splitlines()
    names = lines[0].split(",")
    return [{n: float(c) if c else None for n, c in zip(names, line.split(","))} for line in lines[1:]]


def is_one_line(text):
    return text.endswith("\n") and text.count("\n") == 1 and len(text) > 20


def named(items, name):
    return next(item for item in items if item["name"] == name)


def _place(design, key):
    """The list or object that holds the number a key path names, and its index or key there."""
    words = key.split(".")
    at = design
    for word in words[:-1]:
        if isinstance(at, list):
            at = named(at, word)
        elif word == "from" and words[-1].isdigit():
            anchor = at["from"] # the path of an anchor's number leaves out which kind of anchor it is
            at = anchor[next(k for k in ("at", "base", "body") if k in anchor)]
        else:
            at = at[word]
    return at, int(words[-1]) if isinstance(at, list) else words[-1]


def set_key(design, key, value):
    at, where = _place(design, key)
    at[where] = value


def get_key(design, key):
    at, where = _place(design, key)
    return at[where]


def read_png(path):
    """Width, height and the set of distinct pixels; checks every chunk's sum. None if it is no PNG."""
    with open(path, "rb") as file:
        data = file.read()
    if data[:8] != b"\x89PNG\r\n\x1a\n":
        return None
    at, packed, header = 8, b"", None
    while at < len(data):
        length, kind = struct.unpack(">I4s", data[at:at + 8])
        body = data[at + 8:at + 8 + length]
        if zlib.crc32(kind + body) != struct.unpack(">I", data[at + 8 + length:at + 12 + length])[0]:
            return None
        if kind == b"IHDR":
            header = struct.unpack(">IIBB", body[:10])
        elif kind == b"IDAT":
            packed += body
        at += 12 + length
    width, height, depth, colour = header
    samples = {2: 3, 6: 4}[colour] * depth // 8
    raw = zlib.decompress(packed)
    assert len(raw) == height * (1 + width * samples)
    step = max(1, height // 64)
    shades = set()
    for y in range(0, height, step):
        row = raw[y * (1 + width * samples) + 1:(y + 1) * (1 + width * samples)]
        shades.update(row[i:i + samples] for i in range(0, len(row), samples))
    return width, height, shades
