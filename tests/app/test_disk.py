#!/usr/bin/python3
"""The file of an open design, changed, removed and opened again behind the window's back. Prints TAP.

    test_disk.py FLAPWRIGHT DEMOS"""

import json
import os
import shutil
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import Atspi, Failed, Program, check, children, is_sensitive, name_of, run, wait_until, walk  # noqa: E402

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])


class Opened:
    """A program with a copy of a demo in a folder of its own; it must not complain."""

    def __init__(self, text=None):
        self.text = text

    def __enter__(self):
        self.folder = tempfile.mkdtemp(prefix="flapwright-test-")
        self.path = os.path.join(self.folder, "wings", "heron.flap")
        os.mkdir(os.path.dirname(self.path))
        shutil.copy(os.path.join(DEMOS, "heron.flap"), self.path)
        if self.text is not None:
            with open(self.path, "w", encoding="utf-8") as file:
                file.write(self.text)
        self.program = Program(PROGRAM, self.path)
        self.program.path = self.path
        wait_until(lambda: self.program.title() == read(self.path)["title"], "the design is not open")
        return self.program

    def __exit__(self, kind, value, trace):
        complaints = self.program.complaints()
        self.program.close()
        shutil.rmtree(self.folder, ignore_errors=True)
        if kind is None and complaints:
            raise Failed("the program complained: " + "; ".join(complaints))


