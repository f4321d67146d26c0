#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Write the description of the demo trial's tile, for render.py.

    demo_scene.py > scene.json

Everything here is invented: the place, its clay and paints, their colours and how they fire.
"""

import json
import os

HERE = os.path.dirname(os.path.abspath(__file__))

# The tile as dried and painted, and its grid: 3 rows of 5 zones. The gaps below the zones are wide enough
# for a code scratched into the clay. Measures in millimetres.
GRID = {"rows": 3, "columns": 5, "left_mm": 8, "top_mm": 8, "right_mm": 8, "bottom_mm": 11,
        "gap_x_mm": 5, "gap_y_mm": 10}
TILE_MM, THICKNESS_MM = [180, 120], 9

# code: name, CIELAB D50 before, after, and what else the fire does.
PAINTS = {
    "KA": ("kettle black", [31, 2.5, 4], [22, 1, 1.5], {}),
    "KV": ("vent black", [35, 1, 1], [25, 0.5, -0.5], {}),
    "HE": ("heather red", [46, 24, 22], [42, 32, 27], {}),
    "FZ": ("furze yellow", [68, 11, 43], [56, 27, 38], {}),
    "WT": ("wether white", [85, 1, 8], [87, 2, 9], {"retained_target": 0.7, "flake_scale_mm": 1.3}),
    "LM": ("lichen green", [55, -13, 17], [37, -21, 15],
           {"gloss_class": "glossy", "specular": 2.4, "roughness": 0.0018, "fresnel_reflection": 1}),
}
GROUND = {"name": "Othmel clay, bare", "mottling_fraction": 0.045, "grit_fraction": 0.012,
          "before": {"lab_d50": [64, 3, 12]}, "after": {"lab_d50": [69, 13, 24]}}

# Which paint is where; X is a bare control. Replicates lie apart, so that a draught or a hot corner of the
# kiln is not taken for the paint's doing.
LAYOUT = [["KA", "HE", "WT", "FZ", "LM"],
          ["LM", "X", "KV", "KA", "WT"],
          ["FZ", "KA", "HE", "X", "KV"]]

# The chart, row by row, CIELAB D50: earths and their neighbours left, strong colours, greys in the last column.
CHART_ROWS = [
    [[38, 30, 22], [62, 22, 26], [48, 50, 22], [95, 0, 0.5]],
    [[60, 18, 48], [76, 6, 34], [70, 24, 62], [81, 0, 0]],
    [[34, 9, 14], [46, -3, 26], [52, -32, 30], [66, 0, 0]],
    [[64, -18, 6], [40, -20, -2], [56, -24, -22], [51, 0, 0]],
    [[44, 4, -36], [66, 4, -22], [34, 22, -34], [36, 0, 0]],
    [[54, 30, -16], [74, 24, 2], [84, 6, 14], [22, 0, 0]],
]
PATCH_MM, PATCH_GAP_MM, CHART_MARGIN_MM = 17, 3, 6


def zones():
    width = (TILE_MM[0] - GRID["left_mm"] - GRID["right_mm"] - 4 * GRID["gap_x_mm"]) / 5
    height = (TILE_MM[1] - GRID["top_mm"] - GRID["bottom_mm"] - 2 * GRID["gap_y_mm"]) / 3
    made, seen = [], {}
    for row, codes in enumerate(LAYOUT):
        for column, code in enumerate(codes):
            seen[code] = seen.get(code, 0) + 1
            x0 = GRID["left_mm"] + column * (width + GRID["gap_x_mm"])
            y1 = TILE_MM[1] - GRID["top_mm"] - row * (height + GRID["gap_y_mm"])
            geometry = {"x0": round(x0, 2), "y0": round(y1 - height, 2),
                        "x1": round(x0 + width, 2), "y1": round(y1, 2)}
            made.append(zone("ABC"[row] + str(column + 1), code, seen[code], geometry))
    return made


def zone(name, code, replicate, geometry):
    found = {"id": name, "geometry": geometry, "paint_code": code, "replicate": replicate,
             "mottling_fraction": 0.04, "brush_streak_fraction": 0.035, "corner_radius_mm": 1.6,
             "edge_scale_mm": 1.6}
    plain = {"gloss_class": "matte", "specular": 0.0, "roughness": 0.25, "fresnel_reflection": 0.0,
             "retained_target": 1.0, "flake_scale_mm": 1.0, "edge_wobble_rms_mm": 0.22}
    if code == "X":
        bare = {**plain, "edge_wobble_rms_mm": 0.0}
        return {**found, "paint_code": None, "bare_control": True, "paint_name": "bare control",
                "states": {"before": bare, "after": bare}}
    paint, before, after, fired = PAINTS[code]
    return {**found, "paint_name": paint, "states": {"before": {**plain, "lab_d50": before},
                                                     "after": {**plain, "lab_d50": after, **fired}}}


def scratches(zones_made):
    """The paint's code and the replicate in tally strokes, under the left of each painted zone."""
    return [{"text": (zone["paint_code"] or "X") + " " + "I" * zone["replicate"],
             "x_mm": zone["geometry"]["x0"] + 0.8, "y_mm": zone["geometry"]["y0"] - 7.3, "height_mm": 4.8}
            for zone in zones_made]


