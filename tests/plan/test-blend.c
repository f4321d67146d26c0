/* SPDX-License-Identifier: GPL-3.0-or-later */

/* - Simplex lattice {q, m}: (q + m − 1)! / (m! (q − 1)!) points, the shares 0, 1/m, 2/m … 1; the points of {3,2}, and
 * the centroid's 2^q − 1: NIST/SEMATECH e-Handbook of Statistical Methods, 5.5.4.2 and 5.5.4.3; H. Scheffé 1958, 1963.
 * - Masses by hand. */

#include "config.h"

#include "plan/blend.h"

#include <math.h>
#include <string.h>

static void
assert_whole (const SherdBlend *blend)
{
  for (guint i = 0; i < blend->n_members; i++)
    {
      const SherdBlendMember *member = &blend->members[i];

      g_assert_cmpuint (member->parts[0] + member->parts[1] + member->parts[2] + member->parts[3], ==, member->whole);
      for (guint j = 0; j < i; j++)
        g_assert_cmpint (memcmp (member->parts, blend->members[j].parts, sizeof member->parts), !=, 0);
    }
}

static void
test_line_goes_in_equal_steps (void)
{
  g_autoptr (SherdBlend) blend = sherd_blend_line (5, NULL);

  g_assert_cmpuint (blend->n_members, ==, 6);
  assert_whole (blend);
  for (guint i = 0; i <= 5; i++)
    g_assert_cmpfloat_with_epsilon (sherd_blend_share (&blend->members[i], 1), 0.2 * i, 1e-15);
}

static void
test_unlike_steps_are_kept (void)
{
  const double shares_pct[] = { 0, 0.25, 1, 5, 33.33, 100 };
  g_autoptr (SherdBlend) blend = sherd_blend_line_at (shares_pct, 6, NULL);

  g_assert_cmpuint (blend->n_members, ==, 6);
  assert_whole (blend);
  for (guint i = 0; i < 6; i++)
    g_assert_cmpfloat (sherd_blend_share_pct (&blend->members[i], 1), ==, shares_pct[i]);
}

static void
test_triaxial_is_scheffes_lattice (void)
{
  static const guint second_order[6][3] = {
    { 2, 0, 0 }, { 1, 1, 0 }, { 1, 0, 1 }, { 0, 2, 0 }, { 0, 1, 1 }, { 0, 0, 2 }
  };
  g_autoptr (SherdBlend) lattice = sherd_blend_triaxial (2, NULL);

  g_assert_cmpuint (lattice->n_members, ==, 6);
  for (guint i = 0; i < 6; i++)
    g_assert_cmpmem (lattice->members[i].parts, sizeof second_order[i], second_order[i], sizeof second_order[i]);
  for (guint m = 1; m <= 20; m++)
    {
      g_autoptr (SherdBlend) blend = sherd_blend_triaxial (m, NULL);

      g_assert_cmpuint (blend->n_members, ==, (m + 2) * (m + 1) / 2);
      assert_whole (blend);
    }
}

static void
test_triaxial_has_its_paints_at_the_corners (void)
{
  g_autoptr (SherdBlend) blend = sherd_blend_triaxial (4, NULL);

  g_assert_cmpuint (blend->members[0].parts[0], ==, 4);
  g_assert_cmpuint (blend->members[10].parts[1], ==, 4);
  g_assert_cmpuint (blend->members[14].parts[2], ==, 4);
  g_assert_cmpuint (blend->members[14].row, ==, 4);
  g_assert_cmpuint (blend->members[14].column, ==, 4);
}

static void
test_centroid_has_all_mixtures (void)
{
  for (guint q = 2; q <= 4; q++)
    {
      g_autoptr (SherdBlend) blend = sherd_blend_centroid (q, NULL);

      g_assert_cmpuint (blend->n_members, ==, (1u << q) - 1);
      assert_whole (blend);
      g_assert_cmpuint (sherd_blend_count_paints (&blend->members[0]), ==, 1);
      g_assert_cmpuint (blend->members[blend->n_members - 1].whole, ==, q);
    }
}

/* Four paints at the corners; the middle of 2 × 2 steps has a quarter of each. */
static void
test_square_is_two_lines (void)
{
  g_autoptr (SherdBlend) blend = sherd_blend_square (2, 2, NULL);

  g_assert_cmpuint (blend->n_members, ==, 9);
  assert_whole (blend);
  for (guint paint = 0; paint < 4; paint++)
    g_assert_cmpfloat_with_epsilon (sherd_blend_share (&blend->members[4], paint), 0.25, 1e-15);
  g_assert_cmpuint (blend->members[0].parts[0], ==, 4);
  g_assert_cmpuint (blend->members[2].parts[1], ==, 4);
  g_assert_cmpuint (blend->members[6].parts[2], ==, 4);
  g_assert_cmpuint (blend->members[8].parts[3], ==, 4);
}

