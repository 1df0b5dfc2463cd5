"""Prints what must be built for the tests of a build folder, but for those of the suites named after it.

    targets.py BUILD [--installed] SUITE...     --installed: and what is installed"""
import json
import os
import subprocess
import sys


def introspect(build, what):
    return json.loads(subprocess.run(["meson", "introspect", build, "--" + what], stdout=subprocess.PIPE, check=True).stdout)


def main():
    build, left_out = sys.argv[1], set(sys.argv[2:])
    targets = introspect(build, "targets")
    files = {t["id"]: t["filename"] for t in targets}
    needed = {f for t in targets if t["installed"] and "--installed" in left_out for f in t["filename"]}
    for test in introspect(build, "tests"):
        suites = {s.split(":")[-1] for s in test["suite"]}
        if not suites & left_out:
            for target in test["depends"]:
                needed.update(files.get(target, []))
    root = os.path.realpath(build)
    print(" ".join(sorted(os.path.relpath(f, root) for f in needed)))


main()
