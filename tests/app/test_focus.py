#!/usr/bin/python3
"""What has the keyboard shows it, in every dress of the window. Prints TAP.

    test_focus.py FLAPWRIGHT DEMOS [WORDS...]

FW_TABS: steps of Tab in each window. Where it is not given 6, two windows of the four and two dresses of the four."""

import os
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import Atspi, Failed, Program, check, children, name_of, role_of, run, wait_until, walk  # noqa: E402

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
TABS = int(os.environ.get("FW_TABS", "6"))
WIDTH, HEIGHT = 1600, 1000
LEAST = 30  # pixels that must differ by more than a shade: a short line beside a small switch


def focused(program):
    """What has the keyboard in the newest window."""
    root = list(children(program.node))[-1]
    return next((n for n in walk(root) if n.get_state_set().contains(Atspi.StateType.FOCUSED) and role_of(n) != "frame"), None)


def shot():
    return subprocess.run(["import", "-window", "root", "-depth", "8", "rgb:-"], capture_output=True, check=True).stdout


def at_rest():
    """A picture in which nothing moves any more."""
    pictures = [shot()]

    def still():
        pictures.append(shot())
        return pictures[-1] == pictures[-2]
    wait_until(still, "the window does not come to rest")
    return pictures[-1]


def differing(before, after, box):
    """Pixels of the box, and of a margin about it, that are no longer what they were."""
    x, y, width, height = (int(v) for v in box)
    count = 0
    for row in range(max(0, y - 4), min(HEIGHT, y + height + 4)):
        begin = 3 * (row * WIDTH + max(0, x - 4))
        end = 3 * (row * WIDTH + min(WIDTH, x + width + 4))
        a, b = before[begin:end], after[begin:end]
        if a != b:
            count += sum(1 for i in range(0, len(a), 3) if max(abs(a[i + k] - b[i + k]) for k in range(3)) > 24)
    return count


def is_seen(before, box):
    """Whether the place comes to look other than before: a ring fades in, and a busy machine draws late."""
    try:
        wait_until(lambda: differing(before, shot(), box) >= LEAST, "", 4)
        return True
    except Failed:
        return False


def go_round(program, where):
    """Tab from one to the next; each must look other with the keyboard than it did without."""
    before, unseen, met = at_rest(), [], set()
    last = focused(program)
    for _ in range(TABS):
        program.key("Tab")
        now = wait_until(lambda: (lambda n: n if n is not None and n != last else None)(focused(program)),
                         lambda: f"{where}: Tab stays at {role_of(last) if last else 'nothing'} {name_of(last) if last else ''!r}")
        said = f"{where}: {role_of(now)} {name_of(now)!r}"
        if said not in met and not is_seen(before, program.place(now)):
            unseen.append(said)
        met.add(said)
        before, last = at_rest(), now
    return unseen


def shows_the_keyboard(dress):
    program = Program(PROGRAM, os.path.join(DEMOS, "troubled.flap"), size=(WIDTH, HEIGHT))
    try:
        program.find("image", "Front view")
        program.key(*dress)
        unseen = go_round(program, "window")
        windows = (("ctrl+l", "Build log"), ("ctrl+b", "Workshop"), ("ctrl+n", "New design"))
        for key, window in windows if "FW_TABS" in os.environ else windows[:1]:
            program.key(key)
            wait_until(lambda w=window: any(name_of(n).startswith(w) for n in children(program.node)), f"no {window}")
            unseen += go_round(program, window)
            program.key("Escape" if window == "New design" else "ctrl+w")
            wait_until(lambda: len(list(children(program.node))) == 1, f"{window} stays")
        check(not program.complaints(), "it complained: " + "; ".join(program.complaints()))
    finally:
        program.close()
    if unseen:
        raise Failed("the keyboard is not seen at\n" + "\n".join(unseen))


def light_shows_what_has_the_keyboard():
    shows_the_keyboard(["alt+1"])


def dark_shows_what_has_the_keyboard():
    shows_the_keyboard(["alt+2"])


def light_with_high_contrast_shows_what_has_the_keyboard():
    shows_the_keyboard(["alt+1", "alt+4"])


def dark_with_high_contrast_shows_what_has_the_keyboard():
    shows_the_keyboard(["alt+2", "alt+4"])


TESTS = [
    light_shows_what_has_the_keyboard,
    dark_with_high_contrast_shows_what_has_the_keyboard,
    dark_shows_what_has_the_keyboard,
    light_with_high_contrast_shows_what_has_the_keyboard,
]

if __name__ == "__main__":
    sys.exit(run(TESTS if "FW_TABS" in os.environ else TESTS[:2]))
