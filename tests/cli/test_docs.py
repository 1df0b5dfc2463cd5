"""The pages of docs/ tell the truth: pictures, links, names of keys and controls, calls and what they print.

    test_docs.py FLAPWRIGHT-CLI SOURCE"""
import glob
import os
import re
import shutil
import subprocess
import sys
import tempfile

from program import PROGRAM, SOURCE, read_demo, set_key
from tap import Tap

PAGES = ["README.md", "DEVELOPERS.md"] + sorted(os.path.relpath(p, SOURCE) for p in glob.glob(os.path.join(SOURCE, "docs", "*.md")))
TRANSLATED = sorted(os.path.relpath(p, SOURCE) for p in glob.glob(os.path.join(SOURCE, "docs", "*", "*.md")))
LEARNING = ["docs/guide.md", "docs/tutorial.md", "docs/using.md", "docs/troubleshooting.md"]
BUILD = os.path.realpath(os.path.join(os.path.dirname(PROGRAM), "..", ".."))
# Keys that stand in one place of the source and not in its table of shortcuts.
OTHER_KEYS = {"ctrl+enter": ("src/app/lognote.c", "GDK_KEY_Return"), "ctrl+c": ("src/app/guidereader.c", "GDK_KEY_c, GDK_CONTROL_MASK, on_copy")}
KEYS_OF_THE_TOOLKIT = {"f6", "f8", "shift+f10"}  # from pane to pane, the line between them, the menu of what is picked


def text_of(page):
    with open(os.path.join(SOURCE, page), encoding="utf-8") as file:
        return file.read()


def without_code(text):
    text = re.sub(r"<!--.*?-->", "", text, flags=re.S)
    text = re.sub(r"^```.*?^```", "", text, flags=re.S | re.M)
    return re.sub(r"`[^`\n]*`", "", re.sub(r"^ {4,}\S.*$", "", text, flags=re.M))


# ---- Pictures and links ----


def pictures_listed():
    listed = subprocess.run(["bash", os.path.join(SOURCE, "src", "pictures"), BUILD, "list"], capture_output=True, text=True, check=True)
    return dict(reversed(line.split()) for line in listed.stdout.splitlines())


def every_picture_is_made_shown_and_there(tap):
    made = pictures_listed()
    there = set(os.listdir(os.path.join(SOURCE, "docs", "pictures")))
    shown = set()
    for page in PAGES:
        shown |= set(re.findall(r"\]\((?:docs/)?pictures/([\w.-]+)\)", text_of(page)))
    tap.ok(len(made) > 20 and set(made) == there, "each picture of the guide is one that src/pictures draws, and each is there",
           f"not drawn: {sorted(there - set(made))}\nnot there: {sorted(set(made) - there)}")
    tap.ok(shown == there, "each picture is shown on a page, and each that a page shows is there",
           f"on no page: {sorted(there - shown)}\nnot there: {sorted(shown - there)}")


def slug(heading):
    """As the anchors of headings are made where Markdown is shown: small letters, no marks, hyphens for spaces."""
    heading = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", heading)
    return re.sub(r"[^\w\- ]", "", heading.strip().lower()).replace(" ", "-")


def anchors_of(page):
    seen, names = {}, set()
    for heading in re.findall(r"^#{1,6} (.*)$", re.sub(r"^```.*?^```", "", text_of(page), flags=re.S | re.M), re.M):
        name = slug(heading)
        names.add(name if name not in seen else f"{name}-{seen[name]}")
        seen[name] = seen.get(name, 0) + 1
    return names


