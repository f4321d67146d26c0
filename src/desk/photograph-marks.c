/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photograph-marks.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Two places nearer than this are the same point of the piece. */
#define SAME_PLACE_MM 1e-6

static void
add_place (SherdMarkPlan *plan, SherdPhotoMarkKind kind, double x_mm, double y_mm)
{
  const SherdMarkPlace place = { .kind = kind, .place_mm = { x_mm, y_mm } };

  g_array_append_val (plan->places, place);
}

static void
add_corners (SherdMarkPlan *plan, SherdPhotoMarkKind kind, double width_mm, double height_mm)
{
  add_place (plan, kind, 0.0, 0.0);
  add_place (plan, kind, width_mm, 0.0);
  add_place (plan, kind, width_mm, height_mm);
  add_place (plan, kind, 0.0, height_mm);
}

static SherdMarkPlace *
find_place (SherdMarkPlan *plan, SherdPhotoMarkKind kind, SherdPoint place_mm)
{
  for (guint i = 0; i < plan->places->len; i++)
    {
      SherdMarkPlace *place = &g_array_index (plan->places, SherdMarkPlace, i);

      if (place->kind == kind && hypot (place->place_mm.x - place_mm.x, place->place_mm.y - place_mm.y) < SAME_PLACE_MM)
        return place;
    }
  return NULL;
}

static void
place_marks (SherdMarkPlan *plan, SherdPhotoMarkKind kind, const SherdMarks *marks)
{
  for (gsize i = 0; marks != NULL && i < marks->n_marks; i++)
    {
      SherdMarkPlace *place = find_place (plan, kind, marks->marks[i].piece_mm);

      if (place == NULL)
        {
          add_place (plan, kind, marks->marks[i].piece_mm.x, marks->marks[i].piece_mm.y);
          place = &g_array_index (plan->places, SherdMarkPlace, plan->places->len - 1);
        }
      place->placed = TRUE;
      place->photo_px = marks->marks[i].photo_px;
    }
}

/* Corners of the rectangle around the patches, or around their centres. */
static void
add_patch_corners (SherdMarkPlan *plan, SherdReference *reference, SherdMarksOn marks_on)
{
  gsize n_patches;
  const SherdReferencePatch *patches = sherd_reference_get_patches (reference, &n_patches);
  SherdPoint least = { G_MAXDOUBLE, G_MAXDOUBLE };
  SherdPoint most = { -G_MAXDOUBLE, -G_MAXDOUBLE };

  for (gsize i = 0; i < n_patches; i++)
    {
      const SherdRectangle *box = &patches[i].rectangle_mm;
      const double inward = marks_on == SHERD_MARKS_ON_CENTRES ? 0.5 : 0.0;

      least.x = MIN (least.x, box->x_mm + inward * box->width_mm);
      least.y = MIN (least.y, box->y_mm + inward * box->height_mm);
      most.x = MAX (most.x, box->x_mm + (1.0 - inward) * box->width_mm);
      most.y = MAX (most.y, box->y_mm + (1.0 - inward) * box->height_mm);
    }
  add_place (plan, SHERD_PHOTO_MARK_REFERENCE, least.x, least.y);
  add_place (plan, SHERD_PHOTO_MARK_REFERENCE, most.x, least.y);
  add_place (plan, SHERD_PHOTO_MARK_REFERENCE, most.x, most.y);
  add_place (plan, SHERD_PHOTO_MARK_REFERENCE, least.x, most.y);
}

static void
add_reference (SherdMarkPlan *plan, SherdPhotograph *photograph, SherdMarksOn marks_on)
{
  SherdReference *reference = sherd_photograph_get_reference (photograph);
  const SherdMarks *marks = sherd_photograph_get_reference_marks (photograph);

  if (sherd_reference_get_kind (reference) == SHERD_REFERENCE_NONE)
    return;
  if (marks == NULL || marks->n_marks < 4)
    add_patch_corners (plan, reference, marks_on);
  place_marks (plan, SHERD_PHOTO_MARK_REFERENCE, marks);
}

/**
 * sherd_mark_plan_new:
 * @photograph: a photograph of a tile
 * @marks_on: what the marks of its reference are picked on, when it has none yet
 *
 * Returns: (transfer full): the points to be marked in it and those that are
 */
