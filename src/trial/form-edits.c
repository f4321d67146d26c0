/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/form-edits.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/piece-check.h"
#include "trial/piece-surface.h"

static void
append_sides (SherdTrial *trial, SherdPiece *piece)
{
  for (const char *const *name = sherd_piece_kind_get_sides (sherd_piece_get_kind (piece)); *name != NULL; name++)
    {
      g_autofree char *id = sherd_trial_new_id (trial, "side");
      g_autoptr (SherdSide) side = sherd_side_new (id, *name);

      sherd_trial_append (trial, sherd_piece_get_sides (piece), side);
    }
}

static char *
adding_label (SherdPieceKind kind, const char *name)
{
  switch (kind)
    {
    case SHERD_PIECE_VESSEL:
      return g_strdup_printf (_ ("Add vessel %s"), name);
    case SHERD_PIECE_SHERD:
      return g_strdup_printf (_ ("Add sherd %s"), name);
    case SHERD_PIECE_TILE:
    case SHERD_PIECE_DISC:
    default:
      return g_strdup_printf (_ ("Add tile %s"), name);
    }
}

/* A vessel and a sherd take their size from the form. */
static gboolean
has_own_size (SherdPieceKind kind)
{
  return kind == SHERD_PIECE_TILE || kind == SHERD_PIECE_DISC;
}

/**
 * sherd_trial_add_piece:
 * @trial: a trial
 * @name: what the potter calls it
 * @kind: what it is
 * @width_mm: width of its face; diameter of a disc; 0 for what takes its size from the form
 * @height_mm: height of its face; likewise
 * @thickness_mm: of the slab, 0 when not known; of the wall
 * @form: (nullable): profile, edge, holes
 * @state: the state of the clay in which it was measured
 * @error: SHERD_TRIAL_ERROR_VALUE or SHERD_SHAPE_ERROR
 *
 * Returns: (transfer none) (nullable): the piece, its sides without zones
 */
SherdPiece *
sherd_trial_add_piece (SherdTrial *trial,
                       const char *name,
                       SherdPieceKind kind,
                       double width_mm,
                       double height_mm,
                       double thickness_mm,
                       const SherdForm *form,
                       SherdClayState state,
                       GError **error)
{
  g_autofree char *id = NULL;
  g_autofree char *label = NULL;
  g_autoptr (SherdPiece) piece = NULL;

  if (!sherd_piece_check_name (name, error) ||
      (has_own_size (kind) && !sherd_piece_check_size (width_mm, height_mm, thickness_mm, error)) ||
      !sherd_piece_check_form (kind, width_mm, height_mm, thickness_mm, form, error))
    return NULL;
  id = sherd_trial_new_id (trial, "piece");
  label = adding_label (kind, name);
  piece = g_object_new (SHERD_TYPE_PIECE, "id", id, "name", name, "kind", kind, "thickness-mm", thickness_mm, "state",
                        state, NULL);
  if (has_own_size (kind))
    g_object_set (piece, "width-mm", width_mm, "height-mm", height_mm, NULL);
  g_object_set (piece, "form", form, NULL);
  sherd_trial_begin_edit (trial, label);
  append_sides (trial, piece);
  sherd_trial_append (trial, sherd_trial_get_pieces (trial), piece);
  sherd_trial_end_edit (trial);
  return piece;
}

/* A piece of the new form, to try the zones on. */
static SherdPiece *
reshaped (SherdPiece *piece, double thickness_mm, const SherdForm *form)
{
  return g_object_new (SHERD_TYPE_PIECE, "kind", sherd_piece_get_kind (piece), "width-mm",
                       sherd_piece_get_width_mm (piece), "height-mm", sherd_piece_get_height_mm (piece), "thickness-mm",
                       thickness_mm, "form", form, NULL);
}

/**
 * sherd_trial_set_form:
 * @trial: a trial
 * @piece: one of its pieces
 * @thickness_mm: of the slab or wall
 * @form: (nullable): its new form
 * @continued: joins the step before when that reshaped the same piece
 * @error: SHERD_TRIAL_ERROR_VALUE, SHERD_SHAPE_ERROR, or SHERD_TRIAL_ERROR_IN_USE when a zone would no longer lie on it
 *
 * Returns: whether the piece has that form now
 */
