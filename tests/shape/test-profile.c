/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Closed forms: cylinder, cone and sphere by Archimedes. A free curve is held against GSL's Steffen interpolation (an
 * independent evaluation of the same definition) added up in a hundred thousand chords. */

#include "config.h"

#include "shape/profile.h"

#include <gsl/gsl_spline.h>
#include <math.h>
#include <string.h>

/* What closed formulas are held to: a millionth of the value. */
#define CLOSED_SHARE 1e-6
#define ROUNDING_MM 1e-9

/* A chord of 1/100,000 of the curve misses 1e-11 of it. */
#define N_CHORDS 100000u

static const SherdProfilePoint JAR[] = {
  { 35, 0, FALSE },  { 52, 20, FALSE },  { 66, 55, FALSE },  { 70, 80, FALSE },  { 63, 110, FALSE },
  { 41, 135, TRUE }, { 38, 140, FALSE }, { 38, 150, FALSE }, { 44, 165, FALSE },
};

static void
assert_share (double value, double truth, double share)
{
  g_assert_cmpfloat_with_epsilon (value, truth, share * fabs (truth));
}

static SherdProfile *
new_profile (const SherdProfilePoint *points, gsize n_points)
{
  g_autoptr (GError) error = NULL;
  SherdProfile *profile = sherd_profile_new (points, n_points, &error);

  g_assert_no_error (error);
  return profile;
}

static void
test_cylinder (void)
{
  const SherdProfilePoint points[] = { { 40, 0, FALSE }, { 40, 30, FALSE }, { 40, 100, FALSE } };
  g_autoptr (SherdProfile) profile = new_profile (points, 3);

  assert_share (sherd_profile_length_mm (profile), 100.0, 1e-12);
  assert_share (sherd_profile_area_mm2 (profile, 0.0, 100.0, 360.0), 2.0 * G_PI * 40.0 * 100.0, 1e-12);
  assert_share (sherd_profile_area_mm2 (profile, 70.0, 20.0, 90.0), G_PI_2 * 40.0 * 50.0, 1e-12);
  assert_share (sherd_profile_volume_mm3 (profile), G_PI * 1600.0 * 100.0, 1e-12);
  for (guint i = 0; i <= 50; i++)
    {
      const SherdProfilePlace place = sherd_profile_at (profile, 2.0 * i);

      g_assert_cmpfloat_with_epsilon (place.r_mm, 40.0, ROUNDING_MM);
      g_assert_cmpfloat_with_epsilon (place.z_mm, 2.0 * i, ROUNDING_MM);
      g_assert_cmpfloat_with_epsilon (place.dz, 1.0, ROUNDING_MM);
    }
}

/* Slant √(30² + 40²) = 50; area π (r₁ + r₂) l; volume π h (r₁² + r₁ r₂ + r₂²) / 3. */
static void
test_cone (void)
{
  const SherdProfilePoint points[] = { { 50, 0, FALSE }, { 80, 40, FALSE } };
  g_autoptr (SherdProfile) profile = new_profile (points, 2);

  assert_share (sherd_profile_length_mm (profile), 50.0, 1e-12);
  assert_share (sherd_profile_area_mm2 (profile, 0.0, 50.0, 360.0), G_PI * 130.0 * 50.0, 1e-12);
  assert_share (sherd_profile_volume_mm3 (profile), G_PI * 40.0 * (2500.0 + 4000.0 + 6400.0) / 3.0, 1e-12);
  assert_share (sherd_profile_integrals (profile, 50.0).r_s_ds_mm3,
                50.0 * 50.0 * 50.0 / 2.0 + 0.6 * pow (50.0, 3) / 3.0, 1e-12);
}

/* Three hundred points on a quarter of a circle: the curve is the circle to a thousandth of a micrometre. */
static void
test_sphere (void)
{
  const double r = 90.0;
  SherdProfilePoint points[301];
  g_autoptr (SherdProfile) profile = NULL;

  for (guint i = 0; i <= 300; i++)
    points[i] = (SherdProfilePoint){ r * sin (G_PI_2 * i / 300), r * (1 - cos (G_PI_2 * i / 300)), FALSE };
  points[0].r_mm = 0.0;
  profile = new_profile (points, 301);
  assert_share (sherd_profile_length_mm (profile), G_PI_2 * r, CLOSED_SHARE);
  assert_share (sherd_profile_area_mm2 (profile, 0.0, G_PI_2 * r, 360.0), 2.0 * G_PI * r * r, CLOSED_SHARE);
  assert_share (sherd_profile_area_mm2 (profile, 0.0, G_PI / 6.0 * r, 40.0),
                40.0 / 180.0 * G_PI * r * r * (1.0 - cos (G_PI / 6.0)), CLOSED_SHARE);
  assert_share (sherd_profile_volume_mm3 (profile), 2.0 / 3.0 * G_PI * r * r * r, CLOSED_SHARE);
}

