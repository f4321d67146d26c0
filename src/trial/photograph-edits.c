/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/edits.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/stage.h"
#include "trial/trial-private.h"

/**
 * sherd_trial_add_photograph:
 * @trial: a trial
 * @photograph: from sherd_photograph_new_from_file (); it gets its id here
 * @piece: the piece it shows
 * @side: the side it shows
 * @stage: the stage it shows
 * @error: place for an error
 *
 * Adds a photograph. Once the trial has a file, the picture is copied beside it at once.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE for a stage that is none, or SHERD_TRIAL_ERROR_PHOTO or _SAVE when the
 * picture could not be copied
 */
gboolean
sherd_trial_add_photograph (SherdTrial *trial,
                            SherdPhotograph *photograph,
                            SherdPiece *piece,
                            SherdSide *side,
                            const char *stage,
                            GError **error)
{
  g_autofree char *id = NULL;
  g_autofree char *label = g_strdup_printf (_ ("Add photograph %s"), sherd_photograph_get_original_name (photograph));

  if (!sherd_stage_check (stage, error) || !sherd_trial_store_photo (trial, photograph, error))
    return FALSE;
  id = sherd_trial_new_id (trial, "photograph");
  sherd_part_set_id (SHERD_PART (photograph), id);
  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, photograph, "piece", piece);
  sherd_trial_set (trial, photograph, "side", side);
  sherd_trial_set (trial, photograph, "stage", stage);
  sherd_trial_append (trial, sherd_trial_get_photographs (trial), photograph);
  sherd_trial_end_edit (trial);
  return TRUE;
}

static void
remove_measurements (SherdTrial *trial, SherdPhotograph *photograph)
{
  GListModel *measurements = sherd_trial_get_measurements (trial);

  for (guint i = g_list_model_get_n_items (measurements); i > 0; i--)
    {
      g_autoptr (SherdMeasurement) measurement = g_list_model_get_item (measurements, i - 1);

      if (sherd_measurement_get_photograph (measurement) == photograph)
        sherd_trial_remove (trial, measurements, i - 1);
    }
}

/**
 * sherd_trial_remove_photograph:
 * @trial: a trial
 * @photograph: one of its photographs
 *
 * Removes it with its measurements. The picture's file stays, for undo and for earlier versions of the trial.
 */
void
sherd_trial_remove_photograph (SherdTrial *trial, SherdPhotograph *photograph)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);
  g_autofree char *label =
    g_strdup_printf (_ ("Remove photograph %s"), sherd_photograph_get_original_name (photograph));
  guint position;

  g_return_if_fail (g_list_store_find (G_LIST_STORE (photographs), photograph, &position));
  sherd_trial_begin_edit (trial, label);
  remove_measurements (trial, photograph);
  sherd_trial_remove (trial, photographs, position);
  sherd_trial_end_edit (trial);
}

/**
 * sherd_trial_set_photograph_stage:
 * @trial: a trial
 * @photograph: one of its photographs
 * @stage: another stage
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when it is none
 */
gboolean
sherd_trial_set_photograph_stage (SherdTrial *trial, SherdPhotograph *photograph, const char *stage, GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Change stage of %s"), sherd_photograph_get_original_name (photograph));

  if (!sherd_stage_check (stage, error))
    return FALSE;
  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, photograph, "stage", stage);
  sherd_trial_end_edit (trial);
  return TRUE;
}

static gboolean
same_size (SherdPiece *first, SherdPiece *second)
{
  return sherd_piece_get_width_mm (first) == sherd_piece_get_width_mm (second) &&
         sherd_piece_get_height_mm (first) == sherd_piece_get_height_mm (second);
}

/**
 * sherd_trial_set_photograph_side:
 * @trial: a trial
 * @photograph: one of its photographs
 * @piece: the piece it shows
 * @side: the side it shows
 * @error: place for an error
 *
 * Its marks are places on a face of that size: they stay when the other piece measures the same, else they go.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when @side is not one of @piece
 */
