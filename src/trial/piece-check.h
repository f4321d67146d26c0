/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/piece.h"

G_BEGIN_DECLS

/* What edits of pieces check before they change anything. */

/* SHERD_TRIAL_ERROR_VALUE: empty */
gboolean sherd_piece_check_name (const char *name, GError **error);
/* SHERD_TRIAL_ERROR_VALUE: too small, too large; @thickness_mm may be 0 */
gboolean sherd_piece_check_size (double width_mm, double height_mm, double thickness_mm, GError **error);
/* SHERD_TRIAL_ERROR_VALUE: a vessel or sherd takes its size from its form */
gboolean sherd_piece_check_own_size (SherdPiece *piece, GError **error);
/* SHERD_TRIAL_ERROR_VALUE: zones of a vessel lie between azimuths */
gboolean sherd_piece_check_flat (SherdPiece *piece, GError **error);
/* SHERD_TRIAL_ERROR_IN_USE: a zone of @piece would not lie on @reshaped, a piece of another form. A zone that lies
 * beyond the side even now is no reason. */
gboolean sherd_piece_check_zones_fit (SherdPiece *piece, SherdPiece *reshaped, GError **error);

G_END_DECLS
