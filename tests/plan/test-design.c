/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Published designs: which effects can be told and which are aliased.
 * - Full factorial 2³ and its half 2^(3−1), I = ABC, so A = BC, B = AC, C = AB: NIST/SEMATECH e-Handbook of Statistical
 *   Methods, 5.3.3.3.1 and 5.3.3.4.1; Box, Hunter and Hunter, Statistics for Experimenters, chapter 6.
 * - 2^(4−1), I = ABCD: main effects clear of pairs; 2^(5−2), D = AB, E = AC: A = BD = CE, B = AD, C = AE, D = AB,
 *   E = AC: the same handbook, 5.3.3.4.4 and 5.3.3.4.7.
 * - Latin square 4 × 4: treatments clear of rows and columns, 6 degrees of freedom left: the same, 5.3.3.2.1.
 * - Scheffé {3,2} simplex lattice: shares that add up to 1: H. Scheffé, J. Roy. Stat. Soc. B 20, 1958, 344–360; the
 *   same handbook, 5.5.4.2. Its inflation is by hand in the test.
 * - Balanced incomplete blocks (4 treatments, 6 blocks of 2): efficiency λ t / (r k) = 1 · 4 / (3 · 2) = 2/3: Cochran
 * and Cox, Experimental Designs, chapter 9 (from memory; formula by hand in the test). Ranks are held against GSL's
 * singular values of random and of published matrices. */

#include "config.h"

#include "plan/design.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

#include "plan/design-matrix.h"
#include "plan/draw.h"

#define ROUNDING 1e-9

static SherdTell
tell (const SherdDesign *design, guint factor)
{
  return design->verdicts[factor].tell;
}

/* A layout of two-level factors "A", "B", …; @signs has a row a zone, "+-+". */
static SherdLayout *
layout_of_signs (const char *const *signs, guint n_runs, guint n_repeats)
{
  SherdLayout *layout = sherd_layout_new (n_runs * n_repeats);
  g_autofree double *values = g_new (double, layout->n_zones);

  for (guint factor = 0; factor < strlen (signs[0]); factor++)
    {
      const char name[] = { (char)('A' + factor), '\0' };

      for (guint zone = 0; zone < layout->n_zones; zone++)
        values[zone] = signs[zone % n_runs][factor] == '+' ? 1.0 : -1.0;
      sherd_layout_add_numbers (layout, name, name, SHERD_ROLE_PLACE, values);
    }
  return layout;
}

/* "BD CE": the pairs that must not act together. */
static void
assert_provided (const SherdDesign *design, guint factor, const char *expected)
{
  const SherdVerdict *verdict = &design->verdicts[factor];
  g_autoptr (GString) found = g_string_new (NULL);

  for (guint i = 0; verdict->provided != NULL && i < verdict->provided->len; i++)
    {
      const SherdFactorPair pair = g_array_index (verdict->provided, SherdFactorPair, i);

      g_string_append_printf (found, "%s%c%c", i > 0 ? " " : "", (char)('A' + pair.first), (char)('A' + pair.second));
    }
  g_assert_cmpstr (found->str, ==, expected);
}

static const char *const full_2_3[] = { "---", "+--", "-+-", "++-", "--+", "+-+", "-++", "+++" };
static const char *const half_2_3[] = { "--+", "+--", "-+-", "+++" };
static const char *const half_2_4[] = { "----", "+--+", "-+-+", "++--", "--++", "+-+-", "-++-", "++++" };
static const char *const quarter_2_5[] = { "---++", "+----", "-+--+", "++-+-", "--++-", "+-+-+", "-++--", "+++++" };

static void
test_full_factorial_tells_all (void)
{
  g_autoptr (SherdLayout) layout = layout_of_signs (full_2_3, 8, 2);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, TRUE);

  for (guint factor = 0; factor < 3; factor++)
    {
      g_assert_cmpint (tell (design, factor), ==, SHERD_TELL_WELL);
      g_assert_cmpfloat_with_epsilon (design->verdicts[factor].inflation, 1.0, ROUNDING);
      g_assert_cmpuint (design->verdicts[factor].n_scatter_df, ==, 12);
      assert_provided (design, factor, "");
    }
}

static void
test_half_of_2_3_has_its_aliases (void)
{
  g_autoptr (SherdLayout) layout = layout_of_signs (half_2_3, 4, 3);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, TRUE);

  for (guint factor = 0; factor < 3; factor++)
    g_assert_cmpint (tell (design, factor), ==, SHERD_TELL_WELL);
  assert_provided (design, 0, "BC");
  assert_provided (design, 1, "AC");
  assert_provided (design, 2, "AB");
}

