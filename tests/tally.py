"""Adds up the test cases of meson's logs, shows what failed, and ends with `N passed, N failed`."""
import json
import re
import sys

CASE = re.compile(r"^\s*(not )?ok\b(?P<rest>.*)$")


def cases(entry):
    """(passed, failed, skipped, names of the failed) of one test program."""
    passed = failed = skipped = 0
    names = []
    for line in (entry.get("stdout") or "").splitlines():
        case = CASE.match(line)
        if not case:
            continue
        if re.search(r"#\s*skip", case["rest"], re.I):
            skipped += 1
        elif case.group(1):
            failed += 1
            names.append(case["rest"].strip())
        else:
            passed += 1
    fine = entry["result"] in ("OK", "SKIP", "EXPECTEDFAIL")
    if not fine and failed == 0:  # crashed, timed out, or no protocol: the program itself failed
        failed += 1
        names.append(entry["result"])
    if fine and passed + skipped == 0:
        passed += 1
    return passed, failed, skipped, names


def main(logs):
    total_passed = total_failed = total_skipped = 0
    for path in logs:
        build = path.split("/")[0]
        try:
            with open(path, encoding="utf-8") as log:
                entries = [json.loads(line) for line in log if line.strip()]
        except OSError as error:
            entries = []
            print(error)
        if not entries:
            print(f"{path}: no test ran")
            total_failed += 1
        for entry in entries:
            passed, failed, skipped, names = cases(entry)
            total_passed += passed
            total_failed += failed
            total_skipped += skipped
            mark = "FAILED" if failed else "ok"
            print(f"{mark:7}{build:15}{entry['name']:52}{passed:6} passed {entry.get('duration', 0):7.1f} s")
            for name in names:
                print(f"         not ok {name}")
            if failed:
                text = (entry.get("stderr") or "") + (entry.get("stdout") or "")
                print("\n".join(text.splitlines()[-40:]))
    if total_skipped:
        print(f"({total_skipped} skipped)")
    if total_passed == 0:
        total_failed += 1
    print(f"{total_passed} passed, {total_failed} failed")
    return 1 if total_failed else 0


sys.exit(main(sys.argv[1:]))
