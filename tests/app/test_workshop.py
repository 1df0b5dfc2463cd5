#!/usr/bin/python3
"""The workshop as a person uses it: keys, mouse, accessibility tree, files. Prints TAP.

    test_workshop.py FLAPWRIGHT DEMOS"""

import csv
import json
import os
import re
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import Atspi, Failed, Program, check, children, is_sensitive, name_of, role_of, run, wait_until, xdo_words  # noqa: E402

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])


PAGES = ["Cut list", "Templates", "Printed parts", "Kit sheet", "Crank and stock"]


def on_page(node, page):
    """What is in the window and on one of its pages: the tree holds them all."""
    yield node
    for child in children(node):
        if role_of(child) != "panel" or name_of(child) not in PAGES or name_of(child) == PAGES[page - 1]:
            yield from on_page(child, page)


class Shop:
    """A program with its workshop open, by keyboard. It must not have complained."""

    def __init__(self, file):
        self.program = Program(PROGRAM, file if os.path.isabs(file) else os.path.join(DEMOS, file))
        self.shown = 1

    def __enter__(self):
        try:
            self.program.key("ctrl+b")
            wait_until(lambda: self.window, "no workshop opens")
            self.rest()
        except Failed:
            self.program.close()
            raise
        return self

    def __exit__(self, kind, value, trace):
        self.close(kind is None)

    def close(self, fine=True):
        complaints = self.program.complaints()
        self.program.close()
        if fine and complaints:
            raise Failed("the program complained: " + "; ".join(complaints))

    @property
    def window(self):
        return next((node for node in children(self.program.node) if name_of(node).startswith("Workshop")), None)

    def nodes(self):
        window = self.window
        return on_page(window, self.shown) if window is not None else ()

    def seek(self, role, name):
        for node in self.nodes():
            if role_of(node) == role and name_of(node).startswith(name):
                return node
        return None

    def find(self, role, name):
        return wait_until(lambda: self.seek(role, name), lambda: f"no {role} named {name!r} in the workshop")

    def says(self, words):
        return wait_until(lambda: next((name_of(n) for n in self.nodes() if words in name_of(n)), None),
                          f"the workshop does not say {words!r}")

    def rest(self):
        """Until all is laid out."""
        wait_until(lambda: any(name_of(n) == "Up to date" for n in self.nodes()), "it is never laid out", 20)

    def page(self, nth):
        self.program.key(f"ctrl+{nth}")
        self.shown = nth
        time.sleep(0.4)  # it gets its place

    def press(self, name):
        node = self.find("push button", name)
        wait_until(lambda: is_sensitive(node), f"{name!r} cannot be pressed")
        self.program.click(node)

    def fill(self, name, text):
        """Types into a field."""
        self.program.click(self.find("text", name))
        self.program.key("ctrl+a")
        self.program.type(text)
        self.program.key("Return")

    def value(self, name):
        node = self.find("text", name)
        return Atspi.Text.get_text(node, 0, Atspi.Text.get_character_count(node))

    def save(self, button, path):
        """Presses an export and gives the file's name."""
        before = len(list(children(self.program.node)))
        self.press(button)
        wait_until(lambda: len(list(children(self.program.node))) > before, "nothing asks for a name")
        time.sleep(0.4)
        self.program.key("ctrl+a")
        self.program.type(path)
        self.program.key("Return")

    def path(self, name):
        return os.path.join(self.program.home, name)


class Heron:
    """The heron's workshop, the same for all tests that put back what they change: a start takes seconds. One that
    failed leaves a fresh one to the next."""

    shop = None

    def __enter__(self):
        if Heron.shop is None:
            shop = Shop("heron.flap")
            Heron.shop = shop.__enter__()
        return Heron.shop

    def __exit__(self, kind, value, trace):
        if kind is not None:
            Heron.end(False)

    @staticmethod
    def end(fine=True):
        shop, Heron.shop = Heron.shop, None
        if shop is not None:
            shop.close(fine)


def written(path, least=200):
    return wait_until(lambda: os.path.exists(path) and os.path.getsize(path) > least, f"{path} is not written", 15)


# ---- What is there ----


