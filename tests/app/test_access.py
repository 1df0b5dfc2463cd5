#!/usr/bin/python3
"""The whole job by keyboard alone, and through the accessibility tree alone; names, units, large words, less motion,
high contrast. Prints TAP.

    test_access.py FLAPWRIGHT DEMOS"""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from drive import (Atspi, Failed, Program, check, children, is_sensitive, name_of, role_of, run, wait_until,  # noqa: E402
                   walk)

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
Atspi.set_timeout(15000, 15000)  # for a busy machine
GUIDE = os.path.join(os.path.dirname(DEMOS), "..", "docs", "using.md")


class Opened:
    """A program with a copy of a demo. It must not have complained, whatever else is found."""

    def __init__(self, demo="troubled.flap", gtk="", **options):
        self.home = tempfile.mkdtemp(prefix="flapwright-access-")
        self.gtk, self.options = gtk, options
        self.path = os.path.join(self.home, "work.flap")
        shutil.copy(os.path.join(DEMOS, demo), self.path)

    def __enter__(self):
        arguments = {"settings": "[help]\nfirst-steps-done=true\n", "size": (1366, 768)} | self.options
        folder = os.path.join(self.home, "config", "gtk-4.0")
        os.makedirs(folder)
        with open(os.path.join(folder, "settings.ini"), "w", encoding="utf-8") as file:
            file.write("[Settings]\n" + self.gtk)
        os.makedirs(os.path.join(self.home, "config", "flapwright"))
        with open(os.path.join(self.home, "config", "flapwright", "settings.ini"), "w", encoding="utf-8") as file:
            file.write(arguments["settings"] + "[window]\nwidth={}\nheight={}\n".format(*arguments["size"]))
        self.program = Program(PROGRAM, self.path, home=self.home)
        self.program.path = self.path
        return self.program

    def __exit__(self, kind, value, trace):
        complaints = self.program.complaints()
        self.program.close()
        shutil.rmtree(self.home, ignore_errors=True)
        if kind is None and complaints:
            raise Failed("the program complained: " + "; ".join(complaints))


def read(what, otherwise=None):
    """What a node says, or `otherwise` if it went meanwhile."""
    try:
        return what()
    except Exception:  # GLib's error, whatever its domain
        return otherwise


def has(node, state):
    return read(lambda: node.get_state_set().contains(state), False)


def focused(program):
    """Role and name of what has the keyboard, in the newest window."""
    windows_of = list(children(program.node))
    return next(((role_of(n), name_of(n)) for n in walk(windows_of[-1] if windows_of else program.node) if has(n, Atspi.StateType.FOCUSED)
                 and role_of(n) != "frame"), ("", ""))


def has_keyboard(program, role, name):
    wait_until(lambda: (lambda at: at[0] == role and name in at[1])(focused(program)),
               lambda: f"the keyboard is at {focused(program)}, not at the {role} {name!r}")


def value(program, name):
    return Atspi.Value.get_current_value(program.find("slider", name))


def becomes(what, wanted, words):
    wait_until(lambda: abs(what() - wanted) < 0.06, lambda: f"{words} is {what()}, not {wanted}")


def design(program):
    with open(program.path, encoding="utf-8") as file:
        return json.load(file)


def named(items, name):
    return next(item for item in items if item["name"] == name)


def windows(program):
    return [name_of(node) for node in children(program.node)]


def opens(program, name):
    return wait_until(lambda: next((n for n in children(program.node) if name_of(n).startswith(name)), None),
                      lambda: f"no window {name!r} among {windows(program)}")


def written(path):
    """Waits for a file that has all its bytes: it is put in its place whole."""
    wait_until(lambda: os.path.exists(path) and os.path.getsize(path) > 100, f"{path} is not written", 30)


def remedy_of(program):
    """The first remedy of the trouble that was picked."""
    return wait_until(lambda: next((n for n in walk(program.find("list", "Trouble, worst first"))
                                    if role_of(n) == "push button"
                                    and read(n.get_description, "").startswith("Tried over the whole turn")), None),
                      "no remedy appears", 20)


