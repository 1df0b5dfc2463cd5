#!/usr/bin/python3
"""The widgets of the window, driven with real mouse and keys. Prints TAP.

    test_widgets.py WIDGETWINDOW DEMOS"""

import json
import os
import shutil
import sys
import tempfile
import time
import warnings

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, GLib  # noqa: E402

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from stage import Stage  # noqa: E402

warnings.simplefilter("ignore", DeprecationWarning)
PROGRAM, DEMOS = sys.argv[1], sys.argv[2]


class Failed(Exception):
    pass


def check(truth, words):
    if not truth:
        raise Failed(words)


def near(a, b, tolerance, what):
    check(abs(a - b) <= tolerance, f"{what}: {a} is not within {tolerance} of {b}")


def undo_steps(stage):
    """How many steps can be undone; undoes them all."""
    steps = 0
    while steps < 50:
        stage.drain()
        stage.send("undo")
        if stage.wait_for("message Undone", 1) is None:
            return steps
        steps += 1
    return steps


# ---- The accessibility tree ----


def walk(node):
    """All nodes that are there; one may go while it is looked at."""
    yield node
    try:
        children = [node.get_child_at_index(i) for i in range(node.get_child_count())]
    except GLib.Error:
        return
    for child in children:
        if child is not None:
            yield from walk(child)


def is_called(node, role, name):
    try:
        return node.get_role_name() == role and (node.get_name() or "").startswith(name)
    except GLib.Error:
        return False


def find(role, name, seconds=5.0):
    """The node of that role whose name starts so; the tree may still be catching up."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        desktop = Atspi.get_desktop(0)
        for node in walk(desktop):
            if is_called(node, role, name):
                return node
        time.sleep(0.2)
    raise Failed(f"no {role} named {name!r} in the accessibility tree")


def text_of(node):
    return Atspi.Text.get_text(node, 0, Atspi.Text.get_character_count(node))


def center_of(node):
    box = Atspi.Component.get_extents(node, Atspi.CoordType.WINDOW)
    return box.x + box.width / 2, box.y + box.height / 2


def has_state(node, state):
    return node.get_state_set().contains(state)


def is_invalid(node):
    """GTK before 4.10 tells it by the other of the two states."""
    return has_state(node, Atspi.StateType.INVALID_ENTRY) or has_state(node, Atspi.StateType.INVALID)


def open_group(stage, words, wanted=None):
    """Finds numbers by typing; leaves the list filtered, with the keyboard in the search field."""
    x, y, width, _ = stage.places["inspector"]
    stage.click(x + width / 2, y + 24)
    stage.key("ctrl+a")
    stage.type(words)
    if wanted:
        find("slider", wanted)
    stage.settle(0.3)
    stage.sync()


# ---- Views ----


def test_drag_handle(stage):
    """A handle that is dragged changes its number, in one step of undo"""
    x, y = stage.handles[("front", "Length of rod tip-rod.right")]
    before = stage.value("rods.tip-rod.length")
    stage.drag(x, y, 0, -12)
    after = stage.value("rods.tip-rod.length")
    check(after > before + 2, f"length went from {before} to {after}")
    check(undo_steps(stage) == 1, "the drag is not one step")
    near(stage.value("rods.tip-rod.length"), before, 1e-9, "undone length")


def test_escape_drag(stage):
    """Escape while a handle is held puts the number back"""
    x, y = stage.handles[("front", "Length of rod tip-rod.right")]
    before = stage.value("rods.tip-rod.length")
    stage.drag(x, y, 0, -12, release=False)
    check(stage.value("rods.tip-rod.length") != before, "the drag did nothing")
    stage.key("Escape")
    near(stage.value("rods.tip-rod.length"), before, 1e-9, "length after Escape")
    stage.move(x, y + 40)
    stage.let_go()
    near(stage.value("rods.tip-rod.length"), before, 1e-9, "length after letting go")


def test_page_holds_still(stage):
    """The page's scale holds still while a handle is held"""
    x, y = stage.handles[("front", "Length of rod tip-rod.right")]
    stage.drag(x, y, 0, -20, release=False)
    check(any("Length of tip-rod" in t for t in tips()), "no tip beside the handle that is held")
    still = stage.pixels_of_ground()
    stage.move(x, y - 24)
    stage.settle(0.3)
    check(stage.pixels_of_ground() == still, "the floor moved while the handle was held")
    stage.let_go()
    undo_steps(stage)