def opened_by_keyboard_it_has_every_page_with_what_belongs_there():
    with Heron() as shop:
        shop.says("Panel arm")
        shop.says("Settings to mark")
        shop.says("Order of assembly")
        shop.find("image", "tube 10, 1000.0 mm:")
        shop.page(2)
        shop.find("image", "Templates, Page 1 of ")
        shop.page(3)
        shop.says("Rod clamp of arm-rod")
        shop.find("image", "Rod clamp of arm-rod, turned with the arrow keys")
        shop.page(4)
        shop.find("image", "Kit sheet, Page 1 of ")
        shop.page(5)
        check(shop.value("Length of tube 10") == "1000 mm", shop.value("Length of tube 10"))
        check(shop.value("Thread") == "6 mm", shop.value("Thread"))


def a_sheet_is_drawn_as_high_as_its_width_asks_for():
    with Heron() as shop:
        shop.page(1)
        wide, high = shop.program.place(shop.find("image", "card, 700.0"))[2:]
        window = xdo_words("search", "--name", "^Workshop: ")[-1]
        shop.program.xdo("windowsize", window, "1000", "700")
        try:
            wait_until(lambda: shop.program.place(shop.find("image", "card, 700.0"))[2] < wide - 60, "the sheet stays as wide")
            less = wide - shop.program.place(shop.find("image", "card, 700.0"))[2]
            wait_until(lambda: abs(high - shop.program.place(shop.find("image", "card, 700.0"))[3] - 500 / 700 * less) < 3,
                       lambda: f"{less} narrower, {high} high before: {shop.program.place(shop.find('image', 'card, 700.0'))}")
        finally:
            shop.program.xdo("windowsize", window, "1180", "780")


def it_closes_and_leaves_the_design_open():
    with Heron() as shop:
        shop.program.key("ctrl+w")
        wait_until(lambda: shop.window is None, "the workshop does not close")
        check(any(name_of(node) == "Night heron" for node in children(shop.program.node)), "the design's window is gone too")
        Heron.end()


def lengths_follow_inches():
    with Heron() as shop:
        shop.page(1)
        shop.says("464.0 mm")
        shop.program.key("alt+i")
        shop.says("18 17/64 in")
        shop.program.key("alt+m")
        shop.says("464.0 mm")


# ---- It follows the design ----


def an_edit_of_the_stock_changes_the_list_and_undo_brings_it_back():
    with Heron() as shop:
        shop.page(5)
        shop.fill("Length of tube 12", "600")
        shop.page(1)
        shop.find("image", "tube 12, 600.0 mm:")
        shop.program.key("ctrl+z")
        shop.find("image", "tube 12, 1000.0 mm:")
        shop.page(5)
        wait_until(lambda: shop.value("Length of tube 12") == "1000 mm", "the field does not follow undo")


def a_value_that_cannot_be_is_refused_with_its_reason():
    with Heron() as shop:
        shop.page(5)
        shop.fill("Length of tube 12", "0")
        shop.says("stock.bars[1].length")
        shop.program.key("Tab")
        wait_until(lambda: shop.value("Length of tube 12") == "1000 mm", "what was refused stays in the field")


def bars_come_and_go_and_one_that_is_missing_is_told():
    with Heron() as shop:
        shop.page(5)
        shop.press("Remove tube 12")
        wait_until(lambda: shop.seek("text", "Length of tube 12") is None, "the bar is still there")
        shop.page(1)
        wait_until(lambda: shop.seek("image", "tube 12") is None, "it is still laid out")
        shop.says("none in the stock")
        shop.page(5)
        shop.press("Add a round bar")
        wait_until(lambda: any(name_of(node) == "Length of tube" for node in shop.nodes()), "no bar is added")
        shop.program.key("ctrl+z", "ctrl+z")
        shop.find("text", "Length of tube 12")


def a_crank_that_says_nothing_can_be_told_how_it_is_made():
    with Shop(bare()) as shop:
        shop.page(5)
        shop.press("Say how the crank is made")
        shop.find("text", "Thread")
        shop.program.key("ctrl+z")
        shop.find("push button", "Say how the crank is made")


# ---- Paper ----


def pages_of(shop, what):
    found = re.search(r"of (\d+)", name_of(shop.find("image", f"{what}, Page ")))
    return int(found.group(1))


def other_paper_takes_another_number_of_pages():
    with Heron() as shop:
        shop.page(2)
        many = pages_of(shop, "Templates")
        shop.program.click(shop.find("combo box", "Paper"))
        time.sleep(0.4)
        shop.program.key("Down", "Return")
        wait_until(lambda: pages_of(shop, "Templates") < many, "A3 takes as many pages as A4")


