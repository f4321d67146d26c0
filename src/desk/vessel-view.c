/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/vessel-view.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "shape/solid.h"
#include "trial/piece-surface.h"

/* Our choice: as a vessel stands on a table before one. */
#define HOME_AZIMUTH_DEG 0.0
#define HOME_HEIGHT_DEG 30.0

/* A key turns so far; a drag over the whole widget turns half round. */
#define KEY_STEP_DEG 10.0

/* So many facets lie side by side across the vessel: fine enough that no corner shows at a hand's breadth, few enough
 * to turn without stutter. */
#define FACETS_ACROSS 26.0

/* Outlines follow the wall so closely. */
#define CURVE_MM 0.4

#define AIR_PX 16.0

/* A hand that presses without wish to drag moves less. */
#define STILL_PX 4.0

/* Lines lie a hair before the wall that they are drawn on, and are drawn after the facets round them; codes are larger
 * than facets. */
#define LINE_LIFT_MM 0.8
#define LINE_FACETS 1.5
#define CODE_FACETS 4.0

/* A code is not written on what is seen edge on. */
#define LEAST_FACING 0.3

typedef struct
{
  double mm[3];
  double normal[3];
} Spot;

/* What is drawn on the wall. */
typedef enum
{
  LINE,
  ZERO_MARK,
  CODE
} InkKind;

typedef struct
{
  InkKind kind;
  Spot spots[2];
  guint n_spots;
  SherdZone *zone; /* (nullable): of a code */
} Ink;

/* A zone, to find what a facet belongs to. */
typedef struct
{
  SherdZone *zone;
  SherdSurfaceKind side;
  SherdOutline *outline;
} Area;

/* One step of the drawing: a facet, or ink on it. */
typedef struct
{
  double distance_mm;
  const SherdFacet *facet; /* (nullable) */
  const Ink *ink;          /* (nullable) */
} Stroke;

struct _SherdVesselView
{
  GtkWidget parent_instance;

  SherdPieceSurface *owner; /* (nullable): of the vessel */
  GArray *areas;            /* of Area */
  GArray *inks;             /* of Ink */
  double facet_mm;
  double azimuth_deg; /* from where it is seen */
  double height_deg;
  double drag_azimuth_deg;
  double drag_height_deg;
  SherdZone *selected; /* never dereferenced */
};

G_DEFINE_FINAL_TYPE (SherdVesselView, sherd_vessel_view, GTK_TYPE_WIDGET)

static guint zone_selected_signal;

static Spot
spot_at (const SherdSurface *surface, SherdPoint on_side, double lift_mm)
{
  Spot spot;

  sherd_surface_position (surface, on_side, spot.mm, spot.normal);
  for (guint i = 0; i < 3; i++)
    spot.mm[i] += lift_mm * spot.normal[i];
  return spot;
}

static void
add_line (SherdVesselView *self, const SherdSurface *surface, SherdPoint from, SherdPoint to, InkKind kind)
{
  const Ink ink = { .kind = kind,
                    .spots = { spot_at (surface, from, LINE_LIFT_MM), spot_at (surface, to, LINE_LIFT_MM) },
                    .n_spots = 2 };

  g_array_append_val (self->inks, ink);
}

static void
add_zone (SherdVesselView *self, const SherdSurface *surface, SherdZone *zone)
{
  const Area area = { .zone = g_object_ref (zone), .side = surface->kind, .outline = sherd_zone_dup_outline (zone) };
  g_autoptr (SherdOutline) curve = sherd_surface_curve (surface, area.outline, CURVE_MM);
  const SherdPoint middle = sherd_surface_centroid (surface, area.outline);
  const Ink code = {
    .kind = CODE, .spots = { spot_at (surface, middle, 2.0 * LINE_LIFT_MM) }, .n_spots = 1, .zone = zone
  };

  for (gsize i = 0; i < curve->n_points; i++)
    add_line (self, surface, curve->points[i], curve->points[(i + 1) % curve->n_points], LINE);
  g_array_append_val (self->areas, area);
  g_array_append_val (self->inks, code);
}