def find_number(program, name):
    """Through the field that finds a number; its entry gets the keyboard."""
    program.key("ctrl+f")
    has_keyboard(program, "entry", "Find a number")
    program.key("ctrl+a")
    program.type(name)
    program.find("slider", name)
    program.key("Return")
    has_keyboard(program, "text", name)


def type_number(program, name, text):
    find_number(program, name)
    program.key("ctrl+a")
    program.type(text)
    program.key("Return")


def answer_file_dialog(program, before, path):
    """The system's dialog for a file that has just been asked for."""
    wait_until(lambda: len(windows(program)) > before, "no window to save a file")
    field = wait_until(lambda: next((n for n in walk(list(children(program.node))[-1]) if role_of(n) == "text"
                                     and has(n, Atspi.StateType.FOCUSED)), None), "no field for the file's name")
    # The name is filled in and selected once the folder has been read.
    wait_until(lambda: read(lambda: Atspi.Text.get_n_selections(field), 0) > 0
               or read(lambda: Atspi.Text.get_character_count(field), 0) == 0, "the name is never filled in")
    program.key("ctrl+a")
    program.type(path)
    program.key("Return")
    written(path)
    wait_until(lambda: len(windows(program)) <= before, "the file dialog stays")


def tab_to(program, role, name, most=40, back=False):
    """With Tab, as far as it takes; fails in a trap."""
    for _ in range(most):
        at = focused(program)
        if at[0] == role and at[1].startswith(name):
            return
        program.key("shift+Tab" if back else "Tab")
        wait_until(lambda before=at: focused(program) != before, lambda before=at: f"Tab stays at {before}")
    raise Failed(f"{most} times Tab do not reach the {role} {name!r}; now at {focused(program)}")