def test_keys_on_handles(stage):
    """Brackets go from handle to handle, arrows move it, presses close together are one step"""
    x, y, width, height = stage.places["front"]
    stage.click(x + width - 20, y + height - 120)
    stage.key("bracketright")
    first = tips()
    check(any(first), "no handle was chosen")
    stage.key("bracketright")
    check(tips() != first, f"the tip stayed {first!r}")
    stage.key("bracketleft")
    check(tips() == first, "there and back is not the same handle")
    for _ in range(40):
        if any("Length of arm-rod" in t for t in tips()):
            break
        stage.key("bracketright")
    check(any("Length of arm-rod" in t for t in tips()), f"no way to the rod: {tips()}")
    before = stage.value("rods.arm-rod.length")
    stage.key("Up", "Up", "Up")
    stage.settle(1.2)
    after = stage.value("rods.arm-rod.length")
    near(after - before, 3, 0.6, "three presses of Up")
    check(undo_steps(stage) == 1, "three presses close together are not one step")


def tips():
    """What the labels beside the handles say, one for each view."""
    return [text_of(n) for n in walk(Atspi.get_desktop(0)) if is_called(n, "status bar", "")]


def test_pick(stage):
    """A click on a rod picks it, and the inspector opens its numbers"""
    x, y = stage.handles[("front", "Length of rod arm-rod.right")]
    stage.drain()
    stage.click(x, y + 50)
    line = stage.wait_for("picked", 3)
    check(line == "picked arm-rod.right", f"told {line!r}")
    find("slider", "Length of arm-rod, mm")


def test_zoom(stage):
    """The wheel zooms about the pointer, a double click on empty paper fits again"""
    x, y, width, height = stage.places["front"]
    still = stage.pixels_of_ground()
    stage.click(x + width / 2, y + height / 2, button=4, times=3)
    check(stage.pixels_of_ground() != still, "the wheel changed nothing")
    stage.click(x + width - 12, y + 60, times=2)
    stage.settle(0.4)
    stage.move(x + width - 12, y + 64)
    stage.settle(0.3)
    check(stage.pixels_of_ground() == still, "the double click did not fit")


def test_view_words(stage):
    """A view tells its name, pose and trouble to the accessibility tree"""
    stage.send("crank 90")
    stage.settle(0.6)
    node = find("image", "Front view")
    words = node.get_description()
    check("90.0°" in words and "arm.right" in words, words)


# ---- Turn strip and play ----


def test_scrub(stage):
    """The strip scrubs with the mouse and steps with the keys"""
    x, y, width, height = stage.places["strip"]
    stage.send("crank 10")
    stage.settle(0.2)
    stage.drain()
    stage.drag(x + width * 0.3, y + height * 0.6, width * 0.1, 0)
    cranks = [float(l.split()[1]) for l in stage.drain() if l.startswith("crank")]
    check(len(cranks) >= 3 and cranks == sorted(cranks), f"scrubbed through {cranks}")
    at = cranks[-1]
    stage.key("Right")
    near(float(stage.wait_for("crank", 2).split()[1]), round(at + 1), 0.51, "Right")
    stage.send("crank 50")
    stage.settle(0.2)
    stage.drain()
    stage.key("Right", "ctrl+Right", "Left", "Home")
    got = [float(l.split()[1]) for l in stage.drain() if l.startswith("crank")]
    for a, b in zip(got, [51, 51.1, 50, 0]):
        near(a, b, 1e-6, "crank after a key")
    check(len(got) == 4, f"four keys gave {got}")


