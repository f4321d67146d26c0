/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/silhouette.h"

#include "shape/space.h"

#define DEG_PER_RADIAN (180.0 / G_PI)

/* Half the angle between the two lines at one height, as seen from the axis; NAN where the wall faces the camera, or
 * turns away from it, all round. From n · (C − P) = 0 with n = (z′ cos θ, z′ sin θ, −r′). */
static double
half_angle_rad (const SherdProfilePlace *place, double distance_mm, double height_mm)
{
  const double cosine = (place->r_mm + place->dr / place->dz * (height_mm - place->z_mm)) / distance_mm;

  return fabs (cosine) <= 1.0 ? acos (cosine) : NAN;
}

/**
 * sherd_silhouette_new:
 * @outside: a vessel's outside
 * @centre_mm: where the lens is, in the frame of the vessel
 * @tolerance_mm: how closely the profile is followed
 *
 * Returns: (transfer full): where the outside turns away
 */
SherdSilhouette *
sherd_silhouette_new (const SherdProfile *outside, const double centre_mm[3], double tolerance_mm)
{
  g_autoptr (GArray) arcs = sherd_profile_sample_arcs (outside, tolerance_mm);
  const double azimuth_deg = atan2 (centre_mm[1], centre_mm[0]) * DEG_PER_RADIAN;
  SherdSilhouette *silhouette = g_new (SherdSilhouette, 1);

  silhouette->n_points = arcs->len;
  silhouette->left_on_side = g_new (SherdPoint, arcs->len);
  silhouette->right_on_side = g_new (SherdPoint, arcs->len);
  for (guint i = 0; i < arcs->len; i++)
    {
      const double arc_mm = g_array_index (arcs, double, i);
      const SherdProfilePlace place = sherd_profile_at (outside, arc_mm);
      const double half_deg =
        half_angle_rad (&place, hypot (centre_mm[0], centre_mm[1]), centre_mm[2]) * DEG_PER_RADIAN;

      silhouette->left_on_side[i] = (SherdPoint){ azimuth_deg - half_deg, arc_mm };
      silhouette->right_on_side[i] = (SherdPoint){ azimuth_deg + half_deg, arc_mm };
    }
  return silhouette;
}

void
sherd_silhouette_free (SherdSilhouette *silhouette)
{
  if (silhouette == NULL)
    return;
  g_free (silhouette->left_on_side);
  g_free (silhouette->right_on_side);
  g_free (silhouette);
}

/**
 * sherd_circle_distance_px:
 * @pinhole: a camera
 * @r_mm: radius of a circle about the axis
 * @z_mm: its height
 * @photo_px: a place in the photograph
 *
 * How far the place lies from the ellipse as which the circle is seen, outside of it positive: Sampson's distance
 * Q / |∇Q| (Hartley and Zisserman, Multiple View Geometry, 2nd edition 2004, 4.2.6), near the ellipse the true one. The
 * conic is that of the circle's plane, H⁻ᵀ diag (1, 1, −r²) H⁻¹, here as a square of the ray's place in that plane.
 *
 * Returns: the distance in px
 */
double
sherd_circle_distance_px (const SherdPinhole *pinhole, double r_mm, double z_mm, SherdPoint photo_px)
{
  const SherdPoint straight = sherd_pinhole_straighten (pinhole, photo_px);
  const double u[3] = { straight.x - pinhole->centre_x_px, straight.y - pinhole->centre_y_px, pinhole->focal_px };
  double centre[3], ray[3], q, slope[2];

  sherd_pinhole_centre (pinhole, centre);
  for (guint j = 0; j < 3; j++)
    ray[j] = pinhole->rotation[0][j] * u[0] + pinhole->rotation[1][j] * u[1] + pinhole->rotation[2][j] * u[2];
  /* The ray meets the plane at (a, b) / w: Q = a² + b² − r² w². */
  const double down = z_mm - centre[2];
  const double a = centre[0] * ray[2] + down * ray[0], b = centre[1] * ray[2] + down * ray[1], w = ray[2];

  q = a * a + b * b - r_mm * r_mm * w * w;
  for (guint k = 0; k < 2; k++)
    {
      const double *axis = pinhole->rotation[k];

      slope[k] = 2.0 * (a * (centre[0] * axis[2] + down * axis[0]) + b * (centre[1] * axis[2] + down * axis[1]) -
                        r_mm * r_mm * w * axis[2]);
    }
  return q / MAX (hypot (slope[0], slope[1]), 1e-12);
}
