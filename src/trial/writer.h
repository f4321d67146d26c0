/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>
#include <json-glib/json-glib.h>

#include "trial/reader.h"

G_BEGIN_DECLS

/* Writes JSON with two spaces a level, one member a line, numbers of a list on one line. Numbers read back equal and do
 * not depend on the locale. */
typedef struct _SherdWriter SherdWriter;

SherdWriter *sherd_writer_new (void);
/* (transfer full): of an item of a list at @depth, for sherd_writer_item () */
SherdWriter *sherd_writer_new_item (guint depth);
/* (transfer full): the item's text; frees the writer */
char *sherd_writer_finish_item (SherdWriter *self);
/* Puts an item that was written before into the list. */
void sherd_writer_item (SherdWriter *self, const char *item);
guint sherd_writer_get_depth (SherdWriter *self);

/* (transfer full): the text; frees the writer */
char *sherd_writer_finish (SherdWriter *self, gsize *length);

/* @member: (nullable): NULL for the root and for items of a list */
void sherd_writer_begin_object (SherdWriter *self, const char *member);
void sherd_writer_end_object (SherdWriter *self);
void sherd_writer_begin_list (SherdWriter *self, const char *member);
void sherd_writer_end_list (SherdWriter *self);

void sherd_writer_text (SherdWriter *self, const char *member, const char *text);
/* null when not finite */
void sherd_writer_number (SherdWriter *self, const char *member, double number);
void sherd_writer_whole (SherdWriter *self, const char *member, gint64 number);
void sherd_writer_flag (SherdWriter *self, const char *member, gboolean flag);
/* On one line; null when one is not finite. @member: NULL within a list */
void sherd_writer_numbers (SherdWriter *self, const char *member, const double *numbers, gsize n);
/* The member named like @property; left out when optional and at its default. */
void sherd_writer_property (SherdWriter *self, gpointer object, const char *property, SherdNeed need);
void sherd_writer_properties (SherdWriter *self, gpointer object, const SherdMember *members);
/* @unknown: (nullable): members as they were read */
void sherd_writer_unknown (SherdWriter *self, JsonObject *unknown);

G_END_DECLS
