/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-canvas-private.h"

#include <math.h>

#include <glib/gi18n-lib.h>

#include "desk/legible.h"

/* Our choice: how near a mark the pointer must be to take hold of it. */
#define REACH_PX 14.0
/* How far the magnifier keeps from the place it shows. */
#define LOUPE_DISTANCE_PX 30.0
#define HINT_TOP_PX 12
/* Our choice: the magnifier enlarges eightfold what the canvas shows, but stays within these, in widget px a photo px.
 */
#define LEAST_MAGNIFICATION 4u
#define LEAST_MAGNIFICATION_NUDGING 8u
#define MOST_MAGNIFICATION 16u
#define LOUPE_TIMES_ZOOM 8.0

static SherdPhotoMark *
get_mark (SherdPhotoCanvas *self, guint index)
{
  return g_ptr_array_index (self->marks, index);
}

/* Magnifier */

/* What the magnifier looks at: the mark in hand, the place aimed at, or the place under the pointer. */
static gboolean
find_loupe_place (SherdPhotoCanvas *self, SherdPoint *photo_px)
{
  const int focused = sherd_photo_canvas_get_focused_mark (self);

  if (!sherd_photo_canvas_has_photo (self))
    return FALSE;
  if (self->press == SHERD_PHOTO_PRESS_MARK || self->press == SHERD_PHOTO_PRESS_PLACE)
    return sherd_photo_mark_get_place (get_mark (self, self->held_mark), photo_px);
  if (self->nudged && focused >= 0)
    return sherd_photo_mark_get_place (get_mark (self, (guint)focused), photo_px);
  if (!self->marking || self->press != SHERD_PHOTO_PRESS_NONE || !(self->pointer_inside || self->mark_in_middle))
    return FALSE;
  *photo_px = sherd_photo_view_to_photo (&self->view, self->mark_in_middle ? sherd_photo_canvas_get_middle (self)
                                                                           : self->pointer_widget_px);
  return photo_px->x >= 0.0 && photo_px->y >= 0.0 && photo_px->x <= self->view.photo_width_px &&
         photo_px->y <= self->view.photo_height_px;
}

static guint
choose_magnification (SherdPhotoCanvas *self)
{
  guint magnification = self->nudged ? LEAST_MAGNIFICATION_NUDGING : LEAST_MAGNIFICATION;

  while (magnification < LOUPE_TIMES_ZOOM * self->view.zoom && magnification < MOST_MAGNIFICATION)
    magnification *= 2;
  return magnification;
}

