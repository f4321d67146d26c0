/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/homography.h"

G_BEGIN_DECLS

/* Reading the values of options: numbers with a decimal point, whatever the locale. Each names in its error the option,
 * the text it was given and the form it takes (G_OPTION_ERROR_BAD_VALUE). */

/* "12.5,3,…": exactly @n_numbers, or one that stands for all when @one_for_all. */
gboolean sherd_words_numbers (const char *option,
                              const char *text,
                              double *numbers,
                              guint n_numbers,
                              gboolean one_for_all,
                              GError **error);
/* (transfer full) (nullable): of double: "0,2,5,10", any number of them. */
GArray *sherd_words_list (const char *option, const char *text, GError **error);
/* "150x100" or "150x100x8": @n_numbers; those missing at the end, down to @n_needed, stay as they are. */
gboolean sherd_words_size (const char *option,
                           const char *text,
                           double *numbers,
                           guint n_numbers,
                           guint n_needed,
                           GError **error);
/* "3x4": rows and columns, whole numbers from 1 up. */
gboolean
sherd_words_rows_columns (const char *option, const char *text, guint *n_rows, guint *n_columns, GError **error);
/* "x,y x,y x,y x,y": four points. */
gboolean sherd_words_four_points (const char *option, const char *text, SherdPoint points[4], GError **error);
/* "12.5,0=812,403.5": mm on the piece = px in the photograph. */
gboolean sherd_words_mark (const char *option, const char *text, SherdMark *mark, GError **error);
/* (transfer full) (nullable): splits "KEY=REST" at the first "="; @rest: (out) (transfer full). */
char *sherd_words_pair (const char *option, const char *text, char **rest, GError **error);

G_END_DECLS
