/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Marks by hand: the corners of a tile of 100 × 80 mm, seen in a photograph at ten pixels per mm, slightly askew; then
 * each case is spoiled in the way that its message must name. */

#include "config.h"

#include "shape/mark.h"

#include <math.h>
#include <string.h>

#define MARK_SD_PX 0.5

/* From the top left corner to the right, as the potter is asked to go. */
static const SherdMark corners[4] = {
  { { 0, 0 }, { 210, 190 } },
  { { 100, 0 }, { 1190, 220 } },
  { { 100, 80 }, { 1170, 1010 } },
  { { 0, 80 }, { 200, 980 } },
};

static void
exchange (SherdMark *marks, guint first, guint second)
{
  const SherdPoint kept = marks[first].photo_px;

  marks[first].photo_px = marks[second].photo_px;
  marks[second].photo_px = kept;
}

static void
assert_refused (const SherdMark *marks, gsize n_marks, SherdShapeError code, const char *words)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_marks_check (marks, n_marks, MARK_SD_PX, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, (int)code);
  if (strstr (error->message, words) == NULL)
    g_test_message ("“%s” lacks “%s”", error->message, words);
  g_assert_nonnull (strstr (error->message, words));
}

static void
assert_accepted (const SherdMark *marks, gsize n_marks)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (sherd_marks_check (marks, n_marks, MARK_SD_PX, &error));
  g_assert_no_error (error);
}

static void
test_accepts_four_corners (void)
{
  assert_accepted (corners, 4);
}

/* A tile that lies on its side or upside down in the photograph is still seen from the front. */
static void
test_accepts_a_turned_piece (void)
{
  SherdMark marks[4];

  for (guint turn = 1; turn < 4; turn++)
    {
      for (guint i = 0; i < 4; i++)
        marks[i] = (SherdMark){ corners[i].piece_mm, corners[(i + turn) % 4].photo_px };
      assert_accepted (marks, 4);
    }
}

/* A fifth mark on an edge lies in line with two corners, and that is well. */
static void
test_accepts_a_fifth_mark_on_an_edge (void)
{
  SherdMark marks[5];

  memcpy (marks, corners, sizeof corners);
  marks[4] = (SherdMark){ { 50, 0 }, { 700, 205 } };
  assert_accepted (marks, 5);
}

static void
test_refuses_three_marks (void)
{
  assert_refused (corners, 3, SHERD_SHAPE_ERROR_FEW_MARKS, "only 3");
}

static void
test_refuses_a_mark_that_is_nowhere (void)
{
  const double nowhere[] = { NAN, INFINITY, -1e12 };

  for (guint i = 0; i < G_N_ELEMENTS (nowhere); i++)
    {
      SherdMark marks[4];

      memcpy (marks, corners, sizeof corners);
      marks[2].photo_px.y = nowhere[i];
      assert_refused (marks, 4, SHERD_SHAPE_ERROR_DEGENERATE, "Mark 3 is nowhere");
      memcpy (marks, corners, sizeof corners);
      marks[1].piece_mm.x = nowhere[i];
      assert_refused (marks, 4, SHERD_SHAPE_ERROR_DEGENERATE, "Mark 2 is nowhere");
    }
}

static void
test_refuses_two_marks_on_one_place (void)
{
  SherdMark marks[4];

  memcpy (marks, corners, sizeof corners);
  marks[3].photo_px = (SherdPoint){ marks[0].photo_px.x + 0.3, marks[0].photo_px.y };
  assert_refused (marks, 4, SHERD_SHAPE_ERROR_DEGENERATE, "Marks 1 and 4 lie on one place of the photograph");
}

static void
test_refuses_two_marks_of_one_point (void)
{
  SherdMark marks[4];

  memcpy (marks, corners, sizeof corners);
  marks[2].piece_mm = marks[1].piece_mm;
  assert_refused (marks, 4, SHERD_SHAPE_ERROR_DEGENERATE, "Marks 2 and 3 stand for the same point");
}