void
sherd_photo_canvas_update_loupe (SherdPhotoCanvas *self)
{
  SherdPoint photo_px;
  const gboolean shown = find_loupe_place (self, &photo_px);

  if (shown)
    {
      g_autofree char *colour = sherd_photo_canvas_dup_colour_text (self, photo_px);
      g_autofree char *caption = g_strdup_printf ("%.1f, %.1f\n%s", photo_px.x, photo_px.y, colour);

      sherd_photo_loupe_look (SHERD_PHOTO_LOUPE (self->loupe), self->pyramid, photo_px, choose_magnification (self),
                              SHERD_PHOTO_DISC_PX, caption);
    }
  gtk_widget_set_visible (self->loupe, shown);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

/* To the right and below the place, or on the other side where there is no room. */
static double
beside (double place_px, double size_px, double room_px)
{
  if (place_px + LOUPE_DISTANCE_PX + size_px <= room_px)
    return place_px + LOUPE_DISTANCE_PX;
  return MAX (place_px - LOUPE_DISTANCE_PX - size_px, 0.0);
}

static void
allocate_loupe (SherdPhotoCanvas *self)
{
  const SherdPoint place =
    sherd_photo_view_to_widget (&self->view, sherd_photo_loupe_get_place (SHERD_PHOTO_LOUPE (self->loupe)));
  GtkAllocation allocation = { 0 };

  if (!gtk_widget_get_visible (self->loupe))
    return;
  gtk_widget_measure (self->loupe, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &allocation.width, NULL, NULL);
  gtk_widget_measure (self->loupe, GTK_ORIENTATION_VERTICAL, -1, NULL, &allocation.height, NULL, NULL);
  allocation.x = (int)beside (place.x, allocation.width, self->view.width_px);
  allocation.y = (int)beside (place.y, allocation.height, self->view.height_px);
  gtk_widget_size_allocate (self->loupe, &allocation, -1);
}

/* Hint */

static char *
describe_work (SherdPhotoCanvas *self)
{
  const GError *error = self->pyramid ? sherd_photo_pyramid_get_error (self->pyramid) : NULL;

  if (!self->pyramid || sherd_photo_pyramid_has_level (self->pyramid, 0))
    return NULL;
  if (error && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return g_strdup (error->message);
  if (error)
    return NULL;
  return g_strdup_printf (_ ("Reading the photograph: %.0f %%"),
                          100.0 * sherd_photo_pyramid_get_progress (self->pyramid));
}

static char *
describe_marking (SherdPhotoCanvas *self)
{
  const int next = sherd_photo_canvas_get_next_mark (self);

  if (!self->marking || next < 0)
    return NULL;
  /* Translators: name of the mark to be picked, its number, how many there are. */
  return g_strdup_printf (_ ("Pick: %s (%d of %u)"), sherd_photo_mark_get_name (get_mark (self, (guint)next)), next + 1,
                          self->marks->len);
}

static char *
describe_focus (SherdPhotoCanvas *self)
{
  const int focused = sherd_photo_canvas_get_focused_mark (self);
  SherdPoint photo_px;

  if (focused < 0 || !sherd_photo_mark_get_place (get_mark (self, (guint)focused), &photo_px))
    return NULL;
  return g_strdup_printf ("%s: %.1f, %.1f", sherd_photo_mark_get_name (get_mark (self, (guint)focused)), photo_px.x,
                          photo_px.y);
}

void
sherd_photo_canvas_update_hint (SherdPhotoCanvas *self)
{
  g_autofree char *text = describe_work (self);

  if (!text)
    text = describe_marking (self);
  if (!text)
    text = describe_focus (self);
  if (text)
    gtk_label_set_text (GTK_LABEL (self->hint), text);
  gtk_widget_set_visible (self->hint, text != NULL);
}

static void
allocate_hint (SherdPhotoCanvas *self)
{
  GtkAllocation allocation = { 0, HINT_TOP_PX, 0, 0 };
  int least_width;

  if (!gtk_widget_get_visible (self->hint))
    return;
  gtk_widget_measure (self->hint, GTK_ORIENTATION_HORIZONTAL, -1, &least_width, &allocation.width, NULL, NULL);
  allocation.width = MAX (MIN (allocation.width, (int)self->view.width_px - 2 * HINT_TOP_PX), least_width);
  gtk_widget_measure (self->hint, GTK_ORIENTATION_VERTICAL, allocation.width, NULL, &allocation.height, NULL, NULL);
  allocation.x = ((int)self->view.width_px - allocation.width) / 2;
  gtk_widget_size_allocate (self->hint, &allocation, -1);
}

/* Layout and drawing */

static void
allocate_mark (SherdPhotoCanvas *self, SherdPhotoMark *mark)
{
  SherdPoint photo_px = { 0 }, at;
  int side_px;

  gtk_widget_measure (GTK_WIDGET (mark), GTK_ORIENTATION_HORIZONTAL, -1, NULL, &side_px, NULL, NULL);
  if (!sherd_photo_mark_get_place (mark, &photo_px))
    return;
  at = sherd_photo_view_to_widget (&self->view, photo_px);
  gtk_widget_allocate (GTK_WIDGET (mark), side_px, side_px, -1,
                       gsk_transform_translate (
                         NULL, &GRAPHENE_POINT_INIT ((float)(at.x - side_px / 2.0), (float)(at.y - side_px / 2.0))));
}

void
sherd_photo_canvas_allocate_marks (SherdPhotoCanvas *self)
{
  for (guint i = 0; i < self->marks->len; i++)
    allocate_mark (self, get_mark (self, i));
  allocate_hint (self);
  allocate_loupe (self);
}

/* Cross hairs in the middle while a mark is being aimed with the keyboard. */
void
sherd_photo_canvas_draw_aim (SherdPhotoCanvas *self, GtkSnapshot *snapshot)
{
  const SherdPoint middle = sherd_photo_canvas_get_middle (self);
  const float x = (float)middle.x, y = (float)middle.y;
  cairo_t *cr;

  if (!self->marking || !self->mark_in_middle)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (x - 40.0f, y - 40.0f, 80.0f, 80.0f));
  cairo_translate (cr, middle.x, middle.y);
  for (int quarter = 0; quarter < 4; quarter++)
    {
      cairo_move_to (cr, 4.0, 0.0);
      cairo_line_to (cr, 28.0, 0.0);
      cairo_rotate (cr, G_PI / 2.0);
    }
  sherd_legible_stroke (cr, 1.5);
  cairo_destroy (cr);
}

/* Finding */

/* The placed mark nearest to a place of the widget and within reach, or −1. */
int
sherd_photo_canvas_find_mark (SherdPhotoCanvas *self, SherdPoint widget_px)
{
  double least_px = REACH_PX;
  int nearest = -1;

  for (guint i = 0; i < self->marks->len; i++)
    {
      SherdPoint photo_px, at;
      double distance_px;

      if (!sherd_photo_mark_get_place (get_mark (self, i), &photo_px))
        continue;
      at = sherd_photo_view_to_widget (&self->view, photo_px);
      distance_px = hypot (at.x - widget_px.x, at.y - widget_px.y);
      if (distance_px <= least_px)
        {
          least_px = distance_px;
          nearest = (int)i;
        }
    }
  return nearest;
}

int
sherd_photo_canvas_get_focused_mark (SherdPhotoCanvas *self)
{
  GtkWidget *focus = gtk_widget_get_focus_child (GTK_WIDGET (self));
  guint index;

  return focus && g_ptr_array_find (self->marks, focus, &index) ? (int)index : -1;
}

/* Moving */

static SherdPoint
bring_inside (SherdPhotoCanvas *self, SherdPoint photo_px)
{
  return (SherdPoint){ CLAMP (photo_px.x, 0.0, self->view.photo_width_px),
                       CLAMP (photo_px.y, 0.0, self->view.photo_height_px) };
}

static void
show_mark (SherdPhotoCanvas *self, guint index, SherdPoint photo_px)
{
  sherd_photo_mark_place (get_mark (self, index), photo_px);
  sherd_photo_canvas_update_loupe (self);
  sherd_photo_canvas_update_hint (self);
}

/* Moves a mark for the user, who is told of it by a signal. */
void
sherd_photo_canvas_move_mark (SherdPhotoCanvas *self, guint index, SherdPoint photo_px, gboolean finished)
{
  const SherdPoint inside_px = bring_inside (self, photo_px);

  show_mark (self, index, inside_px);
  g_signal_emit (self, sherd_photo_canvas_signals[SHERD_PHOTO_CANVAS_MARK_MOVED], 0, index, inside_px.x, inside_px.y,
                 finished);
}

void
sherd_photo_canvas_nudge_mark (SherdPhotoCanvas *self, guint index, double dx_px, double dy_px, gboolean finished)
{
  SherdPoint photo_px;

  if (!sherd_photo_mark_get_place (get_mark (self, index), &photo_px))
    return;
  self->nudged = !finished;
  sherd_photo_canvas_move_mark (self, index, (SherdPoint){ photo_px.x + dx_px, photo_px.y + dy_px }, finished);
  if (sherd_photo_mark_get_place (get_mark (self, index), &photo_px))
    sherd_photo_canvas_reveal (self, photo_px);
}

/* The key that moved a mark is up, or the focus went elsewhere. */
void
sherd_photo_canvas_finish_nudge (SherdPhotoCanvas *self)
{
  const int focused = sherd_photo_canvas_get_focused_mark (self);
  SherdPoint photo_px;

  if (!self->nudged)
    return;
  self->nudged = FALSE;
  if (focused >= 0 && sherd_photo_mark_get_place (get_mark (self, (guint)focused), &photo_px))
    sherd_photo_canvas_move_mark (self, (guint)focused, photo_px, TRUE);
}

void
sherd_photo_canvas_remove_mark (SherdPhotoCanvas *self, guint index)
{
  gtk_widget_grab_focus (GTK_WIDGET (self));
  sherd_photo_canvas_unset_mark (self, index);
  g_signal_emit (self, sherd_photo_canvas_signals[SHERD_PHOTO_CANVAS_MARK_REMOVED], 0, index);
}

/* Placing */

/* Puts the next mark down, still in hand: sherd_photo_canvas_finish_placing() tells the owner. */
void
sherd_photo_canvas_place_mark (SherdPhotoCanvas *self, SherdPoint photo_px)
{
  const int next = sherd_photo_canvas_get_next_mark (self);

  if (next < 0)
    return;
  self->held_mark = (guint)next;
  show_mark (self, (guint)next, bring_inside (self, photo_px));
}

void
sherd_photo_canvas_finish_placing (SherdPhotoCanvas *self, guint index)
{
  SherdPoint photo_px;

  if (!sherd_photo_mark_get_place (get_mark (self, index), &photo_px))
    return;
  gtk_widget_grab_focus (g_ptr_array_index (self->marks, index));
  g_signal_emit (self, sherd_photo_canvas_signals[SHERD_PHOTO_CANVAS_MARK_PLACED], 0, index, photo_px.x, photo_px.y);
  if (sherd_photo_canvas_get_next_mark (self) < 0)
    sherd_photo_canvas_end_marking (self);
  sherd_photo_canvas_update_loupe (self);
  sherd_photo_canvas_update_hint (self);
}

/* Places the next mark for the user in one go, without a pointer. */
gboolean
sherd_photo_canvas_place_next (SherdPhotoCanvas *self, SherdPoint photo_px)
{
  const int next = sherd_photo_canvas_get_next_mark (self);

  if (next < 0 || !sherd_photo_canvas_has_photo (self))
    return FALSE;
  sherd_photo_canvas_place_mark (self, photo_px);
  sherd_photo_canvas_snap_if_wanted (self, (guint)next);
  sherd_photo_canvas_finish_placing (self, (guint)next);
  return TRUE;
}

static void
nudge_cb (GtkWidget *mark, double dx_px, double dy_px, SherdPhotoCanvas *self)
{
  guint index;

  if (g_ptr_array_find (self->marks, mark, &index))
    sherd_photo_canvas_nudge_mark (self, index, dx_px, dy_px, TRUE);
}

static void
remove_cb (GtkWidget *mark, SherdPhotoCanvas *self)
{
  guint index;

  if (g_ptr_array_find (self->marks, mark, &index))
    sherd_photo_canvas_remove_mark (self, index);
}

static void
focus_cb (GtkWidget *mark, GParamSpec *pspec, SherdPhotoCanvas *self)
{
  SherdPoint photo_px;

  if (!gtk_widget_has_focus (mark))
    sherd_photo_canvas_finish_nudge (self);
  else if (self->press == SHERD_PHOTO_PRESS_NONE && sherd_photo_mark_get_place (SHERD_PHOTO_MARK (mark), &photo_px))
    sherd_photo_canvas_reveal (self, photo_px);
  sherd_photo_canvas_update_loupe (self);
  sherd_photo_canvas_update_hint (self);
}

void
sherd_photo_canvas_init_marks (SherdPhotoCanvas *self)
{
  self->marks = g_ptr_array_new ();
  self->hint = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->hint, "hint");
  gtk_label_set_wrap (GTK_LABEL (self->hint), TRUE);
  gtk_label_set_justify (GTK_LABEL (self->hint), GTK_JUSTIFY_CENTER);
  gtk_widget_set_can_target (self->hint, FALSE);
  gtk_widget_set_visible (self->hint, FALSE);
  gtk_widget_set_parent (self->hint, GTK_WIDGET (self));
  self->loupe = sherd_photo_loupe_new ();
  gtk_widget_set_parent (self->loupe, GTK_WIDGET (self));
}