static void
add_side (SherdVesselView *self, SherdPiece *piece, SherdSurfaceKind kind, const SherdProfile *profile)
{
  const char *name = kind == SHERD_SURFACE_OUTSIDE ? "outside" : "inside";
  SherdSide *side = sherd_piece_find_side_by_name (piece, name);
  GListModel *zones = side != NULL ? sherd_side_get_zones (side) : NULL;
  const SherdSurface surface = { .kind = kind, .profile = profile };

  for (guint i = 0; zones != NULL && i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      add_zone (self, &surface, zone);
    }
  if (kind == SHERD_SURFACE_OUTSIDE)
    add_line (self, &surface, (SherdPoint){ 0.0, 0.0 },
              (SherdPoint){ 0.0, MIN (10.0, sherd_profile_length_mm (profile) / 4.0) }, ZERO_MARK);
}

/* (nullable): azimuths are written one turn to either side of the first */
static SherdZone *
zone_of_facet (SherdVesselView *self, const SherdFacet *facet)
{
  for (guint i = 0; i < self->areas->len; i++)
    {
      const Area *area = &g_array_index (self->areas, Area, i);

      if (area->side != facet->kind)
        continue;
      for (int turn = -1; turn <= 1; turn++)
        if (sherd_outline_contains (area->outline,
                                    (SherdPoint){ facet->middle_on_side.x + 360.0 * turn, facet->middle_on_side.y }))
          return area->zone;
    }
  return NULL;
}

/* Towards the camera, of unit length. @distance_mm: (out) */
static void
look (const double centre_mm[3], const double at_mm[3], double direction[3], double *distance_mm)
{
  double sum = 0.0;

  for (guint i = 0; i < 3; i++)
    {
      direction[i] = centre_mm[i] - at_mm[i];
      sum += direction[i] * direction[i];
    }
  *distance_mm = sqrt (sum);
  for (guint i = 0; i < 3; i++)
    direction[i] /= *distance_mm;
}

/* Ink on what faces away is never seen; FALSE then. */
static gboolean
place_ink (SherdVesselView *self, const Ink *ink, const double centre_mm[3], Stroke *stroke)
{
  const double before_mm = (ink->kind == CODE ? CODE_FACETS : LINE_FACETS) * self->facet_mm;
  double facing = 0.0, total_mm = 0.0;

  for (guint k = 0; k < ink->n_spots; k++)
    {
      double direction[3], distance_mm;

      look (centre_mm, ink->spots[k].mm, direction, &distance_mm);
      total_mm += distance_mm;
      for (guint i = 0; i < 3; i++)
        facing += direction[i] * ink->spots[k].normal[i];
    }
  *stroke = (Stroke){ .distance_mm = total_mm / ink->n_spots - before_mm, .ink = ink };
  return facing / ink->n_spots > (ink->kind == CODE ? LEAST_FACING : 0.0);
}

static int
farthest_first (gconstpointer a, gconstpointer b)
{
  const double difference = ((const Stroke *)b)->distance_mm - ((const Stroke *)a)->distance_mm;

  return (difference > 0.0) - (difference < 0.0);
}

/* (transfer full) (element-type Stroke) */
static GArray *
strokes_of (SherdVesselView *self, const SherdPinhole *pinhole, GArray *facets)
{
  GArray *strokes = g_array_new (FALSE, FALSE, sizeof (Stroke));
  double centre_mm[3];

  sherd_pinhole_centre (pinhole, centre_mm);
  for (guint i = 0; i < facets->len; i++)
    {
      const SherdFacet *facet = &g_array_index (facets, SherdFacet, i);
      const Stroke stroke = { .distance_mm = facet->distance_mm, .facet = facet };

      g_array_append_val (strokes, stroke);
    }
  for (guint i = 0; i < self->inks->len; i++)
    {
      Stroke stroke;

      if (place_ink (self, &g_array_index (self->inks, Ink, i), centre_mm, &stroke))
        g_array_append_val (strokes, stroke);
    }
  g_array_sort (strokes, farthest_first);
  return strokes;
}

