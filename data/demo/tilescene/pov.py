# SPDX-License-Identifier: GPL-3.0-or-later
"""The scene in POV-Ray's language, and the light that POV-Ray finds at each pixel.

POV-Ray's own frame is left-handed; nothing here depends on that, since the camera is given by its three
vectors and every map is laid along z.
"""

import os
import re
import struct
import subprocess
import zlib

import numpy as np
from PIL import Image

from . import planks
from .colour import linear_from_lab_d50

# The renderer's 16-bit picture ends at 1; the scene is lit this much darker so that highlights of up to
# 1 / RENDER_SCALE times a white surface are kept.
RENDER_SCALE = 0.25

# The room that a glossy paint mirrors: walls, ceiling and a bright window, as shares of white. No source;
# a plain room by day.
ROOM_WALL, ROOM_CEILING, ROOM_WINDOW = 0.10, 0.30, 1.6

# Colour types of the PNG standard (ISO/IEC 15948, table 11.1).
PNG_GREY, PNG_RGB = 0, 2

# Heights that a relief map can hold, from lowest to highest.
RELIEF_RANGE_MM = 2.0

# A perfectly matt surface: all the light that the pigment reflects, scattered evenly.
MATT = "ambient 1 diffuse 1"


def write_map(path, reflectance):
    """A map of reflectance as a 16-bit PNG of linear values."""
    write_png16(path, np.clip(reflectance, 0, 1))


def write_relief(path, height_mm):
    """A map of relief as a 16-bit PNG; the ray tracer takes light for deep."""
    write_png16(path, np.clip((RELIEF_RANGE_MM / 2 - height_mm) / RELIEF_RANGE_MM, 0, 1))


