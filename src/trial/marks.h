/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>
#include <json-glib/json-glib.h>

#include "shape/homography.h"

G_BEGIN_DECLS

/* Marks of one photograph: points known in mm (on the side, or in the chart's frame) and seen in px. A value: never
 * changed once made. */
typedef struct
{
  SherdMark *marks;
  gsize n_marks;
  JsonObject **unknown; /* (nullable): per mark, members of the file this program does not know; NULL entries allowed */
} SherdMarks;

#define SHERD_TYPE_MARKS (sherd_marks_get_type ())
GType sherd_marks_get_type (void);

/* Our choice: more marks than this are a damaged file, not a patient potter. */
#define SHERD_MARKS_MAX 1000
/* Likewise: no mark lies farther off than this, either way from the origin. */
#define SHERD_MARK_MAX_MM 1e5
#define SHERD_MARK_MAX_PX 1e7

/* (transfer full) */
SherdMarks *sherd_marks_new (const SherdMark *marks, gsize n_marks);
SherdMarks *sherd_marks_copy (const SherdMarks *marks);
void sherd_marks_free (SherdMarks *marks);
gboolean sherd_marks_equal (const SherdMarks *first, const SherdMarks *second);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdMarks, sherd_marks_free)

G_END_DECLS
