#!/usr/bin/env python3
"""Installs into an empty folder and looks for what the desktop must find there.

usage: test-install.py MESON BUILD-FOLDER PREFIX

Where each file has to lie is written in the specifications of freedesktop.org: Desktop Entry, Icon Theme, Shared
MIME-info Database, AppStream; and for settings in GLib's GSettings documentation.
"""

import configparser
import os
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree
from pathlib import Path

ID = "org.sherdboard.Sherdboard"
MIME_TYPE = "application/x-sherdboard-trial+json"
MIME = "{http://www.freedesktop.org/standards/shared-mime-info}"
FILES = [
    "bin/sherd",
    "bin/sherdboard",
    f"share/applications/{ID}.desktop",
    f"share/metainfo/{ID}.metainfo.xml",
    f"share/glib-2.0/schemas/{ID}.gschema.xml",
    f"share/icons/hicolor/scalable/apps/{ID}.svg",
    f"share/icons/hicolor/symbolic/apps/{ID}-symbolic.svg",
    f"share/mime/packages/{ID}.xml",
    "share/sherdboard/trial.schema.json",
]


def read_launcher(prefix):
    launcher = configparser.ConfigParser(interpolation=None)
    launcher.optionxform = str
    launcher.read(prefix / f"share/applications/{ID}.desktop", encoding="utf-8")
    return launcher["Desktop Entry"]


def test_files_are_in_their_places(prefix):
    return [f"{name} is missing" for name in FILES if not (prefix / name).is_file()]


def test_launcher_and_file_type_agree(prefix):
    mime = ElementTree.parse(prefix / f"share/mime/packages/{ID}.xml").getroot()
    declared = mime.find(f"{MIME}mime-type")
    pattern = declared.find(f"{MIME}glob").get("pattern")
    found = []
    if declared.get("type") != MIME_TYPE or read_launcher(prefix)["MimeType"].strip(";") != MIME_TYPE:
        found.append("launcher and file type differ")
    if pattern != "*.sherdboard":
        found.append(f"the file type has the pattern {pattern}")
    return found


def test_program_says_the_version_of_the_description(prefix):
    environment = dict(os.environ, LC_ALL="C.UTF-8")
    run = subprocess.run([prefix / "bin/sherd", "--version"], capture_output=True, text=True, env=environment, check=False)
    release = ElementTree.parse(prefix / f"share/metainfo/{ID}.metainfo.xml").getroot().find("releases/release")
    wanted = f"sherd {release.get('version')}"
    said = run.stdout.partition("\n")[0]
    return [] if said == wanted else [f"the program says “{said}”, wanted “{wanted}”"]


def test_program_speaks_german(prefix):
    # Of the two ways to choose messages only LANGUAGE needs no locale to be installed (GNU gettext manual, 2.3.3).
    environment = dict(os.environ, LC_ALL="C.UTF-8", LANGUAGE="de", SHERD_LOCALE_DIR=str(prefix / "share/locale"))
    run = subprocess.run([prefix / "bin/sherd", "--help"], capture_output=True, text=True, env=environment, check=False)
    return [] if "Aufruf: sherd VERB DATEI" in run.stdout else [f"the help is not in German: {run.stdout[:80]}"]


def test_demo_comes_with_its_photographs(prefix):
    trial = prefix / "share/sherdboard/demo/demo.sherdboard"
    if not trial.is_file():
        return ["the demo trial is missing"]
    run = subprocess.run([prefix / "bin/sherd", "check", trial], capture_output=True, text=True, check=False)
    return [] if run.returncode == 0 else [run.stderr.strip()]


TESTS = [
    test_files_are_in_their_places,
    test_launcher_and_file_type_agree,
    test_program_says_the_version_of_the_description,
    test_program_speaks_german,
    test_demo_comes_with_its_photographs,
]


def install(meson, build, folder):
    run = subprocess.run(
        [meson, "install", "-C", build, "--no-rebuild", "--destdir", folder], capture_output=True, text=True, check=False)
    if run.returncode != 0:
        sys.exit(f"Bail out! {run.stdout}{run.stderr}")


def main(meson, build, prefix):
    print(f"1..{len(TESTS)}")
    n_failed = 0
    with tempfile.TemporaryDirectory() as folder:
        install(meson, build, folder)
        for number, test in enumerate(TESTS, 1):
            problems = test(Path(folder) / prefix.lstrip("/"))
            name = test.__name__.removeprefix("test_").replace("_", "-")
            print(f"{'not ok' if problems else 'ok'} {number} /house/install/{name}")
            for problem in problems:
                print(f"# {problem}")
            n_failed += bool(problems)
    return 1 if n_failed else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