def the_whole_job_can_be_done_by_keyboard_alone():
    with Opened("heron.flap") as program:
        # A design is begun, and the other one opened again.
        program.key("ctrl+n")
        opens(program, "New design")
        program.key("Return")
        wait_until(lambda: program.title() != "Night heron", "Return begins no design")
        program.key("ctrl+o")
        wait_until(lambda: len(windows(program)) > 1, "no window to open a file")
        shutil.copy(os.path.join(DEMOS, "troubled.flap"), program.path)
        wait_until(lambda: focused(program)[0] in ("text", "entry", "filler", "list"), "the dialog has no keyboard")
        program.type(program.path)
        program.key("Return")
        wait_until(lambda: program.title().startswith("Night heron, as first"), "the file is not opened")
        # A throw, typed.
        type_number(program, "Radius of arm", "19")
        becomes(lambda: value(program, "Radius of arm"), 19, "the throw")
        # A stop, by the slider: Tab goes on from the number's entry.
        find_number(program, "Lower stop of tip")
        stop = value(program, "Lower stop of tip")
        tab_to(program, "slider", "Lower stop of tip", 4)
        program.key("Left", "Left")
        becomes(lambda: value(program, "Lower stop of tip"), stop - 2, "the stop")
        # A rod, by its grip in the view.
        find_number(program, "Length of arm-rod")
        rod = value(program, "Length of arm-rod")
        program.key("ctrl+1")
        has_keyboard(program, "image", "Front view")
        for _ in range(30):
            program.key("bracketright")
            mark = wait_until(lambda: next((n for n in walk(program.find("image", "Front view"))
                                            if role_of(n) == "status bar"), None), "no grip is told")
            if name_of(mark).startswith("Length of arm-rod"):
                break
        program.key("Up")
        wait_until(lambda: value(program, "Length of arm-rod") != rod, "the grip does not move")
        program.key("bracketright")  # on to the next grip: the move is done
        # Undo and redo.
        grip = value(program, "Length of arm-rod")
        program.key("ctrl+z")
        becomes(lambda: value(program, "Length of arm-rod"), rod, "undone, the rod")
        program.key("ctrl+shift+z")
        becomes(lambda: value(program, "Length of arm-rod"), grip, "done again, the rod")
        program.key("ctrl+z")
        # Scrub: to an angle, by degrees, and to a bounce point.
        program.key("ctrl+g", "ctrl+a")
        program.type("120")
        program.key("Return")
        becomes(lambda: value(program, "Crank angle"), 120, "the crank")
        tab_to(program, "slider", "Crank angle", 8)
        program.key("Right", "Right", "ctrl+Left")
        becomes(lambda: value(program, "Crank angle"), 121.9, "scrubbed, the crank")
        program.key("shift+Next")
        wait_until(lambda: abs(value(program, "Crank angle") - 121.9) > 0.1, "no bounce point is gone to")
        program.key("ctrl+s")
        wait_until(lambda: named(design(program)["crank"]["throws"], "arm")["radius"] == 19, "the throw is not saved")
        stops = named(design(program)["panels"], "tip")["stops"]
        check(abs(stops[0] - (stop - 2)) < 1e-6, f"the stops are saved as {stops}, not from {stop - 2}")
        # Trouble and its remedy.
        program.key("alt+y")
        wait_until(lambda: focused(program)[0] == "list item", lambda: f"the keyboard is at {focused(program)}")
        trouble = focused(program)[1]
        program.key("Return")
        remedy = remedy_of(program)
        words = name_of(remedy)
        tab_to(program, "push button", words, 4)
        program.key("space")
        program.says("Done: ")
        program.gone("list item", trouble)
        # Loads.
        program.key("alt+l")
        wait_until(lambda: focused(program)[0] == "list item", "the loads do not take the keyboard")
        at = value(program, "Crank angle")
        program.key("Down", "Down", "Return")
        wait_until(lambda: value(program, "Crank angle") != at, "a peak is not gone to")
        # Save, then the build log with this state's strip.
        program.key("ctrl+s")
        program.says("Saved")
        program.key("ctrl+shift+l")
        has_keyboard(program, "text", "Note")
        program.type("by keys")
        program.key("ctrl+Return")
        program.says("Noted in the build log")
        program.key("ctrl+l")
        log = opens(program, "Build log")
        wait_until(lambda: any("by keys" in name_of(n) for n in walk(log)), "the log has no entry")
        wait_until(lambda: any(role_of(n) == "image" and name_of(n) for n in walk(log)), "the entry has no strip")
        program.key("ctrl+w")
        wait_until(lambda: len(windows(program)) == 1, "the log stays open")
        # Cut list and templates are written.
        program.key("ctrl+b")
        shop = opens(program, "Workshop")
        wait_until(lambda: any(name_of(n) == "Up to date" for n in walk(shop)), "nothing is laid out", 30)
        program.key("alt+t")
        answer_file_dialog(program, 2, os.path.join(program.home, "cut.csv"))
        program.key("ctrl+2", "alt+d")  # two pages have the letter: GTK then goes there and waits for Enter
        has_keyboard(program, "push button", "Export PDF")
        program.key("Return")
        answer_file_dialog(program, 2, os.path.join(program.home, "templates.pdf"))
        program.key("ctrl+w")
        wait_until(lambda: len(windows(program)) == 1, "the workshop stays open")
        program.key("ctrl+s")
        wait_until(lambda: "log" in design(program), "the log is not saved")


# ---- Through the accessibility tree alone ----


def actions(node):
    return read(lambda: [Atspi.Action.get_action_name(node, i) for i in range(Atspi.Action.get_n_actions(node))], [])


def do(node, *names):
    """Presses it: by the first of these actions that it has."""
    for name in names:
        if name in actions(node):
            Atspi.Action.do_action(node, actions(node).index(name))
            return
    raise Failed(f"the {role_of(node)} {name_of(node)!r} has none of {names}, but {actions(node)}")


def window_does(program, action, window=0):
    do(list(children(program.node))[window], action)


def press(program, role, name, root=None):
    node = wait_until(lambda: next((n for n in walk(root or program.node) if role_of(n) == role
                                    and name_of(n).replace("_", "").startswith(name) and is_sensitive(n)
                                    and any(a in actions(n) for a in ("click", "activate", "press.click"))), None),
                      f"no {role} named {name!r} can be pressed", 20)
    do(node, "click", "activate", "press.click")