static void
test_half_of_2_4_is_clear_of_pairs (void)
{
  g_autoptr (SherdLayout) layout = layout_of_signs (half_2_4, 8, 2);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, TRUE);

  for (guint factor = 0; factor < 4; factor++)
    {
      g_assert_cmpint (tell (design, factor), ==, SHERD_TELL_WELL);
      assert_provided (design, factor, "");
    }
}

static void
test_quarter_of_2_5_has_its_aliases (void)
{
  static const char *const expected[] = { "BD CE", "AD", "AE", "AB", "AC" };
  g_autoptr (SherdLayout) layout = layout_of_signs (quarter_2_5, 8, 2);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, TRUE);

  for (guint factor = 0; factor < 5; factor++)
    assert_provided (design, factor, expected[factor]);
}

/* Without repetition, four runs and three effects leave nothing to judge scatter by. */
static void
test_nothing_left_for_scatter_is_told (void)
{
  g_autoptr (SherdLayout) layout = layout_of_signs (half_2_3, 4, 1);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, FALSE);

  g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_NOT);
  g_assert_true (design->verdicts[0].from_chance);
  g_assert_cmpfloat_with_epsilon (design->verdicts[0].inflation, 1.0, ROUNDING);
}

/* C = −A: told as the one and not the other. */
static void
test_twin_is_named (void)
{
  static const char *const signs[] = { "--+", "+--", "-++", "++-" };
  g_autoptr (SherdLayout) layout = layout_of_signs (signs, 4, 2);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, FALSE);
  g_autofree char *words = sherd_design_describe (layout, &design->verdicts[2]);

  g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_NOT);
  g_assert_cmpint (tell (design, 1), ==, SHERD_TELL_WELL);
  g_assert_cmpuint (design->verdicts[0].from->len, ==, 1);
  g_assert_cmpuint (g_array_index (design->verdicts[0].from, guint, 0), ==, 2);
  g_assert_cmpstr (words, ==, "cannot be told from A");
}

static SherdLayout *
layout_of_letters (const char *paints, const char *rows, const char *columns)
{
  const guint n_zones = (guint)strlen (paints);
  SherdLayout *layout = sherd_layout_new (n_zones);
  const char *const keys[] = { "paint", "row", "column" };
  const char *const words[] = { paints, rows, columns };

  for (guint i = 0; i < 3 && words[i] != NULL; i++)
    {
      g_auto (GStrv) letters = g_new0 (char *, n_zones + 1);
      g_autofree const char **levels = g_new0 (const char *, n_zones + 1);

      for (guint zone = 0; zone < n_zones; zone++)
        {
          letters[zone] = g_strndup (&words[i][zone], 1);
          levels[zone] = words[i][zone] == '-' ? NULL : letters[zone];
        }
      sherd_layout_add_levels (layout, keys[i], keys[i], i == 0 ? SHERD_ROLE_PAINT : SHERD_ROLE_PLACE, levels);
    }
  for (guint zone = 0; zone < n_zones; zone++)
    {
      g_autofree char *name = g_strdup_printf ("Z%u", zone + 1);

      sherd_layout_name_zone (layout, zone, name, FALSE);
    }
  return layout;
}

static void
test_latin_square_tells_all_three (void)
{
  g_autoptr (SherdLayout) layout = layout_of_letters ("ABCDBADCCDABDCBA", "1111222233334444", "1234123412341234");
  g_autoptr (SherdDesign) design = sherd_design_new (layout, FALSE);

  for (guint factor = 0; factor < 3; factor++)
    {
      g_assert_cmpint (tell (design, factor), ==, SHERD_TELL_WELL);
      g_assert_cmpfloat_with_epsilon (design->verdicts[factor].inflation, 1.0, ROUNDING);
      g_assert_cmpuint (design->verdicts[factor].n_scatter_df, ==, 6);
    }
}

/* All zones of a paint in one row. */
static void
test_paints_in_rows_cannot_be_told_from_rows (void)
{
  g_autoptr (SherdLayout) layout = layout_of_letters ("AAAABBBBCCCC", "111122223333", "123412341234");
  g_autoptr (SherdDesign) design = sherd_design_new (layout, FALSE);

  g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_NOT);
  g_assert_cmpint (tell (design, 1), ==, SHERD_TELL_NOT);
  g_assert_cmpint (tell (design, 2), ==, SHERD_TELL_WELL);
}

