#!/usr/bin/python3
"""Walks docs/tutorial.md as it is written: each numbered step has a remark that a reader of the page does not see,

    <!-- walk
    DO WHAT...
    -->

with what to do in the window, line by line, and what must then be true. What a step does or expects must be told
on the page in the same words: a promise that the page does not make, or no longer makes, fails. Prints TAP.

    test_tutorial.py FLAPWRIGHT DEMOS CLI PAGE [words of steps]"""

import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import Failed, Program, check, run, wait_until  # noqa: E402
from tree import Tree  # noqa: E402

PROGRAM, DEMOS, CLI, PAGE = (os.path.abspath(word) for word in sys.argv[1:5])


def plain(words):
    """Without marks of emphasis and code, with single spaces."""
    return re.sub(r"\s+", " ", re.sub(r"[*`|]", "", words))


def steps_of(page):
    """(heading, text as read, [line of a remark]) of each `## N heading`."""
    parts = re.split(r"^## (\d+ .*)$", page, flags=re.M)[1:]
    steps = []
    for heading, body in zip(parts[::2], parts[1::2]):
        body = re.split(r"^## ", body, flags=re.M)[0]
        lines = [line.strip() for remark in re.findall(r"<!-- walk\n(.*?)-->", body, re.S) for line in remark.splitlines()]
        steps.append((heading, plain(re.sub(r"<!--.*?-->", "", body, flags=re.S)), [line for line in lines if line]))
    return steps


