/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/vessel-view.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/piece-surface.h"
#include "trial/zone-shape-edits.h"

#define RADIANS_PER_DEG (G_PI / 180.0)

/* Our choice: as a vessel stands on a table before one. */
#define HOME_AZIMUTH_DEG 0.0
#define HOME_HEIGHT_DEG 30.0

/* A key turns so far; a drag over the whole widget turns half round. */
#define KEY_STEP_DEG 10.0

/* Fine enough that no corner shows at a hand's breadth, few enough to turn without stutter. */
#define N_SECTORS 72
#define CURVE_MM 0.4

#define AIR_PX 16.0

/* Lines lie a hair before the wall that they are drawn on, and are drawn after the facets round them: a facet is a
 * twelfth of the radius wide. */
#define LINE_LIFT_MM 0.8
#define LINE_NEARER_FRAC 0.12

/* A code is not written on what is seen edge on. */
#define LEAST_FACING 0.3

typedef struct
{
  double mm[3];
  double normal[3];
} Spot;

/* A facet of the wall, or a line or code on it. */
typedef enum
{
  FACET,
  LINE,
  ZERO_MARK,
  CODE
} ItemKind;

typedef struct
{
  ItemKind kind;
  Spot spots[4];
  guint n_spots;
  SherdZone *zone; /* (nullable) */
  double nearness; /* in the present view */
} Item;

struct _SherdVesselView
{
  GtkWidget parent_instance;

  GArray *items; /* of Item */
  double radius_mm;
  double height_mm;
  double azimuth_deg; /* from where it is seen */
  double height_deg;
  double drag_azimuth_deg;
  double drag_height_deg;
  SherdZone *selected; /* never dereferenced */
};

G_DEFINE_FINAL_TYPE (SherdVesselView, sherd_vessel_view, GTK_TYPE_WIDGET)

/* Right, up, and towards the one who looks. */
typedef struct
{
  double right[3];
  double up[3];
  double near[3];
  double px_per_mm;
  double x;
  double y;
  double middle_mm;
} View;

static double
dot (const double a[3], const double b[3])
{
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static View
view_of (SherdVesselView *self)
{
  const double a = self->azimuth_deg * RADIANS_PER_DEG, h = self->height_deg * RADIANS_PER_DEG;
  const int width = gtk_widget_get_width (GTK_WIDGET (self)), height = gtk_widget_get_height (GTK_WIDGET (self));
  const double across_mm = 2.0 * self->radius_mm;
  const double up_mm = self->height_mm * cos (h) + across_mm * fabs (sin (h));

  return (View){
    .right = { -sin (a), cos (a), 0.0 },
    .up = { -sin (h) * cos (a), -sin (h) * sin (a), cos (h) },
    .near = { cos (h) * cos (a), cos (h) * sin (a), sin (h) },
    .px_per_mm = MAX (0.05, MIN ((width - 2.0 * AIR_PX) / across_mm, (height - 2.0 * AIR_PX) / up_mm)),
    .x = width / 2.0,
    .y = height / 2.0,
    .middle_mm = self->height_mm / 2.0,
  };
}

static graphene_point_t
project (const View *view, const double mm[3])
{
  const double at[3] = { mm[0], mm[1], mm[2] - view->middle_mm };

  return GRAPHENE_POINT_INIT ((float)(view->x + view->px_per_mm * dot (at, view->right)),
                              (float)(view->y - view->px_per_mm * dot (at, view->up)));
}

static Spot
spot_at (const SherdSurface *surface, double azimuth_deg, double arc_mm)
{
  Spot spot;

  sherd_surface_position (surface, (SherdPoint){ azimuth_deg, arc_mm }, spot.mm, spot.normal);
  return spot;
}

static void
lift (Spot *spot, double by_mm)
{
  for (guint i = 0; i < 3; i++)
    spot->mm[i] += by_mm * spot->normal[i];
}

/* (transfer full) (nullable). Azimuths are written one turn to either side of the first. */
static SherdZone *
find_zone (SherdSide *side, double azimuth_deg, double arc_mm)
{
  GListModel *zones = side != NULL ? sherd_side_get_zones (side) : NULL;

  for (guint i = 0; zones != NULL && i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);

      for (double turn = -360.0; turn <= 360.0; turn += 360.0)
        if (sherd_outline_contains (outline, (SherdPoint){ azimuth_deg + turn, arc_mm }))
          return g_steal_pointer (&zone);
    }
  return NULL;
}

