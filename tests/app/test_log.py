#!/usr/bin/python3
"""The build log, flip-book and animation in the window as a person uses them: mouse, keys,
accessibility tree. Prints TAP.

    test_log.py FLAPWRIGHT DEMOS"""

import datetime
import json
import os
import re
import shutil
import subprocess
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import Atspi, Failed, Program, check, children, is_sensitive, name_of, role_of, run, wait_until, walk  # noqa: E402

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
HERON = os.path.join(DEMOS, "heron.flap")
DATES = ["2026-03-14", "2026-03-21", "2026-04-02"]  # of the heron's invented log


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


def open_log(program):
    program.key("ctrl+l")
    program.log = wait_until(lambda: next((node for node in children(program.node)
                                           if name_of(node).startswith("Build log")), None), "no log opens")
    return program.log


def entries(program):
    """Rows of the log by their headings. Only its own window is looked through: that is quick."""
    return {name_of(node): node for node in walk(program.log) if role_of(node) == "panel" and name_of(node)}


def entry(program, words):
    """A row of the log by the start of its heading."""
    return wait_until(lambda: next((row for name, row in entries(program).items() if name.startswith(words)), None),
                      lambda: f"no entry {words!r} among {list(entries(program))}")


def no_entry(program, words):
    wait_until(lambda: not any(name.startswith(words) for name in entries(program)), f"the entry {words!r} is still there")


def lines_of(row):
    return [name_of(node) for node in walk(row) if role_of(node) == "label"]


def wait_for_line(program, heading, words):
    """A line in an entry. The row is looked for anew each time: the list uses rows again."""
    return wait_until(lambda: next((line for line in lines_of(entry(program, heading)) if words in line), None),
                      lambda: f"no line with {words!r} in {lines_of(entry(program, heading))}")


def inside(node, role, name):
    return wait_until(lambda: next((n for n in walk(node) if role_of(n) == role and name_of(n).startswith(name)), None),
                      f"no {role} {name!r}")


def button_in(row, name):
    return inside(row, "push button", name)


def dialog(program, title):
    """The newest window of that name; it alone is looked through."""
    return wait_until(lambda: next((node for node in children(program.node) if name_of(node).startswith(title)), None),
                      f"no window {title!r}")


def arm_rod(program):
    """The slider of the arm-rod's length, mm."""
    program.key("ctrl+f")
    program.key("ctrl+a")
    program.type("Length of arm-rod")
    return program.find("slider", "Length of arm-rod")


def save_to(program, path):
    """Into the desktop's window for a name, which has just been asked for."""
    time.sleep(0.6)  # the name is filled in and selected when the folder has been read
    program.key("ctrl+a")
    program.type(path)
    program.key("Return")


def choose_export(program, number):
    """An entry of the list beside Export: 1 flip-book, 2 animation, 3 build log."""
    time.sleep(0.3)
    program.press("push button", "Export something else")
    time.sleep(0.5)
    program.key(*["Down"] * number, "Return")




# ---- Reading ----


def the_log_opens_by_key_and_tells_newest_first_what_changed_and_what_that_did():
    with Opened(HERON) as program:
        open_log(program)
        rows = [entry(program, f"{3 - i}.  {DATES[2 - i]}") for i in range(3)]
        tops = [program.place(row)[1] for row in rows]
        check(tops == sorted(tops), f"not newest first: {tops}")
        wait_for_line(program, "3.", "tip-rod lengthened from 452 mm to 458 mm")
        wait_for_line(program, "3.", "tip folds through 50.6°")
        wait_for_line(program, "3.", "Goes round free of trouble")
        strip = next(node for node in walk(rows[0]) if name_of(node).startswith("Motion strip of 3."))
        check(role_of(strip) == "image", f"the strip is a {role_of(strip)}")
        shot = os.path.join(program.home, "strip.png")
        x, y, width, height = program.place(strip)

        def colours():
            program.shot(shot)
            found = subprocess.run(["convert", shot, "-crop", f"{int(width)}x{int(height)}+{int(x)}+{int(y)}",
                                    "-format", "%k", "info:"], capture_output=True, text=True, check=True)
            return int(found.stdout)
        wait_until(lambda: colours() > 200, "no strip is drawn")
        program.key("Escape", "ctrl+w")
        program.gone("frame", "Build log")


