"""Printed parts as files: checked with programs that are not ours (admesh, unzip, xmllint)."""
import glob
import os
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET
import zipfile

from program import CLEAN_DEMOS, call, call_on, demo, is_one_line, read_demo
from tap import Tap

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"


def run(*args):
    return subprocess.run(args, stdout=subprocess.PIPE, stderr=subprocess.STDOUT).stdout.decode("utf-8", "replace")


def figure(report, words):
    """The last number on admesh's line that starts with these words."""
    line = next(line for line in report.splitlines() if line.strip().startswith(words))
    return int(re.findall(r"-?\d+", line)[-1])


def admesh_is_content(tap, path):
    report = run("admesh", path)
    # As read, before admesh mends anything: all facets joined on three sides, nothing degenerate or turned.
    facets = [int(n) for n in re.findall(r"\d+", next(
        line for line in report.splitlines() if line.strip().startswith("Facets with 3 disconnected")))]
    wrong = {words: figure(report, words) for words in (
        "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges")}
    parts = int(re.search(r"Number of parts\s*:\s*(\d+)", report).group(1))
    tap.ok(facets[-1] == 0 and not any(wrong.values()) and parts == 1,
           f"admesh finds nothing to mend in {os.path.basename(path)}", report)
    return float(re.search(r"Volume\s*:\s*([-0-9.]+)", report).group(1))


def every_stl_is_sound(tap):
    for name in CLEAN_DEMOS:
        with tempfile.TemporaryDirectory() as folder:
            result = call("parts", demo(name), "-o", folder)
            tap.ok(result.status == 0, f"all printed parts of the {name} can be made", result)
            volumes = [float(v) for v in re.findall(r"([0-9.]+) cm³ each", result.text)]
            files = [w for line in result.text.splitlines() for w in re.findall(r"\S+\.stl", line)]
            tap.ok(sorted(files) == sorted(os.path.basename(p) for p in glob.glob(folder + "/*.stl")),
                   f"the list names every file of the {name}", result)
            found = [admesh_is_content(tap, os.path.join(folder, file)) / 1000 for file in files]
            tap.near(found, volumes, 0.006, f"admesh measures the listed volumes of the {name}")


def read_model(path):
    with zipfile.ZipFile(path) as package:
        return ET.fromstring(package.read("3D/3dmodel.model"))


def the_3mf_is_a_sound_package(tap):
    with tempfile.TemporaryDirectory() as folder:
        result = call("parts", demo("heron"), "-o", folder)
        path = os.path.join(folder, "all-parts.3mf")
        tap.ok("No errors detected" in run("unzip", "-t", path), "unzip finds the 3MF whole")
        with zipfile.ZipFile(path) as package:
            names = package.namelist()
            for name in names:
                package.extract(name, os.path.join(folder, "out"))
        tap.ok(names == ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"], "it holds the three parts of a package", names)
        for name in names:
            tap.ok(run("xmllint", "--noout", os.path.join(folder, "out", name)) == "", f"{name} is well-formed XML")
        model = read_model(path)
        tap.ok(model.tag == CORE + "model" and model.get("unit") == "millimeter", "the model is in millimetres")
        objects = model.findall(f"{CORE}resources/{CORE}object")
        items = model.findall(f"{CORE}build/{CORE}item")
        counts = [int(n) for n in re.findall(r"make (\d+);", result.text)]
        tap.ok(len(objects) == len(counts) and len({o.get("name") for o in objects}) == len(objects),
               "one object a part, each with a name of its own")
        tap.ok([sum(i.get("objectid") == o.get("id") for i in items) for o in objects] == counts,
               "each is built as often as the list says")
        boxes = [box_of(objects, item) for item in items]
        tap.ok(all(min(b) > -1e-4 for b in boxes), "everything stands on the bed, in its positive corner")
        apart = all(a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]
                    for i, a in enumerate(boxes) for b in boxes[:i])
        tap.ok(apart, "nothing on the bed touches another", boxes)
        edges = edges_of(objects[0])
        tap.ok(all(edges.get((b, a)) == 1 and n == 1 for (a, b), n in edges.items()),
               "in the XML too every edge is met twice, once each way")


def box_of(objects, item):
    shape = next(o for o in objects if o.get("id") == item.get("objectid"))
    move = [float(n) for n in item.get("transform").split()]
    points = [[float(v.get(k)) for k in "xyz"] for v in shape.iter(CORE + "vertex")]
    x, y, z = ([p[k] + move[9 + k] for p in points] for k in range(3))
    return [min(x), min(y), max(x), max(y), min(z)]


def edges_of(shape):
    edges = {}
    for t in shape.iter(CORE + "triangle"):
        v = [int(t.get(k)) for k in ("v1", "v2", "v3")]
        for k in range(3):
            edge = (v[k], v[(k + 1) % 3])
            edges[edge] = edges.get(edge, 0) + 1
    return edges


