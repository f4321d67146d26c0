/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The forms are those that --help of the verbs states; what must be refused is written beside each. */
#include "config.h"

#include "batch/words.h"

static void
assert_refused (gboolean taken, GError **error, const char *option)
{
  g_assert_false (taken);
  g_assert_error (*error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE);
  g_assert_nonnull (g_strrstr ((*error)->message, option));
  g_clear_error (error);
}

static void
test_numbers_are_as_many_as_wanted (void)
{
  static const char *const wrong[] = { "", "1", "1,2,3", "1;2", "1,x", "1,2mm", "nan,1", "inf,1", "1,,2", "0x10;1" };
  double numbers[2];
  GError *error = NULL;

  g_assert_true (sherd_words_numbers ("gap", " 4.5, -1e1", numbers, 2, FALSE, NULL));
  g_assert_cmpfloat (numbers[0], ==, 4.5);
  g_assert_cmpfloat (numbers[1], ==, -10.0);
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_refused (sherd_words_numbers ("gap", wrong[i], numbers, 2, FALSE, &error), &error, "--gap");
}

static void
test_one_number_stands_for_all_where_allowed (void)
{
  double numbers[4];

  g_assert_true (sherd_words_numbers ("margin", "6", numbers, 4, TRUE, NULL));
  for (guint i = 0; i < 4; i++)
    g_assert_cmpfloat (numbers[i], ==, 6.0);
}

static void
test_sizes_may_leave_out_the_last (void)
{
  static const char *const wrong[] = { "150", "150x", "x100", "1x2x3x4", "150,100", "ax b" };
  double size_mm[3] = { 0.0, 0.0, 7.0 };
  GError *error = NULL;

  g_assert_true (sherd_words_size ("tile", "150x100.5", size_mm, 3, 2, NULL));
  g_assert_cmpfloat (size_mm[0], ==, 150.0);
  g_assert_cmpfloat (size_mm[1], ==, 100.5);
  g_assert_cmpfloat (size_mm[2], ==, 7.0);
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_refused (sherd_words_size ("tile", wrong[i], size_mm, 3, 2, &error), &error, "--tile");
}

static void
test_rows_and_columns_are_whole (void)
{
  static const char *const wrong[] = { "3", "3.5x4", "0x4", "-3x4", "3x4x5", "1e9x1", "x" };
  guint n_rows, n_columns;
  GError *error = NULL;

  g_assert_true (sherd_words_rows_columns ("zones", "3X4", &n_rows, &n_columns, NULL));
  g_assert_cmpuint (n_rows, ==, 3);
  g_assert_cmpuint (n_columns, ==, 4);
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_refused (sherd_words_rows_columns ("zones", wrong[i], &n_rows, &n_columns, &error), &error, "--zones");
}

static void
test_four_points_are_four (void)
{
  static const char *const wrong[] = { "", "1,2 3,4 5,6", "1,2 3,4 5,6 7,8 9,1", "1 2 3 4", "1,2 3,4 5,6 7,y" };
  SherdPoint points[4];
  GError *error = NULL;

  g_assert_true (sherd_words_four_points ("corners", "1,2  3,4; 5,6 7,8.5", points, NULL));
  g_assert_cmpfloat (points[3].x, ==, 7.0);
  g_assert_cmpfloat (points[3].y, ==, 8.5);
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_refused (sherd_words_four_points ("corners", wrong[i], points, &error), &error, "--corners");
}

static void
test_a_mark_joins_piece_and_photograph (void)
{
  static const char *const wrong[] = { "1,2", "=1,2", "1,2=", "1=2,3", "1,2=3,4=5,6", "1,2=3" };
  SherdMark mark;
  GError *error = NULL;

  g_assert_true (sherd_words_mark ("mark", "12.5,0=812,403.5", &mark, NULL));
  g_assert_cmpfloat (mark.piece_mm.x, ==, 12.5);
  g_assert_cmpfloat (mark.piece_mm.y, ==, 0.0);
  g_assert_cmpfloat (mark.photo_px.x, ==, 812.0);
  g_assert_cmpfloat (mark.photo_px.y, ==, 403.5);
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    assert_refused (sherd_words_mark ("mark", wrong[i], &mark, &error), &error, "--mark");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/batch/words/numbers-are-as-many-as-wanted", test_numbers_are_as_many_as_wanted);
  g_test_add_func ("/batch/words/one-number-stands-for-all-where-allowed",
                   test_one_number_stands_for_all_where_allowed);
  g_test_add_func ("/batch/words/sizes-may-leave-out-the-last", test_sizes_may_leave_out_the_last);
  g_test_add_func ("/batch/words/rows-and-columns-are-whole", test_rows_and_columns_are_whole);
  g_test_add_func ("/batch/words/four-points-are-four", test_four_points_are_four);
  g_test_add_func ("/batch/words/a-mark-joins-piece-and-photograph", test_a_mark_joins_piece_and_photograph);
  return g_test_run ();
}
