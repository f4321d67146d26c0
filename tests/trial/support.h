/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* For the tests of this room. The trial is invented: a tile, two paints, two photographs, one measurement that has
 * every member the file can hold. */

/* (transfer full): not modified, nothing to undo */
SherdTrial *example_trial_new (void);
/* (transfer full): as its file would hold it */
char *example_trial_dup_text (void);
SherdPiece *example_piece (SherdTrial *trial);
SherdSide *example_face (SherdTrial *trial);
/* (transfer none): by code, on the face */
SherdZone *example_zone (SherdTrial *trial, const char *code);
SherdPhotograph *example_photograph (SherdTrial *trial, guint index);
/* (transfer full): every field set, to different numbers */
SherdPhotoMeasurement *example_measurement_result (void);

/* (transfer full): a 24-patch chart of six rows by four columns, made up */
SherdChart *example_chart_new (guint n_rows, guint n_columns);

/* Follows a list by its items-changed alone and stops the test when that leads astray, or names more than has changed.
 * Freed with the list. */
void list_watch (GListModel *list);

/* (transfer full): a new folder, removed with all in it by scratch_remove () */
char *scratch_new (void);
void scratch_remove (const char *folder);
char *scratch_path (const char *folder, const char *name);
/* A PNG of one colour, @width_px × @height_px, 8 bit; different @shade, different bytes. */
void write_png (const char *path, guint width_px, guint height_px, guint8 shade);

/* Where the shared test data lies; skips the test with a message and returns NULL where it is absent. */
char *shared_path_or_skip (const char *name);

G_END_DECLS
