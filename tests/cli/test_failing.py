"""Exports whose calls fail in turn, and designs made to do harm. The program is run with callwatch.c loaded before it.

    test_failing.py CLI SOURCE CALLWATCH CALLCONTROL [all [SEED]]

Without `all` only the first call of each kind and one of the others fail, and of exports of one file, which are written
alike, two kinds; they are chosen by a seed that is printed."""
import errno
import json
import os
import random
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import xml.etree.ElementTree
import zlib

from program import PROGRAM, demo, is_one_line, read_demo
from tap import Tap

WATCH = sys.argv[3]
CONTROL = sys.argv[4]
ALL = len(sys.argv) > 5 and sys.argv[5] == "all"
SEED = int(sys.argv[6]) if len(sys.argv) > 6 else random.randrange(1 << 30)
FIRST, MORE, MEMORY = (1000, 0, 200) if ALL else (1, 1, 3)
KINDS = {"open": errno.EACCES, "write": errno.ENOSPC, "part": errno.EIO, "fsync": errno.EIO, "close": errno.EDQUOT,
         "rename": errno.EIO, "mkdir": errno.EROFS}
runs = 0


class Watched:
    """One run; its calls as lines, and the tree of files afterwards."""

    def __init__(self, args, home, under="", fail="", program=PROGRAM):
        global runs
        runs += 1
        log = os.path.join(home, "calls.log")
        if os.path.exists(log):
            os.remove(log)
        environment = dict(os.environ, LC_ALL="C.UTF-8", LANGUAGE="", HOME=home, XDG_CACHE_HOME=os.path.join(home, "cache"),
                           LD_PRELOAD=WATCH, FW_CALLS_LOG=log, FW_CALLS_UNDER=under, FW_CALLS_FAIL=fail)
        done = subprocess.run([program, *args], env=environment, capture_output=True, check=False, cwd=home)
        self.status, self.err, self.out = done.returncode, done.stderr.decode("utf-8", "replace"), done.stdout
        with open(log, encoding="utf-8", errors="replace") as file:
            self.calls = file.read().splitlines()
        self.failed = any(line.startswith("failed ") for line in self.calls)

    def __str__(self):
        return f"exit {self.status}\n{self.err[:300]}"


def tree(folder):
    """Every file below, hidden ones too, as name: bytes; None for a folder."""
    found = {}
    for top, folders, files in os.walk(folder):
        for name in folders:
            found[os.path.relpath(os.path.join(top, name), folder)] = None
        for name in files:
            with open(os.path.join(top, name), "rb") as file:
                found[os.path.relpath(os.path.join(top, name), folder)] = file.read()
    return found


def restore(folder, files):
    shutil.rmtree(folder, ignore_errors=True)
    os.makedirs(folder)
    for name, data in sorted(files.items()):
        path = os.path.join(folder, name)
        if data is None:
            os.makedirs(path, exist_ok=True)
            continue
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "wb") as file:
            file.write(data)


def small_png(path):
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    with open(path, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", 8, 8, 8, 2, 0, 0, 0))
                   + chunk(b"IDAT", zlib.compress(b"\0" * (8 * 25))) + chunk(b"IEND", b""))


# ---- Failures in turn ----


def works(design, other, room):
    """Name, the call on a design, and that which wrote what stands there before: both to the same place."""
    def pair(*args):
        return [list(args[:1]) + [path] + [os.path.join(room, a[1:]) if a.startswith("@") else a for a in args[1:]]
                for path in (design, other)]
    yield "strip", *pair("strip", "-o", "@strip.png", "--frames", "2", "--frame-width", "80")
    yield "templates on paper", *pair("templates", "-o", "@cut.pdf", "--paper", "a3")
    yield "templates for a laser", *pair("templates", "-o", "@cut.svg", "--sheet", "900x900")
    yield "printed parts", *pair("parts", "-o", "@printed")
    yield "kit", *pair("kit", "-o", "@kit.pdf")
    yield "log as a folder", *pair("log", "--format", "markdown", "-o", "@book")
    yield "log as a file", *pair("log", "--format", "markdown", "-o", "@book.md")
    yield "animation", *pair("animate", "-o", "@turn.gif", "--frames", "12", "--width", "120")
    yield "scaled design", *pair("scale", "--by", "1.5", "-o", "@big.flap")


def write_design(path, name, title):
    design = read_demo(name)
    design["title"] = title
    entry = {"date": "2026-03-14", "note": "First turn", "pictures": [{"file": "turn.png"}], "design": design}
    with open(path, "w", encoding="utf-8") as file:
        json.dump(dict(design, log=[entry]), file)
    small_png(os.path.join(os.path.dirname(path), "turn.png"))
    return path


