#!/usr/bin/python3
"""The program as a person uses it: mouse, keys, accessibility tree. Prints TAP.

    test_window.py FLAPWRIGHT DEMOS"""

import json
import os
import re
import subprocess
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import Atspi, Failed, Program, check, children, is_sensitive, name_of, role_of, run, settings_text, wait_until, walk  # noqa: E402
import left  # noqa: E402

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])


def demo(name):
    return os.path.join(DEMOS, name)


def angle_in_view(program, part):
    """Degrees of a panel, as the front view says in words."""
    words = program.find("image", "Front view").get_description() or ""
    found = re.search(re.escape(part) + r" at (-?[\d.]+)°", words)
    return float(found.group(1)) if found else None


def text_of(node):
    return Atspi.Text.get_text(node, 0, Atspi.Text.get_character_count(node))


def crank(program):
    """Crank angle in degrees."""
    if not hasattr(program, "strip"):
        program.strip = program.find("slider", "Crank angle")
    return Atspi.Value.get_current_value(program.strip)


def show_number(program, words):
    """Finds a number by part of its name; its slider."""
    program.key("ctrl+f")
    program.key("ctrl+a")
    program.type(words)
    return program.find("slider", words)


def changed(before, read, what):
    return wait_until(lambda: (lambda now: now if now is not None and now != before else None)(read()),
                      f"{what} stays {before}")


def drag_slider(program, words, share):
    """Drags a slider's knob by a share of its length; the value before and after."""
    slider = show_number(program, words)
    before = Atspi.Value.get_current_value(slider)
    low, high = Atspi.Value.get_minimum_value(slider), Atspi.Value.get_maximum_value(slider)
    x, y, width, height = program.place(slider)
    knob = x + 8 + (width - 16) * (before - low) / (high - low)
    program.drag(knob, y + min(height / 2, 9), share * width, 0)
    return before, changed(before, lambda: Atspi.Value.get_current_value(program.find("slider", words)), words)


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


# ---- Opening ----


def without_a_file_the_heron_opens_and_goes_round():
    with Opened() as program:
        check(program.title() == "Night heron", f"the title is {program.title()!r}")
        program.says("Goes round free of trouble")


def a_file_on_the_command_line_opens_and_its_trouble_is_listed():
    with Opened(demo("troubled.flap")) as program:
        program.find("list item", "Failure.")


def version_and_help_need_no_window():
    version = subprocess.run([PROGRAM, "--version"], capture_output=True, text=True, check=True)
    check(re.match(r"flapwright \d+\.\d+", version.stdout), version.stdout)
    help_text = subprocess.run([PROGRAM, "--help"], capture_output=True, text=True, check=True)
    check("FILE" in help_text.stdout, help_text.stdout)


def a_broken_file_leaves_the_open_design_and_says_why():
    with Opened() as program:
        path = os.path.join(program.home, "broken.flap")
        with open(path, "w", encoding="utf-8") as file:
            file.write('{"format":"flapwright design",\n"version":1,}')
        open_path(program, path)
        program.says("broken.flap: line 2")
        check(program.title() == "Night heron", "the open design is gone")
        check(angle_in_view(program, "arm.right") is not None, "the view is empty")


def a_broken_file_on_the_command_line_says_why_in_the_window():
    with Opened("/nowhere/at-all.flap") as program:
        program.says("at-all.flap")
        program.press("push button", "New design…")
        program.find("frame", "New design")


def open_path(program, path):
    program.key("ctrl+o")
    program.find("push button", "Open")
    wait_until(lambda: len(list(children(program.node))) > 1 or program.seek("dialog", ""), "no window to open a file")
    program.type(path)
    program.key("Return")


# ---- Numbers ----