gboolean
sherd_trial_set_form (SherdTrial *trial,
                      SherdPiece *piece,
                      double thickness_mm,
                      const SherdForm *form,
                      gboolean continued,
                      GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Reshape %s"), sherd_piece_get_name (piece));
  g_autofree char *key = g_strconcat ("form ", sherd_part_get_id (SHERD_PART (piece)), NULL);
  g_autoptr (SherdPiece) trying = NULL;

  if (!sherd_piece_check_form (sherd_piece_get_kind (piece), sherd_piece_get_width_mm (piece),
                               sherd_piece_get_height_mm (piece), thickness_mm, form, error))
    return FALSE;
  trying = reshaped (piece, thickness_mm, form);
  if (!sherd_piece_check_zones_fit (piece, trying, error))
    return FALSE;
  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, piece, "thickness-mm", thickness_mm);
  sherd_trial_set (trial, piece, "form", form);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_set_painted_state:
 * @trial: a trial
 * @piece: one of its pieces
 * @state: the state of the clay in which it is to be painted
 */
void
sherd_trial_set_painted_state (SherdTrial *trial, SherdPiece *piece, SherdClayState state)
{
  g_autofree char *label = g_strdup_printf (_ ("When %s is painted"), sherd_piece_get_name (piece));

  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, piece, "painted-state", state);
  sherd_trial_end_edit (trial);
}

/* A number that need not be known, within the bounds of its property. */
static gboolean
check_maybe (gpointer part, const char *property, double value, GError **error)
{
  GParamSpec *pspec = g_object_class_find_property (G_OBJECT_GET_CLASS (part), property);
  const GParamSpecDouble *bounds = G_PARAM_SPEC_DOUBLE (pspec);

  if (isnan (value) || (value >= bounds->minimum && value <= bounds->maximum))
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("%g is out of range: it must be %g to %g."), value,
               bounds->minimum, bounds->maximum);
  return FALSE;
}

static void
begin_setting (SherdTrial *trial, const char *label, const char *property, gpointer part, gboolean continued)
{
  g_autofree char *key = g_strconcat (property, " ", sherd_part_get_id (SHERD_PART (part)), NULL);

  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
}

/**
 * sherd_trial_set_clay:
 * @trial: a trial
 * @piece: one of its pieces
 * @property: one of those about its clay: "bar-leather-hard-mm", "bar-dry-mm", "bar-fired-mm", "drying-pct",
 * "drying-doubt-pct", "firing-pct", "firing-doubt-pct"
 * @value: NAN when not known
 * @continued: joins the step before when that changed the same number
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether it is so now
 */
gboolean
sherd_trial_set_clay (SherdTrial *trial,
                      SherdPiece *piece,
                      const char *property,
                      double value,
                      gboolean continued,
                      GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Clay of %s"), sherd_piece_get_name (piece));

  if (!check_maybe (piece, property, value, error))
    return FALSE;
  begin_setting (trial, label, property, piece, continued);
  sherd_trial_set (trial, piece, property, value);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_set_burnish:
 * @trial: a trial
 * @side: one of its sides
 * @burnish: whether it was burnished, and when
 */
void
sherd_trial_set_burnish (SherdTrial *trial, SherdSide *side, SherdBurnish burnish)
{
  sherd_trial_begin_edit (trial, _ ("Change burnish"));
  sherd_trial_set (trial, side, "burnish", burnish);
  sherd_trial_end_edit (trial);
}

/**
 * sherd_trial_set_drying_days:
 * @trial: a trial
 * @side: one of its sides
 * @days: from painting to firing; NAN when not known
 * @continued: joins the step before when that changed the same number
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether it is so now
 */
gboolean
sherd_trial_set_drying_days (SherdTrial *trial, SherdSide *side, double days, gboolean continued, GError **error)
{
  if (!check_maybe (side, "drying-days", days, error))
    return FALSE;
  begin_setting (trial, _ ("Change days of drying"), "drying-days", side, continued);
  sherd_trial_set (trial, side, "drying-days", days);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_set_laid:
 * @trial: a trial
 * @zone: one of its zones
 * @laid_g: dry paint on it, weighed; NAN when nobody did
 * @doubt_g: standard uncertainty; NAN when not known
 * @continued: joins the step before when that changed the same zone's
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether it is so now
 */
gboolean
sherd_trial_set_laid (SherdTrial *trial,
                      SherdZone *zone,
                      double laid_g,
                      double doubt_g,
                      gboolean continued,
                      GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Paint laid on zone %s"), sherd_zone_get_code (zone));

  if (!check_maybe (zone, "laid-g", laid_g, error) || !check_maybe (zone, "laid-doubt-g", doubt_g, error))
    return FALSE;
  begin_setting (trial, label, "laid-g", zone, continued);
  sherd_trial_set (trial, zone, "laid-g", laid_g);
  sherd_trial_set (trial, zone, "laid-doubt-g", doubt_g);
  sherd_trial_end_edit (trial);
  return TRUE;
}
