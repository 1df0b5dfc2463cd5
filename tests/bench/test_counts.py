#!/usr/bin/env python3
"""What counts.py decides, on made-up counts; and that its record and its page name the same cases."""
import re
import sys

import counts


def dearer_by_more_than_five_percent_fails():
    lines, bad = counts.compare({"a": 1000, "b": 1000}, {"a": 1051, "b": 1049})
    return bad == ["a"] and "DEARER" in lines[0] and "DEARER" not in lines[1]


def cheaper_passes():
    return counts.compare({"a": 1000}, {"a": 10})[1] == []


def what_is_not_on_record_or_no_longer_counted_fails():
    return counts.compare({"old": 5}, {"new": 5})[1] == ["new", "old"]


def remarks_of_the_record_are_not_read():
    return counts.read_record("# gcc 12\n\na 12\nb 7\n") == {"a": 12, "b": 7}


def record_and_page_name_the_same_counts():
    with open(counts.RECORD, encoding="utf-8") as file:
        record = counts.read_record(file.read())
    with open(counts.PAGE, encoding="utf-8") as file:
        table = file.read().split("<!-- counts -->")[1].split("<!-- end of counts -->")[0]
    rows = {name: int(count.replace(",", "")) for name, count in re.findall(r"^\| ([a-z-]+) \| ([\d,]+) \|$", table, re.M)}
    return len(record) >= 15 and rows == record


TESTS = [dearer_by_more_than_five_percent_fails, cheaper_passes, what_is_not_on_record_or_no_longer_counted_fails,
         remarks_of_the_record_are_not_read, record_and_page_name_the_same_counts]
print(f"1..{len(TESTS)}")
failed = 0
for number, test in enumerate(TESTS, 1):
    fine = test()
    failed += not fine
    print(f"{'ok' if fine else 'not ok'} {number} - {test.__name__.replace('_', ' ')}")
sys.exit(1 if failed else 0)