/**
 * sherd_photo_canvas_add_mark:
 * @self: the canvas
 * @kind: what it is a point of
 * @name: what the point is called, translated: “Top left corner of the tile”
 *
 * Adds a mark that is to be picked. It has no place yet; marks are asked for in the order of adding.
 *
 * Returns: its index
 */
guint
sherd_photo_canvas_add_mark (SherdPhotoCanvas *self, SherdPhotoMarkKind kind, const char *name)
{
  GtkWidget *mark;

  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), 0);
  mark = sherd_photo_mark_new (kind, self->marks->len + 1, name);
  g_signal_connect (mark, "nudge", G_CALLBACK (nudge_cb), self);
  g_signal_connect (mark, "remove", G_CALLBACK (remove_cb), self);
  g_signal_connect (mark, "notify::has-focus", G_CALLBACK (focus_cb), self);
  gtk_widget_insert_before (mark, GTK_WIDGET (self), self->hint);
  g_ptr_array_add (self->marks, mark);
  return self->marks->len - 1;
}

/**
 * sherd_photo_canvas_has_mark:
 * @self: the canvas
 * @index: of a mark
 * @kind: what it is a point of
 * @name: what the point is called
 *
 * Returns: whether there is such a mark, placed or not
 */
gboolean
sherd_photo_canvas_has_mark (SherdPhotoCanvas *self, guint index, SherdPhotoMarkKind kind, const char *name)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), FALSE);
  return index < self->marks->len && sherd_photo_mark_get_kind (get_mark (self, index)) == kind &&
         g_str_equal (sherd_photo_mark_get_name (get_mark (self, index)), name);
}