def a_slider_dragged_with_the_mouse_moves_the_wing_and_is_one_step_of_undo():
    with Opened() as program:
        angle = wait_until(lambda: angle_in_view(program, "arm.right"), "no angle in the view")
        before, after = drag_slider(program, "Length of arm-rod", 0.1)
        check(after > before, f"dragged to the right, the length went from {before} to {after}")
        changed(angle, lambda: angle_in_view(program, "arm.right"), "the angle")
        program.key("ctrl+z")
        program.says("Undone")
        wait_until(lambda: Atspi.Value.get_current_value(program.find("slider", "Length of arm-rod")) == before,
                   "one undo does not take the drag back")
        wait_until(lambda: angle_in_view(program, "arm.right") == angle, "the wing does not go back")
        check(not is_sensitive(program.find("push button", "Undo")), "there is more to undo")
        program.key("ctrl+shift+z")
        wait_until(lambda: abs(Atspi.Value.get_current_value(program.find("slider", "Length of arm-rod")) - after) < 1e-9,
                   "redo does not do it again")


def a_length_can_be_typed_in_inches_and_shown_in_them():
    with Opened() as program:
        show_number(program, "Length of arm-rod")
        program.click(program.find("text", "Length of arm-rod"))
        program.key("ctrl+a")
        program.type("17 1/2 in")
        program.key("Return")
        wait_until(lambda: abs(Atspi.Value.get_current_value(program.find("slider", "Length of arm-rod")) - 444.5) < 1e-6,
                   "17 1/2 in is not 444.5 mm")
        program.press("push button", "Lengths in inches")
        entry = program.find("text", "Length of arm-rod, in")
        wait_until(lambda: text_of(entry).startswith("17 1/2"), lambda: f"shown as {text_of(entry)!r}")


# ---- The crank ----


def scrubbing_along_the_strip_turns_the_crank():
    with Opened() as program:
        angle = wait_until(lambda: angle_in_view(program, "arm.right"), "no angle in the view")
        x, y, width, height = program.place(program.find("slider", "Crank angle"))
        program.drag(x + width * 0.2, y + height * 0.6, width * 0.2, 0)
        wait_until(lambda: 60 < crank(program) < 200, lambda: f"the crank is at {crank(program)}")
        changed(angle, lambda: angle_in_view(program, "arm.right"), "the angle")


def keys_turn_the_crank_by_a_degree_and_a_tenth():
    with Opened() as program:
        program.key("alt+Right", "alt+Right", "ctrl+alt+Right")
        wait_until(lambda: abs(crank(program) - 2.1) < 1e-6, lambda: f"the crank is at {crank(program)}, not at 2.1")
        program.key("ctrl+alt+Left", "alt+Left")
        wait_until(lambda: abs(crank(program) - 1) < 1e-6, lambda: f"the crank is at {crank(program)}, not at 1")
        program.key("alt+Next")
        wait_until(lambda: crank(program) > 2, "the crank does not go to the next flag")


def space_plays_and_pauses():
    with Opened() as program:
        check(crank(program) == 0, "the crank does not start at 0")
        program.key("space")
        first = changed(0, lambda: crank(program), "the crank")
        changed(first, lambda: crank(program), "the crank")
        program.key("space")
        wait_until(lambda: (lambda now: time.sleep(0.2) or crank(program) == now)(crank(program)), "the crank does not rest")
        rest = crank(program)
        program.key("shift+space")
        wait_until(lambda: crank(program) != rest, "the crank does not play backwards")


# ---- Trouble ----


def a_line_of_trouble_goes_to_its_angle_and_a_remedy_mends_it_and_can_be_undone():
    with Opened(demo("troubled.flap")) as program:
        item = program.find("list item", "Failure. tip-rod.right cannot be joined")
        worst = float(re.search(r"worst at ([\d.]+)°", name_of(item)).group(1))
        program.click(item)
        wait_until(lambda: abs(crank(program) - worst) < 0.06, f"the crank does not go to {worst}")
        program.press("push button", "Lengthen tip-rod")
        program.says("Done: Lengthen tip-rod")
        program.gone("list item", "Failure. tip-rod.right cannot be joined")
        program.key("ctrl+z")
        program.find("list item", "Failure. tip-rod.right cannot be joined")


# ---- Saving and closing ----


