#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Drives the window from outside, as a person with a screen reader and a mouse does.

Builds a trial from a rendered test tile whose colours are known, opens it, mixes a paint, goes through the stations,
picks the four corners of the tile with the mouse, measures, and reads a number in the table. Prints TAP.

usage: drive.py SHERDBOARD SHERD SCENE_FOLDER
"""

import os
import subprocess
import sys
import tempfile
import time

import pyatspi

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "data", "demo"))
sys.dont_write_bytecode = True
import make_trial  # noqa: E402: found through the path above

PATIENCE_S = 30.0
# Air that the canvas leaves around a photograph shown whole, px.
CANVAS_AIR_PX = 12
# A colour measured through the window may differ from the rendered truth by no more, ΔE*ab: far above what a well
# placed tile gives, far below what a misplaced one would.
LARGEST_ERROR = 4.0

def wait_for(what, found):
    """Calls found () until it gives something."""
    deadline = time.monotonic() + PATIENCE_S
    while time.monotonic() < deadline:
        try:
            result = found()
        except Exception:  # the tree changes while it is walked
            result = None
        if result:
            return result
        time.sleep(0.2)
    raise AssertionError("waited in vain for " + what)


def walk(node, depth=0):
    if node is None or depth > 40:
        return
    yield node
    for i in range(node.childCount):
        yield from walk(node.getChildAtIndex(i), depth + 1)


def find(root, name, role=None):
    for node in walk(root):
        if node.name == name and (role is None or node.getRoleName() == role):
            return node
    return None


def text_of(node):
    try:
        text = node.queryText()
        return text.getText(0, text.characterCount)
    except NotImplementedError:
        return node.name


def press(node):
    node.queryAction().doAction(0)
    time.sleep(0.6)


def key(*keys):
    subprocess.run(["xdotool", "key", *keys], check=True)
    time.sleep(0.5)


def application(pid):
    for app in pyatspi.Registry.getDesktop(0):
        if app is not None and app.get_process_id() == pid:
            return app
    return None


def click(x, y):
    subprocess.run(["xdotool", "mousemove", "%d" % round(x), "%d" % round(y)], check=True)
    time.sleep(0.3)
    subprocess.run(["xdotool", "click", "1"], check=True)
    time.sleep(0.4)


def photo_canvas(root, name):
    """Where the canvas with the photograph of that name lies in the window."""
    node = find(root, name, "panel")
    box = node.queryComponent().getExtents(pyatspi.WINDOW_COORDS) if node else None
    return box if box and box.width > 100 else None


def pick_corners(root, photo, width_px, height_px):
    """Clicks the four corners of the tile in the photograph that is shown whole."""
    box = wait_for("the photograph", lambda: photo_canvas(root, photo["file"]))
    zoom = min((box.width - 2 * CANVAS_AIR_PX) / width_px, (box.height - 2 * CANVAS_AIR_PX) / height_px)
    left = box.x + (box.width - zoom * width_px) / 2
    top = box.y + (box.height - zoom * height_px) / 2
    names = ["top left", "top right", "bottom right", "bottom left"]
    for name, (x_px, y_px) in zip(names, make_trial.tile_corners(photo)):
        pick_corner(root, name + " corner of the tile, at", left + zoom * x_px, top + zoom * y_px)


def pick_corner(root, begins_with, x, y):
    """Clicks until the mark is there: a click may come while the window is still busy."""
    for _ in range(5):
        if find(root, "Pick the marks"):
            press(find(root, "Pick the marks"))
        click(x, y)
        deadline = time.monotonic() + 3.0
        while time.monotonic() < deadline:
            if any(node.name.startswith(begins_with) for node in walk(root)):
                return
            time.sleep(0.2)
    raise AssertionError("no click placed the mark “%s”" % begins_with)


class Tap:
    def __init__(self):
        self.count = 0

    def ok(self, what):
        self.count += 1
        print("ok %d %s" % (self.count, what), flush=True)


def story(sherdboard, sherd, folder, tap):
    home = tempfile.mkdtemp()
    path = os.path.join(home, "trial.sherdboard")
    scene = make_trial.make_trial(sherd, folder, path, unmarked_states=("after",))
    os.environ.update(HOME=home, XDG_CACHE_HOME=home, XDG_STATE_HOME=home, XDG_CONFIG_HOME=home)
    program = subprocess.Popen([sherdboard, path])
    try:
        app = wait_for("the window", lambda: application(program.pid))
        wait_for("the rail", lambda: find(app, "Photographs", "push button"))
        window = subprocess.run(["xdotool", "search", "--sync", "--onlyvisible", "--pid", str(program.pid)],
                                capture_output=True, text=True, check=True).stdout.split()[0]
        subprocess.run(["xdotool", "windowfocus", "--sync", window], check=True)
        tap.ok("the trial opens")

        mix_a_paint(app)
        tap.ok("a paint is mixed with the keyboard and its grams are read")

        key("ctrl+2")
        wait_for("a zone of the piece", lambda: next(
            (n for n in walk(app) if n.name.startswith("Zone A1, PA1")), None))
        tap.ok("the piece shows its zones by code and paint")

        key("ctrl+3")
        after = [p for p in scene["photos"] if p["state"] == "after"][0]
        row = wait_for("the later photograph", lambda: next(
            (n for n in walk(app) if n.name.startswith("After firing 1, ")), None))
        assert "needs its marks" in row.name, row.name
        box = row.queryComponent().getExtents(pyatspi.WINDOW_COORDS)
        click(box.x + box.width / 2, box.y + box.height / 2)
        time.sleep(2.0)
        pick_corners(app, after, after["width"], after["height"])
        wait_for("the marks to be taken", lambda: next(
            (n for n in walk(app) if n.name.startswith("After firing 1, ") and "ready to be measured" in n.name), None))
        tap.ok("four corners are picked with the mouse")

        press(wait_for("the button", lambda: find(app, "Measure")))
        wait_for("the results", lambda: next((n for n in walk(app) if "±" in text_of(n)), None))
        tap.ok("measuring ends at the results")

        check_table(app, scene)
        tap.ok("the table tells the colour that was rendered")
    finally:
        program.terminate()
        program.wait(timeout=PATIENCE_S)


def type_text(text):
    subprocess.run(["xdotool", "type", text], check=True)
    time.sleep(0.5)


def says(app, text):
    return next((n for n in walk(app) if text in text_of(n)), None)


def mix_a_paint(app):
    """Two parts of malachite to one of kaolinite by mass: 9 g are 6 and 3 g."""
    key("ctrl+1")
    press(wait_for("the button for a paint", lambda: find(app, "New paint", "push button")))
    type_text("DRV")
    key("Tab", "Tab", "Tab", "Tab")
    for material, parts in (("malachite", "2"), ("kaolinite", "1")):
        key("Return")
        type_text(material)
        key("Return")
        type_text(parts)
    total = wait_for("the field for a total", lambda: find(app, "Dry powder in total, g"))
    total.queryEditableText().setTextContents("9")
    wait_for("6.0 g", lambda: says(app, "6.0 g"))
    wait_for("3.0 g", lambda: says(app, "3.0 g"))
    wait_for("the caution for copper", lambda: says(app, "Harmful as dust"))
    parts = find(app, "Parts of Malachite")
    parts.queryEditableText().setTextContents("two")
    wait_for("the refusal", lambda: says(app, "“two” is not a number"))
    assert text_of(parts) == "two", text_of(parts)
    assert says(app, "6.0 g"), "the grams went with the refused text"
    parts.queryEditableText().setTextContents("2")


def check_table(app, scene):
    """Reads the first row's colour before firing and holds it against the truth."""
    truth = [p for p in scene["photos"] if p["state"] == "before"][0]["zones"][0]
    rows = [text_of(n) for n in walk(app)]
    colours = [t for t in rows if t.count(",") == 2 and all(part.strip().replace("−", "").replace(".", "").isdigit()
                                                            for part in t.split(","))]
    assert colours, "no colour in the table"
    read = [float(part.replace("−", "-")) for part in colours[0].split(",")]
    error = sum((a - b) ** 2 for a, b in zip(read, truth["paint_visible_mean"]["lab_d50"])) ** 0.5
    assert error < LARGEST_ERROR, "read %s, rendered %s" % (read, truth["paint_visible_mean"]["lab_d50"])


def main():
    tap = Tap()
    print("TAP version 13")
    try:
        story(*sys.argv[1:4], tap)
    except Exception as problem:  # the test's result, whatever went wrong
        print("not ok %d %s: %s" % (tap.count + 1, type(problem).__name__, problem), flush=True)
        tap.count += 1
    print("1..%d" % tap.count)


main()
