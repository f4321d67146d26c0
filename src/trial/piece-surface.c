/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/piece-surface.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "shape/tracing.h"
#include "trial/error.h"

struct _SherdPieceSurface
{
  SherdSurface surface;
  SherdVessel *vessel;
  SherdOutline *edge;
  GPtrArray *holes; /* of SherdOutline */
};

static SherdVessel *
new_vessel (const SherdForm *form, double thickness_mm, GError **error)
{
  const SherdWall wall = {
    .thickness_mm = thickness_mm,
    .floor_mm = form->floor_mm > 0.0 ? form->floor_mm : thickness_mm,
  };

  if (form->n_inside > 0)
    return sherd_vessel_new_with_inside (form->outside, form->n_outside, form->inside, form->n_inside, error);
  return sherd_vessel_new (form->outside, form->n_outside, &wall, error);
}

static SherdOutline *
new_edge (SherdPieceKind kind, double width_mm, double height_mm, const SherdForm *form)
{
  if (form != NULL && form->edge != NULL)
    return sherd_outline_copy (form->edge);
  if (kind == SHERD_PIECE_DISC)
    return sherd_outline_new_disc ((SherdPoint){ width_mm / 2.0, width_mm / 2.0 }, width_mm);
  return sherd_outline_new_rectangle (0.0, 0.0, width_mm, height_mm);
}

static GPtrArray *
new_holes (const SherdForm *form)
{
  GPtrArray *holes = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_outline_free);

  for (gsize i = 0; form != NULL && i < form->n_holes; i++)
    {
      const SherdHole *hole = &form->holes[i];

      g_ptr_array_add (holes, sherd_outline_new_disc ((SherdPoint){ hole->x_mm, hole->y_mm }, hole->diameter_mm));
    }
  return holes;
}

static SherdSurface
flat_surface (const SherdOutline *edge, GPtrArray *holes)
{
  return (SherdSurface){
    .kind = SHERD_SURFACE_FLAT,
    .edge = edge,
    .holes = (const SherdOutline *const *)holes->pdata,
    .n_holes = holes->len,
  };
}

static gboolean
refuse (GError **error, const char *message)
{
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, message);
  return FALSE;
}

static gboolean
check_hole_sizes (const SherdForm *form, GError **error)
{
  if (form->n_holes > SHERD_FORM_MAX_HOLES)
    return refuse (error, _ ("A piece has 100 holes at most."));
  for (gsize i = 0; i < form->n_holes; i++)
    {
      const SherdHole *hole = &form->holes[i];

      if (!(isfinite (hole->x_mm) && isfinite (hole->y_mm) && hole->diameter_mm > 0.0 &&
            hole->diameter_mm <= SHERD_PIECE_MAX_MM))
        return refuse (error, _ ("A hole needs a place and a diameter over 0 mm."));
    }
  return TRUE;
}

/* Holes lie within the edge and not in one another. */
static gboolean
check_holes (const SherdOutline *edge, GPtrArray *holes, GError **error)
{
  const SherdSurface whole = { .kind = SHERD_SURFACE_FLAT, .edge = edge };
  g_autoptr (GArray) faults = sherd_zoning_faults (&whole, (const SherdOutline *const *)holes->pdata, holes->len);
  const SherdZoningFault *fault = (const SherdZoningFault *)(gpointer)faults->data;

  if (faults->len == 0)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               fault->kind == SHERD_ZONING_OVERLAP ? _ ("Hole %u lies on another hole.")
                                                   : _ ("Hole %u does not lie on the piece."),
               (fault->kind == SHERD_ZONING_OVERLAP ? fault->second : fault->first) + 1);
  return FALSE;
}

static gboolean
check_flat (SherdPieceKind kind, double width_mm, double height_mm, const SherdForm *form, GError **error)
{
  g_autoptr (SherdOutline) edge = NULL;
  g_autoptr (GPtrArray) holes = NULL;

  if (kind == SHERD_PIECE_SHERD && (form == NULL || form->edge == NULL))
    return refuse (error, _ ("A sherd needs an edge: trace it over a photograph, or draw it."));
  if (kind == SHERD_PIECE_DISC && width_mm != height_mm)
    return refuse (error, _ ("A round tile is as wide as it is high."));
  if (form == NULL)
    return TRUE;
  if (form->edge != NULL && !sherd_outline_check (form->edge, NULL, error))
    return FALSE;
  if (!check_hole_sizes (form, error))
    return FALSE;
  edge = new_edge (kind, width_mm, height_mm, form);
  holes = new_holes (form);
  return check_holes (edge, holes, error);
}