def test_flags(stage):
    """Page Down goes to the next flag, which is a turning point of a curve"""
    x, y, width, height = stage.places["strip"]
    stage.drag(x + width * 0.3, y + height * 0.6, 20, 0)
    stage.send("crank 0")
    stage.settle(0.2)
    stage.drain()
    stage.key("Page_Down")
    check(stage.wait_for("message Angle of", 2), "no turning point was told")
    first = [float(l.split()[1]) for l in stage.log if l.startswith("crank")][-1]
    stage.key("Page_Down", "Page_Up")
    last = [float(l.split()[1]) for l in stage.drain() if l.startswith("crank")][-1]
    near(last, first, 1e-6, "there and back")


def test_strip_value(stage):
    """The strip is a slider from 0 to 360 that assistive technology can set"""
    node = find("slider", "Crank angle")
    near(Atspi.Value.get_maximum_value(node), 360, 1e-9, "greatest value")
    stage.drain()
    Atspi.Value.set_current_value(node, 123.5)
    line = stage.wait_for("crank 123.5", 2)
    check(line, "the crank did not follow")


def test_type_angle(stage):
    """A crank angle can be typed, with a comma too, and nonsense leaves it"""
    x, y = center_of(find("spin button", "Crank angle, degrees"))
    for typed, told in (("118.5", "crank 118.5000"), ("200,25", "crank 200.2500")):
        stage.click(x - 40, y)
        stage.key("ctrl+a")
        stage.type(typed)
        stage.drain()
        stage.key("Return")
        check(stage.wait_for(told, 2), f"{typed} was not taken")
    stage.key("ctrl+a")
    stage.type("abc")
    stage.drain()
    stage.key("Return")
    check(not [l for l in stage.drain() if l.startswith("crank")], "nonsense moved the crank")


def test_play(stage):
    """Playing keeps real time, forwards and backwards, and pausing stops every redraw"""
    stage.send("crank 0")
    stage.settle(0.2)
    stage.drain()
    x, y = center_of(find("push button", "Turn forwards"))
    stage.click(x, y)
    check(stage.wait_for("playing 1", 2), "it does not play")
    stage.settle(1.2)
    told = [[float(w) for w in l.split()[1:]] for l in stage.drain() if l.startswith("crank")]
    check(len(told) > 3, "it hardly moves")
    took = (told[-1][1] - told[0][1]) * 1e-6
    turned = sum((b[0] - a[0]) % 360 for a, b in zip(told, told[1:]))
    near(turned, took * 36 / 60 * 360, 20, "degrees turned at 36 turns a minute")
    stage.click(x, y)
    check(stage.wait_for("playing 0", 3), "it does not pause")
    stage.drain()
    stage.settle(0.5)
    check(stage.drain() == [], "something moves after the pause")
    back = center_of(find("push button", "Turn backwards"))
    stage.click(*back)
    stage.settle(0.8)
    told = [[float(w) for w in l.split()[1:]] for l in stage.drain() if l.startswith("crank")]
    check(len(told) > 3, "it hardly moves backwards")
    took = (told[-1][1] - told[0][1]) * 1e-6
    turned = sum((a[0] - b[0]) % 360 for a, b in zip(told, told[1:]))  # where frames are lost it may be most of a turn
    near(turned, took * 36 / 60 * 360, 20, "degrees turned backwards at 36 turns a minute")
    stage.click(*back)


def test_curves(stage):
    """A curve is chosen by its check box and found by typing"""
    x, y, width, _ = stage.places["strip"]
    stage.click(x + width - 50, y + 22)
    stage.settle(0.6)
    stage.type("push of tip-rod.r")
    stage.settle(0.6)
    box = find("check box", "Push of tip-rod.right")
    check(not has_state(box, Atspi.StateType.CHECKED), "it was chosen before")
    stage.key("Tab", "space")
    check(has_state(find("check box", "Push of tip-rod.right"), Atspi.StateType.CHECKED), "it is not chosen")
    find("label", "4 of 6 chosen")
    stage.key("Escape")