/* The curve as GSL evaluates it, with one spline on either side of the corner. */
static void
add_chords (const SherdProfilePoint *points, gsize n, double *length_mm, double *area_mm2)
{
  double chord[16], r[16], z[16], before_r = points[0].r_mm, before_z = points[0].z_mm;
  gsl_spline *r_spline = gsl_spline_alloc (gsl_interp_steffen, n), *z_spline = gsl_spline_alloc (gsl_interp_steffen, n);

  for (gsize i = 0; i < n; i++)
    {
      r[i] = points[i].r_mm;
      z[i] = points[i].z_mm;
      chord[i] = i == 0 ? 0.0 : chord[i - 1] + hypot (r[i] - r[i - 1], z[i] - z[i - 1]);
    }
  gsl_spline_init (r_spline, chord, r, n);
  gsl_spline_init (z_spline, chord, z, n);
  for (guint i = 1; i <= N_CHORDS; i++)
    {
      const double at = MIN (chord[n - 1] * i / N_CHORDS, chord[n - 1]);
      const double here_r = gsl_spline_eval (r_spline, at, NULL), here_z = gsl_spline_eval (z_spline, at, NULL);
      const double step = hypot (here_r - before_r, here_z - before_z);

      *length_mm += step;
      *area_mm2 += G_PI * (here_r + before_r) * step;
      before_r = here_r;
      before_z = here_z;
    }
  gsl_spline_free (r_spline);
  gsl_spline_free (z_spline);
}

static void
test_free_curve_agrees_with_dense_chords (void)
{
  g_autoptr (SherdProfile) profile = new_profile (JAR, G_N_ELEMENTS (JAR));
  double length_mm = 0.0, area_mm2 = 0.0;

  add_chords (JAR, 6, &length_mm, &area_mm2);
  add_chords (JAR + 5, 4, &length_mm, &area_mm2);
  assert_share (sherd_profile_length_mm (profile), length_mm, 1e-8);
  assert_share (sherd_profile_area_mm2 (profile, 0.0, length_mm, 360.0), area_mm2, 1e-8);
}

/* Places one micrometre of arc apart lie one micrometre apart, along the direction that is given. */
static void
test_arc_length_is_that_of_the_places (void)
{
  g_autoptr (SherdProfile) profile = new_profile (JAR, G_N_ELEMENTS (JAR));
  const double length_mm = sherd_profile_length_mm (profile), step_mm = 1e-3;

  for (guint i = 0; i < 500; i++)
    {
      const double arc_mm = (length_mm - step_mm) * i / 499;
      const SherdProfilePlace a = sherd_profile_at (profile, arc_mm);
      const SherdProfilePlace b = sherd_profile_at (profile, arc_mm + step_mm);

      g_assert_cmpfloat_with_epsilon (hypot (b.r_mm - a.r_mm, b.z_mm - a.z_mm), step_mm, 1e-8);
      g_assert_cmpfloat_with_epsilon (hypot (a.dr, a.dz), 1.0, 1e-12);
      g_assert_cmpfloat_with_epsilon ((b.r_mm - a.r_mm) / step_mm, a.dr, 2e-3);
    }
}

static void
test_curve_goes_through_every_point (void)
{
  g_autoptr (SherdProfile) profile = new_profile (JAR, G_N_ELEMENTS (JAR));

  for (guint i = 0; i < G_N_ELEMENTS (JAR); i++)
    {
      const double arc_mm = sherd_profile_nearest_arc_mm (profile, JAR[i].r_mm, JAR[i].z_mm);
      const SherdProfilePlace place = sherd_profile_at (profile, arc_mm);

      g_assert_cmpfloat_with_epsilon (hypot (place.r_mm - JAR[i].r_mm, place.z_mm - JAR[i].z_mm), 0.0, 1e-6);
    }
}

