"""Start to first frame and memory of the window against the smallest GTK window, in one run.

Usage, on a display: bench.py BARE PROGRAM FIRSTFRAME.so DESIGN [ROUNDS]
Rounds alternate between the two; the median counts."""
import os
import re
import statistics
import subprocess
import sys

LINE = re.compile(r"first-frame (\S+) cpu (\S+) resident (\S+)")


def once(command, shim):
    out = subprocess.run(command, env={**os.environ, "LD_PRELOAD": shim}, capture_output=True, text=True,
                         timeout=60, check=False).stdout
    found = LINE.search(out)
    if not found:
        sys.exit(f"{command[0]}: no first frame was seen")
    return [float(value) for value in found.groups()]


def main(bare, program, shim, design, rounds="9"):
    commands = {"smallest window": [bare], "flapwright": [program, design]}
    seen = {name: [] for name in commands}
    for _ in range(int(rounds)):
        for name, command in commands.items():
            seen[name].append(once(command, shim))
    median = {name: [statistics.median(row[i] for row in rows) for i in range(3)] for name, rows in seen.items()}
    print(f"{'':18}{'first frame, s':>16}{'processor, s':>16}{'memory, MB':>14}")
    for name, (wall, cpu, memory) in median.items():
        print(f"{name:18}{wall:16.3f}{cpu:16.3f}{memory:14.1f}")
    ratios = [b / a for a, b in zip(median["smallest window"], median["flapwright"])]
    print(f"{'ratio':18}{ratios[0]:16.2f}{ratios[1]:16.2f}{ratios[2]:14.2f}")


main(*sys.argv[1:])
