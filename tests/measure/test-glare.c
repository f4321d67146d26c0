/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: geometry by hand; slopes made here by a Blinn lobe of stated strength under a lamp of stated place. */
#include "config.h"

#include "measure/glare.h"

#include <math.h>
#include <string.h>

/* The lens and the lamp stand 600 mm above the face, 150 mm to either side of the point (75, 50): mirrored there. */
static const double lens_mm[3] = { 75, 200, -600 };
static const double mirrored_lamp_mm[3] = { 75, -100, -600 };
static const double far_lamp_mm[3] = { 75, -700, -450 };

typedef struct
{
  SherdLamps lamps;
  SherdLight light;
  SherdCamera camera;
} Set;

static void
set_up (Set *set, const double lamp_mm[3])
{
  static const double middle_mm[3] = { 75, 50, 0 };

  memset (set, 0, sizeof *set);
  sherd_light_init_even (&set->light, middle_mm);
  for (guint c = 0; c < 3; c++)
    {
      /* Four fifths of the light are the lamp's. */
      set->light.parameters[SHERD_LIGHT_LN_AMBIENT + c] = log (0.25);
      set->light.parameters[SHERD_LIGHT_LN_LAMP + c] = 0;
    }
  memcpy (set->camera.position_mm, lens_mm, sizeof lens_mm);
  set->lamps.n_lamps = 1;
  set->lamps.weight[0] = 1;
  memcpy (set->lamps.lamp_mm[0], lamp_mm, 3 * sizeof (double));
}

/* A zone about (x, y) of paint @paint with a lobe of @strength cosⁿ h on it, n = 45. */
static SherdSlope
zone_at (const Set *set, double x_mm, double y_mm, const double paint[3], double strength)
{
  SherdSlope slope = { .x_mm = x_mm,
                       .y_mm = y_mm,
                       .brightness_slope_sd = 0.0008,
                       .colour_slope_sd = 0.0004,
                       .reach_mm = 8,
                       .usable = TRUE,
                       .seen = TRUE };
  double lobe[3];

  for (guint k = 0; k < 3; k++)
    {
      const double point[3] = { x_mm + (k == 1), y_mm + (k == 2), 0 };

      lobe[k] = strength * pow (cos (sherd_half_angle_rad (set->lamps.lamp_mm[0], lens_mm, point)), 45);
    }
  for (guint c = 0; c < 3; c++)
    {
      slope.mean[c] = paint[c] + lobe[0];
      slope.slope[0][c] = (lobe[1] - lobe[0]) / slope.mean[c];
      slope.slope[1][c] = (lobe[2] - lobe[0]) / slope.mean[c];
    }
  return slope;
}

/* 95 % point of what was added. */
static double
most_added (const SherdGlare *glare)
{
  double sum = 0;
  guint k = 0;

  for (; k < SHERD_GLARE_LEVELS - 1 && sum + glare->share[k] < 0.95; k++)
    sum += glare->share[k];
  return glare->added[k];
}

static const double red[3] = { 0.3, 0.12, 0.08 };
static const double black[3] = { 0.02, 0.018, 0.016 };

static void
test_half_angle (void)
{
  const double point[3] = { 75, 50, 0 }, aside[3] = { 75, 50 + 600, 0 };

  /* Straight between them the lamp is mirrored; from far aside both lie 450 and 750 mm off at 600 mm height:
   * directions 36.87° and 51.34° from the normal, the bisector half of their sum. */
  g_assert_cmpfloat_with_epsilon (sherd_half_angle_rad (mirrored_lamp_mm, lens_mm, point), 0, 1e-6);
  g_assert_cmpfloat_with_epsilon (sherd_half_angle_rad (mirrored_lamp_mm, lens_mm, aside) * 180 / G_PI,
                                  (36.8699 + 51.3402) / 2, 1e-3);
}

static void
test_sheen_is_seen_by_its_change (void)
{
  SherdGlare glare;
  SherdSlope slope;
  Set set;

  set_up (&set, mirrored_lamp_mm);
  slope = zone_at (&set, 75, 230, red, 0.15);
  sherd_glare_estimate (&glare, &set.lamps, &set.light, &set.camera, &slope, FALSE);
  /* Thrice what calls for a remark. */
  g_assert_cmpfloat (glare.probability, >, 0.375);
  /* Half a dozen strengths and widths were thought of, not just this one. */
  g_assert_cmpfloat (most_added (&glare), >, slope.mean[0] - red[0]);
}

static void
test_matte_zone_is_cleared (void)
{
  SherdGlare glare;
  SherdSlope slope;
  Set set;

  set_up (&set, mirrored_lamp_mm);
  slope = zone_at (&set, 75, 230, red, 0);
  sherd_glare_estimate (&glare, &set.lamps, &set.light, &set.camera, &slope, FALSE);
  g_assert_cmpfloat (glare.probability, <, 0.05);
}

static void
test_mirror_direction_is_doubtful (void)
{
  SherdGlare glare;
  SherdSlope slope;
  Set set;

  g_test_summary ("Just where the lamp is mirrored a sheen lies evenly: geometry alone must warn.");
  set_up (&set, mirrored_lamp_mm);
  slope = zone_at (&set, 75, 50, red, 0);
  sherd_glare_estimate (&glare, &set.lamps, &set.light, &set.camera, &slope, FALSE);
  g_assert_cmpfloat (glare.mirrored, ==, 0); /* 0.2 of sheen cannot be under 0.08 in blue */
  for (guint c = 0; c < 3; c++)
    slope.mean[c] = 0.6;
  sherd_glare_estimate (&glare, &set.lamps, &set.light, &set.camera, &slope, FALSE);
  g_assert_cmpfloat (glare.mirrored, ==, 1);
  g_assert_cmpfloat (glare.possible, >, 0.2);
}

