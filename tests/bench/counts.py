#!/usr/bin/env python3
"""Counts instructions of the work in counted.c and of whole commands with callgrind, and compares
them with those on record in counts.txt: one case that costs over 5 % more fails the run.

    tests/bench/counts.py BUILD [--record] [--docs]

BUILD is made with --buildtype=debugoptimized, as tests/run does. --record writes counts.txt anew,
--docs the table of docs/benchmarks.md. Counts are the same from run to run; another compiler or
another version of a library may change them, so both are named on top of the record."""
import os
import re
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
HERON = os.path.join(ROOT, "data", "demos", "heron.flap")
RECORD = os.path.join(HERE, "counts.txt")
PAGE = os.path.join(ROOT, "docs", "benchmarks.md")
ALLOWED = 1.05
# The same paths through the C library and pixman on every processor.
PLAIN = {"GLIBC_TUNABLES": "glibc.cpu.hwcaps=-AVX512F_Usable,-AVX2_Usable,-AVX_Usable,-FMA_Usable",
         "LC_ALL": "C.UTF-8", "G_SLICE": "always-malloc"}
COMMANDS = {
    "command-turn": ["turn", HERON],
    "command-check": ["check", HERON],
    "command-loads": ["loads", HERON],
    "command-cut": ["cut", HERON],
    "command-strip": ["strip", HERON, "-o", "OUT.png"],
    "command-templates": ["templates", HERON, "-o", "OUT.pdf"],
}


def counted(folder, command):
    """Instructions of one run."""
    done = subprocess.run(["valgrind", "--tool=callgrind", f"--callgrind-out-file={folder}/out", *command],
                          env={**os.environ, **PLAIN}, capture_output=True, text=True, check=False)
    found = re.search(r"Collected : (\d+)", done.stderr)
    if not found or done.returncode not in (0, 1):
        sys.exit(f"counts.py: {' '.join(command)}: {done.stderr.strip()[-400:]}")
    return int(found.group(1))


def measure(build):
    """Name -> instructions of one piece of work; of cases the difference of two runs, so that start and end do not count."""
    program = os.path.join(build, "tests", "bench", "counted")
    cli = os.path.join(build, "src", "cli", "flapwright-cli")
    for path in (program, cli):
        if not os.path.exists(path):
            sys.exit(f"counts.py: no {path}: ninja -C {build} {os.path.relpath(path, build)}")
    listed = subprocess.run([program, "cases"], capture_output=True, text=True, check=True).stdout
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        for line in listed.splitlines():
            name, times = line.split()
            n = int(times)
            once, twice = (counted(folder, [program, HERON, name, str(k)]) for k in (n, 2 * n))
            found[name] = (twice - once) // n
        for name, words in COMMANDS.items():
            found[name] = counted(folder, [cli, *[w.replace("OUT", f"{folder}/file") for w in words]])
    return found


def read_record(text):
    """Name -> instructions; what begins with # is not read."""
    rows = (line.split() for line in text.splitlines() if line.strip() and not line.startswith("#"))
    return {name: int(count) for name, count in rows}


def compare(record, found):
    """(table lines, names of what got dearer by more than is allowed, or is not on record)."""
    lines, bad = [], []
    for name, now in found.items():
        before = record.get(name)
        ratio = now / before if before else None
        mark = "" if ratio is not None and ratio <= ALLOWED else "  NOT ON RECORD" if ratio is None else "  DEARER"
        if mark:
            bad.append(name)
        lines.append(f"{name:24}{now:>14,}" + (f"{before:>14,}{ratio:8.3f}" if before else "") + mark)
    for name in record:
        if name not in found:
            bad.append(name)
            lines.append(f"{name:24}  no longer counted")
    return lines, bad


def machine():
    """What the counts were made with, one line each."""
    def first(*command):
        return subprocess.run(command, capture_output=True, text=True, check=True).stdout.splitlines()[0]

    with open("/proc/cpuinfo", encoding="utf-8") as file:
        name = re.search(r"model name\s*: (.*)", file.read())
    libraries = [f"{p} {first('pkg-config', '--modversion', p)}" for p in ("glib-2.0", "cairo", "pango", "gtk4")]
    return [first("gcc", "--version"), first("ldd", "--version"), ", ".join(libraries), first("valgrind", "--version"),
            f"{os.cpu_count()} x {name.group(1) if name else 'unknown processor'}"]


def write_docs(found):
    with open(PAGE, encoding="utf-8") as file:
        page = file.read()
    rows = "\n".join(f"| {name} | {count:,} |" for name, count in found.items())
    made = "; ".join(machine())
    table = f"<!-- counts -->\nCounted with {made}.\n\n| work | instructions |\n|---|---|\n{rows}\n<!-- end of counts -->"
    page, n = re.subn(r"<!-- counts -->.*<!-- end of counts -->", lambda _: table, page, flags=re.S)
    if n != 1:
        sys.exit(f"counts.py: {PAGE} has no place for the counts")
    with open(PAGE, "w", encoding="utf-8") as file:
        file.write(page)


def main(build, *options):
    found = measure(build)
    if "--record" in options:
        with open(RECORD, "w", encoding="utf-8") as file:
            file.write("".join(f"# {line}\n" for line in machine()))
            file.write("".join(f"{name} {count}\n" for name, count in found.items()))
    if "--docs" in options:
        write_docs(found)
    with open(RECORD, encoding="utf-8") as file:
        lines, bad = compare(read_record(file.read()), found)
    print("\n".join(lines))
    if bad:
        print(f"over 5 % dearer, or not on record: {', '.join(bad)}")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]) if len(sys.argv) > 1 else __doc__)
