/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Outlines by hand. */

#include "config.h"

#include "shape/tracing.h"

#include <math.h>
#include <string.h>

static const SherdPoint SHERD_PX[] = { { 300, 200 }, { 700, 250 }, { 650, 600 }, { 420, 500 }, { 350, 650 } };

static void
test_traced_outline_is_scaled (void)
{
  const SherdTracingScale scale = { { 100, 900 }, { 500, 1200 }, 100.0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdOutline) traced = sherd_outline_new (SHERD_PX, G_N_ELEMENTS (SHERD_PX));
  g_autoptr (SherdOutline) outline = sherd_tracing_outline (SHERD_PX, G_N_ELEMENTS (SHERD_PX), &scale, &error);

  g_assert_no_error (error);
  /* 500 px are 100 mm. */
  g_assert_cmpfloat_with_epsilon (sherd_outline_area (outline), sherd_outline_area (traced) / 25.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (outline->points[0].x, 0.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (outline->points[1].x, 80.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (outline->points[1].y, 10.0, 1e-9);
}

/* The back is the face seen in a mirror, and its points go round the same way. */
static void
test_back_is_mirrored (void)
{
  g_autoptr (SherdOutline) face = sherd_outline_new (SHERD_PX, G_N_ELEMENTS (SHERD_PX));
  g_autoptr (SherdOutline) back = sherd_outline_mirror (face);

  g_assert_cmpfloat_with_epsilon (sherd_outline_signed_area (back), sherd_outline_signed_area (face), 1e-6);
  g_assert_cmpfloat_with_epsilon (back->points[4].x, 400.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (back->points[4].y, 0.0, 1e-9);
}

static void
test_disc_has_its_area_and_edge (void)
{
  g_autoptr (SherdOutline) disc = sherd_outline_new_disc ((SherdPoint){ 50, 40 }, 180.0);

  g_assert_cmpfloat_with_epsilon (sherd_outline_area (disc), G_PI * 8100.0, 1e-8);
  for (gsize i = 0; i < disc->n_points; i++)
    g_assert_cmpfloat_with_epsilon (hypot (disc->points[i].x - 50.0, disc->points[i].y - 40.0), 90.0, 0.01);
}

static void
assert_refused (const SherdPoint *points, gsize n_points, const char *words)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (points, n_points);
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_outline_check (outline, NULL, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE);
  g_assert_nonnull (strstr (error->message, words));
}

static void
test_outlines_that_cannot_be_are_refused (void)
{
  const SherdPoint bow[] = { { 0, 0 }, { 80, 80 }, { 80, 0 }, { 0, 80 } };
  const SherdPoint thin[] = { { 0, 0 }, { 80, 0 }, { 80, 0.1 } };
  const SherdPoint odd[] = { { 0, 0 }, { 80, 0 }, { NAN, 80 } };

  assert_refused (bow, 2, "three points");
  assert_refused (bow, 4, "crosses itself 40.0 mm from the left");
  assert_refused (thin, 3, "less than");
  assert_refused (odd, 3, "Point 3");
}

static void
test_scale_of_nothing_is_refused (void)
{
  const SherdTracingScale scale = { { 100, 900 }, { 105, 900 }, 100.0 }, no_length = { { 0, 0 }, { 500, 0 }, 0.0 };
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_tracing_outline (SHERD_PX, G_N_ELEMENTS (SHERD_PX), &scale, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE);
  g_assert_null (sherd_tracing_outline (SHERD_PX, G_N_ELEMENTS (SHERD_PX), &no_length, NULL));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/tracing/traced-outline-is-scaled", test_traced_outline_is_scaled);
  g_test_add_func ("/shape/tracing/back-is-mirrored", test_back_is_mirrored);
  g_test_add_func ("/shape/tracing/disc-has-its-area-and-edge", test_disc_has_its_area_and_edge);
  g_test_add_func ("/shape/tracing/outlines-that-cannot-be-are-refused", test_outlines_that_cannot_be_are_refused);
  g_test_add_func ("/shape/tracing/scale-of-nothing-is-refused", test_scale_of_nothing_is_refused);
  return g_test_run ();
}
