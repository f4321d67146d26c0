/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/cone.h"

#include <math.h>

/* A cone so slender that paper cannot tell it from a cylinder: 1 m long, it grows by 10 nm. */
#define LEAST_SLOPE 1e-8

static double
sinc (double x)
{
  return fabs (x) < 1e-4 ? 1.0 - x * x / 6.0 : sin (x) / x;
}

/**
 * sherd_fan_to_paper:
 * @r_mm: radius of a parallel
 * @r_slope: how much the radius grows per mm of the wall downwards
 * @along_mm: how far down the middle line it lies
 * @azimuth_rad: from the middle line
 * @leftwards: azimuth runs to the left
 *
 * A parallel of a cone laid flat is an arc of radius ρ = r / r′ over the angle α = r′ Δθ, and as long as it is round
 * the vessel. Written without ρ, so that a cylinder is no exception: x = w sin α / α, and its ends lie
 * w sin (α/2) · sin (α/2) / (α/2) beside the middle, with w = r Δθ.
 *
 * Returns: the place on paper, x to the right, y down, mm
 */
SherdPoint
sherd_fan_to_paper (double r_mm, double r_slope, double along_mm, double azimuth_rad, gboolean leftwards)
{
  const double width_mm = r_mm * azimuth_rad, angle = r_slope * azimuth_rad;
  const double x = width_mm * sinc (angle);

  return (SherdPoint){ leftwards ? -x : x, along_mm - width_mm * sin (angle / 2.0) * sinc (angle / 2.0) };
}

static double
cone_slope (const SherdCone *cone)
{
  return (cone->r1_mm - cone->r0_mm) / (cone->arc1_mm - cone->arc0_mm);
}

/**
 * sherd_cone_to_paper:
 * @cone: a strip
 * @on_side: azimuth in degrees, arc length in mm
 *
 * Returns: the place on paper, mm. Lengths in the frustum are kept.
 */
SherdPoint
sherd_cone_to_paper (const SherdCone *cone, SherdPoint on_side)
{
  const double slope = cone_slope (cone), along_mm = on_side.y - cone->arc0_mm;

  return sherd_fan_to_paper (cone->r0_mm + slope * along_mm, slope, along_mm,
                             (on_side.x - cone->middle_deg) * G_PI / 180.0, cone->leftwards);
}

/**
 * sherd_cone_from_paper:
 * @cone: a strip
 * @paper_mm: a place on paper
 *
 * Returns: azimuth in degrees, arc length in mm
 */
SherdPoint
sherd_cone_from_paper (const SherdCone *cone, SherdPoint paper_mm)
{
  const double slope = cone_slope (cone), x = cone->leftwards ? -paper_mm.x : paper_mm.x;
  double azimuth_rad, along_mm;

  if (fabs (slope) < LEAST_SLOPE)
    {
      azimuth_rad = x / cone->r0_mm;
      along_mm = paper_mm.y;
    }
  else
    {
      /* The apex lies ρ₀ above the upper edge; below it when the strip narrows downwards. */
      const double rho0 = cone->r0_mm / slope, side = copysign (1.0, slope);

      azimuth_rad = atan2 (side * x, side * (paper_mm.y + rho0)) / slope;
      along_mm = side * hypot (x, paper_mm.y + rho0) - rho0;
    }
  return (SherdPoint){ cone->middle_deg + azimuth_rad * 180.0 / G_PI, cone->arc0_mm + along_mm };
}