/* A and B on one side, C, D and E on the other: two groups, each of which can be compared within. */
static void
test_parted_paints_are_told_in_groups (void)
{
  g_autoptr (SherdLayout) layout = layout_of_letters ("ABABCDECDE", "1111222222", NULL);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, FALSE);
  const guint *groups = design->verdicts[0].groups;
  g_autofree char *words = sherd_design_describe (layout, &design->verdicts[0]);

  g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_PARTLY);
  g_assert_cmpint (tell (design, 1), ==, SHERD_TELL_NOT);
  g_assert_nonnull (groups);
  g_assert_cmpuint (groups[0], ==, groups[1]);
  g_assert_cmpuint (groups[2], ==, groups[3]);
  g_assert_cmpuint (groups[2], ==, groups[4]);
  g_assert_cmpuint (groups[0], !=, groups[2]);
  g_assert_nonnull (strstr (words, "A, B | C, D, E"));
}

static void
test_incomplete_blocks_lose_a_third (void)
{
  g_autoptr (SherdLayout) layout = layout_of_letters ("ABACADBCBDCD", "112233445566", NULL);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, FALSE);

  g_assert_cmpfloat_with_epsilon (design->verdicts[0].inflation, 1.5, ROUNDING);
}

/* One of eight zones on the back: p (1 − p) is 7/64 instead of 1/4; with 6 degrees of freedom Student's t is 2.4469
 * (tables), the normal quantile 1.95996. */
static void
test_unequal_numbers_lose_precision (void)
{
  static const char *const signs[] = { "-", "-", "-", "-", "-", "-", "-", "+" };
  g_autoptr (SherdLayout) layout = layout_of_signs (signs, 8, 1);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, FALSE);

  g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_WEAKLY);
  g_assert_cmpfloat_with_epsilon (design->verdicts[0].loss, sqrt (16.0 / 7.0) * 2.4469 / 1.95996, 1e-4);
}

/* Shares x1 + x2 + x3 = 1 over the six points of {3,2}, twice: with all three, each is made up of the others; with two,
 * their correlation is −1/2 (variance of x 5/36, covariance −5/72), so that 1 − R² is 3/4. */
static void
test_simplex_lattice_shares (void)
{
  static const double shares[3][6] = { { 1, 0, 0, .5, .5, 0 }, { 0, 1, 0, .5, 0, .5 }, { 0, 0, 1, 0, .5, .5 } };
  static const char *const paints[] = { "1", "2", "3", "12", "13", "23", "1", "2", "3", "12", "13", "23" };

  for (guint n_asked = 2; n_asked <= 3; n_asked++)
    {
      g_autoptr (SherdLayout) layout = sherd_layout_new (12);
      g_autoptr (SherdDesign) design = NULL;

      sherd_layout_add_levels (layout, "paint", "paint", SHERD_ROLE_PAINT, paints);
      for (guint i = 0; i < n_asked; i++)
        {
          double values[12];

          for (guint zone = 0; zone < 12; zone++)
            values[zone] = shares[i][zone % 6];
          sherd_layout_add_numbers (layout, "share", "share", SHERD_ROLE_COMPOSITION, values);
        }
      design = sherd_design_new (layout, FALSE);
      g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_WELL);
      g_assert_cmpint (tell (design, 1), ==, n_asked == 3 ? SHERD_TELL_NOT : SHERD_TELL_WELL);
      if (n_asked == 2)
        g_assert_cmpfloat_with_epsilon (design->verdicts[1].inflation, 4.0 / 3.0, ROUNDING);
      else
        g_assert_cmpuint (design->verdicts[1].from->len, ==, 2);
    }
}

static void
test_bare_zones_do_not_part_shares (void)
{
  const double first[] = { .2, .8, .5, .2, .8, .5, NAN, NAN }, second[] = { .8, .2, .5, .8, .2, .5, NAN, NAN };
  g_autoptr (SherdLayout) layout = layout_of_letters ("ABCABC--", "12121212", NULL);
  g_autoptr (SherdDesign) design = NULL;

  sherd_layout_add_numbers (layout, "a", "a", SHERD_ROLE_COMPOSITION, first);
  sherd_layout_add_numbers (layout, "b", "b", SHERD_ROLE_COMPOSITION, second);
  design = sherd_design_new (layout, FALSE);
  g_assert_cmpint (tell (design, 2), ==, SHERD_TELL_NOT);
  g_assert_cmpuint (g_array_index (design->verdicts[2].from, guint, 0), ==, 3);
}

