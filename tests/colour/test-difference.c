/* SPDX-License-Identifier: GPL-3.0-or-later */

/* All 34 pairs of Sharma, Wu and Dalal 2005 with their steps (tests/data/ciede2000). Four more pairs were computed in
 * double precision from the printed formulas, three of them also by a public colour library, agreeing to twelve digits.
 * LittleCMS 2 (cmsCIE2000DeltaE, cmsDeltaE) is asked about drawn colours. */

#include "config.h"

#include "colour/difference.h"

#include "oracle.h"

#include <math.h>

/* The table is printed to four decimals. */
#define PRINTED_4 1e-4
/* Pairs 21 and 23 were made for a ΔE00 of 1 with more digits than their colours are printed with: their mean hues are
 * 0.0003° and 0.0006° off those of the printed colours. */
#define PRINTED_HUE_DEG 1e-3
/* The longer results are printed to nine. */
#define PRINTED_9 1e-8
/* Sums of squares of tens, in double precision. */
#define EXACT 1e-12
/* LittleCMS wraps hues by the same rule in another order of additions. */
#define LITTLECMS 1e-9

typedef struct
{
  SherdLab first;
  SherdLab second;
  SherdDifference00 parts;
} Published;

static Published
read_pair (const char *line)
{
  g_auto (GStrv) cells = g_strsplit (line, ",", -1);
  double values[14];

  g_assert_cmpuint (g_strv_length (cells), ==, G_N_ELEMENTS (values));
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    values[i] = g_ascii_strtod (cells[i], NULL);
  return (Published){ .first = { values[0], values[1], values[2] },
                      .second = { values[3], values[4], values[5] },
                      .parts = { .mean_hue_deg = values[6],
                                 .g = values[7],
                                 .t = values[8],
                                 .sl = values[9],
                                 .sc = values[10],
                                 .sh = values[11],
                                 .rt = values[12],
                                 .de00 = values[13] } };
}

static GArray *
read_published_pairs (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "ciede2000", "pairs.csv", NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (Published));

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  lines = g_strsplit (g_strstrip (text), "\n", -1);
  for (guint i = 1; lines[i] != NULL; i++)
    {
      const Published pair = read_pair (lines[i]);

      g_array_append_val (pairs, pair);
    }
  g_assert_cmpuint (pairs->len, ==, 34);
  return pairs;
}

static void
test_all_published_pairs_in_both_orders (void)
{
  g_autoptr (GArray) pairs = read_published_pairs ();

  for (guint i = 0; i < pairs->len; i++)
    {
      const Published *pair = &g_array_index (pairs, Published, i);

      g_assert_cmpfloat_with_epsilon (sherd_difference_de00 (&pair->first, &pair->second), pair->parts.de00, PRINTED_4);
      g_assert_cmpfloat_with_epsilon (sherd_difference_de00 (&pair->second, &pair->first), pair->parts.de00, PRINTED_4);
    }
}

static void
test_every_step_of_the_published_pairs (void)
{
  g_autoptr (GArray) pairs = read_published_pairs ();

  for (guint i = 0; i < pairs->len; i++)
    {
      const Published *pair = &g_array_index (pairs, Published, i);
      SherdDifference00 parts;

      sherd_difference_de00_parts (&pair->first, &pair->second, &parts);
      g_assert_cmpfloat_with_epsilon (parts.mean_hue_deg, pair->parts.mean_hue_deg, PRINTED_HUE_DEG);
      g_assert_cmpfloat_with_epsilon (parts.g, pair->parts.g, PRINTED_4);
      g_assert_cmpfloat_with_epsilon (parts.t, pair->parts.t, PRINTED_4);
      g_assert_cmpfloat_with_epsilon (parts.sl, pair->parts.sl, PRINTED_4);
      g_assert_cmpfloat_with_epsilon (parts.sc, pair->parts.sc, PRINTED_4);
      g_assert_cmpfloat_with_epsilon (parts.sh, pair->parts.sh, PRINTED_4);
      g_assert_cmpfloat_with_epsilon (parts.rt, pair->parts.rt, PRINTED_4);
    }
}

