"""The settings' schema and the files for packagers say what the sources say.
Usage: test_packaging.py SOURCE."""
import glob
import os
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

SOURCE = sys.argv[1]
sys.path.insert(0, os.path.join(SOURCE, "tests", "cli"))
from tap import Tap

PACKAGING = os.path.join(SOURCE, "data", "packaging")
SCHEMA = os.path.join(SOURCE, "data", "org.flapwright.Flapwright.gschema.xml")
# What a meson.build asks for: its development package in Debian, its module in the manifest ("": the runtime has it).
NEEDED = {
    "glib-2.0": ("libglib2.0-dev", ""),
    "gio-2.0": ("libglib2.0-dev", ""),
    "gio-unix-2.0": ("libglib2.0-dev", ""),
    "cairo": ("libcairo2-dev", ""),
    "pangocairo": ("libpango1.0-dev", ""),
    "gtk4": ("libgtk-4-dev", ""),
    "gdk-pixbuf-2.0": ("libgdk-pixbuf-2.0-dev", ""),
    "libcjson": ("libcjson-dev", "cjson"),
    "lapacke": ("liblapacke-dev", "openblas"),
    "sundials_cvode": ("libsundials-dev", "sundials"),
    "sundials_nvecserial": ("libsundials-dev", "sundials"),
    "sundials_sunnonlinsolfixedpoint": ("libsundials-dev", "sundials"),
    "nlopt": ("libnlopt-dev", "nlopt"),
    "cminpack": ("libcminpack-dev", "cminpack"),
    "libzip": ("libzip-dev", "libzip"),
    "cgif": ("libcgif-dev", "cgif"),
    "md4c": ("libmd4c-dev", "md4c"),
}
FOR_TESTS = {"gsl", "simbody", "dl", "m"}  # optional, or the C library's


def read(*path):
    with open(os.path.join(*path), encoding="utf-8") as file:
        return file.read()


def run(*command, cwd=None):
    done = subprocess.run(command, cwd=cwd, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    return done.returncode, done.stdout.decode("utf-8", "replace")


def asked_for():
    """Every dependency and library that a meson.build asks for, tests included."""
    found = set()
    for folder, folders, names in os.walk(SOURCE):
        folders[:] = [f for f in folders if not f.startswith((".", "build"))]
        if "meson.build" in names:
            found |= set(re.findall(r"(?:\bdependency|find_library)\('([^']+)'", read(folder, "meson.build")))
    return found


def manifest(tap, says):
    try:
        import yaml
    except ImportError:
        tap.skip(says, "python3-yaml is not there")
        return None
    return yaml.safe_load(read(PACKAGING, "org.flapwright.Flapwright.yaml"))


def schema_and_program_know_the_same_keys(tap):
    if shutil.which("glib-compile-schemas"):
        status, said = run("glib-compile-schemas", "--strict", "--dry-run", os.path.dirname(SCHEMA))
        tap.ok(status == 0 and said == "", "the schema compiles without a complaint", said)
    tree = ElementTree.parse(SCHEMA).getroot()
    keys = {key.get("name"): key for key in tree.iter("key")}
    bare = [name for name, key in keys.items() if not (key.findtext("summary") and key.findtext("description"))]
    tap.ok(len(keys) > 10 and bare == [] and tree.get("gettext-domain") == "flapwright",
           "each key has a summary and a description, which are translated with the program", bare)
    code = "".join(read(path) for path in glob.glob(os.path.join(SOURCE, "src", "app", "*.c")))
    used = set(re.findall(r'\bg_settings_[gs]et_\w+ \([^;"]*?, "([\w-]+)"', code))
    used |= set(re.findall(r'fw_settings_(?:set_)?paths \([^;"]*?, "([\w-]+)"', code))
    tap.ok(used <= set(keys) and len(used) > 10, "the program asks for no key that is not there", sorted(used - set(keys)))
    idle = [name for name in keys if f'"{name}"' not in code]
    tap.ok(idle == [], "no key is there for nothing", idle)


def versions_are_the_same(tap):
    version = re.search(r"version: '([^']+)'", read(SOURCE, "meson.build")).group(1)
    entry = re.match(r"flapwright \((.+?)-[\w.]+\) ", read(PACKAGING, "debian", "changelog"))
    tap.ok(entry and entry.group(1) == version, "the Debian package has the version of the program", (version, entry))
    if not shutil.which("dpkg-parsechangelog"):
        tap.skip("the Debian changelog can be read", "dpkg-parsechangelog is not there")
        return
    status, said = run("dpkg-parsechangelog", "-l", os.path.join(PACKAGING, "debian", "changelog"))
    tap.ok(status == 0 and "warning" not in said and f"\nVersion: {version}-" in said, "the Debian changelog can be read", said)


def every_library_is_packaged_for(tap):
    asked = asked_for() - FOR_TESTS
    tap.ok(asked == set(NEEDED), "what the sources ask for is what is known here",
           f"not known: {sorted(asked - set(NEEDED))}, not asked for: {sorted(set(NEEDED) - asked)}")
    control = read(PACKAGING, "debian", "control")
    wanted = {package for package, _ in NEEDED.values()}
    missing = [p for p in sorted(wanted) if not re.search(rf"^ {re.escape(p)}[ ,]", control, re.M)]
    tap.ok(missing == [], "the Debian package builds with every library that is asked for", missing)
    says = "the Flatpak manifest builds every library that the runtime lacks"
    made = manifest(tap, says)
    if made is None:
        return
    modules = {module["name"] for module in made["modules"]}
    wanted = {module for _, module in NEEDED.values() if module}
    runtime = re.search(r"^# In the runtime: (.+)\.$", read(PACKAGING, "org.flapwright.Flapwright.yaml"), re.M).group(1)
    there = {name for name, (_, module) in NEEDED.items() if not module}
    tap.ok(modules == wanted | {"flapwright"} and set(runtime.split(", ")) == there, says, (sorted(modules), runtime))


def sandbox_is_small(tap):
    says = "the Flatpak has a display and nothing else"
    made = manifest(tap, says)
    if made is None:
        return
    allowed = {"--socket=wayland", "--socket=fallback-x11", "--share=ipc", "--device=dri"}
    tap.ok(set(made["finish-args"]) == allowed, says, made["finish-args"])
    loose = [module["name"] for module in made["modules"][:-1]
             if not all(s["type"] == "git" and s["url"].startswith("https://") and s.get("tag") for s in module["sources"])]
    tap.ok(loose == [] and made["modules"][-1]["sources"][0]["type"] == "dir", "each library has a tag, the program is that of the tree", loose)
    if not shutil.which("flatpak-builder"):
        tap.skip("flatpak-builder can read it", "flatpak-builder is not there")
        return
    with tempfile.TemporaryDirectory() as state:  # it leaves a folder even where it only reads
        status, said = run("flatpak-builder", "--show-manifest", os.path.join(PACKAGING, "org.flapwright.Flapwright.yaml"), cwd=state)
    tap.ok(status == 0 and '"org.flapwright.Flapwright"' in said, "flatpak-builder can read it", said)


def licence_is_whole(tap):
    words = " ".join(read(SOURCE, "LICENSE").split("\n\n", 2)[2].split())
    told = " ".join(line for line in read(PACKAGING, "debian", "copyright").split() if line != ".")
    tap.ok(words in told and "Copyright: 2026 The Flapwright contributors" in told, "the Debian package carries the licence word for word")


if __name__ == "__main__":
    sys.exit(Tap().run([schema_and_program_know_the_same_keys, versions_are_the_same, every_library_is_packaged_for,
                        sandbox_is_small, licence_is_whole]))
