#!/usr/bin/python3
"""Wishes, what helps and versions as a person uses them: mouse, keys, accessibility tree. Prints TAP.

    test_wishes.py FLAPWRIGHT DEMOS"""

import json
import os
import re
import shutil
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import Atspi, Failed, Program, check, is_sensitive, name_of, role_of, run, wait_until, walk  # noqa: E402

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])


def demo(name):
    return os.path.join(DEMOS, name)


class Opened:
    """A program that must not have complained, whatever else is found."""

    def __init__(self, *arguments, **options):
        self.program = Program(PROGRAM, *arguments, **options)

    def __enter__(self):
        return self.program

    def __exit__(self, kind, value, trace):
        complaints = self.program.complaints()
        self.program.close()
        if kind is None and complaints:
            raise Failed("the program complained: " + "; ".join(complaints))


def with_wishes(home, wishes, free, demo_name="heron.flap"):
    """A copy of a demo with wishes of its own."""
    with open(demo(demo_name), encoding="utf-8") as file:
        design = json.load(file)
    design["wishes"] = {"list": wishes, "free": free}
    path = os.path.join(home, "wished.flap")
    with open(path, "w", encoding="utf-8") as file:
        json.dump(design, file)
    return path


def number(program, words):
    """The value of a number, by its slider."""
    program.key("alt+u")
    time.sleep(0.4)  # the page is there, and in the tree
    program.key("ctrl+f")
    program.key("ctrl+a")
    time.sleep(0.2)
    program.type(words)
    return Atspi.Value.get_current_value(program.find("slider", words))


def named(program, words):
    """A node of any role whose name holds the words."""
    def seek():
        program.check_alive()
        for node in walk(program.node):
            if words in name_of(node):
                return node
        return None
    return wait_until(seek, f"nothing is named {words!r}")


def add_wish(program, value):
    """Through the form, as it opens: the top of the first panel, exactly. The button has the keyboard."""
    named(program, "Add a wish")
    program.key("space")
    program.find("text", "Value")
    time.sleep(0.5)
    program.key("Tab", "Tab", "Tab")
    program.type(value)
    program.key("Return")


def a_wish_is_added_a_number_freed_and_the_answer_applied_in_one_step_of_undo():
    with Opened() as program:
        length = number(program, "Length of arm-rod")
        program.key("alt+a")
        program.find("panel", "Wishes")
        add_wish(program, "24")
        program.says("top of arm 24")
        time.sleep(0.5)
        program.click(named(program, "Add a number that may change"))
        named(program, "Find a number that may change")
        time.sleep(0.3)
        program.type("Length of arm-rod")
        time.sleep(0.4)
        program.key("Return")
        program.find("text", "Length of arm-rod: least")
        program.press("push button", "Search for numbers that do it")
        program.find("list item", "Answer 1: ", seconds=30)
        program.says("answer")
        program.press("push button", "Apply this answer")
        program.says("Answer 1 applied")
        program.says("now 24.0")
        after = number(program, "Length of arm-rod")
        check(after != length, "the number has not changed")
        program.key("ctrl+z")
        program.says("Undone: Aimed at wishes")
        wait_until(lambda: number(program, "Length of arm-rod") == length, "one undo does not take the answer back")
        program.key("ctrl+z")
        program.says("Undone: Length of arm-rod may change")
        program.key("ctrl+z")
        program.says("Undone: Add a wish")


def an_impossible_wish_is_told_in_the_form_and_not_taken():
    with Opened() as program:
        program.key("alt+a")
        add_wish(program, "five")
        program.find("text", "Value")
        wait_until(lambda: any("five" in name_of(node) for node in walk(program.node)), "the form says nothing of what was typed")
        check(not is_sensitive(program.find("push button", "Search for numbers")), "there is something to search for")


