/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-mark.h"

#include <string.h>

#include <glib/gi18n-lib.h>

#include "desk/legible.h"

#define RING_PX 10.0       /* radius */
#define FOCUS_PX 21.0      /* radius of the second ring when the mark has the focus */
#define HAIR_FROM_PX 3.5   /* the middle stays free: the point itself must be seen */
#define HAIR_TO_PX 17.0    /* end of the cross hairs */
#define HALF_SIDE_PX 36.0f /* room for all of it and the number */

/* A point to be picked in a photograph. It knows its name and its place, draws itself about its middle and tells
 * assistive technology; the canvas puts it there and moves it. */
struct _SherdPhotoMark
{
  GtkWidget parent_instance;

  SherdPhotoMarkKind kind;
  char *name;
  PangoLayout *number;
  gboolean placed;
  SherdPoint photo_px;
};

enum
{
  NUDGE,
  REMOVE,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (SherdPhotoMark, sherd_photo_mark, GTK_TYPE_WIDGET)

static void
trace_ring (SherdPhotoMark *self, cairo_t *cr, double radius_px)
{
  if (self->kind == SHERD_PHOTO_MARK_PIECE)
    {
      cairo_new_sub_path (cr);
      cairo_arc (cr, 0.0, 0.0, radius_px, 0.0, 2.0 * G_PI);
      return;
    }
  cairo_move_to (cr, 0.0, -radius_px * G_SQRT2);
  cairo_line_to (cr, radius_px * G_SQRT2, 0.0);
  cairo_line_to (cr, 0.0, radius_px * G_SQRT2);
  cairo_line_to (cr, -radius_px * G_SQRT2, 0.0);
  cairo_close_path (cr);
}

static void
trace_hairs (cairo_t *cr)
{
  for (int quarter = 0; quarter < 4; quarter++)
    {
      const double dx = quarter % 2 ? 0.0 : quarter - 1.0, dy = quarter % 2 ? quarter - 2.0 : 0.0;

      cairo_move_to (cr, dx * HAIR_FROM_PX, dy * HAIR_FROM_PX);
      cairo_line_to (cr, dx * HAIR_TO_PX, dy * HAIR_TO_PX);
    }
}

static void
sherd_photo_mark_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SherdPhotoMark *self = SHERD_PHOTO_MARK (widget);
  const gboolean focused = gtk_widget_has_focus (widget);
  cairo_t *cr =
    gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0.0f, 0.0f, 2.0f * HALF_SIDE_PX, 2.0f * HALF_SIDE_PX));

  cairo_translate (cr, HALF_SIDE_PX, HALF_SIDE_PX);
  trace_hairs (cr);
  trace_ring (self, cr, RING_PX);
  sherd_legible_stroke (cr, focused ? 1.8 : 1.2);
  if (focused)
    {
      trace_ring (self, cr, FOCUS_PX);
      sherd_legible_stroke_dashed (cr, 1.8);
    }
  cairo_destroy (cr);
  sherd_legible_plate (snapshot, self->number, HALF_SIDE_PX + 11.0f, HALF_SIDE_PX - 30.0f);
}

static void
sherd_photo_mark_measure (GtkWidget *widget,
                          GtkOrientation orientation,
                          int for_size,
                          int *minimum,
                          int *natural,
                          int *minimum_baseline,
                          int *natural_baseline)
{
  *minimum = *natural = (int)(2.0f * HALF_SIDE_PX);
}

static void
nudge_action (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  double dx_px, dy_px;

  g_variant_get (parameter, "(dd)", &dx_px, &dy_px);
  g_signal_emit (widget, signals[NUDGE], 0, dx_px, dy_px);
}

static void
step_action (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  const char *where = strrchr (action_name, '.') + 1;
  const double dx_px = g_str_equal (where, "right") - g_str_equal (where, "left");
  const double dy_px = g_str_equal (where, "down") - g_str_equal (where, "up");

  g_signal_emit (widget, signals[NUDGE], 0, dx_px, dy_px);
}

static void
remove_action (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  g_signal_emit (widget, signals[REMOVE], 0);
}

static void
sherd_photo_mark_finalize (GObject *object)
{
  SherdPhotoMark *self = SHERD_PHOTO_MARK (object);

  g_clear_object (&self->number);
  g_free (self->name);
  G_OBJECT_CLASS (sherd_photo_mark_parent_class)->finalize (object);
}

