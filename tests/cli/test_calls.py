"""How the program is called: options, exit status, one line of refusal, nothing written when it refuses."""
import copy
import json
import os
import sys
import tempfile
import threading

from program import (EXAMPLE, SOURCE, call, call_on, demo, is_one_line, set_key)
from tap import Tap

VERBS = ["turn", "check", "loads", "strip"]


def tells_of_itself(tap):
    version = call("--version")
    tap.ok(version.status == 0 and version.text.startswith("flapwright ") and version.text[11].isdigit(),
           "--version names the program and its version", version)
    help_text = call("--help")
    tap.ok(help_text.status == 0 and all(f"  {verb} " in help_text.text for verb in VERBS),
           "--help lists every verb", help_text)
    for verb in VERBS:
        told = call(verb, "--help")
        tap.ok(told.status == 0 and f"{verb} FILE" in told.text and told.err == "",
               f"{verb} --help says how it is called", told)


def refuses_bad_calls(tap):
    heron = demo("heron")
    bad = {
        "no verb": [],
        "a verb that is not there": ["fold"],
        "no file": ["turn"],
        "two files": ["check", heron, heron],
        "an unknown option": ["check", heron, "--loud"],
        "an unknown format": ["turn", heron, "--format", "xml"],
        "no steps at all": ["turn", heron, "--steps", "0"],
        "a number of steps that is none": ["turn", heron, "--steps", "many"],
        "far too many steps": ["turn", heron, "--steps", "100000000"],
        "a strip without a place to write": ["strip", heron],
        "an unknown view": ["strip", heron, "-o", "never.png", "--view", "top"],
        "no frames": ["strip", heron, "-o", "never.png", "--frames", "0"],
        "frames too narrow to see": ["strip", heron, "-o", "never.png", "--frame-width", "5"],
        "a speed below zero": ["loads", heron, "--speed", "-3"],
    }
    for what, args in bad.items():
        result = call(*args)
        tap.ok(result.status == 2 and is_one_line(result.err) and result.out == b"",
               f"{what}: refused with one line and status 2", result)
    tap.ok(not os.path.exists("never.png"), "a refused strip leaves no picture")


def spoiled(key, value):
    design = copy.deepcopy(EXAMPLE)
    set_key(design, key, value)
    return json.dumps(design).encode()


def without(part, key):
    design = copy.deepcopy(EXAMPLE)
    del design[part][0][key]
    return json.dumps(design).encode()


def broken_files():
    """What is wrong, the file, and what the line must name."""
    good = json.dumps(EXAMPLE, indent=1).encode()
    yield "nothing in it", b"", "line 1"
    yield "a comma too many", good.replace(b'"version": 1,', b'"version": 1,,'), "line 3"
    yield "text after the end", good + b" and more", "line"
    yield "a leading zero", good.replace(b'"post": 420', b'"post": 0420'), "line"
    yield "bytes that are no UTF-8", good.replace(b"Example", b"Ex\xff\xfeample"), "line"
    yield "a key twice", good.replace(b'"title"', b'"version"'), "version"
    yield "a newer version", spoiled("version", 2), "version"
    yield "another format", spoiled("format", "some design"), "format"
    yield "a rod without length", without("rods", "length"), "rods[0].length"
    yield "a rod of no length", spoiled("rods.inrod.length", 0), "rods[0].length"
    yield "words for a number", spoiled("body.post", "long"), "body.post"
    yield "an unknown throw", spoiled("rods.inrod.from.throw", "out"), "rods[0].from.throw"
    yield "an unknown panel", spoiled("rods.inrod.to.panel", "outer"), "rods[0].to.panel"
    yield "a panel on itself", spoiled("panels.inner.on", "inner"), "panels[0].on"
    yield "stops the wrong way round", spoiled("panels.inner.stops", [20, -20]), "panels[0].stops"
    yield "an empty name", spoiled("panels.inner.name", ""), "panels[0].name"
    yield "a number beyond all size", spoiled("crank.turns_per_minute", 1e6), "crank.turns_per_minute"


def ring_of_rods():
    design = copy.deepcopy(EXAMPLE)
    twin = dict(design["panels"][0], name="other", hinge=[60, 0, 0])
    design["panels"].append(twin)
    design["rods"] = [
        {"name": "there", "side": "both", "from": {"panel": "other", "at": [40, 0, 0]},
         "to": {"panel": "inner", "at": [40, 0, -12]}, "length": 40},
        {"name": "back", "side": "both", "from": {"panel": "inner", "at": [80, 0, 0]},
         "to": {"panel": "other", "at": [80, 0, -12]}, "length": 40}]
    return json.dumps(design).encode()


def refuses_broken_files(tap):
    with tempfile.TemporaryDirectory() as folder:
        path, picture = os.path.join(folder, "sculpture.flap"), os.path.join(folder, "out.png")
        for what, text, place in list(broken_files()) + [("rods that drive each other", ring_of_rods(), "rods[")]:
            with open(path, "wb") as file:
                file.write(text)
            turn, check = call("turn", path), call("check", path)
            strip = call("strip", path, "-o", picture)
            told = all(r.status == 2 and is_one_line(r.err) and r.out == b"" for r in (turn, check, strip))
            tap.ok(told and "sculpture.flap" in turn.err and place in turn.err and not os.path.exists(picture),
                   f"{what}: one line names the file and the place ({place}); nothing is written", turn)