def write_png16(path, values):
    """Values in 0…1, rows × columns (grey) or × 3 (RGB), as a PNG of 16 bits per channel."""
    rows, columns = values.shape[:2]
    kind = PNG_GREY if values.ndim == 2 else PNG_RGB
    samples = np.round(values * 65535).astype(">u2").reshape(rows, -1).view(np.uint8)
    lines = np.zeros((rows, samples.shape[1] + 1), np.uint8)  # a first 0 on each line: no filter
    lines[:, 1:] = samples
    with open(path, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n")
        file.write(png_chunk(b"IHDR", struct.pack(">2I5B", columns, rows, 16, kind, 0, 0, 0)))
        file.write(png_chunk(b"IDAT", zlib.compress(lines.tobytes(), 1)))
        file.write(png_chunk(b"IEND", b""))


def png_chunk(name, data):
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def square(face_map):
    """A map made square by room above and right of it, so that the ray tracer scales both ways alike."""
    rows, columns = face_map.shape[:2]
    side = max(rows, columns)
    room = [(side - rows, 0), (0, side - columns)] + [(0, 0)] * (face_map.ndim - 2)
    return np.pad(face_map, room)


def write_index(path, code):
    """A map of finish numbers as a picture with a palette, which POV-Ray reads as numbers."""
    picture = Image.fromarray(code, "P")
    picture.putpalette([level for level in range(256) for _ in range(3)])
    picture.save(path)


def read_light(path):
    """The renderer's 16-bit pixmap as linear light, rows × columns × 3."""
    with open(path, "rb") as file:
        data = file.read()
    head = re.match(rb"P6\s(?:#.*\n)*(\d+)\s+(\d+)\s(?:#.*\n)*65535\s", data)
    if not head:
        raise ValueError(f"{path}: not a 16-bit pixmap")
    width, height = int(head[1]), int(head[2])
    values = np.frombuffer(data, ">u2", 3 * width * height, head.end())
    return values.reshape(height, width, 3).astype(np.float32) / (65535 * RENDER_SCALE)


def vector(values):
    return "<" + ", ".join(f"{v:.9f}" for v in values) + ">"


def relief_text(texels_per_mm):
    """The relief map; the ray tracer counts heights in texels."""
    size = RELIEF_RANGE_MM * texels_per_mm
    return ('#declare RELIEF = normal { bump_map { png "relief.png" gamma 1.0 interpolate 2'
            f" bump_size {size} }} }}\n")


def light_colour(linear_rgb):
    return "rgb " + vector(np.asarray(linear_rgb) * RENDER_SCALE)


def surface_colour(lab_d50):
    return "rgb " + vector(linear_from_lab_d50(lab_d50))


def camera_text(camera):
    """The camera by location and the three vectors that span its picture."""
    right, down, forward = camera.rotation
    focal_px = camera.matrix[0, 0]
    return (f"camera {{ perspective location {vector(camera.centre_mm)}\n"
            f"  direction {vector(forward)} right {vector(right * camera.width / focal_px)}\n"
            f"  up {vector(-down * camera.height / focal_px)} }}\n")


def lamp_text(light):
    """The lamp: a square of points for its soft shadow, shading as from its middle."""
    position = np.array(light["lamp_position_mm"])
    aim = np.array(light["scene_centre_mm"])
    away = (position - aim) / np.linalg.norm(position - aim)
    across = np.cross(away, [0, 1.0, 0.1])
    across /= np.linalg.norm(across)
    side = light["lamp_square_side_mm"]
    return (f"light_source {{ {vector(position)} {light_colour(light['lamp_linear_rgb'])}\n"
            f"  area_light {vector(across * side)}, {vector(np.cross(away, across) * side)}, 9, 9"
            f" adaptive 2\n"
            f"  fade_distance {np.linalg.norm(position - aim):.4f}"
            f" fade_power {light['falloff_exponent']} }}\n")


def fill_text(light):
    """A far, weak second source without shadow or highlight: the unevenness of the ambient light."""
    fill = light.get("fill")
    if not fill:
        return ""
    distance = np.linalg.norm(np.array(fill["position_mm"]) - light["scene_centre_mm"])
    return (f"light_source {{ {vector(fill['position_mm'])} {light_colour(fill['linear_rgb'])} shadowless\n"
            f"  fade_distance {distance:.4f} fade_power 2 }}\n")


def room_text(light):
    """What a glossy paint mirrors: a graded room and a window, in the ambient light's colour."""
    ambient = np.array(light["ambient_linear_rgb"])
    tint = ambient / ambient.max()
    azimuth = np.radians(light.get("window_azimuth_deg", 200.0))
    window = 3000 * np.array([np.cos(azimuth), np.sin(azimuth), 0.45])
    half = np.array([450.0, 450.0, 600.0])
    return (f"sky_sphere {{ pigment {{ gradient z color_map {{ [0 {light_colour(ROOM_WALL * tint)}]"
            f" [1 {light_colour(ROOM_CEILING * tint)}] }} }} }}\n"
            f"box {{ {vector(window - half)} {vector(window + half)} no_shadow no_image\n"
            f"  pigment {{ {light_colour(ROOM_WINDOW * tint)} }}"
            f" finish {{ ambient 0 diffuse 0 emission 1 }} }}\n")


def table_text(table, z_mm):
    """The table: a pattern between two colours on a level plane."""
    low, high = (surface_colour(lab) for lab in table["lab_d50"])
    colour_map = f"color_map {{ [0 {low}] [1 {high}] }}"
    patterns = {
        "wood": f"wood turbulence 0.04 octaves 4 {colour_map} scale 6 rotate x*88 translate y*300",
        "stone": f"granite {colour_map} scale 60",
        "cloth": f"leopard {colour_map} scale 0.6",
        "planks": 'image_map { png "table.png" gamma 1.0 interpolate 2 }'
                  f" scale {planks.SIDE_MM} translate <{-planks.SIDE_MM / 2}, {-planks.SIDE_MM / 2}, 0>",
        "plain": f"bozo {colour_map} scale 25",
    }
    return (f"plane {{ z, {z_mm} texture {{ pigment {{ {patterns[table['kind']]} }}\n"
            f"  finish {{ {MATT} }} rotate z*{table['turn_deg']} }} }}\n")


def finish_text(state):
    """Diffuse, plus a highlight of the lamp and a mirrored room for paints that have them."""
    if state["gloss_class"] == "matte":
        return f"finish {{ {MATT} }}"
    mirror = f" reflection {{ {state['fresnel_reflection']} fresnel on }}" if state["fresnel_reflection"] else ""
    return f"finish {{ {MATT} specular {state['specular']} roughness {state['roughness']}{mirror} }}"


def tile_text(scene, state):
    """The tile: one map of reflectance, one of finishes by zone, and one of its relief if it has any."""
    side_mm = max(scene["piece"]["tile_mm"])
    finishes = [f"finish {{ {MATT} }}"] + [finish_text(zone["states"][state]) for zone in scene["zones"]]
    relief = "normal { RELIEF }" if "relief_rms_mm" in scene else ""
    textures = "\n".join(f"    texture {{ pigment {{ FACE }} {relief} {finish} }}" for finish in finishes)
    return (f'#declare FACE = pigment {{ image_map {{ png "face.png" gamma 1.0 }} }}\n'
            + (relief_text(scene["texels_per_mm"]) if relief else "") + f"object {{ {slab_text(scene['piece'])}\n"
            f'  texture {{ material_map {{ png "finish.png"\n{textures} }} scale {side_mm} }}\n'
            f"  interior {{ ior 1.5 }} }}\n")


def slab_text(piece):
    """The body of the tile: a box, its edges rounded if a radius is given."""
    width_mm, height_mm = piece["tile_mm"]
    thickness_mm, radius = piece["thickness_mm"], piece.get("edge_radius_mm", 0)
    if not radius:
        return f"box {{ 0, <{width_mm}, {height_mm}, {-thickness_mm}> }}"
    low, high = np.full(3, radius), np.array([width_mm, height_mm, thickness_mm]) - radius
    ends = [np.array([x, y, z]) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    parts = [f"sphere {{ {vector(end)}, {radius} }}" for end in ends]
    for axis in range(3):
        grown = radius * np.eye(3)[axis]
        parts.append(f"box {{ {vector(low - grown)} {vector(high + grown)} }}")
        for end in ends:
            if end[axis] == low[axis]:
                other = np.where(np.arange(3) == axis, high, end)
                parts.append(f"cylinder {{ {vector(end)} {vector(other)}, {radius} }}")
    return "union { " + "\n".join(parts) + f" translate z*{-thickness_mm} }}"


def chart_text(scene, photo):
    """The chart: a thin board, turned and moved to its place."""
    width_mm, height_mm = scene["chart"]["frame_mm"]
    turn = np.radians(photo["chart_pose"]["turn_deg"])
    x_mm, y_mm = photo["chart_pose"]["origin_mm"]
    place = [np.cos(turn), np.sin(turn), 0, -np.sin(turn), np.cos(turn), 0, 0, 0, 1,
             x_mm, y_mm, chart_face_z_mm(scene)]
    return (f"box {{ 0, <{width_mm}, {height_mm}, {-scene['chart']['thickness_mm']}>\n"
            f'  pigment {{ image_map {{ png "chart.png" gamma 1.0 }} scale <{width_mm}, {height_mm}, 1> }}\n'
            f"  finish {{ {MATT} }}\n  matrix {vector(place)} }}\n")


def chart_face_z_mm(scene):
    """Height of the chart's face over the tile's."""
    return scene["chart"]["thickness_mm"] - scene["piece"]["thickness_mm"]


def scene_text(scene, photo, camera):
    """The whole scene of one photograph."""
    return ("#version 3.7;\n"
            f"global_settings {{ assumed_gamma 1.0 max_trace_level 4"
            f" ambient_light {light_colour(photo['light']['ambient_linear_rgb'])} }}\n"
            + camera_text(camera) + lamp_text(photo["light"]) + fill_text(photo["light"])
            + room_text(photo["light"]) + table_text(photo["table"], -scene["piece"]["thickness_mm"])
            + tile_text(scene, photo["state"]) + chart_text(scene, photo) + scene.get("props", ""))


def trace(text, folder, camera, samples):
    """Run POV-Ray on a scene in a folder that holds its maps; returns linear light per pixel.

    samples: rays per pixel along each side.
    """
    with open(os.path.join(folder, "scene.pov"), "w", encoding="utf-8") as file:
        file.write(text)
    command = ["povray", "+Iscene.pov", "+Olight.ppm", f"+W{camera.width}", f"+H{camera.height}",
               "+FP16", "File_Gamma=1.0", "-D", "-V", "+WT2"]
    command += ["+AM1", "+A0.0", f"+R{samples}", "-J"] if samples > 1 else ["-A"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise RuntimeError("POV-Ray refused the scene:\n" + done.stderr[-2000:])
    return read_light(os.path.join(folder, "light.ppm"))
