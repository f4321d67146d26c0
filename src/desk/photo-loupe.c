/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-loupe.h"

#include <math.h>

#include "desk/legible.h"

#define SIDE_PX 177.0f /* odd, so that the cross hairs fall on whole pixels */
#define BORDER_PX 2.0f
#define RADIUS_PX 8.0f
#define HAIR_GAP_PX 5.0
#define CAPTION_PAD_PX 6.0f

/* A magnifier: the pixels about one place, large and sharp-edged, with cross hairs, the disc whose colour is told, and
 * words beneath. */
struct _SherdPhotoLoupe
{
  GtkWidget parent_instance;

  SherdPhotoPyramid *pyramid; /* (nullable): while it is shown */
  SherdPoint photo_px;
  guint magnification;
  double disc_radius_px; /* on the widget */
  PangoLayout *caption;
};

G_DEFINE_FINAL_TYPE (SherdPhotoLoupe, sherd_photo_loupe, GTK_TYPE_WIDGET)

static void
caption_size (SherdPhotoLoupe *self, float *width_px, float *height_px)
{
  int width, height;

  pango_layout_get_pixel_size (self->caption, &width, &height);
  *width_px = (float)width + 2.0f * CAPTION_PAD_PX;
  *height_px = (float)height + 2.0f * CAPTION_PAD_PX;
}

static void
sherd_photo_loupe_measure (GtkWidget *widget,
                           GtkOrientation orientation,
                           int for_size,
                           int *minimum,
                           int *natural,
                           int *minimum_baseline,
                           int *natural_baseline)
{
  float width_px, height_px;

  caption_size (SHERD_PHOTO_LOUPE (widget), &width_px, &height_px);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *minimum = *natural = (int)ceilf (MAX (SIDE_PX, width_px) + 2.0f * BORDER_PX);
  else
    *minimum = *natural = (int)ceilf (SIDE_PX + height_px + 2.0f * BORDER_PX);
}

/* The middle of a pixel, so that the cross hairs are sharp. */
static graphene_point_t
find_middle (const graphene_rect_t *window)
{
  return GRAPHENE_POINT_INIT (floorf (window->origin.x + window->size.width / 2.0f) + 0.5f,
                              floorf (window->origin.y + window->size.height / 2.0f) + 0.5f);
}

static void
draw_cross_and_disc (SherdPhotoLoupe *self, GtkSnapshot *snapshot, const graphene_rect_t *window)
{
  const double reach_px = MAX (window->size.width, window->size.height);
  const graphene_point_t middle = find_middle (window);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, window);

  cairo_translate (cr, middle.x, middle.y);
  for (int quarter = 0; quarter < 4; quarter++)
    {
      cairo_move_to (cr, HAIR_GAP_PX, 0.0);
      cairo_line_to (cr, reach_px, 0.0);
      cairo_rotate (cr, G_PI / 2.0);
    }
  sherd_legible_stroke (cr, 1.0);
  cairo_arc (cr, 0.0, 0.0, self->disc_radius_px, 0.0, 2.0 * G_PI);
  sherd_legible_stroke_dashed (cr, 1.0);
  cairo_destroy (cr);
}

/* The pixels that the window shows; @bounds tells where their square lies, from the window's middle. */
static GdkTexture *
cut_out (SherdPhotoLoupe *self, float window_side_px, graphene_rect_t *bounds)
{
  const double magnification = self->magnification;
  const guint scale_factor = (guint)gtk_widget_get_scale_factor (GTK_WIDGET (self));
  const int half_px = (int)ceil (window_side_px / (2.0 * magnification)) + 1;
  const int x_px = (int)floor (self->photo_px.x) - half_px, y_px = (int)floor (self->photo_px.y) - half_px;
  const guint side_px = 2 * (guint)half_px + 1;

  *bounds = GRAPHENE_RECT_INIT ((float)((x_px - self->photo_px.x) * magnification),
                                (float)((y_px - self->photo_px.y) * magnification), (float)(side_px * magnification),
                                (float)(side_px * magnification));
  return sherd_photo_pyramid_magnify (self->pyramid, x_px, y_px, side_px, side_px, self->magnification * scale_factor);
}

static void
draw_pixels (SherdPhotoLoupe *self, GtkSnapshot *snapshot, const graphene_rect_t *window)
{
  const graphene_point_t middle = find_middle (window);
  graphene_rect_t bounds;
  g_autoptr (GdkTexture) texture =
    self->pyramid ? cut_out (self, MAX (window->size.width, window->size.height), &bounds) : NULL;

  gtk_snapshot_push_clip (snapshot, window);
  if (texture)
    {
      gtk_snapshot_save (snapshot);
      gtk_snapshot_translate (snapshot, &middle);
      gtk_snapshot_append_texture (snapshot, texture, &bounds);
      gtk_snapshot_restore (snapshot);
    }
  draw_cross_and_disc (self, snapshot, window);
  gtk_snapshot_pop (snapshot);
}