/* Two pieces, one in each firing: twelve zones do not make the firing told; four pieces do. */
static void
test_firing_is_judged_by_pieces (void)
{
  for (guint n_pieces = 2; n_pieces <= 8; n_pieces += 6)
    {
      static const char *const pieces[] = { "P", "Q", "R", "S", "T", "U", "V", "W" };
      const guint n_zones = 6 * n_pieces;
      g_autoptr (SherdLayout) layout = sherd_layout_new (n_zones);
      g_autofree const char **piece = g_new (const char *, n_zones);
      g_autofree double *firing = g_new (double, n_zones);
      g_autoptr (SherdDesign) design = NULL;

      for (guint zone = 0; zone < n_zones; zone++)
        {
          piece[zone] = pieces[zone / 6];
          firing[zone] = zone / 6 % 2;
        }
      sherd_layout_add_levels (layout, "piece", "piece", SHERD_ROLE_PIECE, piece);
      sherd_layout_add_numbers (layout, "firing", "firing", SHERD_ROLE_PLACE, firing);
      design = sherd_design_new (layout, FALSE);
      g_assert_cmpint (tell (design, 1), ==, n_pieces == 2 ? SHERD_TELL_NOT : SHERD_TELL_WELL);
      g_assert_cmpint (design->verdicts[1].from_piece, ==, n_pieces == 2);
      g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_WELL);
    }
}

/* Eight sectors of 45°, three rings: cosine and sine are independent of ring and each other, and each direction stands
 * as often as the others. */
static void
test_directions_come_round (void)
{
  g_autoptr (SherdLayout) layout = sherd_layout_new (24);
  g_autoptr (SherdDesign) design = NULL;
  double around[24], turned[24], rings[24];

  for (guint zone = 0; zone < 24; zone++)
    {
      around[zone] = 45.0 * (zone % 8);
      turned[zone] = around[zone] + 360.0 * (zone % 3) - 720.0;
      rings[zone] = zone / 8;
    }
  sherd_layout_add_directions (layout, "around", "around", SHERD_ROLE_PLACE, around);
  sherd_layout_add_numbers (layout, "ring", "ring", SHERD_ROLE_PLACE, rings);
  design = sherd_design_new (layout, FALSE);
  g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_WELL);
  g_assert_cmpfloat_with_epsilon (design->verdicts[0].inflation, 1.0, ROUNDING);
  g_assert_cmpuint (design->verdicts[0].n_scatter_df, ==, 24 - 1 - 2 - 1);
  sherd_layout_add_directions (layout, "turned", "turned", SHERD_ROLE_PLACE, turned);
  sherd_design_free (design);
  design = sherd_design_new (layout, FALSE);
  g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_NOT);
  g_assert_cmpuint (g_array_index (design->verdicts[0].from, guint, 0), ==, 2);
}

/* Front and back alone are one question: 0° and 540°, of which the second is 180°. */
static void
test_two_directions_are_one_question (void)
{
  const double around[] = { 0, 540, 360, 180, 0, 180, 720, -180 };
  g_autoptr (SherdLayout) layout = sherd_layout_new (8);
  g_autoptr (SherdDesign) design = NULL;

  sherd_layout_add_directions (layout, "around", "around", SHERD_ROLE_PLACE, around);
  design = sherd_design_new (layout, FALSE);
  g_assert_cmpuint (design->verdicts[0].n_scatter_df, ==, 6);
  g_assert_cmpfloat_with_epsilon (design->verdicts[0].loss, 2.4469 / 1.95996, 1e-4);
}

static void
test_same_and_unknown_are_said (void)
{
  const double coats[] = { 2, 2, 2, 2 }, days[] = { 1, 3, INFINITY, 3 };
  g_autoptr (SherdLayout) layout = layout_of_letters ("ABAB", NULL, NULL);
  g_autoptr (SherdDesign) design = NULL;

  sherd_layout_add_numbers (layout, "coats", "coats", SHERD_ROLE_PLACE, coats);
  sherd_layout_add_numbers (layout, "days", "days", SHERD_ROLE_PLACE, days);
  design = sherd_design_new (layout, TRUE);
  g_assert_cmpint (tell (design, 1), ==, SHERD_TELL_SAME);
  g_assert_cmpint (tell (design, 2), ==, SHERD_TELL_UNKNOWN);
  g_assert_cmpuint (design->verdicts[2].n_unknown, ==, 1);
}

