/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers by hand, in the comments beside them; the rest are properties: there and back, the place under the pointer
 * keeps its place. */
#include "config.h"

#include "desk/photo-view.h"

#include <math.h>

/* Doubles through one multiplication and one division, at most some 6,000 px away: far below a thousandth. */
#define ROUNDING_PX 1e-9
/* The origin is a whole number of widget pixels, so a place can be half of one away from where it was asked for. */
#define HALF_A_WIDGET_PX 0.5

/* A 24-megapixel photograph. */
static SherdPhotoView
view_of_24_mp (void)
{
  SherdPhotoView view = {
    .zoom = 1.0, .width_px = 1000.0, .height_px = 700.0, .photo_width_px = 6000.0, .photo_height_px = 4000.0
  };

  sherd_photo_view_fit (&view);
  return view;
}

static void
test_fit (void)
{
  const SherdPhotoView view = view_of_24_mp ();
  const SherdPoint corner = sherd_photo_view_to_widget (&view, (SherdPoint){ 0.0, 0.0 });

  /* (1000 − 2 · 12) / 6000 is less than (700 − 2 · 12) / 4000: the width decides. */
  g_assert_cmpfloat_with_epsilon (view.zoom, 976.0 / 6000.0, 1e-12);
  /* 12 px from the left; 350 − 2000 · 0.16267 = 24.67, as a whole number 25. */
  g_assert_cmpfloat (corner.x, ==, 12.0);
  g_assert_cmpfloat (corner.y, ==, 25.0);
}

static void
test_one_to_one_by_hand (void)
{
  SherdPhotoView view = view_of_24_mp ();
  SherdPoint at;

  sherd_photo_view_set (&view, 1.0, (SherdPoint){ 3000.0, 2000.0 });
  at = sherd_photo_view_to_widget (&view, (SherdPoint){ 3010.5, 1990.25 });
  g_assert_cmpfloat_with_epsilon (at.x, 510.5, ROUNDING_PX);  /* 500 + 10.5 */
  g_assert_cmpfloat_with_epsilon (at.y, 340.25, ROUNDING_PX); /* 350 − 9.75 */
}

static void
test_there_and_back (void)
{
  SherdPhotoView view = view_of_24_mp ();

  for (double zoom = sherd_photo_view_smallest_zoom (&view); zoom <= sherd_photo_view_largest_zoom (&view); zoom *= 1.3)
    for (double x = 0.0; x <= 6000.0; x += 750.25)
      {
        const SherdPoint photo_px = { x, x * 0.6 + 1.0 / 3.0 };
        SherdPoint back;

        sherd_photo_view_set (&view, zoom, (SherdPoint){ x / 2.0, 1234.5 });
        back = sherd_photo_view_to_photo (&view, sherd_photo_view_to_widget (&view, photo_px));
        g_assert_cmpfloat_with_epsilon (back.x, photo_px.x, ROUNDING_PX);
        g_assert_cmpfloat_with_epsilon (back.y, photo_px.y, ROUNDING_PX);
      }
}

static void
test_zoom_keeps_the_place_under_the_pointer (void)
{
  SherdPhotoView view = view_of_24_mp ();
  const SherdPoint pointer_px = { 310.0, 222.0 };
  const SherdPoint photo_px = sherd_photo_view_to_photo (&view, pointer_px);

  for (double zoom = view.zoom; zoom < 32.0; zoom *= 1.1)
    {
      SherdPoint at;

      sherd_photo_view_hold (&view, zoom, photo_px, pointer_px);
      at = sherd_photo_view_to_widget (&view, photo_px);
      g_assert_cmpfloat_with_epsilon (view.zoom, zoom, 1e-12);
      g_assert_cmpfloat (fabs (at.x - pointer_px.x), <=, HALF_A_WIDGET_PX + ROUNDING_PX);
      g_assert_cmpfloat (fabs (at.y - pointer_px.y), <=, HALF_A_WIDGET_PX + ROUNDING_PX);
    }
}

static void
test_zoom_stays_in_its_limits (void)
{
  SherdPhotoView view = view_of_24_mp ();
  const double fit_zoom = view.zoom;

  sherd_photo_view_set (&view, 1e6, view.centre_photo_px);
  g_assert_cmpfloat (view.zoom, ==, 32.0);
  sherd_photo_view_set (&view, 1e-6, view.centre_photo_px);
  g_assert_cmpfloat_with_epsilon (view.zoom, fit_zoom / 2.0, 1e-12);
}

