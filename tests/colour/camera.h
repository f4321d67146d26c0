/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/correction.h"

G_BEGIN_DECLS

/* A made camera: which linear light it sees of a colour. */
void camera_draw (GRand *random, double matrix[3][3]);
SherdRgb camera_see (double matrix[3][3], const SherdLab *colour);

/* Colours of surfaces with the light that a made camera sees of them; @noise_frac is the error of its readings. */
SherdCorrectionPair *camera_pairs (GRand *random, double matrix[3][3], gsize n_pairs, double noise_frac);
SherdLab camera_surface (GRand *random);

G_END_DECLS