def numbers_to_fail(rand):
    """0, 1, ... and then, unless all are asked for, some of the later ones."""
    yield from range(FIRST)
    yield from sorted(rand.randrange(FIRST, 30) for _ in range(MORE))


def each_call_fails(tap, home, work, rand):
    name, call, before = work
    room = os.path.join(home, "room")
    restore(room, {})
    first = Watched(before, home)
    old = tree(room)
    clean = Watched(call, home)
    new = tree(room)
    if not (first.status < 2 and clean.status < 2 and old and new and set(old) == set(new)):
        tap.ok(False, f"{name}: is written over what was written before", clean)
        return
    failures, wrong = 0, []
    kinds = list(KINDS.items()) if ALL or len(old) > 1 or name == "strip" else rand.sample(list(KINDS.items())[:6], 2)
    for kind, number in kinds:
        for n in numbers_to_fail(rand):
            restore(room, old)
            run = Watched(call, home, room, f"{kind}:{n}:{number}")
            after = tree(room)
            if not run.failed:
                break
            failures += run.status == 2
            if run.status == 2 and not (after == old and is_one_line(run.err)):
                wrong.append(f"{kind} {n}: {run.err!r} {sorted(n for n in {**after, **old} if after.get(n) != old.get(n))}")
            elif run.status < 2 and after != new:
                wrong.append(f"{kind} {n}: said to be done; {sorted(n for n in {**after, **new} if after.get(n) != new.get(n))}")
            elif run.status not in (0, 1, 2):
                wrong.append(f"{kind} {n}: {run}")
    tap.ok(not wrong and failures > 0,
           f"{name}: whatever call fails, all files are old and one line says so, or all are new", "\n".join(wrong[:8]) or failures)


def every_export_is_whole_or_not_at_all(tap):
    rand = random.Random(SEED)
    with tempfile.TemporaryDirectory(prefix="flapwright-test-") as home:
        design = write_design(os.path.join(home, "new.flap"), "manta", "New")
        other = write_design(os.path.join(home, "old.flap"), "manta", "Old")
        for work in works(design, other, os.path.join(home, "room")):
            each_call_fails(tap, home, work, rand)


def folders_made_on_the_way_go_with_what_failed(tap):
    with tempfile.TemporaryDirectory(prefix="flapwright-test-") as home:
        room = os.path.join(home, "room")
        for kind, n in (("fsync", 0), ("fsync", 3), ("mkdir", 1), ("mkdir", 2), ("mkdir", 3)):
            restore(room, {"there": None, "there/mine": None})
            run = Watched(["parts", demo("moth"), "-o", os.path.join(room, "there", "a", "b", "printed")], home, room, f"{kind}:{n}:{KINDS[kind]}")
            left = tree(room)
            tap.ok(run.failed and run.status == 2 and is_one_line(run.err) and left == {"there": None, "there/mine": None},
                   f"{kind} fails the {n + 1}. time: the folders made for it are gone, and no other", f"{run} {sorted(left)}")


def memory_that_runs_out_leaves_the_file_whole(tap):
    """GLib ends the program where it gets no memory: the file must not show it."""
    rand, wrong = random.Random(SEED), []
    with tempfile.TemporaryDirectory(prefix="flapwright-test-") as home:
        room = os.path.join(home, "room")
        design = write_design(os.path.join(home, "new.flap"), "manta", "New")
        call = ["scale", design, "--by", "1.5", "-o", os.path.join(room, "big.flap")]
        restore(room, {"big.flap": b"old"})
        count = int(Watched(call, home, room, f"malloc:{1 << 60}:0").calls[-1].split()[1])
        new = tree(room)
        late = [count - 1 - i for i in range(MEMORY)]  # around the writing itself
        for n in sorted(late + [rand.randrange(count) for _ in range(MEMORY * 2)]):
            restore(room, {"big.flap": b"old"})
            run = Watched(call, home, room, f"malloc:{n}:0")
            if tree(room) not in ({"big.flap": b"old"}, new):
                wrong.append(f"allocation {n}: {run}")
    tap.ok(not wrong and count > 1000, "whichever allocation fails, the file is old or new", "\n".join(wrong) or count)