static void
test_printed_pairs_of_all_formulas (void)
{
  static const struct
  {
    SherdLab first;
    SherdLab second;
    double de76;
    double de94;
    double de94_reversed;
    double de00;
  } rows[] = {
    { { 50, 10, -10 }, { 55, 20, 5 }, 18.708286934, 15.275052791, 14.192759634, 13.666963607 },
    { { 36, 60, 41 }, { 55, 66, 77 }, 41.146081223, 22.849281935, 21.616109338, 22.394506952 },
    { { 60, 20, 30 }, { 58, 22, 27 }, 4.123105626, 3.010006534, 3.031082123, 3.151188551 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const SherdLab *first = &rows[i].first, *second = &rows[i].second;

      g_assert_cmpfloat_with_epsilon (sherd_difference_de76 (first, second), rows[i].de76, PRINTED_9);
      g_assert_cmpfloat_with_epsilon (sherd_difference_de94 (first, second), rows[i].de94, PRINTED_9);
      g_assert_cmpfloat_with_epsilon (sherd_difference_de94 (second, first), rows[i].de94_reversed, PRINTED_9);
      g_assert_cmpfloat_with_epsilon (sherd_difference_de00 (first, second), rows[i].de00, PRINTED_9);
    }
}

static void
test_a_fired_black_against_its_paint (void)
{
  const SherdLab before = { 52, 22, 22 }, after = { 46, 26, 20 };

  g_assert_cmpfloat_with_epsilon (sherd_difference_de76 (&before, &after), 7.483314774, PRINTED_9);
  g_assert_cmpfloat_with_epsilon (sherd_difference_de00 (&before, &after), 6.790336533, PRINTED_9);
}

static void
test_de94_is_not_the_other_one_of_littlecms (void)
{
  /* cmsCIE94DeltaE takes 0.048, 0.014 and the geometric mean of the chromas: 14.901510 here. */
  const SherdLab standard = { 50, 10, -10 }, sample = { 55, 20, 5 };
  const cmsCIELab theirs_standard = oracle_lab (&standard), theirs_sample = oracle_lab (&sample);

  g_assert_cmpfloat_with_epsilon (cmsCIE94DeltaE (&theirs_standard, &theirs_sample), 14.901510, 1e-6);
  g_assert_cmpfloat (fabs (sherd_difference_de94 (&standard, &sample) - 14.901510), >, 0.3);
}

static void
test_drawn_pairs_agree_with_littlecms (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (25);

  for (guint i = 0; i < 20000; i++)
    {
      const SherdLab first = draw_lab (random), second = draw_lab (random);
      cmsCIELab theirs_first = oracle_lab (&first), theirs_second = oracle_lab (&second);

      g_assert_cmpfloat_with_epsilon (sherd_difference_de00 (&first, &second),
                                      cmsCIE2000DeltaE (&theirs_first, &theirs_second, 1, 1, 1), LITTLECMS);
      g_assert_cmpfloat_with_epsilon (sherd_difference_de76 (&first, &second),
                                      cmsDeltaE (&theirs_first, &theirs_second), LITTLECMS);
    }
}

static void
test_equal_colours_differ_by_nothing (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (26);

  for (guint i = 0; i < 1000; i++)
    {
      const SherdLab lab = draw_lab (random);

      g_assert_cmpfloat (sherd_difference_de76 (&lab, &lab), ==, 0.0);
      g_assert_cmpfloat (sherd_difference_de94 (&lab, &lab), ==, 0.0);
      g_assert_cmpfloat (sherd_difference_de00 (&lab, &lab), ==, 0.0);
    }
}

static void
test_de00_and_de76_do_not_mind_the_order (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (27);

  for (guint i = 0; i < 1000; i++)
    {
      const SherdLab first = draw_lab (random), second = draw_lab (random);

      g_assert_cmpfloat (sherd_difference_de76 (&first, &second), ==, sherd_difference_de76 (&second, &first));
      g_assert_cmpfloat_with_epsilon (sherd_difference_de00 (&first, &second), sherd_difference_de00 (&second, &first),
                                      EXACT);
    }
}

static void
test_opposite_hues_are_not_decided_by_rounding (void)
{
  /* The primed hues are 180° apart to the last bits; both ways round must take the same mean hue, whatever the turn. */
  for (guint turn_deg = 0; turn_deg < 180; turn_deg++)
    {
      const double turn = turn_deg * G_PI / 180;
      const SherdLab first = { 50, 3 * cos (turn), 3 * sin (turn) };
      const SherdLab second = { 50, -first.a, -first.b };
      SherdDifference00 one, other;

      sherd_difference_de00_parts (&first, &second, &one);
      sherd_difference_de00_parts (&second, &first, &other);
      g_assert_cmpfloat_with_epsilon (one.mean_hue_deg, other.mean_hue_deg, 1e-9);
      g_assert_cmpfloat_with_epsilon (one.de00, other.de00, EXACT);
    }
}

static void
test_the_mean_of_hues_crosses_zero (void)
{
  const double chroma = 40, step = 1 * G_PI / 180;
  const SherdLab above = { 50, chroma * cos (step), chroma * sin (step) };
  const SherdLab below = { 50, chroma * cos (step), -chroma * sin (step) };
  SherdDifference00 parts;

  sherd_difference_de00_parts (&above, &below, &parts);
  g_assert_cmpfloat_with_epsilon (cos (parts.mean_hue_deg * G_PI / 180), 1.0, EXACT);
}

static void
test_two_greys_differ_in_lightness_alone (void)
{
  const SherdLab dark = { 40, 0, 0 }, light = { 60, 0, 0 };
  SherdDifference difference;

  sherd_difference (&dark, &light, &difference);
  g_assert_cmpfloat (difference.delta_l, ==, 20.0);
  g_assert_cmpfloat (difference.delta_h, ==, 0.0);
  g_assert_false (difference.hue_defined);
  g_assert_cmpfloat (difference.de76, ==, 20.0);
  /* SL is 1 at a mean L* of 50. */
  g_assert_cmpfloat (difference.de00, ==, 20.0);
  g_assert_cmpfloat (difference.de00_no_lightness, ==, 0.0);
}

static void
test_signs_tell_what_happened_in_the_fire (void)
{
  /* By hand: from (3, 4), chroma 5, to (0, 10): lighter by 2, more vivid by 5, hue from 53.13° to 90°. */
  const SherdLab before = { 40, 3, 4 }, after = { 42, 0, 10 };
  SherdDifference there, back;

  sherd_difference (&before, &after, &there);
  sherd_difference (&after, &before, &back);
  g_assert_cmpfloat (there.delta_l, ==, 2.0);
  g_assert_cmpfloat (there.delta_a, ==, -3.0);
  g_assert_cmpfloat (there.delta_b, ==, 6.0);
  g_assert_cmpfloat_with_epsilon (there.delta_c, 5.0, EXACT);
  /* √(9 + 36 − 25) = √20. */
  g_assert_cmpfloat_with_epsilon (there.delta_h, sqrt (20.0), EXACT);
  g_assert_cmpfloat_with_epsilon (back.delta_h, -sqrt (20.0), EXACT);
  g_assert_true (there.hue_defined);
}

static void
test_the_parts_make_up_de76 (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (28);

  for (guint i = 0; i < 1000; i++)
    {
      const SherdLab first = draw_lab (random), second = draw_lab (random);
      SherdDifference d;

      sherd_difference (&first, &second, &d);
      g_assert_cmpfloat_with_epsilon (
        d.de76, sqrt (d.delta_l * d.delta_l + d.delta_c * d.delta_c + d.delta_h * d.delta_h), 1e-9);
      /* The other form of ΔH*ab: 2 √(C1 C2) sin (Δh / 2). */
      g_assert_cmpfloat_with_epsilon (fabs (d.delta_h),
                                      2 * sqrt (sherd_lab_chroma (&first) * sherd_lab_chroma (&second)) *
                                        fabs (sin ((atan2 (second.b, second.a) - atan2 (first.b, first.a)) / 2)),
                                      1e-6);
    }
}

static void
test_without_lightness_the_exposure_does_not_matter (void)
{
  const SherdLab before = { 50, 20, 10 }, after = { 50, 24, 16 };
  SherdDifference difference;

  sherd_difference (&before, &after, &difference);
  g_assert_cmpfloat (difference.de00_no_lightness, ==, difference.de00);
  g_assert_cmpfloat (difference.de00, >, 1.0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/colour/difference/sharma-wu-dalal-2005/both-orders", test_all_published_pairs_in_both_orders);
  g_test_add_func ("/colour/difference/sharma-wu-dalal-2005/every-step", test_every_step_of_the_published_pairs);
  g_test_add_func ("/colour/difference/printed-pairs-of-all-formulas", test_printed_pairs_of_all_formulas);
  g_test_add_func ("/colour/difference/fired-black-against-its-paint", test_a_fired_black_against_its_paint);
  g_test_add_func ("/colour/difference/de94-is-not-littlecms-other-one", test_de94_is_not_the_other_one_of_littlecms);
  g_test_add_func ("/colour/difference/drawn-pairs-agree-with-littlecms", test_drawn_pairs_agree_with_littlecms);
  g_test_add_func ("/colour/difference/equal-colours-differ-by-nothing", test_equal_colours_differ_by_nothing);
  g_test_add_func ("/colour/difference/order-does-not-matter", test_de00_and_de76_do_not_mind_the_order);
  g_test_add_func ("/colour/difference/opposite-hues", test_opposite_hues_are_not_decided_by_rounding);
  g_test_add_func ("/colour/difference/mean-of-hues-crosses-zero", test_the_mean_of_hues_crosses_zero);
  g_test_add_func ("/colour/difference/greys-differ-in-lightness-alone", test_two_greys_differ_in_lightness_alone);
  g_test_add_func ("/colour/difference/signs-tell-what-happened", test_signs_tell_what_happened_in_the_fire);
  g_test_add_func ("/colour/difference/parts-make-up-de76", test_the_parts_make_up_de76);
  g_test_add_func ("/colour/difference/without-lightness", test_without_lightness_the_exposure_does_not_matter);
  return g_test_run ();
}
