"""aim, helps and versions: wishes met, refused and said to be too many; nothing written when refused."""
import copy
import json
import os
import sys
import tempfile

from program import EXAMPLE, call, call_on, demo, is_one_line, table
from tap import Tap

FOLDER = tempfile.mkdtemp(prefix="flapwright-aim-")
OUT = os.path.join(FOLDER, "out.flap")


def fresh():
    if os.path.exists(OUT):
        os.remove(OUT)
    return OUT


def aim(*args, design=EXAMPLE):
    return call_on(design, "aim", *args, "-o", fresh())


def angles(path, panel="inner.right"):
    return [row[panel + ".angle_deg"] for row in table(call("turn", path, "--steps", "3600").text)]


def the_call_of_the_manual(tap):
    result = aim("--wish", "inner.top=30", "--wish", "inner.bottom=-25", "--free", "inrod.length", "--free", "in.radius=20..45")
    tap.ok(result.status == 0 and "met: top of inner" in result.text, "both wishes are met, and it is said", result)
    turn = angles(OUT)
    tap.near([max(turn), min(turn)], [30, -25], 0.01, "the written design does what was asked")
    with open(OUT, encoding="utf-8") as file:
        written = json.load(file)
    tap.ok(20 <= written["crank"]["throws"][1]["radius"] <= 45, "inside the limits", written["crank"])
    written["rods"][0]["length"] = EXAMPLE["rods"][0]["length"]
    written["crank"]["throws"][1]["radius"] = EXAMPLE["crank"]["throws"][1]["radius"]
    tap.ok(written == EXAMPLE, "and nothing else has changed")


def full_paths_work(tap):
    short = aim("-w", "inner.top=30", "-f", "inrod.at.0=100..180", "-f", "in.radius", "--format", "json")
    full = aim("-w", "inner.top=30", "-f", "rods.inrod.to.at.0=100..180", "-f", "crank.throws.in.radius", "--format", "json")
    tap.ok(short.status == 0 and short.text == full.text, "a number may be given by its short or its full name", full)
    again = aim("-w", "inner.top=30", "-f", "inrod.at.0=100..180", "-f", "in.radius", "--format", "json", "--seed", "1")
    tap.ok(again.text == short.text, "the same seed says the same")
    told = json.loads(short.text)
    answer = told["answers"][0]
    tap.ok(told["all_met"] and answer["goes_round"] and abs(answer["wishes"][0]["miss"]) < 0.05, "json tells what was got", told)
    tap.near([max(angles(OUT))], [answer["wishes"][0]["got"]], 0.01, "and it is true")


def what_cannot_be_had(tap):
    wishes = ["-w", "inner.top=70", "-w", "inner.bottom=-60", "-w", "in.radius=..30"]
    result = aim(*wishes, "-f", "inrod.length", "-f", "in.radius=20..45", "--format", "json")
    told = json.loads(result.text)
    tap.ok(result.status == 1 and os.path.exists(OUT), "the best is written all the same, and the status says 1", result)
    tap.ok(not told["all_met"] and told["conflict"] and "cannot be had" in told["message"], "what stands in the way is named", told)
    text = aim(*wishes, "-f", "inrod.length", "-f", "in.radius=20..45")
    tap.ok(text.status == 1 and "cannot be had" in text.text and "missed:" in text.text, "in text too", text)


def refused(tap):
    cases = [
        (["-w", "inner.top=30"], "free", "no free number"),
        (["-f", "inrod.length"], "wish", "no wish"),
        (["-w", "inner.top=nan", "-f", "inrod.length"], "finite", "a wish that is no number"),
        (["-w", "inner.top=30", "-f", "inrod.length=nan..400"], "finite", "a limit that is no number"),
        (["-w", "inner.top=30", "-w", "inner.bottom=40", "-f", "inrod.length"], "contradict", "a bottom above the top"),
        (["-w", "inner.top=30", "-w", "inner.top=31", "-f", "inrod.length"], "contradict", "two tops"),
        (["-w", "push=91", "-f", "inrod.length"], "90", "a push angle that there is not"),
        (["-w", "nobody.top=30", "-f", "inrod.length"], "nobody.top", "an unknown panel"),
        (["-w", "inner.top=30", "-f", "inrod.size"], "inrod.size", "an unknown number"),
        (["-w", "inner.top=30", "-f", "inrod.length=400..300"], "limit", "limits the wrong way round"),
        (["-w", "inner.top=30", "-f", "inrod.length=-9..3"], "limits", "limits outside what a rod can be"),
        (["-w", "in.radius=50", "-f", "inrod.length"], "not free", "a wish for a number that is not free"),
        (["-w", "inner.top=30", "-f", "inrod.length", "--seed", "-1"], "--seed", "a negative seed"),
        (["-w", "inner.top=30", "-f", "inrod.length", "--time", "nan"], "--time", "a time that is no number"),
        (["-w", "inner.top=30", "-f", "inrod.length", "--format", "xml"], "--format", "another format"),
    ]
    for args, word, what in cases:
        result = aim(*args)
        tap.ok(result.status == 2 and not result.out and is_one_line(result.err) and word in result.err and not os.path.exists(OUT),
               f"refused in one line, nothing written: {what}", result)
    twin = copy.deepcopy(EXAMPLE)
    twin["rods"][0]["name"] = "inner"
    result = aim("-w", "inner.top=30", "-f", "inner.mass", design=twin)
    tap.ok(result.status == 2 and "panels.inner.mass" in result.err and "rods.inner.mass" in result.err,
           "an ambiguous name is refused with both that it may be", result)
    result = call_on(EXAMPLE, "aim", "-w", "inner.top=30", "-f", "inrod.length")
    tap.ok(result.status == 2 and "-o" in result.err, "without a place to write to it is refused", result)
    result = call_on(EXAMPLE, "aim", "-w", "inner.top=30", "-f", "inrod.length", "-o", os.path.join(FOLDER, "no", "such.flap"))
    tap.ok(result.status == 2 and is_one_line(result.err) and not result.out, "a place that is not there is refused", result)


