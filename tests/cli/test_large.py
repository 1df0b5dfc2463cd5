"""Designs of absurd size and valid numbers: every answer comes, and comes with bounded work. By hand a larger one:
FW_LARGE=400 meson test -C build cli-large."""
import json
import os
import re
import resource
import signal
import subprocess
import sys
import tempfile
import time

from program import EXAMPLE, PROGRAM, call_on
from tap import Tap

SIZE = int(os.environ.get("FW_LARGE", "100"))
HANG_S = 60 * max(1, SIZE // 100)  # of the processor: a watch for what never ends, no measure of speed


def sculpture(panels, rods=(), throws=()):
    crank = dict(EXAMPLE["crank"], throws=[EXAMPLE["crank"]["throws"][0], *throws])
    return dict(EXAMPLE, title="Absurd", crank=crank, panels=list(panels), rods=list(rods))


def panel(i, on="body", hinge=None):
    return dict(EXAMPLE["panels"][0], name=f"p{i}", on=on, hinge=hinge or [45 + 20 * i, 0, 0])


def throw(i):
    return dict(EXAMPLE["crank"]["throws"][1], name=f"t{i}", station=150 + 20 * i)


def rod(i, of_throw):
    return dict(EXAMPLE["rods"][0], name=f"r{i}", **{"from": {"throw": f"t{of_throw}"},
                                                     "to": {"panel": f"p{i}", "at": [140, 0, -12]}})


def driven(n):
    return sculpture([panel(i) for i in range(n)], [rod(i, i) for i in range(n)], [throw(i) for i in range(n)])


def hanging(n):
    return sculpture([panel(i) for i in range(n)])


def chain(n):
    return sculpture(panel(i, f"p{i - 1}" if i else "body", [210, 0, 0] if i else None) for i in range(n))


def many_rods(n):
    """On four throws, in rows one before the other."""
    return sculpture([panel(i, hinge=[45 + 20 * (i % 4), i // 4 * 30, 0]) for i in range(n)],
                     [rod(i, i % 4) for i in range(n)], [throw(i) for i in range(4)])


def processor_time():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def answers(tap, design, what, verb, *args):
    before = processor_time()
    done = call_on(design, verb, *args)
    used = processor_time() - before
    tap.ok(done.status in (0, 1) and done.out and used < HANG_S, f"{verb} answers for {what}", (done, used))
    return done


SENTENCE = "Not every change was tried"


def every_size_is_answered(tap):
    for design, what in ((driven(SIZE), "many driven pairs"), (hanging(SIZE), "many hanging panels"),
                         (many_rods(2 * SIZE), "many rods")):
        for verb in ("loads", "turn"):
            answers(tap, design, what, verb)
    answers(tap, chain(8), "a chain of hanging panels", "turn")


def says_that_it_gave_up(tap):
    text = answers(tap, hanging(SIZE), "many hanging panels", "check", "--reach").text
    tap.ok(SENTENCE in text, "a search for remedies that came to its bound says so", text[-400:])
    small = call_on(driven(1), "check")
    tap.ok(SENTENCE not in small.text, "one pair of wings is searched to the end", small)


def twice_the_same(tap):
    first, second = (answers(tap, driven(SIZE), "many driven pairs", "check", "--reach", "--format", "json")
                     for _ in range(2))
    tap.ok(SENTENCE in first.err, "beside the table too", first.err)
    tap.ok(first.out == second.out and len(first.out) > 1000,
           "the bound is counted in poses, not in time: the same is found again", "")


def apart(n):
    """Pairs of wings a metre from each other, each of which closes on a still panel before it as a beak does."""
    pairs = [panel(i, hinge=[45 + 1000 * i, 0, 0]) for i in range(n)]
    still = [dict(panel(i, hinge=[45 + 1000 * i, 0, 60]), name=f"s{i}", stops=[0, 0.001]) for i in range(n)]
    return sculpture(pairs + still, [rod(i, i) for i in range(n)], [dict(throw(i), station=150 + 1000 * i) for i in range(n)])


def found(design, *args):
    return json.loads(call_on(design, "check", "--reach", "--format", "json", *args).text)


def gaps_are_those_of_each_pair(tap):
    for n in (1, 6):
        gaps = [t for t in found(apart(n)) if t["kind"] == "pinch"]
        first = sorted(round(t["value"], 6) for t in gaps if t["part"].split(".")[0] in ("p0", "r0", "s0"))
        tap.ok(len(gaps) == n * len(first) > 0, f"gaps of {n} pairs far apart are those of one, {n} times", gaps[:3])
        if n == 1:
            alone = first
    tap.ok(first == alone, "and as wide", (first, alone))


def what_helps_is_bounded(tap):
    left_out = "were not tried: the design is large"
    done = answers(tap, driven(SIZE), "many driven pairs", "helps", "--trouble", "1")
    tap.ok(left_out in done.err, "helps says that it gave up", done.err)
    small = call_on(driven(2), "helps", "--of", "torque")
    tap.ok(small.status == 0 and small.err == "", "two pairs are tried to the end", small)
    exact = answers(tap, driven(SIZE), "many driven pairs", "helps", "--of", "p3.top", "--format", "json")
    keys = {h["key"].split(".")[1] for h in json.loads(exact.text)["helps"] if h["key"].startswith(("rods.", "panels."))}
    tap.ok(keys == {"r3", "p3"}, "of a panel's height the numbers that move it are found among thousands", keys)


def tolerance_is_bounded(tap):
    with tempfile.TemporaryDirectory() as folder:
        first = interrupted(driven(SIZE), "tolerance", folder=folder)[2]
    told = re.search(r"The design is large: (\d+) turns are drawn instead of 10000", first)
    tap.ok(told and 100 <= int(told.group(1)) < 10000, "fewer turns are drawn than of a small design, and told", first)
    asked = call_on(driven(SIZE), "tolerance", "--runs", "30", "--format", "json")
    tap.ok(json.loads(asked.text)["runs"] == 30 and asked.err == "", "as many as are asked for are drawn", asked.err)
    tap.ok(call_on(driven(1), "tolerance", "--runs", "0").status == 2, "but not none", "")


def has_taken_over_interrupts(process):
    with open(f"/proc/{process.pid}/status", encoding="ascii") as status:
        caught = next(line for line in status if line.startswith("SigCgt"))
    return int(caught.split()[1], 16) >> (signal.SIGINT - 1) & 1


def interrupted(design, verb, *args, folder):
    """The verb gets Ctrl-C as soon as it has begun."""
    process = subprocess.Popen([os.path.abspath(PROGRAM), verb, "-", *args], cwd=folder, stdin=subprocess.PIPE,
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=dict(os.environ, LC_ALL="C.UTF-8"))
    process.stdin.write(json.dumps(design).encode())
    process.stdin.close()
    process.stdin = None
    while process.poll() is None and not has_taken_over_interrupts(process):
        time.sleep(0.001)
    process.send_signal(signal.SIGINT)
    out, err = process.communicate()
    return process.returncode, out.decode(), err.decode()


def an_interrupt_leaves_nothing(tap):
    with tempfile.TemporaryDirectory() as folder:
        for call in (("kit", "-o", "k.pdf"), ("animate", "-o", "a.gif"), ("flipbook", "-o", "f.pdf"), ("parts", "-o", "."),
                     ("templates", "-o", "t.pdf"), ("check",), ("tolerance", "--runs", "100000"), ("helps", "--trouble", "1")):
            status, out, err = interrupted(driven(SIZE), *call, folder=folder)
            tap.ok(status == -signal.SIGINT and not out and not err and not os.listdir(folder),
                   f"{call[0]} stops at an interrupt and leaves nothing", (status, out, err, os.listdir(folder)))


sys.exit(Tap().run([every_size_is_answered, says_that_it_gave_up, twice_the_same, gaps_are_those_of_each_pair,
                    what_helps_is_bounded, tolerance_is_bounded, an_interrupt_leaves_nothing]))
