"""check and loads: what bends, buckles and swings."""
import copy
import json
import sys

from program import CLEAN_DEMOS, EXAMPLE, call, call_on, demo, read_demo, set_key
from tap import Tap

OURS = ("may-buckle", "over-stress", "resonance")


def loads(design, *args):
    return json.loads(call_on(design, "loads", "--format", "json", *args).text)


def part(told, name):
    return next(p for p in told["strength"] if p["part"] == name)


def thin():
    """The heron on wires for rods, turned fast."""
    design = read_demo("heron")
    design["crank"]["turns_per_minute"] = 60
    for rod in design["rods"]:
        rod["diameter"] = 1
    return design


def check(design):
    result = call_on(design, "check", "--format", "json")
    return result.status, [t for t in json.loads(result.text) if t["kind"] in OURS]


def figures_are_told(tap):
    told = loads(read_demo("heron"))
    crank, rod = part(told, "crank"), part(told, "arm-rod.right")
    tap.near([crank["allowed_MPa"]], [103.5], 1e-9, "half of copper's yield of 207 MPa is allowed")
    tap.ok(0 < crank["stress_MPa"] < crank["allowed_MPa"] and crank["sag_mm"] > 0, "the crank is stressed and sags", crank)
    tap.ok(len(told["crank_pins"]) == 5 and all("wind_up_deg" in p for p in told["crank_pins"]), "every pin has its wind-up",
           told["crank_pins"])
    tap.near([b["at_mm"] for b in told["bearings"]], [-225, -60, 60, 225], 1e-9, "every bearing has its load")
    # brass rod 4 mm by 448 mm, E = 97 GPa: pi^2 E I / L^2 = 59.94 N, a third of it
    tap.near([rod["allowed_N"]], [59.94 / 3], 0.01, "a rod may be pushed with a third of Euler's load")
    row = next(x for x in told["loads"] if x["load"] == "arm-rod.right.force_N")
    tap.near([rod["push_N"]], [-row["least"]], 0.01 * abs(row["least"]) + 1e-3, "its push is that of the loads")
    text = call("loads", demo("heron")).text
    tap.ok("crank.stress_MPa" in text and "arm-rod.left.push_N" in text and "a third of Euler's load" in text,
           "the text has the same", text)


def speed_counts(tap):
    slow, fast = loads(read_demo("heron"), "--speed", "10"), loads(read_demo("heron"), "--speed", "90")
    tap.ok(part(fast, "body")["stress_MPa"] > 1.5 * part(slow, "body")["stress_MPa"], "a faster turn stresses more")
    tap.near([part(fast, "body")["natural_Hz"]], [part(slow, "body")["natural_Hz"]], 1e-6, "and springs at the same frequency")


def unknown_stuff_is_not_judged(tap):
    design = copy.deepcopy(EXAMPLE)
    for thing in (design["crank"], design["body"], *design["rods"], *design["panels"]):
        thing["material"] = "driftwood"
    told = loads(design)
    tap.ok(told["strength"] == [] and told["crank_pins"] == [] and told["bearings"] == [], "unknown stuff has no figures", told)
    tap.ok("Strength" not in call_on(design, "loads").text, "and the text is silent about it")


def trouble_is_found_and_mended(tap):
    status, found = check(thin())
    buckling = [t for t in found if t["kind"] == "may-buckle"]
    tap.ok(status == 1 and buckling, "wires that are pushed may buckle", found)
    tap.ok(all(t["unit"] == "N" and t["value"] > t["limit"] > 0 and t["to_deg"] > t["from_deg"] for t in buckling),
           "with their push and what they bear", buckling)
    worst = buckling[0]
    thicker = next((r for r in worst["remedies"] if r["key"].endswith(".diameter")), None)
    if tap.ok(thicker is not None, "a thicker rod is offered", worst):
        design = thin()
        set_key(design, thicker["key"], thicker["to"])
        left = [t for t in check(design)[1] if t["kind"] == "may-buckle" and t["part"] == worst["part"]]
        tap.ok(not left, "with it that rod holds", left)
    tap.ok("may-buckle: " in call_on(thin(), "check").text, "the text says so")


def clean_demos_hold(tap):
    for name in CLEAN_DEMOS:
        status, found = check(read_demo(name))
        tap.ok(not found, f"{name}: nothing bends, buckles or swings", found)


if __name__ == "__main__":
    sys.exit(Tap().run([figures_are_told, speed_counts, unknown_stuff_is_not_judged, trouble_is_found_and_mended,
                        clean_demos_hold]))
