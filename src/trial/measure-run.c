/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/measure-run.h"

#include <gio/gio.h>

/* Often enough to look alive, seldom enough to cost nothing. */
#define PROGRESS_INTERVAL_US (G_USEC_PER_SEC / 20)

/* A worker tells how far the rows are read; the rest of the work is about as much as this leaves. */
#define READING_FRAC 0.7

/* One photograph on its way. */
typedef struct
{
  SherdPhotograph *photograph;
  SherdMeasureJob *job; /* NULL until it is begun */
  GError *error;
  double done_frac;
  gboolean ended;
} Turn;

struct _SherdMeasureRun
{
  GObject parent_instance;

  SherdTrial *trial;
  GCancellable *cancellable;
  Turn *turns;
  guint n_turns;
  guint n_begun;
  guint n_told; /* what is done is told and kept in the order of the photographs */
  guint n_running;
  guint n_measured;
};

G_DEFINE_FINAL_TYPE (SherdMeasureRun, sherd_measure_run, G_TYPE_OBJECT)

enum
{
  SIGNAL_PROGRESS,
  SIGNAL_MEASURED,
  SIGNAL_FAILED,
  SIGNAL_FINISHED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
tell_progress (SherdMeasureRun *self)
{
  double done = 0.0;

  for (guint i = 0; i < self->n_turns; i++)
    done += self->turns[i].done_frac;
  g_signal_emit (self, signals[SIGNAL_PROGRESS], 0, done / MAX (1u, self->n_turns));
}

/* What a worker tells the main thread; it keeps the run alive. */
typedef struct
{
  SherdMeasureRun *run;
  guint turn;
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
  Turn *turn = &progress->run->turns[progress->turn];

  const double done_frac = READING_FRAC * progress->done_frac;

  if (!turn->ended && done_frac > turn->done_frac)
    {
      turn->done_frac = done_frac;
      tell_progress (progress->run);
    }
  return G_SOURCE_REMOVE;
}

/* One photograph in a worker. */
typedef struct
{
  SherdMeasureRun *run;
  guint turn;
  SherdMeasureJob *job;
  gint64 told_at_us;
} Work;

static void
work_free (gpointer data)
{
  Work *work = data;

  g_object_unref (work->run);
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
  *progress = (Progress){ .run = g_object_ref (work->run), .turn = work->turn, .done_frac = done_frac };
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
tell_turn (SherdMeasureRun *self, Turn *turn)
{
  SherdMeasurement *measurement;

  if (g_error_matches (turn->error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (turn->error != NULL)
    {
      g_signal_emit (self, signals[SIGNAL_FAILED], 0, turn->photograph, turn->error);
      return;
    }
  measurement = sherd_measure_job_apply (turn->job, self->trial);
  g_clear_pointer (&turn->job, sherd_measure_job_free);
  if (measurement == NULL)
    return;
  self->n_measured++;
  g_signal_emit (self, signals[SIGNAL_MEASURED], 0, measurement);
}

static void
end_turn (SherdMeasureRun *self, Turn *turn, GError *error)
{
  turn->error = error;
  turn->ended = TRUE;
  turn->done_frac = 1.0;
}

static void begin_turns (SherdMeasureRun *self);

static void
ended_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SherdMeasureRun *self = SHERD_MEASURE_RUN (source);
  const Work *work = g_task_get_task_data (G_TASK (result));
  GError *error = NULL;

  g_task_propagate_boolean (G_TASK (result), &error);
  end_turn (self, &self->turns[work->turn], error);
  self->n_running--;
  begin_turns (self);
}

static void
begin_turn (SherdMeasureRun *self, guint i)
{
  g_autoptr (GTask) task = NULL;
  Turn *turn = &self->turns[i];
  GError *error = NULL;
  Work *work;

  turn->job = sherd_measure_job_new (self->trial, turn->photograph, &error);
  if (turn->job == NULL)
    {
      end_turn (self, turn, error);
      return;
    }
  work = g_new0 (Work, 1);
  *work = (Work){ .run = g_object_ref (self), .turn = i, .job = turn->job };
  task = g_task_new (self, self->cancellable, ended_cb, NULL);
  g_task_set_task_data (task, work, work_free);
  self->n_running++;
  g_task_run_in_thread (task, worker);
}

/* Keeps and tells what is done, begins what there is a processor for; the end when nothing is left. */
static void
begin_turns (SherdMeasureRun *self)
{
  const gboolean cancelled = g_cancellable_is_cancelled (self->cancellable);
  G_GNUC_UNUSED g_autoptr (SherdMeasureRun) kept = g_object_ref (self); /* whoever listens may let go */

  while (!cancelled && self->n_begun < self->n_turns && self->n_running < g_get_num_processors ())
    begin_turn (self, self->n_begun++);
  tell_progress (self);
  while (self->n_told < self->n_begun && self->turns[self->n_told].ended)
    tell_turn (self, &self->turns[self->n_told++]);
  if (self->n_running == 0)
    g_signal_emit (self, signals[SIGNAL_FINISHED], 0, self->n_measured);
}

/**
 * sherd_measure_run_new:
 * @trial: the trial
 * @photographs: of SherdPhotograph, those of it to be measured
 *
 * Returns: (transfer full): a run over @photographs as they are now
 */
SherdMeasureRun *
sherd_measure_run_new (SherdTrial *trial, GListModel *photographs)
{
  SherdMeasureRun *self = g_object_new (SHERD_TYPE_MEASURE_RUN, NULL);

  self->trial = g_object_ref (trial);
  self->n_turns = g_list_model_get_n_items (photographs);
  self->turns = g_new0 (Turn, self->n_turns + 1);
  for (guint i = 0; i < self->n_turns; i++)
    self->turns[i].photograph = g_list_model_get_item (photographs, i);
  return self;
}

/**
 * sherd_measure_run_start:
 * @self: a run
 *
 * Begins; "finished" tells the end, also after a cancel, and at once when nothing can be measured. Hold a reference
 * until then.
 */
void
sherd_measure_run_start (SherdMeasureRun *self)
{
  begin_turns (self);
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

  for (guint i = 0; i < self->n_turns; i++)
    {
      g_object_unref (self->turns[i].photograph);
      g_clear_pointer (&self->turns[i].job, sherd_measure_job_free);
      g_clear_error (&self->turns[i].error);
    }
  g_free (self->turns);
  g_clear_object (&self->trial);
  g_clear_object (&self->cancellable);
  G_OBJECT_CLASS (sherd_measure_run_parent_class)->finalize (object);
}

static void
sherd_measure_run_class_init (SherdMeasureRunClass *klass)
{
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sherd_measure_run_finalize;
  signals[SIGNAL_PROGRESS] =
    g_signal_new ("progress", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_DOUBLE);
  signals[SIGNAL_MEASURED] =
    g_signal_new ("measured", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, SHERD_TYPE_MEASUREMENT);
  signals[SIGNAL_FAILED] = g_signal_new ("failed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                         SHERD_TYPE_PHOTOGRAPH, G_TYPE_ERROR);
  signals[SIGNAL_FINISHED] =
    g_signal_new ("finished", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
sherd_measure_run_init (SherdMeasureRun *self)
{
  self->cancellable = g_cancellable_new ();
}
