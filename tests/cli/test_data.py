"""What is installed beside the programs: the desktop must be able to read it."""
import glob
import os
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as tree

from program import SOURCE
from tap import Tap

DATA = os.path.join(SOURCE, "data")
ENTRY = os.path.join(DATA, "org.flapwright.Flapwright.desktop")


def entry_keys():
    with open(ENTRY, encoding="utf-8") as file:
        return dict(line.rstrip("\n").split("=", 1) for line in file if "=" in line)


def desktop_entry_is_valid(tap):
    keys = entry_keys()
    if shutil.which("desktop-file-validate") is None:
        tap.skip("the desktop entry is valid", "desktop-file-validate is not there")
    else:
        told = subprocess.run(["desktop-file-validate", ENTRY], stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        tap.ok(told.returncode == 0 and told.stdout == b"", "the desktop entry is valid", told.stdout)
    with open(os.path.join(SOURCE, "src", "app", "application.h"), encoding="utf-8") as file:
        name = re.search(r'FW_APP_ID\s+"([^"]+)"', file.read()).group(1)
    tap.ok(keys["Icon"] == name and os.path.basename(ENTRY) == name + ".desktop",
           "entry and icon bear the program's name, so that the desktop can match its window", (keys["Icon"], name))
    tap.ok(keys["Exec"].split()[0] == "flapwright", "it starts the program that is installed", keys["Exec"])


def mime_type_is_defined(tap):
    root = tree.parse(os.path.join(DATA, "flapwright-mime.xml")).getroot()
    space = "{http://www.freedesktop.org/standards/shared-mime-info}"
    kind = root.find(space + "mime-type")
    tap.ok(kind.get("type") + ";" == entry_keys()["MimeType"], "the entry opens the type that is defined", kind.get("type"))
    tap.ok(kind.find(space + "glob").get("pattern") == "*.flap", "the type is known by its ending")


def icon_is_a_picture(tap):
    icons = glob.glob(os.path.join(DATA, "icons", "hicolor", "scalable", "apps", "*.svg"))
    tap.ok([os.path.basename(i) for i in icons] == [entry_keys()["Icon"] + ".svg"], "there is the icon that the entry names", icons)
    root = tree.parse(icons[0]).getroot()
    tap.ok(root.get("viewBox") == "0 0 128 128" and len(root) > 5, "it is square and drawn", root.attrib)


def docs_point_somewhere(tap):
    """Every link and picture in our pages leads to a file that is there."""
    pages = [os.path.join(SOURCE, p) for p in ("README.md", "DEVELOPERS.md")] + sorted(
        glob.glob(os.path.join(SOURCE, "docs", "*.md")))
    broken = []
    for page in pages:
        with open(page, encoding="utf-8") as file:
            links = re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", file.read())
        broken += [(os.path.basename(page), link) for link in links if not link.startswith(("http:", "https:"))
                   and not os.path.exists(os.path.join(os.path.dirname(page), link))]
    tap.ok(len(pages) >= 6 and broken == [], "every link in the pages leads to a file", broken)


if __name__ == "__main__":
    sys.exit(Tap().run([desktop_entry_is_valid, mime_type_is_defined, icon_is_a_picture, docs_point_somewhere]))