static void
sherd_photo_loupe_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SherdPhotoLoupe *self = SHERD_PHOTO_LOUPE (widget);
  const GdkRGBA dark = { 0.08f, 0.08f, 0.08f, 1.0f }, light = { 1.0f, 1.0f, 1.0f, 1.0f };
  const float width_px = (float)gtk_widget_get_width (widget), height_px = (float)gtk_widget_get_height (widget);
  const graphene_rect_t all = GRAPHENE_RECT_INIT (0.0f, 0.0f, width_px, height_px);
  const graphene_rect_t window = GRAPHENE_RECT_INIT (BORDER_PX, BORDER_PX, width_px - 2.0f * BORDER_PX, SIDE_PX);
  GskRoundedRect shape;

  gsk_rounded_rect_init_from_rect (&shape, &all, RADIUS_PX);
  gtk_snapshot_push_rounded_clip (snapshot, &shape);
  gtk_snapshot_append_color (snapshot, &dark, &all);
  draw_pixels (self, snapshot, &window);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT (BORDER_PX + CAPTION_PAD_PX, BORDER_PX + SIDE_PX + CAPTION_PAD_PX));
  gtk_snapshot_append_layout (snapshot, self->caption, &light);
  gtk_snapshot_pop (snapshot);
}

/* Put aside, it must not keep a photograph in memory. */
static void
sherd_photo_loupe_hide (GtkWidget *widget)
{
  g_clear_object (&SHERD_PHOTO_LOUPE (widget)->pyramid);
  GTK_WIDGET_CLASS (sherd_photo_loupe_parent_class)->hide (widget);
}

static void
sherd_photo_loupe_finalize (GObject *object)
{
  SherdPhotoLoupe *self = SHERD_PHOTO_LOUPE (object);

  g_clear_object (&self->pyramid);
  g_clear_object (&self->caption);
  G_OBJECT_CLASS (sherd_photo_loupe_parent_class)->finalize (object);
}

static void
sherd_photo_loupe_class_init (SherdPhotoLoupeClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sherd_photo_loupe_finalize;
  widget_class->measure = sherd_photo_loupe_measure;
  widget_class->snapshot = sherd_photo_loupe_snapshot;
  widget_class->hide = sherd_photo_loupe_hide;
  gtk_widget_class_set_css_name (widget_class, "photo-loupe");
  /* What it shows is told by the mark that is being moved. */
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void
sherd_photo_loupe_init (SherdPhotoLoupe *self)
{
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  self->caption = gtk_widget_create_pango_layout (GTK_WIDGET (self), NULL);
}

/**
 * sherd_photo_loupe_new:
 *
 * Returns: (transfer floating): a magnifier, hidden
 */
GtkWidget *
sherd_photo_loupe_new (void)
{
  return g_object_new (SHERD_TYPE_PHOTO_LOUPE, NULL);
}

/* Asks for a new layout of the window only when the words need another room. */
static void
set_caption (SherdPhotoLoupe *self, const char *caption)
{
  float old_width_px, old_height_px, width_px, height_px;

  caption_size (self, &old_width_px, &old_height_px);
  pango_layout_set_text (self->caption, caption, -1);
  caption_size (self, &width_px, &height_px);
  if (width_px != old_width_px || height_px != old_height_px)
    gtk_widget_queue_resize (GTK_WIDGET (self));
}

/**
 * sherd_photo_loupe_look:
 * @self: the magnifier
 * @pyramid: the photograph
 * @photo_px: the place to look at, px of the upright photograph
 * @magnification: widget px per photo px
 * @disc_radius_px: radius of the disc whose colour @caption tells, photo px
 * @caption: words beneath, one or two lines
 *
 * Looks at a place.
 */
void
sherd_photo_loupe_look (SherdPhotoLoupe *self,
                        SherdPhotoPyramid *pyramid,
                        SherdPoint photo_px,
                        guint magnification,
                        double disc_radius_px,
                        const char *caption)
{
  g_return_if_fail (SHERD_IS_PHOTO_LOUPE (self));
  self->photo_px = photo_px;
  self->magnification = magnification;
  self->disc_radius_px = disc_radius_px * magnification;
  g_set_object (&self->pyramid, pyramid);
  set_caption (self, caption);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

SherdPoint
sherd_photo_loupe_get_place (SherdPhotoLoupe *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_LOUPE (self), (SherdPoint){ 0 });
  return self->photo_px;
}

const char *
sherd_photo_loupe_get_caption (SherdPhotoLoupe *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_LOUPE (self), NULL);
  return pango_layout_get_text (self->caption);
}
