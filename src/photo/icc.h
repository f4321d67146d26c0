/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* An embedded colour profile, ready to turn a file's colours into linear light in the sRGB primaries. */
typedef struct _SherdIcc SherdIcc;

SherdIcc *sherd_icc_new (gconstpointer data, gsize length, guint n_colours);
void sherd_icc_free (SherdIcc *icc);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdIcc, sherd_icc_free)

const char *sherd_icc_get_name (const SherdIcc *icc);
void sherd_icc_to_linear (const SherdIcc *icc, const float *device, gsize n, float *linear_rgb);
gboolean sherd_icc_is_srgb (const SherdIcc *icc);
gboolean sherd_icc_get_matrix (const SherdIcc *icc, double matrix[3][3]);
void sherd_icc_fill_curve (const SherdIcc *icc, guint channel, float *curve, gsize n_levels);

G_END_DECLS