static void
add_facet (SherdVesselView *self, const SherdSurface *surface, SherdSide *side, guint sector, double arc0, double arc1)
{
  const double from = sector * 360.0 / N_SECTORS, to = (sector + 1) * 360.0 / N_SECTORS;
  Item item = { .kind = FACET, .n_spots = 4 };

  item.spots[0] = spot_at (surface, from, arc0);
  item.spots[1] = spot_at (surface, to, arc0);
  item.spots[2] = spot_at (surface, to, arc1);
  item.spots[3] = spot_at (surface, from, arc1);
  item.zone = find_zone (side, (from + to) / 2.0, (arc0 + arc1) / 2.0);
  g_array_append_val (self->items, item);
}

static void
add_line (SherdVesselView *self, const SherdSurface *surface, SherdPoint from, SherdPoint to, ItemKind kind)
{
  Item item = { .kind = kind, .n_spots = 2 };

  item.spots[0] = spot_at (surface, from.x, from.y);
  item.spots[1] = spot_at (surface, to.x, to.y);
  lift (&item.spots[0], LINE_LIFT_MM);
  lift (&item.spots[1], LINE_LIFT_MM);
  g_array_append_val (self->items, item);
}

static void
add_zone (SherdVesselView *self, const SherdSurface *surface, SherdZone *zone)
{
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);
  g_autoptr (SherdOutline) curve = sherd_surface_curve (surface, outline, CURVE_MM);
  const SherdPoint middle = sherd_surface_centroid (surface, outline);
  Item code = { .kind = CODE, .n_spots = 1, .zone = g_object_ref (zone) };

  for (gsize i = 0; i < curve->n_points; i++)
    add_line (self, surface, curve->points[i], curve->points[(i + 1) % curve->n_points], LINE);
  code.spots[0] = spot_at (surface, middle.x, middle.y);
  lift (&code.spots[0], 2.0 * LINE_LIFT_MM);
  g_array_append_val (self->items, code);
}

static void
add_side (SherdVesselView *self, SherdPiece *piece, const char *name)
{
  g_autoptr (SherdPieceSurface) owner = sherd_piece_surface_new (piece, name, NULL);
  SherdSide *side = sherd_piece_find_side_by_name (piece, name);
  GListModel *zones = side != NULL ? sherd_side_get_zones (side) : NULL;
  const SherdSurface *surface;
  g_autoptr (GArray) arcs = NULL;

  if (owner == NULL)
    return;
  surface = sherd_piece_surface_get (owner);
  arcs = sherd_profile_sample_arcs (surface->profile, CURVE_MM);
  for (guint i = 0; i + 1 < arcs->len; i++)
    for (guint sector = 0; sector < N_SECTORS; sector++)
      add_facet (self, surface, side, sector, g_array_index (arcs, double, i), g_array_index (arcs, double, i + 1));
  for (guint i = 0; zones != NULL && i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      add_zone (self, surface, zone);
    }
  if (surface->kind == SHERD_SURFACE_OUTSIDE)
    add_line (self, surface, (SherdPoint){ 0.0, 0.0 },
              (SherdPoint){ 0.0, MIN (10.0, sherd_profile_length_mm (surface->profile) / 4.0) }, ZERO_MARK);
}

static double
mean_of (const Item *item, const double direction[3], gboolean of_normals)
{
  double sum = 0.0;

  for (guint i = 0; i < item->n_spots; i++)
    sum += dot (of_normals ? item->spots[i].normal : item->spots[i].mm, direction);
  return sum / item->n_spots;
}

static int
farther_first (gconstpointer a, gconstpointer b)
{
  const Item *const *first = a, *const *second = b;

  return ((*first)->nearness > (*second)->nearness) - ((*first)->nearness < (*second)->nearness);
}

