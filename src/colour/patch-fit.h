/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/correction.h"

#include <gsl/gsl_matrix.h>

G_BEGIN_DECLS

/* r, g, b, √rg, √gb, √rb */
#define SHERD_PATCH_FIT_MOST_TERMS 6

/* Least squares for a light correction: 3 × n_pairs weighted equations for 3 × n_terms coefficients. */
typedef struct
{
  guint n_terms;
  gsl_matrix *design; /* once solved, its orthonormal factor U */
  gsl_vector *wanted;
  gsl_vector *solution; /* terms of X, of Y, of Z */
} SherdPatchFit;

void sherd_patch_fit_expand (const SherdRgb *linear, double terms[SHERD_PATCH_FIT_MOST_TERMS]);
gboolean sherd_patch_fit_solve (SherdPatchFit *fit,
                                const SherdCorrectionPair *pairs,
                                gsize n_pairs,
                                guint n_terms,
                                GError **error);
gboolean sherd_patch_fit_leave_out (const SherdPatchFit *fit,
                                    const SherdCorrectionPair *pair,
                                    gsize index,
                                    SherdLab *corrected,
                                    GError **error);
void sherd_patch_fit_clear (SherdPatchFit *fit);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SherdPatchFit, sherd_patch_fit_clear)

G_END_DECLS
