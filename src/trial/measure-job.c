/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/measure-job.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include "trial/file.h"
#include "trial/inputs.h"
#include "trial/zone-faults.h"

/* Fewer do not fix a plane (projective geometry: eight unknowns, two a mark). */
#define FEWEST_MARKS 4

/* Everything is copied, so that the trial may change while the job runs. */
struct _SherdMeasureJob
{
  SherdPhotograph *photograph; /* only to know it again, never read by a worker */
  char *inputs_sha256;
  char *photo_path;
  guint64 size_bytes;
  SherdMarks *marks;
  SherdMarks *reference_marks;
  GArray *zones;   /* of SherdMeasureZone with owned members */
  GArray *patches; /* of SherdMeasurePatch with owned members */
  SherdMeasureRequest request;
  SherdPhotoMeasurement *result;
};

/* The request's members are const; here they are owned. */
static void
clear_zone (gpointer data)
{
  SherdMeasureZone *zone = data;

  g_free ((char *)zone->id);
  g_free ((char *)zone->code);
  sherd_outline_free ((SherdOutline *)zone->outline_mm);
}

static void
clear_patch (gpointer data)
{
  SherdMeasurePatch *patch = data;

  g_free ((char *)patch->name);
  sherd_outline_free ((SherdOutline *)patch->outline_mm);
}

static GArray *
copy_zones (SherdSide *side)
{
  GListModel *zones = sherd_side_get_zones (side);
  const guint n_zones = g_list_model_get_n_items (zones);
  GArray *copies = g_array_new (FALSE, TRUE, sizeof (SherdMeasureZone));

  g_array_set_clear_func (copies, clear_zone);
  for (guint i = 0; i < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      const SherdMeasureZone copy = {
        .id = g_strdup (sherd_part_get_id (SHERD_PART (zone))),
        .code = g_strdup (sherd_zone_get_code (zone)),
        .outline_mm = sherd_zone_dup_outline (zone),
        .bare = sherd_zone_is_bare (zone),
      };

      g_array_append_val (copies, copy);
    }
  return copies;
}

static GArray *
copy_patches (SherdReference *reference)
{
  gsize n_patches;
  const SherdReferencePatch *patches = sherd_reference_get_patches (reference, &n_patches);
  GArray *copies = g_array_new (FALSE, TRUE, sizeof (SherdMeasurePatch));

  g_array_set_clear_func (copies, clear_patch);
  for (gsize i = 0; i < n_patches; i++)
    {
      const SherdRectangle *place = &patches[i].rectangle_mm;
      const SherdMeasurePatch copy = {
        .name = g_strdup (patches[i].name),
        .outline_mm = sherd_outline_new_rectangle (place->x_mm, place->y_mm, place->width_mm, place->height_mm),
        .lab = patches[i].lab,
      };

      g_array_append_val (copies, copy);
    }
  return copies;
}

static gboolean
refuse (const char *problem, GError **error)
{
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE, _ ("It cannot be measured yet. %s"), problem);
  return FALSE;
}

static gsize
count_marks (const SherdMarks *marks)
{
  return marks != NULL ? marks->n_marks : 0;
}

/* An outline that crosses itself has no inside to sample. */
static gboolean
check_outlines (SherdPiece *piece, SherdSide *side, GError **error)
{
  g_autoptr (GArray) faults = sherd_zone_faults_new (piece, side);

  for (guint i = 0; i < faults->len; i++)
    {
      const SherdZoneFault *fault = &g_array_index (faults, SherdZoneFault, i);
      g_autofree char *words = sherd_zone_fault_dup_words (fault);

      if (fault->kind == SHERD_ZONING_CROSSED)
        return refuse (words, error);
    }
  return TRUE;
}

static gboolean
check_complete (SherdPhotograph *photograph, GError **error)
{
  GListModel *zones = sherd_side_get_zones (sherd_photograph_get_side (photograph));
  SherdReference *reference = sherd_photograph_get_reference (photograph);

  if (sherd_piece_is_vessel (sherd_photograph_get_piece (photograph)))
    return refuse (_ ("It shows a vessel, and only flat pieces are measured so far."), error);
  if (!check_outlines (sherd_photograph_get_piece (photograph), sherd_photograph_get_side (photograph), error))
    return FALSE;
  if (g_list_model_get_n_items (zones) == 0)
    return refuse (_ ("Its side has no zones: lay them out first."), error);
  if (count_marks (sherd_photograph_get_marks (photograph)) < FEWEST_MARKS)
    return refuse (_ ("Mark the four corners of the piece in it first."), error);
  if (sherd_reference_get_kind (reference) != SHERD_REFERENCE_NONE &&
      count_marks (sherd_photograph_get_reference_marks (photograph)) < FEWEST_MARKS)
    return refuse (_ ("Mark the four corners of the chart or card in it first."), error);
  return TRUE;
}

