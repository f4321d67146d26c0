# SPDX-License-Identifier: GPL-3.0-or-later
"""What a measurement of the photographs should find, taken from the maps and not from the pictures."""

import numpy as np

from .camera import Camera
from .colour import colour_record, lab_d50_from_linear, linear_from_lab_d50, rounded, xyz_d50_from_linear
from .pov import chart_face_z_mm

# Codes of the id picture; zones count from 1, ground laid bare in them from N + 1.
ID_FIRST_PATCH, ID_ELSEWHERE = 201, 255


def tile_corners_mm(scene):
    width_mm, height_mm = scene["piece"]["tile_mm"]
    return {"corner_bottom_left": [0, 0, 0], "corner_bottom_right": [width_mm, 0, 0],
            "corner_top_right": [width_mm, height_mm, 0], "corner_top_left": [0, height_mm, 0]}


def rectangle_corners(x0, y0, x1, y1):
    """Top left, top right, bottom right, bottom left."""
    return [[x0, y1], [x1, y1], [x1, y0], [x0, y0]]


def chart_to_piece(scene, photo, points_mm):
    """Points of the chart's own frame (n × 2) in the piece frame (n × 3)."""
    turn = np.radians(photo["chart_pose"]["turn_deg"])
    rotation = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    xy = np.asarray(points_mm, float) @ rotation.T + photo["chart_pose"]["origin_mm"]
    return np.column_stack([xy, np.full(len(xy), chart_face_z_mm(scene))])


def chart_corners_mm(scene, photo):
    width_mm, height_mm = scene["chart"]["frame_mm"]
    return chart_to_piece(scene, photo, rectangle_corners(0, 0, width_mm, height_mm))


def place_camera(scene, photo):
    """The camera of a photograph, from its angles and what must fit into the picture."""
    points = np.vstack([list(tile_corners_mm(scene).values()), chart_corners_mm(scene, photo)])
    return Camera.looking(photo["camera"], points, photo["width"], photo["height"])


def look_up(face_map, x_mm, y_mm, texels_per_mm):
    """Values of a map at places of its plane, and which of them lie on it."""
    rows, columns = face_map.shape[:2]
    row = np.floor(rows - y_mm * texels_per_mm).astype(int)
    column = np.floor(x_mm * texels_per_mm).astype(int)
    on_map = (row >= 0) & (row < rows) & (column >= 0) & (column < columns)
    return face_map[np.clip(row, 0, rows - 1), np.clip(column, 0, columns - 1)], on_map


class Sight:
    """What the centre of each pixel of a photograph falls on."""

    def __init__(self, scene, photo, camera, face, chart_face):
        self.camera = camera
        self.x_mm, self.y_mm = camera.unproject(0.0)
        code, on_tile = look_up(face.code, self.x_mm, self.y_mm, face.texels_per_mm)
        reflectance, _ = look_up(face.reflectance, self.x_mm, self.y_mm, face.texels_per_mm)
        patch, on_chart = self._chart(scene, photo, chart_face)
        self.id = np.full(code.shape, ID_ELSEWHERE, np.uint8)
        on_patch = on_chart & (patch > 0)
        self.id[on_patch] = ID_FIRST_PATCH - 1 + patch[on_patch]
        self.id[on_tile] = code[on_tile]
        self.reflectance = reflectance

    def _chart(self, scene, photo, chart_face):
        x_mm, y_mm = self.camera.unproject(chart_face_z_mm(scene))
        turn = np.radians(photo["chart_pose"]["turn_deg"])
        origin = photo["chart_pose"]["origin_mm"]
        x_mm, y_mm = x_mm - origin[0], y_mm - origin[1]
        return look_up(chart_face.code, np.cos(turn) * x_mm + np.sin(turn) * y_mm,
                       np.cos(turn) * y_mm - np.sin(turn) * x_mm, chart_face.texels_per_mm)


def piece_truth(scene, faces):
    """What holds for the whole scene: colours, zones, chart."""
    ground = {"name": scene["ground"]["name"]}
    for state in faces:
        ground[state] = colour_record(linear_from_lab_d50(scene["ground"][state]["lab_d50"]))
    ground["mottling"] = f"{100 * scene['ground']['mottling_fraction']:.1f} % of reflectance, mean zero nominal"
    return {"format": "scene-truth-1", "scene": scene["name"], "set": scene["set"], "units": "mm",
            "kind": "tile", "seed": scene["seed"], "marked": scene.get("marked", []), "piece": scene["piece"],
            **{name: scene[name] for name in ("grid", "paints") if name in scene}, "ground": ground,
            "zones": [zone_truth(scene, faces, k) for k in range(len(scene["zones"]))],
            "chart": chart_truth(scene["chart"])}


