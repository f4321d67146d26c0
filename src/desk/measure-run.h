/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/measure-job.h"

G_BEGIN_DECLS

/* Measures all photographs of a trial that have their marks, one after another off the main thread.
 * Signals: "progress" (double 0…1), "failed" (char *photograph, GError *), "finished" (uint number measured). */
#define SHERD_TYPE_MEASURE_RUN (sherd_measure_run_get_type ())
G_DECLARE_FINAL_TYPE (SherdMeasureRun, sherd_measure_run, SHERD, MEASURE_RUN, GObject)

SherdMeasureRun *sherd_measure_run_new (SherdTrial *trial);
void sherd_measure_run_start (SherdMeasureRun *self);
void sherd_measure_run_cancel (SherdMeasureRun *self);

G_END_DECLS
