/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Cylinder and cone are unrolled exactly; of a sphere the sagitta R (1 − cos (L / 2R)) is known. What a strip says of
 * itself is measured again: the paper is rolled up as the frustum that it is and held against the wall in space. */

#include "config.h"

#include "shape/development.h"

#include "bodies.h"

#include <math.h>

#define CLOSED_MM 1e-6
#define RADIANS_PER_DEG (G_PI / 180.0)

/* Strips are judged at places 0.2 mm apart; on strips of 10 mm and more that misses 2 × 10⁻³ of the error at most. */
#define STATED_SHARE 5e-3

#define TOLERANCE_MM 0.5

static void
test_cylinder_is_one_exact_rectangle (void)
{
  g_autoptr (SherdProfile) profile = bodies_new_cylinder (40, 100);
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = profile };
  g_autoptr (GArray) strips = sherd_development_strips (&surface, 0, 100, 180, 30, TOLERANCE_MM);
  const SherdStrip *strip = &g_array_index (strips, SherdStrip, 0);
  const SherdPoint first = sherd_cone_to_paper (&strip->cone, (SherdPoint){ 0, 0 });
  const SherdPoint last = sherd_cone_to_paper (&strip->cone, (SherdPoint){ 360, 100 });

  g_assert_cmpuint (strips->len, ==, 1);
  g_assert_cmpfloat (strip->fit_mm, <, CLOSED_MM);
  g_assert_cmpfloat_with_epsilon (last.x - first.x, 2 * G_PI * 40, CLOSED_MM);
  g_assert_cmpfloat_with_epsilon (last.y - first.y, 100, CLOSED_MM);
}

/* Slant 50, ρ = 83.333 and 133.333, 216°: the outline encloses π (133.333² − 83.333²) 216/360 = the frustum's area. */
static void
test_cone_is_one_exact_sector (void)
{
  g_autoptr (SherdProfile) profile = bodies_new_cone (80, 50, 40);
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = profile };
  g_autoptr (GArray) strips = sherd_development_strips (&surface, 0, 50, 180, 30, TOLERANCE_MM);
  const SherdStrip *strip = &g_array_index (strips, SherdStrip, 0);
  const SherdRange all = { 0, 360, 0, 50 };
  g_autoptr (SherdOutline) whole = sherd_range_outline (&all);
  g_autoptr (GPtrArray) parts = sherd_strip_zone (&surface, strip, whole, 1e-4);

  g_assert_cmpuint (strips->len, ==, 1);
  g_assert_cmpfloat (strip->fit_mm, <, CLOSED_MM);
  g_assert_cmpuint (parts->len, ==, 1);
  g_assert_cmpfloat_with_epsilon (sherd_outline_area (parts->pdata[0]), G_PI * 130 * 50, 0.1);
}

/* The frustum through both edges in space, and the point of it that paper at (θ, s) comes to. */
static void
roll_up (const SherdStrip *strip, const SherdProfile *profile, double arc_mm, double *r_mm, double *z_mm)
{
  const SherdProfilePlace a = sherd_profile_at (profile, strip->cone.arc0_mm);
  const SherdProfilePlace b = sherd_profile_at (profile, strip->cone.arc1_mm);
  const double share = (arc_mm - strip->cone.arc0_mm) / (strip->cone.arc1_mm - strip->cone.arc0_mm);

  *r_mm = a.r_mm + share * (b.r_mm - a.r_mm);
  *z_mm = a.z_mm + share * (b.z_mm - a.z_mm);
}

static void
assert_says_the_truth (const SherdStrip *strip, const SherdProfile *profile, double anchor_deg)
{
  double gap_mm = 0.0, around_mm = 0.0;

  for (guint i = 0; i <= 2000; i++)
    {
      const double arc_mm = strip->cone.arc0_mm + (strip->cone.arc1_mm - strip->cone.arc0_mm) * i / 2000;
      const SherdPoint left = sherd_cone_to_paper (&strip->cone, (SherdPoint){ 180 - anchor_deg / 2, arc_mm });
      const SherdPoint right = sherd_cone_to_paper (&strip->cone, (SherdPoint){ 180 + anchor_deg / 2, arc_mm });
      const SherdPoint middle = sherd_cone_to_paper (&strip->cone, (SherdPoint){ 180, arc_mm });
      const double slope = (strip->cone.r1_mm - strip->cone.r0_mm) / (strip->cone.arc1_mm - strip->cone.arc0_mm);
      /* The arc on paper from its chord and its angle. */
      const double angle = fabs (slope) * anchor_deg * RADIANS_PER_DEG;
      const double arc_on_paper =
        hypot (right.x - left.x, right.y - left.y) * (angle > 1e-9 ? angle / 2 / sin (angle / 2) : 1.0);
      const double on_wall = sherd_profile_at (profile, arc_mm).r_mm * anchor_deg * RADIANS_PER_DEG;
      double r_mm, z_mm, nearest_mm;
      SherdProfilePlace wall;

      roll_up (strip, profile, arc_mm, &r_mm, &z_mm);
      nearest_mm = sherd_profile_nearest_arc_mm (profile, r_mm, z_mm);
      wall = sherd_profile_at (profile, nearest_mm);
      gap_mm = MAX (gap_mm, hypot (wall.r_mm - r_mm, wall.z_mm - z_mm));
      around_mm = MAX (around_mm, fabs (arc_on_paper - on_wall));
      g_assert_cmpfloat_with_epsilon (middle.y, arc_mm - strip->cone.arc0_mm, CLOSED_MM);
    }
  g_assert_cmpfloat_with_epsilon (strip->gap_mm, gap_mm, STATED_SHARE * gap_mm + CLOSED_MM);
  g_assert_cmpfloat_with_epsilon (strip->around_mm, around_mm, STATED_SHARE * around_mm + CLOSED_MM);
  g_assert_cmpfloat (strip->fit_mm, <=, TOLERANCE_MM);
  g_assert_cmpfloat (strip->fit_mm, ==, MAX (strip->gap_mm, MAX (strip->around_mm, strip->slack_mm)));
}

