"""`flapwright-cli scale` and `fit`: another size, and what was really built."""
import json
import os
import sys
import tempfile

from program import EXAMPLE, call, call_on, demo, read_demo
from tap import Tap

PLACE = tempfile.mkdtemp()


def path(name):
    return os.path.join(PLACE, name)


def scaled_design_moves_alike(tap):
    out = path("big.flap")
    result = call("scale", demo("moth"), "--by", "4", "-o", out, "--format", "json")
    told = json.loads(result.text)
    tap.ok(result.status in (0, 1) and os.path.exists(out), "a design of four times the size is written", result)
    tap.near([told["after"]["span_mm"] / told["before"]["span_mm"]], [4], 1e-9, "its span is four times as wide")
    small, big = call("turn", demo("moth"), "--steps", "8").text.splitlines(), call("turn", out, "--steps", "8").text.splitlines()
    column = [i for i, name in enumerate(small[0].split(",")) if name.endswith("angle_deg")]
    tap.ok(column and small[0] == big[0], "with the same parts")
    for a, b in zip(small[1:], big[1:]):
        tap.near([float(b.split(",")[i]) for i in column], [float(a.split(",")[i]) for i in column], 1e-7, "and the same angles")


def to_a_span(tap):
    told = json.loads(call("scale", demo("heron"), "--to-span", "1800", "--format", "json").text)
    tap.near([told["after"]["span_mm"]], [1800], 1e-6, "a span that was asked for is met")
    result = call_on({**EXAMPLE, "panels": [], "rods": []}, "scale", "--to-span", "1800")
    tap.ok(result.status == 2 and "wings" in result.err, "without wings there is no span", result)


def what_stops_first(tap):
    result = call("scale", demo("heron"), "--by", "4", "--sheet", "birch:6 mm")
    tap.ok(result.status == 1 and "What stops working first" in result.text and "over-run" in result.text.replace("runs ahead", "over-run"),
           "the big one's crank runs ahead, and from which size", result)
    limits = json.loads(call("scale", demo("heron"), "--by", "4", "--sheet", "birch:6 mm", "--format", "json").text)["limits"]
    factors = [l["from_factor"] for l in limits]
    tap.ok(factors == sorted(factors) and all(1 <= f <= 4 for f in factors), "in order of size", limits)


def scale_refuses(tap):
    for args, part in ((["--by", "0"], "--by"), (["--by", "-1"], "--by"), (["--by", "nan"], "--by"), ([], "--by"),
                       (["--by", "2", "--to-span", "9"], "--by"), (["--to-span", "x"], "--to-span"), (["--to-span", "0"], "--to-span"),
                       (["--by", "2", "--sheet", ":4"], "--sheet"), (["--by", "2", "--rods", "steel:x"], "--rods"),
                       (["--by", "2", "--format", "xml"], "--format"), (["--by", "1e6"], "scaled")):
        out = path("never.flap")
        result = call_on(EXAMPLE, "scale", *args, "-o", out)
        tap.ok(result.status == 2 and part in result.err and result.err.count("\n") == 1 and not os.path.exists(out),
               f"refused in one line, nothing written: {' '.join(args)}", result)


def built_is_found(tap):
    design = read_demo("heron")
    for rod in design["rods"]:
        if rod["name"] == "arm-rod":
            drawn = rod["length"]
            rod["length"] -= 3
    table = path("measured.csv")
    with open(table, "wb") as file:
        file.write(call_on(design, "turn", "--steps", "12").out)
    out = path("built.flap")
    result = call("fit", demo("heron"), "--measured", table, "-o", out, "--format", "json")
    told = json.loads(result.text)
    tap.ok(result.status == 0 and told["numbers"][0]["number"] == "rods.arm-rod.length", "the short rod is named", result)
    tap.near([told["numbers"][0]["built"]], [drawn - 3], 1e-5, "as long as it is")
    with open(out) as file:
        lengths = {r["name"]: r["length"] for r in json.load(file)["rods"]}
    tap.near([lengths["arm-rod"]], [drawn - 3], 1e-5, "and the design as built is written")
    result = call("fit", demo("heron"), "--measured", table, "--free", "rods.arm-rod.length", "--free", "crank.throws.arm.phase")
    tap.ok("drawn" in result.text and "less by 3.0 mm" in result.text, "the text says so in words", result)


def as_drawn(tap):
    table = path("same.csv")
    with open(table, "wb") as file:
        file.write(call("turn", demo("heron"), "--steps", "12").out)
    result = call("fit", demo("heron"), "--measured", table)
    tap.ok(result.status == 0 and "as drawn" in result.text, "what is built as drawn is said to be", result)


def fit_refuses(tap):
    bad = {"nan": "crank_deg,body.z_mm\n0,nan\n", "few": "crank_deg,body.z_mm\n0,400\n", "name": "crank_deg,no.angle_deg\n0,1\n",
           "empty": "", "text": "crank_deg,body.z_mm\n0,four\n"}
    out = path("none.flap")
    for name, text in bad.items():
        table = path(name + ".csv")
        with open(table, "w") as file:
            file.write(text)
        result = call("fit", demo("heron"), "--measured", table, "-o", out)
        tap.ok(result.status == 2 and result.err.count("\n") == 1 and not os.path.exists(out), f"a table is refused: {name}", result)
    for args, part in (([], "--measured"), (["--measured", path("nowhere.csv")], "nowhere"),
                       (["--measured", path("same.csv"), "--free", "nobody"], "--free"),
                       (["--measured", path("same.csv"), "--free", "body.post", "--free", "body.post"], "twice"),
                       (["--measured", path("same.csv"), "--free", "rods.arm-rod.mass"], "say nothing")):
        result = call("fit", demo("heron"), *args, "-o", out)
        tap.ok(result.status == 2 and part in result.err and result.err.count("\n") == 1 and not os.path.exists(out),
               f"refused in one line: {' '.join(args[1:3])} {part}", result)


sys.exit(Tap().run([scaled_design_moves_alike, to_a_span, what_stops_first, scale_refuses, built_is_found, as_drawn, fit_refuses]))
