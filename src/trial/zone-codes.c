/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/zone-codes.h"

#include <glib/gi18n-lib.h>

#include "plan/codes.h"
#include "trial/layout.h"

static const SherdLaidZone *
get_place (const GArray *places, guint zone)
{
  return &g_array_index (places, SherdLaidZone, zone);
}

/* (transfer container): codes that stay, ended by NULL */
static GPtrArray *
list_locked_codes (const GArray *places)
{
  GPtrArray *codes = g_ptr_array_new ();

  for (guint i = 0; i < places->len; i++)
    if (sherd_zone_get_locked (get_place (places, i)->zone))
      g_ptr_array_add (codes, (gpointer)sherd_zone_get_code (get_place (places, i)->zone));
  g_ptr_array_add (codes, NULL);
  return codes;
}

/* The zones of one side from @start on; returns where the next side begins. */
static guint
code_side (SherdTrial *trial, const GArray *places, guint start, const GPtrArray *taken, guint *row)
{
  g_autoptr (GArray) boxes = g_array_new (FALSE, FALSE, sizeof (SherdRectangle));
  g_autoptr (GPtrArray) zones = g_ptr_array_new ();
  g_auto (GStrv) codes = NULL;
  guint end;

  for (end = start; end < places->len && get_place (places, end)->side == get_place (places, start)->side; end++)
    if (!sherd_zone_get_locked (get_place (places, end)->zone))
      {
        g_array_append_val (boxes, get_place (places, end)->box);
        g_ptr_array_add (zones, get_place (places, end)->zone);
      }
  codes = sherd_codes_new ((const SherdRectangle *)boxes->data, boxes->len, (const char *const *)taken->pdata, row);
  for (guint i = 0; i < zones->len; i++)
    sherd_trial_set (trial, g_ptr_array_index (zones, i), "code", codes[i]);
  return end;
}

/**
 * sherd_trial_set_reading_codes:
 * @trial: a trial
 * @piece: one of its pieces
 * @error: place for an error
 *
 * Rows of each side get letters, from top to bottom, one side after the other; places in a row get numbers. A letter is
 * passed over where a locked zone has one of its codes.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_IN_USE
 */
gboolean
sherd_trial_set_reading_codes (SherdTrial *trial, SherdPiece *piece, GError **error)
{
  g_autoptr (GArray) places = sherd_trial_list_laid_zones (trial, piece, NULL);
  g_autoptr (GPtrArray) taken = list_locked_codes (places);
  g_autofree char *label = g_strdup_printf (_ ("Code the zones of %s"), sherd_piece_get_name (piece));
  guint row = 0;

  if (!sherd_trial_check_unfired (trial, places, error))
    return FALSE;
  sherd_trial_begin_edit (trial, label);
  for (guint start = 0; start < places->len;)
    start = code_side (trial, places, start, taken, &row);
  sherd_trial_end_edit (trial);
  return TRUE;
}
