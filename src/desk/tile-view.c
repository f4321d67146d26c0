/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/tile-view.h"

#include <glib/gi18n-lib.h>

#include "trial/format.h"

/* Air around the tile, logical px. */
#define AIR_PX 24

struct _SherdTileView
{
  GtkWidget parent_instance;

  SherdPiece *piece;
  SherdSide *side;
  GPtrArray *buttons; /* of GtkToggleButton, in the order of the side's zones */
  gboolean selecting;
};

G_DEFINE_FINAL_TYPE (SherdTileView, sherd_tile_view, GTK_TYPE_WIDGET)

static guint zone_selected_signal;

/* Where the tile lies in the widget and how many px a mm has. */
typedef struct
{
  double x;
  double y;
  double px_per_mm;
} Frame;

static Frame
frame_of (SherdTileView *self)
{
  double width_mm = sherd_piece_get_width_mm (self->piece);
  double height_mm = sherd_piece_get_height_mm (self->piece);
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  int height = gtk_widget_get_height (GTK_WIDGET (self));
  Frame frame;

  frame.px_per_mm = MAX (0.1, MIN ((width - 2 * AIR_PX) / width_mm, (height - 2 * AIR_PX) / height_mm));
  frame.x = (width - frame.px_per_mm * width_mm) / 2;
  frame.y = (height - frame.px_per_mm * height_mm) / 2;
  return frame;
}

static SherdZone *
zone_of (GtkWidget *button)
{
  return g_object_get_data (G_OBJECT (button), "zone");
}

static void
zone_box (SherdZone *zone, SherdRectangle *box)
{
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);
  SherdPoint least = outline->points[0];
  SherdPoint most = outline->points[0];

  for (gsize i = 1; i < outline->n_points; i++)
    {
      least.x = MIN (least.x, outline->points[i].x);
      least.y = MIN (least.y, outline->points[i].y);
      most.x = MAX (most.x, outline->points[i].x);
      most.y = MAX (most.y, outline->points[i].y);
    }
  *box = (SherdRectangle){ least.x, least.y, most.x - least.x, most.y - least.y };
}

static void
sherd_tile_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  SherdTileView *self = SHERD_TILE_VIEW (widget);
  Frame frame;

  if (self->piece == NULL)
    return;
  frame = frame_of (self);
  for (guint i = 0; i < self->buttons->len; i++)
    {
      GtkWidget *button = g_ptr_array_index (self->buttons, i);
      SherdRectangle box;
      GtkAllocation allocation;

      zone_box (zone_of (button), &box);
      allocation.x = (int)(frame.x + frame.px_per_mm * box.x_mm);
      allocation.y = (int)(frame.y + frame.px_per_mm * box.y_mm);
      allocation.width = MAX (1, (int)(frame.px_per_mm * box.width_mm));
      allocation.height = MAX (1, (int)(frame.px_per_mm * box.height_mm));
      /* A zone smaller than its words is still drawn to scale: the words are clipped. */
      gtk_widget_measure (button, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
      gtk_widget_size_allocate (button, &allocation, -1);
    }
}

static void
sherd_tile_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SherdTileView *self = SHERD_TILE_VIEW (widget);
  GdkRGBA clay = { 0.80f, 0.75f, 0.68f, 1.0f };
  GskRoundedRect tile;
  graphene_rect_t bounds;
  Frame frame;

  if (self->piece != NULL)
    {
      frame = frame_of (self);
      graphene_rect_init (&bounds, (float)frame.x, (float)frame.y,
                          (float)(frame.px_per_mm * sherd_piece_get_width_mm (self->piece)),
                          (float)(frame.px_per_mm * sherd_piece_get_height_mm (self->piece)));
      gsk_rounded_rect_init_from_rect (&tile, &bounds, 3.0f);
      gtk_snapshot_push_rounded_clip (snapshot, &tile);
      gtk_snapshot_append_color (snapshot, &clay, &bounds);
      gtk_snapshot_pop (snapshot);
    }
  GTK_WIDGET_CLASS (sherd_tile_view_parent_class)->snapshot (widget, snapshot);
}

static void
toggled_cb (GtkToggleButton *button, SherdTileView *self)
{
  if (self->selecting)
    return;
  sherd_tile_view_select (self, zone_of (GTK_WIDGET (button)));
  g_signal_emit (self, zone_selected_signal, 0, zone_of (GTK_WIDGET (button)));
}

