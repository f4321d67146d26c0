/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/measure-job.h"

G_BEGIN_DECLS

/* Measures photographs of a trial off the main thread, as many at once as the machine has processors. Everything is
 * told on the main thread, in its default main context: "progress" (double 0…1, never falling, 1 at the end),
 * "measured" (SherdMeasurement *) and "failed" (SherdPhotograph *, GError *) in the order of the photographs,
 * "finished" (uint number measured). */
#define SHERD_TYPE_MEASURE_RUN (sherd_measure_run_get_type ())
G_DECLARE_FINAL_TYPE (SherdMeasureRun, sherd_measure_run, SHERD, MEASURE_RUN, GObject)

SherdMeasureRun *sherd_measure_run_new (SherdTrial *trial, GListModel *photographs);
void sherd_measure_run_start (SherdMeasureRun *self);
void sherd_measure_run_cancel (SherdMeasureRun *self);

G_END_DECLS
