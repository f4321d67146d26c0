/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/table.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* Lists of materials and of paints as tables for CSV, and such lists taken in. README.md describes the columns. */

/* (transfer full): a row a material; keys are those of the trial file */
SherdTable *sherd_exchange_materials (SherdTrial *trial);
/* (transfer full): a row an ingredient, in the order of the paints; what is of the whole paint stands in its first row
 */
SherdTable *sherd_exchange_paints (SherdTrial *trial);

/* A list that was read and compared with a trial, before anything is changed. */
typedef struct _SherdImport SherdImport;

/* (transfer full) (nullable): SHERD_TRIAL_ERROR_SYNTAX or _CONTENT when @text is no list of materials or paints at all
 */
SherdImport *sherd_import_new (SherdTrial *trial, const char *text, gsize length, GError **error);
void sherd_import_free (SherdImport *import);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdImport, sherd_import_free)

/* (transfer none): a row a material or paint: "line", "name", "fate" (adds, changes, same, cannot, left-out), "remark"
 */
const SherdTable *sherd_import_get_table (const SherdImport *import);
/* How many cannot be taken in. */
guint sherd_import_count_faults (const SherdImport *import);
/* How many would be added or changed. */
guint sherd_import_count_changes (const SherdImport *import);
/* One undoable edit; what cannot be taken in is left out. The trial must not have changed since. */
gboolean sherd_import_apply (SherdImport *import, GError **error);

G_END_DECLS
