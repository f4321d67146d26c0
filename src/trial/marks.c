/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/marks.h"

/* Not G_DEFINE_BOXED_TYPE: it is no ISO C. */
GType
sherd_marks_get_type (void)
{
  static gsize type = 0;

  if (g_once_init_enter (&type))
    g_once_init_leave (&type, g_boxed_type_register_static (g_intern_static_string ("SherdMarks"),
                                                            (GBoxedCopyFunc)sherd_marks_copy,
                                                            (GBoxedFreeFunc)sherd_marks_free));
  return type;
}

/**
 * sherd_marks_new:
 * @marks: (array length=n_marks): known in mm, seen in px of the upright photograph
 * @n_marks: how many, may be 0
 *
 * Returns: (transfer full): a copy of them as a value
 */
SherdMarks *
sherd_marks_new (const SherdMark *marks, gsize n_marks)
{
  SherdMarks *self = g_new0 (SherdMarks, 1);

  self->marks = g_memdup2 (marks, n_marks * sizeof *marks);
  self->n_marks = n_marks;
  return self;
}

/**
 * sherd_marks_copy:
 * @marks: marks
 *
 * Returns: (transfer full): the same marks
 */
SherdMarks *
sherd_marks_copy (const SherdMarks *marks)
{
  SherdMarks *copy = sherd_marks_new (marks->marks, marks->n_marks);

  if (marks->unknown != NULL)
    {
      copy->unknown = g_new0 (JsonObject *, marks->n_marks);
      for (gsize i = 0; i < marks->n_marks; i++)
        if (marks->unknown[i] != NULL)
          copy->unknown[i] = json_object_ref (marks->unknown[i]);
    }
  return copy;
}

/**
 * sherd_marks_free:
 * @marks: (transfer full): marks
 */
void
sherd_marks_free (SherdMarks *marks)
{
  if (marks->unknown != NULL)
    for (gsize i = 0; i < marks->n_marks; i++)
      g_clear_pointer (&marks->unknown[i], json_object_unref);
  g_free (marks->unknown);
  g_free (marks->marks);
  g_free (marks);
}

static gboolean
mark_equal (const SherdMark *first, const SherdMark *second)
{
  return first->piece_mm.x == second->piece_mm.x && first->piece_mm.y == second->piece_mm.y &&
         first->photo_px.x == second->photo_px.x && first->photo_px.y == second->photo_px.y;
}

/**
 * sherd_marks_equal:
 * @first: (nullable): marks
 * @second: (nullable): marks
 *
 * Returns: whether both are the same places in the same order
 */
gboolean
sherd_marks_equal (const SherdMarks *first, const SherdMarks *second)
{
  if (first == NULL || second == NULL)
    return first == second;
  if (first->n_marks != second->n_marks)
    return FALSE;
  for (gsize i = 0; i < first->n_marks; i++)
    if (!mark_equal (&first->marks[i], &second->marks[i]))
      return FALSE;
  return TRUE;
}