def quitting_from_the_log_asks_for_what_is_unsaved_and_ends_well():
    with Opened(HERON) as program:
        open_log(program)
        program.key("ctrl+q")
        check(program.wait_end() == 0, "it did not end well: " + program.said())
    with Opened(HERON) as program:
        slider = arm_rod(program)
        Atspi.Value.set_current_value(slider, Atspi.Value.get_current_value(slider) + 1)
        open_log(program)
        program.key("ctrl+q")
        program.says("Save the changes to")
        Atspi.Action.do_action(program.find("push button", "Cancel"), 0)
        program.gone("push button", "Cancel")  # a button pressed so takes a moment to answer
        program.key("ctrl+q")
        Atspi.Action.do_action(program.find("push button", "Discard"), 0)
        check(program.wait_end() == 0, "it did not end well: " + program.said())


def what_is_not_logged_yet_is_told_as_it_is_edited():
    with Opened(HERON) as program:
        slider = arm_rod(program)
        program.click(program.find("text", "Length of arm-rod"))
        program.key("ctrl+a")
        program.type("450.5")
        program.key("Return")
        wait_until(lambda: Atspi.Value.get_current_value(slider) == 450.5, "the rod stays")
        open_log(program)
        wait_for_line(program, "Since then, not logged yet", "arm-rod lengthened from 448.0 mm to 450.5 mm")
        program.key("ctrl+z")
        no_entry(program, "Since then, not logged yet")


# ---- Writing ----


def an_entry_is_added_with_a_date_of_ones_choice_and_undone():
    with Opened(HERON) as program:
        open_log(program)
        entry(program, "3.")
        program.click(button_in(program.log, "New entry"))
        form = dialog(program, "New entry in the build log")
        date = inside(form, "text", "Date")
        today = Atspi.Text.get_text(date, 0, Atspi.Text.get_character_count(date))
        check(today == datetime.date.today().isoformat(), f"the date is {today!r}")
        program.type("Turns by itself in the wind")
        program.click(date)
        program.key("ctrl+a")
        program.type("2026-05-40")
        program.click(button_in(form, "Add to the log"))
        wait_until(lambda: any("2026-05-40" in name_of(node) for node in walk(form)), "a day that is none is taken")
        program.click(date)
        program.key("ctrl+a")
        program.type("2026-05-04")
        program.click(button_in(form, "Add to the log"))
        wait_for_line(program, "4.  2026-05-04", "Turns by itself in the wind")
        program.says("Noted in the build log: entry 4.")
        program.key("ctrl+z")
        no_entry(program, "4.  2026-05-04")
        program.says("Undone: New log entry")


def a_state_is_noted_from_the_main_window_in_a_few_keys():
    with Opened(HERON) as program:
        program.key("ctrl+shift+l")
        program.find("text", "Note")
        program.type("Louder than before")
        program.key("ctrl+Return")
        program.says("Noted in the build log: entry 4.")
        open_log(program)
        wait_for_line(program, "4.  " + datetime.date.today().isoformat(), "Louder than before")


def a_note_is_changed_and_an_entry_taken_out_each_undone_at_once():
    with Opened(HERON) as program:
        open_log(program)
        program.click(button_in(entry(program, "3."), "Edit note"))
        form = dialog(program, "Note of 2026-04-02")
        inside(form, "text", "Note")
        program.key("ctrl+a")
        program.type("All soldered")
        program.click(button_in(form, "Keep"))
        wait_for_line(program, "3.", "All soldered")
        program.key("ctrl+z")
        wait_for_line(program, "3.", "Tip throws turned back")
        program.click(button_in(entry(program, "3."), "Remove"))
        no_entry(program, "3.")
        program.says("is taken out")
        program.key("ctrl+z")
        entry(program, "3.  2026-04-02")


def an_entry_brought_back_changes_the_number_and_one_undo_takes_it_back():
    with Opened(HERON) as program:
        slider = arm_rod(program)
        before = Atspi.Value.get_current_value(slider)
        with open(HERON, encoding="utf-8") as file:
            rods = json.load(file)["log"][0]["design"]["rods"]
        logged = next(rod["length"] for rod in rods if rod["name"] == "arm-rod")
        check(abs(logged - before) > 1, "the heron's log does not tell the lengths apart")
        open_log(program)
        entry(program, "1.")
        button = button_in(entry(program, "1."), "Bring back")
        Atspi.Action.do_action(button, 0)  # it is below the edge of the window
        program.says("The design of 2026-03-14 is back")
        entry(program, "4.")
        wait_until(lambda: abs(Atspi.Value.get_current_value(slider) - logged) < 1e-9,
                   f"the rod does not go to {logged}")
        program.key("ctrl+z")
        no_entry(program, "4.")
        wait_until(lambda: abs(Atspi.Value.get_current_value(slider) - before) < 1e-9,
                   f"the rod does not go back to {before}")