def wishes_that_cannot_be_had_together_are_told_in_a_sentence():
    home = tempfile.mkdtemp(prefix="flapwright-wished-")
    path = with_wishes(home, [{"wish": "top", "part": "arm", "value": 24}, {"wish": "stroke", "part": "arm", "value": 5}],
                       [{"number": "rods.arm-rod.length"}])
    with Opened(path) as program:
        program.key("alt+a")
        program.says("stroke of arm 5")
        program.press("push button", "Search for numbers that do it")
        program.says("cannot be had", seconds=40)
        program.find("list item", "Answer 1: misses")
    shutil.rmtree(home, ignore_errors=True)


def a_version_is_kept_the_design_changed_told_apart_and_brought_back():
    with Opened() as program:
        length = number(program, "Length of arm-rod")
        program.key("alt+k")
        program.find("panel", "Versions")
        program.type("first")
        program.key("Return")
        program.says("Kept as “first”")
        step_up(program, "Length of arm-rod")
        changed = number(program, "Length of arm-rod")
        check(changed != length, "the number has not changed")
        program.key("alt+k")
        program.click(named(program, "Lay “first” over the design as A"))
        program.says("From “first” to the present design")
        program.says("arm-rod")
        program.press("push button", "Bring “first” back")
        program.says("The design is that of “first” again")
        check(number(program, "Length of arm-rod") == length, "the number is not what it was")
        program.key("ctrl+z")
        wait_until(lambda: number(program, "Length of arm-rod") == changed, "one undo does not take it back")
        program.key("alt+k")
        program.press("push button", "Remove “first”")
        program.says("No version is kept yet")
        program.key("ctrl+z")
        program.find("push button", "Remove “first”")


def step_up(program, words):
    """Three steps by key, in the number's own field."""
    number(program, words)
    program.key("Return")
    time.sleep(0.2)
    program.key("Up", "Up", "Up")
    time.sleep(0.9)


def what_helps_names_a_number_and_leads_to_it():
    with Opened(demo("troubled.flap")) as program:
        program.click(program.find("list item", "Failure."))
        program.press("push button", "What helps…")
        picture = program.find("image", "What helps, strongest first", seconds=30)
        words = wait_until(lambda: picture.get_description(), "the picture says nothing", 30)
        check(re.search(r" per (mm|°)", words), words)
        strongest = words.split(":")[0]
        x, y, width, _ = program.place(picture)
        program.xdo("mousemove", int(x + width / 3), int(y + 20), "click", 1)
        found = program.find("text", strongest)
        wait_until(lambda: found.get_state_set().contains(Atspi.StateType.FOCUSED), f"{strongest} has not the keyboard")


def a_panel_pulled_with_ctrl_is_a_wish():
    with Opened() as program:
        view = program.find("image", "Front view")
        program.key("alt+n")
        x, y, width, height = program.place(view)
        for share in (0.12, 0.16, 0.2, 0.24):
            for level in (0.3, 0.35, 0.4, 0.45, 0.5, 0.55):
                program.xdo("keydown", "ctrl")
                program.drag(x + share * width, y + level * height, 0, -30)
                program.xdo("keyup", "ctrl")
                time.sleep(0.15)
                said = [name_of(node) for node in walk(program.node) if "Wished for:" in name_of(node)]
                if said:
                    check("at crank angle 0" in said[0], said[0])
                    program.key("alt+a")
                    program.says("at crank angle 0")
                    program.key("ctrl+z")
                    program.says("Undone: Wish where a panel should be")
                    return
        raise Failed("no panel could be pulled")


TESTS = [
    a_wish_is_added_a_number_freed_and_the_answer_applied_in_one_step_of_undo,
    an_impossible_wish_is_told_in_the_form_and_not_taken,
    wishes_that_cannot_be_had_together_are_told_in_a_sentence,
    a_version_is_kept_the_design_changed_told_apart_and_brought_back,
    what_helps_names_a_number_and_leads_to_it,
    a_panel_pulled_with_ctrl_is_a_wish,
]

if __name__ == "__main__":
    sys.exit(run(TESTS))