static void
assert_strips_say_the_truth (const SherdProfile *profile, double anchor_deg)
{
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = profile };
  const double length_mm = sherd_profile_length_mm (profile);
  g_autoptr (GArray) strips = sherd_development_strips (&surface, 0, length_mm, 180, anchor_deg, TOLERANCE_MM);
  double end_mm = 0.0;

  for (guint i = 0; i < strips->len; i++)
    {
      const SherdStrip *strip = &g_array_index (strips, SherdStrip, i);

      g_assert_cmpfloat_with_epsilon (strip->cone.arc0_mm, end_mm, 1e-9);
      end_mm = strip->cone.arc1_mm;
      assert_says_the_truth (strip, profile, anchor_deg);
    }
  g_assert_cmpfloat_with_epsilon (end_mm, length_mm, 1e-9);
  g_test_message ("%u strips held every %.0f degrees", strips->len, anchor_deg);
}

static void
test_error_stated_is_error_measured (void)
{
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  g_autoptr (SherdProfile) jar = bodies_new_jar ();

  assert_strips_say_the_truth (sphere, 30);
  assert_strips_say_the_truth (jar, 30);
  assert_strips_say_the_truth (jar, 360);
}

/* From R (1 − cos (L / 2R)) ≤ 0.5: L ≤ 18.98 mm on a sphere of 90; a quarter circle of 141.37 mm needs eight of them.
 */
static void
test_as_few_strips_as_will_do (void)
{
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = sphere };
  g_autoptr (GArray) strips =
    sherd_development_strips (&surface, 0, sherd_profile_length_mm (sphere), 180, 30, TOLERANCE_MM);
  double least = INFINITY, most = 0.0;

  g_assert_cmpuint (strips->len, ==, 8);
  for (guint i = 0; i < strips->len; i++)
    {
      least = MIN (least, g_array_index (strips, SherdStrip, i).fit_mm);
      most = MAX (most, g_array_index (strips, SherdStrip, i).fit_mm);
    }
  g_assert_cmpfloat (most, <=, 90 * (1 - cos (G_PI_2 / 8 / 2)) * 1.03);
  g_assert_cmpfloat (least, >, 0.7 * most);
}

static void
test_zone_across_the_cut_shows_twice (void)
{
  g_autoptr (SherdProfile) profile = bodies_new_cylinder (40, 100);
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = profile };
  g_autoptr (GArray) strips = sherd_development_strips (&surface, 0, 100, 180, 30, TOLERANCE_MM);
  const SherdStrip *strip = &g_array_index (strips, SherdStrip, 0);
  const SherdRange across = { -20, 40, 10, 30 }, below = { 0, 40, 110, 130 };
  g_autoptr (SherdOutline) zone = sherd_range_outline (&across);
  g_autoptr (SherdOutline) nowhere = sherd_range_outline (&below);
  g_autoptr (GPtrArray) parts = sherd_strip_zone (&surface, strip, zone, 0.01);
  g_autoptr (GPtrArray) none = sherd_strip_zone (&surface, strip, nowhere, 0.01);

  g_assert_cmpuint (parts->len, ==, 2);
  g_assert_cmpuint (none->len, ==, 0);
  g_assert_cmpfloat_with_epsilon (sherd_outline_area (parts->pdata[0]) + sherd_outline_area (parts->pdata[1]),
                                  60 * RADIANS_PER_DEG * 40 * 20, CLOSED_MM);
}

