"""What the window does while nothing moves, and while the machine is too slow for what does."""
import os
import signal
import sys
import time

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi  # noqa: E402

import drive  # noqa: E402
from drive import Program, check, wait_until  # noqa: E402

PROGRAM, DEMOS = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
HERON = os.path.join(DEMOS, "heron.flap")
TICK = 1 / os.sysconf("SC_CLK_TCK")


def processor(process):
    """Seconds that all its threads have run so far."""
    with open(f"/proc/{process.pid}/stat", encoding="utf-8") as file:
        words = file.read().rsplit(")", 1)[1].split()
    return (int(words[11]) + int(words[12])) * TICK


def nothing_is_worked_out_or_drawn_while_nothing_moves():
    program = Program(PROGRAM, HERON)
    try:
        used, rested = processor(program.process), 0
        end = time.monotonic() + 20
        while rested < 3 and time.monotonic() < end:  # what began at the start comes to its end
            time.sleep(1)
            now = processor(program.process)
            rested = rested + 1 if now - used <= 2 * TICK else 0
            used = now
        check(rested == 3, "it is still at work long after it was opened")
    finally:
        program.close()


def graphics_drivers_are_not_started():
    program = Program(PROGRAM, HERON)
    try:
        program.find("slider", "Crank angle")
        with open(f"/proc/{program.process.pid}/maps", encoding="utf-8") as file:
            loaded = {os.path.basename(line.split()[-1]) for line in file if "/" in line}
        check(any(name.startswith("libgtk-4.so") for name in loaded), "the toolkit is not among what is loaded")
        drivers = sorted(name for name in loaded if name.endswith("_dri.so") or name.startswith(("libGLX", "libEGL", "libLLVM")))
        check(not drivers, f"loaded: {', '.join(drivers)}")
    finally:
        program.close()


def the_crank_keeps_time_when_frames_are_lost():
    program = Program(PROGRAM, HERON)
    try:
        field = program.find("spin button", "Play speed")
        Atspi.Value.set_current_value(field, 10)  # turns/min: 60 degrees a second
        slider = program.find("slider", "Crank angle")

        def angle():
            before = time.monotonic()
            value = Atspi.Value.get_current_value(slider)
            return value, before, time.monotonic()

        at_rest = angle()[0]
        program.press("push button", "Turn forwards")
        wait_until(lambda: angle()[0] != at_rest, "it does not turn")
        first, since, _ = angle()
        os.kill(program.process.pid, signal.SIGSTOP)  # a machine that finds no time for a frame
        time.sleep(1.5)
        os.kill(program.process.pid, signal.SIGCONT)
        time.sleep(0.5)
        last, before, after = angle()
        turned = (last - first) % 360
        least, most = 60 * (before - since) - 30, 60 * (after - since) + 30
        check(least < turned < most, f"{turned:.0f} degrees in {before - since:.2f} s: {least:.0f} to {most:.0f} were expected")
    finally:
        program.close()


if __name__ == "__main__":
    sys.exit(drive.run([nothing_is_worked_out_or_drawn_while_nothing_moves, graphics_drivers_are_not_started, the_crank_keeps_time_when_frames_are_lost]))