/* A third of 10 g on a scale that reads 0.1 g: 3.4 + 3.3 + 3.3; off by 0.0067 at most. */
static void
test_weighed_masses_add_up (void)
{
  const SherdBlendMember thirds = { .parts = { 1, 1, 1 }, .whole = 3 };
  double grams[4];
  const double off = sherd_blend_weigh (&thirds, 10.0, 0.1, grams);

  g_assert_cmpfloat_with_epsilon (grams[0], 3.4, 1e-12);
  g_assert_cmpfloat_with_epsilon (grams[1], 3.3, 1e-12);
  g_assert_cmpfloat_with_epsilon (grams[2], 3.3, 1e-12);
  g_assert_cmpfloat_with_epsilon (off, 0.34 - 1.0 / 3.0, 1e-12);
  for (guint m = 1; m <= 12; m++)
    {
      g_autoptr (SherdBlend) blend = sherd_blend_triaxial (m, NULL);

      for (guint i = 0; i < blend->n_members; i++)
        {
          g_assert_cmpfloat (sherd_blend_weigh (&blend->members[i], 25.0, 0.01, grams), <=, 0.01 / 25.0);
          g_assert_cmpfloat_with_epsilon (grams[0] + grams[1] + grams[2] + grams[3], 25.0, 1e-9);
        }
    }
}

static void
test_nothing_to_weigh_is_wholly_off (void)
{
  const SherdBlendMember halves = { .parts = { 1, 1 }, .whole = 2 };
  double grams[4];

  g_assert_cmpfloat (sherd_blend_weigh (&halves, 0.04, 0.1, grams), ==, 1.0);
}

static void
test_codes_pass_over_what_is_taken (void)
{
  const char *const taken[] = { "HM2", "H", NULL };
  g_auto (GStrv) codes = sherd_blend_codes ("HM", 3, taken);
  g_autofree char *joined = g_strjoinv (" ", codes);

  g_assert_cmpstr (joined, ==, "HM1 HM3 HM4");
}

static void
test_impossible_blends_are_refused (void)
{
  const double above[] = { 0, 120 }, falling[] = { 10, 5 }, none[] = { NAN };
  GError *errors[8] = { NULL };

  g_assert_null (sherd_blend_line (0, &errors[0]));
  g_assert_null (sherd_blend_line (1000, &errors[1]));
  g_assert_null (sherd_blend_triaxial (G_MAXUINT, &errors[2]));
  g_assert_null (sherd_blend_square (3, 0, &errors[3]));
  g_assert_null (sherd_blend_line_at (above, 2, &errors[4]));
  g_assert_null (sherd_blend_line_at (falling, 2, &errors[5]));
  g_assert_null (sherd_blend_line_at (none, 1, &errors[6]));
  g_assert_null (sherd_blend_centroid (5, &errors[7]));
  for (guint i = 0; i < G_N_ELEMENTS (errors); i++)
    {
      g_assert_error (errors[i], SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_VALUE);
      g_clear_error (&errors[i]);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/blend/line-goes-in-equal-steps", test_line_goes_in_equal_steps);
  g_test_add_func ("/plan/blend/unlike-steps-are-kept", test_unlike_steps_are_kept);
  g_test_add_func ("/plan/blend/triaxial-is-scheffes-lattice", test_triaxial_is_scheffes_lattice);
  g_test_add_func ("/plan/blend/triaxial-has-its-paints-at-the-corners", test_triaxial_has_its_paints_at_the_corners);
  g_test_add_func ("/plan/blend/centroid-has-all-mixtures", test_centroid_has_all_mixtures);
  g_test_add_func ("/plan/blend/square-is-two-lines", test_square_is_two_lines);
  g_test_add_func ("/plan/blend/weighed-masses-add-up", test_weighed_masses_add_up);
  g_test_add_func ("/plan/blend/nothing-to-weigh-is-wholly-off", test_nothing_to_weigh_is_wholly_off);
  g_test_add_func ("/plan/blend/codes-pass-over-what-is-taken", test_codes_pass_over_what_is_taken);
  g_test_add_func ("/plan/blend/impossible-blends-are-refused", test_impossible_blends_are_refused);
  return g_test_run ();
}