/**
 * sherd_photo_canvas_clear_marks:
 * @self: the canvas
 *
 * Forgets all marks, their names too, and ends marking.
 */
void
sherd_photo_canvas_clear_marks (SherdPhotoCanvas *self)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  sherd_photo_canvas_let_go (self);
  sherd_photo_canvas_end_marking (self);
  for (guint i = self->marks->len; i > 0; i--)
    gtk_widget_unparent (g_ptr_array_steal_index (self->marks, i - 1));
  sherd_photo_canvas_update_hint (self);
}

guint
sherd_photo_canvas_get_n_marks (SherdPhotoCanvas *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), 0);
  return self->marks->len;
}

/**
 * sherd_photo_canvas_set_mark:
 * @self: the canvas
 * @index: of the mark
 * @photo_px: its place, px of the upright photograph
 *
 * Gives a mark a place. Emits nothing.
 */
void
sherd_photo_canvas_set_mark (SherdPhotoCanvas *self, guint index, SherdPoint photo_px)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self) && index < self->marks->len);
  show_mark (self, index, photo_px);
}

/**
 * sherd_photo_canvas_unset_mark:
 * @self: the canvas
 * @index: of the mark
 *
 * Takes a mark's place away; it stays in the list, to be picked again. Emits nothing.
 */
