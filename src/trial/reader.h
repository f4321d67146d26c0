/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>
#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* Walks through the JSON of a trial, member by member. The first thing that is wrong stops it: from then on every read
 * gives a harmless default, and the error says line, path and what to mend. Members that nobody asked for are what this
 * program does not know. */
typedef struct _SherdReader SherdReader;

typedef enum
{
  SHERD_OPTIONAL,
  SHERD_REQUIRED
} SherdNeed;

/* A property that is a member of the same name in the file. */
typedef struct
{
  const char *property; /* NULL ends a list of them */
  SherdNeed need;
} SherdMember;

/* (transfer full) (nullable): SHERD_TRIAL_ERROR_SYNTAX or _CONTENT. @text must outlive the reader. */
SherdReader *sherd_reader_new (const char *text, gsize length, GError **error);
void sherd_reader_free (SherdReader *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdReader, sherd_reader_free)

gboolean sherd_reader_is_sound (SherdReader *self);
/* @member: (nullable): of the present object; NULL for the object itself */
void sherd_reader_fail (SherdReader *self, const char *member, const char *format, ...) G_GNUC_PRINTF (3, 4);
/* SHERD_TRIAL_ERROR_CONTENT unless told otherwise. FALSE when something was wrong. */
gboolean sherd_reader_finish (SherdReader *self, GError **error);
void sherd_reader_set_error_code (SherdReader *self, int code);

gboolean sherd_reader_has (SherdReader *self, const char *member);
/* Into the object at @member; everything read is then inside it until sherd_reader_leave (). */
void sherd_reader_enter (SherdReader *self, const char *member);
/* (transfer full) (nullable): the members nobody asked for */
JsonObject *sherd_reader_leave (SherdReader *self);
/* Into the list at @member (absent: empty); returns its length, at most @max. */
guint sherd_reader_enter_list (SherdReader *self, const char *member, guint max);
void sherd_reader_enter_item (SherdReader *self, guint index);
void sherd_reader_leave_list (SherdReader *self);

/* (nullable) (transfer none): NULL when absent */
const char *sherd_reader_text (SherdReader *self, const char *member, SherdNeed need);
double sherd_reader_number (SherdReader *self, const char *member, double min, double max, SherdNeed need);
/* Must be there; NaN for null. */
double sherd_reader_number_or_null (SherdReader *self, const char *member);
gboolean sherd_reader_flag (SherdReader *self, const char *member, SherdNeed need);
gint64 sherd_reader_whole (SherdReader *self, const char *member, gint64 min, gint64 max, SherdNeed need);
/* @n numbers; when @absent is not NULL, null or nothing is allowed and told there. */
void sherd_reader_numbers (SherdReader *self,
                           const char *member,
                           double min,
                           double max,
                           double *numbers,
                           guint n,
                           gboolean *absent);
/* (transfer full): of double, @n (3 at most) for each item, one after the other; NULL when absent */
GArray *sherd_reader_tuples (SherdReader *self, const char *member, guint n, double min, double max, guint max_items);
/* (transfer full): of texts, empty when absent */
GStrv sherd_reader_texts (SherdReader *self, const char *member, guint max);

/* Reads the member named like @property ("x-mm" is "x_mm"), by the property's own type and range. */
void sherd_reader_property (SherdReader *self, gpointer object, const char *property, SherdNeed need);
void sherd_reader_properties (SherdReader *self, gpointer object, const SherdMember *members);

G_END_DECLS
