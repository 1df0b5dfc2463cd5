"""log: words on hand-known designs, adding, bringing back, Markdown and PDF read back from the files."""
import json
import os
import re
import shutil
import stat
import subprocess
import sys
import tempfile
from urllib.parse import unquote

from program import CLEAN_DEMOS, EXAMPLE, PROGRAM, call, call_on, demo, is_one_line, read_png
from tap import Tap


def put(folder, name, design):
    path = os.path.join(folder, name)
    with open(path, "w", encoding="utf-8") as file:
        json.dump(design, file)
    return path


def read(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def small_png(path, width=40, height=30):
    subprocess.run(["convert", "-size", f"{width}x{height}", "xc:orange", path], check=True)


def logged(folder):
    """The example logged, then with a shorter rod logged again."""
    path = put(folder, "bird.flap", EXAMPLE)
    assert call("log", path, "--add", "First turn.", "--date", "2026-03-14").status == 0
    design = read(path)
    design["rods"][0]["length"] = 405
    design["crank"]["throws"][1]["radius"] = 24
    put(folder, "bird.flap", design)
    assert call("log", path, "--add", "Rod cut.", "--date", "2026-03-15T18:30").status == 0
    return path


def words_of_change_and_effect(tap):
    with tempfile.TemporaryDirectory() as folder:
        path = logged(folder)
        text = call("log", path)
        tap.ok(text.status == 0 and "inrod shortened from 412 mm to 405 mm." in text.text
               and "Radius of in: from 30 mm to 24 mm." in text.text and "2026-03-15 18:30" in text.text,
               "the rod's length before and after is said in plain words", text)
        inches = call("log", path, "--lengths", "inch").text
        # 412 mm is 16 7/32 in, 405 mm 15 15/16 in (15.945: 61/64 is .953, 60/64 .9375)
        tap.ok("inrod shortened from 16 7/32 in to 15 15/16 in." in inches, "and in fractions of an inch", inches)
        pages = json.loads(call("log", path, "--format", "json").text)
        tap.ok([p["entry"] for p in pages] == [1, 2] and pages[0]["effects"] == [], "JSON lists the entries", pages)

        # The same figures as the turn's own table says, solved in small steps.
        def swing(length, radius):
            design = json.loads(json.dumps(EXAMPLE))
            design["rods"][0]["length"] = length
            design["crank"]["throws"][1]["radius"] = radius
            rows = call_on(design, "turn", "--steps", "3600").text.splitlines()
            column = rows[0].split(",").index("inner.right.angle_deg")
            angles = [float(r.split(",")[column]) for r in rows[1:]]
            return max(angles) - min(angles)
        found = next(e for e in pages[1]["effects"] if e.get("key") == "inner.swing")
        tap.near([found["from"], found["to"]], [swing(412, 30), swing(405, 24)], 0.11,
                 "the swing before and after is that of the two designs' own tables")
        torque = [e for e in pages[1]["effects"] if e.get("key") == "crank.torque"]
        tap.ok(len(torque) == 1 and torque[0]["unit"] == "N m", "the peak torque is laid side by side", pages[1]["effects"])


def trouble_comes_and_goes(tap):
    pages = json.loads(call("log", demo("heron"), "--format", "json").text)
    kinds = [e["kind"] for e in pages[1]["effects"]]
    tap.ok(len(pages) == 3 and kinds.count("gone") == 2 and "new" not in kinds, "the heron's knocking tips are gone", pages[1])
    tap.ok(pages[0]["trouble"][0]["kind"] == "trouble" and pages[2]["trouble"][0]["kind"] == "same",
           "each entry has the trouble of its day")
    tap.ok(all(p["date"].startswith("2026-") for p in pages), "its days are told")


def all_that_check_finds_is_trouble(tap):
    """Of making and of slams too, by the sentence that check has for it."""
    owl = read(demo("owl"))
    owl["crank"]["build"] = {"make": "elbows", "pipe": 8, "take_off": 8, "cup": 8, "returns": True, "clamp": 5, "bearing": 4}
    tailed = json.loads(json.dumps(EXAMPLE))
    tailed["crank"]["turns_per_minute"] = 170
    tailed["panels"].append({"name": "tail", "side": "middle", "on": "body", "reach": "back", "hinge": [0, -120, 0], "span": 220,
                             "mass": 60, "centre": [110, 0, 0], "inertia": [20000, 240000, 260000, 0], "stops": [-40, 25]})
    tailed["drive"] = {"friction": 0.25, "pin_radius": 2, "restitution": 0.3}
    for design in owl, tailed:
        with tempfile.TemporaryDirectory() as folder:
            path = put(folder, "a.flap", design)
            call("log", path, "--add", "As it is.", "--date", "2026-03-14")
            told = [t["message"] for t in json.loads(call("log", path, "--format", "json").text)[0]["trouble"]]
            found = json.loads(call_on(design, "check", "--format", "json").text)
            tap.ok(found and all(any(f["message"] in t for t in told) for f in found), "the log tells all that check finds", [told, found])


def a_translator_may_turn_the_words(tap):
    """A catalogue in which the figure before stands first, by its number."""
    if shutil.which("msgfmt") is None:
        tap.skip("figures stand where the translator puts them", "there is no msgfmt")
        return
    with tempfile.TemporaryDirectory() as folder:
        design = json.loads(json.dumps(EXAMPLE))
        path = put(folder, "bird.flap", design)
        call("log", path, "--add", "One.", "--date", "2026-03-14")
        design = read(path)
        design["crank"]["throws"][0]["radius"] += 10
        put(folder, "bird.flap", design)
        call("log", path, "--add", "Two.", "--date", "2026-03-15")
        plain = next(e for e in json.loads(call("log", path, "--format", "json").text)[1]["effects"] if e.get("key") == "body.travel")
        is_now, was = re.fullmatch("The body travels up and down by (.*), before by (.*)[.]", plain["message"]).groups()
        messages = os.path.join(folder, "de", "LC_MESSAGES")
        os.makedirs(messages)
        with open(os.path.join(folder, "turned.po"), "w", encoding="utf-8") as file:
            file.write('msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n"\n\n#, c-format\nmsgid "The body travels up and down by %s, before by %s."\n'
                       'msgstr "Vorher %2$s, nun %1$s."\n')
        subprocess.run(["msgfmt", "-o", os.path.join(messages, "flapwright.mo"), os.path.join(folder, "turned.po")], check=True)
        told = subprocess.run([PROGRAM, "log", path, "--format", "json"], capture_output=True, check=False,
                              env=dict(os.environ, LC_ALL="C.UTF-8", LANGUAGE="de", TEXTDOMAINDIR=folder))
        said = [e["message"] for e in json.loads(told.stdout)[1]["effects"] if e.get("key") == "body.travel"] if told.returncode == 0 else told
        tap.ok(said == [f"Vorher {was}, nun {is_now}."], "figures stand where the translator puts them", [said, plain])


def adding_keeps_the_design(tap):
    with tempfile.TemporaryDirectory() as folder:
        path = logged(folder)
        small_png(os.path.join(folder, "turn.png"))
        os.mkdir(os.path.join(folder, "shots"))
        small_png(os.path.join(folder, "shots", "a b.png"))
        result = call("log", path, "--add", "With pictures", "--date", "2026-03-16", "--picture", os.path.join(folder, "turn.png"),
                      "--picture", os.path.join(folder, "shots", "a b.png"), "--caption", "It turns")
        entry = read(path)["log"][2]
        tap.ok(result.status == 0 and entry["pictures"] == [{"file": "turn.png", "caption": "It turns"}, {"file": "shots/a b.png"}],
               "pictures are kept by their path from the design's folder", entry.get("pictures"))
        tap.ok(entry["design"] == {k: v for k, v in read(path).items() if k != "log"}, "the entry holds the design, without a log")
        before = open(path, "rb").read()
        with tempfile.TemporaryDirectory() as elsewhere:
            small_png(os.path.join(elsewhere, "far.png"))
            cases = [["--add", "x", "--date", "14 March"], ["--add", "x", "--date", "2026-02-30"],
                     ["--add", "x", "--picture", os.path.join(elsewhere, "far.png")],
                     ["--add", "x", "--picture", os.path.join(folder, "none.png")],
                     ["--add", "x", "--caption", "alone"], ["--add", "bell\a"], ["--add", "x", "-o", "y.md"],
                     ["--bring-back", "1"], ["--bring-back", "9", "-o", os.path.join(folder, "z.flap")],
                     ["--bring-back", "-1", "-o", os.path.join(folder, "z.flap")], ["--format", "xml"],
                     ["--lengths", "ell"], ["--date", "2026-01-01"], ["--picture", path]]
            for case in cases:
                refused = call("log", path, *case)
                tap.ok(refused.status == 2 and is_one_line(refused.err) and refused.out == b"" and open(path, "rb").read() == before,
                       f"{' '.join(os.path.basename(c) for c in case)!r} is refused in one line, and nothing is written", refused)
        tap.ok(not os.path.exists(os.path.join(folder, "z.flap")), "no file is left of what was refused")
        tap.ok(call_on(EXAMPLE, "log", "--add", "x").status == 2, "standard input cannot be added to")
        tap.ok(call_on(EXAMPLE, "log").text == "The log is empty.\n", "a design without a log says so")


def bringing_back(tap):
    with tempfile.TemporaryDirectory() as folder:
        path, out = logged(folder), os.path.join(folder, "back.flap")
        result = call("log", path, "--bring-back", "1", "--date", "2026-03-20", "-o", out)
        back = read(out)
        tap.ok(result.status == 0 and back["rods"][0]["length"] == 412 and len(back["log"]) == 3
               and back["log"][2]["date"] == "2026-03-20", "entry 1 is the design again, and the log says so", result)
        tap.ok(read(path)["rods"][0]["length"] == 405, "the design itself is as it was")


def links(text):
    return re.findall(r"!\[[^\]]*\]\(([^)]*)\)", text)


def markdown(tap):
    with tempfile.TemporaryDirectory() as folder:
        path = logged(folder)
        small_png(os.path.join(folder, "p.png"))
        call("log", path, "--add", "# not a heading\n1. no list\n<script>*a*", "--date", "2026-03-16", "--picture", os.path.join(folder, "p.png"))
        os.remove(os.path.join(folder, "p.png"))
        missing = os.path.join(folder, "gone.md")
        tap.ok(call("log", path, "-o", missing).status == 0 and "p.png is not there" in open(missing, encoding="utf-8").read(),
               "a picture that is gone is said, and the rest is written")
        small_png(os.path.join(folder, "p.png"))
        for target, text in [(os.path.join(folder, "my log.md"), None), (os.path.join(folder, "whole"), "log.md")]:
            result = call("log", path, "-o", target)
            file = os.path.join(target, text) if text else target
            words = open(file, encoding="utf-8").read()
            found = [os.path.join(os.path.dirname(file), unquote(link)) for link in links(words)]
            tap.ok(result.status == 0 and len(found) == 4 and all(os.path.exists(f) for f in found),
                   f"{os.path.basename(target)}: every link leads to a picture", found)
            tap.ok(all(read_png(f)[0] > 600 for f in found if f.endswith("strip.png")), "the strips are sound PNG")
            tap.ok("\\# not a heading" in words and "1\\. no list" in words and "\\<script\\>\\*a\\*" in words,
                   "a note is shown as it was written", words[-900:])
            again = call("log", path, "-o", target)
            left = [n for n in os.listdir(folder) if n.startswith(".flapwright")]
            tap.ok(again.status == 0 and not left, "written again, it takes the place of the old one", again)
            keeps_what_is_the_makers(tap, path, target, text)
        foreign = os.path.join(folder, "photos")
        os.mkdir(foreign)
        open(os.path.join(foreign, "mine.txt"), "w").close()
        for target in (foreign, os.path.join(folder, "taken.md")):
            if target.endswith(".md"):
                shutil.copytree(foreign, os.path.join(folder, "taken-pictures"))
            result = call("log", path, "-o", target)
            tap.ok(result.status == 2 and is_one_line(result.err) and os.listdir(foreign) == ["mine.txt"] and not os.path.isfile(target),
                   f"a folder that is not ours is left alone ({os.path.basename(target)})", result)


def tree(folder):
    """Every file below the folder with its bytes, every link and folder."""
    found = {}
    for here, folders, files in os.walk(folder):
        found.update({os.path.relpath(os.path.join(here, n), folder): None for n in folders})
        for name in files:
            file = os.path.join(here, name)
            found[os.path.relpath(file, folder)] = os.readlink(file) if os.path.islink(file) else open(file, "rb").read()
    return found


def keeps_what_is_the_makers(tap, path, target, text):
    """A file put into an exported folder, one changed, a link, an empty folder: refused by name, all left."""
    folder = target if text else target[:-3] + "-pictures"
    inside = os.path.join(folder, "pictures") if text else folder
    strip = next(n for n in sorted(os.listdir(inside)) if n.endswith("strip.png"))
    before = tree(os.path.dirname(folder))
    good = open(os.path.join(inside, strip), "rb").read()

    def put():
        open(os.path.join(inside, "sketch.txt"), "w").close()

    def change():
        open(os.path.join(inside, strip), "ab").write(b"drawn over")

    def linked():
        os.symlink("/dev/null", os.path.join(inside, "null"))

    def empty():
        os.mkdir(os.path.join(folder, "for later"))

    def undo():
        for name in (os.path.join(inside, "sketch.txt"), os.path.join(inside, "null")):
            if os.path.lexists(name):
                os.remove(name)
        if os.path.isdir(os.path.join(folder, "for later")):
            os.rmdir(os.path.join(folder, "for later"))
        open(os.path.join(inside, strip), "wb").write(good)

    for what, name in ((put, "sketch.txt"), (change, strip), (linked, "null"), (empty, "for later/")):
        what()
        there = tree(os.path.dirname(folder))
        result = call("log", path, "-o", target)
        tap.ok(result.status == 2 and is_one_line(result.err) and name in result.err
               and tree(os.path.dirname(folder)) == there, f"{os.path.basename(target)}: {name} of the maker's stays", result)
        undo()
    tap.ok(call("log", path, "-o", target).status == 0 and tree(os.path.dirname(folder)) == before,
           "without it the log takes its place again, the same to the byte")


def only_files_give_way(tap):
    """Every export refuses a folder, a pipe and a device by name, and leaves a link a link."""
    exports = {"strip": ("strip", ".png"), "templates": ("templates", ".pdf"), "laser sheets": ("templates", ".svg"), "log": ("log", ".pdf"),
               "log as text": ("log", ".md"), "kit": ("kit", ".pdf"), "flip-book": ("flipbook", ".pdf"), "animation": ("animate", ".gif")}
    for title, (verb, ending) in exports.items():
        with tempfile.TemporaryDirectory() as folder:
            path = logged(folder) if verb == "log" else demo("heron")
            more = {".svg": ["--sheet", "3000x3000"], ".gif": ["--frames", "4", "--width", "160"]}.get(ending, [])
            first = "-1" if ending == ".svg" else "" # the first of several sheets
            names = [os.path.join(folder, n + first + ending) for n in ("folder", "pipe", "device")]
            os.mkdir(names[0])
            os.mkfifo(names[1])
            os.symlink("/dev/null", names[2])
            results = [call(verb, path, "-o", name.replace(first + ending, ending), *more) for name in names]
            whole = os.path.isdir(names[0]) and stat.S_ISFIFO(os.stat(names[1]).st_mode) and os.path.islink(names[2])
            tap.ok(all(r.status == 2 and is_one_line(r.err) and n in r.err for r, n in zip(results, names)) and whole,
                   f"{title}: only a regular file gives way", "\n".join(map(str, results)))
            real, link = os.path.join(folder, "real" + ending), os.path.join(folder, "link" + first + ending)
            open(real, "w").write("old")
            os.symlink("real" + ending, link)
            result = call(verb, path, "-o", link.replace(first + ending, ending), *more)
            tap.ok(result.status in (0, 1) and os.path.islink(link) and os.path.getsize(real) > 100, f"{title}: a link stays a link", result)


def nothing_half_written(tap):
    with tempfile.TemporaryDirectory() as folder:
        path = logged(folder)
        locked = os.path.join(folder, "locked")
        os.mkdir(locked)
        # Root may write anywhere, so a folder that cannot be written is made of a file.
        inside = os.path.join(locked, "file")
        open(inside, "w").close()
        for name in ("x.md", "x.pdf", "x"):
            result = call("log", path, "-o", os.path.join(inside, name))
            tap.ok(result.status == 2 and is_one_line(result.err) and os.listdir(locked) == ["file"],
                   f"{name}: where nothing can be written nothing is", result)
        # The Markdown file cannot take its place: its pictures go again.
        os.mkdir(os.path.join(folder, "dir.md"))
        result = call("log", path, "-o", os.path.join(folder, "dir.md"))
        tap.ok(result.status == 2 and not os.path.exists(os.path.join(folder, "dir-pictures")), "no pictures without their text", result)
        tap.ok(not [n for n in os.listdir(folder) if n.startswith(".flapwright")], "and nothing is left beside")


def pdf(tap):
    with tempfile.TemporaryDirectory() as folder:
        path = logged(folder)
        photo = os.path.join(folder, "wide.jpg")
        subprocess.run(["convert", "-size", "900x600", "gradient:orange-navy", photo], check=True)
        open(os.path.join(folder, "broken.jpg"), "w").write("no picture")
        call("log", path, "--add", "A photo.", "--date", "2026-03-16", "--picture", photo, "--picture", os.path.join(folder, "broken.jpg"))
        out = os.path.join(folder, "log.pdf")
        result = call("log", path, "-o", out)
        sound = subprocess.run(["qpdf", "--check", out], capture_output=True).returncode == 0
        words = subprocess.run(["pdftotext", "-raw", out, "-"], capture_output=True, text=True).stdout
        flat = " ".join(words.split())
        tap.ok(result.status == 0 and sound, "the PDF is sound", result)
        tap.ok("inrod shortened from 412 mm to 405 mm." in flat and "3. 2026-03-16" in flat and "A photo." in flat,
               "its words can be read back", flat[:500])
        tap.ok("broken.jpg cannot be read" in flat, "a file that is no picture is said")
        images = subprocess.run(["pdfimages", "-list", out], capture_output=True, text=True).stdout
        tap.ok(re.search(r" 900 +600 .*jpeg", images) is not None, "the photo is in it as JPEG", images)
        size = subprocess.run(["pdfinfo", out], capture_output=True, text=True).stdout
        tap.ok("A4" in size, "on A4", size)
        call("log", path, "-o", out, "--lengths", "inch")
        tap.ok("letter" in subprocess.run(["pdfinfo", out], capture_output=True, text=True).stdout, "with inches on Letter")


def a_note_longer_than_a_page(tap):
    with tempfile.TemporaryDirectory() as folder:
        path, out = put(folder, "bird.flap", EXAMPLE), os.path.join(folder, "log.pdf")
        words = [f"w{i}" for i in range(3000)]
        call("log", path, "--add", " ".join(words), "--date", "2026-03-14")
        call("log", path, "-o", out)
        size = subprocess.run(["pdftotext", "-bbox", out, "-"], capture_output=True, text=True).stdout
        lowest = max(float(y) for y in re.findall(r'yMax="([\d.]+)">w\d+<', size))
        found = re.findall(r">(w\d+)</word>", size)
        tap.ok(found == words and lowest < 842 - 40, "goes on on the next page, and no word is lost", (len(found), lowest))


def demos_without_a_log(tap):
    for name in CLEAN_DEMOS:
        result = call("log", demo(name))
        tap.ok(result.status == 0 and result.err == "", f"{name}: its log can be read", result)


if __name__ == "__main__":
    sys.exit(Tap().run([words_of_change_and_effect, trouble_comes_and_goes, all_that_check_finds_is_trouble, a_translator_may_turn_the_words, adding_keeps_the_design, bringing_back, markdown, only_files_give_way,
                        nothing_half_written, pdf, a_note_longer_than_a_page, demos_without_a_log]))
