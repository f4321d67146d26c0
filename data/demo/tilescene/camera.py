# SPDX-License-Identifier: GPL-3.0-or-later
"""Where a camera stands and what it sees; what becomes of the light that reaches its sensor.

Pixel positions are x right, y down, with (0, 0) the outer corner of the top left pixel.
"""

import io

import numpy as np
from PIL import Image

from .colour import encode_srgb


class Camera:
    """A pinhole camera without distortion, its axis through the middle of the picture."""

    def __init__(self, focal_px, rotation, centre_mm, width, height):
        self.width, self.height = width, height
        self.matrix = np.array([[focal_px, 0, width / 2], [0, focal_px, height / 2], [0, 0, 1]])
        self.rotation = rotation
        self.centre_mm = centre_mm
        self.translation = -rotation @ centre_mm
        self.projection = self.matrix @ np.column_stack([rotation, self.translation])

    @classmethod
    def looking(cls, placing, points_mm, width, height):
        """A camera placed by angles and distance so that points fill a share of the picture.

        placing: tilt_deg from the tile's normal, azimuth_deg about it (0 is the near side), roll_deg,
        distance_mm, fill_fraction (of the picture's narrower side, as it turns out).
        """
        aim_mm = points_mm.mean(axis=0)
        for _ in range(20):
            rotation, centre_mm = stand(placing, aim_mm)
            ray = (points_mm - centre_mm) @ rotation.T
            plane = ray[:, :2] / ray[:, 2:]
            middle = (plane.min(axis=0) + plane.max(axis=0)) / 2
            aim_mm = on_table(centre_mm, rotation.T @ np.append(middle, 1), aim_mm[2])
        size = plane.max(axis=0) - plane.min(axis=0)
        focal_px = placing["fill_fraction"] * min(width / size[0], height / size[1])
        return cls(focal_px, rotation, centre_mm, width, height)

    def project(self, points_mm):
        """Pixel positions (n × 2) of points (n × 3) of the piece frame."""
        points = np.column_stack([points_mm, np.ones(len(points_mm))]) @ self.projection.T
        return points[:, :2] / points[:, 2:]

    def unproject(self, z_mm, columns=None, rows=None):
        """Where the centres of pixels lie on a level plane: x and y in mm, rows × columns."""
        columns = np.arange(self.width) if columns is None else columns
        rows = np.arange(self.height) if rows is None else rows
        plane = np.column_stack([self.projection[:, 0], self.projection[:, 1],
                                 self.projection[:, 2] * z_mm + self.projection[:, 3]])
        inverse = np.linalg.inv(plane)
        u, v = np.meshgrid(columns + 0.5, rows + 0.5)
        x, y, w = (inverse[i, 0] * u + inverse[i, 1] * v + inverse[i, 2] for i in range(3))
        return x / w, y / w


def stand(placing, aim_mm):
    """Rotation (rows: right, down, forward) and centre of a camera that looks at a point."""
    tilt, azimuth, roll = (np.radians(placing[k]) for k in ("tilt_deg", "azimuth_deg", "roll_deg"))
    towards = np.array([np.sin(tilt) * np.sin(azimuth), -np.sin(tilt) * np.cos(azimuth), np.cos(tilt)])
    forward = -towards
    right = np.cross(forward, [0, 0, 1.0])
    right /= np.linalg.norm(right)
    down = np.cross(forward, right)
    turned_right = np.cos(roll) * right + np.sin(roll) * down
    turned_down = np.cos(roll) * down - np.sin(roll) * right
    rotation = np.stack([turned_right, turned_down, forward])
    return rotation, aim_mm + placing["distance_mm"] * towards


def on_table(centre_mm, direction, z_mm):
    """Where a ray from the camera meets a level plane."""
    return centre_mm + direction * (z_mm - centre_mm[2]) / direction[2]


def expose(light, photo, white_light):
    """Linear light at the pixels to sensor values, 1 being full scale, before noise.

    white_light: the light (3 numbers) of the chart's whitest patch, which sets the exposure.
    Returns the values and the exposure gain.
    """
    sensor = photo["sensor"]
    colour = np.diag(sensor["white_balance_gain"]) @ np.array(sensor["crosstalk"])
    gain = sensor["white_at_fraction_of_full_scale"] / (colour @ white_light).max()
    values = (light * vignette(light.shape, sensor["vignetting"])[..., None]) @ (gain * colour).T
    return blur(values, sensor["blur_sigma_px"]), gain


def vignette(shape, amount):
    """1 − amount r², r being 1 in the picture's corner."""
    height, width = shape[:2]
    x = (np.arange(width) + 0.5) / width * 2 - 1
    y = (np.arange(height) + 0.5) / height * 2 - 1
    aspect = height / width
    r2 = (x[None, :] ** 2 + (aspect * y[:, None]) ** 2) / (1 + aspect ** 2)
    return (1 - amount * r2).astype(np.float32)


def blur(values, sigma_px):
    """Gaussian blur, cut off at four sigma; edge pixels are repeated outwards."""
    reach = int(np.ceil(4 * sigma_px))
    if reach == 0:
        return values
    kernel = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma_px) ** 2)
    kernel /= kernel.sum()
    for axis in (0, 1):
        room = [(reach, reach) if a == axis else (0, 0) for a in range(3)]
        padded = np.pad(values, room, mode="edge")
        length = values.shape[axis]
        values = sum(weight * np.take(padded, range(i, i + length), axis=axis)
                     for i, weight in enumerate(kernel)).astype(np.float32)
    return values


def add_noise(values, sensor, rng):
    """Read noise of one size everywhere and shot noise that grows with the root of the light."""
    variance = sensor["noise_sigma_linear"] ** 2 + sensor["shot_noise"] * np.maximum(values, 0)
    return values + np.sqrt(variance) * rng.standard_normal(values.shape, dtype=np.float32)


def to_codes(values, tone_curve):
    """Sensor values to 8-bit sRGB codes, through a contrast curve if there is one."""
    encoded = encode_srgb(np.clip(values, 0, 1))
    if tone_curve:
        encoded = encoded - tone_curve["strength"] * np.sin(2 * np.pi * encoded) / (2 * np.pi)
    return np.round(encoded * 255).astype(np.uint8)


def encoded_picture(codes, photo):
    """The bytes of the picture file."""
    file = io.BytesIO()
    if photo["encoding"] == "jpeg":
        Image.fromarray(codes).save(file, "JPEG", quality=photo["jpeg_quality"], optimize=True,
                                    subsampling=photo["jpeg_subsampling"])
    else:
        Image.fromarray(codes).save(file, "PNG", optimize=True)
    return file.getvalue()