def save_as(program, path):
    program.key("ctrl+shift+s")
    wait_until(lambda: len(list(children(program.node))) > 1, "no window to save a file")
    time.sleep(0.3)  # the name is filled in and selected when the folder has been read
    program.key("ctrl+a")
    program.type(path)
    program.key("Return")
    program.says("Saved:")


def a_design_saved_holds_the_number_that_was_changed():
    with Opened() as program:
        _, after = drag_slider(program, "Length of arm-rod", 0.1)
        path = os.path.join(program.home, "mine.flap")
        save_as(program, path)
        with open(path, encoding="utf-8") as file:
            rods = json.load(file)["rods"]
        saved = next(rod["length"] for rod in rods if rod["name"] == "arm-rod")
        check(abs(saved - after) < 1e-6, f"saved {saved}, shown {after}")
        program.says("mine.flap")
        check(not is_sensitive(program.find("push button", "Save the design")), "saved work can be saved again")


def closing_with_unsaved_work_asks_and_cancel_keeps_it():
    with Opened() as program:
        drag_slider(program, "Length of arm-rod", 0.1)
        program.key("ctrl+w")
        program.find("label", "Save the changes")
        program.key("Escape")
        program.gone("label", "Save the changes")
        program.check_alive()
        program.key("ctrl+w")
        program.press("push button", "Discard")
        check(program.wait_end() == 0, "the program ends badly")


def closing_without_changes_does_not_ask():
    with Opened() as program:
        program.key("ctrl+q")
        check(program.wait_end() == 0, "the program ends badly")


def work_left_by_a_crash_is_offered_and_opened():
    first = Program(PROGRAM)
    try:
        _, after = drag_slider(first, "Length of arm-rod", 0.1)
        kept = os.path.join(first.home, "state", "flapwright", "kept")
        wait_until(lambda: os.path.isdir(kept) and any(name.endswith(".flap") for name in os.listdir(kept)),
                   "nothing is kept")
        first.kill()
        with Opened(home=first.home) as program:
            program.says("was kept on")
            program.press("push button", "Open")
            slider = show_number(program, "Length of arm-rod")
            wait_until(lambda: abs(Atspi.Value.get_current_value(slider) - after) < 1e-6, "another length is back")
            program.says("never saved")
    finally:
        first.close()


# ---- The strip ----


def the_strip_is_exported_as_a_png_as_large_as_the_preview_says():
    with Opened() as program:
        program.press("push button", "Export the motion strip")
        size = program.says(" × ")
        width, height = (int(number) for number in re.match(r"(\d+) × (\d+)", size).groups())
        program.press("push button", "Save PNG")
        frames = len(list(children(program.node)))
        wait_until(lambda: len(list(children(program.node))) > 2, f"{frames} windows")
        time.sleep(0.3)  # as in save_as ()
        path = os.path.join(program.home, "strip.png")
        program.key("ctrl+a")
        program.type(path)
        program.key("Return")
        program.says("Strip saved:")
        subprocess.run(["pngcheck", "-q", path], check=True)
        found = subprocess.run(["identify", "-format", "%w %h %k", path], capture_output=True, text=True, check=True)
        w, h, colours = (int(word) for word in found.stdout.split())
        check((w, h) == (width, height), f"{w} x {h}, the dialog says {width} x {height}")
        check(colours > 100, f"a picture of {colours} colours")


# ---- A new design, views, help ----


def the_guided_start_builds_a_design_that_goes_round():
    with Opened() as program:
        program.key("ctrl+n")
        program.press("push button", "Build the design")
        wait_until(lambda: program.title() == "New wings", lambda: f"the title is {program.title()!r}")
        program.says("Goes round free of trouble")
        program.says("never saved")


def the_title_is_changed_by_a_key_and_is_one_step_of_undo():
    with Opened() as program:
        before = program.title()
        program.key("F2")
        program.find("text", "Title of the design")
        program.key("ctrl+a")
        program.type("Marsh bird")
        program.key("Escape")  # lets it be
        program.gone("text", "Title of the design")
        check(program.title() == before, f"the title is {program.title()!r}")
        program.key("F2")
        program.find("text", "Title of the design")
        program.key("ctrl+a")
        program.type("Marsh bird")
        program.key("Return")
        wait_until(lambda: program.title() == "Marsh bird", lambda: f"the title is {program.title()!r}")
        program.gone("text", "Title of the design")
        program.key("ctrl+z")
        wait_until(lambda: program.title() == before, lambda: f"after undo the title is {program.title()!r}")