static void
test_refuses_three_marks_in_a_line_of_the_photograph (void)
{
  SherdMark marks[4];

  memcpy (marks, corners, sizeof corners);
  marks[2].photo_px.x = (marks[1].photo_px.x + marks[3].photo_px.x) / 2 + 0.4;
  marks[2].photo_px.y = (marks[1].photo_px.y + marks[3].photo_px.y) / 2;
  assert_refused (marks, 4, SHERD_SHAPE_ERROR_DEGENERATE, "Marks 2, 3, 4 lie in one line in the photograph");
}

static void
test_refuses_three_points_in_a_line_of_the_piece (void)
{
  SherdMark marks[4];

  memcpy (marks, corners, sizeof corners);
  marks[1].piece_mm = (SherdPoint){ 0, 40 };
  assert_refused (marks, 4, SHERD_SHAPE_ERROR_DEGENERATE, "Marks 1, 2, 4 stand for points in one line");
}

/* Five in a line and one beside it leave the plane free to turn about the line. */
static void
test_refuses_a_line_with_one_mark_beside_it (void)
{
  SherdMark marks[6];

  for (guint i = 0; i < 5; i++)
    marks[i] = (SherdMark){ { 20.0 * i, 0 }, { 200 + 200.0 * i, 100 } };
  marks[5] = (SherdMark){ { 0, 80 }, { 200, 900 } };
  assert_refused (marks, 6, SHERD_SHAPE_ERROR_DEGENERATE, "Marks 1, 2, 3, 4, 5 stand for points in one line");
}

static void
test_names_two_exchanged_marks (void)
{
  for (guint first = 0; first < 4; first++)
    {
      const guint second = (first + 1) % 4;
      g_autofree char *words =
        g_strdup_printf ("Marks %u and %u seem to be exchanged", MIN (first, second) + 1, MAX (first, second) + 1);
      SherdMark marks[4];

      memcpy (marks, corners, sizeof corners);
      exchange (marks, first, second);
      assert_refused (marks, 4, SHERD_SHAPE_ERROR_DEGENERATE, words);
    }
}

static void
test_refuses_marks_that_go_round_the_wrong_way (void)
{
  SherdMark marks[4];

  memcpy (marks, corners, sizeof corners);
  exchange (marks, 1, 3);
  assert_refused (marks, 4, SHERD_SHAPE_ERROR_DEGENERATE, "go round the wrong way");
}

static void
test_names_a_mark_between_the_others (void)
{
  SherdMark marks[4];

  memcpy (marks, corners, sizeof corners);
  marks[2].photo_px = (SherdPoint){ 450, 450 };
  assert_refused (marks, 4, SHERD_SHAPE_ERROR_DEGENERATE, "Mark 3 lies between the other three");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/mark/accepts-four-corners", test_accepts_four_corners);
  g_test_add_func ("/shape/mark/accepts-a-turned-piece", test_accepts_a_turned_piece);
  g_test_add_func ("/shape/mark/accepts-a-fifth-mark-on-an-edge", test_accepts_a_fifth_mark_on_an_edge);
  g_test_add_func ("/shape/mark/refuses-three-marks", test_refuses_three_marks);
  g_test_add_func ("/shape/mark/refuses-a-mark-that-is-nowhere", test_refuses_a_mark_that_is_nowhere);
  g_test_add_func ("/shape/mark/refuses-two-marks-on-one-place", test_refuses_two_marks_on_one_place);
  g_test_add_func ("/shape/mark/refuses-two-marks-of-one-point", test_refuses_two_marks_of_one_point);
  g_test_add_func ("/shape/mark/refuses-three-in-a-line-of-the-photograph",
                   test_refuses_three_marks_in_a_line_of_the_photograph);
  g_test_add_func ("/shape/mark/refuses-three-in-a-line-of-the-piece",
                   test_refuses_three_points_in_a_line_of_the_piece);
  g_test_add_func ("/shape/mark/refuses-a-line-with-one-beside-it", test_refuses_a_line_with_one_mark_beside_it);
  g_test_add_func ("/shape/mark/names-two-exchanged-marks", test_names_two_exchanged_marks);
  g_test_add_func ("/shape/mark/refuses-the-wrong-way-round", test_refuses_marks_that_go_round_the_wrong_way);
  g_test_add_func ("/shape/mark/names-a-mark-between-the-others", test_names_a_mark_between_the_others);
  return g_test_run ();
}
