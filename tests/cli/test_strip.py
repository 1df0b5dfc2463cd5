"""strip: the picture file."""
import os
import shutil
import subprocess
import sys
import tempfile

from program import CLEAN_DEMOS, EXAMPLE, call, call_on, demo, read_png
from tap import Tap


def strip(folder, name, *options):
    path = os.path.join(folder, "strip.png")
    result = call("strip", demo(name), "-o", path, *options)
    return result, read_png(path) if os.path.exists(path) else None


def every_demo_has_one(tap):
    checker = shutil.which("pngcheck")
    with tempfile.TemporaryDirectory() as folder:
        for name in CLEAN_DEMOS:
            result, picture = strip(folder, name)
            sound = checker is None or subprocess.run([checker, "-q", os.path.join(folder, "strip.png")],
                                                      stdout=subprocess.DEVNULL).returncode == 0
            tap.ok(result.status == 0 and result.out == b"" and result.err == "" and sound,
                   f"{name}: a sound PNG, and no word about it", result)
            tap.ok(picture is not None and len(picture[2]) > 100, f"{name}: the picture is not empty",
                   picture and len(picture[2]))


def sizes_follow_the_options(tap):
    with tempfile.TemporaryDirectory() as folder:
        small, large = strip(folder, "moth", "--frame-width", "400")[1], strip(folder, "moth", "--frame-width", "500")[1]
        tap.ok(large[0] - small[0] >= 200 and large[1] > small[1], "frames 100 px wider make the whole plate wider",
               (small[:2], large[:2]))
        few, many = strip(folder, "moth", "--frames", "4")[1], strip(folder, "moth", "--frames", "24")[1]
        tap.ok(many[0] * many[1] > 2 * few[0] * few[1], "more frames take more paper", (few[:2], many[:2]))
        one = strip(folder, "moth", "--frames", "1", "--view", "side")
        tap.ok(one[0].status == 0 and one[1][0] >= 300, "one frame is a picture too", one[1][:2])


def views_differ(tap):
    with tempfile.TemporaryDirectory() as folder:
        pictures = {}
        for view in ("both", "front", "side"):
            result, _ = strip(folder, "heron", "--view", view)
            with open(os.path.join(folder, "strip.png"), "rb") as file:
                pictures[view] = file.read()
            tap.ok(result.status == 0, f"--view {view} is drawn", result)
        tap.ok(len(set(pictures.values())) == 3, "the three views are three pictures")
        strip(folder, "heron", "--view", "both")
        with open(os.path.join(folder, "strip.png"), "rb") as file:
            tap.ok(file.read() == pictures["both"], "the same call draws the same picture, byte for byte")


def troubled_is_still_drawn(tap):
    with tempfile.TemporaryDirectory() as folder:
        result, picture = strip(folder, "troubled")
        tap.ok(result.status == 1 and picture is not None, "a design that cannot go round is drawn, with status 1", result)
        path = os.path.join(folder, "piped.png")
        piped = call_on(EXAMPLE, "strip", "-o", path)
        tap.ok(piped.status == 0 and read_png(path) is not None, "a design without look or base is drawn from standard input",
               piped)
        tap.ok(sorted(os.listdir(folder)) == ["piped.png", "strip.png"], "nothing else is left behind", os.listdir(folder))


if __name__ == "__main__":
    sys.exit(Tap().run([every_demo_has_one, sizes_follow_the_options, views_differ, troubled_is_still_drawn]))