def a_demo_chosen_by_its_picture_opens():
    with Opened() as program:
        program.key("ctrl+n")
        card = wait_until(lambda: next((node for node in walk(program.node) if role_of(node) == "label"
                                        and "moth" in name_of(node).lower()), None), "no moth among the demos")
        program.click(card)
        wait_until(lambda: "moth" in program.title().lower(), lambda: f"the title is {program.title()!r}")


def an_arrow_pressed_before_the_demos_are_laid_out_does_no_harm():
    with Opened() as program:
        program.xdo("key", "--delay", 0, "ctrl+n", "Down", "Up", "Down")  # at once, as a quick hand does: GTK 4.8 looked for the card below for ever
        program.find("push button", "Build the design")
        program.key("Escape")
        program.gone("push button", "Build the design")


def either_view_fills_the_place_and_the_margin_folds():
    with Opened() as program:
        wide = Atspi.Component.get_extents(program.find("image", "Front view"), Atspi.CoordType.WINDOW).width
        program.key("ctrl+1")
        program.gone("image", "Side view")
        wait_until(lambda: Atspi.Component.get_extents(program.find("image", "Front view"), Atspi.CoordType.WINDOW).width
                   > wide, "the front view does not fill the place")
        program.key("ctrl+2")
        program.find("image", "Side view")
        program.key("ctrl+4")
        program.find("image", "Three-quarter view")
        program.key("F9")
        program.gone("panel", "Numbers")
        program.key("F9", "ctrl+3")
        program.find("panel", "Numbers")


# ---- Loads ----


def tab(program, name):
    return next(node for node in walk(program.node) if name_of(node) == name and "tab" in role_of(node))


def is_chosen(node):
    return node.get_state_set().contains(Atspi.StateType.SELECTED)


def knocking_heron(program_home):
    """The heron turned fast, its post loose in its guide."""
    with open(demo("heron.flap"), encoding="utf-8") as file:
        design = json.load(file)
    design["title"] = "Knocking heron"
    design["crank"]["turns_per_minute"] = 60
    design["body"]["play"] = 1.5
    path = os.path.join(program_home, "knocking.flap")
    with open(path, "w", encoding="utf-8") as file:
        json.dump(design, file)
    return path


def the_page_of_loads_opens_by_key_and_a_peak_moves_the_crank():
    with Opened(demo("heron.flap")) as program:
        program.key("alt+l")
        program.find("image", "Crank torque around the turn")
        row = program.find("list item", "neck-tie, push")
        angle = float(re.search(r"at (\d+)°", name_of(row)).group(1))
        check(abs(crank(program) - angle) > 1, "the crank stands there already")
        program.click(row)
        wait_until(lambda: abs(crank(program) - angle) <= 0.51, f"the crank is not at {angle}")
        program.says("neck-tie")
        program.key("alt+l", "Down", "Return")  # the keyboard alone, from the row on
        changed(angle, lambda: round(crank(program)), "the crank angle")
        wait_until(lambda: is_chosen(tab(program, "Loads")), "the page of loads is not chosen")
        program.key("alt+u")
        wait_until(lambda: is_chosen(tab(program, "Numbers")) and not is_chosen(tab(program, "Loads")),
                   "the page of numbers is not chosen, or that of loads still is")


def the_tab_of_loads_is_in_the_tree_and_its_plot_says_the_peaks():
    with Opened(demo("heron.flap"), size=(1024, 700)) as program:
        program.click(tab(program, "Loads"))
        plot = program.find("image", "Crank torque around the turn")
        wait_until(lambda: "at most" in (plot.get_description() or ""), "the plot has no words")
        x, y, width, height = program.place(plot)
        check(width >= 300 and height >= 200, f"the plot is {width} by {height}")
        program.xdo("mousemove", int(x + 0.85 * width), int(y + height / 2), "click", 1)  # a quarter turn: right
        wait_until(lambda: abs(crank(program) - 90) < 8, "a click on the plot does not turn the crank")


