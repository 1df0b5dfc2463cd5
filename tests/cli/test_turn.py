"""turn and loads: the tables."""
import copy
import json
import os
import shutil
import subprocess
import sys
import tempfile

from program import EXAMPLE, call, call_on, demo, table
from tap import Tap


def stands_where_it_should(tap):
    """The example's poses, solved elsewhere by iteration on the constraint equations, to their printed digits."""
    rows = table(call_on(EXAMPLE, "turn", "--steps", "12").text)[:4]
    expected = {
        "body.h_mm": [0, -37.2486, -54.2325, -51.1108],
        "body.z_mm": [460, 450.7211, 430.4893, 409.9986],
        "body.tilt_deg": [0, -7.8342, -12.2163, -12.5288],
        "inner.right.angle_deg": [-28.9014, -23.1034, -9.9365, 4.8680],
        "inner.left.angle_deg": [-28.9014, -23.1034, -9.9365, 4.8680],
    }
    for column, values in expected.items():
        tap.near([row[column] for row in rows], values, 1e-4, f"{column} at 0, 30, 60 and 90 degrees of the example")


def has_the_rows_asked_for(tap):
    lines = call_on(EXAMPLE, "turn").text.splitlines()
    tap.ok(len(lines) == 73, "72 rows under one header unless told otherwise", len(lines))
    tap.ok(lines[0].startswith("crank_deg,body.h_mm,body.z_mm,body.tilt_deg,inner.right.angle_deg,inner.right.rate,"),
           "the columns stand in their order", lines[0])
    names = lines[0].split(",")
    for name in ("inner.left.rate", "inrod.right.push_deg", "inrod.left.lean_deg", "crank.torque_Nm",
                 "inrod.right.force_N"):
        tap.ok(names.count(name) == 1, f"there is a column {name}", names)
    for steps in (1, 7, 360):
        rows = table(call_on(EXAMPLE, "turn", "--steps", str(steps)).text)
        tap.near([row["crank_deg"] for row in rows], [360 * i / steps for i in range(steps)], 1e-9,
                 f"--steps {steps} divides the turn evenly from 0")


def writes_enough_digits(tap):
    row = call_on(EXAMPLE, "turn", "--steps", "12").text.splitlines()[2].split(",")
    digits = [len(cell.lstrip("-0.").replace(".", "").split("e")[0]) for cell in row[1:7]]
    tap.ok(min(digits) >= 9, "numbers have nine digits or more", row)


def rates_follow_the_angles(tap):
    """The rate is d(angle)/d(crank), so a central difference of the angle column must give it."""
    rows = table(call(*["turn", demo("heron"), "--steps", "720"]).text)
    for member in ("arm.right", "tip.left", "neck"):
        angle = [row[member + ".angle_deg"] for row in rows]
        found = [(angle[(i + 1) % 720] - angle[i - 1]) / (2 * 360 / 720) for i in range(720)]
        tap.near([row[member + ".rate"] for row in rows], found, 1e-4, f"the rate of {member} follows its angle")


def both_forms_agree(tap):
    rows = table(call("turn", demo("owl")).text)
    objects = json.loads(call("turn", demo("owl"), "--format", "json").text)
    tap.ok(len(objects) == 72 and [list(o) for o in objects] == [list(r) for r in rows],
           "the JSON table has the same rows and names")
    tap.ok(objects == rows, "the JSON table has the same numbers")
    with open(demo("owl"), "rb") as file:
        piped = call_on(file.read(), "turn")
    tap.ok(piped.out == call("turn", demo("owl")).out, "standard input gives the same table as the file")


def names_survive(tap):
    design = copy.deepcopy(EXAMPLE)
    design["panels"][0]["name"] = design["rods"][0]["to"]["panel"] = 'wing, "left" \\ schräg'
    header = call_on(design, "turn", "--steps", "1").text.splitlines()[0]
    tap.ok('"wing, ""left"" \\ schräg.right.angle_deg"' in header, "a name with comma and quotes is one CSV cell", header)
    keys = json.loads(call_on(design, "turn", "--steps", "1", "--format", "json").text)[0]
    tap.ok('wing, "left" \\ schräg.right.rate' in keys, "and one JSON key", list(keys))


