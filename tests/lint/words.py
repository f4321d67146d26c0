#!/usr/bin/env python3
"""Find what does not belong in the files: unfinished work, paths of one machine, straight quotes in what users read."""

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

# Written in pieces, so that this file does not find itself.
UNFINISHED = re.compile("|".join(["TO" "DO", "FIX" "ME", r"\bXX" r"X\b", "not " "implemented", "coming " "soon", "lorem " "ipsum"]))
MACHINE_PATH = re.compile(r"(?<![\w.$}{/*-])/(?:home|root|Users|wo" r"rk)/\w")
STRAIGHT_QUOTE = re.compile(r'\b_ ?\("(?:[^"\\]|\\.)*\\"')
ODD_SPACE = re.compile(r"[ \t]+$|\t", re.MULTILINE)

TEXT = {".c", ".h", ".py", ".sh", ".md", ".ui", ".css", ".xml", ".in", ".build", ".json", ".desktop", ".po", ".svg", ""}
SPACE_MATTERS = {".c", ".h", ".py", ".sh", ".ui", ".css", ".build"}


def tracked_text_files():
    listing = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True)
    for name in listing.stdout.split("\0"):
        path = Path(name)
        if name and path.suffix in TEXT and path.name != "LICENSE" and (ROOT / path).is_file():
            yield path


def check(path, text):
    if text and not text.endswith("\n"):
        yield f"{path}: the last line does not end"
    for number, line in enumerate(text.splitlines(), 1):
        if UNFINISHED.search(line):
            yield f"{path}:{number}: unfinished: {line.strip()}"
        if MACHINE_PATH.search(line):
            yield f"{path}:{number}: a path of one machine: {line.strip()}"
        if path.suffix == ".c" and path.parts[0] == "src" and STRAIGHT_QUOTE.search(line):
            yield f"{path}:{number}: users read typographic quotes: {line.strip()}"
        if path.suffix in SPACE_MATTERS and ODD_SPACE.search(line):
            yield f"{path}:{number}: a tab, or space at the end of the line"


def main():
    found = []
    for path in tracked_text_files():
        try:
            found += check(path, (ROOT / path).read_text(encoding="utf-8"))
        except UnicodeDecodeError:
            if path.suffix:
                found.append(f"{path}: not UTF-8")
    for problem in found:
        print(problem)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