def a_full_disk_and_a_power_cut(tap):
    with tempfile.TemporaryDirectory(prefix="flapwright-test-") as home:
        path = os.path.join(home, "strip.png")
        run = Watched(["strip", demo("moth"), "-o", path, "--frames", "2", "--frame-width", "80"], home)
        steps = [line for line in run.calls if re.match("(open w|fsync|rename)", line) or line == f"open r {home}"]
        beside = steps[0].split(" ", 2)[2]
        tap.ok(steps == [f"open w {beside}", f"fsync {beside}", f"rename {beside} {path}", f"open r {home}", f"fsync {home}"]
               and os.path.dirname(beside) == home,
               "a file is written beside its place, synced, renamed, and the folder synced: a power cut leaves one or the other",
               "\n".join(steps))


# ---- Harm ----

EVIL = ["../../evil", "/tmp/evil-absolute", "a/b", "..", ".", "-rf", "$(touch evil)", "`touch evil`", "x;touch evil", "|touch evil",
        "<script>alert(1)</script>", "<b>bold", "&amp;\"'>", "%s%n%d%08x", "]]>", "](http://evil)", "\\evil", "=cmd()", "con", "a:b",
        "\u202egnp", "x" * 300, " "]


def evil_design():
    """A manta whose every name is meant for something else than a name."""
    design = read_demo("manta")
    given = {}

    def rename(name):
        if name not in given:
            given[name] = EVIL[len(given) % len(EVIL)] + ("" if len(given) < len(EVIL) else str(len(given)))
        return given[name]

    def walk(item):
        if isinstance(item, list):
            for one in item:
                walk(one)
        elif isinstance(item, dict):
            for key, one in item.items():
                if key in ("name", "throw", "panel", "on", "pipe") and isinstance(one, str) and one != "body":
                    item[key] = rename(one)
                else:
                    walk(one)
    walk({key: design[key] for key in ("crank", "body", "panels", "rods", "springs", "weights", "stock") if key in design})
    for key in ("look", "wishes", "versions"):
        design.pop(key, None)
    design["title"] = "../../<script>alert(1)</script> & $(touch evil) %s%n"
    return design, given


def what_it_may(line, home, room):
    """A call that an export may make."""
    word, _, rest = line.partition(" ")
    if word in ("allocated", "fsync"):
        return True
    if word == "open" and rest.startswith("r "):
        path = os.path.normpath(rest[2:])
        return path.startswith((home, "/usr/", "/etc/fonts", "/proc/", "/sys/", "/var/cache/fontconfig", os.path.dirname(WATCH))) \
            or path.startswith(os.path.normpath(sys.argv[2]) + "/data/") or path in ("/dev/null", "/dev/urandom")
    if word in ("open", "mkdir", "unlink", "rename"):
        places = re.findall(r"(?:^|(?<= ))/.*?(?= /|$)", rest)
        return bool(places) and all(os.path.normpath(p).startswith((room, os.path.join(home, "cache"))) for p in places)
    return False


def checks_of_written(room):
    """What is wrong with the files themselves."""
    for name, data in tree(room).items():
        if data is None:
            continue
        if name.endswith(".svg"):
            root = xml.etree.ElementTree.fromstring(data)
            tags = {node.tag.rpartition("}")[2] for node in root.iter()}
            if tags & {"script", "foreignObject", "image", "a", "use"}:
                yield f"{name}: {tags}"
        if name.endswith(".3mf"):
            import zipfile
            with zipfile.ZipFile(os.path.join(room, name)) as archive:
                for entry in archive.namelist():
                    if entry not in ("[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"):
                        yield f"{name}: holds {entry}"
                    if entry.endswith((".model", ".xml", ".rels")):
                        xml.etree.ElementTree.fromstring(archive.read(entry))
        if name.endswith(".md") and re.search(rb"(?<!\\)<script|(?<!\\)\]\(http", data):
            yield f"{name}: markup of the design's own"
        if name.endswith(".pdf") and re.search(rb"/(JavaScript|JS|Launch|URI|OpenAction|EmbeddedFile)\b", data):
            yield f"{name}: does more than show pages"