/* The light comes over the left shoulder of the one who looks. */
static double
shade_of (const SherdPinhole *pinhole, const SherdFacet *facet)
{
  double lit = 0.0;

  for (guint i = 0; i < 3; i++)
    lit += facet->normal[i] *
           (-0.4 * pinhole->rotation[0][i] - 0.5 * pinhole->rotation[1][i] - 0.77 * pinhole->rotation[2][i]);
  return 0.45 + 0.55 * MAX (0.0, lit);
}

static void
draw_facet (SherdVesselView *self, cairo_t *cr, const SherdPinhole *pinhole, const SherdFacet *facet)
{
  static const double clay[3] = { 0.80, 0.75, 0.68 }, painted[3] = { 0.93, 0.90, 0.88 },
                      chosen[3] = { 0.60, 0.77, 0.96 };
  SherdZone *zone = zone_of_facet (self, facet);
  const gboolean is_bare = zone == NULL || sherd_zone_is_bare (zone);
  const double *colour = zone != NULL && zone == self->selected ? chosen : is_bare ? clay : painted;
  const double shade = shade_of (pinhole, facet);

  cairo_new_path (cr); /* writing leaves the pen where the last code ended */
  for (guint i = 0; i < 4; i++)
    cairo_line_to (cr, facet->corners_px[i].x, facet->corners_px[i].y);
  cairo_close_path (cr);
  cairo_set_source_rgb (cr, colour[0] * shade, colour[1] * shade, colour[2] * shade);
  /* The outline in the same colour closes the seams between facets. */
  cairo_fill_preserve (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_BEVEL);
  cairo_set_line_width (cr, 0.7);
  cairo_stroke (cr);
}

static void
draw_line (cairo_t *cr, const SherdPinhole *pinhole, const Ink *ink)
{
  const SherdPoint from = sherd_pinhole_project (pinhole, ink->spots[0].mm);
  const SherdPoint to = sherd_pinhole_project (pinhole, ink->spots[1].mm);

  cairo_move_to (cr, from.x, from.y);
  cairo_line_to (cr, to.x, to.y);
  cairo_set_source_rgb (cr, 0.15, 0.13, 0.11);
  cairo_set_line_width (cr, ink->kind == ZERO_MARK ? 3.0 : 1.0);
  cairo_stroke (cr);
}

static void
draw_code (SherdVesselView *self, cairo_t *cr, const SherdPinhole *pinhole, const Ink *ink)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), sherd_zone_get_code (ink->zone));
  const SherdPoint at = sherd_pinhole_project (pinhole, ink->spots[0].mm);
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  cairo_move_to (cr, at.x - width / 2.0, at.y - height / 2.0);
  cairo_set_source_rgb (cr, 0.1, 0.09, 0.08);
  pango_cairo_show_layout (cr, layout);
}

static void
draw_stroke (SherdVesselView *self, cairo_t *cr, const SherdPinhole *pinhole, const Stroke *stroke)
{
  if (stroke->facet != NULL)
    draw_facet (self, cr, pinhole, stroke->facet);
  else if (stroke->ink->kind == CODE)
    draw_code (self, cr, pinhole, stroke->ink);
  else
    draw_line (cr, pinhole, stroke->ink);
}

static SherdPinhole
pinhole_of (SherdVesselView *self)
{
  return sherd_solid_view (sherd_piece_surface_get_vessel (self->owner), self->azimuth_deg, self->height_deg,
                           gtk_widget_get_width (GTK_WIDGET (self)), gtk_widget_get_height (GTK_WIDGET (self)));
}

static void
draw_vessel (SherdVesselView *self, cairo_t *cr)
{
  const SherdPinhole pinhole = pinhole_of (self);
  g_autoptr (GArray) facets =
    sherd_solid_facets (sherd_piece_surface_get_vessel (self->owner), &pinhole, self->facet_mm);
  g_autoptr (GArray) strokes = strokes_of (self, &pinhole, facets);

  for (guint i = 0; i < strokes->len; i++)
    draw_stroke (self, cr, &pinhole, &g_array_index (strokes, Stroke, i));
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
  cairo_t *cr;

  if (self->owner == NULL || gtk_widget_get_width (widget) < 1 || gtk_widget_get_height (widget) < 1)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &whole);
  draw_vessel (self, cr);
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