def test_load_curves(stage):
    """Loads stand in groups of their own in the list of curves, and are found by typing"""
    x, y, width, _ = stage.places["strip"]
    stage.click(x + width - 50, y + 22)
    stage.settle(0.6)
    for heading in ("Torque and guide", "Forces of rods", "Loads on hinges, pins and bearings", "Stress and sag"):
        find("label", heading)
    stage.type("bearing 1")
    stage.settle(0.6)
    find("check box", "Load on bearing 1")
    stage.key("ctrl+a")
    stage.type("crank torque")
    stage.settle(0.6)
    find("check box", "Crank torque")
    stage.key("Tab", "space")
    check(has_state(find("check box", "Crank torque"), Atspi.StateType.CHECKED), "it is not chosen")
    stage.key("Escape")


def test_bounce_flags(stage):
    """Page Down with Shift goes from bounce point to bounce point and says what would knock"""
    x, y, width, height = stage.places["strip"]
    stage.settle(0.6)
    stage.drag(x + width * 0.3, y + height * 0.6, 20, 0)
    stage.send("crank 0")
    stage.settle(0.2)
    stage.drain()
    stage.key("shift+Page_Down")
    check(stage.wait_for("message The post in its guide: no play", 2), "no bounce point was told")
    first = [float(l.split()[1]) for l in stage.log if l.startswith("crank")][-1]
    stage.key("shift+Page_Down", "shift+Page_Up")
    last = [float(l.split()[1]) for l in stage.drain() if l.startswith("crank")][-1]
    near(last, first, 1e-6, "there and back")


# ---- Inspector ----


def test_search(stage):
    """Typing parts of a name leaves the numbers that have them all"""
    open_group(stage, "length tip")
    find("slider", "Length of tip-rod, mm")
    names = [n.get_name() for n in walk(Atspi.get_desktop(0)) if is_called(n, "slider", "")]
    check(not any("arm-rod" in n for n in names), f"shown too: {names}")
    open_group(stage, "zzz")
    find("label", "No number has that in its name.")
    stage.key("Escape")


def test_pick_ends_search(stage):
    """Picking a part in a view ends a search that would hide its numbers"""
    open_group(stage, "length neck", "Length of neck-tie, mm")
    x, y = stage.handles[("front", "Length of rod arm-rod.right")]
    stage.click(x, y + 50)
    find("slider", "Length of arm-rod, mm")
    check(text_of(find("entry", "Find a number")) == "", "the search is still there")


def test_slider_drag(stage):
    """A slider that is dragged changes the number live, in one step of undo"""
    open_group(stage, "length arm-rod", "Length of arm-rod, mm")
    node = find("slider", "Length of arm-rod, mm")
    x, y, width = slider_track(node)
    before = stage.value("rods.arm-rod.length")
    low, high = Atspi.Value.get_minimum_value(node), Atspi.Value.get_maximum_value(node)
    thumb = x + width * (before - low) / (high - low)
    stage.drain()
    stage.drag(thumb, y, 8, 0, release=False)
    stage.sync()
    told = [l for l in stage.drain() if l.startswith("undo")]
    check(len(told) >= 2, "the number does not follow the drag")
    near(Atspi.Value.get_minimum_value(node), low, 1e-9, "the range's start while it is held")
    stage.let_go()
    check(stage.value("rods.arm-rod.length") > before + 0.5, "the number did not grow")
    check(undo_steps(stage) == 1, "the drag is not one step")


def slider_track(node):
    box = Atspi.Component.get_extents(node, Atspi.CoordType.WINDOW)
    return box.x + 10, box.y + 10, box.width - 20


def test_slider_keys(stage):
    """Arrows step a slider by 1, with Control by 0.1, with Shift by 10"""
    open_group(stage, "length arm-rod", "Length of arm-rod, mm")
    stage.key("Return", "Tab")
    before = stage.value("rods.arm-rod.length")
    stage.key("Right", "ctrl+Right", "ctrl+Right", "shift+Right", "Left")
    near(stage.value("rods.arm-rod.length"), before + 10.2, 1e-6, "after five keys")
    stage.settle(1.0)
    check(undo_steps(stage) == 1, "presses close together are not one step")


