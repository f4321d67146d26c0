/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/camera.h"
#include "measure/light.h"
#include "measure/reference.h"
#include "measure/tone.h"

G_BEGIN_DECLS

/* Light and colours of one photograph brought to a common footing. */
typedef struct
{
  SherdTone tone; /* to be applied to linear light before all else */
  SherdLight light;
  SherdCorrection correction; /* linear light ÷ light → XYZ (D50) */
  SherdPatchError *errors;    /* one a patch */
  gsize n_errors;
  gboolean level_known; /* FALSE without a reference: the level is the file's own */
} SherdCalibration;

void sherd_calibration_clear (SherdCalibration *calibration);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SherdCalibration, sherd_calibration_clear)

gboolean sherd_calibrate (SherdCalibration *calibration,
                          SherdReferenceKind kind,
                          const SherdMeasurePatch *patches,
                          SherdPatchReading *readings,
                          gsize n_patches,
                          GArray *ground_cells,
                          const SherdCamera *camera,
                          SherdPoint face_middle_mm,
                          GError **error);

G_END_DECLS
