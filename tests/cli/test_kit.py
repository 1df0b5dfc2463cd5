"""The kit sheet as a PDF: checked with qpdf and the poppler tools, which are not ours."""
import os
import re
import subprocess
import sys
import tempfile

from program import CLEAN_DEMOS, call, call_on, demo, is_one_line, read_demo
from tap import Tap


def run(*args):
    return subprocess.run(args, stdout=subprocess.PIPE, stderr=subprocess.STDOUT).stdout.decode("utf-8", "replace")


def words_of(path):
    """All text in reading order, on one line, with plain spaces."""
    return re.sub(r"\s+", " ", run("pdftotext", path, "-"))


def page_size(path):
    """Of the first page, in mm."""
    found = re.search(r"Page size:\s+([0-9.]+) x ([0-9.]+) pts", run("pdfinfo", path))
    return [float(n) * 25.4 / 72 for n in found.groups()]


def every_demo_makes_a_sound_booklet(tap):
    with tempfile.TemporaryDirectory() as folder:
        for name in CLEAN_DEMOS:
            path = os.path.join(folder, name + ".pdf")
            result = call("kit", demo(name), "-o", path)
            tap.ok(result.status == 0 and result.err == "", f"the {name} has a kit sheet", result)
            report = run("qpdf", "--check", path)
            tap.ok("No syntax or stream encoding errors found" in report, f"qpdf finds the {name}'s sound", report)
            words = words_of(path)
            design = read_demo(name)
            named = [design["title"]] + [f"Panel {p['name']}" for p in design["panels"] if "outline" in p]
            named += [f"Rod {r['name']}" for r in design["rods"]]
            missing = [n for n in named if n not in words]
            tap.ok(not missing, f"title, panels and rods of the {name} are named in it", missing)


def letters_agree_with_the_other_sheets(tap):
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "k.pdf")
        call("kit", demo("heron"), "-o", path)
        words = words_of(path)
        listed = re.findall(r"^([A-Z]+)  (.+)$", call("parts", demo("heron"), "-o", folder).text, re.M)
        tap.ok(len(listed) > 5, "there are printed parts with letters")
        for letter, name in listed:
            tap.ok(re.search(rf"(^| ){letter} ", words) and name in words, f"{letter}, {name}, is on the kit sheet")
        steps = ["Base", "Crank", "Post", "Body", "Panels", "Rods", "Stops"]
        at = words.find("Putting it together")
        places = [words.find(f"{i + 1} {s}", at) for i, s in enumerate(steps)]
        tap.ok(at > 0 and -1 not in places and places == sorted(places), "the steps come in the order of assembly", places)
        tap.ok("448.0 mm between its joint centres" in words and "turned 190.0° from up" in words,
               "rod lengths and phases to set are in it")
        for word in ("Fingers", "burn", "tip", "motor", "above people", "licensed", "Local codes"):
            tap.ok(word in words, f"it warns: {word}")


def paper_and_lengths(tap):
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "k.pdf")
        for paper, size in {"a5": [148, 210], "a4": [210, 297], "letter": [215.9, 279.4]}.items():
            call("kit", demo("owl"), "-o", path, "--paper", paper)
            tap.near(page_size(path), size, 0.1, f"{paper} has its size by ISO 216 or ANSI")
        call("kit", demo("owl"), "-o", path, "--lengths", "inch")
        words = words_of(path)
        tap.ok(" in between its joint centres" in words and " mm between" not in words, "lengths in inches all through")
        other = os.path.join(folder, "l.pdf")
        call("kit", demo("owl"), "-o", other, "--lengths", "inch")
        tap.ok(open(path, "rb").read() == open(other, "rb").read(), "twice gives the same bytes")


def bad_calls(tap):
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "k.pdf")
        for args in (["kit", demo("owl")], ["kit", demo("owl"), "-o", path, "--paper", "a9"],
                     ["kit", demo("owl"), "-o", path, "--lengths", "feet"], ["kit", "nowhere.flap", "-o", path],
                     ["kit", demo("owl"), "-o", os.path.join(folder, "no", "k.pdf")]):
            result = call(*args)
            tap.ok(result.status == 2 and is_one_line(result.err) and os.listdir(folder) == [],
                   f"refused in one line, nothing written: {' '.join(os.path.basename(a) for a in args)}", result)
        design = read_demo("heron")
        design["print"] = {"tee_bore": 10}
        result = call_on(design, "kit", "-o", path)
        tap.ok(result.status == 1 and "Bushing" in words_of(path), "a part that cannot be printed is told in the booklet", result)
        design = read_demo("owl")
        design["title"] = ""
        design["panels"], design["rods"] = [], []
        design.pop("look")
        result = call_on(design, "kit", "-o", path)
        tap.ok(result.status == 0 and "Untitled" in words_of(path), "a bare design has a booklet too", result)


if __name__ == "__main__":
    sys.exit(Tap().run([every_demo_makes_a_sound_booklet, letters_agree_with_the_other_sheets, paper_and_lengths, bad_calls]))
