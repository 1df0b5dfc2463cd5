"""cut: what is cut and laid into the stock; check: cranks that cannot be made."""
import csv
import io
import json
import math
import sys

from program import CLEAN_DEMOS, EXAMPLE, call, call_on, demo, get_key, is_one_line, named, read_demo, set_key
from tap import Tap


def with_build(build, name="heron"):
    design = read_demo(name)
    design["crank"]["build"] = build
    return design


def cut(design, *args):
    result = call_on(design, "cut", "--format", "json", *args)
    return result, json.loads(result.text)


def piece(listed, part):
    return next(p for p in listed["pieces"] if p["part"] == part)


def found(design):
    result = call_on(design, "check", "--format", "json")
    return result.status, json.loads(result.text)


def demos_can_be_cut(tap):
    for name in CLEAN_DEMOS:
        result = call("cut", demo(name), "--format", "json")
        listed = json.loads(result.text)
        tap.ok(result.status == 0 and result.err == "" and listed["problems"] == [], f"{name}: all of it can be cut", result)
        letters = [p["letter"] for p in listed["pieces"]]
        tap.ok(len(set(letters)) == len(letters), f"{name}: every piece has a letter of its own", letters)
        tap.ok(all({"part", "what", "stock", "length_mm", "count"} <= set(p) for p in listed["pieces"])
               and all({"what", "size", "count"} <= set(f) for f in listed["fittings"]), f"{name}: pieces and fittings state what they must")
    tap.ok(listed["bars"] == [] and any("no bars" in n for n in listed["notes"]), "without stock nothing is laid out, and a note says so")


def heron_by_hand(tap):
    """The web between arm and tip: law of cosines on their throws and phases."""
    design = read_demo("heron")
    listed = json.loads(call("cut", demo("heron"), "--format", "json").text)
    arm, tip = named(design["crank"]["throws"], "arm"), named(design["crank"]["throws"], "tip")
    between = math.radians(tip["phase"] - arm["phase"])
    centres = math.sqrt(arm["radius"] ** 2 + tip["radius"] ** 2 - 2 * arm["radius"] * tip["radius"] * math.cos(between))
    web = piece(listed, "Web from arm to tip")
    tap.near([web["centres_mm"], web["length_mm"]], [centres, centres + 18], 1e-6, "a web from pin to pin spans their distance and two round ends")
    rod = piece(listed, "Rod arm-rod")
    tap.near([rod["length_mm"], rod["centres_mm"]], [448 + 16, 448], 1e-6, "a rod is cut longer by its two ends")
    tap.near([rod["mass_g"]], [8490e-6 * math.pi * 4 * 464], 1e-6, "and weighs what brass of its size does")
    for bar in listed["bars"]:
        whole = sum(p["length_mm"] for p in bar["pieces"]) + len(bar["pieces"]) + bar["left_mm"]
        tap.near([whole], [bar["length_mm"]], 1e-5, f"pieces, cuts and rest make up a bar of {bar['stock']}")
    laid = [p["letter"] for lay in listed["bars"] + listed["sheets"] for p in lay["pieces"]]
    made = [p["letter"] for p in listed["pieces"] for _ in range(p["count"])]
    tap.ok(sorted(laid) == sorted(made), "every piece is laid exactly as often as it is made")
    tap.ok(any("448" in s and "arm-rod" in s for s in listed["settings"]) and any("160" in s and "tip" in s for s in listed["settings"]),
           "settings name rod lengths and phases", listed["settings"])
    tap.ok(len(listed["assembly"]) > 10, "there is an order of assembly")


def formats(tap):
    rows = list(csv.reader(io.StringIO(call("cut", demo("heron"), "--format", "csv").text)))
    tap.ok(rows[0] == ["letter", "part", "what", "stock", "length_mm", "width_mm", "count", "mass_g"]
           and all(len(r) == len(rows[0]) for r in rows), "the table has its columns in every row", rows[0])
    text = call("cut", demo("heron")).text
    tap.ok("Order of assembly" in text and "Laid into the stock" in text and "448.0 mm" in text, "the text has parts, layouts and order", text)
    inch = call("cut", demo("heron"), "--lengths", "inch").text
    tap.ok("17 41/64 in" in inch and " mm" not in inch, "in inches: 448 mm is 17 41/64", inch)
    german = call("cut", demo("heron"), "--format", "json", locale="de_DE.UTF-8")
    tap.ok(json.loads(german.text)["mass_g"] > 0, "numbers have a point in any locale")


def refusals(tap):
    for args in (["--format", "xml"], ["--lengths", "ell"], ["--nothing"]):
        result = call("cut", demo("heron"), *args)
        tap.ok(result.status == 2 and is_one_line(result.err) and result.out == b"", f"{' '.join(args)} is refused", result)
    result = call("cut", "/nowhere.flap")
    tap.ok(result.status == 2 and is_one_line(result.err), "a file that is not there is refused", result)
    result = call_on(with_build({"make": "glued"}), "cut")
    tap.ok(result.status == 2 and "crank.build.make" in result.err, "a make that is not known is refused by its key", result)