def wishes_of_the_file(tap):
    design = copy.deepcopy(EXAMPLE)
    design["wishes"] = {"list": [{"wish": "top", "part": "inner", "value": 33}], "free": [{"number": "rods.inrod.length"}]}
    result = aim(design=design)
    tap.ok(result.status == 0, "without wishes on the line those of the file count", result)
    tap.near([max(angles(OUT))], [33], 0.01, "and are met")
    design["wishes"]["list"][0]["part"] = "gone"
    result = aim(design=design)
    tap.ok(result.status == 2 and "gone" in result.err, "a wish for a part that is gone is refused when it is used", result)


def helps_are_true(tap):
    told = json.loads(call_on(EXAMPLE, "helps", "--of", "inner.top", "--format", "json").text)
    first = told["helps"][0]
    tap.near([told["value"]], [max(angles_of(EXAMPLE))], 0.01, "the value now is what turn gives")
    for help in told["helps"]:
        if help["key"] == "rods.inrod.length":
            moved = copy.deepcopy(EXAMPLE)
            moved["rods"][0]["length"] += 0.1
            step = (max(angles_of(moved)) - max(angles_of(EXAMPLE))) / 0.1
            tap.near([help["effect"]], [step], 5e-3, "the effect of the rod's length is what trying shows")
            tap.ok(help["exact"] and help["from"] < 412 < help["to"], "it is exact, and told how far it goes", help)
    tap.ok(abs(first["effect"]) >= max(abs(h["effect"]) for h in told["helps"] if h["unit"] == "mm") - 1e-9 or first["unit"] == "deg",
           "the strongest comes first", first)
    text = call("helps", demo("heron"), "--of", "tip.angle@90")
    tap.ok(text.status == 0 and "Phase of tip" in text.text, "a pose by its crank angle", text)
    trouble = call("helps", demo("troubled"), "--trouble", "1")
    tap.ok(trouble.status == 0 and "Length of tip-rod: more helps" in trouble.text, "a trouble by its place in the list", trouble)
    for args in (["--of", "nobody.top"], ["--of", "tip@x"], [], ["--trouble", "99"], ["--of", "arm.top", "--trouble", "1"]):
        result = call("helps", demo("troubled"), *args)
        tap.ok(result.status == 2 and is_one_line(result.err) and not result.out, f"refused: helps {' '.join(args)}", result)


def trouble_of_every_kind_has_checks_number(tap):
    """A crank that cannot be made so, and a panel that slams: told by check, so helps knows them by the same number."""
    elbows = json.load(open(demo("owl"), encoding="utf-8"))
    elbows["crank"]["build"] = {"make": "elbows", "pipe": 8, "take_off": 8, "cup": 8, "returns": True, "clamp": 5, "bearing": 4}
    for name, design, kind in (("elbows", elbows, "throw-too-short"), ("a tail", tailed(), "slams")):
        listed = json.loads(call_on(design, "check", "--format", "json").text)
        tap.ok(kind in [t["kind"] for t in listed], f"{name}: {kind} is listed by check", listed)
        for i, trouble in enumerate(listed):
            told = json.loads(call_on(design, "helps", "--trouble", str(i + 1), "--format", "json").text or "{}")
            tap.ok(told.get("trouble") == trouble["message"] and told["helps"], f"{name}: number {i + 1} is the {trouble['kind']} of check", told)
            if trouble["kind"] == "throw-too-short":  # what there is of a throw is its radius
                key = f"crank.throws.{trouble['part']}.radius"
                tap.near([h["effect"] for h in told["helps"] if h["key"] == key], [1], 1e-6, f"{name}: a millimetre more is one more")
            if trouble["kind"] == "slams":  # the energy of a blow has no closed form: tried by hand
                effect = next(h["effect"] for h in told["helps"] if h["key"] == "crank.turns_per_minute")
                tap.near([effect], [slam(tailed(171)) - slam(tailed(170))], abs(effect) / 4, f"{name}: what speed does is what trying shows")
        result = call_on(design, "helps", "--trouble", str(len(listed) + 1))
        tap.ok(result.status == 2 and is_one_line(result.err), f"{name}: there are no more", result)


