/* SPDX-License-Identifier: GPL-3.0-or-later */

/* EXIF 2.32 (CIPA DC-008), tag Orientation: for each value the side of the picture as seen at which row 0 and column 0
 * of the picture as stored lie. From these sides the corners below follow by hand. */
#include "config.h"

#include <glib.h>

#include "photo/orientation.h"

#define WIDTH 30.0
#define HEIGHT 20.0

static const struct
{
  const char *name;
  double first_x, first_y; /* where the stored (0, 0) is seen */
  double right_x, right_y; /* where the stored (WIDTH, 0) is seen */
} cases[] = {
  { "1-row-0-top-column-0-left", 0, 0, WIDTH, 0 },
  { "2-row-0-top-column-0-right", WIDTH, 0, 0, 0 },
  { "3-row-0-bottom-column-0-right", WIDTH, HEIGHT, 0, HEIGHT },
  { "4-row-0-bottom-column-0-left", 0, HEIGHT, WIDTH, HEIGHT },
  { "5-row-0-left-column-0-top", 0, 0, 0, WIDTH },
  { "6-row-0-right-column-0-top", HEIGHT, 0, HEIGHT, WIDTH },
  { "7-row-0-right-column-0-bottom", HEIGHT, WIDTH, HEIGHT, 0 },
  { "8-row-0-left-column-0-bottom", 0, WIDTH, 0, 0 },
};

static void
check_point (guint orientation, double x, double y, double expected_x, double expected_y)
{
  double x_upright, y_upright, x_stored, y_stored;

  sherd_orientation_to_upright (orientation, WIDTH, HEIGHT, x, y, &x_upright, &y_upright);
  g_assert_cmpfloat (x_upright, ==, expected_x);
  g_assert_cmpfloat (y_upright, ==, expected_y);
  sherd_orientation_to_stored (orientation, WIDTH, HEIGHT, x_upright, y_upright, &x_stored, &y_stored);
  g_assert_cmpfloat (x_stored, ==, x);
  g_assert_cmpfloat (y_stored, ==, y);
}

static void
test_corners (gconstpointer data)
{
  const guint i = GPOINTER_TO_UINT (data);

  check_point (i + 1, 0, 0, cases[i].first_x, cases[i].first_y);
  check_point (i + 1, WIDTH, 0, cases[i].right_x, cases[i].right_y);
  g_assert_cmpint (sherd_orientation_turns (i + 1), ==, i + 1 >= 5);
}

static void
test_nonsense_is_upright (void)
{
  check_point (0, 3, 4, 3, 4);
  check_point (9, 3, 4, 3, 4);
  check_point (G_MAXUINT, 3, 4, 3, 4);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strconcat ("/photo/orientation/exif-2.32/", cases[i].name, NULL);

      g_test_add_data_func (path, GUINT_TO_POINTER (i), test_corners);
    }
  g_test_add_func ("/photo/orientation/nonsense-is-upright", test_nonsense_is_upright);
  return g_test_run ();
}