def what_does_not_fit(tap):
    design = read_demo("heron")
    design["stock"]["sheets"][0].update(width=200, height=150)
    result, listed = cut(design)
    tap.ok(result.status == 1 and "larger than any sheet" in result.err and len(listed["bars"]) > 5,
           "a panel larger than its sheet is said, and bars are laid all the same", result)
    design = read_demo("heron")
    design["stock"]["bars"] = [b for b in design["stock"]["bars"] if b["name"] != "rod 3"]
    result, listed = cut(design)
    tap.ok(result.status == 1 and "There is no stock for Rod neck-tie" in result.err, "stock that is missing is said", result)
    design = read_demo("heron")
    named(design["stock"]["bars"], "rod 4")["count"] = 1
    result, listed = cut(design)
    tap.ok(result.status == 1 and "not enough rod 4" in result.err, "stock that does not suffice is said", result)
    result, listed = cut(with_build({"make": "elbows", "pipe": "1/2 in M"}))
    tap.ok(result.status == 1 and "Throw arm is 18 mm" in result.err and piece(listed, "Web of tip"), "a throw too short for its elbows is said", result)


def a_throw_too_short(tap):
    design = read_demo("owl")
    design["crank"]["build"] = {"make": "elbows", "pipe": 8, "take_off": 8, "cup": 8, "returns": True, "clamp": 5, "bearing": 4}
    status, list_ = found(design)
    short = [t for t in list_ if t["kind"] == "throw-too-short"]
    tap.ok(status == 1 and {t["part"] for t in short} == {"nod", "wing"}, "throws below 32 mm are told", list_)
    tap.near([t["limit"] for t in short], [32] * len(short), 1e-6, "with the shortest that can be made")
    wing, nod = (next(t for t in short if t["part"] == part) for part in ("wing", "nod"))
    tap.ok("bolted" in wing["makes"] and "bolted" not in nod["makes"], "bolted webs would allow the wing's, but nut and pipe not the nod's 8 mm", short)
    tap.ok(nod["nearest"]["radius_mm"] == 32 and "32 mm" in nod["nearest"]["message"], "the nearest that can be made is told", nod)
    tap.ok(any(t["kind"] == "throws-collide" for t in list_), "elbows of wing and tip have no room beside each other", list_)
    text = call_on(design, "check").text
    tap.ok("throw-too-short:" in text and "Bolted from flat webs" in text, "the text says what would", text)


def a_remedy_mends(tap):
    design = read_demo("heron")
    design["crank"]["build"].update(returns=True, web_width=18)
    named(design["crank"]["throws"], "body")["radius"] = 10.5
    status, list_ = found(design)
    short = [t for t in list_ if t["kind"] == "throw-too-short"]
    tap.ok(len(short) == 1 and short[0]["part"] == "body", "one throw is too short for nut and pipe", list_)
    for remedy in short[0]["remedies"]:
        mended = json.loads(json.dumps(design))
        tap.near([get_key(mended, remedy["key"])], [remedy["from"]], 1e-9, "a remedy starts from what the file says")
        set_key(mended, remedy["key"], remedy["to"])
        _, after = found(mended)
        tap.ok(not any(t["kind"] == "throw-too-short" for t in after), f"{remedy['message']} mends it", after)
        tap.ok("instead of" in remedy.get("motion", ""), "and says what the motion then is", remedy)
    tap.ok(short[0]["remedies"], "there is such a remedy", short)


def no_way_in(tap):
    build = {"make": "bent", "pipe": 6, "bend_radius": 6, "leg": 2, "clamp": 6, "bearings": "open"}
    design = read_demo("owl")
    design["crank"]["build"] = dict(build, bend_radius=3.5, leg=0.5)
    status, list_ = found(design)
    stuck = [t for t in list_ if t["kind"] == "no-way-in"]
    tap.ok(status == 1 and {t["part"] for t in stuck} >= {"wing-rod.right", "tip-rod.left", "nod-rod"}, "closed eyes do not get on a bent crank", list_)
    tap.ok(all({"elbows", "bolted"} & set(t["makes"]) for t in stuck), "they do on one of pieces", stuck)
    design["crank"]["build"]["eyes"] = "open"
    _, list_ = found(design)
    tap.ok(not any(t["kind"] == "no-way-in" for t in list_), "open ones do", list_)


def not_judged_unless_said(tap):
    status, list_ = found(EXAMPLE)
    kinds = {t["kind"] for t in list_}
    tap.ok(not kinds & {"throw-too-short", "throws-collide", "no-way-in"}, "a design that does not say how its crank is made is not judged", kinds)
    result = call_on(EXAMPLE, "cut")
    tap.ok(result.status == 0 and "taken as bolted" in result.text, "but a cut list is made, with what was assumed", result)


sys.exit(Tap().run([demos_can_be_cut, heron_by_hand, formats, refusals, what_does_not_fit, a_throw_too_short, a_remedy_mends,
                    no_way_in, not_judged_unless_said]))