def leafing_by_key_goes_to_the_next_page():
    with Heron() as shop:
        shop.page(4)
        shop.program.key("Next")
        shop.find("image", "Kit sheet, Page 2 of ")
        shop.program.key("Prior")
        shop.find("image", "Kit sheet, Page 1 of ")


# ---- Files ----


def the_cut_list_is_written_as_a_table_with_the_lengths_that_are_shown():
    with Heron() as shop:
        shop.page(1)
        path = shop.path("cut.csv")
        shop.save("Export table", path)
        written(path)
        with open(path, encoding="utf-8", newline="") as file:
            rows = {row["part"]: row for row in csv.DictReader(file)}
        check(float(rows["Rod arm-rod"]["length_mm"]) == 464, rows["Rod arm-rod"])


def templates_are_written_whole():
    with Heron() as shop:
        shop.page(2)
        path = shop.path("t.pdf")
        shop.save("Export PDF", path)
        written(path)
        with open(path, "rb") as file:
            data = file.read()
        check(data.startswith(b"%PDF") and b"%%EOF" in data[-32:], "it is no whole PDF")
        check(len(re.findall(rb"/Type /Page\b", data)) == pages_of(shop, "Templates"), "it has other pages than are shown")


def what_cannot_be_written_is_told_in_a_line():
    with Heron() as shop:
        shop.page(1)
        shop.save("Export JSON", "/proc/cut.json")  # no file can be made there
        shop.says("/proc/cut.json")
        check(shop.seek("push button", "Stop") is None, "it goes on")


def printing_asks_in_the_systems_dialog():
    with Heron() as shop:
        shop.page(4)
        shop.press("Print…")
        wait_until(lambda: any(name_of(node) == "Print" for node in children(shop.program.node)), "no print dialog opens")
        shop.program.key("Escape")
        wait_until(lambda: all(name_of(node) != "Print" for node in children(shop.program.node)), "it does not close")


def stop_leaves_nothing():
    with Shop(vast()) as shop:
        shop.page(2)
        path = shop.path("vast.pdf")
        shop.save("Export PDF", path)
        shop.shown = 5  # the button stands below all pages, and the last is the quickest to look through
        shop.press("Stop")
        shop.says("Stopped; nothing was written")
        left = [name for name in os.listdir(shop.program.home) if "vast" in name]
        check(left == [], f"left behind: {left}")


# ---- Designs of our own ----

FOLDER = os.environ.get("TMPDIR", "/tmp")


def write_design(name, change):
    with open(os.path.join(DEMOS, "heron.flap"), encoding="utf-8") as file:
        design = json.load(file)
    design.pop("log", None)
    Heron.end()  # one program at a time
    change(design)
    path = os.path.join(FOLDER, f"flapwright-{os.getpid()}-{name}.flap")
    with open(path, "w", encoding="utf-8") as file:
        json.dump(design, file)
    FILES.append(path)
    return path


FILES = []


def bare():
    """The heron with nothing said of how its crank is made."""
    return write_design("bare", lambda design: design["crank"].pop("build"))


def vast():
    """Sails of card so large that they take thousands of pages."""
    def enlarge(design):
        for number in range(20):
            design["panels"].append({"name": f"sail {number}", "side": "right", "on": "body", "hinge": [40, 5, 18], "span": 1800,
                                     "outline": [[0, 1400], [1800, 1400], [1800, -1400], [0, -1400]], "mass": 1})
    return write_design("vast", enlarge)


TESTS = [
    opened_by_keyboard_it_has_every_page_with_what_belongs_there,
    a_sheet_is_drawn_as_high_as_its_width_asks_for,
    lengths_follow_inches,
    an_edit_of_the_stock_changes_the_list_and_undo_brings_it_back,
    a_value_that_cannot_be_is_refused_with_its_reason,
    bars_come_and_go_and_one_that_is_missing_is_told,
    other_paper_takes_another_number_of_pages,
    leafing_by_key_goes_to_the_next_page,
    the_cut_list_is_written_as_a_table_with_the_lengths_that_are_shown,
    templates_are_written_whole,
    what_cannot_be_written_is_told_in_a_line,
    printing_asks_in_the_systems_dialog,
    it_closes_and_leaves_the_design_open,
    a_crank_that_says_nothing_can_be_told_how_it_is_made,
    stop_leaves_nothing,
]

if __name__ == "__main__":
    try:
        STATUS = run(TESTS)
    finally:
        Heron.end(False)
        for leftover in FILES:
            os.unlink(leftover)
    sys.exit(STATUS)
