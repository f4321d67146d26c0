/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: the normal distribution's table (1.95996 leaves 2.5 % on one side, 0.84162 leaves 20 %, 1.64485 leaves 5 %);
 * the rest by hand in the comments. */
#include "config.h"

#include "measure/interval.h"

#include <math.h>

static const double sure[3] = { 0, 0, 0 };

/* A thousandth of the bracket's width at most is left when it is halved ten times. */
#define HALVED 0.01

static void
test_chance_alone (void)
{
  const double offset[2] = { 0, -4 }, share[2] = { 1, 0 }, nothing[2] = { 0, 0 };

  g_assert_cmpfloat_with_epsilon (sherd_interval_reach (0.5, offset, sure, share, 2, -1), 0.97998, 1e-4);
  g_assert_cmpfloat_with_epsilon (sherd_interval_reach (0.5, offset, sure, nothing, 2, -1), 0.97998, 1e-4);
}

static void
test_other_case_is_held (void)
{
  const double offset[2] = { 0, -4 }, share[2] = { 0.875, 0.125 };

  g_test_summary (
    "One time in eight the truth lies 4 below: all but a fifth of these (0.125 × 0.2 = 0.025) must be held.");
  g_assert_cmpfloat_with_epsilon (sherd_interval_reach (0.5, offset, sure, share, 2, -1), 4 + 0.84162 * 0.5, HALVED);
  /* Above nothing changes. */
  g_assert_cmpfloat_with_epsilon (sherd_interval_reach (0.5, offset, sure, share, 2, 1), 0.97998, 1e-4);
}

static void
test_unlikely_case_hardly_widens (void)
{
  const double offset[2] = { 0, -4 }, share[2] = { 0.98, 0.02 };

  /* The case lies wholly beyond and takes 0.02 of the 0.025; the rest, 0.005 ÷ 0.98 of chance, is left at 2.569 sd. */
  g_assert_cmpfloat_with_epsilon (sherd_interval_reach (0.5, offset, sure, share, 2, -1), 2.569 * 0.5, HALVED);
}

static void
test_doubtful_case_widens_both_sides (void)
{
  const double offset[2] = { 0, 0 }, doubt[2] = { 0, 1.2 }, share[2] = { 0.5, 0.5 };

  /* 0.5 × Q (x ÷ 0.5) + 0.5 × Q (x ÷ 1.3) = 0.025: at 2.138 the first is 1e-5 and the second 0.05. */
  g_assert_cmpfloat_with_epsilon (sherd_interval_reach (0.5, offset, doubt, share, 2, -1), 1.64485 * 1.3, HALVED);
  g_assert_cmpfloat_with_epsilon (sherd_interval_reach (0.5, offset, doubt, share, 2, 1), 1.64485 * 1.3, HALVED);
}

static void
test_mixture_covers (void)
{
  const double offset[3] = { 0, -0.6, -2 }, share[3] = { 0.6, 0.3, 0.1 };
  const double below = sherd_interval_reach (0.5, offset, sure, share, 3, -1);
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  guint n_beyond = 0;

  g_test_summary ("Drawn: 2.5 % of the truths lie below the limit (20,000 draws: ± 0.3 at three standard deviations).");
  for (guint i = 0; i < 20000; i++)
    {
      const double kind = g_rand_double (rand);
      const double off = kind < 0.6 ? 0 : kind < 0.9 ? -0.6 : -2;
      /* Box and Muller. */
      const double z = sqrt (-2 * log (1 - g_rand_double (rand))) * cos (2 * G_PI * g_rand_double (rand));

      n_beyond += off + 0.5 * z < -below;
    }
  g_assert_cmpfloat_with_epsilon (n_beyond / 200.0, 2.5, 0.4);
}

static SherdZoneColour
grey_zone (void)
{
  SherdZoneColour zone = { .lab = { 37.842, 0, 0 } };

  for (guint i = 0; i < 3; i++)
    zone.covariance[i][i] = 0.04;
  return zone;
}

/* Of reflectance 0.1, one time in ten with 0.01 of the room on it. */
static const double grey[3] = { 0.1, 0.1, 0.1 };
static const SherdGlare room_on_grey = { .share = { 0.9, 0.1 },
                                         .added = { 0, 0.01 },
                                         .room = { 0, 0.01 },
                                         .lamp_tint = { 1, 1, 1 },
                                         .room_tint = { 1, 1, 1 } };

static void
test_dark_side_of_a_zone (void)
{
  SherdZoneColour zone = grey_zone ();
  SherdCorrection correction;

  /* Grey of Y = 0.1 (L* 37.84); without 0.01 it is Y = 0.09 (L* 35.98). Three quarters of one in ten must be held. */
  sherd_correction_init_none (&correction);
  sherd_interval_fill (&zone, grey, &correction, &room_on_grey);
  g_assert_cmpfloat_with_epsilon (zone.upper_95.l, 37.842 + 0.392, 0.001);
  g_assert_cmpfloat_with_epsilon (zone.lower_95.l, 35.98 - 0.6745 * 0.2, 0.02);
  g_assert_cmpfloat_with_epsilon (zone.upper_95.b - zone.lower_95.b, 2 * 0.392, 0.01);
}

static void
test_tint_of_the_room (void)
{
  SherdGlare blue_room = room_on_grey, unsure = room_on_grey;
  SherdZoneColour of_blue = grey_zone (), of_unsure = grey_zone ();
  SherdCorrection correction;

  /* A tenth of the light is a room that is bluer by a fifth: what is left is yellower. Z, nearly all of it blue, falls
   * from 0.09 to 0.088 and b* rises by 200 (0.09^⅓ − 0.088^⅓) = 0.67. */
  sherd_correction_init_none (&correction);
  blue_room.room_tint[2] = 1.2;
  sherd_interval_fill (&of_blue, grey, &correction, &blue_room);
  g_assert_cmpfloat_with_epsilon (of_blue.upper_95.b, 0.67 + 0.6745 * 0.2, 0.15);
  g_assert_cmpfloat_with_epsilon (of_blue.lower_95.b, -0.392, 0.01);
  /* One whose tint is not known may be either. */
  unsure.room_tint_sd = 0.2;
  sherd_interval_fill (&of_unsure, grey, &correction, &unsure);
  g_assert_cmpfloat (of_unsure.upper_95.b, >, 0.45);
  g_assert_cmpfloat (of_unsure.lower_95.b, <, -0.45);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/interval/chance-alone", test_chance_alone);
  g_test_add_func ("/measure/interval/other-case-is-held", test_other_case_is_held);
  g_test_add_func ("/measure/interval/unlikely-case-hardly-widens", test_unlikely_case_hardly_widens);
  g_test_add_func ("/measure/interval/doubtful-case-widens-both-sides", test_doubtful_case_widens_both_sides);
  g_test_add_func ("/measure/interval/mixture-covers", test_mixture_covers);
  g_test_add_func ("/measure/interval/dark-side-of-a-zone", test_dark_side_of_a_zone);
  g_test_add_func ("/measure/interval/tint-of-the-room", test_tint_of_the_room);
  return g_test_run ();
}
