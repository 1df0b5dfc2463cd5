"""Designs of absurd size and valid numbers: every answer comes, and comes with bounded work. By hand a larger one:
FW_LARGE=400 meson test -C build cli-large."""
import os
import resource
import sys

from program import EXAMPLE, call_on
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
    text = answers(tap, hanging(SIZE), "many hanging panels", "check").text
    tap.ok(SENTENCE in text, "a search for remedies that came to its bound says so", text[-400:])
    small = call_on(driven(1), "check")
    tap.ok(SENTENCE not in small.text, "one pair of wings is searched to the end", small)


def twice_the_same(tap):
    first, second = (answers(tap, driven(SIZE), "many driven pairs", "check", "--format", "json") for _ in range(2))
    tap.ok(SENTENCE in first.err, "beside the table too", first.err)
    tap.ok(first.out == second.out and len(first.out) > 1000,
           "the bound is counted in poses, not in time: the same is found again", "")


sys.exit(Tap().run([every_size_is_answered, says_that_it_gave_up, twice_the_same]))