static void
copy_inputs (SherdMeasureJob *job, SherdTrial *trial, SherdPhotograph *photograph)
{
  const SherdMarks *reference_marks = sherd_photograph_get_reference_marks (photograph);

  job->photograph = g_object_ref (photograph);
  job->inputs_sha256 = sherd_inputs_dup_sha256 (photograph);
  job->photo_path = sherd_trial_dup_photo_path (trial, photograph);
  job->size_bytes = sherd_photograph_get_size_bytes (photograph);
  job->marks = sherd_marks_copy (sherd_photograph_get_marks (photograph));
  job->reference_marks = reference_marks != NULL ? sherd_marks_copy (reference_marks) : sherd_marks_new (NULL, 0);
  job->zones = copy_zones (sherd_photograph_get_side (photograph));
  job->patches = copy_patches (sherd_photograph_get_reference (photograph));
}

static void
fill_request (SherdMeasureJob *job, SherdPhotograph *photograph)
{
  SherdPiece *piece = sherd_photograph_get_piece (photograph);

  job->request = (SherdMeasureRequest){
    .photo_path = job->photo_path,
    .face_width_mm = sherd_piece_get_width_mm (piece),
    .face_height_mm = sherd_piece_get_height_mm (piece),
    .marks = job->marks->marks,
    .n_marks = job->marks->n_marks,
    .mark_sd_px = sherd_photograph_get_mark_sd_px (photograph),
    .unfired = sherd_photograph_is_unfired (photograph),
    .zones = (const SherdMeasureZone *)(gpointer)job->zones->data,
    .n_zones = job->zones->len,
    .reference = sherd_reference_get_kind (sherd_photograph_get_reference (photograph)),
    .reference_marks = job->reference_marks->marks,
    .n_reference_marks = job->reference_marks->n_marks,
    .reference_unsized = !sherd_reference_is_sized (sherd_photograph_get_reference (photograph)),
    .patches = (const SherdMeasurePatch *)(gpointer)job->patches->data,
    .n_patches = job->patches->len,
  };
}

/**
 * sherd_measure_job_new:
 * @trial: a trial
 * @photograph: one of its photographs
 * @error: place for an error
 *
 * Copies everything that measuring the photograph needs.
 *
 * Returns: (transfer full): a job for any thread; NULL with SHERD_TRIAL_ERROR_INCOMPLETE when zones or marks are
 * missing
 */
SherdMeasureJob *
sherd_measure_job_new (SherdTrial *trial, SherdPhotograph *photograph, GError **error)
{
  SherdMeasureJob *job;

  g_return_val_if_fail (SHERD_IS_TRIAL (trial) && SHERD_IS_PHOTOGRAPH (photograph), NULL);
  if (!check_complete (photograph, error))
    return NULL;
  job = g_new0 (SherdMeasureJob, 1);
  copy_inputs (job, trial, photograph);
  fill_request (job, photograph);
  return job;
}

/**
 * sherd_measure_job_free:
 * @job: (transfer full): a job that is not running
 */
void
sherd_measure_job_free (SherdMeasureJob *job)
{
  g_clear_object (&job->photograph);
  g_free (job->inputs_sha256);
  g_free (job->photo_path);
  g_clear_pointer (&job->marks, sherd_marks_free);
  g_clear_pointer (&job->reference_marks, sherd_marks_free);
  g_clear_pointer (&job->zones, g_array_unref);
  g_clear_pointer (&job->patches, g_array_unref);
  g_clear_pointer (&job->result, sherd_photo_measurement_free);
  g_free (job);
}

/* The size tells a replaced picture without reading it twice; sherd_trial_check_photo () compares all of it. */
static gboolean
check_size (SherdMeasureJob *job, GError **error)
{
  g_autofree char *name = g_filename_display_basename (job->photo_path);
  GStatBuf status;

  if (g_stat (job->photo_path, &status) != 0)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO,
                   _ ("The photograph “%s” is missing. Put it back beside the trial, or add it again."), name);
      return FALSE;
    }
  if ((guint64)status.st_size != job->size_bytes)
    {
      g_set_error (
        error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO,
        _ ("The photograph “%s” is no longer the one that was added. Put the original back, or add it again."), name);
      return FALSE;
    }
  return TRUE;
}