def read(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def write(path, design):
    """As another program does that saves well."""
    with open(path + ".new", "w", encoding="utf-8") as file:
        json.dump(design, file)
    os.rename(path + ".new", path)


def write_title(path, title):
    write(path, dict(read(path), title=title))


def has_title(program, title):
    wait_until(lambda: program.title() == title, lambda: f"the title is {program.title()!r}, not {title!r}")


def change(program):
    """One step: the first number in sight, by a key on its slider."""
    program.key("ctrl+f")
    program.type("Crank speed")
    slider = program.find("slider", "Crank speed")
    before = Atspi.Value.get_current_value(slider)
    Atspi.Value.set_current_value(slider, before + 1)
    wait_until(lambda: is_sensitive(program.find("push button", "Save the design")), "nothing was changed")
    return before + 1


def speed(path):
    return read(path)["crank"]["turns_per_minute"]


def a_design_without_changes_takes_what_another_program_wrote_and_undo_brings_it_back():
    with Opened() as program:
        write_title(program.path, "Day heron")
        program.says("was changed by another program: this is its new state")
        has_title(program, "Day heron")
        check(not is_sensitive(program.find("push button", "Save the design")), "there is something to save")
        program.key("ctrl+z")
        has_title(program, "Night heron")
        program.key("ctrl+s")
        wait_until(lambda: read(program.path)["title"] == "Night heron", "it asks, or is not saved")

        with open(program.path, "w", encoding="utf-8") as file:
            file.write('{"format":')
        program.says("to something that cannot be opened")
        has_title(program, "Night heron")


def what_was_noted_while_nobody_was_at_the_window_stays_until_somebody_is():
    with Opened() as program:
        x, y = program.center(program.find("image", "Front view"))
        program.xdo("mousemove", int(x), int(y))
        write_title(program.path, "Day heron")
        note = "was changed by another program: this is its new state"
        program.says(note)
        time.sleep(7)
        program.says(note)
        program.xdo("mousemove", int(x) + 40, int(y) + 30)
        wait_until(lambda: not any(note in name_of(node) for node in walk(program.node)), "the note stays", 30)


def the_same_file_by_another_spelling_comes_to_the_front_instead_of_a_second_window():
    with Opened() as program:
        link = os.path.join(program.home, "link.flap")
        os.symlink(program.path, link)
        folder, name = os.path.split(program.path)
        # Each call ends at once: the program that runs already opens what it asks for.
        for other in (program.path, link, os.path.join(folder, "..", "wings", ".", name)):
            subprocess.run([PROGRAM, other], check=True, timeout=20,
                           env=dict(os.environ, HOME=program.home, XDG_CONFIG_HOME=os.path.join(program.home, "config")))
        subprocess.run([PROGRAM, os.path.join(DEMOS, "moth.flap")], check=True, timeout=20)
        wait_until(lambda: len(list(children(program.node))) == 2, lambda: f"{len(list(children(program.node)))} windows")


def what_is_no_design_file_is_refused_at_once_and_nothing_is_waited_for():
    """A pipe that nobody writes into would be waited for without end, and /dev/zero has none."""
    with Opened() as program:
        pipe = os.path.join(program.home, "pipe.flap")
        os.mkfifo(pipe)
        for other, words in ((pipe, "pipe.flap: expected a regular file"), ("/dev/zero", "/dev/zero: expected a regular file"),
                             (program.home, "the file cannot be read: Is a directory")):
            subprocess.run([PROGRAM, other], check=True, timeout=20,
                           env=dict(os.environ, HOME=program.home, XDG_CONFIG_HOME=os.path.join(program.home, "config")))
            program.says(words)
        program.key("ctrl+f")  # it goes on, with its design
        program.find("slider", "Crank speed")
        check(any(name_of(node) == "Night heron" for node in walk(program.node)), "the design is gone")


def a_design_with_changes_asks_and_nothing_is_written_over_unseen():
    with Opened() as program:
        mine = change(program)
        write_title(program.path, "Theirs")
        program.says("was changed by another program, and here too")
        has_title(program, "Night heron")
        program.press("push button", "Close the message")
        program.key("ctrl+s")
        program.find("label", "“heron.flap” was changed by another program.")
        program.key("Escape")
        program.gone("label", "“heron.flap” was changed by another program.")
        check(read(program.path)["title"] == "Theirs", "it was written over without an answer")
        program.key("ctrl+s")
        program.press("push button", "Save over it")
        wait_until(lambda: speed(program.path) == mine, "mine is not saved")

        mine = change(program)
        write_title(program.path, "Theirs again")
        program.press("push button", "Keep mine")
        program.key("ctrl+s")
        wait_until(lambda: speed(program.path) == mine, "mine is not saved, though it was to be kept")

        change(program)
        write_title(program.path, "Theirs at last")
        program.press("push button", "Take what is on disk")
        has_title(program, "Theirs at last")


def a_file_that_was_removed_can_be_saved_again_and_a_save_that_fails_offers_another_place():
    with Opened() as program:
        os.remove(program.path)
        program.says("was removed or moved by another program")
        program.key("ctrl+s")
        wait_until(lambda: os.path.exists(program.path), "it is not written again")

        shutil.rmtree(os.path.dirname(program.path))
        program.says("was removed or moved by another program")
        program.key("ctrl+s")
        program.says("heron.flap: the file cannot be written")
        check(is_sensitive(program.find("push button", "Save the design")), "the design counts as saved")
        program.press("push button", "Save as…")
        wait_until(lambda: len(list(children(program.node))) > 1, "no window to choose a file")
        time.sleep(0.3)
        other = os.path.join(program.home, "saved.flap")
        program.key("ctrl+a")
        program.type(other)
        program.key("Return")
        wait_until(lambda: os.path.exists(other), "it is not saved elsewhere")
        check(read(other)["title"] == "Night heron", "another design was saved")


def half_a_number_stays_out_of_what_another_program_wrote(ways, field, text, before, after, goes=None):
    """Typed, but neither Enter was pressed nor another field taken, when the rows are made anew."""
    with Opened(json.dumps(before)) as program:
        for key, words in ways:
            program.key(key)
            program.says(words, seconds=30)
        node = program.find("text", field)
        program.click(node)
        program.key("ctrl+a")
        program.type(text)
        wait_until(lambda: Atspi.Text.get_text(node, 0, Atspi.Text.get_character_count(node)) == text, "it cannot be typed into")
        write(program.path, after)
        has_title(program, after["title"])
        program.gone("text", goes or field)
        check(not is_sensitive(program.find("push button", "Save the design")), "what was typed went into it")
        program.check_alive()


def what_was_typed_and_not_taken_changes_nothing_in_a_design_with_other_rows():
    heron, moth = (read(os.path.join(DEMOS, name)) for name in ("heron.flap", "moth.flap"))
    half_a_number_stays_out_of_what_another_program_wrote([("ctrl+t", "of 1,000")], "Spread of Length of arm-rod", "7", heron, moth)
    one_bar = dict(heron, title="One bar", stock=dict(heron["stock"], bars=heron["stock"]["bars"][:1]))
    half_a_number_stays_out_of_what_another_program_wrote(
        [("ctrl+b", "Up to date"), ("ctrl+5", "Lost at a cut")], "Length of strip 12", "700", heron, one_bar)
    free = [{"number": "rods.arm-rod.length"}, {"number": "crank.turns_per_minute"}]
    half_a_number_stays_out_of_what_another_program_wrote(
        [("alt+a", "stays")], "Length of arm-rod: most", "700", dict(heron, wishes={"free": free}),
        dict(heron, title="Other wishes", wishes={"free": free[:1]}), "Crank speed: most")


def names_made_to_do_harm_are_only_shown():
    with open(os.path.join(DEMOS, "heron.flap"), encoding="utf-8") as file:
        text = file.read()
    for name, harm in (("Night heron", "<b>%s%n & $(touch evil)"), ("arm-rod", "<span size='99999'>"), ("arm", "../../<i>evil"),
                       ("neck", "_&lt;|touch evil"), ("tip", "`touch evil`;%08x")):
        text = text.replace(f'"{name}"', json.dumps(harm))
    with Opened(text) as program:
        program.says("<b>%s%n & $(touch evil)")
        program.key("alt+n", "alt+d", "alt+f", "alt+l")
        program.says("../../<i>evil")
        for page in ("alt+e", "alt+a", "alt+k", "alt+u", "ctrl+t", "ctrl+r"):
            program.key(page)
            time.sleep(0.3)
        program.key("ctrl+l")
        program.find("frame", "<b>%s%n & $(touch evil)")
        program.key("Escape", "ctrl+b")
        program.says("<b>%s%n")
        time.sleep(0.5)
        check(not [name for name in os.listdir(program.home) if "evil" in name], "a name was run or written to")
        program.check_alive()


if __name__ == "__main__":
    sys.exit(run([
        a_design_without_changes_takes_what_another_program_wrote_and_undo_brings_it_back,
        what_was_noted_while_nobody_was_at_the_window_stays_until_somebody_is,
        the_same_file_by_another_spelling_comes_to_the_front_instead_of_a_second_window,
        what_is_no_design_file_is_refused_at_once_and_nothing_is_waited_for,
        a_design_with_changes_asks_and_nothing_is_written_over_unseen,
        a_file_that_was_removed_can_be_saved_again_and_a_save_that_fails_offers_another_place,
        what_was_typed_and_not_taken_changes_nothing_in_a_design_with_other_rows,
        names_made_to_do_harm_are_only_shown,
    ]))
