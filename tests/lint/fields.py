#!/usr/bin/env python3
"""Every field of the results and every verb of the command line is described in README.md."""

import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
COLUMN = re.compile(r'^\s*\{ "(\w+)",.*SHERD_COLUMN_', re.MULTILINE)
MEMBER = re.compile(r'json_object_set_\w*member \(\w+, "(\w+)"')
VERB = re.compile(r'^\s*\.name = "(\w+)"', re.MULTILINE)
FLAG_WORDS = re.compile(r"sherd_zone_flag_words\[\] = \{([^}]*)\}")


def source(pattern):
    return "\n".join(path.read_text(encoding="utf-8") for path in sorted((ROOT / "src").glob(pattern)))


def main():
    described = set(re.findall(r"`([^`]+)`", (ROOT / "README.md").read_text(encoding="utf-8")))
    flag_words = re.findall(r'"([\w-]+)"', "".join(FLAG_WORDS.findall(source("trial/members.c"))))
    verbs = source("batch/*.c")
    names = COLUMN.findall(source("trial/*results.c") + source("trial/paint-tables.c") + source("trial/import.c") + verbs) + MEMBER.findall(verbs) + VERB.findall(verbs)
    if not names or not flag_words:
        print("fields.py: finds no fields; the sources are written in another way than it expects")
        return 1
    missing = sorted(set(names + flag_words) - described)
    for name in missing:
        print(f"README.md: `{name}` is not described")
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main())