/**
 * sherd_vessel_view_find_zone:
 * @self: the view
 * @x_px: a place of the widget, from its left
 * @y_px: from its top
 *
 * Returns: (transfer none) (nullable): the zone that is seen there; what is nearer hides what lies behind it
 */
SherdZone *
sherd_vessel_view_find_zone (SherdVesselView *self, double x_px, double y_px)
{
  g_autoptr (GArray) facets = NULL;
  SherdPinhole pinhole;

  if (self->owner == NULL)
    return NULL;
  pinhole = pinhole_of (self);
  facets = sherd_solid_facets (sherd_piece_surface_get_vessel (self->owner), &pinhole, self->facet_mm);
  for (guint i = facets->len; i > 0; i--)
    {
      SherdFacet *facet = &g_array_index (facets, SherdFacet, i - 1);
      const SherdOutline seen = { facet->corners_px, G_N_ELEMENTS (facet->corners_px) };

      if (sherd_outline_contains (&seen, (SherdPoint){ x_px, y_px }))
        return zone_of_facet (self, facet);
    }
  return NULL;
}

/* A press that does not turn the vessel chooses what is under it. */
static void
drag_end_cb (SherdVesselView *self, double x, double y, GtkGestureDrag *drag)
{
  SherdZone *zone = NULL;
  double x_px, y_px;

  if (hypot (x, y) < STILL_PX && gtk_gesture_drag_get_start_point (drag, &x_px, &y_px))
    zone = sherd_vessel_view_find_zone (self, x_px, y_px);
  if (zone != NULL)
    g_signal_emit (self, zone_selected_signal, 0, zone);
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
  const SherdVessel *vessel;

  g_array_set_size (self->areas, 0);
  g_array_set_size (self->inks, 0);
  g_clear_pointer (&self->owner, sherd_piece_surface_free);
  self->owner = is_vessel ? sherd_piece_surface_new (piece, "outside", NULL) : NULL;
  gtk_widget_set_visible (GTK_WIDGET (self), self->owner != NULL);
  if (self->owner == NULL)
    return;
  vessel = sherd_piece_surface_get_vessel (self->owner);
  self->facet_mm = MAX (sherd_piece_get_width_mm (piece), sherd_piece_get_height_mm (piece)) / FACETS_ACROSS;
  add_side (self, piece, SHERD_SURFACE_OUTSIDE, vessel->outside);
  add_side (self, piece, SHERD_SURFACE_INSIDE, vessel->inside);
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
clear_area (gpointer data)
{
  Area *area = data;

  g_clear_object (&area->zone);
  g_clear_pointer (&area->outline, sherd_outline_free);
}

static void
sherd_vessel_view_finalize (GObject *object)
{
  SherdVesselView *self = SHERD_VESSEL_VIEW (object);

  g_array_unref (self->areas);
  g_array_unref (self->inks);
  g_clear_pointer (&self->owner, sherd_piece_surface_free);
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

  /**
   * SherdVesselView::zone-selected:
   * @zone: the zone that was clicked; it may be on either side
   */
  zone_selected_signal = g_signal_new ("zone-selected", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                       NULL, G_TYPE_NONE, 1, SHERD_TYPE_ZONE);
}

static void
sherd_vessel_view_init (SherdVesselView *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->areas = g_array_new (FALSE, FALSE, sizeof (Area));
  g_array_set_clear_func (self->areas, clear_area);
  self->inks = g_array_new (FALSE, FALSE, sizeof (Ink));
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect_swapped (drag, "drag-end", G_CALLBACK (drag_end_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  turn_to (self, HOME_AZIMUTH_DEG, HOME_HEIGHT_DEG);
}