def tailed(speed=170):
    design = copy.deepcopy(EXAMPLE)
    design["crank"]["turns_per_minute"] = speed
    design["panels"].append({"name": "tail", "side": "middle", "on": "body", "reach": "back", "hinge": [0, -120, 0], "span": 220,
                             "mass": 60, "centre": [110, 0, 0], "inertia": [20000, 240000, 260000, 0], "stops": [-40, 25]})
    design["drive"] = {"friction": 0.25, "pin_radius": 2, "restitution": 0.3}
    return design


def slam(design):
    return next(t["value"] for t in json.loads(call_on(design, "check", "--format", "json").text) if t["kind"] == "slams")


def angles_of(design):
    rows = table(call_on(design, "turn", "--steps", "3600").text)
    return [row["inner.right.angle_deg"] for row in rows]


def versions_round_trip(tap):
    kept = os.path.join(FOLDER, "kept.flap")
    changed = os.path.join(FOLDER, "changed.flap")
    back = os.path.join(FOLDER, "back.flap")
    tap.ok(call_on(EXAMPLE, "versions", "--keep", "first one", "-o", kept).status == 0, "a version is kept")
    tap.ok(call("versions", kept).text == "first one\n", "and listed")
    call("aim", kept, "-w", "inner.top=36", "-f", "inrod.length", "-o", changed)
    told = call("versions", changed, "--compare", "first one")
    tap.ok(told.status == 0 and "inrod" in told.text and "412" in told.text, "what differs is told in words", told)
    tap.ok(call("versions", changed, "--bring-back", "first one", "-o", back).status == 0, "it is brought back")
    with open(back, encoding="utf-8") as file:
        design = json.load(file)
    tap.ok(design["rods"][0]["length"] == 412 and design["versions"][0]["name"] == "first one", "as it was, and still kept")
    tap.ok(json.loads(call("versions", back, "--format", "json").text) == ["first one"], "json lists the names")
    for args in (["--bring-back", "none", "-o", back], ["--keep", "first one", "-o", back], ["--keep", "x"], ["--compare", "none"],
                 ["--keep", "x", "--remove", "first one", "-o", back]):
        result = call("versions", kept, *args)
        tap.ok(result.status == 2 and is_one_line(result.err), f"refused: versions {' '.join(args[:2])}", result)


def inches_are_told(tap):
    told = json.loads(call_on(EXAMPLE, "helps", "--of", "body.z.top", "--format", "json").text)
    text = call_on(EXAMPLE, "helps", "--of", "body.z.top", "--lengths", "inch").text
    tap.near([float(text.split(" is ")[1].split(" in.")[0]) * 25.4], [told["value"]], 0.02, "helps in inches: the value is that of the JSON")
    tap.ok(" mm" not in text, "and no millimetre is spoken of", text)
    path = fresh()
    answer = call_on(EXAMPLE, "aim", "-w", "inner.top=36", "-f", "inrod.length", "-o", path, "--answers", "1", "--lengths", "inch").text
    tap.ok(", was 16 7/32 in" in answer and " mm" not in answer, "aim in inches: the rod of 412 mm was 16 7/32 in", answer)
    design = copy.deepcopy(EXAMPLE)
    call_on(design, "versions", "--keep", "old", "-o", path)
    with open(path, encoding="utf-8") as file:
        design = json.load(file)
    design["rods"][0]["length"] = 508
    told = call_on(design, "versions", "--compare", "old", "--lengths", "inch").text
    tap.ok("16 7/32 in" in told and "20 in" in told and " mm" not in told, "versions in inches: what changed", told)
    for verb, args in (("helps", ["--of", "inner.top"]), ("aim", ["-w", "inner.top=36", "-f", "inrod.length", "-o", fresh()]), ("versions", [])):
        result = call_on(EXAMPLE, verb, *args, "--lengths", "ell")
        tap.ok(result.status == 2 and is_one_line(result.err) and not result.out, f"{verb}: another unit is refused", result)


def time_is_kept(tap):
    import time
    start = time.monotonic()
    result = call("aim", demo("heron"), "-w", "arm.top=80", "-w", "arm.bottom=-70", "-w", "push=80", "-f", "arm-rod.length",
                  "-f", "arm.radius", "-f", "arm-rod.at.0", "-f", "arm-rod.at.2", "--runs", "100000", "--time", "1", "-o", fresh())
    took = time.monotonic() - start
    tap.ok(result.status == 1 and took < 6 and os.path.exists(OUT), f"a search of a second ends soon ({took:.1f} s) with its best", result)


if __name__ == "__main__":
    status = Tap().run([the_call_of_the_manual, full_paths_work, what_cannot_be_had, refused, wishes_of_the_file, helps_are_true,
                        trouble_of_every_kind_has_checks_number,                        versions_round_trip, inches_are_told, time_is_kept])
    import shutil
    shutil.rmtree(FOLDER)
    sys.exit(status)