/**
 * sherd_measure_job_run:
 * @job: a job
 * @progress: (nullable): called in this thread
 * @user_data: for @progress
 * @cancellable: (nullable): stops it
 * @error: place for an error
 *
 * Measures, in any thread.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_PHOTO, an error of sherd_measure_photo (), or G_IO_ERROR_CANCELLED
 */
gboolean
sherd_measure_job_run (SherdMeasureJob *job,
                       SherdProgressFunc progress,
                       gpointer user_data,
                       GCancellable *cancellable,
                       GError **error)
{
  g_return_val_if_fail (job->result == NULL, FALSE);
  if (!check_size (job, error))
    return FALSE;
  job->result = sherd_measure_photo (&job->request, progress, user_data, cancellable, error);
  return job->result != NULL;
}

/* A measurement of the same inputs is replaced; one of other inputs stays, for undo may bring those back. */
static guint
find_same (GListModel *measurements, const SherdMeasureJob *job)
{
  const guint n_measurements = g_list_model_get_n_items (measurements);

  for (guint i = 0; i < n_measurements; i++)
    {
      g_autoptr (SherdMeasurement) measurement = g_list_model_get_item (measurements, i);

      if (sherd_measurement_get_photograph (measurement) == job->photograph &&
          g_str_equal (sherd_measurement_get_inputs_sha256 (measurement), job->inputs_sha256))
        return i;
    }
  return n_measurements;
}

static void
put_measurement (SherdTrial *trial, SherdMeasureJob *job, SherdMeasurement *measurement)
{
  GListModel *measurements = sherd_trial_get_measurements (trial);
  const guint position = find_same (measurements, job);
  g_autofree char *label = g_strdup_printf (_ ("Measure %s"), sherd_photograph_get_original_name (job->photograph));
  gpointer added = measurement;

  sherd_trial_begin_edit (trial, label);
  if (position < g_list_model_get_n_items (measurements))
    sherd_trial_remove (trial, measurements, position);
  sherd_trial_splice (trial, measurements, g_list_model_get_n_items (measurements), 0, &added, 1);
  sherd_trial_end_edit (trial);
}

/**
 * sherd_measure_job_apply:
 * @job: a job that ran without an error
 * @trial: the trial it was made from
 *
 * Puts the result into the trial as one undoable edit. When the trial was changed meanwhile the measurement is stale at
 * once.
 *
 * Returns: (transfer none) (nullable): the measurement; NULL when the photograph has gone from the trial
 */
SherdMeasurement *
sherd_measure_job_apply (SherdMeasureJob *job, SherdTrial *trial)
{
  const char *photograph_id = sherd_part_get_id (SHERD_PART (job->photograph));
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();
  g_autofree char *made = g_date_time_format (now, "%Y-%m-%dT%H:%M:%SZ");
  g_autofree char *id = NULL;
  g_autoptr (SherdMeasurement) measurement = NULL;

  g_return_val_if_fail (job->result != NULL, NULL);
  if (sherd_trial_find_photograph (trial, photograph_id) != job->photograph)
    return NULL;
  id = sherd_trial_new_id (trial, "measurement");
  measurement = sherd_measurement_new (id, job->photograph, job->inputs_sha256, SHERD_VERSION, made,
                                       g_steal_pointer (&job->result));
  put_measurement (trial, job, measurement);
  return measurement;
}

/**
 * sherd_trial_measure:
 * @trial: a trial
 * @photograph: one of its photographs
 * @progress: (nullable): called as it goes
 * @user_data: for @progress
 * @cancellable: (nullable): stops it
 * @error: place for an error
 *
 * Makes, runs and applies a job at once.
 *
 * Returns: (transfer none): the measurement; NULL with an error of the three
 */
SherdMeasurement *
sherd_trial_measure (SherdTrial *trial,
                     SherdPhotograph *photograph,
                     SherdProgressFunc progress,
                     gpointer user_data,
                     GCancellable *cancellable,
                     GError **error)
{
  g_autoptr (SherdMeasureJob) job = sherd_measure_job_new (trial, photograph, error);

  if (job == NULL || !sherd_measure_job_run (job, progress, user_data, cancellable, error))
    return NULL;
  return sherd_measure_job_apply (job, trial);
}