def says_what_does_not_join(tap):
    result = call("turn", demo("troubled"), "--steps", "360")
    rows = table(result.text)
    empty = [row["crank_deg"] for row in rows if row["tip.right.angle_deg"] is None]
    tap.ok(result.status == 1 and result.err == "", "a design that cannot go round still gives its table, status 1", result)
    tap.ok(empty == list(range(38, 59)), "the tip's cells are empty just where its rod is too short", empty)
    tap.ok(all(row["arm.right.angle_deg"] is not None for row in rows), "what joins is still there")
    sides = [row["tip.left.angle_deg"] is None for row in rows]
    tap.ok([row["tip.right.angle_deg"] is None for row in rows] == sides, "both sides lack the same")
    nulls = json.loads(call("turn", demo("troubled"), "--steps", "360", "--format", "json").text)
    tap.ok(nulls[40]["tip.right.angle_deg"] is None and nulls[0]["tip.right.angle_deg"] is not None,
           "in JSON such a cell is null")


def figures(result):
    """What check found, without the sentences, which speak the reader's language."""
    found = json.loads(result.text)
    return [{k: v for k, v in t.items() if k not in ("message", "remedies")} for t in found]


def points_in_any_locale(tap):
    """Numbers keep their point where people write a comma."""
    if shutil.which("localedef") is None or not os.path.exists("/usr/share/i18n/locales/de_DE"):
        tap.skip("numbers have points in a locale with commas", "the locale cannot be made here")
        return
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", os.path.join(folder, "de_DE.UTF-8")], check=False)
        os.environ["LOCPATH"] = folder
        for verb in (["turn"], ["turn", "--format", "json"], ["loads", "--format", "csv"], ["loads", "--format", "json"]):
            args = [verb[0], demo("troubled"), *verb[1:]]
            tap.ok(call(*args, locale="de_DE.UTF-8").out == call(*args).out,
                   f"{' '.join(verb)} writes the same in a locale with commas")
        args = ["check", demo("troubled"), "--format", "json"]
        tap.ok(figures(call(*args, locale="de_DE.UTF-8")) == figures(call(*args)),
               "check --format json writes the same figures in a locale with commas")
        del os.environ["LOCPATH"]


def loads_add_up(tap):
    told = json.loads(call("loads", demo("heron"), "--format", "json").text)
    peaks = {item["load"]: item for item in told["loads"]}
    torque = [row["crank.torque_Nm"] for row in table(call("turn", demo("heron"), "--steps", "720").text)]
    tap.near([peaks["crank.torque_Nm"]["least"], peaks["crank.torque_Nm"]["greatest"]], [min(torque), max(torque)],
             1e-4, "the peaks of torque are those of the table")
    tap.ok(abs(sum(torque)) / len(torque) < 1e-6 * max(torque), "without friction the torque sums to nothing over a turn")
    still = json.loads(call("loads", demo("heron"), "--format", "json", "--speed", "0").text)
    tap.ok(still["turns_per_minute"] == 0 and still["loads"] != told["loads"], "--speed 0 leaves the weights alone")
    tap.ok("local codes" in call("loads", demo("heron")).text, "the loads come with the caution")
    csv = call("loads", demo("heron"), "--format", "csv").text.splitlines()
    tap.ok(len(csv) == 1 + len(told["loads"]), "the CSV list is as long as the JSON list")


if __name__ == "__main__":
    sys.exit(Tap().run([stands_where_it_should, has_the_rows_asked_for, writes_enough_digits, rates_follow_the_angles,
                        both_forms_agree, names_survive, says_what_does_not_join, points_in_any_locale, loads_add_up]))
