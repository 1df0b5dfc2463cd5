"""How the program is found again as it was left: settings, open designs, how they were looked at. Part of
test_window.py, which runs these with its own."""

import os
import re
import shutil
import sys
import tempfile

from drive import Atspi, Failed, Program, check, children, name_of, role_of, settings_file, settings_text, wait_until, walk, write_state  # noqa: E402

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])


class Home:
    """A folder with designs of one's own, and the programs that were started with it, one after another."""

    def __init__(self, *designs):
        self.path = tempfile.mkdtemp(prefix="flapwright-test-")
        write_state(self.path, "first-steps-done=true\nwidth=1100\nheight=800\n")
        for name in designs:
            shutil.copy(os.path.join(DEMOS, name), self.design(name))

    def design(self, name):
        return os.path.join(self.path, name)

    def start(self, *arguments):
        return Started(Program(PROGRAM, *arguments, home=self.path))

    def __enter__(self):
        return self

    def __exit__(self, kind, value, trace):
        shutil.rmtree(self.path, ignore_errors=True)


class Started:
    """One run, which must not have complained."""

    def __init__(self, program):
        self.program = program

    def __enter__(self):
        return self.program

    def __exit__(self, kind, value, trace):
        complaints = self.program.complaints()
        self.program.close()
        if kind is None and complaints:
            raise Failed("the program complained: " + "; ".join(complaints))


def titles(program):
    program.check_alive()
    return sorted(name_of(node) for node in children(program.node))


def wait_for_titles(program, *expected):
    wait_until(lambda: titles(program) == sorted(expected), lambda: f"the windows are {titles(program)}")


def cranks(program):
    return [Atspi.Value.get_current_value(n) for n in walk(program.node)
            if role_of(n) == "slider" and name_of(n).startswith("Crank angle")]


def quit_by_key(program):
    program.key("ctrl+q")
    check(program.wait_end() == 0, "it did not end well")


def a_setting_changed_in_the_window_is_there_at_the_next_start():
    with Home() as home:
        with home.start() as program:
            program.key("alt+i", "alt+4")
            wait_until(lambda: {"lengths='inch'", "contrast=true"} <= set(settings_text(home.path).split()), "it is not remembered")
            quit_by_key(program)
        with home.start() as program:
            program.find("slider", "Crank diameter, in")


def a_broken_settings_file_is_survived_with_a_word():
    with Home() as home:
        path = settings_file(home.path)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "wb") as file:
            file.write(b"\xff\x00 nothing of the kind\n")
        with home.start() as program:
            program.says("expected a key file")
            check(program.said().count("expected a key file") == 1, "it is not said once: " + program.said())
            check(os.path.exists(path + ".broken"), "it is not set aside")
            quit_by_key(program)


def what_was_open_opens_again_as_it_was_looked_at_and_what_is_gone_is_passed_over():
    with Home("owl.flap", "moth.flap", "manta.flap") as home:
        with home.start(home.design("moth.flap"), home.design("manta.flap"), home.design("owl.flap")) as program:
            wait_for_titles(program, "Manta ray", "Owl on a post", "Paper moth")
            program.key("ctrl+1", "alt+l", "ctrl+g")
            program.type("123.4")
            program.key("Return")
            wait_until(lambda: any(abs(crank - 123.4) < 0.01 for crank in cranks(program)), "no crank was turned")
            quit_by_key(program)
        turned = re.findall(r"'crank': <123\.4\d*>", settings_text(home.path, "state"))
        check(len(turned) == 1, "the crank angle of one design was expected")
        os.remove(home.design("moth.flap"))
        with home.start() as program:
            program.says("Not there any more, so not opened again: moth.flap")
            wait_for_titles(program, "Manta ray", "Owl on a post")
            wait_until(lambda: any(abs(crank - 123.4) < 0.01 for crank in cranks(program)), "no crank stands as it was left")
            sides = [n for n in walk(program.node) if role_of(n) == "image" and name_of(n).startswith("Side view")]
            check(len(sides) == 1, f"{len(sides)} side views are in sight")
            pages = [name_of(n) for n in walk(program.node) if role_of(n) == "page tab" and n.get_state_set().contains(Atspi.StateType.SELECTED)]
            check("Loads" in pages, f"the pages of the margin are {pages}")


def the_choice_of_not_opening_again_holds():
    with Home("owl.flap") as home:
        path = settings_file(home.path)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "w", encoding="utf-8") as file:
            file.write("[flapwright]\nreopen=false\n")
        with home.start(home.design("owl.flap")) as program:
            quit_by_key(program)
        with home.start() as program:
            wait_for_titles(program, "Night heron")


def a_divider_stays_where_it_was_drawn():
    with Home("owl.flap") as home:
        def width(program):
            return program.place(program.find("image", "Front view"))[2]
        with home.start(home.design("owl.flap")) as program:
            x, y, before, height = program.place(program.find("image", "Front view"))
            program.drag(x + before + 1, y + height / 2, -120, 0)
            after = wait_until(lambda: width(program) != before and width(program), "the divider does not move")
            quit_by_key(program)
        for _ in range(2):
            with home.start() as program:
                wait_until(lambda: width(program) == after, lambda: f"the view was {after} wide and is {width(program)}")
                quit_by_key(program)


def changes_of_two_designs_left_by_a_crash_come_back_each_in_its_window():
    with Home("owl.flap", "moth.flap") as home:
        first = Program(PROGRAM, home.design("owl.flap"), home.design("moth.flap"), home=home.path)
        try:
            wait_until(lambda: len(titles(first)) == 2, "two windows were expected")
            names = titles(first)
            for window in list(children(first.node)):
                slider = next(n for n in walk(window) if role_of(n) == "slider" and name_of(n).startswith("Crank speed"))
                Atspi.Value.set_current_value(slider, Atspi.Value.get_current_value(slider) + 1)
            kept = os.path.join(home.path, "state", "flapwright", "kept")
            wait_until(lambda: os.path.isdir(kept) and len([n for n in os.listdir(kept) if n.endswith(".flap")]) == 2,
                       "not both are kept")
            first.kill()
        finally:
            first.close()
        with home.start() as program:
            for _ in range(2):
                said = program.says("were kept on")
                answer = next(n for n in walk(program.node) if role_of(n) == "push button" and name_of(n) == "Open")
                Atspi.Action.do_action(answer, 0)
                wait_until(lambda: not any(name_of(n) == said for n in walk(program.node)), "it is offered again")
            wait_until(lambda: titles(program) == names, lambda: f"the windows are {titles(program)}")
            for design in ("owl.flap, changed", "moth.flap, changed"):
                program.says(design)


TESTS = [
    a_setting_changed_in_the_window_is_there_at_the_next_start,
    a_broken_settings_file_is_survived_with_a_word,
    what_was_open_opens_again_as_it_was_looked_at_and_what_is_gone_is_passed_over,
    the_choice_of_not_opening_again_holds,
    a_divider_stays_where_it_was_drawn,
    changes_of_two_designs_left_by_a_crash_come_back_each_in_its_window,
]