SherdMarkPlan *
sherd_mark_plan_new (SherdPhotograph *photograph, SherdMarksOn marks_on)
{
  SherdMarkPlan *plan = g_new (SherdMarkPlan, 1);
  SherdPiece *piece = sherd_photograph_get_piece (photograph);

  plan->places = g_array_new (FALSE, TRUE, sizeof (SherdMarkPlace));
  add_corners (plan, SHERD_PHOTO_MARK_PIECE, sherd_piece_get_width_mm (piece), sherd_piece_get_height_mm (piece));
  place_marks (plan, SHERD_PHOTO_MARK_PIECE, sherd_photograph_get_marks (photograph));
  add_reference (plan, photograph, marks_on);
  return plan;
}

void
sherd_mark_plan_free (SherdMarkPlan *plan)
{
  if (plan == NULL)
    return;
  g_array_unref (plan->places);
  g_free (plan);
}

static char *
dup_name (const SherdMarkPlan *plan, guint index)
{
  static const char *const tile_corners[] = { N_ ("top left corner of the tile"), N_ ("top right corner of the tile"),
                                              N_ ("bottom right corner of the tile"),
                                              N_ ("bottom left corner of the tile") };
  static const char *const reference_corners[] = { N_ ("corner of the reference at its first patch"),
                                                   N_ ("corner of the reference at the end of its first row"),
                                                   N_ ("corner of the reference at its last patch"),
                                                   N_ ("corner of the reference at the start of its last row") };
  const SherdMarkPlace *place = &g_array_index (plan->places, SherdMarkPlace, index);
  guint number = 0;

  for (guint i = 0; i < index; i++)
    if (g_array_index (plan->places, SherdMarkPlace, i).kind == place->kind)
      number++;
  if (number < 4)
    return g_strdup (_ (place->kind == SHERD_PHOTO_MARK_PIECE ? tile_corners[number] : reference_corners[number]));
  return g_strdup_printf (_ ("point at %.1f, %.1f mm"), place->place_mm.x, place->place_mm.y);
}

static gboolean
has_all_marks (const SherdMarkPlan *plan, SherdPhotoCanvas *canvas)
{
  for (guint i = 0; i < plan->places->len; i++)
    {
      g_autofree char *name = dup_name (plan, i);

      if (!sherd_photo_canvas_has_mark (canvas, i, g_array_index (plan->places, SherdMarkPlace, i).kind, name))
        return FALSE;
    }
  return sherd_photo_canvas_get_n_marks (canvas) == plan->places->len;
}

static void
add_marks (const SherdMarkPlan *plan, SherdPhotoCanvas *canvas)
{
  sherd_photo_canvas_clear_marks (canvas);
  for (guint i = 0; i < plan->places->len; i++)
    {
      g_autofree char *name = dup_name (plan, i);

      sherd_photo_canvas_add_mark (canvas, g_array_index (plan->places, SherdMarkPlace, i).kind, name);
    }
}

/**
 * sherd_mark_plan_show:
 * @plan: the plan
 * @canvas: the canvas that shows the photograph
 *
 * Shows the marks of the plan in its order. Marks that the canvas has already are only moved: one of them may be in
 * hand, and keeps the focus.
 */
void
sherd_mark_plan_show (const SherdMarkPlan *plan, SherdPhotoCanvas *canvas)
{
  if (!has_all_marks (plan, canvas))
    add_marks (plan, canvas);
  for (guint i = 0; i < plan->places->len; i++)
    {
      const SherdMarkPlace *place = &g_array_index (plan->places, SherdMarkPlace, i);

      if (place->placed)
        sherd_photo_canvas_set_mark (canvas, i, place->photo_px);
      else
        sherd_photo_canvas_unset_mark (canvas, i);
    }
}

/**
 * sherd_mark_plan_get_placed:
 * @plan: the plan
 * @kind: which marks
 *
 * Returns: (transfer full) (element-type SherdMark): the marks that have a place in the photograph
 */
GArray *
sherd_mark_plan_get_placed (const SherdMarkPlan *plan, SherdPhotoMarkKind kind)
{
  GArray *marks = g_array_new (FALSE, FALSE, sizeof (SherdMark));

  for (guint i = 0; i < plan->places->len; i++)
    {
      const SherdMarkPlace *place = &g_array_index (plan->places, SherdMarkPlace, i);
      const SherdMark mark = { .piece_mm = place->place_mm, .photo_px = place->photo_px };

      if (place->kind == kind && place->placed)
        g_array_append_val (marks, mark);
    }
  return marks;
}
