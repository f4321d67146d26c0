/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/chart.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_CORRECTION_NONE,           /* no reference: the file's own colours, wide uncertainty */
  SHERD_CORRECTION_GREY,           /* white balance and exposure from a grey card */
  SHERD_CORRECTION_LINEAR,         /* exposure and 3×3 */
  SHERD_CORRECTION_ROOT_POLYNOMIAL /* second degree, 6 terms */
} SherdCorrectionModel;

/* A patch as photographed and as it should be. */
typedef struct
{
  SherdRgb linear;    /* mean linear light in the photograph */
  SherdLab reference; /* D50 */
  double weight;      /* 1 for a good patch; less for a doubtful one, 0 for one only to be looked at */
} SherdCorrectionPair;

/* Turns linear light of one photograph into XYZ (D50). */
typedef struct
{
  SherdCorrectionModel model;
  double matrix[3][6];  /* columns r, g, b, √rg, √gb, √rb; the last three are 0 for the linear model */
  guint n_pairs;        /* patches behind the fit, those of weight 0 left out */
  double loo_mean_de00; /* leave-one-out ΔE00 over those patches, weighted */
  double loo_median_de00;
  double loo_max_de00;
  guint loo_worst; /* index of the pair with the largest */
  /* of a corrected colour, L*a*b*: from the leave-one-out residuals, or the stated wide prior */
  double covariance[3][3];
} SherdCorrection;

void sherd_correction_init_none (SherdCorrection *correction);
void sherd_correction_init_grey (SherdCorrection *correction, const SherdRgb *card_linear, const SherdLab *card);

gboolean sherd_correction_fit_grey (SherdCorrection *correction,
                                    const SherdCorrectionPair *pairs,
                                    gsize n_pairs,
                                    double *loo_residual_lab,
                                    GError **error);

gboolean sherd_correction_fit (SherdCorrection *correction,
                               const SherdCorrectionPair *pairs,
                               gsize n_pairs,
                               SherdCorrectionModel model,
                               double *loo_residual_lab,
                               GError **error);

gboolean sherd_correction_fit_best (SherdCorrection *correction,
                                    const SherdCorrectionPair *pairs,
                                    gsize n_pairs,
                                    double *loo_residual_lab,
                                    GError **error);

SherdXyz sherd_correction_apply (const SherdCorrection *correction, const SherdRgb *linear);

G_END_DECLS
