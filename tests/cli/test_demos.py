"""The demos: all but one run free of trouble; the troubled one has the trouble that the tutorial mends."""
import copy
import json
import os
import sys

from program import CLEAN_DEMOS, DEMOS, SOURCE, call, call_on, demo, get_key, read_demo, set_key, table
from tap import Tap

# What the tutorial changes, one number after the other.
TUTORIAL = [("rods.tip-rod.to.at.0", 48, 57), ("rods.neck-tie.length", 524, 537),
            ("rods.tip-rod.to.at.0", 57, 67)]
FIELDS = ["kind", "part", "from_deg", "to_deg", "value", "limit", "unit", "message", "remedies"]


def trouble_of(design):
    result = call_on(design, "check", "--format", "json")
    return result.status, json.loads(result.text)


def demos_are_clean(tap):
    for name in CLEAN_DEMOS:
        text, data = call("check", demo(name)), call("check", demo(name), "--format", "json")
        tap.ok(text.status == 0 and text.text.count("\n") == 1, f"{name}: check finds nothing, not even a remark", text)
        tap.ok(data.status == 0 and json.loads(data.text) == [], f"{name}: its JSON list is empty", data)
        turn = call("turn", demo(name))
        tap.ok(turn.status == 0 and all(None not in row.values() for row in table(turn.text)),
               f"{name}: goes round with every cell filled", turn)


def demos_are_not_on_a_knife_edge(tap):
    """A rod cut half a millimetre in a hundred too long or too short must not stop the bird."""
    for name in CLEAN_DEMOS:
        failing = []
        for i in range(len(read_demo(name)["rods"])):
            for factor in (0.995, 1.005):
                design = read_demo(name)
                design["rods"][i]["length"] *= factor
                status, found = trouble_of(design)
                failing += [(design["rods"][i]["name"], factor, t["kind"]) for t in found
                            if t["severity"] != "remark"]
        tap.ok(failing == [], f"{name}: every rod may be half a percent off", failing)


def least_push_is_ample(tap):
    for name in CLEAN_DEMOS:
        rows = table(call("turn", demo(name), "--steps", "360").text)
        least = min(row[c] for row in rows for c in row if c.endswith(".push_deg"))
        tap.ok(least > 48, f"{name}: every rod pushes at more than 48 degrees all the way", least)


def heron_beats_like_a_bird(tap):
    rows = table(call("turn", demo("heron"), "--steps", "360").text)
    arm = [row["arm.right.angle_deg"] for row in rows]
    tip = [row["tip.right.angle_deg"] for row in rows]
    body = [row["body.z_mm"] for row in rows]
    tap.ok(max(arm) > 25 and min(arm) < -15 and max(arm) - min(arm) > 45, "heron: the arm sweeps 45 degrees or more",
           (min(arm), max(arm)))
    lag = (tip.index(max(tip)) - arm.index(max(arm))) % 360
    tap.ok(50 <= lag <= 110, "heron: the tip follows the arm by 50 to 110 degrees of the crank", lag)
    up = [i for i in range(360) if arm[i] < arm[(i + 1) % 360]]
    folded = sum(tip[i] for i in up) / len(up)
    spread = sum(tip[i] for i in range(360) if i not in up) / (360 - len(up))
    tap.ok(folded < spread - 15, "heron: the tip folds on the way up and spreads on the way down", (folded, spread))
    rising = sum(body[(i + 1) % 360] - body[i] for i in range(360) if i not in up)
    tap.ok(rising > 40, "heron: the body rises while the wings beat down", rising)


def moth_beats_both_sides(tap):
    rows = table(call("turn", demo("moth"), "--steps", "360").text)
    right = [row["fore.right.angle_deg"] for row in rows]
    left = [row["fore.left.angle_deg"] for row in rows]
    tap.ok(right != left and max(abs(right[i] - left[-i % 360]) for i in range(360)) < 0.02,
           "moth: with the crank along, the left wing does at -t what the right one does at t")