static void
test_black_clears_itself (void)
{
  SherdGlare glare;
  SherdSlope slope;
  Set set;

  set_up (&set, mirrored_lamp_mm);
  slope = zone_at (&set, 75, 50, black, 0);
  sherd_glare_estimate (&glare, &set.lamps, &set.light, &set.camera, &slope, FALSE);
  g_assert_cmpfloat (glare.probability, <, 0.05);
  g_assert_cmpfloat (glare.mirrored, ==, 0);
}

static void
test_lamp_far_aside_is_no_danger (void)
{
  static const double light_paint[3] = { 0.7, 0.65, 0.6 };
  SherdGlare glare;
  SherdSlope slope;
  Set set;

  set_up (&set, far_lamp_mm);
  slope = zone_at (&set, 75, 50, light_paint, 0);
  sherd_glare_estimate (&glare, &set.lamps, &set.light, &set.camera, &slope, FALSE);
  g_assert_cmpfloat (glare.probability, <, 0.05);
  g_assert_cmpfloat (glare.mirrored, ==, 0);
}

static double
share_above (const SherdGlare *glare, double added)
{
  double sum = 0;

  for (guint k = 0; k < SHERD_GLARE_LEVELS; k++)
    sum += glare->added[k] > added ? glare->share[k] : 0;
  return sum;
}

static void
test_fired_paint_may_mirror_the_room (void)
{
  static const double grazing_lamp_mm[3] = { 75, -3000, -300 };
  static const double grey[3] = { 0.2, 0.2, 0.2 };
  SherdGlare fired, unfired;
  SherdSlope slope;
  Set set;

  g_test_summary (
    "No lamp is mirrored, and a mirrored room shows itself by nothing: what was believed before stays, one "
    "zone in eleven, and none before a firing, for glass is made by fire.");
  set_up (&set, grazing_lamp_mm);
  slope = zone_at (&set, 75, 50, grey, 0);
  sherd_glare_estimate (&fired, &set.lamps, &set.light, &set.camera, &slope, FALSE);
  sherd_glare_estimate (&unfired, &set.lamps, &set.light, &set.camera, &slope, TRUE);
  g_assert_cmpfloat_with_epsilon (share_above (&fired, 0.006) - share_above (&unfired, 0.006), 0.09, 0.03);
  /* The lens stands 14.0° off the normal, where glass of index 1.5 mirrors 4.0 % (Fresnel: ((0.970 − 1.5 × 0.987) ÷
   * (0.970 + 1.5 × 0.987))² = 0.0432 across, 0.0370 along the plane), at most of one and a half times the room's light.
   */
  g_assert_cmpfloat (share_above (&fired, 1.5 * 0.0401 + 0.001), <, 0.01);
  g_assert_cmpfloat (fired.probability, <, 0.05);
}

static void
test_sheens_tell_where_the_lamp_is (void)
{
  SherdSlope slopes[2];
  Set set;

  set_up (&set, mirrored_lamp_mm);
  slopes[0] = zone_at (&set, 75, 230, red, 0.15);
  slopes[1] = zone_at (&set, 160, 50, red, 0.15);
  set.lamps.n_lamps = 2;
  set.lamps.weight[0] = set.lamps.weight[1] = 0.5;
  memcpy (set.lamps.lamp_mm[1], far_lamp_mm, sizeof far_lamp_mm);
  sherd_lamps_learn (&set.lamps, &set.light, &set.camera, slopes, 2, FALSE);
  g_assert_cmpfloat (set.lamps.weight[0], >, 0.9);
  g_assert_cmpfloat_with_epsilon (set.lamps.weight[0] + set.lamps.weight[1], 1, 1e-9);
}

static void
test_lamps_repeat_with_the_seed (void)
{
  SherdLamps first, second, other;
  Set set;

  set_up (&set, mirrored_lamp_mm);
  for (guint i = 0; i < 3; i++)
    set.light.covariance[i][i] = 0.04;
  sherd_lamps_draw (&first, &set.light, 16, 5);
  sherd_lamps_draw (&second, &set.light, 16, 5);
  sherd_lamps_draw (&other, &set.light, 16, 6);
  g_assert_cmpfloat (first.lamp_mm[7][0], ==, second.lamp_mm[7][0]);
  g_assert_cmpfloat (first.lamp_mm[7][0], !=, other.lamp_mm[7][0]);
  g_assert_cmpfloat (first.lamp_mm[0][2], ==, other.lamp_mm[0][2]); /* the fitted place comes first */
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/glare/half-angle", test_half_angle);
  g_test_add_func ("/measure/glare/sheen-is-seen-by-its-change", test_sheen_is_seen_by_its_change);
  g_test_add_func ("/measure/glare/matte-zone-is-cleared", test_matte_zone_is_cleared);
  g_test_add_func ("/measure/glare/mirror-direction-is-doubtful", test_mirror_direction_is_doubtful);
  g_test_add_func ("/measure/glare/black-clears-itself", test_black_clears_itself);
  g_test_add_func ("/measure/glare/lamp-far-aside-is-no-danger", test_lamp_far_aside_is_no_danger);
  g_test_add_func ("/measure/glare/fired-paint-may-mirror-the-room", test_fired_paint_may_mirror_the_room);
  g_test_add_func ("/measure/glare/sheens-tell-where-the-lamp-is", test_sheens_tell_where_the_lamp_is);
  g_test_add_func ("/measure/glare/lamps-repeat-with-the-seed", test_lamps_repeat_with_the_seed);
  return g_test_run ();
}
