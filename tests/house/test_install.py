"""What `meson install` puts where: installed into a folder of its own, looked at as a desktop and a shell would.
Usage: test_install.py BUILD SOURCE CLI PREFIX APP ("" where there is no window)."""
import glob
import os
import re
import shutil
import subprocess
import sys
import tempfile

BUILD, SOURCE, CLI, PREFIX, APP = sys.argv[1:6]
sys.path.insert(0, os.path.join(SOURCE, "tests", "cli"))
from tap import Tap

ROOT = tempfile.mkdtemp(prefix="flapwright-install-")
HERE = ROOT + PREFIX
SHARE = os.path.join(HERE, "share")
APP_ID = "org.flapwright.Flapwright"


def run(*command, **options):
    environment = dict(os.environ, LC_ALL="C.UTF-8", LANGUAGE="", **options.pop("env", {}))
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=environment, **options)
    return done.returncode, done.stdout.decode("utf-8", "replace")


def tool(tap, name, says):
    """True if the program is there; else the test is counted as skipped."""
    if shutil.which(name):
        return True
    tap.skip(says, f"{name} is not there")
    return False


def read(*path):
    with open(os.path.join(SHARE, *path), encoding="utf-8") as file:
        return file.read()


def verbs():
    """Verbs and their options as --help lists them: {verb: {long option}}."""
    names = [line.split()[0] for line in run(CLI, "--help")[1].splitlines() if re.match(r"  [a-z-]+ {2,}\S", line)]
    return {name: set(re.findall(r"^ +(?:-\w, )?(--[\w-]+)", run(CLI, name, "--help")[1], re.M)) for name in names}


def files_stand_in_their_place(tap):
    status, said = run("meson", "install", "-C", BUILD, "--no-rebuild", "--quiet", env={"DESTDIR": ROOT})
    tap.ok(status == 0, "it installs into a folder of one's choice", said)
    found = {os.path.relpath(os.path.join(folder, name), HERE) for folder, _, names in os.walk(ROOT) for name in names}
    with open(os.path.join(SOURCE, "tests", "house", "expected-install.txt"), encoding="utf-8") as file:
        expected = set(file.read().split())
    for name in sorted(glob.glob(os.path.join(SOURCE, "data", "demos", "*.flap"))):
        expected.add("share/flapwright/demos/" + os.path.basename(name))
    for folder, _, names in os.walk(os.path.join(SOURCE, "docs")):
        expected |= {"share/flapwright/docs/" + os.path.relpath(os.path.join(folder, n), os.path.join(SOURCE, "docs")) for n in names}
    with open(os.path.join(SOURCE, "po", "LINGUAS"), encoding="utf-8") as file:
        languages = [w for line in file for w in line.partition("#")[0].split()]
    expected |= {f"share/locale/{language}/LC_MESSAGES/flapwright.mo" for language in languages}
    if not APP:
        expected.discard("bin/flapwright")
    tap.ok(found == expected, "every file stands where it belongs, and nothing else is installed",
           f"missing: {sorted(expected - found)}\nnot expected: {sorted(found - expected)}")


def desktop_files_are_valid(tap):
    entry = os.path.join(SHARE, "applications", APP_ID + ".desktop")
    if tool(tap, "desktop-file-validate", "the desktop entry is valid"):
        status, said = run("desktop-file-validate", entry)
        tap.ok(status == 0 and said == "", "the desktop entry is valid", said)
    text = read("applications", APP_ID + ".desktop")
    actions = re.search(r"^Actions=(.*)$", text, re.M).group(1).strip(";").split(";")
    with open(os.path.join(SOURCE, "src", "app", "application.c"), encoding="utf-8") as file:
        application = file.read()
    tap.ok(len(actions) >= 2 and all(f"[Desktop Action {a}]" in text and f'.name = "{a}"' in application
                                     and f"Exec=flapwright --{a}\n" in text for a in actions),
           "each action of the entry is one of the program, by bus and by option", actions)
    service = read("dbus-1", "services", APP_ID + ".service")
    tap.ok("DBusActivatable=true" in text and f"Name={APP_ID}\n" in service and f"Exec={PREFIX}/bin/flapwright " in service,
           "the bus starts the program that was installed", service)
    if tool(tap, "appstreamcli", "the metainfo is valid"):
        status, said = run("appstreamcli", "validate", "--no-net", os.path.join(SHARE, "metainfo", APP_ID + ".metainfo.xml"))
        tap.ok(status == 0, "the metainfo is valid", said)
    if tool(tap, "appstreamcli", "icon, entry, metainfo and type belong together"):
        # appstreamcli looks for usr/ or for what is given; it reads a tree as a distributor's checker would.
        status, said = run("appstreamcli", "validate-tree", "--no-net", ROOT if PREFIX == "/usr" else tree_as_usr())
        tap.ok(status == 0, "icon, entry, metainfo and type belong together", said)


