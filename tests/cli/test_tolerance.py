"""`flapwright-cli tolerance`: odds, bands and causes, the same for the same seed whoever computes them."""
import copy
import json
import sys

from program import EXAMPLE, call, call_on, demo
from tap import Tap


def tight():
    """The example with a rod so short that it just goes round: some pieces will not."""
    design = copy.deepcopy(EXAMPLE)
    design["crank"]["throws"][0]["radius"] = 40
    design["body"] = {"ride": "rail", "throw": "mid", "rod": 40.5, "offset": 0}
    design["panels"], design["rods"] = [], []
    return design


def read(result):
    return json.loads(result.text)


def odds_are_told(tap):
    result = call_on(tight(), "tolerance", "--runs", "4000", "--format", "json")
    told = read(result)
    tap.ok(result.status == 1 and 0.3 < told["goes_round"] < 0.9, "a rod that just reaches fails now and then", result)
    low, high = told["goes_round_95"]
    tap.ok(low < told["goes_round"] < high, "the odds stand in their interval", told["goes_round_95"])
    tap.near([told["trouble"]["cannot-close"]], [1 - told["goes_round"]], 1e-12, "and the rest cannot close")
    decides = {c["number"]: c["decides_going_round"] for c in told["causes"]}
    tap.ok(min(decides["body.rod"], decides["crank.throws.mid.radius"]) > 0.1 > decides["crank.throws.mid.phase"],
           "rod and throw decide it, the phase does not", decides)


def seeds(tap):
    one = call("tolerance", demo("heron"), "--runs", "800", "--seed", "9", "--threads", "1", "--format", "json")
    two = call("tolerance", demo("heron"), "--runs", "800", "--seed", "9", "--threads", "5", "--format", "json")
    other = call("tolerance", demo("heron"), "--runs", "800", "--seed", "10", "--format", "json")
    tap.ok(one.status == 0 and one.out == two.out, "the number of threads changes nothing")
    tap.ok(one.out != other.out, "another seed draws other pieces")


def bands_hold_the_drawing(tap):
    told = read(call("tolerance", demo("heron"), "--runs", "2000", "--format", "json"))
    rows = list(csv_rows(call("turn", demo("heron"), "--steps", "72").text))
    for q in told["quantities"]:
        if q["quantity"].endswith("push_deg"):
            continue  # near 90 degrees every piece falls short of the drawing
        inside = [l <= float(r[q["quantity"]]) <= h for l, h, r in zip(q["low"], q["high"], rows)]
        tap.ok(all(inside), f"{q['quantity']} as drawn lies within the band of what is made", inside)


def csv_rows(text):
    lines = text.splitlines()
    keys = lines[0].split(",")
    for line in lines[1:]:
        yield dict(zip(keys, line.split(",")))


def spread_from_file_and_call(tap):
    design = copy.deepcopy(EXAMPLE)
    design["spread"] = {"rods.inrod.length": 4, "crank.throws.in.phase": 0}
    told = read(call_on(design, "tolerance", "--runs", "300", "--format", "json"))
    spreads = {c["number"]: c["spread"] for c in told["causes"]}
    tap.ok(spreads["rods.inrod.length"] == 4 and "crank.throws.in.phase" not in spreads, "the file states spreads", spreads)
    told = read(call_on(design, "tolerance", "--runs", "300", "--format", "json", "--spread", "rods.inrod.length=1/8 in"))
    spreads = {c["number"]: c["spread"] for c in told["causes"]}
    tap.near([spreads["rods.inrod.length"]], [3.175], 1e-12, "and the call has the last word, in inches too")


def refused(tap):
    for args, part in ((["--runs", "0"], "--runs"), (["--threads", "-1"], "--threads"), (["--seed", "-1"], "--seed"),
                       (["--format", "xml"], "--format"), (["--spread", "rods.inrod.length"], "--spread"),
                       (["--spread", "rods.inrod.length=-1"], "--spread"), (["--spread", "rods.inrod.length=nan"], "--spread"),
                       (["--spread", "nobody=1"], "--spread")):
        result = call_on(EXAMPLE, "tolerance", *args)
        tap.ok(result.status == 2 and part in result.err and result.err.count("\n") == 1 and not result.out,
               f"refused in one line: {' '.join(args)}", result)


def text(tap):
    result = call("tolerance", demo("moth"), "--runs", "500", "--lengths", "inch")
    tap.ok("Goes round" in result.text and "What matters most" in result.text and " in" in result.text,
           "the text says odds and causes, in inches if asked", result)


sys.exit(Tap().run([odds_are_told, seeds, bands_hold_the_drawing, spread_from_file_and_call, refused, text]))
