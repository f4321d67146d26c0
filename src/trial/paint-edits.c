/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/edits.h"

#include <glib/gi18n-lib.h>

#include "trial/code.h"
#include "trial/paint-use.h"

static gboolean
check_new_code (SherdTrial *trial, SherdPaint *except, const char *code, GError **error)
{
  SherdPaint *other;

  if (!sherd_code_check (code, error))
    return FALSE;
  other = sherd_trial_find_paint_by_code (trial, code);
  if (other == NULL || other == except)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_DUPLICATE,
               _ ("The code “%s” belongs to another paint already. Choose another code."), code);
  return FALSE;
}

/**
 * sherd_trial_add_paint:
 * @trial: a trial
 * @code: what is scratched on the piece
 * @name: (nullable): its name in words
 * @error: place for an error
 *
 * Returns: (transfer none): the new paint; NULL with SHERD_TRIAL_ERROR_VALUE or SHERD_TRIAL_ERROR_DUPLICATE
 */
SherdPaint *
sherd_trial_add_paint (SherdTrial *trial, const char *code, const char *name, GError **error)
{
  g_autofree char *id = NULL;
  g_autofree char *label = NULL;
  g_autoptr (SherdPaint) paint = NULL;

  if (!check_new_code (trial, NULL, code, error))
    return NULL;
  id = sherd_trial_new_id (trial, "paint");
  label = g_strdup_printf (_ ("Add paint %s"), code);
  paint = sherd_paint_new (id, code, name);
  sherd_trial_begin_edit (trial, label);
  sherd_trial_append (trial, sherd_trial_get_paints (trial), paint);
  sherd_trial_end_edit (trial);
  return paint;
}

static void
set_in_one_edit (SherdTrial *trial, SherdPaint *paint, const char *label, const char *property, const char *text)
{
  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, paint, property, text);
  sherd_trial_end_edit (trial);
}

/**
 * sherd_trial_set_paint_code:
 * @trial: a trial
 * @paint: one of its paints
 * @code: another code
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE or SHERD_TRIAL_ERROR_DUPLICATE
 */
gboolean
sherd_trial_set_paint_code (SherdTrial *trial, SherdPaint *paint, const char *code, GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Change code of paint %s"), sherd_paint_get_code (paint));

  if (!check_new_code (trial, paint, code, error))
    return FALSE;
  set_in_one_edit (trial, paint, label, "code", code);
  return TRUE;
}

/**
 * sherd_trial_set_paint_name:
 * @trial: a trial
 * @paint: one of its paints
 * @name: its name in words
 */
void
sherd_trial_set_paint_name (SherdTrial *trial, SherdPaint *paint, const char *name)
{
  g_autofree char *label = g_strdup_printf (_ ("Rename paint %s"), sherd_paint_get_code (paint));

  set_in_one_edit (trial, paint, label, "name", name);
}

/**
 * sherd_trial_set_paint_note:
 * @trial: a trial
 * @paint: one of its paints
 * @note: what the potter notes
 */
void
sherd_trial_set_paint_note (SherdTrial *trial, SherdPaint *paint, const char *note)
{
  g_autofree char *label = g_strdup_printf (_ ("Note on paint %s"), sherd_paint_get_code (paint));

  set_in_one_edit (trial, paint, label, "note", note);
}

/**
 * sherd_trial_count_paint_zones:
 * @trial: a trial
 * @paint: one of its paints
 *
 * Returns: how many zones carry it
 */
guint
sherd_trial_count_paint_zones (SherdTrial *trial, SherdPaint *paint)
{
  g_autoptr (GArray) zones = sherd_trial_list_painted_zones (trial, paint);

  return zones->len;
}

static void
take_out (SherdTrial *trial, SherdPaint *paint)
{
  GListModel *paints = sherd_trial_get_paints (trial);
  guint position;

  if (g_list_store_find (G_LIST_STORE (paints), paint, &position))
    sherd_trial_remove (trial, paints, position);
}

static gboolean
check_not_held (SherdTrial *trial, SherdPaint *paint, GError **error)
{
  g_autoptr (GPtrArray) holders = sherd_trial_list_paints_with_paint (trial, paint);

  if (holders->len == 0)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE,
               _ ("Paint “%s” is part of paint “%s”, now or in an earlier revision. Take it out there first; what was "
                  "fired stays."),
               sherd_paint_get_code (paint), sherd_paint_get_code (g_ptr_array_index (holders, 0)));
  return FALSE;
}

/**
 * sherd_trial_remove_paint:
 * @trial: a trial
 * @paint: one of its paints
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_IN_USE while zones carry it: see sherd_trial_replace_paint (), or paints hold
 * it
 */
gboolean
sherd_trial_remove_paint (SherdTrial *trial, SherdPaint *paint, GError **error)
{
  const guint n_zones = sherd_trial_count_paint_zones (trial, paint);
  g_autofree char *label = g_strdup_printf (_ ("Remove paint %s"), sherd_paint_get_code (paint));

  if (n_zones > 0)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE,
                   ngettext ("Paint “%s” is on %u zone. Give it another paint first, or leave it bare.",
                             "Paint “%s” is on %u zones. Give them another paint first, or leave them bare.", n_zones),
                   sherd_paint_get_code (paint), n_zones);
      return FALSE;
    }
  if (!check_not_held (trial, paint, error))
    return FALSE;
  sherd_trial_begin_edit (trial, label);
  take_out (trial, paint);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_replace_paint:
 * @trial: a trial
 * @paint: one of its paints
 * @other: (nullable): another of its paints; NULL leaves the zones bare
 * @error: place for an error
 *
 * Gives all zones of @paint @other instead and removes @paint, in one edit.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_IN_USE while other paints hold it
 */
gboolean
sherd_trial_replace_paint (SherdTrial *trial, SherdPaint *paint, SherdPaint *other, GError **error)
{
  g_autoptr (GArray) zones = sherd_trial_list_painted_zones (trial, paint);
  g_autofree char *label = g_strdup_printf (_ ("Replace paint %s"), sherd_paint_get_code (paint));

  g_return_val_if_fail (paint != other, FALSE);
  if (!check_not_held (trial, paint, error))
    return FALSE;
  sherd_trial_begin_edit (trial, label);
  for (guint i = 0; i < zones->len; i++)
    {
      SherdZone *zone = g_array_index (zones, SherdPaintedZone, i).zone;

      sherd_trial_set (trial, zone, "paint", other);
      sherd_trial_set (trial, zone, "paint-revision", 0);
    }
  take_out (trial, paint);
  sherd_trial_end_edit (trial);
  return TRUE;
}
