"""loads and check: panels without a rod, as they really move."""
import copy
import json
import math
import sys

from program import CLEAN_DEMOS, EXAMPLE, call, call_on, demo, get_key, set_key
from tap import Tap


def tailed(stops=(-40, 25), friction=0.25, restitution=0.3, speed=40):
    design = copy.deepcopy(EXAMPLE)
    design["crank"]["turns_per_minute"] = speed
    tail = {"name": "tail", "side": "middle", "on": "body", "reach": "back", "hinge": [0, -120, 0], "span": 220,
            "mass": 60, "centre": [110, 0, 0], "inertia": [20000, 240000, 260000, 0]}
    if stops:
        tail["stops"] = list(stops)
    design["panels"].append(tail)
    design["drive"] = {"friction": friction, "pin_radius": 2, "restitution": restitution}
    return design


def swing(design, *args):
    told = json.loads(call_on(design, "loads", "--format", "json", *args).text)
    return next(s for s in told["swing"] if s["part"] == "tail")


def lies_when_slow(tap):
    told = swing(tailed(), "--speed", "20")
    tap.ok(told["fate"] == "repeats" and told["lies_on"] == "lower" and told["blows"] == [], "a slow turn leaves it on its stop", told)
    tap.near([told["least_deg"], told["greatest_deg"]], [-40, -40], 1e-9, "which is where it stands")
    still = swing(tailed(stops=None), "--speed", "0")
    tap.ok(still["fate"] == "still" and still["from_rest_deg"] == 0, "a crank that stands leaves it at rest", still)


def thrown_when_fast(tap):
    told = swing(tailed(), "--speed", "170")
    tap.ok(told["lies_on"] is None and told["greatest_deg"] > -39 and told["blows"], "a fast one throws it up", told)
    tap.ok(told["least_deg"] >= -40 - 1e-6 and told["greatest_deg"] <= 25 + 1e-6, "it stays between its stops", told)
    # About its hinge the tail has 240000 + 60 * 110^2 g mm^2.
    inertia = (240000 + 60 * 110 ** 2) * 1e-9
    for blow in told["blows"]:
        rate = blow["speed_mps"] / 0.220
        tap.near([blow["energy_J"]], [inertia * rate ** 2 / 2], 1e-9, "energy is half the inertia times the rate squared")
        tap.near([blow["impulse_Ns"]], [1.3 * inertia * rate / 0.220], 1e-9, "impulse is the turned momentum over the arm")


def slams_are_listed(tap):
    design = tailed(speed=170)
    result = call_on(design, "check", "--format", "json")
    slams = [t for t in json.loads(result.text) if t["kind"] == "slams"]
    hardest = max(swing(design)["blows"], key=lambda b: b["energy_J"])
    tap.ok(result.status == 1 and slams, "check lists it", slams)
    worst = max(slams, key=lambda t: t["value"])
    value = hardest["energy_J"] if worst["unit"] == "J" else hardest["speed_mps"]
    tap.near([worst["value"], worst["worst_deg"]], [value, hardest["crank_deg"]], 1e-6, "with the hardest blow")
    tap.ok(worst["value"] > worst["limit"] > 0 and worst["part"] == "tail", "beyond its mark, and the part named", worst)
    tap.ok("slams: tail" in call_on(design, "check").text, "the text says so")


def a_table_of_the_turn_swings(tap):
    def column(design, name, *args):
        rows = json.loads(call_on(design, "turn", "--steps", "360", "--format", "json", *args).text)
        return [row[name] for row in rows]

    design = tailed(speed=170)
    told, real, rest = swing(design), column(design, "tail.angle_deg", "--swing"), column(design, "tail.angle_deg")
    if told["turns"] == 1 or told.get("period", 1) == 1:
        tap.near([min(real), max(real)], [told["least_deg"], told["greatest_deg"]], 0.5, "as far as loads says it swings")
    tap.near([min(rest), max(rest)], [-40, -40], 1e-9, "without --swing it lies at rest")
    tap.ok(max(real) > -39, "with it, it is thrown up")
    # What does not hang moves as ever.
    tap.near(column(design, "inner.right.angle_deg", "--swing"), column(design, "inner.right.angle_deg"), 1e-9,
             "what has a rod is where it was")
    tap.ok(call_on(EXAMPLE, "turn", "--swing").text == call_on(EXAMPLE, "turn").text, "where nothing hangs nothing differs")


def what_mends_a_slam_does(tap):
    design = tailed(speed=140)

    def slams(of):
        return [t for t in json.loads(call_on(of, "check", "--format", "json").text) if t["kind"] == "slams"]

    remedies = slams(design)[0]["remedies"]
    tap.ok(len({r["key"] for r in remedies}) >= 2, "more than one number is offered", remedies)
    for remedy in remedies:
        mended = copy.deepcopy(design)
        tap.near([get_key(mended, remedy["key"])], [remedy["from"]], 1e-9, f"{remedy['key']} starts from what the file says")
        set_key(mended, remedy["key"], remedy["to"])
        tap.ok(slams(mended) == [], f"{remedy['message']} ends it")
    tap.ok("panels.tail.stops.1" in {r["key"] for r in remedies}, "the stop that holds it where it rests is one", remedies)


def unsettled_is_said(tap):
    told = swing(tailed(stops=None, friction=0))
    tap.ok(told["fate"] == "does-not-settle" and told["spread_deg"] > 0.1 and told["turns"] == 64, "no loss, no end", told)
    damped = swing(tailed(stops=None, friction=1))
    tap.ok(damped["fate"] == "repeats" and damped["spread_deg"] == 0, "with friction it settles", damped)
    text = call_on(tailed(stops=None, friction=0), "loads").text
    tap.ok("does not settle within 64 turns" in text, "the text says so", text)


def table_has_rows(tap):
    design = tailed(speed=170)
    rows = [line.split(",") for line in call_on(design, "loads", "--format", "csv").text.splitlines()]
    row = {r[0]: r for r in rows}
    told = swing(design)
    tap.ok(all(len(r) == 5 for r in rows), "every row has five cells")
    tap.near([float(row["tail.swing_deg"][1]), float(row["tail.swing_deg"][3])], [told["least_deg"], told["greatest_deg"]], 1e-6,
             "the range of the swing")
    tap.near([float(row["tail.blow_J"][3])], [max(b["energy_J"] for b in told["blows"])], 1e-9, "the hardest blow")


def open_carrier_is_said(tap):
    design = tailed()
    design["panels"][-1]["on"] = "inner"
    design["panels"][-1]["side"] = "both"
    del design["panels"][-1]["reach"]
    design["rods"][0]["length"] = 330
    told = json.loads(call_on(design, "loads", "--format", "json").text)["swing"]
    tap.ok([s["fate"] for s in told] == ["open", "open"] and all(s["least_deg"] is None for s in told),
           "what hangs on what cannot be assembled has no motion", told)


def demos(tap):
    for name in CLEAN_DEMOS:
        told = json.loads(call("loads", demo(name), "--format", "json").text)["swing"]
        tap.ok(all(s["fate"] == "repeats" and math.isfinite(s["least_deg"]) for s in told), f"{name}: what hangs repeats", told)
        silent = "Panels without a rod" not in call("loads", demo(name)).text
        tap.ok(silent == (told == []), f"{name}: the text speaks of what hangs, and only then")


if __name__ == "__main__":
    sys.exit(Tap().run([lies_when_slow, thrown_when_fast, slams_are_listed, what_mends_a_slam_does, a_table_of_the_turn_swings, unsettled_is_said, table_has_rows,
                        open_carrier_is_said, demos]))