def tree_as_usr():
    other = os.path.join(ROOT, "as-usr")
    if not os.path.exists(other):
        shutil.copytree(HERE, os.path.join(other, "usr"), ignore=shutil.ignore_patterns("bin", "doc", "locale"))
    return other


def metainfo_tells_the_truth(tap):
    text = read("metainfo", APP_ID + ".metainfo.xml")
    pictures = re.findall(r"/pictures/([\w.-]+)</image>", text)
    sizes = re.findall(r'width="(\d+)" height="(\d+)"', text)
    real = []
    for name in pictures:
        with open(os.path.join(SOURCE, "docs", "pictures", name), "rb") as file:
            head = file.read(24)
        real.append((str(int.from_bytes(head[16:20], "big")), str(int.from_bytes(head[20:24], "big"))))
    tap.ok(len(pictures) >= 3 and sizes == real, "its pictures are drawn by the program, and as large as it says", (sizes, real))
    version = run(CLI, "--version")[1].split()[-1]
    tap.ok(f'<release version="{version}"' in text, "the newest release is this version", version)


def type_is_known(tap):
    base = os.path.join(ROOT, "types")
    os.makedirs(os.path.join(base, "mime", "packages"))
    shutil.copy(os.path.join(SHARE, "mime", "packages", "flapwright.xml"), os.path.join(base, "mime", "packages"))
    if tool(tap, "xmllint", "the type's file is well formed"):
        status, said = run("xmllint", "--noout", os.path.join(base, "mime", "packages", "flapwright.xml"))
        tap.ok(status == 0, "the type's file is well formed", said)
    if not tool(tap, "update-mime-database", "a design is known by its name and without it"):
        return
    status, said = run("update-mime-database", os.path.join(base, "mime"))
    tap.ok(status == 0 and "rror" not in said, "the type can be added to the desktop's", said)
    demo = os.path.join(SHARE, "flapwright", "demos", "owl.flap")
    nameless, empty = os.path.join(ROOT, "a design without ending"), os.path.join(ROOT, "empty.flap")
    shutil.copy(demo, nameless)
    open(empty, "w").close()
    where = {"XDG_DATA_HOME": base, "XDG_DATA_DIRS": "/usr/share"}
    kinds = [run("gio", "info", "-a", "standard::content-type", f, env=where)[1].split()[-1] for f in (demo, nameless)]
    tap.ok(kinds == ["application/x-flapwright-design"] * 2, "a design is known by its name and without it", kinds)
    other = os.path.join(ROOT, "other.json")
    with open(other, "w", encoding="utf-8") as file:
        file.write('{"format": "something else", "version": 1}\n')
    kind = run("gio", "info", "-a", "standard::content-type", other, env=where)[1].split()[-1]
    tap.ok(kind == "application/json", "other JSON stays what it is", kind)


def thumbnailer_draws(tap):
    line = re.search(r"^Exec=(.*)$", read("thumbnailers", "flapwright.thumbnailer"), re.M).group(1)
    out = os.path.join(ROOT, "small.png")
    uri = "file://" + os.path.join(SHARE, "flapwright", "demos", "moth.flap")
    words = [{"%s": "128", "%o": out, "%u": uri}.get(w, w) for w in line.split()]
    status, said = run(os.path.join(HERE, "bin", words[0]), *words[1:])
    with open(out, "rb") as file:
        head = file.read(24)
    tap.ok(status == 0 and head[:8] == b"\x89PNG\r\n\x1a\n" and max(head[19], head[23]) == 128,
           "the thumbnailer's line draws a picture of the size asked for", said)