def bounce_points_are_stepped_through_and_told():
    with Opened() as program:
        open_path(program, knocking_heron(program.home))
        program.find("list item", "Warning.")
        program.key("alt+shift+Next")
        program.says("knocks at")
        first = crank(program)
        program.key("alt+shift+Next")
        second = changed(round(first, 1), lambda: round(crank(program), 1), "the crank angle")
        program.key("alt+shift+Prior")
        wait_until(lambda: abs(crank(program) - first) < 0.1, f"{second} does not go back to {first}")


def a_knock_has_its_spring_fitted_by_a_button_and_undo_takes_it_off():
    with Opened() as program:
        open_path(program, knocking_heron(program.home))
        program.click(program.find("list item", "Warning."))
        button = program.find("push button", "Fit it: An elastic cord", seconds=60)
        Atspi.Action.do_action(button, 0)
        program.says("Fitted: An elastic cord")
        program.gone("list item", "Warning.")
        program.says("Spring cord")
        program.key("ctrl+z")
        program.find("list item", "Warning.")


# ---- Parts ----


def add_part(program, downs):
    """The part that stands `downs` below the first in the menu."""
    program.press("push button", "Add part")
    program.find("menu item", "Throw")
    program.key(*["Down"] * downs, "Return")


def a_part_is_added_renamed_and_removed_and_undo_brings_all_back():
    with Opened() as program:
        add_part(program, 5)
        program.says("Added: weight")
        program.says("Weight weight")
        show_number(program, "Mass of the weight weight")
        program.click(program.find("text", "Mass of the weight weight"))
        program.type("7")  # typed and not yet applied: its number goes away under it
        Atspi.Action.do_action(program.find("push button", "Undo"), 0)
        program.says("Undone: Add a weight on the body")
        check(not any("no such number" in name_of(node) for node in walk(program.node)), "a row that went changed a number")
        add_part(program, 4)
        program.says("Added: counterweight")
        entry = program.find("text", "Name of counterweight")
        program.click(entry)
        program.key("ctrl+a")
        program.type("lead")
        program.key("Return")
        Atspi.Action.do_action(program.find("push button", "Remove lead"), 0)
        program.says("Removed: lead")
        program.gone("push button", "Remove lead")
        program.key("ctrl+z")
        program.says("Undone: Remove lead")


def play_that_was_nothing_is_typed_in_and_the_post_knocks():
    with Opened() as program:
        for words, value in (("Play of the body's guide", "1.5"), ("Crank speed", "60")):
            show_number(program, words)
            program.click(program.find("text", words))
            program.key("ctrl+a")
            program.type(value)
            program.key("Return")
        program.find("list item", "Warning. The body knocks across its play")
        program.key("ctrl+z", "ctrl+z")
        program.says("Goes round free of trouble")


def a_material_is_chosen_from_the_list_and_can_be_undone():
    with Opened() as program:
        program.press("combo box", "Material")
        time.sleep(0.5)
        program.key("Up", "Return")
        wait_until(lambda: is_sensitive(program.find("push button", "Undo")), "nothing was chosen")
        program.key("ctrl+z")
        program.says("Undone: Material")


def forces_are_shown_by_key_and_remembered():
    with Opened(demo("heron.flap")) as program:
        program.key("alt+f")
        wait_until(lambda: "'forces'" in settings_text(program.home), "it is not remembered")


def every_control_with_the_keyboard_has_a_name():
    with Opened(demo("troubled.flap"), settings="") as program:
        nameless = set()
        for node in walk(program.node):
            role, name = role_of(node), name_of(node)
            focusable = node.get_state_set().contains(Atspi.StateType.FOCUSABLE)
            if focusable and role in ("push button", "slider", "spin button", "entry", "text", "check box", "image"):
                if not name or name.startswith("Gtk") or name.startswith("Fw"):
                    nameless.add(f"{role} {name!r} in {name_of(node.get_parent())!r}")
        check(not nameless, "; ".join(sorted(nameless)))