static void
sherd_photo_mark_state_flags_changed (GtkWidget *widget, GtkStateFlags previous)
{
  gtk_widget_queue_draw (widget);
  GTK_WIDGET_CLASS (sherd_photo_mark_parent_class)->state_flags_changed (widget, previous);
}

static void
sherd_photo_mark_class_init (SherdPhotoMarkClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sherd_photo_mark_finalize;
  widget_class->snapshot = sherd_photo_mark_snapshot;
  widget_class->measure = sherd_photo_mark_measure;
  widget_class->state_flags_changed = sherd_photo_mark_state_flags_changed;
  gtk_widget_class_set_css_name (widget_class, "photo-mark");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_BUTTON);

  /* Actions, so that assistive technology can do without a pointer what a drag does. */
  gtk_widget_class_install_action (widget_class, "mark.nudge", "(dd)", nudge_action);
  gtk_widget_class_install_action (widget_class, "mark.left", NULL, step_action);
  gtk_widget_class_install_action (widget_class, "mark.right", NULL, step_action);
  gtk_widget_class_install_action (widget_class, "mark.up", NULL, step_action);
  gtk_widget_class_install_action (widget_class, "mark.down", NULL, step_action);
  gtk_widget_class_install_action (widget_class, "mark.remove", NULL, remove_action);

  /**
   * SherdPhotoMark::nudge:
   * @dx_px: to the right, photo px
   * @dy_px: downwards
   */
  signals[NUDGE] = g_signal_new ("nudge", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  /**
   * SherdPhotoMark::remove:
   *
   * The mark is to be taken away.
   */
  signals[REMOVE] =
    g_signal_new ("remove", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sherd_photo_mark_init (SherdPhotoMark *self)
{
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE); /* the canvas does the picking, with a wider reach */
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

/**
 * sherd_photo_mark_new:
 * @kind: what it is a point of
 * @number: shown beside it, from 1
 * @name: what the point is called, translated: “Top left corner of the tile”
 *
 * Returns: (transfer floating): a mark that is not placed yet
 */
GtkWidget *
sherd_photo_mark_new (SherdPhotoMarkKind kind, guint number, const char *name)
{
  SherdPhotoMark *self = g_object_new (SHERD_TYPE_PHOTO_MARK, NULL);
  g_autofree char *digits = g_strdup_printf ("%u", number);

  self->kind = kind;
  self->name = g_strdup (name);
  self->number = gtk_widget_create_pango_layout (GTK_WIDGET (self), digits);
  return GTK_WIDGET (self);
}

SherdPhotoMarkKind
sherd_photo_mark_get_kind (SherdPhotoMark *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_MARK (self), SHERD_PHOTO_MARK_PIECE);
  return self->kind;
}

const char *
sherd_photo_mark_get_name (SherdPhotoMark *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_MARK (self), NULL);
  return self->name;
}

/**
 * sherd_photo_mark_place:
 * @self: the mark
 * @photo_px: where it is, px of the upright photograph
 */
void
sherd_photo_mark_place (SherdPhotoMark *self, SherdPoint photo_px)
{
  g_autofree char *label = NULL;

  g_return_if_fail (SHERD_IS_PHOTO_MARK (self));
  self->photo_px = photo_px;
  self->placed = TRUE;
  /* Translators: name of a mark and its position in the photograph, in pixels; read aloud. */
  label = g_strdup_printf (_ ("%s, at %.1f, %.1f"), self->name, photo_px.x, photo_px.y);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_ROLE_DESCRIPTION, _ ("mark"), -1);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
}

/**
 * sherd_photo_mark_take_away:
 * @self: the mark
 *
 * The mark has no place any more and is not shown.
 */
void
sherd_photo_mark_take_away (SherdPhotoMark *self)
{
  g_return_if_fail (SHERD_IS_PHOTO_MARK (self));
  self->placed = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

/**
 * sherd_photo_mark_get_place:
 * @self: the mark
 * @photo_px: (out) (optional): where it is, px of the upright photograph
 *
 * Returns: whether it is placed
 */
gboolean
sherd_photo_mark_get_place (SherdPhotoMark *self, SherdPoint *photo_px)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_MARK (self), FALSE);
  if (self->placed && photo_px)
    *photo_px = self->photo_px;
  return self->placed;
}
