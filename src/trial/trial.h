/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/error.h"
#include "trial/material.h"
#include "trial/measurement.h"

G_BEGIN_DECLS

/* The document: everything about one line of testing, one file.
 *
 * Properties: "title", "notes" (strings, never NULL), "seed" (uint64: makes random draws repeat); read only: "path"
 * (nullable string), "modified" (boolean), "undo-label", "redo-label" (nullable strings: "Undo Move zone B3").
 * Lists: materials, paints, pieces, photographs, measurements, each a GListModel that reports the narrowest
 * items-changed. Signals: "edited" (): after every edit, undo and redo, once the trial is whole again;
 * "recovery-failed" (message): the journal against crashes could not be written (trial/recovery.h).
 *
 * Not for use by two threads: a worker gets a sealed job (trial/measure-job.h). */
#define SHERD_TYPE_TRIAL (sherd_trial_get_type ())
G_DECLARE_FINAL_TYPE (SherdTrial, sherd_trial, SHERD, TRIAL, GObject)

SherdTrial *sherd_trial_new (void);

const char *sherd_trial_get_title (SherdTrial *self);
const char *sherd_trial_get_notes (SherdTrial *self);
guint64 sherd_trial_get_seed (SherdTrial *self);
GListModel *sherd_trial_get_materials (SherdTrial *self);
GListModel *sherd_trial_get_paints (SherdTrial *self);
GListModel *sherd_trial_get_pieces (SherdTrial *self);
GListModel *sherd_trial_get_photographs (SherdTrial *self);
GListModel *sherd_trial_get_measurements (SherdTrial *self);

/* (nullable) (transfer none) */
SherdMaterial *sherd_trial_find_material (SherdTrial *self, const char *id);
/* Capital and small letters are the same here. */
SherdMaterial *sherd_trial_find_material_by_name (SherdTrial *self, const char *name);
SherdPaint *sherd_trial_find_paint (SherdTrial *self, const char *id);
SherdPaint *sherd_trial_find_paint_by_code (SherdTrial *self, const char *code);
SherdPiece *sherd_trial_find_piece (SherdTrial *self, const char *id);
/* By id, or else by the only piece of that name. */
SherdPiece *sherd_trial_find_piece_by_name (SherdTrial *self, const char *id_or_name);
/* @piece, @side: (out) (optional) (transfer none) */
SherdZone *sherd_trial_find_zone (SherdTrial *self, const char *id, SherdPiece **piece, SherdSide **side);
SherdPhotograph *sherd_trial_find_photograph (SherdTrial *self, const char *id);
/* (nullable) (transfer none): the newest measurement that still holds */
SherdMeasurement *sherd_trial_get_measurement (SherdTrial *self, SherdPhotograph *photograph);
/* (nullable) (transfer none): the newest measurement, stale or not */
SherdMeasurement *sherd_trial_get_last_measurement (SherdTrial *self, SherdPhotograph *photograph);

/* Edits. Between begin and end, the trial and its parts are changed by the functions below and by nothing else; edits
 * may be nested, the outermost gives the words. An edit that changed nothing leaves no trace.
 *
 *   sherd_trial_begin_edit (trial, _("Move zone B3"));
 *   sherd_trial_set (trial, zone, "x-mm", 12.5);
 *   sherd_trial_end_edit (trial);
 */
void sherd_trial_begin_edit (SherdTrial *self, const char *label);
/* As above, but joins the last edit when that carried the same @key and was not sealed: dragging and arrow keys make
 * one step. @key tells action and object: "move zone-7". */
void sherd_trial_begin_continued_edit (SherdTrial *self, const char *label, const char *key);
/* Ends joining: on button release, or when the focus leaves. Saving and every other edit do it too. */
void sherd_trial_seal_edit (SherdTrial *self);
void sherd_trial_end_edit (SherdTrial *self);
/* Takes back what was changed since begin and closes the edit. */
void sherd_trial_cancel_edit (SherdTrial *self);
/* @object is the trial or a part of it; the value is written as for g_object_set (). */
void sherd_trial_set (SherdTrial *self, gpointer object, const char *property, ...);
void sherd_trial_set_value (SherdTrial *self, gpointer object, const char *property, const GValue *value);
/* @list is one of the trial's, of a piece (sides) or of a side (zones). */
void sherd_trial_insert (SherdTrial *self, GListModel *list, guint position, gpointer part);
void sherd_trial_append (SherdTrial *self, GListModel *list, gpointer part);
void sherd_trial_remove (SherdTrial *self, GListModel *list, guint position);
void sherd_trial_splice (SherdTrial *self,
                         GListModel *list,
                         guint position,
                         guint n_removed,
                         gpointer *added,
                         guint n_added);
/* (transfer full): "zone-12", not in use and never given before by this trial */
char *sherd_trial_new_id (SherdTrial *self, const char *kind);

gboolean sherd_trial_can_undo (SherdTrial *self);
gboolean sherd_trial_can_redo (SherdTrial *self);
void sherd_trial_undo (SherdTrial *self);
void sherd_trial_redo (SherdTrial *self);
/* (nullable) (transfer full): for the menu, translated: "Undo Move zone B3" */
char *sherd_trial_dup_undo_label (SherdTrial *self);
char *sherd_trial_dup_redo_label (SherdTrial *self);
gboolean sherd_trial_get_modified (SherdTrial *self);

G_END_DECLS