static void
test_pan_moves_by_what_was_dragged (void)
{
  SherdPhotoView view = view_of_24_mp ();
  const SherdPoint photo_px = { 100.0, 50.0 };
  SherdPoint before, after;

  sherd_photo_view_set (&view, 0.37, (SherdPoint){ 3000.0, 2000.0 });
  before = sherd_photo_view_to_widget (&view, photo_px);
  sherd_photo_view_pan (&view, 40.0, -25.0);
  after = sherd_photo_view_to_widget (&view, photo_px);
  g_assert_cmpfloat_with_epsilon (after.x - before.x, 40.0, ROUNDING_PX);
  g_assert_cmpfloat_with_epsilon (after.y - before.y, -25.0, ROUNDING_PX);
}

static void
test_pan_cannot_lose_the_photograph (void)
{
  SherdPhotoView view = view_of_24_mp ();

  sherd_photo_view_pan (&view, 1e7, -1e7);
  g_assert_cmpfloat (view.centre_photo_px.x, ==, 0.0);
  g_assert_cmpfloat (view.centre_photo_px.y, ==, 4000.0);
}

static void
test_reveal_moves_as_little_as_needed (void)
{
  SherdPhotoView view = view_of_24_mp ();
  SherdPoint at;

  sherd_photo_view_set (&view, 1.0, (SherdPoint){ 3000.0, 2000.0 });
  sherd_photo_view_reveal (&view, (SherdPoint){ 3100.0, 2100.0 }, 50.0); /* seen already */
  g_assert_cmpfloat (view.centre_photo_px.x, ==, 3000.0);
  sherd_photo_view_reveal (&view, (SherdPoint){ 4000.0, 2000.0 }, 50.0);
  at = sherd_photo_view_to_widget (&view, (SherdPoint){ 4000.0, 2000.0 });
  g_assert_cmpfloat_with_epsilon (at.x, 950.0, ROUNDING_PX);
  g_assert_cmpfloat_with_epsilon (at.y, 350.0, ROUNDING_PX);
}

/* Level n has 1/2ⁿ of the pixels a side: at zoom z, 1/z photo px make one widget px. */
static void
test_level_is_just_above_the_screen (void)
{
  static const struct
  {
    double zoom;
    int scale_factor;
    guint sharp;
    guint quick;
  } cases[] = {
    { 2.0, 1, 0, 0 },                         /* larger than life: nothing to halve */
    { 1.0, 1, 0, 0 },    { 0.8, 1, 0, 0 },    /* log2 1.25 = 0.32 */
    { 0.72, 1, 0, 1 },                        /* log2 1.39 = 0.47, less 0.415 */
    { 0.6, 1, 0, 1 },                         /* log2 1.67 = 0.74 */
    { 0.5, 1, 1, 1 },    { 0.1627, 1, 2, 3 }, /* log2 6.15 = 2.62 */
    { 0.1627, 2, 1, 2 },                      /* two device px a widget px need one halving less */
    { 0.01, 1, 6, 7 },                        /* log2 100 = 6.64 */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const SherdPhotoView view = { .zoom = cases[i].zoom };

      g_assert_cmpuint (sherd_photo_view_sharp_level (&view, cases[i].scale_factor), ==, cases[i].sharp);
      g_assert_cmpuint (sherd_photo_view_quick_level (&view, cases[i].scale_factor), ==, cases[i].quick);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/desk/photo-view/fit-shows-all-with-a-margin", test_fit);
  g_test_add_func ("/desk/photo-view/one-to-one-by-hand", test_one_to_one_by_hand);
  g_test_add_func ("/desk/photo-view/there-and-back-at-all-zooms", test_there_and_back);
  g_test_add_func ("/desk/photo-view/zoom-keeps-the-place-under-the-pointer",
                   test_zoom_keeps_the_place_under_the_pointer);
  g_test_add_func ("/desk/photo-view/zoom-stays-in-its-limits", test_zoom_stays_in_its_limits);
  g_test_add_func ("/desk/photo-view/pan-moves-by-what-was-dragged", test_pan_moves_by_what_was_dragged);
  g_test_add_func ("/desk/photo-view/pan-cannot-lose-the-photograph", test_pan_cannot_lose_the_photograph);
  g_test_add_func ("/desk/photo-view/reveal-moves-as-little-as-needed", test_reveal_moves_as_little_as_needed);
  g_test_add_func ("/desk/photo-view/level-is-just-above-the-screen", test_level_is_just_above_the_screen);
  return g_test_run ();
}
