#!/usr/bin/env python3
"""Every file with words for users is listed in po/POTFILES, and every translation holds together.

With --mend po/POTFILES is written anew.
"""

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MARKED_C = re.compile(r"\b(?:N?C?_|g_dngettext|g_dpgettext2|ngettext) ?\(")
MARKED_UI = re.compile(r'translatable="(?:yes|true|1)"')


def has_words(path):
    if path.suffix == ".c":
        return bool(MARKED_C.search((ROOT / path).read_text(encoding="utf-8")))
    if path.suffix == ".ui":
        return bool(MARKED_UI.search((ROOT / path).read_text(encoding="utf-8")))
    return path.name.endswith((".desktop.in", ".metainfo.xml.in")) or path == Path("data/materials.xml")


def tracked(*patterns):
    listing = subprocess.run(["git", "ls-files", "-z", *patterns], cwd=ROOT, check=True, capture_output=True, text=True)
    return [Path(name) for name in listing.stdout.split("\0") if name]


def read_list(name):
    lines = (ROOT / "po" / name).read_text(encoding="utf-8").splitlines()
    return [line.strip() for line in lines if line.strip() and not line.startswith("#")]


def files_with_words():
    return sorted(str(path) for path in tracked("src", "ui", "data") if has_words(path))


def mend_potfiles():
    (ROOT / "po" / "POTFILES").write_text("".join(f"{name}\n" for name in files_with_words()), encoding="utf-8")


def check_potfiles():
    listed, wanted = read_list("POTFILES"), files_with_words()
    for name in sorted(set(wanted) - set(listed)):
        yield f"po/POTFILES: {name} is missing (--mend adds it)"
    for name in sorted(set(listed) - set(wanted)):
        yield f"po/POTFILES: {name} has no words for users, or is not there (--mend removes it)"


def check_languages():
    listed = set(read_list("LINGUAS"))
    there = {path.stem for path in tracked("po/*.po")}
    for name in sorted(listed ^ there):
        yield f"po/LINGUAS: “{name}” stands in only one of LINGUAS and po/"


def check_catalogue(path):
    run = subprocess.run(
        ["msgfmt", "--check", "--statistics", "-o", "/dev/null", path], cwd=ROOT, capture_output=True, text=True,
        env={"LC_ALL": "C.UTF-8", "PATH": "/usr/local/bin:/usr/bin:/bin"}, check=False)
    if run.returncode != 0:
        yield run.stderr.strip()
    elif "untranslated" in run.stderr or "fuzzy" in run.stderr:
        yield f"{path}: {run.stderr.strip()}"


def main():
    if sys.argv[1:] == ["--mend"]:
        mend_potfiles()
    found = list(check_potfiles()) + list(check_languages())
    for path in tracked("po/*.po"):
        found += check_catalogue(path)
    for problem in found:
        print(problem)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