def every_link_leads_somewhere(tap):
    lost, n = [], 0
    for page in PAGES + TRANSLATED:
        for target in re.findall(r"(?<!!)\[[^\]]*\]\(([^)\s]+)\)", without_code(text_of(page))):
            if re.match(r"[a-z]+:", target):
                continue
            n += 1
            path, _, anchor = target.partition("#")
            other = os.path.normpath(os.path.join(os.path.dirname(page), path)) if path else page
            if not os.path.exists(os.path.join(SOURCE, other)):
                lost.append(f"{page}: {target}: no such file")
            elif anchor and anchor not in anchors_of(other):
                lost.append(f"{page}: {target}: no such heading")
    tap.ok(n > 60 and not lost, f"each of {n} links of the pages leads to a file and a heading that are there", "\n".join(lost))


# ---- Keys and controls ----


def keys_of_the_program():
    """{"ctrl+shift+s", "f9", ...} of the table of shortcuts."""
    names = {"Page_Down": "page down", "Page_Up": "page up", "plus": "+", "minus": "-", "question": "?", "equal": "="}
    keys = set()
    for accel in re.findall(r'"((?:<\w+>)*\w+)"', "".join(re.findall(r"\{ FW_KEYS_\w+, [^{]*\{([^}]*)\}", text_of("src/app/shortcuts.c")))):
        held = sorted(re.findall(r"<(\w+)>", accel))
        key = accel.split(">")[-1]
        keys.add("+".join([{"Control": "ctrl"}.get(h, h.lower()) for h in held] + [names.get(key, key.lower())]))
    return keys


def every_key_told_is_one(tap):
    known, unknown, n = keys_of_the_program(), [], 0
    key = r"(?<![\w+])(?:(?:Ctrl|Alt|Shift)\+)+(?:Page Down|Page Up|Right|Left|Enter|Space|F\d+|[A-Z0-9?+\-](?![a-z]))|(?<![\w+])F\d\d?\b"
    for page in [p for p in PAGES if p.startswith("docs/")]:
        for told in re.findall(key, without_code(text_of(page))):
            n += 1
            *held, last = re.match(r"((?:(?:Ctrl|Alt|Shift)\+)*)(.*)", told).groups()
            name = "+".join(sorted(h.lower() for h in held[0].split("+") if h) + [last.lower()]).replace("ctrl", "control")
            name = "+".join(sorted(name.split("+")[:-1]) + [last.lower()]) if last != "+" else "control++"
            name = name.replace("control", "ctrl")
            alike = {"+".join(sorted(k[:-len(k.split("+")[-1]) or None].strip("+").split("+")) + [k.split("+")[-1]]) for k in known}
            if name in known or name in alike or name in KEYS_OF_THE_TOOLKIT:
                continue
            if name in OTHER_KEYS and OTHER_KEYS[name][1] in text_of(OTHER_KEYS[name][0]):
                continue
            unknown.append(f"{page}: {told}")
    tap.ok(len(known) > 50 and n > 80 and not unknown, f"each of {n} keys that the pages name is one of the program", "\n".join(unknown))


def words_of_the_program():
    """Every string of the program, small, without the marks of access keys and what goes on in a dialog."""
    words = set()
    for folder in ("app", "doc", "draw", "core", "shop"):
        for path in glob.glob(os.path.join(SOURCE, "src", folder, "*.[chu]*")):
            with open(path, encoding="utf-8") as file:
                text = re.sub(r'"\s*\n\s*"', "", file.read())
            found = re.findall(r">([^<>\n]+)<", text) if path.endswith(".ui") else re.findall(r'"((?:[^"\\\n]|\\.)*)"', text)
            words |= {w.replace("_", "").rstrip("…").lower() for w in found if w.strip()}
    return words


