#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Puts a trial together from rendered photographs and what is known of them.

usage: make_trial.py SHERD SCENE_FOLDER TRIAL

SCENE_FOLDER holds before and after pictures, truth.json and chart.cgats as render.py writes them. The trial gets the
tile, its zones and paints, both photographs with the tile's corners as marks, and the chart with its corners. Paints that
are in paints.csv beside this script get their recipes, of the materials in materials.csv and built-in ones. The demo trial
was made so:

    make_trial.py sherd . demo.sherdboard && sherd measure demo.sherdboard
"""

import csv
import json
import os
import subprocess
import sys

STAGES = {"before": "unfired", "after": "after firing 1"}
CORNERS = ("corner_top_left", "corner_top_right", "corner_bottom_right", "corner_bottom_left")
BARE = "bare control"
TITLE = "Which black stays black? Quenvar, spring firing"


def words(pixels):
    """Points as the command line takes them."""
    return " ".join("%g,%g" % tuple(point) for point in pixels)


def tile_corners(photo):
    """Where the corners of the tile lie in a photograph, from the top left one to the right, px."""
    marks = {mark["name"]: mark["px"] for mark in photo["landmarks"]}
    return [marks[name] for name in CORNERS]


def paint_code(zone):
    """Code of the paint, or None for a bare control."""
    if zone["paint_name"] == BARE:
        return None
    return zone.get("paint_code") or "P" + zone["id"]


def chart_options(scene, folder, photo):
    """Where the chart lies and how its patches are laid out; the scene's rectangles run upwards, the trial's down."""
    boxes = [patch["rect_mm"] for patch in scene["chart"]["patches"]]
    left = sorted({round(box[0], 3) for box in boxes})
    top = sorted({round(box[3], 3) for box in boxes}, reverse=True)
    width, height = boxes[0][2] - boxes[0][0], boxes[0][3] - boxes[0][1]
    frame_width, frame_height = scene["chart"]["frame_mm"]
    return ["--chart", os.path.join(folder, "chart.cgats"),
            "--chart-grid", "%dx%d" % (len(top), len(left)),
            "--chart-frame", "%gx%g" % (frame_width, frame_height),
            "--chart-margin", "%g,%g" % (left[0], frame_height - top[0]),
            "--chart-patch", "%gx%g" % (width, height),
            "--chart-gap", "%g,%g" % (left[1] - left[0] - width, top[0] - top[1] - height),
            "--chart-corners", words(photo["chart_frame_corners_px"])]


def zone_option(zone, tile_height):
    """A zone as the command line takes it; the scene's y runs upwards, the trial's down."""
    box = zone["geometry"]
    text = "%s=%g,%g,%g,%g" % (zone["id"], box["x0"], tile_height - box["y1"], box["x1"] - box["x0"],
                               box["y1"] - box["y0"])
    code = paint_code(zone)
    return ["--zone", text if code is None else "%s=%s" % (text, code)]


def add_recipes(sherd, path, codes):
    """Gives the paints their recipes, if it is they that the lists are about."""
    here = os.path.dirname(os.path.abspath(__file__))
    paints = os.path.join(here, "paints.csv")
    with open(paints, encoding="utf-8", newline="") as file:
        listed = {row["paint"] for row in csv.DictReader(file)}
    if listed == set(codes):
        for name in (os.path.join(here, "materials.csv"), paints):
            subprocess.run([sherd, "paint", path, "--import", name], check=True, stdout=subprocess.DEVNULL)


def make_trial(sherd, folder, path, unmarked_states=()):
    """Makes the trial; photographs at @unmarked_states get their chart but not the corners of the tile."""
    with open(os.path.join(folder, "truth.json"), encoding="utf-8") as file:
        scene = json.load(file)
    width, height = scene["piece"]["tile_mm"]
    names = {paint_code(zone): zone["paint_name"] for zone in scene["zones"] if paint_code(zone)}
    command = [sherd, "new", path, "--force", "--title", TITLE, "--ground", scene["ground"]["name"],
               "--tile", "%gx%gx%g" % (width, height, scene["piece"]["thickness_mm"])]
    for code, name in names.items():
        command += ["--paint", "%s=%s" % (code, name)]
    for zone in scene["zones"]:
        command += zone_option(zone, height)
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    add_recipes(sherd, path, names)
    for photo in scene["photos"]:
        command = [sherd, "photograph", path, os.path.join(folder, photo["file"]), "--stage", STAGES[photo["state"]]]
        if photo["state"] not in unmarked_states:
            command += ["--corners", words(tile_corners(photo))]
        subprocess.run(command + chart_options(scene, folder, photo), check=True, stdout=subprocess.DEVNULL)
    return scene


if __name__ == "__main__":
    make_trial(*sys.argv[1:4])
