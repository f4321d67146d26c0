/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/grid.h"

G_BEGIN_DECLS

/* Codes for zones wherever they lie, in reading order: rows (rings) by letters, places in a row (sectors) by numbers.
 */

guint *sherd_codes_reading_order (const SherdRectangle *places, guint n_places, guint *rows);
char **sherd_codes_new (const SherdRectangle *places, guint n_places, const char *const *taken, guint *first_row);

G_END_DECLS
