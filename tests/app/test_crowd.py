"""A hundred pairs of wings in one window: what is not known yet is said, the window answers meanwhile, and in the end it
knows what the command line knows. How long it takes is not looked at."""
import copy
import json
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time

import drive
from drive import Program, check, children, name_of, walk, wait_until

PROGRAM, DEMOS, CLI = (os.path.abspath(path) for path in sys.argv[1:4])
PAIRS = 50  # of arms, each with a tip: two hundred panels
LONG = 90   # seconds for what a busy machine may take
WAITS = "The whole turn is being worked out"


def again(part, i, **changes):
    return dict(copy.deepcopy(part), name=f"{part['name']}{i}", **changes)


def crowd(folder):
    """The heron with its wings again and again, farther and farther out."""
    with open(os.path.join(DEMOS, "heron.flap"), encoding="utf-8") as file:
        design = json.load(file)
    throws, panels, rods = design["crank"]["throws"], design["panels"], design["rods"]
    wings = {"throws": throws[1:3], "panels": panels[:2], "rods": rods[:2]}
    for i in range(1, PAIRS):
        throws += [again(t, i, station=t["station"] + 80 * i) for t in wings["throws"]]
        panels += [again(wings["panels"][0], i, hinge=[40 + 80 * i, 5, 18]), again(wings["panels"][1], i, on=f"arm{i}")]
        rods += [again(r, i, **{"from": {"throw": r["from"]["throw"] + str(i)},
                                "to": dict(r["to"], panel=r["to"]["panel"] + str(i))}) for r in wings["rods"]]
    outer = 225 + 80 * PAIRS
    design["base"]["bearings"] = [-outer, -225, -60, 60, 225, outer]
    design["base"]["plate"][0] = 2 * outer + 100
    design.pop("log", None)
    path = os.path.join(folder, "crowd.flap")
    with open(path, "w", encoding="utf-8") as file:
        json.dump(design, file)
    return path


class Crowd:
    """The program with that design open, and a hand that goes on changing a number."""

    def __init__(self):
        self.folder = tempfile.mkdtemp(prefix="flapwright-crowd-")
        self.path = crowd(self.folder)
        self.program = Program(PROGRAM, self.path)
        self.strip = wait_until(lambda: next((n for n in walk(self.program.node) if name_of(n) == "One turn"), None),
                                "there is no turn strip", LONG)
        self.changing = False

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.changing = False
        self.program.close()
        shutil.rmtree(self.folder, ignore_errors=True)

    def waits(self):
        """Whether the strip says that the turn is not known. The whole tree is too much to be looked through meanwhile."""
        self.program.check_alive()
        return any(name_of(node).startswith(WAITS) for node in walk(self.strip))

    def until_known(self):
        wait_until(lambda: not self.waits() and self.rows(), "the turn never comes to be known", LONG)

    def rows(self):
        """What each row of trouble says, without how bad it is."""
        rows = [name_of(row) for row in children(self.program.find("list", "Trouble, worst first", LONG))]
        return [row.split(". ", 1)[1] for row in rows if ". " in row]

    def take_a_number(self):
        self.program.key("ctrl+f")
        self.program.type("span arm")
        wait_until(lambda: self.program.seek("slider", "Span of arm"), "the number is not found", LONG)
        self.program.key("Return")

    def change(self, seconds):
        """Changes it on and on, faster than the turn is worked out, until told to stop."""
        def hand():
            end = time.monotonic() + seconds
            while self.changing and time.monotonic() < end:
                self.program.xdo("key", "Up")
                time.sleep(0.2)
        self.changing = True
        thread = threading.Thread(target=hand)
        thread.start()
        return thread

    def saved(self):
        with open(self.path, encoding="utf-8") as file:
            return file.read()


def what_is_not_known_yet_is_said_and_the_window_answers():
    with Crowd() as crowd_:
        crowd_.until_known()
        crowd_.take_a_number()
        before = crowd_.saved()
        hand = crowd_.change(LONG)
        wait_until(crowd_.waits, "nothing says that the turn is being worked out", LONG)
        crowd_.changing = False
        hand.join()
        crowd_.program.key("Up", "ctrl+s")  # at once: saving does not wait for the turn
        wait_until(lambda: crowd_.saved() != before, "it is not saved", LONG)
        crowd_.until_known()
        found = json.loads(subprocess.run([CLI, "check", "--format", "json", crowd_.path], capture_output=True,
                                          check=False).stdout)
        expected = [trouble["message"] for trouble in found]
        wait_until(lambda: len(crowd_.rows()) >= 40, "rows are missing", LONG)
        rows = crowd_.rows()
        check(rows[0] == expected[0], f"the worst is {rows[0]!r}, and not {expected[0]!r}")
        places = [expected.index(row) if row in expected else -1 for row in rows]
        check(places == sorted(places) and places[0] == 0, f"rows that check does not tell, or in another order: {places}")
        crowd_.program.key("ctrl+z")
        crowd_.program.says("Undone", LONG)
        crowd_.until_known()
        check(not crowd_.program.complaints(), crowd_.program.said())


def it_is_closed_while_the_turn_is_worked_out():
    with Crowd() as crowd_:
        crowd_.program.key("ctrl+q")
        check(crowd_.program.wait_end(LONG) == 0, "it does not end well: " + crowd_.program.said())
        check(not crowd_.program.complaints(), crowd_.program.said())


sys.exit(drive.run([what_is_not_known_yet_is_said_and_the_window_answers, it_is_closed_while_the_turn_is_worked_out]))
