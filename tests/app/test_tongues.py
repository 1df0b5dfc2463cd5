#!/usr/bin/env python3
"""The window in other languages: nothing that has a translation is left in English, and a small screen has room for it.

    run-on-display.sh test_tongues.py FLAPWRIGHT DEMOS CATALOGUES PO"""

import json
import os
import re
import sys
import time

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import Atspi, Program, check, children, name_of, role_of, run, wait_until, walk  # noqa: E402

PROGRAM, DEMOS, CATALOGUES, PO = map(os.path.abspath, sys.argv[1:5])
HERON = os.path.join(DEMOS, "troubled.flap")
WIDTH, HEIGHT = 1024, 640


def unquoted(block, key):
    """The string of `msgid`, `msgstr[0]` ... in an entry of a catalogue; None: it has none."""
    found = re.search(rf'^{re.escape(key)} ((?:"(?:[^"\\]|\\.)*"\n?)+)', block, re.M)
    return found and "".join(re.findall(r'"((?:[^"\\]|\\.)*)"', found.group(1))).replace('\\"', '"').replace("\\n", "\n")


def catalogue(language):
    """Messages that read otherwise in that language, and how they read there; without marks of access keys and places for
    figures."""
    other, same, there = set(), set(), set()
    with open(os.path.join(PO, language + ".po"), encoding="utf-8") as file:
        for block in file.read().split("\n\n"):
            for english, key in ((unquoted(block, "msgid"), "msgstr"), (unquoted(block, "msgid"), "msgstr[0]")):
                text = unquoted(block, key)
                if english and text:
                    (same if english == text else other).add(english.replace("_", ""))
                    there.add(text.replace("_", ""))
    return {words for words in other - same if "%" not in words}, there - other


def own_words(item):
    """Every text in a design: names that its maker gave."""
    if isinstance(item, dict):
        return set().union(*(own_words(value) for value in item.values()), item)
    if isinstance(item, list):
        return set().union(*map(own_words, item))
    return {str(item)}


def words_shown(program):
    return {name_of(node) for node in walk(program.node)}


def width(program):
    frame = next(children(program.node))
    return Atspi.Component.get_extents(frame, Atspi.CoordType.WINDOW).width


def nothing_is_left_in_english(language):
    with open(HERON, encoding="utf-8") as file:
        english, there = catalogue(language)
        english -= own_words(json.load(file))
    check(len(english) > 1000, f"{len(english)} messages differ")
    os.environ.update(LANGUAGE=language, TEXTDOMAINDIR=CATALOGUES)
    try:
        program = Started(PROGRAM, HERON, size=(WIDTH, HEIGHT))
    finally:
        del os.environ["LANGUAGE"], os.environ["TEXTDOMAINDIR"]
    try:
        left, wide, read = {}, [], set()
        for page, keys in (("numbers", ()), ("loads", ("alt+l",)), ("wishes", ("alt+a",)), ("helps", ("alt+e",)), ("versions", ("alt+k",)),
                           ("made by hand", ("ctrl+t",)), ("the real thing", ("ctrl+r",)), ("size", ("ctrl+k",)), ("note", ("Escape", "ctrl+shift+l")),
                           ("new", ("Escape", "ctrl+n")), ("export", ("Escape", "ctrl+e")), ("title", ("Escape", "F2")), ("help", ("Escape", "F1")),
                           ("keys", ("Escape", "ctrl+question"))):
            program.key(*keys)
            time.sleep(0.8)
            program.check_alive()
            shown = words_shown(program)
            left[page] = shown & english
            read |= shown & there
            if width(program) > WIDTH:
                wide.append(f"{page}: {width(program)} px")
        check(len(read) > 150, f"only {len(read)} messages were seen in that language")
        check(not any(left.values()), "\n".join(f"{page}: {sorted(words)}" for page, words in left.items() if words))
        check(not wide, f"wider than the screen: {wide}")
        check(not program.complaints(), "; ".join(program.complaints()))
    finally:
        program.close()


class Started(Program):
    """The window, whatever its buttons are called."""

    def find(self, role, name, seconds=30.0):
        if name == "New design":
            return wait_until(lambda: next((n for n in walk(self.node) if role_of(n) == "push button"), None), "no window", seconds)
        return super().find(role, name, seconds)


def in_french_nothing_is_left_in_english_and_all_has_room():
    """French has the longest words; what is not translated in one language is in none."""
    nothing_is_left_in_english("fr")


TESTS = [in_french_nothing_is_left_in_english_and_all_has_room]

if __name__ == "__main__":
    sys.exit(run(TESTS))