/**
 * sherd_piece_check_form:
 * @kind: kind of the piece
 * @width_mm: of the face; not used for a vessel or sherd
 * @height_mm: of the face; likewise
 * @thickness_mm: of the slab or wall
 * @form: (nullable): its form
 * @error: SHERD_TRIAL_ERROR_VALUE or SHERD_SHAPE_ERROR, names the place
 *
 * Returns: whether such a piece can be: no profile or edge that crosses itself, a wall that leaves a hollow, holes
 * within the edge
 */
gboolean
sherd_piece_check_form (SherdPieceKind kind,
                        double width_mm,
                        double height_mm,
                        double thickness_mm,
                        const SherdForm *form,
                        GError **error)
{
  g_autoptr (SherdVessel) vessel = NULL;

  if (kind != SHERD_PIECE_VESSEL)
    return check_flat (kind, width_mm, height_mm, form, error);
  if (form == NULL || form->n_outside < 2)
    return refuse (error, _ ("A vessel needs a profile of two points or more."));
  if (form->n_outside > SHERD_FORM_MAX_POINTS || form->n_inside > SHERD_FORM_MAX_POINTS)
    return refuse (error, _ ("The profile has too many points."));
  vessel = new_vessel (form, thickness_mm, error);
  return vessel != NULL;
}

static gboolean
set_vessel_side (SherdPieceSurface *self, SherdPiece *piece, const char *side_name, GError **error)
{
  const gboolean is_inside = g_strcmp0 (side_name, "inside") == 0;

  self->vessel = new_vessel (sherd_piece_get_form (piece), sherd_piece_get_thickness_mm (piece), error);
  if (self->vessel == NULL)
    return FALSE;
  self->surface = (SherdSurface){
    .kind = is_inside ? SHERD_SURFACE_INSIDE : SHERD_SURFACE_OUTSIDE,
    .profile = is_inside ? self->vessel->inside : self->vessel->outside,
  };
  return TRUE;
}

/* Turned over like the page of a book. */
static void
mirror_flat (SherdPieceSurface *self, double width_mm)
{
  SherdOutline *mirrored = sherd_outline_mirror (self->edge);

  sherd_outline_free (self->edge);
  self->edge = mirrored;
  for (guint i = 0; i < self->holes->len; i++)
    {
      SherdOutline *hole = g_ptr_array_index (self->holes, i);

      for (gsize j = 0; j < hole->n_points; j++)
        hole->points[j].x = width_mm - hole->points[j].x;
    }
}

static void
set_flat_side (SherdPieceSurface *self, SherdPiece *piece, const char *side_name)
{
  const double width_mm = sherd_piece_get_width_mm (piece), height_mm = sherd_piece_get_height_mm (piece);
  const SherdForm *form = sherd_piece_get_form (piece);

  self->edge = new_edge (sherd_piece_get_kind (piece), width_mm, height_mm, form);
  self->holes = new_holes (form);
  if (g_strcmp0 (side_name, "back") == 0)
    mirror_flat (self, width_mm);
  self->surface = flat_surface (self->edge, self->holes);
}

/**
 * sherd_piece_surface_new:
 * @piece: a piece
 * @side_name: "face", "back", "outside" or "inside"
 * @error: SHERD_SHAPE_ERROR, when the profile makes no vessel
 *
 * Returns: (transfer full) (nullable): the side as geometry. The back of a flat piece is seen as it lies before the
 * potter once turned over like the page of a book.
 */
SherdPieceSurface *
sherd_piece_surface_new (SherdPiece *piece, const char *side_name, GError **error)
{
  g_autoptr (SherdPieceSurface) self = g_new0 (SherdPieceSurface, 1);

  if (!sherd_piece_is_vessel (piece))
    set_flat_side (self, piece, side_name);
  else if (!set_vessel_side (self, piece, side_name, error))
    return NULL;
  return g_steal_pointer (&self);
}

/**
 * sherd_piece_surface_free:
 * @self: (transfer full): a side
 */
void
sherd_piece_surface_free (SherdPieceSurface *self)
{
  g_clear_pointer (&self->vessel, sherd_vessel_free);
  g_clear_pointer (&self->edge, sherd_outline_free);
  g_clear_pointer (&self->holes, g_ptr_array_unref);
  g_free (self);
}

/**
 * sherd_piece_surface_get:
 * @self: a side
 *
 * Returns: (transfer none): what zones lie on
 */
const SherdSurface *
sherd_piece_surface_get (const SherdPieceSurface *self)
{
  return &self->surface;
}

/**
 * sherd_piece_surface_get_vessel:
 * @self: a side
 *
 * Returns: (nullable) (transfer none): the whole vessel, %NULL for a flat piece
 */
const SherdVessel *
sherd_piece_surface_get_vessel (const SherdPieceSurface *self)
{
  return self->vessel;
}