def write_into(node, text):
    check(Atspi.EditableText.set_text_contents(node, text), f"{name_of(node)!r} takes no text")


def save_in_dialog(program, before, path):
    wait_until(lambda: len(windows(program)) > before, "no window to save a file")
    dialog = list(children(program.node))[-1]
    field = wait_until(lambda: next((n for n in walk(dialog) if role_of(n) == "text" and name_of(n) == "Name:"
                                     or role_of(n) == "text" and has(n, Atspi.StateType.FOCUSED)), None),
                       "no field for the file's name")
    wait_until(lambda: read(lambda: Atspi.Text.get_n_selections(field), 0) > 0, "the name is never filled in")
    write_into(field, path)
    press(program, "push button", "Export", dialog)
    written(path)
    wait_until(lambda: len(windows(program)) <= before, "the file dialog stays")


def unfolded(program, group, number):
    """The entry of a number, its group unfolded."""
    if program.seek("text", number) is None:
        press(program, "push button", group)
    return program.find("text", number)


def the_whole_job_can_be_done_through_the_accessibility_tree_alone():
    with Opened() as program:
        # What is seen, in words that follow.
        picture = program.find("image", "Front view")
        words = wait_until(lambda: picture.get_description(), "the view says nothing")
        for part in (r"Crank at 0\.0°", r"body [\d.]+ mm above the crank",
                     r"arm\.right at -?[\d.]+°", r"tip\.left at -?[\d.]+°"):
            check(re.search(part, words), f"the view does not say {part}: {words}")
        # A throw, a rod and a stop.
        throw = unfolded(program, "Throw arm", "Radius of arm")
        write_into(throw, "19 mm")
        do(throw, "activate")
        becomes(lambda: value(program, "Radius of arm"), 19, "the throw")
        wait_until(lambda: picture.get_description() != words, "the view's words do not follow")
        unfolded(program, "Rod arm-rod", "Length of arm-rod")
        rod = program.find("slider", "Length of arm-rod")
        length = Atspi.Value.get_current_value(rod)
        Atspi.Value.set_current_value(rod, length + 1)
        becomes(lambda: value(program, "Length of arm-rod"), length + 1, "the rod")
        unfolded(program, "Panel tip", "Lower stop of tip")
        slider = program.find("slider", "Lower stop of tip")
        stop = Atspi.Value.get_current_value(slider)
        Atspi.Value.set_current_value(slider, stop - 2)
        becomes(lambda: value(program, "Lower stop of tip"), stop - 2, "the stop")
        window_does(program, "win.undo")
        becomes(lambda: value(program, "Lower stop of tip"), stop, "undone, the stop")
        window_does(program, "win.redo")
        becomes(lambda: value(program, "Lower stop of tip"), stop - 2, "done again, the stop")
        # Scrub, and to a bounce point.
        strip = program.find("slider", "Crank angle, degrees")
        Atspi.Value.set_current_value(strip, 90)
        wait_until(lambda: "Crank at 90.0°" in picture.get_description(), "the view's words do not follow the crank")
        words = picture.get_description()
        check(re.search(r"The body leans [\d.]+° \w+wards", words), f"the view does not say how the body leans: {words}")
        window_does(program, "win.bounce-next")
        wait_until(lambda: Atspi.Value.get_current_value(strip) != 90, "no bounce point is gone to")
        window_does(program, "win.save")
        wait_until(lambda: named(design(program)["crank"]["throws"], "arm")["radius"] == 19, "the throw is not saved")
        stops = named(design(program)["panels"], "tip")["stops"]
        check(abs(stops[0] - (stop - 2)) < 1e-6, f"the stops are saved as {stops}, not from {stop - 2}")
        # Trouble and its remedy.
        list_of_trouble = program.find("list", "Trouble, worst first")
        row = next(children(list_of_trouble))
        trouble = name_of(row)
        do(row, "press.click")
        do(remedy_of(program), "click")
        program.says("Done: ")
        program.gone("list item", trouble)
        # Loads.
        press(program, "page tab", "Loads")
        peak = wait_until(lambda: next(children(program.find("list", "Peak loads")), None), "no loads")
        at = Atspi.Value.get_current_value(strip)
        do(peak, "press.click")
        wait_until(lambda: Atspi.Value.get_current_value(strip) != at, "a peak is not gone to")
        # What is shown, by its check box.
        forces = program.seek("check box", "Forces")
        if forces is None:
            press(program, "push button", "What is shown in the views")
            forces = program.find("check box", "Forces")
        do(forces, "press.click")
        wait_until(lambda: has(forces, Atspi.StateType.CHECKED), "the check box stays empty")
        press(program, "push button", "What is shown in the views")
        # A material, by the list that drops down; it tells what it stands at.
        press(program, "page tab", "Numbers")
        unfolded(program, "Crank", "Crank speed")
        button = program.find("push button", "Runs")
        runs = button.get_description()
        check(runs == "across, wing to wing", f"the list says {runs!r}")
        # Save; a strip into the build log; cut list and templates.
        window_does(program, "win.save")
        program.says("Saved")
        window_does(program, "win.build-log")
        log = opens(program, "Build log")
        press(program, "push button", "New entry", log)
        entry = wait_until(lambda: next((n for n in walk(program.node) if role_of(n) == "text" and name_of(n) == "Note"
                                         and n.get_editable_text_iface() is not None), None), "no field for a note")
        write_into(entry, "by the tree")
        press(program, "push button", "Add to the log")
        wait_until(lambda: any("by the tree" in name_of(n) for n in walk(log)), "the log has no entry")
        wait_until(lambda: any(role_of(n) == "image" and name_of(n) for n in walk(log)), "the entry has no strip")
        window_does(program, "win.workshop")
        shop = opens(program, "Workshop")
        wait_until(lambda: any(name_of(n) == "Up to date" for n in walk(shop)), "nothing is laid out", 30)
        press(program, "push button", "Export table", shop)
        save_in_dialog(program, 3, os.path.join(program.home, "cut.csv"))
        press(program, "page tab", "Templates", shop)
        press(program, "push button", "Export PDF", shop)
        save_in_dialog(program, 3, os.path.join(program.home, "templates.pdf"))
        window_does(program, "win.save")
        wait_until(lambda: "log" in design(program), "the log is not saved")


