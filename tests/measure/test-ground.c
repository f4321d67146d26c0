/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: by hand, on faces of our own making. */
#include "config.h"

#include "measure/field.h"
#include "measure/ground.h"

#include <math.h>

#define WIDTH_MM 100.0
#define HEIGHT_MM 60.0

static void
test_mask_keeps_off_zones_and_edges (void)
{
  g_autoptr (SherdOutline) painted = sherd_outline_new_rectangle (20, 20, 30, 20);
  g_autoptr (SherdOutline) bare = sherd_outline_new_rectangle (60, 20, 30, 20);
  const SherdMeasureZone zones[] = { { "1", "A1", painted, FALSE }, { "2", "A2", bare, TRUE } };
  g_autoptr (SherdGroundMask) mask = sherd_ground_mask_new (WIDTH_MM, HEIGHT_MM, zones, 2, 1.0);

  g_assert_false (sherd_ground_mask_contains (mask, 35, 30));   /* paint */
  g_assert_false (sherd_ground_mask_contains (mask, 19.5, 30)); /* its wavering edge */
  g_assert_true (sherd_ground_mask_contains (mask, 18.5, 30));
  g_assert_true (sherd_ground_mask_contains (mask, 75, 30)); /* a bare control is ground */
  g_assert_false (sherd_ground_mask_contains (mask, 0.5, 30));
  g_assert_false (sherd_ground_mask_contains (mask, -3, 30));
  g_assert_false (sherd_ground_mask_contains (mask, 50, 61));
}

/* One pixel every millimetre, a light of exp (0.001 x) on ground of 0.4. */
static GArray *
make_cells (double blob_ln)
{
  const gsize n = (gsize)(WIDTH_MM * HEIGHT_MM);
  g_autofree float *rgb = g_new (float, 3 * n);
  g_autofree float *x = g_new (float, n);
  g_autofree float *y = g_new (float, n);

  for (gsize i = 0; i < n; i++)
    {
      double ln;

      x[i] = (float)(i % (gsize)WIDTH_MM) + 0.5f;
      y[i] = (float)(i / (gsize)WIDTH_MM) + 0.5f;
      ln = 0.001 * x[i] + blob_ln * exp (-(pow (x[i] - 50, 2) + pow (y[i] - 30, 2)) / (2 * 15 * 15));
      for (guint c = 0; c < 3; c++)
        rgb[3 * i + c] = (float)(0.4 * exp (ln));
      /* Every tenth pixel is a crumb. */
      if (i % 10 == 0)
        rgb[3 * i] = rgb[3 * i + 1] = rgb[3 * i + 2] = 0.01f;
    }
  return sherd_ground_cells (WIDTH_MM, HEIGHT_MM, rgb, x, y, n);
}

static void
test_cells_are_medians (void)
{
  g_autoptr (GArray) cells = make_cells (0);

  g_assert_cmpuint (cells->len, ==, 20 * 12);
  for (guint i = 0; i < cells->len; i++)
    {
      const SherdGroundCell *cell = &g_array_index (cells, SherdGroundCell, i);

      g_assert_cmpuint (cell->n_pixels, ==, 25);
      /* Crumbs shift the median by at most one of 25 pixels, a millimetre: 0.2 %. */
      g_assert_cmpfloat_with_epsilon (cell->ln_value[1], log (0.4) + 0.001 * cell->centre_mm.x, 0.003);
    }
}

static void
test_few_pixels_make_no_cell (void)
{
  const float rgb[9] = { 0.4f, 0.4f, 0.4f, 0.4f, 0.4f, 0.4f, 0.4f, 0.4f, 0.4f };
  const float x[3] = { 1, 2, 3 }, y[3] = { 1, 1, 1 };
  g_autoptr (GArray) cells = sherd_ground_cells (WIDTH_MM, HEIGHT_MM, rgb, x, y, 3);

  g_assert_cmpuint (cells->len, ==, 0);
}

static SherdCamera
camera_above (void)
{
  return (SherdCamera){ .focal_px = 2000,
                        .centre_x_px = 800,
                        .centre_y_px = 600,
                        .rotation = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } },
                        .translation = { -50, -30, 500 } };
}

static void
make_field (SherdField *field, const GArray *cells)
{
  const double middle_mm[3] = { 50, 30, 0 };
  const SherdCamera camera = camera_above ();
  SherdLight light;

  sherd_light_init_even (&light, middle_mm);
  for (guint c = 0; c < 3; c++)
    light.parameters[SHERD_LIGHT_LN_GROUND + c] = log (0.4);
  sherd_field_init (field, &light, &camera, WIDTH_MM, HEIGHT_MM, cells);
}

