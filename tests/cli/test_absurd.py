"""Designs of valid but absurd numbers, through every verb: each call ends with 0, 1 or 2, a refusal is one line, and no
number that is written is infinite or none.

    test_absurd.py CLI SOURCE [DESIGNS [SEED]]

Numbers of a few designs are set, one by one, to the ends of what a file may hold; which, and which verb meets them, is
chosen by a seed that is printed. With DESIGNS all of them are, and that many designs of several absurd numbers follow."""
import copy
import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile

from program import EXAMPLE, PROGRAM, call_on, is_one_line, read_demo
from tap import Tap

SOME = 100
MORE = int(sys.argv[3]) if len(sys.argv) > 3 else None
SEED = int(sys.argv[4]) if len(sys.argv) > 4 else random.randrange(1 << 30)
EXTREMES = [0, 1e-300, 1e-9, 0.001, 1000, 999999.999, -999999.999, -1e-300]
HANG_S = 120  # a watch for what never ends
VERBS = [["turn", "--steps", "72"], ["check", "--format", "json"], ["check"], ["check", "--reach"], ["loads", "--format", "json"], ["loads"],
         ["cut", "--format", "json"], ["cut"], ["helps", "--of", "torque", "--format", "json"], ["helps", "--trouble", "1"],
         ["tolerance", "--runs", "20"], ["scale", "--by", "2"], ["versions"], ["log"], ["strip", "-o", "@.png", "--frames", "2", "--frame-width", "80"],
         ["templates", "-o", "@.svg", "--sheet", "900x900"], ["templates", "-o", "@.pdf", "--paper", "a4"], ["parts", "-o", "@"], ["kit", "-o", "@.pdf"],
         ["flipbook", "-o", "@.pdf", "--frames", "4"], ["animate", "-o", "@.gif", "--frames", "12", "--width", "80"],
         ["thumbnail", "-o", "@.png"]]
NO_NUMBER = re.compile(r"(?<![\w.])-?(?:nan|inf(?:inity)?)(?![\w.])", re.IGNORECASE)


def corpus(name):
    with open(os.path.join(sys.argv[2], "tests", "doc", "valid", name + ".flap"), encoding="utf-8") as file:
        return json.load(file)


def bases():
    named = [(name, corpus(name)) for name in ("all-extras", "springs", "drive-and-weights", "rail", "rocker", "build-by-stock", "print-all")]
    return [(name, strip(design)) for name, design in named + [("example", EXAMPLE), ("heron", read_demo("heron"))]]


def strip(design):
    return {key: value for key, value in design.items() if key not in ("log", "versions", "wishes", "measured", "spread")}


def numbers(tree, path=()):
    """Places of all numbers below."""
    pairs = tree.items() if isinstance(tree, dict) else enumerate(tree)
    for key, value in pairs:
        if isinstance(value, (dict, list)):
            yield from numbers(value, path + (key,))
        elif isinstance(value, (int, float)) and not isinstance(value, bool) and path + (key,) != ("version",):
            yield path + (key,)


def put(design, path, value):
    for key in path[:-1]:
        design = design[key]
    design[path[-1]] = value


class Room:
    def __init__(self):
        self.folder = tempfile.mkdtemp(prefix="flapwright-test-")
        self.n = self.answered = 0

    def wrong_of(self, design, verb):
        """What is wrong with one call; None."""
        self.n += 1
        path, out = os.path.join(self.folder, "a.flap"), os.path.join(self.folder, f"o{self.n}")
        with open(path, "w", encoding="utf-8") as file:
            json.dump(design, file)
        args = [verb[0], path] + [out + a[1:] if a.startswith("@") else a for a in verb[1:]]
        try:
            done = subprocess.run([PROGRAM, *args], capture_output=True, timeout=HANG_S, check=False, env=dict(os.environ, LC_ALL="C.UTF-8", LANGUAGE=""))
        except subprocess.TimeoutExpired:
            return "never ends"
        err, text = done.stderr.decode("utf-8", "replace"), done.stdout.decode("utf-8", "replace")
        self.answered += done.returncode < 2
        written = self.written()
        if done.returncode not in (0, 1, 2):
            return f"status {done.returncode}: {err[-300:]}"
        if done.returncode == 2 and not is_one_line(err):
            return f"refused, but not in one line: {err[:300]}"
        if "CRITICAL" in err or "WARNING" in err:
            return f"complains: {err[:300]}"
        found = NO_NUMBER.search(text) or NO_NUMBER.search(err) or NO_NUMBER.search(written)
        if found:
            whole = text + err + written
            at = NO_NUMBER.search(whole).start()
            return f"no number: ...{whole[max(0, at - 80):at + 40]}..."
        if "json" in args and done.returncode < 2:
            json.loads(text)
        return None

    def written(self):
        """The text of what was written as text; it goes."""
        text = ""
        for name in os.listdir(self.folder):
            path = os.path.join(self.folder, name)
            if name.endswith(".svg"):
                with open(path, encoding="utf-8") as file:
                    text += file.read()
            if name != "a.flap":
                (shutil.rmtree if os.path.isdir(path) else os.remove)(path)
        return text


def each(room, cases):
    wrong = []
    for what, design, verb in cases:
        fault = room.wrong_of(design, verb)
        if fault:
            wrong.append(f"{' '.join(verb)}: {what}: {fault}")
            print("# " + wrong[-1].replace("\n", " "), flush=True)
    return wrong


def one_by_one(rand, n):
    places = [(name, design, path) for name, design in bases() for path in numbers(design)]
    for name, design, path in rand.sample(places, min(n, len(places))):
        changed = copy.deepcopy(design)
        value = rand.choice(EXTREMES)
        put(changed, path, value)
        yield f"{name} {'.'.join(map(str, path))}={value}", changed, rand.choice(VERBS)


def many_at_once(rand, n):
    for _ in range(n):
        name, design = rand.choice(bases())
        changed, said = copy.deepcopy(design), []
        for path in rand.sample(list(numbers(design)), rand.choice((1, 1, 2, 3, 8))):
            value = rand.choice(EXTREMES)
            put(changed, path, value)
            said.append(f"{'.'.join(map(str, path))}={value}")
        yield f"{name} {' '.join(said)}", changed, rand.choice(VERBS)


def every_call_ends_well(tap):
    print(f"# seed {SEED}")
    rand, room = random.Random(SEED), Room()
    try:
        wrong = each(room, one_by_one(rand, SOME if MORE is None else 1 << 20))
        wrong += each(room, many_at_once(rand, SOME // 5 if MORE is None else MORE))
    finally:
        shutil.rmtree(room.folder)
    tap.ok(not wrong, "absurd numbers, one by one and together: every call ends well", "\n".join(wrong[:20]))
    tap.ok(room.answered > room.n / 3, "and a good part of them is answered", f"{room.answered} of {room.n}")
    print(f"# {room.n} calls, {room.answered} of them answered")


def what_is_no_number_is_seen(tap):
    """The control: the words that C has for what is no number, and none of those that only hold them."""
    tap.ok(all(NO_NUMBER.search(text) for text in ("1,nan,2", "-inf mm", '{"a": NaN}', "Infinity"))
           and not any(NO_NUMBER.search(text) for text in ("information", "nano", "inf.flap", "finance")), "what is no number is seen")


if __name__ == "__main__":
    sys.exit(Tap().run([what_is_no_number_is_seen, every_call_ends_well]))