void
sherd_photo_canvas_unset_mark (SherdPhotoCanvas *self, guint index)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self) && index < self->marks->len);
  sherd_photo_mark_take_away (get_mark (self, index));
  sherd_photo_canvas_update_loupe (self);
  sherd_photo_canvas_update_hint (self);
}

/**
 * sherd_photo_canvas_get_mark:
 * @self: the canvas
 * @index: of the mark
 * @photo_px: (out) (optional): its place
 *
 * Returns: whether it has one
 */
gboolean
sherd_photo_canvas_get_mark (SherdPhotoCanvas *self, guint index, SherdPoint *photo_px)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self) && index < self->marks->len, FALSE);
  return sherd_photo_mark_get_place (get_mark (self, index), photo_px);
}

/**
 * sherd_photo_canvas_focus_mark:
 * @self: the canvas
 * @index: of a placed mark
 *
 * Gives a mark the keyboard focus and brings it into view.
 */
void
sherd_photo_canvas_focus_mark (SherdPhotoCanvas *self, guint index)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self) && index < self->marks->len);
  gtk_widget_grab_focus (g_ptr_array_index (self->marks, index));
}

/**
 * sherd_photo_canvas_begin_marking:
 * @self: the canvas
 *
 * Asks for the marks that have no place yet, one after the other. Ends by itself with the last one.
 *
 * Returns: FALSE if every mark has its place
 */
gboolean
sherd_photo_canvas_begin_marking (SherdPhotoCanvas *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), FALSE);
  if (sherd_photo_canvas_get_next_mark (self) < 0)
    return FALSE;
  self->marking = TRUE;
  self->mark_in_middle = FALSE;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "crosshair");
  gtk_widget_grab_focus (GTK_WIDGET (self));
  sherd_photo_canvas_update_loupe (self);
  sherd_photo_canvas_update_hint (self);
  return TRUE;
}

/**
 * sherd_photo_canvas_end_marking:
 * @self: the canvas
 *
 * Asks for no more marks. Emits #SherdPhotoCanvas::marking-ended if it was asking.
 */
void
sherd_photo_canvas_end_marking (SherdPhotoCanvas *self)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  if (!self->marking)
    return;
  self->marking = self->mark_in_middle = FALSE;
  gtk_widget_set_cursor (GTK_WIDGET (self), NULL);
  sherd_photo_canvas_update_loupe (self);
  sherd_photo_canvas_update_hint (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, sherd_photo_canvas_signals[SHERD_PHOTO_CANVAS_MARKING_ENDED], 0,
                 sherd_photo_canvas_get_next_mark (self) < 0);
}

gboolean
sherd_photo_canvas_get_marking (SherdPhotoCanvas *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), FALSE);
  return self->marking;
}

/**
 * sherd_photo_canvas_get_next_mark:
 * @self: the canvas
 *
 * Returns: the first mark without a place, or −1
 */
int
sherd_photo_canvas_get_next_mark (SherdPhotoCanvas *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), -1);
  for (guint i = 0; i < self->marks->len; i++)
    if (!sherd_photo_mark_get_place (get_mark (self, i), NULL))
      return (int)i;
  return -1;
}
