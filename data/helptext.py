"""Reads what flapwright-cli says of itself, so that manual page and completion never fall behind it."""
import os
import re
import subprocess
from collections import namedtuple

Option = namedtuple("Option", "short long value text")
Verb = namedtuple("Verb", "name what summary options takes")  # takes: "FILE" or "[WORD]"

OPTION = re.compile(r"^  (?:-(\w), )?--([\w-]+)(?:=(\S+))?\s{2,}(.+)$")
VERB = re.compile(r"^  ([a-z][\w-]*)\s{2,}(\S.*)$")


def ask(cli, *args):
    """What the program answers, in English, whatever language the build machine speaks."""
    environment = dict(os.environ, LC_ALL="C.UTF-8", LANGUAGE="", ASAN_OPTIONS="detect_leaks=0")
    return subprocess.run([cli, *args, "--help"], env=environment, stdout=subprocess.PIPE, check=True).stdout.decode("utf-8")


def read_verb(cli, name, what):
    usage, _, listed = ask(cli, name).partition("\nOptions:\n")
    summary = " ".join(usage.split("\n\n", 1)[1].split())
    options = [Option(*match.groups()) for match in map(OPTION.match, listed.splitlines()) if match]
    takes = usage.splitlines()[1].split()[2]
    if not summary or not options:
        raise SystemExit(f"{cli} {name} --help: expected a summary and options")
    return Verb(name, what, summary, options, takes)


def read_verbs(cli):
    lines = ask(cli).splitlines()
    return [read_verb(cli, *match.groups()) for match in map(VERB.match, lines) if match]


def values(option):
    """The words an option may take, if it takes one of a few: “PDF: a4 (the default), a3 or one large sheet”."""
    if option.value == "UNIT":
        return ["mm", "inch"]
    if option.value not in ("FORMAT", "VIEW", "PAPER"):
        return []
    listed = re.sub(r"\([^)]*\)", "", option.text).rpartition(":")[2]
    return [words.split()[0] for words in re.split(r",\s*or\s|,|\sor\s", listed) if words.strip()]


def file_ending(option):
    """None: no file; "": any; else the ending of the files it takes."""
    if option.value is None or not re.search(r"OUT|FILE|DIR|M\.csv", option.value):
        return None
    return option.value.partition(".")[2]