def zone_truth(scene, faces, k):
    zone = scene["zones"][k]
    truth = {"id": zone["id"], "surface": "top", "geometry": zone["geometry"],
             "paint_code": zone.get("paint_code"), "paint_name": zone["paint_name"],
             "replicate": zone.get("replicate"), "bare_control": zone.get("bare_control", False),
             "mottling_fraction": zone["mottling_fraction"], "states": {}}
    labs = []
    for state, face in faces.items():
        given = scene["ground"][state] if truth["bare_control"] else zone["states"][state]
        labs.append(np.array(given["lab_d50"]))
        truth["states"][state] = {"paint": colour_record(linear_from_lab_d50(given["lab_d50"]))}
        truth["states"][state].update({name: value for name, value in zone["states"][state].items()
                                       if name != "lab_d50"})
        retained = face.retained[k]
        truth["states"][state]["retained_fraction"] = None if retained is None else round(float(retained), 5)
    if len(labs) == 2:
        truth["shift_lab_d50"] = rounded(labs[1] - labs[0], 3)
        truth["shift_delta_e76"] = round(float(np.linalg.norm(labs[1] - labs[0])), 3)
    return truth


def chart_truth(chart):
    patches = []
    for patch in chart["patches"]:
        linear = linear_from_lab_d50(patch["lab_d50"])
        record = colour_record(linear)
        record["lab_d50"] = rounded(patch["lab_d50"], 4)
        patches.append({"id": patch["id"], **record,
                        "xyz_d50": rounded(100 * xyz_d50_from_linear(linear), 4),
                        "rect_mm": patch["rect_mm"]})
    return {"kind": "24-patch chart", "frame_mm": chart["frame_mm"], "thickness_mm": chart["thickness_mm"],
            "patches": patches}


def photo_truth(scene, photo, sight, values, gain):
    """What holds for one photograph.

    values: the sensor's values before noise, 1 being full scale, for what is clipped.
    """
    camera = sight.camera
    corners = tile_corners_mm(scene)
    light = dict(photo["light"])
    light["falloff"] = "2/(1+(d/d0)^falloff_exponent), d0 = distance from lamp to scene centre"
    truth = {"file": photo["file"], "name": photo["name"], "state": photo["state"], "view": "single",
             "width": photo["width"], "height": photo["height"],
             "encoding": photo["encoding"] if photo["encoding"] == "jpeg" else "png8",
             "id_image": photo["name"] + "_id.png", "jpeg_quality": photo.get("jpeg_quality"),
             "camera": camera_truth(camera), "light": light,
             "exposure_gain": round(float(gain), 6), **photo["sensor"],
             "landmarks": [{"name": name, "xyz_mm": xyz,
                            "px": rounded(camera.project(np.array([xyz], float))[0], 2), "visible": True}
                           for name, xyz in corners.items()],
             "chart_frame_corners_px": rounded(camera.project(chart_corners_mm(scene, photo)), 2),
             "chart_patches": [patch_view(scene, photo, sight, k)
                               for k in range(len(scene["chart"]["patches"]))]}
    clipped = (values > 1).any(axis=-1)
    truth["zones"] = [zone_view(scene, photo, sight, clipped, k) for k in range(len(scene["zones"]))]
    return truth


def camera_truth(camera):
    return {"P": rounded(camera.projection, 8), "K": rounded(camera.matrix, 6),
            "R": rounded(camera.rotation, 9), "t": rounded(camera.translation, 6),
            "centre_mm": rounded(camera.centre_mm, 3), "distortion": "none"}


def patch_view(scene, photo, sight, k):
    patch = scene["chart"]["patches"][k]
    corners = chart_to_piece(scene, photo, rectangle_corners(*patch["rect_mm"]))
    return {"id": patch["id"], "corners_px": rounded(sight.camera.project(corners), 2),
            "visible_px": int((sight.id == ID_FIRST_PATCH + k).sum())}


