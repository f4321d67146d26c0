# SPDX-License-Identifier: GPL-3.0-or-later
"""CIELAB, CIE XYZ and linear sRGB, in arrays whose last axis is the colour.

Written apart from the program's own colour code on purpose: a rendered picture that shared its
mistakes could not show them.
"""

import numpy as np

# IEC 61966-2-1, linear sRGB to XYZ relative to D65, to the four places of the standard's inverse.
XYZ_D65_FROM_LINEAR = np.array([[0.4124, 0.3576, 0.1805],
                                [0.2126, 0.7152, 0.0722],
                                [0.0193, 0.1192, 0.9505]])

# The whites: what the matrix above gives for (1, 1, 1), and the ICC connection space's D50 (ICC.1).
WHITE_D65 = XYZ_D65_FROM_LINEAR.sum(axis=1)
WHITE_D50 = np.array([0.9642, 1.0, 0.8249])

# Bradford cone response, as printed in ICC.1:2010 annex E.
BRADFORD = np.array([[0.8951, 0.2664, -0.1614],
                     [-0.7502, 1.7135, 0.0367],
                     [0.0389, -0.0685, 1.0296]])

# CIELAB's joint between cube root and straight line (ISO/CIE 11664-4).
EPSILON = (6 / 29) ** 3
KAPPA = (29 / 3) ** 3


def bradford_matrix(white_from, white_to):
    """Return the matrix that takes XYZ under one white to XYZ under the other."""
    gain = (BRADFORD @ white_to) / (BRADFORD @ white_from)
    return np.linalg.inv(BRADFORD) @ np.diag(gain) @ BRADFORD


D50_FROM_D65 = bradford_matrix(WHITE_D65, WHITE_D50)
D65_FROM_D50 = np.linalg.inv(D50_FROM_D65)


def lab_from_xyz(xyz, white):
    """CIELAB of XYZ (Y = 1 for the perfect diffuser) under a white."""
    ratio = np.asarray(xyz, float) / white
    f = np.where(ratio > EPSILON, np.cbrt(ratio), (KAPPA * ratio + 16) / 116)
    return np.stack([116 * f[..., 1] - 16,
                     500 * (f[..., 0] - f[..., 1]),
                     200 * (f[..., 1] - f[..., 2])], axis=-1)


def xyz_from_lab(lab, white):
    """XYZ (Y = 1 for the perfect diffuser) of CIELAB under a white."""
    lab = np.asarray(lab, float)
    fy = (lab[..., 0] + 16) / 116
    f = np.stack([fy + lab[..., 1] / 500, fy, fy - lab[..., 2] / 200], axis=-1)
    return white * np.where(f ** 3 > EPSILON, f ** 3, (116 * f - 16) / KAPPA)


def linear_from_lab_d50(lab_d50):
    """Linear sRGB of CIELAB D50; outside 0…1 where sRGB does not hold the colour."""
    xyz_d65 = xyz_from_lab(lab_d50, WHITE_D50) @ D65_FROM_D50.T
    return xyz_d65 @ np.linalg.inv(XYZ_D65_FROM_LINEAR).T


def xyz_d50_from_linear(linear):
    """XYZ for D50 of linear sRGB."""
    return np.asarray(linear, float) @ XYZ_D65_FROM_LINEAR.T @ D50_FROM_D65.T


def lab_d50_from_linear(linear):
    """CIELAB D50 of linear sRGB."""
    return lab_from_xyz(xyz_d50_from_linear(linear), WHITE_D50)


def lab_d65_from_linear(linear):
    """CIELAB D65 of linear sRGB."""
    return lab_from_xyz(np.asarray(linear, float) @ XYZ_D65_FROM_LINEAR.T, WHITE_D65)


def encode_srgb(linear):
    """The sRGB transfer function (IEC 61966-2-1) on values in 0…1."""
    return np.where(linear <= 0.0031308, 12.92 * linear,
                    1.055 * np.maximum(linear, 0.0031308) ** (1 / 2.4) - 0.055)


def decode_srgb(encoded):
    """The inverse of encode_srgb()."""
    return np.where(encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4)


def colour_record(linear):
    """A colour as truth.json states it: CIELAB for D50 and D65 and linear sRGB."""
    return {"lab_d50": rounded(lab_d50_from_linear(linear), 3),
            "lab_d65": rounded(lab_d65_from_linear(linear), 3),
            "linear_srgb": rounded(linear, 6)}


def rounded(values, places):
    """A list of plain numbers (lists nest) with so many decimal places, and no minus zero."""
    return (np.round(np.asarray(values, float), places) + 0.0).tolist()
