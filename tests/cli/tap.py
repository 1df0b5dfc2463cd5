"""A small TAP printer: every check is one line that says what must hold."""
import sys
import traceback


class Tap:
    def __init__(self):
        self.count = 0
        self.failed = 0

    def ok(self, holds, name, detail=""):
        self.count += 1
        if holds:
            print(f"ok {self.count} - {name}")
        else:
            self.failed += 1
            print(f"not ok {self.count} - {name}")
            for line in str(detail).splitlines():
                print(f"# {line}")
        sys.stdout.flush()
        return holds

    def near(self, found, expected, tolerance, name):
        worst = max((abs(a - b) for a, b in zip(found, expected)), default=0)
        same_length = len(found) == len(expected)
        self.ok(same_length and worst <= tolerance, name, f"found {found}\nexpected {expected} within {tolerance}")

    def skip(self, name, why):
        self.count += 1
        print(f"ok {self.count} - {name} # SKIP {why}")

    def run(self, tests):
        """Runs each test; one that stops with an exception counts as failed and the rest go on."""
        for test in tests:
            try:
                test(self)
            except Exception:
                self.ok(False, f"{test.__name__} runs to its end", traceback.format_exc())
        print(f"1..{self.count}")
        return 1 if self.failed else 0