class Walk:
    """One walk: the program goes on from step to step, as the reader's does."""

    program = tree = strip = None
    desk = tempfile.mkdtemp(prefix="flapwright-tutorial-")  # where its files lie; demos are only copied
    told = ""  # what the page says in this step

    # ---- Helpers ----

    def on_page(self, words):
        check(plain(words) in self.told, f"the page does not say {words!r} in this step")

    def seek(self, words, *roles, begins=False):
        """The first node whose name holds the words."""
        self.program.check_alive()
        for node in self.tree.nodes():
            if (node.name.startswith(words) if begins else words in node.name) and (not roles or node.role in roles):
                return node
        return None

    def find(self, words, *roles, seconds=15):
        return wait_until(lambda: self.seek(words, *roles, begins=bool(roles)), f"nothing is named {words!r}", seconds)

    def crank(self):
        if self.strip is None:
            self.strip = self.find("Crank angle", "slider")
        return self.tree.value(self.strip)

    def click(self, node):
        place = wait_until(lambda: self.tree.middle(node), f"{node.name!r} does not stand still")
        self.program.xdo("mousemove", int(place[0]), int(place[1]), "click", 1)

    def fill(self, name, text):
        self.click(self.find(name, "text"))
        self.program.key("ctrl+a")
        self.program.type(text)
        self.program.key("Return")

    def seek_number(self, name):
        self.program.key("ctrl+f", "ctrl+a")
        self.program.type(name)
        return self.find(name, "slider")

    def name_file(self, before, path):
        """In the system's dialog, when it has come."""
        wait_until(lambda: self.tree.windows() > before, "nothing asks for a file")
        time.sleep(0.4)
        self.program.key("ctrl+a")
        self.program.type(path)
        self.program.key("Return")
        wait_until(lambda: self.tree.windows() == before, "the dialog stays")

    # ---- What the reader does ----

    def open(self, name):
        """A copy of a demo, or what was saved before; the program starts with the first, and each has a window."""
        path = os.path.join(self.desk, name)
        if not os.path.exists(path):
            shutil.copy(os.path.join(DEMOS, name), path)
        if self.program:
            self.program.close()
        self.program = Program(PROGRAM, path)
        self.tree, self.strip = Tree(self.program.process.pid), None

    def key(self, *keys):
        """Keys as the page writes them: Ctrl+G, Alt+Shift+Page Down."""
        for told in keys:
            self.on_page(told)
            *held, last = told.replace("Page Down", "Next").replace("Enter", "Return").replace("Space", "space").split("+")
            self.program.key("+".join([word.lower() for word in held] + [last.lower() if len(last) == 1 else last]))
            time.sleep(0.15)

    def type(self, text):
        self.on_page(text)
        self.program.type(text)

    def press(self, name, spoken=None):
        """A button by its words on the page; `spoken`: by its accessible name, where it shows a sign."""
        self.on_page(name)
        kinds = ("push button", "toggle button", "check box")

        def ready():
            node = self.seek(spoken or name, *kinds, begins=True)
            return node if node is not None and node.sensitive else None
        self.tree.act(wait_until(ready, f"nothing named {name!r} can be pressed", 40))

    def trouble(self, words):
        """Presses the words of a line of the trouble list; below them its remedies may be open."""
        self.on_page(words)

        def line():
            nodes = self.tree.nodes()
            items = [node for node in nodes if node.role == "list item" and words in node.name]
            return next((node for node in nodes if node.role == "label" and words in node.name
                         and any(self.tree.is_in(node, item) for item in items)), None)
        self.click(wait_until(line, f"no line says {words!r}"))

    def number(self, name, value):
        self.on_page(name)
        self.on_page(value)
        self.seek_number(name)
        self.fill(name, value)

    def field(self, name, value):
        self.on_page(name)
        self.on_page(value)
        self.fill(name, value)

    def wish(self, value):
        """Through the form as it opens: the top of the first panel, exactly. By keyboard."""
        self.on_page(value)
        self.click(self.find("Add a wish", "push button"))
        self.find("Value", "text")
        time.sleep(0.5)

        def has_the_keyboard():
            if self.find("Value", "text").focused:
                return True
            self.program.key("Tab")
            time.sleep(0.1)
            return False
        wait_until(has_the_keyboard, "Tab does not lead to the value")
        self.program.type(value)
        self.program.key("Return")
        self.find("top of arm " + value)

    def free(self, name):
        self.on_page(name)
        self.click(self.find("Add a number that may change", "push button"))
        self.find("Find a number that may change")
        time.sleep(0.3)
        self.program.type(name)
        time.sleep(0.4)
        self.program.key("Return")
        self.find(name + ": least", "text")

    def table(self, button, name):
        """The table that the page shows, kept as a file and opened."""
        self.on_page(button)
        self.on_page(name)
        path = os.path.join(self.desk, name)
        with open(PAGE, encoding="utf-8") as file:
            block = re.search(r"<!-- file: " + re.escape(name) + r" below -->\s+?((?: {4}.*\n)+)", file.read())
        with open(path, "w", encoding="utf-8") as file:
            file.write(re.sub(r"^ {4}", "", block.group(1), flags=re.M))
        before = self.tree.windows()
        self.press(button)
        self.name_file(before, path)
        self.find("Measured", "text")

    def save(self, name):
        """After Ctrl+Shift+S."""
        self.on_page(name)
        path = os.path.join(self.desk, name)
        self.name_file(1, path)
        wait_until(lambda: os.path.exists(path), f"{path} is not saved")

    # ---- What must then be true ----

    def says(self, *words):
        """Something in the window says this; so does the page, but for what only shows that a step was done."""
        for word in words:
            if word != "off-page":
                if "off-page" not in words:
                    self.on_page(word)
                self.find(word, seconds=30)

    def silent(self, words):
        wait_until(lambda: self.seek(words) is None, f"something still says {words!r}")

    def lines(self, kind, n):
        """So many lines of that kind stand in the list."""
        def count():
            return sum(1 for node in self.tree.nodes() if node.role == "list item" and node.name.startswith(kind))
        wait_until(lambda: count() == int(n), lambda: f"{count()} lines begin with {kind!r}, not {n}", 20)

    def at(self, degrees):
        """The crank stands there, and the page says so."""
        self.on_page(degrees)
        wait_until(lambda: abs(self.crank() - float(degrees)) < 0.5, lambda: f"the crank is at {self.crank()}, not at {degrees}")

    def reads(self, name, value):
        """A number of the design, by its slider."""
        self.on_page(name)
        self.on_page(value)
        slider = self.seek_number(name)
        wait_until(lambda: abs(self.tree.value(slider) - float(value)) < 0.051,
                   lambda: f"{name} is {self.tree.value(slider)}, not {value}")

    def turns(self):
        before = self.crank()
        wait_until(lambda: self.crank() != before, "the crank does not turn")

    def rests(self):
        wait_until(lambda: (lambda now: time.sleep(0.2) or self.crank() == now)(self.crank()), "the crank does not rest")

    def close(self):
        if self.program:
            complaints = self.program.complaints()
            self.program.close()
            check(not complaints, "the program complained: " + "; ".join(complaints))
        shutil.rmtree(self.desk, ignore_errors=True)


WALK = Walk()
PROMISES = ("says", "silent", "lines", "at", "reads", "turns")


def step_test(heading, told, lines):
    def test():
        WALK.told = told
        check(any(line.split()[0] in PROMISES for line in lines),
              "this step of the page has no remark that says what to do and what must be true")
        for line in lines:
            words = shlex.split(line)
            try:
                getattr(WALK, words[0])(*words[1:])
            except Failed as error:
                raise Failed(f"at `{line}`: {error}") from error
    test.__name__ = "tutorial " + heading
    return test


def what_was_said_on_the_way_is_no_complaint():
    WALK.close()


def main():
    with open(PAGE, encoding="utf-8") as file:
        steps = steps_of(file.read())
    if not steps or not os.access(PROGRAM, os.X_OK):
        sys.exit("There is no step on the page, or no program to take it in.")
    return run([step_test(*step) for step in steps] + [what_was_said_on_the_way_is_no_complaint])


if __name__ == "__main__":
    sys.exit(main())