static void
test_field_takes_up_what_the_lamp_leaves (void)
{
  g_autoptr (GArray) cells = make_cells (0.04);
  SherdField field;
  double at[3];

  /* By hand: smoothing by 12 mm leaves 15² ÷ (15² + 12²) of a spot of 15 mm, the slope as it is: 0.05 + 0.04 × 0.610 =
   * 0.0744. The ground has no mottling of its own, so nearly all of that is believed. */
  make_field (&field, cells);
  sherd_field_at (&field, 50, 30, at);
  g_assert_cmpfloat_with_epsilon (log (at[1]), 0.0744, 0.002);
}

/* Cells of 5 mm of clay of 0.4 in even light, blotched by @sd in patches of @blotch × @blotch cells. */
static GArray *
make_mottled_cells (double sd, guint blotch)
{
  GArray *cells = g_array_new (FALSE, FALSE, sizeof (SherdGroundCell));
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  double blotches[12][20];

  for (guint row = 0; row < 12; row++)
    for (guint column = 0; column < 20; column++)
      {
        SherdGroundCell cell = { .centre_mm = { 5 * column + 2.5, 5 * row + 2.5 }, .n_pixels = 25 };
        double *at = &blotches[row][column];

        /* Uniform, of standard deviation 1 when multiplied by √12. */
        *at = row % blotch == 0 && column % blotch == 0 ? sqrt (12) * (g_rand_double (rand) - 0.5)
                                                        : blotches[row - row % blotch][column - column % blotch];
        for (guint c = 0; c < 3; c++)
          cell.ln_value[c] = log (0.4) + sd * *at;
        g_array_append_val (cells, cell);
      }
  return cells;
}

static void
test_mottling_is_not_taken_for_light (void)
{
  g_autoptr (GArray) cells = make_mottled_cells (0.04, 1), blotched = make_mottled_cells (0.04, 2);
  double of_ln[3][3], worst = 0;
  SherdField field;

  g_test_summary ("Clay mottled by 4 % in even light: following it would err by 0.6 %, half a unit of L* at times.");
  make_field (&field, cells);
  for (guint x = 10; x <= 90; x += 10)
    for (guint y = 10; y <= 50; y += 10)
      {
        double at[3];

        sherd_field_at (&field, x, y, at);
        worst = MAX (worst, fabs (log (at[1])));
      }
  g_assert_cmpfloat (worst, <, 0.004);
  sherd_field_local_covariance (&field, (SherdPoint){ 50, 30 }, of_ln);
  g_assert_cmpfloat (sqrt (of_ln[1][1]), <, 0.004);
  g_assert_cmpfloat_with_epsilon (sqrt (field.brightness.own_variance), 0.04, 0.004);
  g_assert_cmpfloat_with_epsilon (field.brightness.alike, 1, 0.5); /* nine tenths of a pair in ten, drawn */
  /* In blotches of four a cell has three like it: together they tell as much as one. */
  make_field (&field, blotched);
  g_assert_cmpfloat_with_epsilon (field.brightness.alike, 4, 1);
}

static void
test_field_without_ground_is_the_lamp (void)
{
  g_autoptr (GArray) none = g_array_new (FALSE, FALSE, sizeof (SherdGroundCell));
  SherdField field;
  double at[3], of_ln[3][3];

  make_field (&field, none);
  sherd_field_at (&field, 70, 10, at);
  g_assert_cmpfloat_with_epsilon (at[0], 1, 1e-5);
  g_assert_cmpfloat_with_epsilon (field.uneven_frac, 0, 1e-5);
  sherd_field_local_covariance (&field, (SherdPoint){ 50, 30 }, of_ln);
  g_assert_cmpfloat (of_ln[0][0], ==, 0);
}

static void
test_ground_close_by_makes_surer (void)
{
  g_autoptr (GArray) cells = make_cells (0.05);
  SherdField field;
  double inside[3][3], beyond[3][3];

  make_field (&field, cells);
  sherd_field_local_covariance (&field, (SherdPoint){ 50, 30 }, inside);
  sherd_field_local_covariance (&field, (SherdPoint){ 160, 30 }, beyond);
  g_assert_cmpfloat (inside[0][0], <, beyond[0][0] / 4);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/ground/mask-keeps-off-zones-and-edges", test_mask_keeps_off_zones_and_edges);
  g_test_add_func ("/measure/ground/cells-are-medians", test_cells_are_medians);
  g_test_add_func ("/measure/ground/few-pixels-make-no-cell", test_few_pixels_make_no_cell);
  g_test_add_func ("/measure/field/takes-up-what-the-lamp-leaves", test_field_takes_up_what_the_lamp_leaves);
  g_test_add_func ("/measure/field/mottling-is-not-taken-for-light", test_mottling_is_not_taken_for_light);
  g_test_add_func ("/measure/field/without-ground-is-the-lamp", test_field_without_ground_is_the_lamp);
  g_test_add_func ("/measure/field/ground-close-by-makes-surer", test_ground_close_by_makes_surer);
  return g_test_run ();
}