static void
label_button (GtkWidget *button, SherdZone *zone)
{
  SherdPaint *paint = sherd_zone_get_paint (zone);
  const char *paint_code = paint != NULL ? sherd_paint_get_code (paint) : _ ("bare");
  g_autofree char *text = g_strdup_printf ("%s\n%s", sherd_zone_get_code (zone), paint_code);
  const char *paint_name = paint != NULL ? sherd_paint_get_name (paint) : "";
  g_autofree char *spoken =
    *paint_name != '\0' ? g_strdup_printf (_ ("Zone %s, %s, %s"), sherd_zone_get_code (zone), paint_code, paint_name)
                        : g_strdup_printf (_ ("Zone %s, %s"), sherd_zone_get_code (zone), paint_code);
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_button_set_child (GTK_BUTTON (button), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  gtk_widget_set_tooltip_text (button, spoken);
  gtk_widget_add_css_class (button, "zone");
  if (paint == NULL)
    gtk_widget_add_css_class (button, "bare");
}

static void
add_button (SherdTileView *self, SherdZone *zone)
{
  GtkWidget *button = gtk_toggle_button_new ();

  label_button (button, zone);
  g_object_set_data_full (G_OBJECT (button), "zone", g_object_ref (zone), g_object_unref);
  gtk_widget_set_overflow (button, GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_parent (button, GTK_WIDGET (self));
  g_signal_connect (button, "toggled", G_CALLBACK (toggled_cb), self);
  g_ptr_array_add (self->buttons, button);
}

static void
remove_buttons (SherdTileView *self)
{
  for (guint i = 0; i < self->buttons->len; i++)
    gtk_widget_unparent (g_ptr_array_index (self->buttons, i));
  g_ptr_array_set_size (self->buttons, 0);
}

/**
 * sherd_tile_view_show:
 * @self: the view
 * @piece: (nullable): a tile
 * @side: (nullable): its side
 *
 * Shows a side of a tile as it is now; call it again after an edit.
 */
void
sherd_tile_view_show (SherdTileView *self, SherdPiece *piece, SherdSide *side)
{
  GListModel *zones = side != NULL ? sherd_side_get_zones (side) : NULL;

  g_set_object (&self->piece, piece);
  g_set_object (&self->side, side);
  remove_buttons (self);
  for (guint i = 0; zones != NULL && i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      add_button (self, zone);
    }
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

/**
 * sherd_tile_view_select:
 * @self: the view
 * @zone: (nullable): the zone to be shown as selected
 */
void
sherd_tile_view_select (SherdTileView *self, SherdZone *zone)
{
  self->selecting = TRUE;
  for (guint i = 0; i < self->buttons->len; i++)
    {
      GtkWidget *button = g_ptr_array_index (self->buttons, i);

      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), zone_of (button) == zone);
    }
  self->selecting = FALSE;
}

static void
sherd_tile_view_dispose (GObject *object)
{
  SherdTileView *self = SHERD_TILE_VIEW (object);

  remove_buttons (self);
  g_clear_object (&self->piece);
  g_clear_object (&self->side);
  G_OBJECT_CLASS (sherd_tile_view_parent_class)->dispose (object);
}

static void
sherd_tile_view_finalize (GObject *object)
{
  g_ptr_array_unref (SHERD_TILE_VIEW (object)->buttons);
  G_OBJECT_CLASS (sherd_tile_view_parent_class)->finalize (object);
}

static void
sherd_tile_view_class_init (SherdTileViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_tile_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = sherd_tile_view_finalize;
  widget_class->size_allocate = sherd_tile_view_size_allocate;
  widget_class->snapshot = sherd_tile_view_snapshot;
  gtk_widget_class_set_css_name (widget_class, "tile-view");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);

  /**
   * SherdTileView::zone-selected:
   * @zone: the zone that was clicked or chosen with the keyboard
   */
  zone_selected_signal = g_signal_new ("zone-selected", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                       NULL, G_TYPE_NONE, 1, SHERD_TYPE_ZONE);
}

static void
sherd_tile_view_init (SherdTileView *self)
{
  self->buttons = g_ptr_array_new ();
}