def troubled_has_its_trouble(tap):
    status, found = trouble_of(read_demo("troubled"))
    kinds = {t["kind"] for t in found}
    tap.ok(status == 1, "troubled: status 1")
    for kind in ("cannot-close", "past-stop", "weak-push", "may-flip"):
        tap.ok(kind in kinds, f"troubled: has {kind}", kinds)
    tap.ok(all(field in t for t in found for field in FIELDS), "every finding has every field", found[:1])
    order = {"failure": 0, "warning": 1, "remark": 2}
    ranks = [order[t["severity"]] for t in found]
    tap.ok(ranks == sorted(ranks), "the worst stands first", ranks)
    tap.ok(all(0 <= t["from_deg"] < 360 and t["from_deg"] < t["to_deg"] <= t["from_deg"] + 360 for t in found),
           "every stretch of the turn is written forwards")
    gap = next(t for t in found if t["kind"] == "cannot-close")
    rows = table(call("turn", demo("troubled"), "--steps", "7200").text)
    missing = [row["crank_deg"] for row in rows if row["tip.right.angle_deg"] is None]
    tap.near([gap["from_deg"], gap["to_deg"]], [missing[0] - 0.025, missing[-1] + 0.025], 0.0251,
             "troubled: the tip cannot be joined just where its cells are empty")
    lines = call("check", demo("troubled")).text.splitlines()
    tap.ok(any(line.startswith("cannot-close: tip-rod.right") for line in lines)
           and any(line.startswith("    mends it: ") for line in lines), "the text names kind, part and remedy", lines[:3])


def remedies_mend(tap):
    """Each remedy offered is tried here, through the file and back."""
    design = read_demo("troubled")
    found = trouble_of(design)[1]
    tried = failed = 0
    seen = set()
    for trouble in found:
        for remedy in trouble["remedies"][:2]:
            case = (trouble["kind"], trouble["part"].split(".")[0], remedy["key"], remedy["to"])
            if case in seen:
                continue
            seen.add(case)
            trial = copy.deepcopy(design)
            assert abs(get_key(trial, remedy["key"]) - remedy["from"]) < 1e-9
            set_key(trial, remedy["key"], remedy["to"])
            left = {(t["kind"], t["part"]) for t in trouble_of(trial)[1] if t["severity"] != "remark"}
            tried += 1
            failed += (trouble["kind"], trouble["part"]) in left and trouble["severity"] != "remark"
    tap.ok(tried >= 6 and failed == 0, f"troubled: all {tried} remedies tried take their trouble away", failed)


def tutorial_ends_clean(tap):
    design = read_demo("troubled")
    counts = [len(trouble_of(design)[1])]
    for key, before, after in TUTORIAL:
        tap.ok(get_key(design, key) == before, f"tutorial: {key} is {before} to begin with", get_key(design, key))
        set_key(design, key, after)
        counts.append(len(trouble_of(design)[1]))
    tap.ok(counts == sorted(counts, reverse=True) and counts[-1] == 0, "tutorial: every step leaves less, the last nothing",
           counts)


def first_remedies_end_clean(tap):
    design, steps = read_demo("troubled"), []
    for _ in range(6):
        found = trouble_of(design)[1]
        if not found:
            break
        remedy = next(t for t in found if t["remedies"])["remedies"][0]
        set_key(design, remedy["key"], remedy["to"])
        steps.append(remedy["message"])
    tap.ok(trouble_of(design) == (0, []), "troubled: taking the first remedy again and again ends clean", steps)


def demos_are_installed(tap):
    with open(os.path.join(SOURCE, "data", "meson.build"), encoding="utf-8") as file:
        listed = file.read()
    there = sorted(f for f in os.listdir(DEMOS) if f.endswith(".flap"))
    tap.ok(there == sorted(n + ".flap" for n in CLEAN_DEMOS + ["troubled"]), "every demo is tested", there)
    tap.ok(all(f"'demos/{f}'" in listed for f in there), "every demo is installed", listed)


if __name__ == "__main__":
    sys.exit(Tap().run([demos_are_clean, demos_are_not_on_a_knife_edge, least_push_is_ample, heron_beats_like_a_bird,
                        moth_beats_both_sides, troubled_has_its_trouble, remedies_mend, tutorial_ends_clean,
                        first_remedies_end_clean, demos_are_installed]))