def every_control_told_is_one(tap):
    words = words_of_the_program()
    verbs = re.findall(r"^  ([a-z]+) {2,}", subprocess.run([PROGRAM, "--help"], capture_output=True, text=True, check=True).stdout, re.M)
    patterns = [re.compile(re.sub(r"%\w", ".+", re.escape(w).replace(r"\%", "%"))) for w in words
                if "%s" in w and len(re.findall(r"[a-z]", w.replace("%s", ""))) > 3]
    unknown, n = [], 0
    for page in LEARNING:
        for told in re.findall(r"(?<!\*)\*\*([^*\n]+?)\*\*", without_code(text_of(page))):
            name = told.rstrip("…").lower()
            if told[-1] in ".:" or re.search(r"(Ctrl|Alt|Shift)\+|^F\d|^[+A-B]$", told) or told.split()[0] in verbs:
                continue
            n += 1
            if name not in words and not any(p.fullmatch(name) for p in patterns):
                unknown.append(f"{page}: {told}")
    tap.ok(n > 60 and not unknown, f"each of {n} names in bold type is a control or a word of the program", "\n".join(unknown))


def every_kind_of_trouble_has_its_place(tap):
    kinds = re.findall(r"^  (FW_[A-Z_]+), +/\*", text_of("src/core/trouble.h"), re.M)
    words = dict(re.findall(r'case (FW_\w+):\s+return C?_ ?\((?:"[^"]+", )?"([^"]+)"\)', text_of("src/doc/words.c").split("fw_words_trouble_short")[1]))
    names = dict(re.findall(r'\[(FW_\w+)\] = "([a-z-]+)"', text_of("src/core/trouble.c")))
    page = text_of("docs/troubleshooting.md")
    missing = [k for k in kinds if f"**{words.get(k)}**" not in page or f"`{names.get(k)}`" not in page]
    tap.ok(len(kinds) >= 21 and not missing, f"each of {len(kinds)} kinds of trouble is in troubleshooting.md, by its word and its name", missing)


# ---- Calls ----


def calls_of(page):
    """(call, [line that it prints]) of each call in a block of code, and in running text with FILE and OUT."""
    calls, shown = [], None
    text = re.sub(r"<!--.*?-->", "", text_of(page), flags=re.S)
    for line in text.splitlines():
        found = re.match(r" {4,}(\$ )?(flapwright-cli .*)$", line)
        if found:
            shown = [] if found.group(1) else None
            calls.append((found.group(2), shown if shown is not None else []))
        elif shown is not None and re.match(r" {4}\S| {5,}\S", line):
            shown.append(line)
        else:
            shown = None
    for code in re.findall(r"`(flapwright-cli [^`]* (?:FILE|OUT)[^`]*)`", text.replace("\n", " ")):
        if not re.search(r"[\[|]|M\.csv", code):
            code = re.sub(r"\bOUT\b(?!\.)", "out.flap", re.sub(r"\b(FILE|OUT)\b(?=\.\w)", "out", code))
            calls.append((code.replace("FILE", "heron.flap"), []))
    return calls


def lay_out(page, desk):
    """A folder in which the page's calls can be made: the demos, and the files that its remarks name."""
    shutil.copytree(os.path.join(SOURCE, "data", "demos"), os.path.join(desk, "data", "demos"))
    for name in glob.glob(os.path.join(SOURCE, "data", "demos", "*.flap")):
        shutil.copy(name, desk)
    os.makedirs(os.path.join(desk, "shots"))
    shutil.copy(os.path.join(SOURCE, "docs", "pictures", "moth.png"), os.path.join(desk, "shots", "arm.jpg"))
    text = text_of(page)
    for name, demo, changes in re.findall(r"<!-- file: (\S+) from (\w+)\.flap (.*?) -->", text):
        design = read_demo(demo)
        for change in changes.split():
            key, value = change.split("=")
            set_key(design, key, float(value))
        with open(os.path.join(desk, name), "w", encoding="utf-8") as file:
            file.write(__import__("json").dumps(design))
    for name, block in re.findall(r"<!-- file: (\S+) below -->\s+?((?: {4}.*\n)+)", text):
        with open(os.path.join(desk, name), "w", encoding="utf-8") as file:
            file.write(re.sub(r"^ {4}", "", block, flags=re.M))