def test_entry(stage):
    """An entry takes a length in any unit, marks bad text and leaves the number"""
    open_group(stage, "length arm-rod", "Length of arm-rod, mm")
    before = stage.value("rods.arm-rod.length")
    stage.key("Return")
    stage.key("ctrl+a")
    stage.type("17 5/8 in")
    stage.key("Return")
    near(stage.value("rods.arm-rod.length"), 17.625 * 25.4, 1e-6, "typed inches")
    stage.key("ctrl+a")
    stage.type("long")
    stage.key("Return")
    near(stage.value("rods.arm-rod.length"), 17.625 * 25.4, 1e-6, "after bad text")
    entry = find("text", "Length of arm-rod, mm")
    check(is_invalid(entry), "bad text is not marked")
    check(len(entry.get_description()) > 10, "the fault is not told")
    stage.key("Escape")
    entry = find("text", "Length of arm-rod, mm")
    check(not is_invalid(entry), "the mark stays after Escape")
    stage.key("Up", "Up", "ctrl+Down")
    near(stage.value("rods.arm-rod.length"), round(17.625 * 25.4 * 10 + 19) / 10, 0.11, "after arrows")
    stage.settle(1.0)
    check(undo_steps(stage) == 2, "typing and stepping are not two steps")
    near(stage.value("rods.arm-rod.length"), before, 1e-9, "all undone")


def test_reset(stage):
    """The menu of a number brings the saved value back"""
    open_group(stage, "length arm-rod", "Length of arm-rod, mm")
    before = stage.value("rods.arm-rod.length")
    stage.key("Return", "Up", "Up")
    stage.settle(1.0)
    near(stage.value("rods.arm-rod.length"), before + 2, 1e-6, "stepped")
    stage.key("Menu")
    stage.settle(0.5)
    stage.key("space")
    stage.settle(0.5)
    near(stage.value("rods.arm-rod.length"), before, 1e-9, "reset")
    undo_steps(stage)


# ---- Trouble ----


def test_trouble_pick(stage):
    """A click on a trouble goes to its crank angle and lights the part"""
    x, y, width, _ = stage.places["trouble"]
    stage.drain()
    stage.click(x + width / 2, y + 40)
    check(stage.wait_for("picked tip", 3), "no part was picked")
    check([l for l in stage.log if l.startswith("crank")], "the crank did not go there")


def test_remedy(stage):
    """A remedy is applied with one press, the trouble goes, and one undo brings it back"""
    stage.drain()
    stage.send("pick-trouble 0")
    stage.settle(0.5)
    button = find("push button", "Lengthen", 30)
    before = int([l for l in stage.log + stage.drain() if l.startswith("trouble")][-1].split()[1])
    stage.click(*center_of(button))
    line = stage.wait_for("trouble", 3)
    after = int(line.split()[1])
    check(after < before, f"there were {before}, there are {after}")
    check(undo_steps(stage) == 1, "it is not one step")


def rows():
    return [n for n in walk(Atspi.get_desktop(0)) if is_called(n, "list item", "")]


def test_trouble_keeps(stage):
    """The picked trouble stays picked, in the same row, while a number is dragged"""
    stage.send("pick-trouble 2")
    stage.settle(1.0)
    before = [n for n in rows() if has_state(n, Atspi.StateType.SELECTED)]
    check(len(before) == 1, f"{len(before)} rows are selected")
    x, y = stage.handles[("front", "Guide of the post")]
    stage.drag(x, y, 0, -3, release=False)
    during = [n for n in rows() if has_state(n, Atspi.StateType.SELECTED)]
    check(during == before, f"selected was {before}, is {during}")
    stage.let_go()
    check(undo_steps(stage) == 1, "the drag is not one step")


def test_flag_click(stage):
    """A click on the flag of a worst point goes there and picks its trouble"""
    x, y, width, height = stage.places["strip"]
    stage.send("crank 0")
    stage.send("pick-trouble 2")
    stage.sync()
    worst = [float(l.split()[1]) for l in stage.drain() if l.startswith("crank")][-1]
    stage.send("pick-trouble -1")
    stage.send("crank 300")
    stage.drag(x + 100, y + height * 0.6, 500, 0)
    told = [float(l.split()[1]) for l in stage.drain() if l.startswith("crank")]
    scale = (told[-1] - told[-2]) / (500 / 8)
    stage.click(x + 600 + (worst - told[-1]) / scale, y + height * 0.6)
    lines = stage.drain()
    near([float(l.split()[1]) for l in lines if l.startswith("crank")][-1], worst, 1e-3, "crank")
    check(any(l.startswith("trouble") and not l.endswith("-1") for l in lines), "no trouble was picked")