def names_of_a_design_are_only_names(tap):
    design, given = evil_design()
    with tempfile.TemporaryDirectory(prefix="flapwright-test-") as home:
        room = os.path.join(home, "deep", "er", "room")
        os.makedirs(room)
        path = os.path.join(home, "evil.flap")
        with open(path, "w", encoding="utf-8") as file:
            json.dump(design, file)
        before = set(os.listdir(home)), set(os.listdir("/tmp"))
        calls = [["turn", path], ["check", path, "--format", "json"], ["loads", path], ["tolerance", path, "--runs", "20"],
                 ["cut", path, "--format", "json"], ["cut", path, "--format", "csv"], ["versions", path],
                 ["log", path, "--add", "<script> [x](http://evil) $(touch evil)", "--date", "2026-03-14"],
                 ["log", path, "--format", "json"], ["flipbook", path, "-o", os.path.join(room, "f.pdf"), "--frames", "12"],
                 ["thumbnail", path, "-o", os.path.join(room, "t.png")]]
        calls += [call for _, call, _ in works(path, path, room)]
        wrong = []
        for call in calls:
            run = Watched(call, home)
            wrong += [f"{call[0]}: {line}" for line in run.calls if not what_it_may(line, home, room)
                      and not (call[:3] == ["log", path, "--add"] and re.match(f"(open w|rename|unlink) {home}/(.flapwright-|evil.flap)", line))]
            if run.status not in (0, 1):
                wrong.append(f"{call[0]}: {run}")
            if run.out.startswith(b"[") or run.out.startswith(b"{"):
                json.loads(run.out)
        tap.ok(not wrong and len(given) > 8, "no name of a design makes an export write elsewhere, start a program or open a socket",
               "\n".join(wrong[:12]) or given)
        left = (set(os.listdir(home)) - before[0] - {"calls.log", "cache"}) or any("evil" in name for name in os.listdir("/tmp"))
        tap.ok(not left and not any("evil" in name or "touch" in name for name in os.listdir(room)),
               "nothing is left outside the folder that was named", f"{left} {os.listdir(room)}")
        wrong = list(checks_of_written(room))
        tap.ok(not wrong, "names stay words in SVG, PDF, 3MF and Markdown", "\n".join(wrong))


def what_must_not_be_is_seen(tap):
    """The control: a program that does start others and open sockets is found out, by each way that there is."""
    with tempfile.TemporaryDirectory(prefix="flapwright-test-") as home:
        quiet = Watched(["nothing"], home, program=CONTROL)
        tap.ok(quiet.status == 0 and all(what_it_may(line, home, home) for line in quiet.calls), "a program that does neither is not accused", quiet.calls)
        for way in ("execve", "execv", "execvp", "execvpe", "execl", "execlp", "posix_spawn", "posix_spawnp", "system", "popen", "g_spawn",
                    "socket", "g_socket"):
            run = Watched([way], home, program=CONTROL)
            told = [line for line in run.calls if not what_it_may(line, home, home)]
            sought = "socket network" if "socket" in way else "exec /bin/true"
            tap.ok(run.status == 0 and sought in told, f"one that does by {way} is found out", f"{run} {run.calls}")


def pictures_of_a_log_stay_below_the_design(tap):
    with tempfile.TemporaryDirectory(prefix="flapwright-test-") as home:
        path, room = os.path.join(home, "sent.flap"), os.path.join(home, "room")
        design = read_demo("manta")
        secret = os.path.join(home, "secret")
        with open(secret, "w", encoding="utf-8") as file:
            file.write("nobody's business")
        os.symlink(secret, os.path.join(home, "photo.jpg"))

        def log_with(name):
            entry = {"date": "2026-03-14", "note": "x", "pictures": [{"file": name}],
                     "design": {key: value for key, value in design.items() if key != "log"}}
            with open(path, "w", encoding="utf-8") as file:
                json.dump(dict(design, log=[entry]), file)
        for name in ("../secret", "/etc/passwd", "a/../../secret", "..\\secret", "file:///etc/passwd", "http://evil/x.png"):
            log_with(name)
            run = Watched(["log", path, "--format", "markdown", "-o", room], home)
            tap.ok(run.status == 2 and is_one_line(run.err) and "file" in run.err and not os.path.exists(room),
                   f"a picture at {name} is refused with one line", run)
        log_with("photo.jpg")
        run = Watched(["log", path, "--format", "markdown", "-o", room], home)
        copied = [name for name, data in tree(room).items() if data is not None and b"nobody's business" in data]
        tap.ok(run.status == 0 and not copied, "what is no picture is not copied into a log, be it called one", f"{run}{copied}")


if __name__ == "__main__":
    result = Tap().run([every_export_is_whole_or_not_at_all, folders_made_on_the_way_go_with_what_failed,
                        memory_that_runs_out_leaves_the_file_whole, a_full_disk_and_a_power_cut,
                        what_must_not_be_is_seen,
                        names_of_a_design_are_only_names, pictures_of_a_log_stay_below_the_design])
    print(f"# seed {SEED}, {runs} runs")
    sys.exit(result)
