#!/usr/bin/env python3
"""Count the tests of a run and tell about those that failed.

    tally.py TESTLOG      TESTLOG is meson's testlog.json: one JSON object a line, one line a test program

Every point of a program's TAP output counts as one test. A program that crashes, runs out of time, promises more
points than it gives, or ends badly without a failed point counts as one failed test more. A program that speaks no
TAP counts as one test. The last line is "N passed, N failed, N skipped"; the exit status is 1 when a test failed or
none ran.
"""

import json
import re
import sys
from collections import defaultdict
from dataclasses import dataclass, field

POINT = re.compile(r"^(not )?ok\b[ \t]*(\d+)?[ \t]*-?[ \t]*(.*)$")
PLAN = re.compile(r"^1\.\.(\d+)(?:[ \t]*#[ \t]*skip\b[ \t]*(.*))?$", re.IGNORECASE)
SKIPPED = re.compile(r"#[ \t]*skip\b", re.IGNORECASE)
LOG_LINES = 40


@dataclass
class Tally:
    passed: int = 0
    skipped: int = 0
    failures: list = field(default_factory=list)

    def __iadd__(self, other):
        self.passed += other.passed
        self.skipped += other.skipped
        self.failures += other.failures
        return self

    def __str__(self):
        return f"{self.passed} passed, {len(self.failures)} failed, {self.skipped} skipped"


def count_points(output):
    """Tally of TAP text, and how many points its plan promised (None without a plan)."""
    tally, planned = Tally(), None
    for line in output.splitlines():
        plan, point = PLAN.match(line), POINT.match(line)
        if plan:
            planned = int(plan[1])
            if planned == 0:
                tally.skipped += 1
        elif point and SKIPPED.search(point[3]):
            tally.skipped += 1
        elif point and point[1]:
            tally.failures.append(point[3] or f"point {point[2]}")
        elif point:
            tally.passed += 1
    return tally, planned


def count_program(record):
    """Tally of one test program."""
    tally, planned = count_points(record.get("stdout") or "")
    n_points = tally.passed + tally.skipped + len(tally.failures)
    result = record["result"]

    if n_points == 0 and planned is None:
        if result == "OK":
            tally.passed = 1
        elif result == "SKIP":
            tally.skipped = 1
        else:
            tally.failures.append(f"ended with {result}")
    elif planned and n_points < planned:
        tally.failures.append(f"{planned - n_points} of {planned} tests did not run ({result})")
    elif result not in ("OK", "SKIP", "EXPECTEDFAIL") and not tally.failures:
        tally.failures.append(f"ended with {result}")
    return tally


def suite_of(record):
    """The room: meson's names read "project:suite / room/program"."""
    return record["name"].split(" / ")[-1].split("/")[0]


def tell_failure(record, tally):
    print(f"\nFAILED: {record['name']}")
    for failure in tally.failures:
        print(f"  {failure}")
    text = (record.get("stdout") or "") + (record.get("stderr") or "")
    for line in [line for line in text.splitlines() if not line.startswith("ok ")][-LOG_LINES:]:
        print(f"  | {line}")


def read_log(path):
    try:
        with open(path, encoding="utf-8") as log:
            return [json.loads(line) for line in log if line.strip()]
    except FileNotFoundError:
        return []


def main(path):
    total, suites = Tally(), defaultdict(Tally)
    for record in read_log(path):
        tally = count_program(record)
        if tally.failures:
            tell_failure(record, tally)
        suites[suite_of(record)] += tally
        total += tally

    print()
    for name, tally in sorted(suites.items()):
        print(f"  {name:<10} {tally}".rstrip())
    print(total)
    return 1 if total.failures or total.passed == 0 else 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1]))
