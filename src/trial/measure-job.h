/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* One photograph to be measured, with everything needed copied: made on the main thread, run on any, applied on the
 * main thread. */
typedef struct _SherdMeasureJob SherdMeasureJob;

/* (transfer full): SHERD_TRIAL_ERROR_INCOMPLETE says what is missing (marks, zones, reference marks). */
SherdMeasureJob *sherd_measure_job_new (SherdTrial *trial, SherdPhotograph *photograph, GError **error);
void sherd_measure_job_free (SherdMeasureJob *job);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdMeasureJob, sherd_measure_job_free)

/* Any thread; @progress is called there. */
gboolean sherd_measure_job_run (SherdMeasureJob *job,
                                SherdProgressFunc progress,
                                gpointer user_data,
                                GCancellable *cancellable,
                                GError **error);
/* (transfer none): main thread, after a run that succeeded, one undoable edit. The measurement is stale at once when
 * the trial was changed meanwhile; it is not kept (NULL) when the photograph was removed. */
SherdMeasurement *sherd_measure_job_apply (SherdMeasureJob *job, SherdTrial *trial);

/* (transfer none): the three in one, for programs without a window */
SherdMeasurement *sherd_trial_measure (SherdTrial *trial,
                                       SherdPhotograph *photograph,
                                       SherdProgressFunc progress,
                                       gpointer user_data,
                                       GCancellable *cancellable,
                                       GError **error);

G_END_DECLS
