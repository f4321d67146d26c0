/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/measure-run.h"

#include <gio/gio.h>

/* Often enough to look alive, seldom enough to cost nothing. */
#define PROGRESS_INTERVAL_US (G_USEC_PER_SEC / 20)

struct _SherdMeasureRun
{
  GObject parent_instance;

  SherdTrial *trial;
  GPtrArray *waiting; /* of SherdPhotograph */
  GCancellable *cancellable;
  SherdPhotograph *photograph; /* being measured */
  guint n_all;
  guint n_done;
  guint n_measured;
};

G_DEFINE_FINAL_TYPE (SherdMeasureRun, sherd_measure_run, G_TYPE_OBJECT)

enum
{
  SIGNAL_PROGRESS,
  SIGNAL_FAILED,
  SIGNAL_FINISHED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void measure_next (SherdMeasureRun *self);

/* What the worker tells the main thread; it keeps the run alive. */
typedef struct
{
  SherdMeasureRun *run;
  double done_frac;
} Progress;

static void
progress_free (gpointer data)
{
  Progress *progress = data;

  g_object_unref (progress->run);
  g_free (progress);
}

static gboolean
progress_cb (gpointer data)
{
  Progress *progress = data;
  SherdMeasureRun *self = progress->run;

  g_signal_emit (self, signals[SIGNAL_PROGRESS], 0, (self->n_done + progress->done_frac) / MAX (1u, self->n_all));
  return G_SOURCE_REMOVE;
}

/* One photograph in the worker. */
typedef struct
{
  SherdMeasureRun *run;
  SherdMeasureJob *job;
  gint64 told_at_us;
} Work;

static void
work_free (gpointer data)
{
  Work *work = data;

  g_object_unref (work->run);
  sherd_measure_job_free (work->job);
  g_free (work);
}

static void
worker_progress (double done_frac, gpointer user_data)
{
  Work *work = user_data;
  gint64 now_us = g_get_monotonic_time ();
  Progress *progress;

  if (now_us - work->told_at_us < PROGRESS_INTERVAL_US)
    return;
  work->told_at_us = now_us;
  progress = g_new (Progress, 1);
  *progress = (Progress){ .run = g_object_ref (work->run), .done_frac = done_frac };
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, progress_cb, progress, progress_free);
}

static void
worker (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  Work *work = task_data;
  GError *error = NULL;

  if (sherd_measure_job_run (work->job, worker_progress, work, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
emit_failed (SherdMeasureRun *self, const GError *error)
{
  g_signal_emit (self, signals[SIGNAL_FAILED], 0, sherd_photograph_get_original_name (self->photograph), error);
}

static void
measured_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SherdMeasureRun *self = SHERD_MEASURE_RUN (source);
  Work *work = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;

  if (g_task_propagate_boolean (G_TASK (result), &error))
    {
      if (sherd_measure_job_apply (work->job, self->trial) != NULL)
        self->n_measured++;
    }
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    emit_failed (self, error);
  self->n_done++;
  measure_next (self);
}

static void
start_worker (SherdMeasureRun *self, SherdMeasureJob *job)
{
  g_autoptr (GTask) task = g_task_new (self, self->cancellable, measured_cb, NULL);
  Work *work = g_new0 (Work, 1);

  work->run = g_object_ref (self);
  work->job = job;
  g_task_set_task_data (task, work, work_free);
  g_task_run_in_thread (task, worker);
}

static void
measure_next (SherdMeasureRun *self)
{
  SherdMeasureJob *job;
  g_autoptr (GError) error = NULL;

  if (self->waiting->len == 0 || g_cancellable_is_cancelled (self->cancellable))
    {
      g_signal_emit (self, signals[SIGNAL_FINISHED], 0, self->n_measured);
      return;
    }
  g_clear_object (&self->photograph);
  self->photograph = g_ptr_array_steal_index (self->waiting, 0);
  job = sherd_measure_job_new (self->trial, self->photograph, &error);
  if (job != NULL)
    {
      start_worker (self, job);
      return;
    }
  emit_failed (self, error);
  self->n_done++;
  measure_next (self);
}

/**
 * sherd_measure_run_new:
 * @trial: the trial
 *
 * Returns: (transfer full): a run over all its photographs
 */
SherdMeasureRun *
sherd_measure_run_new (SherdTrial *trial)
{
  SherdMeasureRun *self = g_object_new (SHERD_TYPE_MEASURE_RUN, NULL);
  GListModel *photographs = sherd_trial_get_photographs (trial);

  self->trial = g_object_ref (trial);
  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    g_ptr_array_add (self->waiting, g_list_model_get_item (photographs, i));
  self->n_all = self->waiting->len;
  return self;
}

/**
 * sherd_measure_run_start:
 * @self: a run
 *
 * Begins; "finished" tells the end, also after a cancel. Hold a reference until then.
 */
void
sherd_measure_run_start (SherdMeasureRun *self)
{
  measure_next (self);
}

/**
 * sherd_measure_run_cancel:
 * @self: a run
 *
 * Stops after the rows being read; what was measured before is kept.
 */
void
sherd_measure_run_cancel (SherdMeasureRun *self)
{
  g_cancellable_cancel (self->cancellable);
}

static void
sherd_measure_run_finalize (GObject *object)
{
  SherdMeasureRun *self = SHERD_MEASURE_RUN (object);

  g_clear_object (&self->trial);
  g_clear_object (&self->photograph);
  g_clear_object (&self->cancellable);
  g_ptr_array_unref (self->waiting);
  G_OBJECT_CLASS (sherd_measure_run_parent_class)->finalize (object);
}

static void
sherd_measure_run_class_init (SherdMeasureRunClass *klass)
{
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sherd_measure_run_finalize;
  signals[SIGNAL_PROGRESS] =
    g_signal_new ("progress", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_DOUBLE);
  signals[SIGNAL_FAILED] =
    g_signal_new ("failed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_ERROR);
  signals[SIGNAL_FINISHED] =
    g_signal_new ("finished", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
sherd_measure_run_init (SherdMeasureRun *self)
{
  self->waiting = g_ptr_array_new_with_free_func (g_object_unref);
  self->cancellable = g_cancellable_new ();
}