def keys_and_help_open_by_key_and_close_by_escape():
    with Opened() as program:
        program.key("F1")
        program.says("pinch fingers")
        program.key("Escape")
        program.gone("frame", "Help and cautions")
        program.key("ctrl+question")
        program.find("frame", "Keys")
        program.says("Play, pause")
        program.key("Escape")
        program.gone("frame", "Keys")


def the_three_things_to_try_are_ticked_and_stay_closed():
    with Opened(settings="") as program:
        program.find("panel", "Three things to try")
        drag_slider(program, "Length of arm-rod", 0.05)
        program.find("panel", "Drag a slider: done")
        program.key("alt+Right")
        program.find("panel", "Scrub to the trouble: done")
        program.press("push button", "Close the three things to try")
        program.gone("panel", "Three things to try")
        wait_until(lambda: "first-steps-done=true" in settings_text(program.home, "state"), "it is not remembered")


def light_and_dark_are_chosen_by_key_and_remembered():
    with Opened() as program:
        def ground():
            shot = os.path.join(program.home, "shot.png")
            program.shot(shot)
            found = subprocess.run(["convert", shot, "-crop", "1x1+600+200", "-format", "%[fx:p{0,0}.lightness]", "info:"],
                                   capture_output=True, text=True, check=True)
            return float(found.stdout)
        wait_until(lambda: ground() > 0.8, "paper is not light")
        program.key("alt+2")
        wait_until(lambda: ground() < 0.3, "slate is not dark")
        wait_until(lambda: "appearance='dark'" in settings_text(program.home), "it is not remembered")


TESTS = [
    without_a_file_the_heron_opens_and_goes_round,
    a_file_on_the_command_line_opens_and_its_trouble_is_listed,
    version_and_help_need_no_window,
    a_broken_file_leaves_the_open_design_and_says_why,
    a_broken_file_on_the_command_line_says_why_in_the_window,
    a_slider_dragged_with_the_mouse_moves_the_wing_and_is_one_step_of_undo,
    a_length_can_be_typed_in_inches_and_shown_in_them,
    scrubbing_along_the_strip_turns_the_crank,
    keys_turn_the_crank_by_a_degree_and_a_tenth,
    space_plays_and_pauses,
    a_line_of_trouble_goes_to_its_angle_and_a_remedy_mends_it_and_can_be_undone,
    a_design_saved_holds_the_number_that_was_changed,
    closing_with_unsaved_work_asks_and_cancel_keeps_it,
    closing_without_changes_does_not_ask,
    work_left_by_a_crash_is_offered_and_opened,
    the_strip_is_exported_as_a_png_as_large_as_the_preview_says,
    the_guided_start_builds_a_design_that_goes_round,
    the_title_is_changed_by_a_key_and_is_one_step_of_undo,
    a_demo_chosen_by_its_picture_opens,
    an_arrow_pressed_before_the_demos_are_laid_out_does_no_harm,
    either_view_fills_the_place_and_the_margin_folds,
    the_page_of_loads_opens_by_key_and_a_peak_moves_the_crank,
    the_tab_of_loads_is_in_the_tree_and_its_plot_says_the_peaks,
    bounce_points_are_stepped_through_and_told,
    a_knock_has_its_spring_fitted_by_a_button_and_undo_takes_it_off,
    a_part_is_added_renamed_and_removed_and_undo_brings_all_back,
    play_that_was_nothing_is_typed_in_and_the_post_knocks,
    a_material_is_chosen_from_the_list_and_can_be_undone,
    forces_are_shown_by_key_and_remembered,
    every_control_with_the_keyboard_has_a_name,
    keys_and_help_open_by_key_and_close_by_escape,
    the_three_things_to_try_are_ticked_and_stay_closed,
    light_and_dark_are_chosen_by_key_and_remembered,
]

if __name__ == "__main__":
    sys.exit(run(TESTS + left.TESTS))
