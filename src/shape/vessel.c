/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/vessel.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Lip points of outside and inside that are nearer than this are the same. */
#define SAME_MM 0.01

/* Outside and inside as one curve, the lip's edge a corner. */
static GArray *
join (const SherdProfilePoint *outside, gsize n_outside, const SherdProfilePoint *inside, gsize n_inside)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (SherdProfilePoint));
  const SherdProfilePoint *lip = &outside[n_outside - 1];
  const guint same = hypot (inside->r_mm - lip->r_mm, inside->z_mm - lip->z_mm) < SAME_MM ? 1 : 0;

  g_array_append_vals (points, outside, (guint)n_outside);
  g_array_index (points, SherdProfilePoint, n_outside - 1).corner = TRUE;
  g_array_append_vals (points, inside + same, (guint)n_inside - same);
  return points;
}

static SherdVessel *
vessel_from_section (SherdProfile *section)
{
  SherdVessel *vessel = g_new0 (SherdVessel, 1);
  const double lip_mm = sherd_profile_highest_arc_mm (section);

  vessel->section = section;
  vessel->outside = sherd_profile_cut (section, lip_mm, 0.0);
  vessel->inside = sherd_profile_cut (section, lip_mm, sherd_profile_length_mm (section));
  return vessel;
}

/* Each side alone has been checked: what is wrong with the section is that its sides meet. */
static SherdVessel *
vessel_from_points (GArray *points, GError **error)
{
  const SherdProfilePoint *point = (const SherdProfilePoint *)(gpointer)points->data;
  SherdProfile *section;
  gsize fault = 0;

  if (!sherd_profile_check (point, points->len, &fault, NULL))
    {
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
                   _ ("Outside and inside meet near a radius of %.1f mm and a height of %.1f mm. Take a thinner wall, "
                      "or move the outside there."),
                   point[fault].r_mm, point[fault].z_mm);
      return NULL;
    }
  section = sherd_profile_new (point, points->len, error);
  return section != NULL ? vessel_from_section (section) : NULL;
}

/* No side may be without length, as of a lip that lies lower than the middle of the floor. */
static SherdVessel *
check_sides (SherdVessel *vessel, GError **error)
{
  if (vessel == NULL || (vessel->outside != NULL && vessel->inside != NULL))
    return vessel;
  sherd_vessel_free (vessel);
  g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
                       _ ("The highest point must be the lip, between the outside and the inside."));
  return NULL;
}

/**
 * sherd_vessel_new:
 * @outside: (array length=n_outside): from the foot to the lip
 * @n_outside: how many
 * @wall: thickness of wall and floor, from which the inside follows
 * @error: SHERD_SHAPE_ERROR_PROFILE, names the place
 *
 * Returns: (transfer full): the vessel, or %NULL
 */
SherdVessel *
sherd_vessel_new (const SherdProfilePoint *outside, gsize n_outside, const SherdWall *wall, GError **error)
{
  g_autoptr (SherdProfile) curve = sherd_profile_new (outside, n_outside, error);
  g_autoptr (GArray) inside = NULL;
  g_autoptr (GArray) points = NULL;

  if (curve == NULL)
    return NULL;
  inside = sherd_wall_inside_points (curve, wall, error);
  if (inside == NULL)
    return NULL;
  points = join (outside, n_outside, (const SherdProfilePoint *)(gpointer)inside->data, inside->len);
  return check_sides (vessel_from_points (points, error), error);
}

/**
 * sherd_vessel_new_with_inside:
 * @outside: (array length=n_outside): from the foot to the lip
 * @n_outside: how many
 * @inside: (array length=n_inside): from the lip to the middle of the floor
 * @n_inside: how many
 * @error: SHERD_SHAPE_ERROR_PROFILE, names the place
 *
 * Returns: (transfer full): the vessel with both sides as measured, or %NULL
 */
SherdVessel *
sherd_vessel_new_with_inside (const SherdProfilePoint *outside,
                              gsize n_outside,
                              const SherdProfilePoint *inside,
                              gsize n_inside,
                              GError **error)
{
  g_autoptr (GArray) points = NULL;

  if (!sherd_profile_check (outside, n_outside, NULL, error) || !sherd_profile_check (inside, n_inside, NULL, error))
    return NULL;
  points = join (outside, n_outside, inside, n_inside);
  return check_sides (vessel_from_points (points, error), error);
}

void
sherd_vessel_free (SherdVessel *vessel)
{
  if (vessel == NULL)
    return;
  sherd_profile_free (vessel->section);
  sherd_profile_free (vessel->outside);
  sherd_profile_free (vessel->inside);
  g_free (vessel);
}

/**
 * sherd_vessel_clay_mm3:
 * @vessel: a vessel
 *
 * Returns: the volume of its clay: π ∮ r² dz round the section (Pappus' second theorem, by Green's formula)
 */
double
sherd_vessel_clay_mm3 (const SherdVessel *vessel)
{
  return sherd_profile_volume_mm3 (vessel->section);
}