UNITS = re.compile(r", (mm|in|cm|m|degrees|°|turns per minute|turns/min|g|kg|%|px|N|N/mm|N m|MPa|GPa|s|Hz|m/s|"
                   r"kg m2|g/cm3|a metre|a sheet)|[(]0: |degrees$|, .*px")
COUNTS = ("Panels a side", "Frames", "Page in sight", "Times the design's speed", "Strength")
PRESSED = ("push button", "toggle button", "check box", "page tab", "link")
OF_THE_TOOLKIT = ("GtkListItemWidget",)  # the row that a list shows while it is shut: its button has the name


def faults_of(root, where):
    """What takes the keyboard or can be pressed and has no name, no unit, or the name of its neighbour."""
    found, known = [], {}

    def look(node, group):
        role, name = role_of(node), name_of(node)
        takes = has(node, Atspi.StateType.FOCUSABLE)
        if name not in OF_THE_TOOLKIT and (takes or role in PRESSED and "click" in actions(node)):
            if not name or re.match(r"(Gtk|Fw)[A-Z]", name):
                found.append(f"{where}: a {role} in {group!r} has no name")
            elif takes and role not in ("list item", "scroll pane", "panel"):
                known.setdefault((group, role, name, read(node.get_description, "")), []).append(node)
        if role in ("slider", "spin button") and not UNITS.search(name) and name not in COUNTS and not unitless(name):
            found.append(f"{where}: the {role} {name!r} has no unit")
        if name and role in ("panel", "list item", "list", "page tab list", "frame", "dialog"):
            group = name
        for child in children(node):
            look(child, group)

    look(root, "")
    twice = [key for key, nodes in known.items() if len(nodes) > 1 and key[2] != "Close"]
    return found + [f"{where}: {role} {name!r} is there more than once in {group!r}" for group, role, name, _ in twice]