def pages_are_whole(tap):
    pages = [os.path.join(SHARE, "man", "man1", name) for name in ("flapwright.1", "flapwright-cli.1")]
    if tool(tap, "mandoc", "the manual pages are sound"):
        status, said = run("mandoc", "-T", "lint", "-W", "warning", *pages)
        tap.ok(status == 0, "the manual pages are sound", said)
    if tool(tap, "groff", "the manual pages can be set"):
        status, said = run("groff", "-ww", "-man", "-z", "-Kutf8", *pages)
        tap.ok(status == 0 and said == "", "the manual pages can be set without a warning", said)
    tap.ok(not any(re.search(r"@[A-Z]+@", read("man", "man1", os.path.basename(p))) for p in pages), "nothing in them is left to fill in")
    page = read("man", "man1", "flapwright-cli.1").replace("\\-", "-")
    parts = dict(re.findall(r'^\.SS "([\w-]+) - .*?$(.*?)(?=^\.S[SH] )', page, re.M | re.S))
    known = verbs()
    short = {verb: sorted(o for o in options if f"\\fB{o}\\fR" not in parts.get(verb, "")) for verb, options in known.items()}
    tap.ok(len(known) >= 18 and parts.keys() == known.keys() and not any(short.values()),
           "flapwright-cli.1 tells of every verb and option that --help lists", short)
    if not APP:
        tap.skip("flapwright.1 tells of every option that --help lists", "there is no window")
        return
    options = set(re.findall(r"(--[\w-]+)", run(APP, "--help-all")[1]))
    page = read("man", "man1", "flapwright.1").replace("\\-", "-")
    tap.ok(len(options) >= 5 and all(f"\\fB{o}\\fR" in page for o in options), "flapwright.1 tells of every option that --help lists",
           sorted(options))


def complete_in_bash(line):
    """What bash offers for the last word of a line, taken apart as bash does."""
    words = [w for w in re.split(r"(=)|\s", line) if w] + ([""] if line.endswith(" ") else [])
    script = 'source "$0"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _flapwright_cli 2>/dev/null; printf "%s\\n" "${COMPREPLY[@]}"'
    said = run("bash", "--norc", "-c", script, os.path.join(SHARE, "bash-completion", "completions", "flapwright-cli"), *words,
               cwd=os.path.join(SHARE, "flapwright", "demos"))[1]
    return {word.rstrip("=") for word in said.split()}


def bash_completes(tap):
    known = verbs()
    tap.ok(complete_in_bash("flapwright-cli ") == set(known) | {"--help", "--version"}, "bash offers every verb")
    short = {v: sorted(options ^ complete_in_bash(f"flapwright-cli {v} --")) for v, options in known.items()}
    tap.ok(not any(short.values()), "bash offers every option of each verb, and no other", short)
    demos = {os.path.basename(f) for f in glob.glob(os.path.join(SHARE, "flapwright", "demos", "*.flap"))}
    tap.ok(complete_in_bash("flapwright-cli check ") == demos, "bash offers design files")
    tap.ok(complete_in_bash("flapwright-cli check h") == {"heron.flap"}, "and goes on from what is typed")
    tap.ok(complete_in_bash("flapwright-cli kit x --paper=") == {"a5", "a4", "letter"} == complete_in_bash("flapwright-cli kit x --paper "),
           "bash offers what an option takes, with and without the sign between")


def values_are_true(tap):
    """Each value that is offered is accepted; another is refused by name."""
    wrong = []
    tried = 0
    for verb, options in verbs().items():
        for option in options & {"--format", "--view", "--paper", "--lengths"}:
            offered = complete_in_bash(f"flapwright-cli {verb} x {option}=")
            tried += len(offered)
            out = ["-o", os.path.join(ROOT, "x.pdf")] if "--output" in options and verb != "versions" else []
            for value in offered:
                said = run(CLI, verb, os.path.join(ROOT, "nothing.flap"), f"{option}={value}", *out)[1]
                if f"{option}:" in said or f"“{value}”" in said:
                    wrong.append((verb, option, value, said))
            if not offered:
                wrong.append((verb, option, "nothing is offered"))
    tap.ok(tried > 40 and wrong == [], f"each of the {tried} values offered is one that the verb takes", wrong)