def refuses_what_is_no_file(tap):
    for what, path in {"a file that is not there": "missing.flap", "a folder": SOURCE}.items():
        result = call("check", path)
        tap.ok(result.status == 2 and is_one_line(result.err) and path in result.err,
               f"{what}: one line names it", result)
    result = call("check", "/dev/zero")
    tap.ok(result.status == 2 and is_one_line(result.err) and "/dev/zero" in result.err and "64 MB" in result.err,
           "a file without an end: one line says that it is too large", result)
    result = call_on(b"{", "check")
    tap.ok(result.status == 2 and is_one_line(result.err) and "standard input" in result.err,
           "broken text on standard input: the line says where it came from", result)


def reads_a_pipe_by_its_name(tap):
    """What another program writes into it is read to the end; one that writes nothing, or rubbish, is refused."""
    with tempfile.TemporaryDirectory() as folder:
        pipe = os.path.join(folder, "pipe.flap")
        os.mkfifo(pipe)
        with open(demo("moth"), "rb") as file:
            design = file.read()
        for what, given in (("a design", design), ("half a design", design[:len(design) // 2]), ("nothing", b"")):
            writer = threading.Thread(target=write_to, args=(pipe, given))
            writer.start()
            result = call("turn", pipe, "--steps", "36")
            writer.join()
            if given == design:
                tap.ok(result.status == 0 and result.out == call("turn", demo("moth"), "--steps", "36").out, f"{what} out of a pipe is that design", result)
            else:
                tap.ok(result.status == 2 and is_one_line(result.err) and pipe in result.err and not result.out, f"{what} out of a pipe: one line", result)
        tap.ok(os.listdir(folder) == ["pipe.flap"], "nothing is left beside the pipe")


def write_to(path, given):
    with open(path, "wb") as file:
        file.write(given)


def says_when_it_cannot_write(tap):
    if not os.path.exists("/dev/full"):
        tap.skip("a full disk is noticed", "there is no /dev/full")
        return
    for args in (["turn", demo("heron")], ["check", demo("heron"), "--format", "json"], ["loads", demo("heron")],
                 ["--help"]):
        with open("/dev/full", "wb") as full:
            result = call(*args, stdout=full)
        tap.ok(result.status == 2 and is_one_line(result.err), f"{args[0]} onto a full disk ends with status 2",
               result.err)


def keeps_what_it_cannot_replace(tap):
    with tempfile.TemporaryDirectory() as folder:
        picture = os.path.join(folder, "strip.png")
        with open(picture, "wb") as file:
            file.write(b"kept")
        refused = call_on(b"{}", "strip", "-o", picture)
        with open(picture, "rb") as file:
            kept = file.read()
        tap.ok(refused.status == 2 and kept == b"kept", "a refused design leaves the old picture whole", refused)
        nowhere = call("strip", demo("moth"), "-o", os.path.join(folder, "no", "such", "strip.png"))
        tap.ok(nowhere.status == 2 and is_one_line(nowhere.err), "a folder that is not there is named", nowhere)
        tap.ok(os.listdir(folder) == ["strip.png"], "nothing else is left behind", os.listdir(folder))


def explains_words(tap):
    listed = call("explain")
    tap.ok(listed.status == 0 and "  push-angle " in listed.text and "Trouble\n" in listed.text, "explain alone lists all there is", listed)
    told = call("explain", "push-angle")
    tap.ok(told.status == 0 and "dead position" in told.text and "Unit: degrees" in told.text and "More: docs/model.md#" in told.text,
           "a word is explained with unit, what is usual and where more stands", told)
    tap.ok(call("explain", "Push angle").text == told.text, "it is found by its title too")
    none = call("explain", "flux capacitance")
    tap.ok(none.status == 2 and is_one_line(none.err) and none.out == b"", "a word that is not there is refused in one line", none)
    with tempfile.TemporaryDirectory() as folder:
        for ending, start in (("svg", b"<?xml"), ("png", b"\x89PNG")):
            path = os.path.join(folder, "word." + ending)
            call("explain", "sweep", "-o", path)
            with open(path, "rb") as file:
                tap.ok(file.read().startswith(start), f"its drawing is written as {ending.upper()}")
    page = call("explain", "--page")
    with open(os.path.join(SOURCE, "docs", "words.md"), encoding="utf-8") as file:
        tap.ok(page.text == file.read(), "docs/words.md is what the program says now: else write it anew with explain --page")


if __name__ == "__main__":
    sys.exit(Tap().run([tells_of_itself, refuses_bad_calls, refuses_broken_files, refuses_what_is_no_file, reads_a_pipe_by_its_name,
                        says_when_it_cannot_write, keeps_what_it_cannot_replace, explains_words]))
