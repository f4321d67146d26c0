#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Hold rendered photographs against their own truth, as an oracle that knows the light.

    check_truth.py FOLDER…

The finished picture file is decoded, the light that truth.json states (lamp cosine and fall-off, ambient,
fill, vignetting) is divided out, the chart's patches give one 3×3 matrix, and each matt zone's mean is
compared with paint_visible_mean. What is left is noise, blur and the file's own loss. Also: the pictures'
edges are compared with the id picture, which is drawn without the ray tracer; a shift of a fraction of a
pixel between the two would show. Exits with status 1 if a scene is off.
"""

import json
import os
import sys

import numpy as np
from PIL import Image

from tilescene.camera import vignette
from tilescene.colour import decode_srgb, lab_d50_from_linear
from tilescene.truth import ID_FIRST_PATCH

# Rims of zones and patches carry the neighbour's light by blur and chroma subsampling.
RIM_PX = 4

# Zones with fewer pixels than this inside their rim say little.
FEWEST_PIXELS = 400

# Mean ΔE*ab of a photograph's matt zones that is still noise and coding.
MOST_MEAN_DE76 = 0.6

# Largest shift between picture and id picture, in pixels.
MOST_SHIFT_PX = 0.1


def linear_picture(folder, photo):
    """The picture file as linear light, the camera's contrast curve undone."""
    codes = np.asarray(Image.open(os.path.join(folder, photo["file"])).convert("RGB"))
    level = np.arange(256) / 255
    if photo["tone_curve"]:
        finer = np.linspace(0, 1, 4001)
        bent = finer - photo["tone_curve"]["strength"] * np.sin(2 * np.pi * finer) / (2 * np.pi)
        level = np.interp(level, bent, finer)
    return decode_srgb(level)[codes]


def light_on_level(photo, z_mm):
    """Light that falls on a level surface at each pixel, up to one factor per channel."""
    projection, light = np.array(photo["camera"]["P"]), photo["light"]
    plane = np.column_stack([projection[:, 0], projection[:, 1], projection[:, 2] * z_mm + projection[:, 3]])
    u, v = np.meshgrid(np.arange(photo["width"]) + 0.5, np.arange(photo["height"]) + 0.5)
    ray = np.linalg.inv(plane) @ np.stack([u.ravel(), v.ravel(), np.ones(u.size)])
    points = np.column_stack([ray[0] / ray[2], ray[1] / ray[2], np.full(u.size, z_mm)])
    total = from_source(points, light, light["lamp_position_mm"], light["falloff_exponent"])[:, None] \
        * light["lamp_linear_rgb"] + light["ambient_linear_rgb"]
    if light.get("fill"):
        total += from_source(points, light, light["fill"]["position_mm"], 2)[:, None] * light["fill"]["linear_rgb"]
    return total.reshape(u.shape + (3,)) * vignette(u.shape, photo["vignetting"])[..., None]


def from_source(points, light, position_mm, exponent):
    ray = np.array(position_mm) - points
    distance = np.linalg.norm(ray, axis=1)
    full = np.linalg.norm(np.array(position_mm) - light["scene_centre_mm"])
    return ray[:, 2] / distance * 2 / (1 + (distance / full) ** exponent)


def eroded(mask, reach):
    """The mask less its rim."""
    kept = mask.copy()
    for axis in (0, 1):
        for step in range(1, reach + 1):
            kept &= np.roll(mask, step, axis) & np.roll(mask, -step, axis)
        mask = kept.copy()
    return kept


def chart_matrix(truth, picture, light, ids):
    """The 3×3 matrix from light-free sensor values to reflectance, by least squares on the chart."""
    seen, known = [], []
    for k, patch in enumerate(truth["chart"]["patches"]):
        pixels = eroded(ids == ID_FIRST_PATCH + k, RIM_PX)
        seen.append((picture[pixels] / light[pixels]).mean(axis=0))
        known.append(patch["linear_srgb"])
    return np.linalg.lstsq(np.array(seen), np.array(known), rcond=None)[0]


def zone_errors(truth, photo, picture, ids):
    """ΔE*ab of each zone's eroded paint to the truth over the same pixels' zone, with its gloss."""
    chart_z_mm = truth["chart"]["thickness_mm"] - truth["piece"]["thickness_mm"]
    matrix = chart_matrix(truth, picture, light_on_level(photo, chart_z_mm), ids)
    light = light_on_level(photo, 0.0)
    errors = []
    for k, zone in enumerate(photo["zones"]):
        pixels = eroded(ids == k + 1, RIM_PX)
        if pixels.sum() < FEWEST_PIXELS or zone["clipped_fraction"] > 0:
            continue
        found = ((picture[pixels] / light[pixels]) @ matrix).mean(axis=0)
        true = np.array(zone["paint_visible_mean"]["linear_srgb"])
        error = np.linalg.norm(lab_d50_from_linear(found) - lab_d50_from_linear(true))
        errors.append((truth["zones"][k]["states"][photo["state"]]["gloss_class"], error))
    return errors


def picture_shift(picture, ids, truth, photo):
    """How far, in pixels, the picture of the chart lies from where the id picture has it (x, y).

    The first-order match of the picture with the patches painted in by the id picture.
    """
    chart = np.array(photo["chart_frame_corners_px"])
    (x0, y0), (x1, y1) = np.floor(chart.min(axis=0)).astype(int), np.ceil(chart.max(axis=0)).astype(int)
    window = slice(max(y0, 0), y1), slice(max(x0, 0), x1)
    levels = np.full(256, np.nan)
    for k in range(len(truth["chart"]["patches"])):
        levels[ID_FIRST_PATCH + k] = picture[..., 1][eroded(ids == ID_FIRST_PATCH + k, RIM_PX)].mean()
    frame = (ids[window] == 255)
    drawn = np.nan_to_num(levels, nan=np.median(picture[..., 1][window][frame]))[ids[window]]
    near = ~frame | ~eroded(frame, 3)
    down, across = np.gradient(drawn)
    edges = np.stack([across[near], down[near]], axis=1)
    return -np.linalg.lstsq(edges, (picture[..., 1][window] - drawn)[near], rcond=None)[0]


def check(folder):
    """Print one line per photograph; returns whether all are right."""
    with open(os.path.join(folder, "truth.json"), encoding="utf-8") as file:
        truth = json.load(file)
    right = True
    for photo in truth["photos"]:
        picture = linear_picture(folder, photo)
        ids = np.asarray(Image.open(os.path.join(folder, photo["id_image"])))
        errors = zone_errors(truth, photo, picture, ids)
        matt = [error for gloss, error in errors if gloss == "matte"]
        shine = [error for gloss, error in errors if gloss != "matte"]
        shift = picture_shift(picture, ids, truth, photo)
        good = np.mean(matt) <= MOST_MEAN_DE76 and np.abs(shift).max() <= MOST_SHIFT_PX
        right = right and good
        print(f"{folder}/{photo['file']}: {'right' if good else 'OFF'}; {len(matt)} matt zones"
              f" mean {np.mean(matt):.2f} max {np.max(matt):.2f} ΔE*ab;"
              f" {len(shine)} shining zones mean {np.mean(shine) if shine else 0:.1f};"
              f" shift {shift[0]:+.3f} {shift[1]:+.3f} px")
    return right


def main():
    if not sys.argv[1:]:
        sys.exit(__doc__)
    sys.exit(0 if all([check(folder) for folder in sys.argv[1:]]) else 1)


if __name__ == "__main__":
    main()
