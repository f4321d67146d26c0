/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/marks.h"
#include "trial/piece.h"
#include "trial/reference.h"

G_BEGIN_DECLS

/* One picture of one side of a piece at one stage.
 *
 * Properties: "id"; "piece" (SherdPiece), "side" (SherdSide), "stage" (string, trial/stage.h); "file" (name in the
 * trial's NAME.photos folder: 12 digits of the SHA-256, "-", original name), "sha256", "size-bytes" (uint64),
 * "original-name"; "width-px", "height-px" (upright); "marks" (SherdMarks, nullable: on the side), "mark-sd-px"
 * (double: doubt with which a mark was placed); "reference" (SherdReference, never NULL), "reference-marks"
 * (SherdMarks, nullable: in the reference's frame); "camera", "taken" (strings, may be empty), "focal-35mm",
 * "exposure-s", "f-number", "iso" (doubles, 0 when not known); "note" (string); "source-path" (string, nullable, not
 * in the file: where the picture lies until it is copied beside the trial). */
#define SHERD_TYPE_PHOTOGRAPH (sherd_photograph_get_type ())
G_DECLARE_FINAL_TYPE (SherdPhotograph, sherd_photograph, SHERD, PHOTOGRAPH, SherdPart)

/* (transfer full): reads the head and the SHA-256 of the picture at @path; may be called in a worker thread. The
 * photograph belongs to no trial yet: see sherd_trial_add_photograph (). */
SherdPhotograph *sherd_photograph_new_from_file (const char *path, GError **error);

SherdPiece *sherd_photograph_get_piece (SherdPhotograph *self);
SherdSide *sherd_photograph_get_side (SherdPhotograph *self);
const char *sherd_photograph_get_stage (SherdPhotograph *self);
gboolean sherd_photograph_is_unfired (SherdPhotograph *self);
const char *sherd_photograph_get_file (SherdPhotograph *self);
const char *sherd_photograph_get_sha256 (SherdPhotograph *self);
guint64 sherd_photograph_get_size_bytes (SherdPhotograph *self);
const char *sherd_photograph_get_original_name (SherdPhotograph *self);
guint sherd_photograph_get_width_px (SherdPhotograph *self);
guint sherd_photograph_get_height_px (SherdPhotograph *self);
/* (nullable) */
const SherdMarks *sherd_photograph_get_marks (SherdPhotograph *self);
double sherd_photograph_get_mark_sd_px (SherdPhotograph *self);
SherdReference *sherd_photograph_get_reference (SherdPhotograph *self);
/* (nullable) */
const SherdMarks *sherd_photograph_get_reference_marks (SherdPhotograph *self);
const char *sherd_photograph_get_camera (SherdPhotograph *self);
const char *sherd_photograph_get_taken (SherdPhotograph *self);
double sherd_photograph_get_focal_35mm (SherdPhotograph *self);
double sherd_photograph_get_exposure_s (SherdPhotograph *self);
double sherd_photograph_get_f_number (SherdPhotograph *self);
double sherd_photograph_get_iso (SherdPhotograph *self);
const char *sherd_photograph_get_note (SherdPhotograph *self);
/* (nullable) */
const char *sherd_photograph_get_source_path (SherdPhotograph *self);

G_END_DECLS