/* What faces away is never seen. */
static GPtrArray *
items_in_view (SherdVesselView *self, const View *view)
{
  GPtrArray *seen = g_ptr_array_new ();

  for (guint i = 0; i < self->items->len; i++)
    {
      Item *item = &g_array_index (self->items, Item, i);

      if (mean_of (item, view->near, TRUE) <= (item->kind == CODE ? LEAST_FACING : 0.0))
        continue;
      item->nearness = mean_of (item, view->near, FALSE);
      if (item->kind != FACET)
        item->nearness += LINE_NEARER_FRAC * self->radius_mm;
      g_ptr_array_add (seen, item);
    }
  g_ptr_array_sort (seen, farther_first);
  return seen;
}

static void
draw_facet (SherdVesselView *self, cairo_t *cr, const View *view, const Item *item)
{
  static const double clay[3] = { 0.80, 0.75, 0.68 }, painted[3] = { 0.93, 0.90, 0.88 },
                      chosen[3] = { 0.60, 0.77, 0.96 };
  const gboolean is_bare = item->zone == NULL || sherd_zone_is_bare (item->zone);
  const double *colour = item->zone != NULL && item->zone == self->selected ? chosen : is_bare ? clay : painted;
  double light[3], shade;

  for (guint i = 0; i < 3; i++)
    light[i] = -0.4 * view->right[i] + 0.5 * view->up[i] + 0.77 * view->near[i];
  shade = 0.45 + 0.55 * MAX (0.0, mean_of (item, light, TRUE));
  for (guint i = 0; i < 4; i++)
    {
      const graphene_point_t at = project (view, item->spots[i].mm);

      cairo_line_to (cr, at.x, at.y);
    }
  cairo_close_path (cr);
  cairo_set_source_rgb (cr, colour[0] * shade, colour[1] * shade, colour[2] * shade);
  /* The outline in the same colour closes the seams between facets. */
  cairo_fill_preserve (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_BEVEL);
  cairo_set_line_width (cr, 0.7);
  cairo_stroke (cr);
}

static void
draw_line (cairo_t *cr, const View *view, const Item *item)
{
  const graphene_point_t from = project (view, item->spots[0].mm), to = project (view, item->spots[1].mm);

  cairo_move_to (cr, from.x, from.y);
  cairo_line_to (cr, to.x, to.y);
  cairo_set_source_rgb (cr, 0.15, 0.13, 0.11);
  cairo_set_line_width (cr, item->kind == ZERO_MARK ? 3.0 : 1.0);
  cairo_stroke (cr);
}

static void
draw_code (SherdVesselView *self, cairo_t *cr, const View *view, const Item *item)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), sherd_zone_get_code (item->zone));
  const graphene_point_t at = project (view, item->spots[0].mm);
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  cairo_move_to (cr, at.x - width / 2.0, at.y - height / 2.0);
  cairo_set_source_rgb (cr, 0.1, 0.09, 0.08);
  pango_cairo_show_layout (cr, layout);
}

static int
azimuth_in_words (SherdVesselView *self)
{
  return ((int)lround (self->azimuth_deg) % 360 + 360) % 360;
}

static void
draw_caption (SherdVesselView *self, cairo_t *cr)
{
  g_autofree char *words = g_strdup_printf (_ ("seen from %d°"), azimuth_in_words (self));
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), words);
  GdkRGBA ink;
  int height;

  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &ink);
  ink.alpha *= 0.6f;
  gdk_cairo_set_source_rgba (cr, &ink);
  pango_layout_get_pixel_size (layout, NULL, &height);
  cairo_move_to (cr, AIR_PX, gtk_widget_get_height (GTK_WIDGET (self)) - height - 4.0);
  pango_cairo_show_layout (cr, layout);
}

static void
sherd_vessel_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SherdVesselView *self = SHERD_VESSEL_VIEW (widget);
  const graphene_rect_t whole =
    GRAPHENE_RECT_INIT (0.0f, 0.0f, (float)gtk_widget_get_width (widget), (float)gtk_widget_get_height (widget));
  const View view = view_of (self);
  g_autoptr (GPtrArray) seen = items_in_view (self, &view);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &whole);

  for (guint i = 0; i < seen->len; i++)
    {
      const Item *item = g_ptr_array_index (seen, i);

      if (item->kind == FACET)
        draw_facet (self, cr, &view, item);
      else if (item->kind == CODE)
        draw_code (self, cr, &view, item);
      else
        draw_line (cr, &view, item);
    }
  draw_caption (self, cr);
  cairo_destroy (cr);
}

