#!/usr/bin/env python3
"""Hold the house to its rules: what stands at the top, which room may include which, where GTK may be used."""

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

TOP_LEVEL = {"src", "data", "ui", "tests", "po", "meson.build", "README.md", "DEVELOPERS.md", "LICENSE"}

# A room may include itself and these; the order is that of DEVELOPERS.md.
ROOMS = {
    "colour": set(),
    "chem": set(),
    "shape": set(),
    "photo": {"colour"},
    "measure": {"colour", "shape", "photo"},
    "plan": {"chem", "shape"},
    "trial": {"colour", "chem", "shape", "photo", "measure", "plan"},
    "page": {"colour", "chem", "shape", "photo", "measure", "plan", "trial"},
    "batch": {"colour", "chem", "shape", "photo", "measure", "plan", "trial", "page"},
    "desk": {"colour", "chem", "shape", "photo", "measure", "plan", "trial", "page"},
}

LOCAL_INCLUDE = re.compile(r'^\s*#\s*include\s*"([^"]+)"', re.MULTILINE)
GTK_INCLUDE = re.compile(r"^\s*#\s*include\s*[<\"](gtk|gdk|gsk)/", re.MULTILINE)
FIRST_INCLUDE = re.compile(r"^\s*#\s*include\s*(\S+)", re.MULTILINE)


def tracked_files():
    listing = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True)
    return [Path(name) for name in listing.stdout.split("\0") if name]


def check_top_level(files):
    for name in sorted({path.parts[0] for path in files}):
        if name not in TOP_LEVEL and not name.startswith("."):
            yield f"{name}: does not belong at the top, which holds {', '.join(sorted(TOP_LEVEL))}"


def check_source(path, text):
    """Problems of one C file in src/."""
    room = path.parts[1]
    if room not in ROOMS or len(path.parts) != 3:
        yield f"{path}: a source file lies directly in one of the rooms {', '.join(ROOMS)}"
        return
    for name in LOCAL_INCLUDE.findall(text):
        other = name.split("/")[0]
        if name != "config.h" and "/" not in name:
            yield f'{path}: write the room too: "{room}/{name}"'
        elif other in ROOMS and other != room and other not in ROOMS[room]:
            yield f"{path}: {room} may not include {name}"
    if room != "desk" and GTK_INCLUDE.search(text):
        yield f"{path}: only desk may include GTK"
    if path.suffix == ".c" and FIRST_INCLUDE.findall(text)[:1] != ['"config.h"']:
        yield f'{path}: "config.h" comes first'


def check_mirror(files):
    """tests/<room>/test-<thing>.c tests src/<room>/<thing>.c, or a story that goes through several things."""
    rooms_with_tests = {path.parts[1] for path in files if path.match("tests/*/test-*.c")}
    for room in sorted({path.parts[1] for path in files if path.match("src/*/*.c")} - rooms_with_tests):
        yield f"src/{room}: has no test in tests/{room}"


def problems():
    files = tracked_files()
    yield from check_top_level(files)
    yield from check_mirror(files)
    for path in files:
        if path.parts[0] == "src" and path.suffix in (".c", ".h"):
            yield from check_source(path, (ROOT / path).read_text(encoding="utf-8"))


def main():
    found = list(problems())
    for problem in found:
        print(problem)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