def unitless(name):
    """Shares and coefficients."""
    return re.search(r"friction|restitution|rebound|spring|share|times|factor|springy|number of", name, re.I) is not None


def all_that_takes_the_keyboard_has_a_name_and_every_number_its_unit():
    with Opened() as program:
        found = []
        for fold in [n for n in walk(program.find("panel", "Numbers")) if "activate" in actions(n)
                     and role_of(n) == "push button" and not has(n, Atspi.StateType.EXPANDED)]:
            do(fold, "activate")
        program.find("slider", "Crank diameter")
        do(next(children(program.find("list", "Trouble, worst first"))), "press.click")
        for tab in ("Loads", "Aim", "Helps", "Versions"):
            press(program, "page tab", tab)
        for page in ("win.tolerance", "win.real-thing"):
            window_does(program, page)
        wait_until(lambda: program.seek("list item", "Radius of arm") is not None, "no causes", 20)
        remedy_of(program)
        found += faults_of(program.node, "the window")
        for action, title, closing in (("win.workshop", "Workshop", "win.close"), ("win.build-log", "Build log", "win.close"),
                                       ("win.scale", "Another size", "window.close"), ("win.new", "New design", "window.close"),
                                       ("win.export", "Export the motion", "window.close"),
                                       ("win.export-flip-book", "Export a flip", "window.close"),
                                       ("win.export-animation", "Export an anim", "window.close"),
                                       ("win.export-log", "Export the build", "window.close"),
                                       ("win.help", "Help", "window.close"), ("win.shortcuts", "Keys", "window.close")):
            window_does(program, action)
            window = opens(program, title)
            if title == "Workshop":
                wait_until(lambda at=window: any(name_of(n) == "Up to date" for n in walk(at)), "nothing is laid out", 30)
            found += faults_of(window, title)
            if closing in actions(window):
                do(window, closing)
            else:
                do(next(n for n in walk(window) if role_of(n) == "push button" and name_of(n) in ("Close", "Cancel")), "click")
            wait_until(lambda: len(windows(program)) == 1, f"{title} stays open")
        check(not found, "\n".join(sorted(set(found))))


def keys_in(words):
    """Sets of modifiers and key, from "Ctrl+Shift+S, Alt+1"."""
    return {frozenset(key.strip().replace("Page ", "Page_").split("+")) if not key.strip().endswith("++")
            else frozenset((*key.strip()[:-2].split("+"), "Plus")) for key in words.split(",") if key.strip()}


def the_guide_tells_of_every_key_that_the_program_lists():
    with open(GUIDE, encoding="utf-8") as file:
        table = file.read().split("### Keys", 1)[1].split("\n## ", 1)[0]
    told = set().union(*(keys_in(cell) for cell in re.findall(r"^\| ([^|]+?) \|", table, re.M)))
    with Opened() as program:
        window_does(program, "win.shortcuts")
        window = opens(program, "Keys")
        shown = wait_until(lambda: [name_of(n) for n in walk(window) if role_of(n) == "label" and name_of(n)], "no keys")
        listed = [key for key in shown if re.match(r"((Ctrl|Alt|Shift)\+\S|F\d+$)", key)]
        check(len(listed) > 50, f"the window lists {listed}")
        missing = [key for key in listed if not keys_in(key.replace("Page Up", "Page_Up")) <= told]
        check(not missing, f"the guide does not tell of {missing}")


def large_words():
    """A desktop with words twice as large, as X tells it."""
    subprocess.run(["xprop", "-root", "-f", "RESOURCE_MANAGER", "8s", "-set", "RESOURCE_MANAGER", "Xft.dpi:\t192\n"],
                   check=True)


def size_of(node):
    box = Atspi.Component.get_extents(node, Atspi.CoordType.WINDOW)
    return box.width, box.height