static void
test_no_zones_no_answers (void)
{
  g_autoptr (SherdLayout) layout = layout_of_letters ("", "", NULL);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, TRUE);

  g_assert_cmpuint (design->n_verdicts, ==, 2);
  g_assert_cmpint (tell (design, 0), ==, SHERD_TELL_SAME);
}

/* GSL's singular values of the same matrix, which the program does not use, count the rank. */
static guint
oracle_rank (const gsl_matrix *rows)
{
  g_autoptr (gsl_matrix) u = gsl_matrix_alloc (rows->size1, rows->size2);
  g_autoptr (gsl_matrix) v = gsl_matrix_alloc (rows->size2, rows->size2);
  g_autoptr (gsl_vector) values = gsl_vector_alloc (rows->size2);
  guint rank = 0;

  gsl_matrix_memcpy (u, rows);
  gsl_linalg_SV_decomp_jacobi (u, v, values);
  while (rank < rows->size2 && gsl_vector_get (values, rank) > 1e-10 * gsl_vector_get (values, 0))
    rank++;
  return rank;
}

static void
test_rank_is_that_of_singular_values (void)
{
  g_autoptr (gsl_rng) draw = sherd_draw_new (7);

  for (guint round = 0; round < 300; round++)
    {
      const guint n_rows = 8 + (guint)gsl_rng_uniform_int (draw, 30),
                  n_columns = 1 + (guint)gsl_rng_uniform_int (draw, 8);
      const guint rank = (guint)gsl_rng_uniform_int (draw, n_columns) + 1;
      g_autoptr (gsl_matrix) rows = gsl_matrix_calloc (n_rows, n_columns);
      g_autoptr (gsl_matrix) reduced = NULL;

      for (guint i = 0; i < n_rows; i++)
        for (guint j = 0; j < n_columns; j++)
          gsl_matrix_set (rows, i, j,
                          j < rank ? (double)gsl_rng_uniform_int (draw, 3)
                                   : gsl_matrix_get (rows, i, 0) - 2.0 * gsl_matrix_get (rows, i, j % rank));
      reduced = sherd_design_matrix_reduce (rows);
      g_assert_cmpuint (sherd_design_matrix_rank (rows), ==, oracle_rank (rows));
      g_assert_cmpuint (sherd_design_matrix_rank (reduced), ==, oracle_rank (rows));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/design/full-factorial-tells-all", test_full_factorial_tells_all);
  g_test_add_func ("/plan/design/half-of-2-3-has-its-aliases", test_half_of_2_3_has_its_aliases);
  g_test_add_func ("/plan/design/half-of-2-4-is-clear-of-pairs", test_half_of_2_4_is_clear_of_pairs);
  g_test_add_func ("/plan/design/quarter-of-2-5-has-its-aliases", test_quarter_of_2_5_has_its_aliases);
  g_test_add_func ("/plan/design/nothing-left-for-scatter-is-told", test_nothing_left_for_scatter_is_told);
  g_test_add_func ("/plan/design/twin-is-named", test_twin_is_named);
  g_test_add_func ("/plan/design/latin-square-tells-all-three", test_latin_square_tells_all_three);
  g_test_add_func ("/plan/design/paints-in-rows-cannot-be-told-from-rows",
                   test_paints_in_rows_cannot_be_told_from_rows);
  g_test_add_func ("/plan/design/parted-paints-are-told-in-groups", test_parted_paints_are_told_in_groups);
  g_test_add_func ("/plan/design/incomplete-blocks-lose-a-third", test_incomplete_blocks_lose_a_third);
  g_test_add_func ("/plan/design/unequal-numbers-lose-precision", test_unequal_numbers_lose_precision);
  g_test_add_func ("/plan/design/simplex-lattice-shares", test_simplex_lattice_shares);
  g_test_add_func ("/plan/design/bare-zones-do-not-part-shares", test_bare_zones_do_not_part_shares);
  g_test_add_func ("/plan/design/firing-is-judged-by-pieces", test_firing_is_judged_by_pieces);
  g_test_add_func ("/plan/design/directions-come-round", test_directions_come_round);
  g_test_add_func ("/plan/design/two-directions-are-one-question", test_two_directions_are_one_question);
  g_test_add_func ("/plan/design/same-and-unknown-are-said", test_same_and_unknown_are_said);
  g_test_add_func ("/plan/design/no-zones-no-answers", test_no_zones_no_answers);
  g_test_add_func ("/plan/design/rank-is-that-of-singular-values", test_rank_is_that_of_singular_values);
  return g_test_run ();
}
