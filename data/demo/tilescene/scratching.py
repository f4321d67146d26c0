# SPDX-License-Identifier: GPL-3.0-or-later
"""Codes scratched into the clay: letters of straight strokes, as a point draws them."""

import numpy as np

# Strokes of each letter in a box 0…1 wide and 0…1 high, y up.
LETTERS = {
    "A": [[(0, 0), (0.45, 1), (0.9, 0)], [(0.18, 0.4), (0.72, 0.4)]],
    "E": [[(0.7, 1), (0, 1), (0, 0), (0.75, 0)], [(0, 0.52), (0.55, 0.52)]],
    "F": [[(0.7, 1), (0, 1), (0, 0)], [(0, 0.52), (0.55, 0.52)]],
    "H": [[(0, 0), (0, 1)], [(0.75, 0), (0.75, 1)], [(0, 0.5), (0.75, 0.5)]],
    "I": [[(0.1, 0), (0.1, 1)]],
    "K": [[(0, 0), (0, 1)], [(0.7, 1), (0.05, 0.45), (0.75, 0)]],
    "L": [[(0, 1), (0, 0), (0.65, 0)]],
    "M": [[(0, 0), (0.08, 1), (0.45, 0.35), (0.82, 1), (0.9, 0)]],
    "N": [[(0, 0), (0, 1), (0.7, 0), (0.7, 1)]],
    "T": [[(0, 1), (0.8, 1)], [(0.4, 1), (0.4, 0)]],
    "V": [[(0, 1), (0.4, 0), (0.8, 1)]],
    "W": [[(0, 1), (0.22, 0), (0.47, 0.7), (0.72, 0), (0.95, 1)]],
    "X": [[(0, 0), (0.75, 1)], [(0, 1), (0.75, 0)]],
    "Y": [[(0, 1), (0.4, 0.5), (0.8, 1)], [(0.4, 0.5), (0.4, 0)]],
    "Z": [[(0, 1), (0.75, 1), (0, 0), (0.8, 0)]],
}

# Widths in letter heights: what a letter takes up, a tally stroke, and the blank.
LETTER_ADVANCE, TALLY_ADVANCE, BLANK_ADVANCE = 1.1, 0.42, 0.5

# How far, in letter heights, a hand misses the point it aims at.
UNSTEADINESS = 0.035


def strokes_mm(text, x_mm, y_mm, height_mm, rng):
    """The strokes of a text as polylines in mm, its lower left corner at a point."""
    strokes, pen = [], 0.0
    for letter in text:
        for stroke in LETTERS.get(letter, []):
            points = np.array(stroke) + rng.normal(0, UNSTEADINESS, (len(stroke), 2))
            strokes.append(np.array([x_mm, y_mm]) + height_mm * (points * [0.85, 1.0] + [pen, 0.0]))
        pen += {"I": TALLY_ADVANCE, " ": BLANK_ADVANCE}.get(letter, LETTER_ADVANCE)
    return strokes


def distance_mm(x, y, stroke):
    """Distance of points from a polyline."""
    nearest = np.full(x.shape, np.inf)
    for start, end in zip(stroke[:-1], stroke[1:]):
        along = end - start
        t = np.clip(((x - start[0]) * along[0] + (y - start[1]) * along[1]) / (along @ along), 0, 1)
        nearest = np.minimum(nearest, np.hypot(x - start[0] - t * along[0], y - start[1] - t * along[1]))
    return nearest