def zone_view(scene, photo, sight, clipped, k):
    """One zone in one photograph."""
    box = zone_box(scene["zones"][k]["geometry"], sight.camera)
    ids = sight.id[box]
    painted, laid_bare = ids == k + 1, ids == len(scene["zones"]) + k + 1
    zone = painted | laid_bare
    reflectance = sight.reflectance[box]
    rows, columns = np.nonzero(zone)
    rows, columns = rows + box[0].start, columns + box[1].start
    truth = {"id": scene["zones"][k]["id"], "visible_px": int(zone.sum()), "paint_px": int(painted.sum()),
             "bare_px": int(laid_bare.sum()),
             "retained_fraction_visible": round(painted.sum() / zone.sum(), 5),
             "clipped_fraction": round(float(clipped[box][zone].mean()), 5),
             "centroid_px": rounded([columns.mean() + 0.5, rows.mean() + 0.5], 2),
             "bbox_px": [int(columns.min()), int(rows.min()), int(columns.max() + 1), int(rows.max() + 1)],
             "zone_visible_mean": colour_record(reflectance[zone].mean(axis=0, dtype=float))}
    if painted.any():
        truth["paint_visible_mean"] = colour_record(reflectance[painted].mean(axis=0, dtype=float))
    truth.update(zone_angles(photo, sight, box, zone))
    if scene["zones"][k].get("bare_control"):
        truth["retained_fraction_visible"] = None
    return truth


def zone_box(geometry, camera):
    """The part of the picture that can hold a zone, its wavering edges included."""
    corners = rectangle_corners(geometry["x0"] - 2, geometry["y0"] - 2, geometry["x1"] + 2, geometry["y1"] + 2)
    px = camera.project(np.column_stack([corners, np.zeros(4)]))
    low = np.maximum(np.floor(px.min(axis=0)).astype(int), 0)
    high = np.minimum(np.ceil(px.max(axis=0)).astype(int), [camera.width, camera.height])
    return slice(low[1], high[1]), slice(low[0], high[0])


def zone_angles(photo, sight, box, zone):
    """The least angle between the normal and the half-way to the lamp, and the range of view angles."""
    points = np.column_stack([sight.x_mm[box][zone], sight.y_mm[box][zone], np.zeros(zone.sum())])
    view = towards(sight.camera.centre_mm, points)
    half = view + towards(np.array(photo["light"]["lamp_position_mm"]), points)
    half_cosine = half[:, 2] / np.linalg.norm(half, axis=1)
    return {"least_half_angle_to_lamp_deg": angle_deg(half_cosine.max()),
            "view_angle_min_deg": angle_deg(view[:, 2].max()),
            "view_angle_max_deg": angle_deg(view[:, 2].min())}


def towards(target_mm, points_mm):
    ray = target_mm - points_mm
    return ray / np.linalg.norm(ray, axis=1)[:, None]


def angle_deg(cosine):
    return round(float(np.degrees(np.arccos(min(1.0, cosine)))), 2)


def cgats_text(scene):
    """The chart's values as CGATS.17 text, D50 and 2 degree observer."""
    lines = ["CGATS.17", f'ORIGINATOR "{scene["name"]}"',
             'DESCRIPTOR "24-patch chart of a rendered scene, values by construction"',
             'CREATED "2025-01-01"', 'MANUFACTURER "none"', 'WEIGHTING_FUNCTION "ILLUMINANT, D50"',
             'WEIGHTING_FUNCTION "OBSERVER, 2 degree"', "NUMBER_OF_FIELDS 8", "BEGIN_DATA_FORMAT",
             "SAMPLE_ID SAMPLE_NAME XYZ_X XYZ_Y XYZ_Z LAB_L LAB_A LAB_B", "END_DATA_FORMAT",
             f"NUMBER_OF_SETS {len(scene['chart']['patches'])}", "BEGIN_DATA"]
    for number, patch in enumerate(scene["chart"]["patches"], start=1):
        linear = linear_from_lab_d50(patch["lab_d50"])
        fields = np.append(100 * xyz_d50_from_linear(linear), lab_d50_from_linear(linear)) + 0.0
        lines.append(f"{number} {patch['id']} " + " ".join(f"{value + 0.0:.4f}" for value in fields))
    return "\n".join(lines + ["END_DATA"]) + "\n"