/* The widest point given stays the widest, the straight neck stays straight. */
static void
test_monotone_between_points (void)
{
  g_autoptr (SherdProfile) profile = new_profile (JAR, G_N_ELEMENTS (JAR));
  const double from = sherd_profile_nearest_arc_mm (profile, 38, 140), to = from + 10.0;

  g_assert_cmpfloat_with_epsilon (sherd_profile_at (profile, sherd_profile_widest_arc_mm (profile)).r_mm, 70.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (sherd_profile_at (profile, sherd_profile_highest_arc_mm (profile)).z_mm, 165.0, 1e-9);
  for (guint i = 0; i <= 20; i++)
    g_assert_cmpfloat_with_epsilon (sherd_profile_at (profile, from + (to - from) * i / 20).r_mm, 38.0, 1e-9);
}

/* A flat base, an upright wall, a shoulder that turns back under a rim: no function of the height. */
static void
test_curve_may_turn_back (void)
{
  const SherdProfilePoint points[] = { { 0, 0, FALSE },   { 50, 0, TRUE },   { 50, 60, TRUE },
                                       { 30, 60, FALSE }, { 25, 50, FALSE }, { 20, 60, FALSE } };
  g_autoptr (SherdProfile) profile = new_profile (points, 6);

  assert_share (sherd_profile_area_mm2 (profile, 0.0, 50.0, 360.0), G_PI * 2500.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (sherd_profile_at (profile, 80.0).z_mm, 30.0, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (sherd_profile_at (profile, 25.0).z_mm, 0.0, ROUNDING_MM);
}

static void
test_cut_and_turned_round_is_the_same_curve (void)
{
  g_autoptr (SherdProfile) profile = new_profile (JAR, G_N_ELEMENTS (JAR));
  g_autoptr (SherdProfile) part = sherd_profile_cut (profile, 150.0, 20.0);

  assert_share (sherd_profile_length_mm (part), 130.0, 1e-10);
  assert_share (sherd_profile_area_mm2 (part, 10.0, 90.0, 360.0), sherd_profile_area_mm2 (profile, 60.0, 140.0, 360.0),
                1e-9);
  for (guint i = 0; i <= 100; i++)
    {
      const SherdProfilePlace a = sherd_profile_at (part, 1.3 * i), b = sherd_profile_at (profile, 150.0 - 1.3 * i);

      g_assert_cmpfloat_with_epsilon (hypot (a.r_mm - b.r_mm, a.z_mm - b.z_mm), 0.0, 1e-8);
    }
}

static void
test_chords_keep_to_the_curve (void)
{
  g_autoptr (SherdProfile) profile = new_profile (JAR, G_N_ELEMENTS (JAR));
  g_autoptr (GArray) arcs = sherd_profile_sample_arcs (profile, 0.05);

  for (guint i = 0; i + 1 < arcs->len; i++)
    {
      const double from = g_array_index (arcs, double, i), to = g_array_index (arcs, double, i + 1);
      const SherdProfilePlace a = sherd_profile_at (profile, from), b = sherd_profile_at (profile, to);
      const double length = hypot (b.r_mm - a.r_mm, b.z_mm - a.z_mm);

      for (guint k = 1; k < 10; k++)
        {
          const SherdProfilePlace c = sherd_profile_at (profile, from + (to - from) * k / 10);

          g_assert_cmpfloat (
            fabs ((b.r_mm - a.r_mm) * (c.z_mm - a.z_mm) - (b.z_mm - a.z_mm) * (c.r_mm - a.r_mm)) / length, <=, 0.05);
        }
    }
}

typedef struct
{
  const char *name;
  SherdProfilePoint points[6];
  gsize n_points;
  gsize fault;
  const char *words;
} Refusal;

static const Refusal REFUSALS[] = {
  { "one-point", { { 10, 0, FALSE } }, 1, 0, "2 to" },
  { "below-the-axis", { { 10, 0, FALSE }, { -1, 5, FALSE } }, 2, 1, "less than 0" },
  { "below-the-foot", { { 10, 0, FALSE }, { 10, -5, FALSE } }, 2, 1, "below the foot" },
  { "twice", { { 10, 0, FALSE }, { 12, 5, FALSE }, { 12, 5, FALSE } }, 3, 2, "same" },
  { "axis-inside", { { 10, 0, FALSE }, { 0, 5, FALSE }, { 9, 9, FALSE } }, 3, 1, "axis" },
  { "not-a-number", { { 10, 0, FALSE }, { NAN, 5, FALSE } }, 2, 1, "at most" },
  { "huge", { { 10, 0, FALSE }, { 1e9, 5, FALSE } }, 2, 1, "at most" },
  { "crossing", { { 20, 0, TRUE }, { 60, 40, TRUE }, { 60, 0, TRUE }, { 20, 40, TRUE } }, 4, 2, "crosses itself" },
};

static void
test_refusal (gconstpointer data)
{
  const Refusal *refusal = data;
  g_autoptr (GError) error = NULL;
  gsize fault = 99;

  g_assert_false (sherd_profile_check (refusal->points, refusal->n_points, &fault, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE);
  g_assert_cmpuint (fault, ==, refusal->fault);
  g_assert_nonnull (strstr (error->message, refusal->words));
  g_assert_null (sherd_profile_new (refusal->points, refusal->n_points, NULL));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/profile/cylinder", test_cylinder);
  g_test_add_func ("/shape/profile/cone", test_cone);
  g_test_add_func ("/shape/profile/sphere", test_sphere);
  g_test_add_func ("/shape/profile/free-curve-agrees-with-dense-chords", test_free_curve_agrees_with_dense_chords);
  g_test_add_func ("/shape/profile/arc-length-is-that-of-the-places", test_arc_length_is_that_of_the_places);
  g_test_add_func ("/shape/profile/goes-through-every-point", test_curve_goes_through_every_point);
  g_test_add_func ("/shape/profile/monotone-between-points", test_monotone_between_points);
  g_test_add_func ("/shape/profile/may-turn-back", test_curve_may_turn_back);
  g_test_add_func ("/shape/profile/cut-and-turned-round-is-the-same", test_cut_and_turned_round_is_the_same_curve);
  g_test_add_func ("/shape/profile/chords-keep-to-the-curve", test_chords_keep_to_the_curve);
  for (gsize i = 0; i < G_N_ELEMENTS (REFUSALS); i++)
    {
      g_autofree char *path = g_strdup_printf ("/shape/profile/refuses-%s", REFUSALS[i].name);

      g_test_add_data_func (path, &REFUSALS[i], test_refusal);
    }
  return g_test_run ();
}