def test_many(stage):
    """A design of 200 panels opens, makes only the rows it shows, and finds any number"""
    sliders = [n for n in walk(Atspi.get_desktop(0)) if is_called(n, "slider", "")]
    check(len(sliders) < 30, f"{len(sliders)} sliders were made")
    open_group(stage, "length rod199", "Length of rod199, mm")
    stage.key("Return", "ctrl+a")
    stage.type("413")
    stage.key("Return")
    near(stage.value("rods.rod199.length"), 413, 1e-9, "typed length")


def many(count):
    """A row of wings, each driven by a throw of its own, far enough apart to keep clear."""
    throws = [{"name": "mid", "radius": 40, "phase": 0, "station": 0}]
    panels, rods = [], []
    for i in range(count):
        throws.append({"name": f"pin{i}", "radius": 30, "phase": 180, "station": 150 + i * 400})
        panels.append({"name": f"wing{i}", "side": "right", "on": "body", "hinge": [45 + i * 400, 0, 0], "span": 210,
                       "stops": [-60, 60], "mass": 160, "centre": [105, -10, 0], "inertia": [3e5, 6e5, 9e5, 0]})
        rods.append({"name": f"rod{i}", "side": "right", "from": {"throw": f"pin{i}"}, "length": 412,
                     "to": {"panel": f"wing{i}", "at": [140, 0, -12]}, "near": 0, "mass": 30})
    return {"format": "flapwright design", "version": 1, "title": "many wings",
            "crank": {"runs": "across", "turns_per_minute": 40, "throws": throws},
            "body": {"ride": "sleeve", "throw": "mid", "post": 420, "guide": [0, 180], "mass": 900,
                     "centre": [0, 35, 60], "gyration": 140},
            "panels": panels, "rods": rods}


def test_empty(stage):
    """A design without trouble says so"""
    find("label", "Goes round free of trouble.")


HERON = [test_empty, test_view_words, test_drag_handle, test_escape_drag, test_page_holds_still, test_pick, test_zoom,
         test_keys_on_handles, test_scrub, test_flags, test_strip_value, test_type_angle, test_play, test_curves,
         test_load_curves, test_bounce_flags, test_search, test_pick_ends_search,
         test_slider_drag, test_slider_keys, test_entry, test_reset]
TROUBLED = [test_trouble_pick, test_trouble_keeps, test_flag_click, test_remedy]


def run(number, test, design):
    stage = None
    try:
        stage = Stage(PROGRAM, os.path.join(DEMOS, design))
        test(stage)
        stage.settle(0.2)
        check(stage.process.poll() is None, "the program ended: " + " / ".join(stage.errors[-3:]))
        check(not stage.warnings(), "warnings: " + " / ".join(stage.warnings()[:3]))
        print(f"ok {number} {test.__doc__}")
    except Exception as error:  # noqa: BLE001: every fault is a test that failed
        print(f"not ok {number} {test.__doc__}")
        print(f"# {type(error).__name__}: {error}")
        if stage is not None and os.environ.get("FW_SHOTS"):
            stage.shot(os.path.join(os.environ["FW_SHOTS"], test.__name__ + ".png"))
    finally:
        if stage is not None:
            stage.quit()
        sys.stdout.flush()


def main():
    big = os.path.join(tempfile.mkdtemp(), "many.flap")
    with open(big, "w", encoding="utf-8") as file:
        json.dump(many(200), file)
    tests = [(t, "heron.flap") for t in HERON] + [(t, "troubled.flap") for t in TROUBLED] + [(test_many, big)]
    only = sys.argv[3:]
    if only:
        tests = [t for t in tests if t[0].__name__ in only]
    print(f"1..{len(tests)}")
    for number, (test, design) in enumerate(tests, 1):
        run(number, test, design)
    shutil.rmtree(os.path.dirname(big))


main()