static void
tell_view (SherdVesselView *self)
{
  g_autofree char *words =
    g_strdup_printf (_ ("The vessel in space, seen from azimuth %d°, %d° above. Drag it, or turn "
                        "it with the arrow keys; Home turns it back."),
                     azimuth_in_words (self), (int)lround (self->height_deg));

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

static void
turn_to (SherdVesselView *self, double azimuth_deg, double height_deg)
{
  self->azimuth_deg = fmod (azimuth_deg, 360.0);
  self->height_deg = CLAMP (height_deg, -89.0, 89.0);
  tell_view (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
drag_begin_cb (SherdVesselView *self)
{
  self->drag_azimuth_deg = self->azimuth_deg;
  self->drag_height_deg = self->height_deg;
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
drag_update_cb (SherdVesselView *self, double x, double y)
{
  const double deg_per_px = 180.0 / MAX (1, gtk_widget_get_width (GTK_WIDGET (self)));

  turn_to (self, self->drag_azimuth_deg - x * deg_per_px, self->drag_height_deg + y * deg_per_px);
}

static gboolean
key_cb (SherdVesselView *self, guint key)
{
  switch (key)
    {
    case GDK_KEY_Left:
      turn_to (self, self->azimuth_deg + KEY_STEP_DEG, self->height_deg);
      return TRUE;
    case GDK_KEY_Right:
      turn_to (self, self->azimuth_deg - KEY_STEP_DEG, self->height_deg);
      return TRUE;
    case GDK_KEY_Up:
      turn_to (self, self->azimuth_deg, self->height_deg - KEY_STEP_DEG);
      return TRUE;
    case GDK_KEY_Down:
      turn_to (self, self->azimuth_deg, self->height_deg + KEY_STEP_DEG);
      return TRUE;
    case GDK_KEY_Home:
      turn_to (self, HOME_AZIMUTH_DEG, HOME_HEIGHT_DEG);
      return TRUE;
    default:
      return FALSE;
    }
}

/**
 * sherd_vessel_view_show:
 * @self: the view
 * @piece: (nullable): a piece
 *
 * Shows a vessel with the zones of both sides as they are now; hides itself for other pieces.
 */
void
sherd_vessel_view_show (SherdVesselView *self, SherdPiece *piece)
{
  const gboolean is_vessel = piece != NULL && sherd_piece_is_vessel (piece);

  g_array_set_size (self->items, 0);
  gtk_widget_set_visible (GTK_WIDGET (self), is_vessel);
  if (is_vessel)
    {
      self->radius_mm = MAX (1.0, sherd_piece_get_width_mm (piece) / 2.0);
      self->height_mm = MAX (1.0, sherd_piece_get_height_mm (piece));
      add_side (self, piece, "outside");
      add_side (self, piece, "inside");
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * sherd_vessel_view_select:
 * @self: the view
 * @zone: (nullable): the zone to be shown as selected
 */
void
sherd_vessel_view_select (SherdVesselView *self, SherdZone *zone)
{
  self->selected = zone;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
clear_item (gpointer data)
{
  g_clear_object (&((Item *)data)->zone);
}

static void
sherd_vessel_view_finalize (GObject *object)
{
  g_array_unref (SHERD_VESSEL_VIEW (object)->items);
  G_OBJECT_CLASS (sherd_vessel_view_parent_class)->finalize (object);
}

static void
sherd_vessel_view_class_init (SherdVesselViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sherd_vessel_view_finalize;
  widget_class->snapshot = sherd_vessel_view_snapshot;
  gtk_widget_class_set_css_name (widget_class, "vessel-view");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sherd_vessel_view_init (SherdVesselView *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->items = g_array_new (FALSE, FALSE, sizeof (Item));
  g_array_set_clear_func (self->items, clear_item);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  turn_to (self, HOME_AZIMUTH_DEG, HOME_HEIGHT_DEG);
}
