#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Render the photographs of a painted test tile, and write down what is true of them.

    render.py SCENE.json FOLDER [--scale 0.25] [--samples 2]

SCENE.json describes tile, ground, paints, chart, lamp, cameras (README.md says how). FOLDER receives for
each photograph the picture and its id picture, then truth.json and chart.cgats. POV-Ray 3.7 finds the
light at each pixel; the maps of reflectance that it is given are the truth. The same scene and seed give
the same pictures. --scale shrinks the pictures for a quick look.
"""

import argparse
import json
import os
import tempfile

import numpy as np
from PIL import Image

from tilescene import camera, planks, pov, surface, truth

NOISE_STREAM = 100


def render(scene, folder, scale=1.0, samples=2):
    """Render all photographs of a scene into a folder."""
    os.makedirs(folder, exist_ok=True)
    states = list(dict.fromkeys(photo["state"] for photo in scene["photos"]))
    faces = {state: surface.Face(scene, state) for state in states}
    found = truth.piece_truth(scene, faces)
    found["photos"] = []
    for number, photo in enumerate(scene["photos"]):
        photo = {**photo, "width": round(photo["width"] * scale), "height": round(photo["height"] * scale)}
        found["photos"].append(take(scene, photo, number, faces[photo["state"]], folder, samples))
    write_text(os.path.join(folder, "chart.cgats"), truth.cgats_text(scene))
    write_text(os.path.join(folder, "truth.json"), json.dumps(found, indent=1) + "\n")


def take(scene, photo, number, face, folder, samples):
    """Take one photograph: picture and id picture go to the folder, its truth is returned."""
    view = truth.place_camera(scene, photo)
    chart_face = surface.ChartFace(scene["chart"])
    light = traced_light(scene, photo, view, face, chart_face, samples)
    sight = truth.Sight(scene, photo, view, face, chart_face)
    values, gain = camera.expose(light, photo, whitest_patch_light(scene, sight, light))
    rng = np.random.default_rng([scene["seed"], NOISE_STREAM, number])
    codes = camera.to_codes(camera.add_noise(values, photo["sensor"], rng), photo["sensor"]["tone_curve"])
    with open(os.path.join(folder, photo["file"]), "wb") as file:
        file.write(camera.encoded_picture(codes, photo))
    Image.fromarray(sight.id).save(os.path.join(folder, photo["name"] + "_id.png"), optimize=True)
    return truth.photo_truth(scene, photo, sight, values, gain)


def traced_light(scene, photo, view, face, chart_face, samples):
    """The light at each pixel, as the ray tracer finds it."""
    with tempfile.TemporaryDirectory() as maps:
        pov.write_map(os.path.join(maps, "face.png"), pov.square(face.reflectance))
        pov.write_map(os.path.join(maps, "chart.png"), chart_face.reflectance)
        finish = np.where(face.code <= len(scene["zones"]), face.code, 0)
        pov.write_index(os.path.join(maps, "finish.png"), pov.square(finish.astype(np.uint8)))
        if face.height_mm is not None:
            pov.write_relief(os.path.join(maps, "relief.png"), pov.square(face.height_mm))
        if photo["table"]["kind"] == "planks":
            pov.write_map(os.path.join(maps, "table.png"), planks.plank_map(photo["table"]))
        return pov.trace(pov.scene_text(scene, photo, view), maps, view, samples)


def whitest_patch_light(scene, sight, light):
    """Mean light of the chart patch of the highest L*."""
    whitest = max(range(len(scene["chart"]["patches"])),
                  key=lambda k: scene["chart"]["patches"][k]["lab_d50"][0])
    return light[sight.id == truth.ID_FIRST_PATCH + whitest].mean(axis=0, dtype=float)


def write_text(path, text):
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("scene")
    parser.add_argument("folder")
    parser.add_argument("--scale", type=float, default=1.0, help="of the pictures' width and height")
    parser.add_argument("--samples", type=int, default=2, help="rays per pixel along each side")
    arguments = parser.parse_args()
    with open(arguments.scene, encoding="utf-8") as file:
        scene = json.load(file)
    render(scene, arguments.folder, arguments.scale, arguments.samples)


if __name__ == "__main__":
    main()
