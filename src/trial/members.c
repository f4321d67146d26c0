/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/members.h"

#include "measure/measure.h"

#define END                                                                                                            \
  {                                                                                                                    \
    NULL, SHERD_OPTIONAL                                                                                               \
  }
#define FIELD_END                                                                                                      \
  {                                                                                                                    \
    NULL, SHERD_FIELD_NUMBER, 0, 0                                                                                     \
  }
#define NUMBER(type, field)                                                                                            \
  {                                                                                                                    \
#field, SHERD_FIELD_NUMBER, G_STRUCT_OFFSET(type, field), 1                                                        \
  }
#define NUMBERS(type, field)                                                                                           \
  {                                                                                                                    \
#field, SHERD_FIELD_NUMBERS, G_STRUCT_OFFSET(type, field), sizeof(((type *)0)->field) / sizeof(double)             \
  }
#define COUNT(type, field)                                                                                             \
  {                                                                                                                    \
#field, SHERD_FIELD_COUNT, G_STRUCT_OFFSET(type, field), 1                                                         \
  }
#define FLAG(type, field)                                                                                              \
  {                                                                                                                    \
#field, SHERD_FIELD_FLAG, G_STRUCT_OFFSET(type, field), 1                                                          \
  }

const SherdMember sherd_trial_members[] = {
  { "title", SHERD_REQUIRED },
  { "notes", SHERD_OPTIONAL },
  { "seed", SHERD_REQUIRED },
  END,
};

const SherdMember sherd_paint_members[] = {
  { "code", SHERD_REQUIRED },
  { "name", SHERD_OPTIONAL },
  { "note", SHERD_OPTIONAL },
  { "kind", SHERD_OPTIONAL },
  { "batch-g", SHERD_OPTIONAL },
  { "revision", SHERD_OPTIONAL },
  END,
};

const SherdMember sherd_piece_members[] = {
  { "name", SHERD_REQUIRED },
  { "kind", SHERD_REQUIRED },
  { "thickness-mm", SHERD_OPTIONAL },
  { "state", SHERD_REQUIRED },
  { "painted-state", SHERD_OPTIONAL },
  { "bar-leather-hard-mm", SHERD_OPTIONAL },
  { "bar-dry-mm", SHERD_OPTIONAL },
  { "bar-fired-mm", SHERD_OPTIONAL },
  { "drying-pct", SHERD_OPTIONAL },
  { "drying-doubt-pct", SHERD_OPTIONAL },
  { "firing-pct", SHERD_OPTIONAL },
  { "firing-doubt-pct", SHERD_OPTIONAL },
  END,
};

const SherdMember sherd_piece_size_members[] = {
  { "width-mm", SHERD_REQUIRED },
  { "height-mm", SHERD_REQUIRED },
  END,
};

const SherdMember sherd_side_members[] = {
  { "name", SHERD_REQUIRED },
  { "ground", SHERD_OPTIONAL },
  { "burnish", SHERD_OPTIONAL },
  { "drying-days", SHERD_OPTIONAL },
  END,
};

const SherdMember sherd_zone_rectangle_members[] = {
  { "x-mm", SHERD_REQUIRED },
  { "y-mm", SHERD_REQUIRED },
  { "width-mm", SHERD_REQUIRED },
  { "height-mm", SHERD_REQUIRED },
  END,
};

const SherdMember sherd_zone_range_members[] = {
  { "azimuth0-deg", SHERD_REQUIRED },
  { "azimuth1-deg", SHERD_REQUIRED },
  { "arc0-mm", SHERD_REQUIRED },
  { "arc1-mm", SHERD_REQUIRED },
  END,
};

const SherdMember sherd_zone_members[] = {
  { "code", SHERD_REQUIRED },         { "coats", SHERD_OPTIONAL },
  { "replicate", SHERD_OPTIONAL },    { "ground", SHERD_OPTIONAL },
  { "locked", SHERD_OPTIONAL },       { "laid-g", SHERD_OPTIONAL },
  { "laid-doubt-g", SHERD_OPTIONAL }, END,
};

const SherdMember sherd_photograph_members[] = {
  { "stage", SHERD_REQUIRED },         { "file", SHERD_REQUIRED },
  { "sha256", SHERD_REQUIRED },        { "size-bytes", SHERD_REQUIRED },
  { "original-name", SHERD_OPTIONAL }, { "width-px", SHERD_REQUIRED },
  { "height-px", SHERD_REQUIRED },     { "mark-sd-px", SHERD_OPTIONAL },
  { "camera", SHERD_OPTIONAL },        { "taken", SHERD_OPTIONAL },
  { "focal-35mm", SHERD_OPTIONAL },    { "exposure-s", SHERD_OPTIONAL },
  { "f-number", SHERD_OPTIONAL },      { "iso", SHERD_OPTIONAL },
  { "note", SHERD_OPTIONAL },          END,
};

const SherdMember sherd_measurement_members[] = {
  { "inputs-sha256", SHERD_REQUIRED },
  { "program", SHERD_REQUIRED },
  { "made", SHERD_REQUIRED },
  END,
};

const SherdField sherd_photo_measurement_fields[] = {
  NUMBER (SherdPhotoMeasurement, residual_rms_px),
  NUMBER (SherdPhotoMeasurement, residual_rms_mm),
  NUMBER (SherdPhotoMeasurement, uneven_frac),
  NUMBER (SherdPhotoMeasurement, reference_clipped_frac),
  FIELD_END,
};

const SherdField sherd_correction_fields[] = {
  NUMBERS (SherdCorrection, matrix),       COUNT (SherdCorrection, n_pairs),
  NUMBER (SherdCorrection, loo_mean_de00), NUMBER (SherdCorrection, loo_median_de00),
  NUMBER (SherdCorrection, loo_max_de00),  COUNT (SherdCorrection, loo_worst),
  NUMBERS (SherdCorrection, covariance),   FIELD_END,
};

const SherdField sherd_patch_error_fields[] = {
  NUMBERS (SherdPatchError, lab),
  NUMBERS (SherdPatchError, error),
  FLAG (SherdPatchError, usable),
  FIELD_END,
};

const SherdField sherd_zone_colour_fields[] = {
  NUMBERS (SherdZoneColour, lab),
  NUMBERS (SherdZoneColour, lower_95),
  NUMBERS (SherdZoneColour, upper_95),
  NUMBERS (SherdZoneColour, covariance),
  NUMBERS (SherdZoneColour, scatter),
  NUMBERS (SherdZoneColour, reference),
  NUMBERS (SherdZoneColour, registration),
  NUMBERS (SherdZoneColour, light),
  NUMBERS (SherdZoneColour, pixel_sd),
  NUMBERS (SherdZoneColour, ground),
  COUNT (SherdZoneColour, n_pixels),
  COUNT (SherdZoneColour, n_glare),
  COUNT (SherdZoneColour, n_shadow),
  COUNT (SherdZoneColour, n_clipped),
  COUNT (SherdZoneColour, n_ground),
  NUMBER (SherdZoneColour, retained_frac),
  NUMBER (SherdZoneColour, px_per_mm),
  NUMBERS (SherdZoneColour, mirrored),
  FIELD_END,
};

/* In the order of SherdCorrectionModel. */
const char *const sherd_correction_model_words[] = { "none", "grey", "linear", "root-polynomial", NULL };

/* In the order of the bits of SherdZoneFlags. */
const char *const sherd_zone_flag_words[] = { "few-pixels", "clipped",     "glare", "little-paint",
                                              "outside",    "two-colours", "dark",  NULL };
