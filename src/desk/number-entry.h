/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A field for a number, written as people write them (trial/number.h), with the reason below it when it is refused.
 * What was typed is never taken away: a text that is no number stays until it is mended or the model has another value.
 *
 * Properties: "label" (what a screen reader says), "unit" (nullable: shown behind), "may-be-empty" (an empty field is
 * NaN). Signals: "edited" (double): while typing, for every text that is a number; "activated" (): Enter; "left" ():
 * the focus went elsewhere. */
#define SHERD_TYPE_NUMBER_ENTRY (sherd_number_entry_get_type ())
G_DECLARE_FINAL_TYPE (SherdNumberEntry, sherd_number_entry, SHERD, NUMBER_ENTRY, GtkWidget)

GtkWidget *sherd_number_entry_new (const char *label, const char *unit);

/* What the model holds; NaN for nothing. */
void sherd_number_entry_show (SherdNumberEntry *self, double value);
/* Why the model did not take it; NULL: it did. */
void sherd_number_entry_refuse (SherdNumberEntry *self, const char *reason);
gboolean sherd_number_entry_is_refused (SherdNumberEntry *self);
const char *sherd_number_entry_get_text (SherdNumberEntry *self);

G_END_DECLS
