#!/usr/bin/env python3
"""Tests of tests/tally.py. The TAP texts follow the Test Anything Protocol, version 13; the counts are by hand."""

import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
import tally  # noqa: E402

# name, TAP output, meson's result, then (passed, failed, skipped) that must come out
CASES = [
    ("all-points-pass", "1..2\nok 1 /a\nok 2 /b\n", "OK", (2, 0, 0)),
    ("a-failed-point-counts", "1..2\nok 1 /a\nnot ok 2 /b\n", "FAIL", (1, 1, 0)),
    ("a-skipped-point-counts", "1..2\nok 1 /a\nok 2 /b # SKIP no display\n", "OK", (1, 0, 1)),
    ("a-crash-loses-the-points-promised", "1..5\nok 1 /a\nok 2 /b\n", "ERROR", (2, 1, 0)),
    ("a-time-out-is-a-failure", "1..2\nok 1 /a\n", "TIMEOUT", (1, 1, 0)),
    ("a-death-before-the-plan-is-a-failure", "", "ERROR", (0, 1, 0)),
    ("a-bad-end-after-good-points-is-a-failure", "1..1\nok 1 /a\n", "ERROR", (1, 1, 0)),
    ("a-program-skipped-whole", "1..0 # SKIP no display\n", "SKIP", (0, 0, 1)),
    ("no-tap-but-good", "hello\n", "OK", (1, 0, 0)),
    ("no-tap-and-bad", "hello\n", "FAIL", (0, 1, 0)),
    ("comments-are-no-points", "# ok 1\n# not ok 2\n1..1\nok 1 /a\n", "OK", (1, 0, 0)),
]


def main():
    print(f"1..{len(CASES)}")
    n_failed = 0
    for number, (name, output, result, wanted) in enumerate(CASES, 1):
        found = tally.count_program({"name": name, "stdout": output, "result": result})
        counts = (found.passed, len(found.failures), found.skipped)
        n_failed += counts != wanted
        print(f"{'ok' if counts == wanted else 'not ok'} {number} /house/tally/{name}")
        if counts != wanted:
            print(f"# wanted {wanted}, found {counts}")
    return 1 if n_failed else 0


if __name__ == "__main__":
    sys.exit(main())
