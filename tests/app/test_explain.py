#!/usr/bin/python3
"""What a quantity means, told where it stands: by key and by mouse, closed by Escape. Prints TAP.

    test_explain.py FLAPWRIGHT DEMOS"""

import os
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import Atspi, Program, check, children, name_of, role_of, run, wait_until, walk  # noqa: E402

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
SWEEP = "How far the hinge line is turned as seen from above."
HERON = os.path.join(DEMOS, "heron.flap")


def focused(node):
    return node.get_state_set().contains(Atspi.StateType.FOCUSED)


def silent(program, words):
    wait_until(lambda: not any(name_of(node).startswith(words) and role_of(node) == "label" for node in walk(program.node)),
               f"{words!r} is still in sight")


def number(program, words):
    """The entry of a number, with the keyboard in it."""
    program.key("ctrl+f", "ctrl+a")
    program.type(words)
    entry = program.find("text", words)
    program.click(entry)
    wait_until(lambda: focused(entry), f"{words} has not the keyboard")
    return entry


def key_and_mouse_open_it_on_a_number_escape_gives_the_keyboard_back_and_more_leads_to_the_guide():
    program = Program(PROGRAM, HERON)
    try:
        entry = number(program, "Sweep of arm")
        program.key("F1")
        program.says(SWEEP)
        program.says("Sign: Positive turns the front end of the hinge outward.")
        program.find("image", "Drawing: Sweep")
        check(program.seek("frame", "Help and cautions") is None, "the help came too")
        program.key("Escape")
        silent(program, SWEEP)
        wait_until(lambda: focused(entry), "the number has not the keyboard back")
        program.press("push button", "What it means: Sweep")
        program.says(SWEEP)
        wait_until(lambda: focused(program.find("push button", "More in the guide")), "the keyboard is not in what opened")
        program.key("Return")
        page, section = program.find("panel", "Page of the guide"), program.find("heading", "3 Panels")
        check(not any("**" in name_of(node) for node in walk(page)), "marks are shown as they are typed")
        wait_until(lambda: 40 < program.place(section)[1] < 100, "the page is not at its section")
        program.key("Escape")
        program.gone("frame", "Guide")
        silent(program, SWEEP)
        check(not program.complaints(), "; ".join(program.complaints()))
    finally:
        program.close()


def loads_trouble_and_curves_are_explained_and_elsewhere_the_key_is_help():
    program = Program(PROGRAM, os.path.join(DEMOS, "troubled.flap"))
    try:
        program.key("alt+l")
        time.sleep(0.5)
        program.key("F1")
        program.says("How hard the crank must be turned at this angle")
        program.key("Escape")
        silent(program, "How hard")
        program.key("alt+u")
        program.press("push button", "What it means: Cannot close")
        program.says("At these crank angles the rod does not reach")
        program.key("Escape")
        silent(program, "At these crank")
        program.click(program.find("label", "Curves"))
        program.says(" chosen")  # the list of curves is open, the keyboard in its search
        program.key("Tab", "F1")
        program.says("How far the panel is raised about its hinge.")
        program.key("Escape", "Escape")
        program.click(program.find("image", "Front view"))
        program.key("F1")
        program.find("frame", "Help and cautions")
        check(not program.complaints(), "; ".join(program.complaints()))
    finally:
        program.close()


def explanations_of_the_workshop_open_without_a_word_of_complaint():
    program = Program(PROGRAM, HERON)
    try:
        program.key("ctrl+b")
        program.find("frame", "Workshop: ")
        for page, words in (("ctrl+2", "Template"), ("ctrl+3", "Fit of printed parts"), ("ctrl+5", "Kerf")):
            program.key(page)
            program.press("push button", f"What it means: {words}")
            program.find("push button", "More in the guide")
            program.key("Escape")
            program.gone("push button", "More in the guide")
        check(not program.complaints(), "; ".join(program.complaints()))
    finally:
        program.close()


