"""How the two views stand beside each other."""
import os
import subprocess
import sys

import drive
from drive import Program, check, wait_until

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])


def floor(program, view):
    """The longest dark line of a view: px below the view's upper edge; None while there is none."""
    x, y, width, height = (int(n) for n in program.place(program.find("image", view)))
    shot = subprocess.run(["import", "-window", "root", "-crop", f"{width}x{height}+{x}+{y}", "-depth", "8", "gray:-"],
                          capture_output=True, check=True).stdout
    # Not the ring that tells where the keyboard is.
    dark = [sum(p < 128 for p in shot[i * width + 8:(i + 1) * width - 8]) if 8 < i < height - 8 else 0 for i in range(height)]
    return dark.index(max(dark)) if max(dark) > 100 else None


def floors(program):
    return floor(program, "Front view"), floor(program, "Side view")


def both_views_stand_on_one_floor():
    for design in ("moth.flap", "heron.flap"):  # the one is wider from the side, the other from ahead
        program = Program(PROGRAM, os.path.join(DEMOS, design))
        try:
            wait_until(lambda: None not in floors(program) and abs(floors(program)[0] - floors(program)[1]) <= 1,
                       lambda: f"{design} has floors at {floors(program)}")
        finally:
            program.close()


def one_zoomed_by_hand_leaves_the_other_until_both_are_fitted():
    program = Program(PROGRAM, os.path.join(DEMOS, "heron.flap"))
    try:
        wait_until(lambda: None not in floors(program), "there is no floor")
        front, side = floors(program)
        x, y, width, height = program.place(program.find("image", "Side view"))
        program.xdo("mousemove", int(x + width / 2), int(y + height / 2), "click", 5, "click", 5)
        wait_until(lambda: floors(program)[1] not in (None, side), "the side view is not zoomed")
        check(floors(program)[0] == front, "the front view moved too")
        program.key("ctrl+0")
        wait_until(lambda: floors(program) == (front, side), lambda: f"fitted, the floors are at {floors(program)}, not {front}, {side}")
    finally:
        program.close()


def tip(program, view):
    """What stands beside the marked handle of a view; "" without one."""
    for node in drive.walk(program.find("image", view)):
        if drive.role_of(node) == "status bar":
            return drive.Atspi.Text.get_text(node, 0, drive.Atspi.Text.get_character_count(node))
    return ""


def a_marked_handle_stays_marked_when_the_window_takes_another_size():
    program = Program(PROGRAM, os.path.join(DEMOS, "heron.flap"))
    try:
        view = program.find("image", "Front view")
        x, y, width, height = program.place(view)
        program.xdo("mousemove", int(x + width - 20), int(y + height - 120), "click", 1)
        program.key("bracketright")
        marked = wait_until(lambda: tip(program, "Front view"), "no handle is marked")
        window = drive.xdo_words("search", "--onlyvisible", "--name", "Night heron")[-1]
        for size in ("1300", "800"), ("1600", "1000"), ("1000", "700"):
            program.xdo("windowsize", window, *size)
            wait_until(lambda s=size: 0 <= int(s[1]) - program.place(program.find("frame", "Night heron"))[3] < 30, "the window keeps its size")
        check(tip(program, "Front view") == marked, tip(program, "Front view"))
        check(not program.complaints(), "; ".join(program.complaints()))
    finally:
        program.close()


def views_are_higher_than_the_strip_in_the_smallest_window():
    program = Program(PROGRAM, os.path.join(DEMOS, "heron.flap"), size=(640, 400))
    try:
        view, strip = program.find("image", "Front view"), program.find("slider", "Crank angle")

        def heights():
            return program.place(view)[3], program.place(strip)[3]
        wait_until(lambda: min(heights()) > 0, "there is nothing to see")
        check(heights()[0] > heights()[1], f"view and strip are {heights()} high")
    finally:
        program.close()


if __name__ == "__main__":
    sys.exit(drive.run([both_views_stand_on_one_floor, one_zoomed_by_hand_leaves_the_other_until_both_are_fitted,
                        a_marked_handle_stays_marked_when_the_window_takes_another_size,
                        views_are_higher_than_the_strip_in_the_smallest_window]))
