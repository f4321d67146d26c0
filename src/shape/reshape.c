/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/reshape.h"

#include <glib/gi18n-lib.h>

/* Our choice: the least and the most that a vessel measures. */
#define LEAST_MM 5.0
#define LARGEST_MM 2000.0

/**
 * sherd_vessel_size_of:
 * @outside: (array length=n_outside): the outside of a vessel from the foot to the lip
 * @n_outside: how many, 2 at least
 *
 * Returns: its diameters at the lip and at the foot, and its height
 */
SherdVesselSize
sherd_vessel_size_of (const SherdProfilePoint *outside, gsize n_outside)
{
  const SherdProfilePoint *foot = &outside[0], *lip = &outside[n_outside - 1];

  return (SherdVesselSize){ .rim_diameter_mm = 2.0 * lip->r_mm,
                            .foot_diameter_mm = 2.0 * foot->r_mm,
                            .height_mm = lip->z_mm };
}

static gboolean
is_size (double length_mm)
{
  return length_mm >= LEAST_MM && length_mm <= LARGEST_MM;
}

/**
 * sherd_vessel_size_apply:
 * @size: what the vessel is to measure
 * @outside: (array length=n_outside) (inout): its outside from the foot to the lip
 * @n_outside: how many, 2 at least
 * @error: SHERD_SHAPE_ERROR_SIZE
 *
 * Stretches the profile: heights in proportion, radii by a factor that goes evenly from the foot's to the lip's, so
 * that belly and neck keep their character.
 *
 * Returns: whether there can be such a vessel
 */
gboolean
sherd_vessel_size_apply (const SherdVesselSize *size, SherdProfilePoint *outside, gsize n_outside, GError **error)
{
  const SherdVesselSize was = sherd_vessel_size_of (outside, n_outside);
  double foot, lip, tall;

  if (!is_size (size->rim_diameter_mm) || !is_size (size->foot_diameter_mm) || !is_size (size->height_mm) ||
      !(was.rim_diameter_mm > 0.0) || !(was.foot_diameter_mm > 0.0) || !(was.height_mm > 0.0))
    {
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE,
                   _ ("Rim, foot and height of a vessel are %g to %g mm."), LEAST_MM, LARGEST_MM);
      return FALSE;
    }
  foot = size->foot_diameter_mm / was.foot_diameter_mm;
  lip = size->rim_diameter_mm / was.rim_diameter_mm;
  tall = size->height_mm / was.height_mm;
  for (gsize i = 0; i < n_outside; i++)
    {
      const double up = outside[i].z_mm / was.height_mm;

      outside[i].r_mm *= foot + (lip - foot) * up;
      outside[i].z_mm *= tall;
    }
  return TRUE;
}