def other_shells_complete(tap):
    known = verbs()
    zsh = os.path.join(SHARE, "zsh", "site-functions", "_flapwright-cli")
    fish = os.path.join(SHARE, "fish", "vendor_completions.d", "flapwright-cli.fish")
    text = read("zsh", "site-functions", "_flapwright-cli")
    parts = dict(re.findall(r"^  ([\w-]+)\)$(.*?)^    ;;$", text, re.M | re.S))
    short = {v: sorted(o for o in options if not re.search(rf"'\*{o}=?\[", parts.get(v, ""))) for v, options in known.items()}
    tap.ok(text.startswith("#compdef flapwright-cli\n") and not any(short.values()), "zsh is told of every verb and option", short)
    if tool(tap, "zsh", "zsh can read it"):
        status, said = run("zsh", "-n", zsh)
        tap.ok(status == 0 and said == "", "zsh can read it", said)
    if tool(tap, "fish", "fish offers every verb and option"):
        ask = "; ".join(f"echo = {v}; complete -C 'flapwright-cli {v} --'" for v in known)
        said = run("fish", "--no-config", "-c", f"source {fish}; complete -C 'flapwright-cli '; {ask}", cwd=ROOT, env={"HOME": ROOT})[1]
        listed, *rest = said.split("= ")
        offered = {part.split()[0]: set(re.findall(r"^(--[\w-]+)", part, re.M)) for part in rest}
        tap.ok({w.split("\t")[0] for w in listed.splitlines()} == set(known) and offered == known,
               "fish offers every verb and option", said[:2000])


def programs_find_what_is_theirs(tap):
    """In a name space of its own: what was installed stands in the prefix, and the source's data is out of sight."""
    says = "the installed program finds demos and materials in its prefix, the source being away"
    script = 'mount --bind "$1" "$2" && mount -t tmpfs none "$3/data" && shift 3 && exec "$@"'
    if not os.path.isdir(PREFIX) or run("unshare", "-rm", "sh", "-c", script, "sh", HERE, PREFIX, SOURCE, "true")[0] != 0:
        tap.skip(says, "no name space of one's own to be had, or no folder for the prefix")
        return

    def hidden(*words):
        return run("unshare", "-rm", "sh", "-c", script, "sh", HERE, PREFIX, SOURCE, *words)

    program, demo = PREFIX + "/bin/flapwright-cli", PREFIX + "/share/flapwright/demos/heron.flap"
    source_demo = os.path.join(SOURCE, "data", "demos", "heron.flap")
    if not os.access(CLI, os.X_OK) or hidden("test", "-e", source_demo)[0] == 0:
        tap.ok(False, says, "the source's data is still there")
        return
    status, said = hidden(program, "check", demo)
    tap.ok(status == 0, "check of an installed demo finds nothing wrong", said)
    kept = hidden(program, "loads", demo, "--format", "json")
    at_home = run(CLI, "loads", source_demo, "--format", "json")
    os.rename(os.path.join(SHARE, "flapwright", "materials.json"), os.path.join(ROOT, "materials.json"))
    without = hidden(program, "loads", demo, "--format", "json")
    os.rename(os.path.join(ROOT, "materials.json"), os.path.join(SHARE, "flapwright", "materials.json"))
    tap.ok(kept == at_home and without != at_home, says, kept[1][:400])


def uninstalling_leaves_nothing(tap):
    """By the command that `ninja uninstall` runs, on the list of the installation above."""
    before = sum(len(names) for _, _, names in os.walk(HERE))
    shutil.rmtree(os.path.join(ROOT, "as-usr"), ignore_errors=True)
    status, said = run("meson", "--internal", "uninstall", cwd=BUILD)
    left = [os.path.join(folder, name) for folder, _, names in os.walk(HERE) for name in names]
    tap.ok(status == 0 and before > 20 and left == [], f"uninstalling takes all {before} files away", (left, said[-400:]))


def main():
    log = os.path.join(BUILD, "meson-logs", "install-log.txt")  # of an earlier installation: it stays what it was
    kept = None
    if os.path.exists(log):
        with open(log, "rb") as file:
            kept = file.read()
    try:
        return Tap().run([files_stand_in_their_place, desktop_files_are_valid, metainfo_tells_the_truth, type_is_known,
                          thumbnailer_draws, pages_are_whole, bash_completes, values_are_true, other_shells_complete,
                          programs_find_what_is_theirs, uninstalling_leaves_nothing])
    finally:
        shutil.rmtree(ROOT, ignore_errors=True)
        if kept is not None:
            with open(log, "wb") as file:
                file.write(kept)
        elif os.path.exists(log):
            os.remove(log)


if __name__ == "__main__":
    sys.exit(main())