gboolean
sherd_trial_set_photograph_side (SherdTrial *trial,
                                 SherdPhotograph *photograph,
                                 SherdPiece *piece,
                                 SherdSide *side,
                                 GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Change piece of %s"), sherd_photograph_get_original_name (photograph));

  if (!g_list_store_find (G_LIST_STORE (sherd_piece_get_sides (piece)), side, NULL))
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("“%s” has no such side."),
                   sherd_piece_get_name (piece));
      return FALSE;
    }
  sherd_trial_begin_edit (trial, label);
  if (!same_size (sherd_photograph_get_piece (photograph), piece))
    sherd_trial_set (trial, photograph, "marks", NULL);
  sherd_trial_set (trial, photograph, "piece", piece);
  sherd_trial_set (trial, photograph, "side", side);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/* NaN is refused as well. */
static gboolean
is_within (SherdPoint point, double most)
{
  return fabs (point.x) <= most && fabs (point.y) <= most;
}

static gboolean
check_marks (const SherdMark *marks, gsize n_marks, GError **error)
{
  if (n_marks > SHERD_MARKS_MAX)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("At most %d marks are taken."),
                   SHERD_MARKS_MAX);
      return FALSE;
    }
  for (gsize i = 0; i < n_marks; i++)
    if (!is_within (marks[i].piece_mm, SHERD_MARK_MAX_MM) || !is_within (marks[i].photo_px, SHERD_MARK_MAX_PX))
      {
        g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                     _ ("Mark %u lies far off any piece and photograph. Check its numbers."), (guint)i + 1);
        return FALSE;
      }
  return TRUE;
}

static gboolean
set_marks (SherdTrial *trial,
           SherdPhotograph *photograph,
           const char *property,
           const char *label,
           const SherdMark *marks,
           gsize n_marks,
           gboolean continued,
           GError **error)
{
  g_autoptr (SherdMarks) value = n_marks > 0 ? sherd_marks_new (marks, n_marks) : NULL;
  g_autofree char *key = g_strconcat (property, " ", sherd_part_get_id (SHERD_PART (photograph)), NULL);

  if (!check_marks (marks, n_marks, error))
    return FALSE;
  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, photograph, property, value);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_set_marks:
 * @trial: a trial
 * @photograph: one of its photographs
 * @marks: (array length=n_marks): places on the side in mm, seen in upright px; all of them
 * @n_marks: how many, 0 to take them away
 * @continued: joins the step before when that placed marks in the same photograph
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE for places that cannot be
 */
gboolean
sherd_trial_set_marks (SherdTrial *trial,
                       SherdPhotograph *photograph,
                       const SherdMark *marks,
                       gsize n_marks,
                       gboolean continued,
                       GError **error)
{
  g_autofree char *label =
    g_strdup_printf (_ ("Mark the piece in %s"), sherd_photograph_get_original_name (photograph));

  return set_marks (trial, photograph, "marks", label, marks, n_marks, continued, error);
}

/**
 * sherd_trial_set_reference_marks:
 * @trial: a trial
 * @photograph: one of its photographs
 * @marks: (array length=n_marks): places in the frame of its reference in mm, seen in upright px; all of them
 * @n_marks: how many, 0 to take them away
 * @continued: joins the step before when that placed marks in the same photograph
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE for places that cannot be
 */
gboolean
sherd_trial_set_reference_marks (SherdTrial *trial,
                                 SherdPhotograph *photograph,
                                 const SherdMark *marks,
                                 gsize n_marks,
                                 gboolean continued,
                                 GError **error)
{
  g_autofree char *label =
    g_strdup_printf (_ ("Mark the reference in %s"), sherd_photograph_get_original_name (photograph));

  return set_marks (trial, photograph, "reference-marks", label, marks, n_marks, continued, error);
}

/**
 * sherd_trial_set_reference:
 * @trial: a trial
 * @photograph: one of its photographs
 * @reference: what makes its light comparable
 *
 * Marks in the frame of another reference do not fit this one and go.
 */
void
sherd_trial_set_reference (SherdTrial *trial, SherdPhotograph *photograph, SherdReference *reference)
{
  SherdReference *old = sherd_photograph_get_reference (photograph);
  g_autofree char *label = g_strdup_printf (_ ("Reference of %s"), sherd_photograph_get_original_name (photograph));

  sherd_trial_begin_edit (trial, label);
  if (sherd_reference_get_width_mm (old) != sherd_reference_get_width_mm (reference) ||
      sherd_reference_get_height_mm (old) != sherd_reference_get_height_mm (reference))
    sherd_trial_set (trial, photograph, "reference-marks", NULL);
  sherd_trial_set (trial, photograph, "reference", reference);
  sherd_trial_end_edit (trial);
}
