# SPDX-License-Identifier: GPL-3.0-or-later
"""A table top of old planks, as a square map of reflectance."""

import numpy as np

from .colour import linear_from_lab_d50
from .surface import smooth_noise

# Size of the map; wide enough that no picture of a tile sees it repeat.
SIDE_MM, TEXELS_PER_MM = 760, 5

# Width of a plank and of the dark seam between two, in millimetres.
PLANK_MM, SEAM_MM = 86, 1.1

# Distance of growth rings as a flat-sawn plank shows them, in millimetres.
RING_MM = 5.5


def plank_map(table):
    """Planks that run along x, between the table's two colours."""
    rng = np.random.default_rng(table["seed"])
    side = SIDE_MM * TEXELS_PER_MM
    low, high = (np.array(lab) for lab in table["lab_d50"])
    palette = linear_from_lab_d50(low + np.linspace(0, 1, 256)[:, None] * (high - low))
    reflectance = np.empty((side, side, 3), np.float32)
    step = PLANK_MM * TEXELS_PER_MM
    for start in range(0, side, step):
        shape = min(step, side - start), side
        tone = plank_tone(shape, rng)
        lookup = np.clip(np.round(tone * 255), 0, 255).astype(int)
        reflectance[start:start + shape[0]] = palette[lookup] * seam(shape[0])[:, None, None]
    return reflectance


def plank_tone(shape, rng):
    """Tone in 0…1 of one plank: rings drawn out along it, fibres, and a cloud of wear."""
    across = (np.arange(shape[0]) / TEXELS_PER_MM)[:, None]
    drift = 9 * smooth_noise(shape, (14 * TEXELS_PER_MM, 110 * TEXELS_PER_MM), rng)
    rings = (across + drift + rng.uniform(0, 40)) / RING_MM
    saw = rings % 1.0
    late_wood = np.where(saw < 0.85, (saw / 0.85) ** 2, 1 - (saw - 0.85) / 0.15)
    fibres = smooth_noise(shape, (0.25 * TEXELS_PER_MM, 9 * TEXELS_PER_MM), rng)
    pores = smooth_noise(shape, (0.2 * TEXELS_PER_MM, 2.5 * TEXELS_PER_MM), rng) > 2.2
    wear = smooth_noise(shape, (18 * TEXELS_PER_MM, 60 * TEXELS_PER_MM), rng)
    return rng.uniform(0.5, 0.66) - 0.22 * late_wood + 0.07 * fibres + 0.06 * wear - 0.2 * pores


def seam(n_rows):
    """Darkening towards the two sides of a plank."""
    from_side = np.minimum(np.arange(n_rows) + 0.5, n_rows - np.arange(n_rows) - 0.5) / TEXELS_PER_MM
    return np.clip(from_side / SEAM_MM, 0.08, 1) ** 0.6