def with_words_twice_as_large_no_control_is_cut_off():
    large_words()
    try:
        with Opened() as program:
            window = next(children(program.node))
            width, height = size_of(window)
            check(width <= 1366 and height <= 768, f"the window wants {width} x {height}")
            for tab in ("Loads", "Aim", "Helps", "Versions", "Numbers"):
                press(program, "page tab", tab)
                wait_until(lambda: size_of(window)[0] <= 1366, lambda: f"{tab} makes the window {size_of(window)[0]} wide", 2)
            for page in ("win.tolerance", "win.real-thing"):
                window_does(program, page)
                wait_until(lambda: size_of(window)[0] <= 1366, f"{page} makes the window too wide", 2)
            for action, title in (("win.scale", "Another size"), ("win.export", "Export the motion")):
                window_does(program, action)
                dialog = opens(program, title)
                wait_until(lambda at=dialog: size_of(at)[0] > 0, "it has no size")
                check(size_of(dialog)[0] <= 1366, f"{title} is {size_of(dialog)[0]} wide")
                program.key("Escape")
                wait_until(lambda: len(windows(program)) == 1, f"{title} stays open")
    finally:
        subprocess.run(["xprop", "-root", "-remove", "RESOURCE_MANAGER"], check=True)


def where_less_motion_is_asked_for_nothing_plays_by_itself_but_all_plays_when_asked():
    with Opened(gtk="gtk-enable-animations=0\n") as program:
        check(Atspi.Value.get_current_value(program.find("slider", "Crank angle")) == 0, "the crank turns by itself")
        window_does(program, "win.export-animation")
        dialog = opens(program, "Export an animation")
        turning = program.find("check box", "Turn in the preview")
        check(not has(turning, Atspi.StateType.CHECKED), "the preview turns by itself")
        do(next(n for n in walk(dialog) if role_of(n) == "push button" and name_of(n) == "Cancel"), "click")
        wait_until(lambda: len(windows(program)) == 1, "the dialog stays")
        press(program, "push button", "Turn forwards")
        wait_until(lambda: value(program, "Crank angle") > 5, "it does not play when asked")
        press(program, "push button", "Pause")
        # Once it stands still, and not before, the words follow.
        wait_until(lambda: "Crank at {:.1f}°".format(value(program, "Crank angle"))
                   in program.find("image", "Front view").get_description(), "the words do not follow")


def colours(where="root"):
    """Share of pure black and pure white among the pixels of the screen."""
    found = subprocess.run(["import", "-window", where, "-depth", "8", "rgb:-"], capture_output=True, check=True).stdout
    n = len(found) // 3
    return found.count(b"\0\0\0") / n, found.count(b"\xff\xff\xff") / n


def high_contrast_follows_the_desktop_and_can_be_chosen():
    with Opened(gtk="gtk-theme-name=HighContrast\n", size=(1600, 1000)) as program:
        program.find("image", "Front view")
        wait_until(lambda: colours()[1] > 0.4, lambda: f"the desktop's high contrast leaves {colours()[1]:.2f} white")
    with Opened(size=(1600, 1000)) as program:
        program.find("image", "Front view")
        wait_until(lambda: colours()[1] < 0.2, "the plain paper is white")
        program.key("alt+4")
        wait_until(lambda: colours()[1] > 0.4, lambda: f"high contrast, light, leaves {colours()[1]:.2f} white")
        program.key("alt+2")
        wait_until(lambda: colours()[0] > 0.4, lambda: f"high contrast, dark, leaves {colours()[0]:.2f} black")
        program.key("alt+4")
        wait_until(lambda: colours()[0] < 0.2, "it stays in high contrast")


TESTS = [
    the_whole_job_can_be_done_by_keyboard_alone,
    the_whole_job_can_be_done_through_the_accessibility_tree_alone,
    all_that_takes_the_keyboard_has_a_name_and_every_number_its_unit,
    the_guide_tells_of_every_key_that_the_program_lists,
    with_words_twice_as_large_no_control_is_cut_off,
    where_less_motion_is_asked_for_nothing_plays_by_itself_but_all_plays_when_asked,
    high_contrast_follows_the_desktop_and_can_be_chosen,
]

if shutil.which("xprop") is None:  # of x11-utils
    TESTS.remove(with_words_twice_as_large_no_control_is_cut_off)

if __name__ == "__main__":
    sys.exit(run(TESTS))
