/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/exchange.h"

G_BEGIN_DECLS

/* Shows what a table of paints or materials would do, line by line, before anything is changed. */
#define SHERD_TYPE_IMPORT_DIALOG (sherd_import_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SherdImportDialog, sherd_import_dialog, SHERD, IMPORT_DIALOG, GtkWindow)

/* @import: (transfer full) */
GtkWidget *sherd_import_dialog_new (GtkWindow *parent, SherdImport *import);

G_END_DECLS