def typed(node):
    """The first of its words; "" without any."""
    return "" if node.get_text_iface() is None else Atspi.Text.get_text(node, 0, min(Atspi.Text.get_character_count(node), 200))


def copies_the_page_or_what_is_selected(program):
    x, y = program.center(program.find("heading", "The first hour"))  # once it stands still
    width = 2 * (x - program.place(program.find("heading", "The first hour"))[0])
    for selected in (False, True):
        if selected:
            program.drag(x - width / 2 + 1, y, width - 2, 0)
        program.key("ctrl+c", "ctrl+f")
        entry = program.find("entry", "Find on this page")
        wait_until(lambda e=entry: any(focused(n) for n in walk(e)), "the field for finding has not the keyboard")
        program.key("ctrl+v")
        text = wait_until(lambda e=entry: max((typed(n) for n in walk(e)), key=len),
                          lambda s=selected: "what is selected is not copied" if s else "the page is not copied")
        check(text.startswith("The first hour") and (len(text) < 60) == selected, f"copied: {text[:200]!r}")
        program.key("Escape")


def the_guide_has_pictures_and_tables_and_is_gone_through_by_its_links_by_keys_and_by_its_list():
    program = Program(PROGRAM, HERON)
    try:
        program.key("F10")
        last = program.find("menu item", "Quit")
        bottom = wait_until(lambda: sum(program.place(last)[1::2]), "the menu has no size")
        check(100 < bottom < 700, f"the main menu ends {bottom} px below: more than a small screen has")
        program.key("Escape", "ctrl+shift+F1")
        program.find("heading", "The guide")
        program.find("image", "The night heron in the window")
        cells = [name_of(node) for node in children(program.find("table", ""))]
        check(cells[:4] == ["minutes", "what", "5", "this page, pictures only"], cells[:4])
        program.key("Tab", "Return")  # the first link
        program.find("heading", "The first hour")
        program.key("alt+Left")
        program.find("heading", "The guide")
        program.key("alt+Right")
        program.find("heading", "The first hour")
        copies_the_page_or_what_is_selected(program)
        program.press("list item", "Another size")
        program.find("heading", "Another size")
        program.key("ctrl+f")
        program.type("zebra")
        program.says("This is not on the page.")
        program.key("ctrl+a")
        program.type("WEIGHT")
        silent(program, "This is not on the page.")
        program.key("Escape")
        wait_until(lambda: focused(program.find("panel", "Page of the guide")), "the page has not the keyboard back")
        program.key("Escape")
        program.gone("frame", "Guide")
        check(not program.complaints(), "; ".join(program.complaints()))
    finally:
        program.close()


def the_guide_is_in_the_language_of_the_program_and_says_where_a_page_is_not():
    os.environ["LANGUAGE"] = "de"
    program = Program(PROGRAM, HERON)
    del os.environ["LANGUAGE"]
    try:
        program.key("ctrl+shift+F1")
        program.find("heading", "Das Handbuch")
        program.find("image", "Der Nachtreiher im Fenster")  # its picture lies beside the English pages
        program.key("Tab", "Return")
        program.find("heading", "Die erste Stunde")
        silent(program, "This page is in English only.")
        program.press("list item", "Another size")
        program.find("heading", "Another size")
        program.says("This page is in English only.")
        check(not program.complaints(), "; ".join(program.complaints()))
    finally:
        program.close()


TESTS = [
    the_guide_is_in_the_language_of_the_program_and_says_where_a_page_is_not,
    the_guide_has_pictures_and_tables_and_is_gone_through_by_its_links_by_keys_and_by_its_list,
    key_and_mouse_open_it_on_a_number_escape_gives_the_keyboard_back_and_more_leads_to_the_guide,
    loads_trouble_and_curves_are_explained_and_elsewhere_the_key_is_help,
    explanations_of_the_workshop_open_without_a_word_of_complaint,
]

if __name__ == "__main__":
    sys.exit(run(TESTS))