# ---- Files ----


def the_log_is_exported_as_a_pdf():
    with Opened(HERON) as program:
        open_log(program)
        entry(program, "3.")
        program.click(button_in(program.log, "Export the log"))
        form = dialog(program, "Export the build log")
        inside(form, "label", "3 entries")
        program.click(button_in(form, "Save…"))
        path = os.path.join(program.home, "log.pdf")
        save_to(program, path)
        program.says("Build log saved:")
        text = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True).stdout
        for date in DATES:
            check(date in text, f"{date} is not in the PDF")


def an_animation_that_is_stopped_leaves_nothing_and_then_is_as_the_dialog_says():
    with Opened(HERON) as program:
        choose_export(program, 2)
        form = dialog(program, "Export an animation")
        wide = inside(form, "spin button", "Width")
        Atspi.Value.set_current_value(wide, 2000)
        inside(form, "label", "2000 × ")
        program.click(button_in(form, "Save GIF"))
        folder = os.path.join(program.home, "out")
        os.mkdir(folder)
        save_to(program, os.path.join(folder, "large.gif"))
        stop = button_in(form, "Stop")
        time.sleep(0.5)  # it writes by now
        program.click(stop)
        inside(form, "label", "Stopped: nothing was written.")
        check(is_sensitive(button_in(form, "Save GIF")), "it cannot be saved after all")
        check(os.listdir(folder) == [], f"left behind: {os.listdir(folder)}")
        Atspi.Value.set_current_value(wide, 300)
        inside(form, "label", "300 × ")
        words = wait_until(lambda: next((name_of(n) for n in walk(form) if "\nabout " in name_of(n)), None),
                           "no size of the animation")
        width, height, frames = (int(n) for n in re.match(r"(\d+) × (\d+) px\n(\d+) frames", words).groups())
        program.click(button_in(form, "Save GIF"))
        path = os.path.join(program.home, "turn.gif")
        save_to(program, path)
        program.says("Animation saved:")
        found = subprocess.run(["identify", "-format", "%W %H\n", path], capture_output=True, text=True, check=True)
        sizes = found.stdout.split("\n")[:-1]
        check(len(sizes) == frames, f"{len(sizes)} frames, the dialog says {frames}")
        check(sizes[0] == f"{width} {height}", f"{sizes[0]}, the dialog says {width} × {height}")


def a_flip_book_is_exported_with_the_pages_that_the_dialog_tells():
    with Opened(HERON) as program:
        choose_export(program, 1)
        form = dialog(program, "Export a flip-book")
        inside(form, "image", "Preview of page 2 of 6")
        inside(form, "label", "49 leaves")
        program.click(button_in(form, "Save PDF"))
        path = os.path.join(program.home, "flip.pdf")
        save_to(program, path)
        program.says("Flip-book saved:")
        found = subprocess.run(["pdfinfo", path], capture_output=True, text=True, check=True).stdout
        pages = re.search(r"Pages:\s+(\d+)", found).group(1)
        check(pages == "6", f"{pages} pages")


TESTS = [
    the_log_opens_by_key_and_tells_newest_first_what_changed_and_what_that_did,
    quitting_from_the_log_asks_for_what_is_unsaved_and_ends_well,
    what_is_not_logged_yet_is_told_as_it_is_edited,
    an_entry_is_added_with_a_date_of_ones_choice_and_undone,
    a_state_is_noted_from_the_main_window_in_a_few_keys,
    a_note_is_changed_and_an_entry_taken_out_each_undone_at_once,
    an_entry_brought_back_changes_the_number_and_one_undo_takes_it_back,
    the_log_is_exported_as_a_pdf,
    an_animation_that_is_stopped_leaves_nothing_and_then_is_as_the_dialog_says,
    a_flip_book_is_exported_with_the_pages_that_the_dialog_tells,
]

if __name__ == "__main__":
    sys.exit(run(TESTS))
