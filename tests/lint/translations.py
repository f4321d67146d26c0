#!/usr/bin/env python3
"""Every file with words for users is listed in po/POTFILES, and every translation is whole and holds together.

With --mend po/POTFILES is written anew, and every translation brought into the order of the sources: messages that are
new stand there without translation, to be filled in; what the sources no longer say is gone.
"""

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MARKED_C = re.compile(r"\b(?:N?C?_|g_dngettext|g_dpgettext2|ngettext) ?\(")
MARKED_UI = re.compile(r'translatable="(?:yes|true|1)"')
# As meson's preset “glib” has them; what it says of formats beyond that, xgettext finds out by itself.
KEYWORDS = ["_", "N_", "C_:1c,2", "NC_:1c,2", "g_dcgettext:2", "g_dngettext:2,3", "g_dpgettext2:2c,3"]
FAULTS = {
    "not translated (--mend puts it in its place)": ["--untranslated", "--no-obsolete"],
    "the translation is unsure": ["--only-fuzzy", "--no-obsolete"],
    "not in the sources any more (--mend removes it)": ["--only-obsolete"],
}


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


def gettext(*command):
    # The rules for data/materials.xml lie in po/its.
    environment = {**os.environ, "LC_ALL": "C.UTF-8", "GETTEXTDATADIRS": str(ROOT / "po")}
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, env=environment, check=False)


def extract(template):
    run = gettext("xgettext", "--from-code=UTF-8", "--add-comments", *(f"--keyword={keyword}" for keyword in KEYWORDS),
                  "--files-from=po/POTFILES", f"--output={template}")
    if run.returncode != 0 or not template.exists():
        sys.exit(f"po/POTFILES: {run.stderr.strip()}")


def merge(catalogue, template, merged):
    run = gettext("msgmerge", "--quiet", "--no-fuzzy-matching", "--no-wrap", f"--output-file={merged}",
                  str(catalogue), str(template))
    if run.returncode != 0:
        sys.exit(f"{catalogue}: {run.stderr.strip()}")


def keep_date(merged, catalogue):
    """Without this every mending would change the date, and with it the file."""
    line = re.compile(r'^"POT-Creation-Date: .*$', re.MULTILINE)
    kept = line.search((ROOT / catalogue).read_text(encoding="utf-8")).group()
    merged.write_text(line.sub(lambda _: kept, merged.read_text(encoding="utf-8"), count=1), encoding="utf-8")


def mend_catalogue(catalogue, template, merged):
    merge(catalogue, template, merged)
    keep_date(merged, catalogue)
    gettext("msgattrib", "--no-obsolete", "--no-location", "--no-wrap", f"--output-file={catalogue}", str(merged))


def messages(selection, merged):
    """The entries that msgattrib selects, but for the head of the file."""
    entries = gettext("msgattrib", *selection, "--no-wrap", str(merged)).stdout.strip().split("\n\n")
    return [entry for entry in entries[1:] if entry]


def check_catalogue(catalogue, template, merged):
    merge(catalogue, template, merged)
    for what, selection in FAULTS.items():
        for entry in messages(selection, merged):
            yield f"{catalogue}: {what}:\n{entry}\n"
    run = gettext("msgfmt", "--check", "--output-file=/dev/null", str(merged))
    if run.returncode != 0:
        yield f"{catalogue}: {run.stderr.strip()}"


def each_catalogue(treat):
    with tempfile.TemporaryDirectory() as folder:
        template, merged = Path(folder) / "sherdboard.pot", Path(folder) / "merged.po"
        extract(template)
        for catalogue in tracked("po/*.po"):
            yield treat(catalogue, template, merged)


def main():
    if sys.argv[1:] == ["--mend"]:
        mend_potfiles()
        list(each_catalogue(mend_catalogue))
    found = list(check_potfiles()) + list(check_languages())
    for problems in each_catalogue(check_catalogue):
        found += problems
    for problem in found:
        print(problem)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
