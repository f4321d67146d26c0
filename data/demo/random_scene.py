#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Draw the description of a test scene at random, for render.py.

    random_scene.py SEED [--mark curve] [--megapixels 2] > SCENE.json

Everything that a photographer does not control is drawn: size and layout of the tile, ground and paints,
flaking and gloss, chart, lamp and ambient light, camera and sensor. Colours are plausible for fired earth
and measured on nothing. A --mark makes sure of one difficulty that else comes by chance or not at all:
    curve      the camera lays a mild contrast curve over its picture
    crosstalk  the camera's channels see a little of each other
    fill       a second weak light makes the ambient light uneven
    dark       dark ground, very dark paints
"""

import argparse
import json

import numpy as np

from tilescene.colour import linear_from_lab_d50

SCENE_STREAM = 200

# CIELAB D50 of paints before firing and the way they tend to shift. Invented, no source.
PAINTS = {
    "white clay": ([86, 1, 7], [2, 1, 2]),
    "cream slip": ([78, 5, 19], [-1, 3, 4]),
    "grey slip": ([60, 0, 2], [4, 2, 6]),
    "pink clay": ([68, 13, 12], [-3, 6, 6]),
    "yellow ochre": ([64, 14, 44], [-17, 16, -12]),
    "red ochre": ([44, 30, 27], [-6, -2, -5]),
    "orange earth": ([56, 27, 40], [-6, 3, -6]),
    "umber": ([36, 7, 12], [-7, 2, -2]),
    "iron black": ([27, 2, 2], [-2, 2, 3]),
    "manganese black": ([22, 1, 0], [-3, 1, 1]),
    "soot black": ([14, 0, 0], [3, 1, 2]),
    "green earth": ([52, -9, 13], [-5, 8, 3]),
    "copper green": ([48, -26, 10], [-10, 14, 2]),
    "blue mineral": ([42, 2, -34], [-4, 3, 12]),
    "violet earth": ([38, 16, -3], [-4, 4, 6]),
}
GROUNDS = {
    "bare buff clay": ([66, 5, 15], [6, 5, 8]),
    "bare grey clay": ([55, 1, 6], [8, 8, 13]),
    "bare white clay": ([80, 2, 9], [3, 2, 3]),
    "red slip": ([46, 21, 24], [-3, 6, 3]),
    "dark brown slip": ([33, 9, 11], [-3, 1, 0]),
}
DARK_PAINTS = ("umber", "iron black", "manganese black", "soot black", "violet earth", "red ochre")

# Reflectance that a paint or patch must keep to in every sRGB channel to be drawn.
LEAST_REFLECTANCE, MOST_REFLECTANCE = 0.004, 0.92


def random_scene(seed, marks=(), megapixels=2.0):
    """The description of a scene; the same arguments give the same scene."""
    rng = np.random.default_rng([seed, SCENE_STREAM])
    scene = {"name": f"validation_{seed:02d}", "set": "validation", "seed": seed, "marked": list(marks),
             "texels_per_mm": 20}
    rows, columns = [(3, 4), (4, 5), (3, 5), (2, 4), (4, 6), (3, 3), (5, 4), (2, 6)][rng.integers(8)]
    layout = random_layout(rng, rows, columns)
    scene["piece"] = {"tile_mm": layout["tile_mm"], "thickness_mm": one_of(rng, [6.0, 8.0, 9.0, 11.0])}
    scene["ground"] = random_ground(rng, "dark" in marks)
    scene["zones"] = random_zones(rng, layout, rows, columns, scene["ground"], "dark" in marks)
    scene["chart"] = random_chart(rng)
    table = random_table(rng)
    scene["photos"] = [random_photo(rng, scene, state, table, marks, megapixels)
                       for state in ("before", "after")]
    return scene


def random_layout(rng, rows, columns):
    """Zone rectangles of a grid with margins and gaps in tenths of a millimetre."""
    size = between(rng, 17, 32, 1), between(rng, 15, 27, 1)
    gap = between(rng, 1.5, 7, 1), between(rng, 1.5, 7, 1)
    margin = [between(rng, 4, 10, 1) for _ in range(4)]
    x0 = [margin[0] + column * (size[0] + gap[0]) for column in range(columns)]
    y0 = [margin[1] + (rows - 1 - row) * (size[1] + gap[1]) for row in range(rows)]
    width = x0[-1] + size[0] + margin[2]
    height = y0[0] + size[1] + margin[3]
    return {"tile_mm": [round(width, 1), round(height, 1)],
            "rectangles": [[{"x0": round(x, 1), "y0": round(y, 1),
                             "x1": round(x + size[0], 1), "y1": round(y + size[1], 1)} for x in x0]
                           for y in y0]}


def random_ground(rng, dark):
    name = "dark brown slip" if dark else one_of(rng, list(GROUNDS))
    before, after = random_pair(rng, *GROUNDS[name])
    return {"name": name, "mottling_fraction": between(rng, 0.04, 0.06, 4),
            "before": {"lab_d50": before}, "after": {"lab_d50": after}}


def random_zones(rng, layout, rows, columns, ground, dark):
    names = random_paint_names(rng, rows * columns, dark)
    zones = []
    for number, name in enumerate(names):
        row, column = divmod(number, columns)
        before, after = random_pair(rng, *PAINTS[name])
        zone = {"id": "ABCDEFGH"[row] + str(column + 1), "geometry": layout["rectangles"][row][column],
                "paint_name": name, "mottling_fraction": between(rng, 0.03, 0.06, 4)}
        zone["corner_radius_mm"], zone["edge_scale_mm"] = between(rng, 0, 2, 1), 1.0
        wobble_mm = between(rng, 0.1, 0.25, 2)
        zone["states"] = {"before": random_state(rng, before, "before", wobble_mm),
                          "after": random_state(rng, after, "after", wobble_mm)}
        zones.append(zone)
    make_close_pair(rng, zones)
    return zones


def random_paint_names(rng, count, dark):
    pool = DARK_PAINTS if dark else list(PAINTS)
    names = [one_of(rng, pool) for _ in range(count)]
    for name, place in zip(("iron black", "manganese black"), rng.permutation(count)):
        names[place] = name
    return names


def random_state(rng, lab_d50, state, wobble_mm):
    """Gloss and flaking of a zone; before firing paint is whole and nearly always matt."""
    chances = [0.92, 0.08, 0.0] if state == "before" else [0.66, 0.18, 0.16]
    gloss = ["matte", "satin", "glossy"][rng.choice(3, p=chances)]
    ranges = {"matte": ((0, 0), (0.2, 0.3), 0), "satin": ((0.2, 0.5), (0.015, 0.06), 0),
              "glossy": ((2.2, 3.8), (0.001, 0.002), 1)}[gloss]
    flaked = state == "after" and rng.random() < 0.35
    return {"lab_d50": lab_d50, "gloss_class": gloss, "specular": between(rng, *ranges[0], 3),
            "roughness": between(rng, *ranges[1], 4), "fresnel_reflection": ranges[2],
            "retained_target": between(rng, 0.12, 0.96, 2) if flaked else 1.0,
            "flake_scale_mm": between(rng, 0.5, 2.6, 1), "edge_wobble_rms_mm": wobble_mm}


def make_close_pair(rng, zones):
    """Give two zones nearly the same dark grey: 3 L* apart, hardly any chroma."""
    first, second = rng.permutation(len(zones))[:2]
    for state in ("before", "after"):
        lightness = between(rng, 18, 40, 1)
        for zone, step in ((zones[first], 0), (zones[second], 3)):
            zone["states"][state]["lab_d50"] = [lightness + step, between(rng, -1, 2, 1), between(rng, -1, 3, 1)]
            zone["paint_name"] = "close grey"


def random_chart(rng):
    """A 24-patch chart of its own: 18 colours round the hue circle, 6 greys, in rows or columns."""
    rows, columns = one_of(rng, [(6, 4), (4, 6), (6, 4), (3, 8)])
    side = between(rng, 11, 21, 1), between(rng, 11, 21, 1)
    gap, margin = between(rng, 1.5, 5, 1), between(rng, 4, 9, 1)
    labs = random_chart_colours(rng)
    patches = []
    for number, lab in enumerate(labs):
        row, column = divmod(number, columns)
        x0 = margin + column * (side[0] + gap)
        y0 = margin + (rows - 1 - row) * (side[1] + gap)
        patches.append({"id": "ABCDEF"[row] + str(column + 1), "lab_d50": lab,
                        "rect_mm": [round(v, 1) for v in (x0, y0, x0 + side[0], y0 + side[1])]})
    frame = [2 * margin + columns * side[0] + (columns - 1) * gap, 2 * margin + rows * side[1] + (rows - 1) * gap]
    return {"frame_mm": [round(v, 1) for v in frame], "thickness_mm": one_of(rng, [1.0, 1.5, 2.0, 3.0]),
            "frame_lab_d50": [one_of(rng, [12.0, 20.0, 20.0, 45.0]), 0.0, 0.0], "patches": patches}


def random_chart_colours(rng):
    colours = []
    for number in range(18):
        hue = np.radians(20 * number + rng.uniform(-8, 8))
        lightness = rng.uniform(34, 82)
        chroma = rng.uniform(38, 64)
        while not reflects_enough(lab := [lightness, chroma * np.cos(hue), chroma * np.sin(hue)]):
            chroma *= 0.95
        colours.append([round(float(v), 4) for v in lab])
    greys = np.array([94, 80, 65, 50, 35, 21]) + rng.uniform(-2, 2, 6)
    return colours + [[round(float(lightness), 4), round(float(rng.uniform(-0.6, 0.6)), 4),
                       round(float(rng.uniform(-0.6, 0.6)), 4)] for lightness in greys]


def random_table(rng):
    base = np.array([one_of(rng, [32, 48, 62, 75]), between(rng, -1, 8, 1), between(rng, -2, 18, 1)], float)
    return {"kind": one_of(rng, ["wood", "stone", "cloth", "plain"]),
            "lab_d50": [(base - [4, 0, 0]).tolist(), (base + [4, 0, 0]).tolist()],
            "turn_deg": between(rng, 0, 180, 0)}


def random_photo(rng, scene, state, table, marks, megapixels):
    encoding = "jpeg" if rng.random() < 0.7 else "png"
    aspect = one_of(rng, [4 / 3, 4 / 3, 3 / 2, 16 / 10])
    height = round(np.sqrt(megapixels * 1e6 * rng.uniform(0.75, 1.25) / aspect) / 4) * 4
    pose = random_chart_pose(rng, scene)
    return {"file": f"{state}.{'jpg' if encoding == 'jpeg' else 'png'}", "name": state, "state": state,
            "width": round(height * aspect / 4) * 4, "height": height, "encoding": encoding,
            "jpeg_quality": int(rng.integers(88, 97)) if encoding == "jpeg" else None,
            "jpeg_subsampling": one_of(rng, [0, 2]),
            "camera": {"tilt_deg": between(rng, 20, 45, 1), "azimuth_deg": between(rng, -28, 28, 1),
                       "roll_deg": between(rng, -4, 4, 1), "distance_mm": between(rng, 420, 950, 0),
                       "fill_fraction": between(rng, 0.8, 0.92, 3)},
            "chart_pose": pose, "table": table, "light": random_light(rng, scene, pose, "fill" in marks),
            "sensor": random_sensor(rng, marks)}


def random_chart_pose(rng, scene):
    """The chart lies right of the tile, left of it or beyond it, a little turned, clear of its shadow."""
    width, height = scene["piece"]["tile_mm"]
    chart_width, chart_height = scene["chart"]["frame_mm"]
    clear_mm = between(rng, 16, 34, 1)
    slide = rng.uniform(-0.3, 0.3)
    middle_y = (height - chart_height) / 2 + slide * height
    side = one_of(rng, ["right", "right", "right", "left", "beyond"])
    origin = {"right": [width + clear_mm, middle_y], "left": [-clear_mm - chart_width, middle_y],
              "beyond": [(width - chart_width) / 2 + slide * width, height + clear_mm]}[side]
    return {"origin_mm": [round(float(v), 1) for v in origin], "turn_deg": between(rng, -4, 4, 1)}


def random_light(rng, scene, pose, fill):
    width, height = scene["piece"]["tile_mm"]
    middle = (np.array([width / 2, height / 2]) + pose["origin_mm"] + np.array(scene["chart"]["frame_mm"]) / 2) / 2
    centre = [round(float(middle[0]), 1), round(float(middle[1]), 1), 0.0]
    warmth = rng.uniform(-0.3, 0.35)
    lamp = np.array([1 + warmth, 1.0, 1 - warmth]) * rng.uniform(0.95, 1.05, 3)
    ambient_warmth = rng.uniform(-0.2, 0.2)
    elevation = np.radians(rng.uniform(40, 76))
    ambient = (rng.uniform(0.06, 0.45) * np.sin(elevation)
               * np.array([1 + ambient_warmth, 1.0, 1 - ambient_warmth]))
    light = {"lamp_linear_rgb": rounded_list(lamp, 4),
             "lamp_position_mm": random_position(rng, centre, elevation, rng.uniform(480, 1250)),
             "lamp_square_side_mm": between(rng, 30, 110, 0), "falloff_exponent": between(rng, 1.5, 2.0, 2),
             "scene_centre_mm": centre, "ambient_linear_rgb": rounded_list(ambient, 4), "fill": None}
    if fill:
        position = random_position(rng, centre, np.radians(rng.uniform(25, 60)), rng.uniform(900, 1600))
        light["fill"] = {"position_mm": position,
                         "linear_rgb": rounded_list(ambient * rng.uniform(0.6, 1.2), 4)}
    return light


def random_position(rng, centre, elevation, distance_mm):
    azimuth = rng.uniform(0, 2 * np.pi)
    direction = np.array([np.cos(azimuth) * np.cos(elevation), np.sin(azimuth) * np.cos(elevation),
                          np.sin(elevation)])
    return rounded_list(np.array(centre) + distance_mm * direction, 2)


def random_sensor(rng, marks):
    crosstalk = np.eye(3)
    if "crosstalk" in marks:
        crosstalk += rng.uniform(-0.05, 0.12, (3, 3)) * (1 - np.eye(3))
        crosstalk /= crosstalk.sum(axis=1, keepdims=True)
    curve = {"kind": "encoded minus strength times sin(2 pi encoded) / (2 pi)",
             "strength": between(rng, 0.1, 0.25, 3)} if "curve" in marks else None
    return {"white_at_fraction_of_full_scale": between(rng, 0.62, 0.9, 3),
            "white_balance_gain": [between(rng, 0.85, 1.25, 3), 1.0, between(rng, 0.85, 1.25, 3)],
            "crosstalk": rounded_list(crosstalk, 5), "vignetting": between(rng, 0, 0.1, 3),
            "noise_sigma_linear": between(rng, 0.0015, 0.0045, 4), "shot_noise": between(rng, 0, 3e-5, 7),
            "blur_sigma_px": between(rng, 0.4, 0.9, 2), "tone_curve": curve}


def random_pair(rng, lab_d50, shift_lab):
    """A colour near a given one before firing, and what it shifts to."""
    before = np.array(lab_d50) + rng.normal(0, [4, 2.5, 2.5])
    after = before + np.array(shift_lab) + rng.normal(0, [3, 3, 3])
    return [keep_in_gamut(before), keep_in_gamut(after)]


def keep_in_gamut(lab_d50):
    """The colour, drawn towards a middle grey until every channel can be painted."""
    lab = np.array(lab_d50, float)
    while not reflects_enough(lab):
        lab = lab + 0.05 * (np.array([50.0, 0, 0]) - lab)
    return rounded_list(lab, 2)


def reflects_enough(lab_d50):
    linear = linear_from_lab_d50(lab_d50)
    return linear.min() >= LEAST_REFLECTANCE and linear.max() <= MOST_REFLECTANCE


def one_of(rng, choices):
    return choices[rng.integers(len(choices))]


def between(rng, low, high, places):
    return round(float(rng.uniform(low, high)), places)


def rounded_list(values, places):
    return (np.round(values, places) + 0.0).tolist()


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("seed", type=int)
    parser.add_argument("--mark", action="append", default=[], choices=["curve", "crosstalk", "fill", "dark"])
    parser.add_argument("--megapixels", type=float, default=2.0)
    arguments = parser.parse_args()
    print(json.dumps(random_scene(arguments.seed, arguments.mark, arguments.megapixels), indent=1))


if __name__ == "__main__":
    main()
