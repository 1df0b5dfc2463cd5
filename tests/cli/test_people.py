"""check and loads: knocking joints, hand, motor, stand and fingers."""
import copy
import json
import re
import sys

from program import CLEAN_DEMOS, EXAMPLE, call, call_on, demo
from tap import Tap


def knocking():
    design = copy.deepcopy(EXAMPLE)
    design["body"]["play"] = 1.2
    design["base"] = {"plate": [420, 300, 18], "top": -70, "handle": 60, "mass": 4000}
    return design


def found(design, *args):
    result = call_on(design, "check", "--format", "json", *args)
    return result.status, json.loads(result.text)


def knocks_are_told(tap):
    status, list_ = found(knocking())
    knocks = [t for t in list_ if t["kind"] == "load-reversal"]
    tap.ok(status == 1 and knocks, "a post with wide play is said to knock", list_)
    tap.ok(all(t["part"] == "body" and t["value"] > t["limit"] and t["unit"] in ("m/s", "J") for t in knocks),
           "with the part, and a value above its mark", knocks)
    text = call_on(knocking(), "check").text
    tap.ok("knocks across its play" in text, "the text says so", text)
    tap.ok(all("spring" in t and t["spring"]["force_N"] > 0 for t in knocks), "a spring that would hold it is named", knocks)
    told = json.loads(call_on(knocking(), "loads", "--format", "json").text)
    tap.ok(len(told["bounces"]) >= len(knocks), "loads lists every bounce, loud or not", told["bounces"])
    loud = [b["knock_deg"] for b in told["bounces"] if b["speed_mps"] > 0.02 or b["energy_J"] > 1e-3]
    tap.near(sorted(t["worst_deg"] for t in knocks), sorted(loud), 1e-6, "check names those that are loud")


def remedies_mend(tap):
    status, list_ = found(knocking())
    knock = next(t for t in list_ if t["kind"] == "load-reversal")
    keys = {r["key"]: r for r in knock["remedies"]}
    tap.ok("body.play" in keys, "a closer fit is offered", keys)
    design = knocking()
    design["body"]["play"] = keys["body.play"]["to"]
    status, left = found(design)
    tap.ok(not [t for t in left if t["kind"] == "load-reversal"], "with it the knock is gone", left)


def told_of(design):
    return json.loads(call_on(design, "loads", "--format", "json").text)


def peak(told, load):
    return next(p for p in told["loads"] if p["load"] == load)


def friction_and_springs_count(tap):
    smooth, rubbing = told_of(EXAMPLE), copy.deepcopy(EXAMPLE)
    rubbing["drive"] = {"friction": 0.2, "pin_radius": 3}
    rough = told_of(rubbing)
    tap.ok(rough["motor"]["mean_W"] > smooth["motor"]["mean_W"], "friction costs power", [rough["motor"], smooth["motor"]])
    tap.ok("with friction" in call_on(rubbing, "loads").text, "the text says that friction counts")
    tap.ok("without friction" in call_on(EXAMPLE, "loads").text, "and that it does not")
    jammed = copy.deepcopy(rubbing)
    jammed["drive"] = {"friction": 5, "pin_radius": 90}
    status, list_ = found(jammed)
    locks = [t for t in list_ if t["kind"] == "self-locks"]
    tap.ok(status == 1 and locks and locks[0]["value"] >= 1, "a joint that locks itself is told", list_)
    held = copy.deepcopy(EXAMPLE)
    held["springs"] = [{"name": "lift", "side": "middle", "from": {"base": [0, 0, 3000]}, "to": {"body": [0, 0, 0]},
                        "rate": 0.003, "free": 0}]
    eased = told_of(held)
    tap.ok(peak(eased, "body.foot_N")["greatest"] < peak(smooth, "body.foot_N")["greatest"] - 5,
           "a spring from above eases the foot of the post", eased["loads"])
    weighted = copy.deepcopy(EXAMPLE)
    weighted["crank"]["counterweights"] = [{"name": "lead", "mass": 500, "radius": 40}]
    centre, plain = told_of(weighted)["centre_of_mass"], smooth["centre_of_mass"]
    tap.near([plain["mass_g"], centre["mass_g"]], [900 + 2 * 160 + 2 * 30, 900 + 2 * 160 + 2 * 30 + 500], 1e-6,
             "all that moves is weighed, and a counterweight of the crank with it")
    tap.ok(plain["z_from_mm"] < plain["z_to_mm"], "its centre moves", plain)


