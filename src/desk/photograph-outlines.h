/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "desk/photograph-marks.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* What a photograph shows, drawn over it: zones of the piece, patches of the reference. */

void sherd_photograph_outlines_add_zones (SherdPhotoCanvas *canvas,
                                          SherdTrial *trial,
                                          SherdPhotograph *photograph,
                                          const SherdHomography *homography);
void sherd_photograph_outlines_add_patches (SherdPhotoCanvas *canvas,
                                            SherdPhotograph *photograph,
                                            const SherdMarkPlan *plan);

G_END_DECLS
