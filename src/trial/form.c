/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/form.h"

#include <string.h>

/* Not G_DEFINE_BOXED_TYPE: it is no ISO C. */
GType
sherd_form_get_type (void)
{
  static gsize type = 0;

  if (g_once_init_enter (&type))
    g_once_init_leave (&type,
                       g_boxed_type_register_static (g_intern_static_string ("SherdForm"),
                                                     (GBoxedCopyFunc)sherd_form_copy, (GBoxedFreeFunc)sherd_form_free));
  return type;
}

/**
 * sherd_form_new:
 *
 * Returns: (transfer full): the form of a piece that its width, height and thickness describe
 */
SherdForm *
sherd_form_new (void)
{
  return g_new0 (SherdForm, 1);
}

static void
replace_points (SherdProfilePoint **points, gsize *n_points, const SherdProfilePoint *new_points, gsize n_new_points)
{
  SherdProfilePoint *copy = g_memdup2 (new_points, n_new_points * sizeof *new_points);

  g_free (*points);
  *points = copy;
  *n_points = n_new_points;
}

/**
 * sherd_form_set_outside:
 * @form: a form to be changed
 * @points: (array length=n_points): the outside of a vessel from the foot to the lip
 * @n_points: how many
 */
void
sherd_form_set_outside (SherdForm *form, const SherdProfilePoint *points, gsize n_points)
{
  replace_points (&form->outside, &form->n_outside, points, n_points);
}

/**
 * sherd_form_set_inside:
 * @form: a form to be changed
 * @points: (array length=n_points): the inside of a vessel as measured, from the lip to the middle of the floor
 * @n_points: how many; 0 lets the thickness of the wall give the inside
 */
void
sherd_form_set_inside (SherdForm *form, const SherdProfilePoint *points, gsize n_points)
{
  replace_points (&form->inside, &form->n_inside, points, n_points);
}

/**
 * sherd_form_set_edge:
 * @form: a form to be changed
 * @edge: (nullable): the edge of a sherd, mm
 */
void
sherd_form_set_edge (SherdForm *form, const SherdOutline *edge)
{
  SherdOutline *copy = edge != NULL ? sherd_outline_copy (edge) : NULL;

  g_clear_pointer (&form->edge, sherd_outline_free);
  form->edge = copy;
}

/**
 * sherd_form_set_holes:
 * @form: a form to be changed
 * @holes: (array length=n_holes): holes through a flat piece
 * @n_holes: how many
 */
void
sherd_form_set_holes (SherdForm *form, const SherdHole *holes, gsize n_holes)
{
  SherdHole *copy = g_memdup2 (holes, n_holes * sizeof *holes);

  g_free (form->holes);
  form->holes = copy;
  form->n_holes = n_holes;
}

/**
 * sherd_form_copy:
 * @form: a form
 *
 * Returns: (transfer full): the same form, to be changed
 */
SherdForm *
sherd_form_copy (const SherdForm *form)
{
  SherdForm *copy = sherd_form_new ();

  sherd_form_set_outside (copy, form->outside, form->n_outside);
  sherd_form_set_inside (copy, form->inside, form->n_inside);
  copy->floor_mm = form->floor_mm;
  sherd_form_set_edge (copy, form->edge);
  sherd_form_set_holes (copy, form->holes, form->n_holes);
  return copy;
}

/**
 * sherd_form_free:
 * @form: (transfer full): a form
 */
void
sherd_form_free (SherdForm *form)
{
  g_free (form->outside);
  g_free (form->inside);
  g_clear_pointer (&form->edge, sherd_outline_free);
  g_free (form->holes);
  g_free (form);
}

static gboolean
same_points (const SherdProfilePoint *first, gsize n_first, const SherdProfilePoint *second, gsize n_second)
{
  if (n_first != n_second)
    return FALSE;
  for (gsize i = 0; i < n_first; i++)
    if (first[i].r_mm != second[i].r_mm || first[i].z_mm != second[i].z_mm || first[i].corner != second[i].corner)
      return FALSE;
  return TRUE;
}

static gboolean
same_holes (const SherdForm *first, const SherdForm *second)
{
  return first->n_holes == second->n_holes &&
         (first->n_holes == 0 || memcmp (first->holes, second->holes, first->n_holes * sizeof *first->holes) == 0);
}

/**
 * sherd_form_equal:
 * @first: (nullable): a form
 * @second: (nullable): a form
 *
 * Returns: whether both are the same, number by number
 */
gboolean
sherd_form_equal (const SherdForm *first, const SherdForm *second)
{
  if (first == NULL || second == NULL)
    return first == second;
  return same_points (first->outside, first->n_outside, second->outside, second->n_outside) &&
         same_points (first->inside, first->n_inside, second->inside, second->n_inside) &&
         first->floor_mm == second->floor_mm && sherd_outline_equal (first->edge, second->edge) &&
         same_holes (first, second);
}
