"""thumbnail: the small picture that file managers show."""
import copy
import os
import sys
import tempfile
import time
from urllib.parse import quote

from program import CLEAN_DEMOS, EXAMPLE, call, call_on, demo, is_one_line, read_png
from tap import Tap

WORK = tempfile.mkdtemp()


def path(name):
    return os.path.join(WORK, name)


def picture(tap, name):
    """Width, height, number of unlike pixels of a picture just written; it is taken away."""
    if not os.path.exists(path(name)):
        return 0, 0, 0
    width, height, shades = read_png(path(name))
    os.remove(path(name))
    return width, height, len(shades)


def demos_have_pictures(tap):
    for name in CLEAN_DEMOS + ["troubled"]:
        done = call("thumbnail", demo(name), "-o", path("t.png"), "--size", "128")
        width, height, shades = picture(tap, "t.png")
        tap.ok(done.status == 0 and max(width, height) == 128 and min(width, height) >= 76 and shades > 40,
               f"{name} has a picture whose longer side is as asked, and something is on it", (done, width, height, shades))


def sizes_are_kept(tap):
    for size in (16, 64, 256, 1024, 2048):
        call("thumbnail", demo("heron"), "-o", path("t.png"), "--size", str(size))
        width, height, shades = picture(tap, "t.png")
        tap.ok(max(width, height) == size and shades > 10, f"{size} px", (width, height, shades))
    for size in ("15", "2049", "-5", "0", "many"):
        done = call("thumbnail", demo("heron"), "-o", path("t.png"), "--size", size)
        tap.ok(done.status == 2 and is_one_line(done.err) and not os.path.exists(path("t.png")),
               f"a size of {size} is refused in one line", done)


def addresses_are_read(tap):
    name = path("a bird, 50% größer.flap")
    with open(demo("owl"), "rb") as file, open(name, "wb") as out:
        out.write(file.read())
    for what, given in (("a path", name), ("a file: address", "file://" + quote(name))):
        done = call("thumbnail", given, "-o", path("t.png"))
        tap.ok(done.status == 0 and picture(tap, "t.png")[2] > 40, f"{what} with odd signs is read", done)
    for given in ("http://flapwright.example/a.flap", "smb://host.example/a.flap", "file://host.example/a.flap",
                  "data:text/plain,x"):
        done = call("thumbnail", given, "-o", path("t.png"))
        tap.ok(done.status == 2 and is_one_line(done.err) and "file:" in done.err, f"{given} is refused: nothing is fetched",
               done)


def what_is_no_design_is_refused(tap):
    os.mkfifo(path("pipe"))
    with open(path("huge.flap"), "wb") as file:
        file.truncate(9 << 20)
    cases = {"an empty file": b"", "text": b"hello", "binary": bytes(range(256)) * 8, "deep": b"[" * 100000,
             "half a design": open(demo("heron"), "rb").read()[:700]}
    for name, data in cases.items():
        with open(path("bad.flap"), "wb") as file:
            file.write(data)
        done = call("thumbnail", path("bad.flap"), "-o", path("t.png"))
        tap.ok(done.status == 2 and is_one_line(done.err) and not os.path.exists(path("t.png")),
               f"{name}: refused in one line, no picture", done)
    for name in ("pipe", "huge.flap", "nothing.flap", "."):
        start = time.monotonic()
        done = call("thumbnail", path(name), "-o", path("t.png"))
        tap.ok(done.status == 2 and is_one_line(done.err) and time.monotonic() - start < 5,
               f"{name}: refused at once", done)


def hard_designs_are_drawn(tap):
    broken = copy.deepcopy(EXAMPLE)
    broken["rods"][0]["length"] = 5000
    done = call_on(broken, "thumbnail", "-o", path("t.png"))
    tap.ok(done.status == 0 and picture(tap, "t.png")[2] > 20, "a design that cannot be put together has a picture", done)
    many = copy.deepcopy(EXAMPLE)
    many["panels"] += [dict(many["panels"][0], name=f"p{i}", on="body", hinge=[45, i, 0], side="right")
                       for i in range(100)]
    many["rods"] += [{"name": f"r{i}", "side": "right", "from": {"throw": "in"},
                      "to": {"panel": f"p{i}", "at": [140, 0, -12]}, "length": 412, "near": 0, "mass": 30}
                     for i in range(100)]
    start = time.monotonic()
    done = call_on(many, "thumbnail", "-o", path("t.png"))
    took = time.monotonic() - start
    tap.ok(done.status == 0 and took < 10, f"a hundred panels more take {took:.2f} s", done)


def nothing_is_left_of_failure(tap):
    done = call("thumbnail", demo("heron"))
    tap.ok(done.status == 2 and is_one_line(done.err), "without -o it says what is missing", done)
    before = sorted(os.listdir(WORK))
    done = call("thumbnail", demo("heron"), "-o", path("no/such/folder.png"))
    tap.ok(done.status == 2 and is_one_line(done.err) and sorted(os.listdir(WORK)) == before,
           "a folder that is not there: one line, nothing written", done)


if __name__ == "__main__":
    sys.exit(Tap().run([demos_have_pictures, sizes_are_kept, addresses_are_read, what_is_no_design_is_refused,
                        hard_designs_are_drawn, nothing_is_left_of_failure]))