def chart():
    step = PATCH_MM + PATCH_GAP_MM
    patches = []
    for row, labs in enumerate(CHART_ROWS):
        for column, lab in enumerate(labs):
            x0, y0 = CHART_MARGIN_MM + column * step, CHART_MARGIN_MM + (5 - row) * step
            patches.append({"id": "ABCDEF"[row] + str(column + 1), "lab_d50": lab,
                            "rect_mm": [x0, y0, x0 + PATCH_MM, y0 + PATCH_MM]})
    return {"frame_mm": [2 * CHART_MARGIN_MM + 4 * step - PATCH_GAP_MM, 2 * CHART_MARGIN_MM + 6 * step - PATCH_GAP_MM],
            "thickness_mm": 2.0, "frame_lab_d50": [27, 0, 0], "patches": patches}


def photo(state, camera, pose, lamp, ambient, gains):
    centre = [145.0, 60.0, 0.0]
    return {"file": f"{state}.jpg", "name": state, "state": state, "width": 4032, "height": 3024,
            "encoding": "jpeg", "jpeg_quality": 93, "jpeg_subsampling": 0, "camera": camera, "chart_pose": pose,
            "table": {"kind": "planks", "seed": 7, "turn_deg": -6, "lab_d50": [[25, 9, 15], [56, 9, 20]]},
            "light": {"lamp_linear_rgb": lamp["linear_rgb"], "lamp_position_mm": lamp["position_mm"],
                      "lamp_square_side_mm": lamp["side_mm"], "falloff_exponent": 1.9,
                      "scene_centre_mm": centre, "ambient_linear_rgb": ambient, "fill": None,
                      "window_azimuth_deg": 35.0},
            "sensor": {"white_at_fraction_of_full_scale": 0.86, "white_balance_gain": gains,
                       "crosstalk": [[1, 0, 0], [0, 1, 0], [0, 0, 1]], "vignetting": 0.05,
                       "noise_sigma_linear": 0.0018, "shot_noise": 8e-6, "blur_sigma_px": 0.7,
                       "tone_curve": None}}


def photos():
    before = photo("before", {"tilt_deg": 27, "azimuth_deg": -5, "roll_deg": 0.8, "distance_mm": 640,
                              "fill_fraction": 0.87},
                   {"origin_mm": [204, -6], "turn_deg": -2.0},
                   {"linear_rgb": [1.04, 1.0, 0.88], "position_mm": [560, 520, 780], "side_mm": 150},
                   [0.17, 0.19, 0.215], [1.0, 1.0, 1.06])
    after = photo("after", {"tilt_deg": 25, "azimuth_deg": 6, "roll_deg": -0.6, "distance_mm": 660,
                            "fill_fraction": 0.87},
                  {"origin_mm": [206, -3], "turn_deg": 1.5},
                  {"linear_rgb": [1.1, 1.0, 0.8], "position_mm": [270, 660, 830], "side_mm": 150},
                  [0.17, 0.185, 0.2], [0.98, 1.0, 1.12])
    return [before, after]


def main():
    made = zones()
    with open(os.path.join(HERE, "props.inc"), encoding="utf-8") as file:
        props = f"#declare TABLE_Z = {-THICKNESS_MM};\n" + file.read()
    print(json.dumps({
        "name": "demo", "set": "demo", "seed": 2024, "texels_per_mm": 20,
        "piece": {"tile_mm": TILE_MM, "thickness_mm": THICKNESS_MM, "edge_radius_mm": 0.6},
        "grid": GRID, "paints": {code: paint[0] for code, paint in PAINTS.items()},
        "relief_rms_mm": 0.012, "paint_thickness_mm": 0.04, "scratch_depth_mm": 0.4,
        "ground": GROUND, "zones": made, "scratches": scratches(made), "chart": chart(),
        "photos": photos(), "props": props}, indent=1))


if __name__ == "__main__":
    main()