/* A segment of a sphere: every parallel and the middle line have their length, the edges theirs but for the error. */
static void
test_gores_of_a_bowl (void)
{
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  const SherdSurface surface = { .kind = SHERD_SURFACE_INSIDE, .profile = sphere };
  const double length_mm = sherd_profile_length_mm (sphere);
  SherdGores gores;

  g_assert_true (sherd_development_gores (&surface, 0, length_mm, TOLERANCE_MM, &gores));
  g_assert_cmpfloat (gores.edge_mm, <=, TOLERANCE_MM);
  g_test_message ("%u gores, edges off by %.3f mm", gores.n_gores, gores.edge_mm);
  for (guint i = 0; i < 20; i++)
    {
      const double arc_mm = length_mm * i / 20, half_deg = 180.0 / gores.n_gores;
      const SherdPoint left = sherd_gore_to_paper (&surface, &gores, 0, (SherdPoint){ half_deg, arc_mm });
      const SherdPoint right = sherd_gore_to_paper (&surface, &gores, 0, (SherdPoint){ -half_deg, arc_mm });
      const double angle = 2 * half_deg * RADIANS_PER_DEG * fabs (sin (arc_mm / 90.0));
      const double width_mm = (right.x - left.x) * (angle > 0.0 ? angle / 2 / sin (angle / 2) : 1.0);

      g_assert_cmpfloat_with_epsilon (width_mm, 2 * half_deg * RADIANS_PER_DEG * 90 * cos (arc_mm / 90), 1e-3);
      g_assert_cmpfloat_with_epsilon (sherd_gore_to_paper (&surface, &gores, 0, (SherdPoint){ 0.0, arc_mm }).y, arc_mm,
                                      1e-9);
    }
}

static void
test_gores_there_and_back (void)
{
  g_autoptr (SherdProfile) jar = bodies_new_jar ();
  const SherdSurface surface = { .kind = SHERD_SURFACE_INSIDE, .profile = jar };
  SherdGores gores;

  sherd_development_gores (&surface, 0, 180, TOLERANCE_MM, &gores);
  for (guint i = 0; i <= 20; i++)
    for (guint k = 0; k <= 4; k++)
      {
        const double half_deg = 180.0 / gores.n_gores;
        const SherdPoint place = { sherd_gore_middle_deg (&gores, 2) + half_deg * (k / 2.0 - 1.0), 9.0 * i };
        const SherdPoint back =
          sherd_gore_from_paper (&surface, &gores, 2, sherd_gore_to_paper (&surface, &gores, 2, place));

        g_assert_cmpfloat_with_epsilon (back.x, place.x, 1e-6);
        g_assert_cmpfloat_with_epsilon (back.y, place.y, 1e-6);
      }
}

/* The segments of a side together have all of a zone. */
static void
test_gores_share_a_zone (void)
{
  g_autoptr (SherdProfile) cylinder = bodies_new_cylinder (40, 100);
  const SherdSurface surface = { .kind = SHERD_SURFACE_INSIDE, .profile = cylinder };
  const SherdRange range = { 330, 400, 10, 30 };
  g_autoptr (SherdOutline) zone = sherd_range_outline (&range);
  SherdGores gores;
  double sum = 0.0;

  g_assert_true (sherd_development_gores (&surface, 0, 100, TOLERANCE_MM, &gores));
  g_assert_cmpuint (gores.n_gores, ==, 4);
  for (guint gore = 0; gore < gores.n_gores; gore++)
    {
      g_autoptr (GPtrArray) parts = sherd_gore_zone (&surface, &gores, gore, zone, 0.01);

      for (guint i = 0; i < parts->len; i++)
        sum += sherd_outline_area (parts->pdata[i]);
    }
  g_assert_cmpfloat_with_epsilon (sum, 70 * RADIANS_PER_DEG * 40 * 20, CLOSED_MM);
}

static void
test_tape_round_the_rim (void)
{
  g_autoptr (SherdProfile) cone = bodies_new_cone (80, 50, 40);
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = cone };

  g_assert_cmpfloat_with_epsilon (sherd_tape_mm (&surface, 0, 360), 2 * G_PI * 80, CLOSED_MM);
  g_assert_cmpfloat_with_epsilon (sherd_tape_mm (&surface, 50, 90), G_PI_2 * 50, CLOSED_MM);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/development/cylinder-is-one-exact-rectangle", test_cylinder_is_one_exact_rectangle);
  g_test_add_func ("/shape/development/cone-is-one-exact-sector", test_cone_is_one_exact_sector);
  g_test_add_func ("/shape/development/error-stated-is-error-measured", test_error_stated_is_error_measured);
  g_test_add_func ("/shape/development/as-few-strips-as-will-do", test_as_few_strips_as_will_do);
  g_test_add_func ("/shape/development/zone-across-the-cut-shows-twice", test_zone_across_the_cut_shows_twice);
  g_test_add_func ("/shape/development/gores-of-a-bowl", test_gores_of_a_bowl);
  g_test_add_func ("/shape/development/gores-there-and-back", test_gores_there_and_back);
  g_test_add_func ("/shape/development/gores-share-a-zone", test_gores_share_a_zone);
  g_test_add_func ("/shape/development/tape-round-the-rim", test_tape_round_the_rim);
  return g_test_run ();
}