def a_spring_that_is_offered_mends(tap):
    knock = next(t for t in found(knocking())[1] if t["kind"] == "load-reversal")
    part = knock["spring"].get("part")
    tap.ok(part is not None, "a spring is offered as a part of the design", knock["spring"])
    design = knocking()
    design["springs"] = [dict(part, name="offered")]
    left = [t for t in found(design)[1] if t["kind"] == "load-reversal" and t["part"] == knock["part"]]
    tap.ok(not left, "and pasted into the design it mends the knock", left)


def stand_is_judged(tap):
    told = json.loads(call_on(knocking(), "loads", "--format", "json").text)
    tap.ok(told["stand"]["tilt_deg"] > 10, "a wide plate stands", told["stand"])
    narrow = knocking()
    narrow["base"]["plate"] = [420, 90, 18]
    status, list_ = found(narrow)
    tips = [t for t in list_ if t["kind"] == "may-tip"]
    tap.ok(len(tips) >= 1 and all(t["value"] < 10 and t["unit"] == "deg" for t in tips), "a narrow one may tip", list_)
    unknown = knocking()
    del unknown["base"]["mass"]
    tap.ok(json.loads(call_on(unknown, "loads", "--format", "json").text)["stand"] is None,
           "without the base's mass it is not judged")


def fingers_when_asked(tap):
    near = knocking()
    near["base"]["top"] = -64
    tap.ok(not [t for t in found(near)[1] if t["kind"] == "pinch"], "pinching is not listed unasked")
    pinches = [t for t in found(near, "--reach")[1] if t["kind"] == "pinch"]
    tap.ok(any({t["part"], t["other"]} == {"crank", "base"} for t in pinches), "with --reach it is", pinches)


def text_and_json_agree(tap):
    for name in CLEAN_DEMOS:
        told = json.loads(call("loads", demo(name), "--format", "json").text)
        text = call("loads", demo(name)).text
        tap.ok(f"{told['hand']['peak_N']:.3g} N at" in text, f"{name}: the force at the handle is told", text)
        tap.ok(told["motor"]["rated_Nm"] > told["motor"]["torque_Nm"] > 0, f"{name}: a motor is asked for with its margin")
    still = json.loads(call("loads", demo("heron"), "--format", "json", "--speed", "0").text)
    tap.ok(still["ripple"] is None and still["bounces"] == [], "a still crank neither ripples nor knocks")


def inches_are_told(tap):
    told, text = told_of(knocking()), call_on(knocking(), "loads", "--lengths", "inch").text
    tap.ok(" mm" not in text and "_mm" not in text and " in of play" in text, "loads in inches speaks of no millimetre", text)
    played = re.findall(r"crosses (\S+) in of play", text)
    tap.near([float(p) * 25.4 for p in played], [b["gap_mm"] for b in told["bounces"] if b["crosses"]], 0.01,
             "its play is that of the JSON")
    heron = call("loads", demo("heron"), "--lengths", "inch").text
    sags = re.findall(r"^(\S+)\.sag_in +(\S+) at", heron, re.M)
    parts = {p["part"]: p["sag_mm"] for p in json.loads(call("loads", demo("heron"), "--format", "json").text)["strength"]}
    sags = [(name, float(sag)) for name, sag in sags if name in parts]
    tap.ok(bool(sags) and " mm" not in heron and "_mm" not in heron, "nor of strength", heron)
    tap.near([sag * 25.4 for _, sag in sags], [parts[name] for name, _ in sags], 1e-3, "a sag in inches is that of the JSON")
    check = call("check", demo("troubled"), "--lengths", "inch").text
    tap.ok(" in" in check and " mm" not in check, "check in inches speaks of no millimetre", check)
    for verb in ("check", "loads"):
        plain = call(verb, demo("troubled"), "--format", "json")
        tap.ok(call(verb, demo("troubled"), "--format", "json", "--lengths", "inch").out == plain.out, f"{verb}: the JSON stays as it is")
        tap.ok(call(verb, demo("troubled"), "--lengths", "mm").out == call(verb, demo("troubled")).out, f"{verb}: millimetres if nothing is said")
        refused = call(verb, demo("troubled"), "--lengths", "ell")
        tap.ok(refused.status == 2 and "--lengths" in refused.err and not refused.out, f"{verb}: another unit is refused", refused)


if __name__ == "__main__":
    sys.exit(Tap().run([knocks_are_told, remedies_mend, friction_and_springs_count, a_spring_that_is_offered_mends, stand_is_judged, fingers_when_asked, text_and_json_agree,
                        inches_are_told]))