def read_all(folder):
    return {name: open(os.path.join(folder, name), "rb").read() for name in sorted(os.listdir(folder))}


def the_same_design_gives_the_same_bytes(tap):
    with tempfile.TemporaryDirectory() as folder:
        first, second = os.path.join(folder, "new", "one"), os.path.join(folder, "two")
        call("parts", demo("owl"), "-o", first)
        call("parts", demo("owl"), "-o", second, locale="C")
        tap.ok(read_all(first) == read_all(second), "twice gives the same bytes, and a folder is made")
        with open(os.path.join(first, "mine.txt"), "w") as file:
            file.write("kept")
        again = call("parts", demo("owl"), "-o", first)
        found = read_all(first)
        tap.ok(again.status == 0 and found.pop("mine.txt") == b"kept" and found == read_all(second),
               "its own files are replaced, others left")


def what_is_the_makers_stays(tap):
    with tempfile.TemporaryDirectory() as folder:
        call("parts", demo("owl"), "-o", folder)
        own = read_all(folder)
        name = next(n for n in own if n.endswith(".stl"))
        file = os.path.join(folder, name)

        def refused(what):
            there = sorted(os.listdir(folder))
            result = call("parts", demo("heron"), "-o", folder)
            same = sorted(os.listdir(folder)) == there and all(
                open(os.path.join(folder, n), "rb").read() == b for n, b in own.items() if n not in (name, "all-parts.3mf"))
            tap.ok(result.status == 2 and is_one_line(result.err) and same, f"{what}: refused, and nothing is written", result)

        whole = os.path.join(folder, "all-parts.3mf")
        open(whole, "ab").write(b"my own scene")
        refused("a file that was changed since")
        os.remove(whole)
        os.mkdir(whole)
        refused("a folder of that name")
        os.rmdir(whole)
        os.mkfifo(whole)
        refused("a pipe of that name")
        os.remove(whole)
        os.symlink("/dev/null", whole)
        refused("a link to a device")
        os.remove(whole)
        os.rename(file, os.path.join(folder, "moved.stl"))
        os.symlink("moved.stl", file)
        result = call("parts", demo("owl"), "-o", folder)
        tap.ok(result.status == 0 and os.path.islink(file) and read_all(folder)[name] == own[name], "a link to a file stays a link", result)
    with tempfile.TemporaryDirectory() as folder:
        open(os.path.join(folder, "all-parts.3mf"), "w").write("mine")
        result = call("parts", demo("owl"), "-o", folder)
        tap.ok(result.status == 2 and is_one_line(result.err) and "all-parts.3mf" in result.err
               and read_all(folder) == {"all-parts.3mf": b"mine"}, "a file of that name from elsewhere is not replaced", result)


def what_cannot_be_made_is_told(tap):
    design = read_demo("heron")
    design["print"] = {"tee_bore": 11}
    with tempfile.TemporaryDirectory() as folder:
        result = call_on(design, "parts", "-o", folder)
        tap.ok(result.status == 1 and is_one_line(result.err) and "Bushing" in result.err and "11.0 mm" in result.err,
               "a tee too small for its bushing is one sentence that names it", result)
        tap.ok("bushing" not in " ".join(os.listdir(folder)) and len(os.listdir(folder)) > 10,
               "and the other parts are made")
    design["print"] = {"fit": -1}
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "parts")
        result = call_on(design, "parts", "-o", out)
        tap.ok(result.status == 2 and "print.fit" in result.err and not os.path.exists(out),
               "a fit below zero is refused by its key, and nothing is written", result)
        with open(out, "w") as file:
            file.write("in the way")
        result = call("parts", demo("heron"), "-o", out)
        tap.ok(result.status == 2 and is_one_line(result.err) and os.listdir(folder) == ["parts"],
               "a file in the folder's place is refused, and nothing is written", result)
        blocked = os.path.join(folder, "blocked")
        os.makedirs(os.path.join(blocked, "all-parts.3mf"))
        result = call("parts", demo("heron"), "-o", blocked)
        tap.ok(result.status == 2 and os.listdir(blocked) == ["all-parts.3mf"],
               "where one file cannot be replaced, none is written", result)
    result = call("parts", demo("heron"))
    tap.ok(result.status == 2 and is_one_line(result.err), "without a folder it is refused", result)


def lengths_in_inches(tap):
    with tempfile.TemporaryDirectory() as folder:
        result = call("parts", demo("heron"), "-o", folder, "--lengths", "inch")
        tap.ok(result.status == 0 and re.search(r"make 2; \S+.* in; ", result.text), "the list can be in inches", result)


if __name__ == "__main__":
    sys.exit(Tap().run([every_stl_is_sound, the_3mf_is_a_sound_package, the_same_design_gives_the_same_bytes, what_is_the_makers_stays,
                        what_cannot_be_made_is_told, lengths_in_inches]))