def holds_in_order(printed, shown):
    """The lines shown, but for what "..." stands for, are printed in that order."""
    printed, at = " ".join(printed.split()), 0
    for piece in re.split(r"\.\.\.", " ".join(" ".join(shown).split())):
        at = printed.find(piece.strip(), at)
        if at < 0:
            return piece.strip()
        at += len(piece.strip())
    return None


def every_call_shown_runs_and_prints_what_is_shown(tap):
    wrong, n, compared, made = [], 0, 0, set()
    for page in PAGES:
        calls = calls_of(page)
        if not calls:
            continue
        with tempfile.TemporaryDirectory(prefix="flapwright-docs-") as desk:
            lay_out(page, desk)
            os.makedirs(os.path.join(desk, "bin"))
            os.symlink(os.path.abspath(PROGRAM), os.path.join(desk, "bin", "flapwright-cli"))
            environment = dict(os.environ, PATH=os.path.join(desk, "bin") + ":" + os.environ["PATH"], LC_ALL="C.UTF-8", LANGUAGE="")
            for call, shown in calls:
                n += 1
                if call in made and not shown and " -o " not in call:
                    continue  # it ran on another page
                made.add(call)
                done = subprocess.run(["bash", "-o", "pipefail", "-c", call], cwd=desk, env=environment, capture_output=True, text=True,
                                      check=False, timeout=120)
                if done.returncode not in (0, 1) or done.stderr and not done.stdout:
                    wrong.append(f"{page}: {call}: exit {done.returncode} {done.stderr[:200]}")
                elif shown:
                    compared += 1
                    missing = holds_in_order(done.stdout, shown)
                    if missing is not None:
                        wrong.append(f"{page}: {call}: does not print {missing!r}")
    tap.ok(n > 40 and compared >= 6 and not wrong, f"each of {n} calls that the pages show runs, and {compared} print what is shown", "\n".join(wrong))


# ---- Plates ----


def plates_are_fresh(tap):
    """Drawn anew: but for the edges of letters, which fonts and their renderer decide, they are the same."""
    for tool in ("compare", "pdftoppm", "identify"):
        if not shutil.which(tool):
            tap.skip("the plates of the guide are as the program draws them now", f"{tool} is not there")
            return
    plates = [name for name, kind in pictures_listed().items() if kind == "plates"]
    stale = []
    with tempfile.TemporaryDirectory(prefix="flapwright-plates-") as fresh:
        subprocess.run(["bash", os.path.join(SOURCE, "src", "pictures"), BUILD, "plates", fresh], check=True, stdout=subprocess.DEVNULL)
        for name in plates:
            old, new = os.path.join(SOURCE, "docs", "pictures", name), os.path.join(fresh, name)
            with open(old, "rb") as a, open(new, "rb") as b:
                if a.read() == b.read():
                    continue
            told = subprocess.run(["compare", "-metric", "AE", "-fuzz", "25%", old + "[0]", new + "[0]", "null:"], capture_output=True,
                                  text=True, check=False)
            size = subprocess.run(["identify", "-format", "%w %h", new + "[0]"], capture_output=True, text=True, check=True).stdout
            width, height = (int(word) for word in size.split())
            differ = re.match(r"[\d.e+]+", told.stderr)
            if told.returncode > 1 or not differ or float(differ.group()) > 0.004 * width * height:
                stale.append(f"{name}: {told.stderr.strip()} of {width * height} pixels differ: draw it anew with src/pictures")
    tap.ok(len(plates) >= 10 and not stale, f"the {len(plates)} plates of the guide are as the program draws them now", "\n".join(stale))


if __name__ == "__main__":
    sys.exit(Tap().run([every_picture_is_made_shown_and_there, every_link_leads_somewhere, every_key_told_is_one, every_control_told_is_one,
                        every_kind_of_trouble_has_its_place, every_call_shown_runs_and_prints_what_is_shown, plates_are_fresh]))
