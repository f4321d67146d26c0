/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners of known place: two straight edges through a point, drawn by counting 8 × 8 samples a pixel, with the blur
 * of a lens and the noise of a camera. Truth is where they were drawn. */
#include "config.h"

#include "photo/corner.h"

#include <math.h>

#define SIDE_PX 80
#define SAMPLES 8
#define N_TRIALS 100
/* A tenth of a pixel is what a hand under a magnifier does not reach. */
#define MEDIAN_PX 0.1
#define WORST_PX 0.4
/* Half of what the eye sees of a mark that is off, on average, with another edge as near as this. */
#define BESIDE_RMS_PX 0.25
#define NEAREST_PX 5.0
#define FARTHEST_PX 8.0

typedef struct
{
  double x;
  double y;
  double from_rad; /* the dark sector begins here … */
  double wide_rad; /* … and is so wide */
  double inset_px; /* a lighter sector lies in it, so far from both edges; 0: none */
} Corner;

static gboolean
is_dark (const Corner *corner, double x, double y)
{
  const double angle = atan2 (y - corner->y, x - corner->x) - corner->from_rad;

  return angle - 2.0 * G_PI * floor (angle / (2.0 * G_PI)) < corner->wide_rad;
}

static Corner
inner (const Corner *corner)
{
  const double along_rad = corner->from_rad + corner->wide_rad / 2.0;
  const double away_px = corner->inset_px / sin (corner->wide_rad / 2.0);

  return (Corner){ corner->x + away_px * cos (along_rad), corner->y + away_px * sin (along_rad), corner->from_rad,
                   corner->wide_rad, 0.0 };
}

/* The inner sector is half as dark. */
static double
covered_frac (const Corner *corner, guint x_px, guint y_px)
{
  const Corner lighter = inner (corner);
  double dark = 0.0;

  for (guint i = 0; i < SAMPLES * SAMPLES; i++)
    {
      const double x = x_px + (i % SAMPLES + 0.5) / SAMPLES, y = y_px + (i / SAMPLES + 0.5) / SAMPLES;

      dark += is_dark (corner, x, y);
      if (corner->inset_px > 0.0)
        dark -= 0.5 * is_dark (&lighter, x, y);
    }
  return dark / (SAMPLES * SAMPLES);
}

/* 1 2 1 both ways. */
static double
blurred (const double *frac, int x, int y)
{
  double sum = 0.0;

  for (int dy = -1; dy <= 1; dy++)
    for (int dx = -1; dx <= 1; dx++)
      sum += (2 - ABS (dx)) * (2 - ABS (dy)) *
             frac[CLAMP (y + dy, 0, SIDE_PX - 1) * SIDE_PX + CLAMP (x + dx, 0, SIDE_PX - 1)];
  return sum / 16.0;
}

/* @corner: (nullable): all light */
static SherdPicture *
picture_new (const Corner *corner, double dark_code, double light_code, double noise_codes, GRand *dice)
{
  g_autofree double *frac = g_new0 (double, SIDE_PX *SIDE_PX);
  guint8 *rgb = g_malloc (3 * SIDE_PX * SIDE_PX);
  SherdPicture *picture = g_new0 (SherdPicture, 1);

  for (guint i = 0; corner != NULL && i < SIDE_PX * SIDE_PX; i++)
    frac[i] = covered_frac (corner, i % SIDE_PX, i / SIDE_PX);
  for (guint i = 0; i < SIDE_PX * SIDE_PX; i++)
    {
      const double code =
        light_code + (dark_code - light_code) * blurred (frac, (int)(i % SIDE_PX), (int)(i / SIDE_PX));

      for (guint channel = 0; channel < 3; channel++)
        rgb[3 * i + channel] =
          (guint8)CLAMP (lround (code + g_rand_double_range (dice, -noise_codes, noise_codes)), 0, 255);
    }
  picture->width_px = picture->height_px = SIDE_PX;
  picture->stride = 3 * SIDE_PX;
  picture->pixels = g_bytes_new_take (rgb, 3 * SIDE_PX * SIDE_PX);
  return picture;
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  return (*(const double *)a > *(const double *)b) - (*(const double *)a < *(const double *)b);
}

static Corner
throw_corner (GRand *dice, double inset_px)
{
  const double x = g_rand_double_range (dice, 35, 45), y = g_rand_double_range (dice, 35, 45);
  const double from_rad = g_rand_double_range (dice, 0, 2 * G_PI);

  return (Corner){ x, y, from_rad, g_rand_double_range (dice, 60, 120) * G_PI / 180.0, inset_px };
}

/* Looked for a few pixels beside it; px, infinite when it is not found. */
static double
error_of (const Corner *corner, GRand *dice)
{
  g_autoptr (SherdPicture) picture = picture_new (corner, 60, 160, 4, dice);
  const double from_x = corner->x + g_rand_double_range (dice, -5, 5);
  const double from_y = corner->y + g_rand_double_range (dice, -5, 5);
  double x, y;

  return sherd_corner_find (picture, from_x, from_y, 12, &x, &y) ? hypot (x - corner->x, y - corner->y) : INFINITY;
}

static void
test_corners_are_found_to_a_tenth_of_a_pixel (void)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (20);
  double errors_px[N_TRIALS];

  for (guint i = 0; i < N_TRIALS; i++)
    {
      const Corner corner = throw_corner (dice, 0.0);

      errors_px[i] = error_of (&corner, dice);
      g_assert_cmpfloat (errors_px[i], <, WORST_PX);
    }
  qsort (errors_px, N_TRIALS, sizeof errors_px[0], compare_doubles);
  g_test_message ("median %.3f px, worst %.3f px", errors_px[N_TRIALS / 2], errors_px[N_TRIALS - 1]);
  g_assert_cmpfloat (errors_px[N_TRIALS / 2], <, MEDIAN_PX);
}

static void
test_an_edge_beside_moves_it_by_a_quarter_of_a_pixel_at_most (void)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (25);
  double squares_px2 = 0.0;

  for (guint i = 0; i < N_TRIALS; i++)
    {
      const Corner corner = throw_corner (dice, g_rand_double_range (dice, NEAREST_PX, FARTHEST_PX));
      const double error_px = error_of (&corner, dice);

      squares_px2 += error_px * error_px;
    }
  g_test_message ("rms %.3f px", sqrt (squares_px2 / N_TRIALS));
  g_assert_cmpfloat (sqrt (squares_px2 / N_TRIALS), <, BESIDE_RMS_PX);
}

static void
assert_none (const SherdPicture *picture, double x_px, double y_px, double radius_px)
{
  double x = -7.0, y = -7.0;

  g_assert_false (sherd_corner_find (picture, x_px, y_px, radius_px, &x, &y));
  g_assert_cmpfloat (x, ==, -7.0);
  g_assert_cmpfloat (y, ==, -7.0);
}

/* Red clay on a grey table of the same lightness: the edges are there in colour alone. */
static void
test_colour_alone_makes_a_corner (void)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (24);
  const Corner corner = { 40.3, 39.6, 1.0, G_PI / 2, 0.0 };
  g_autoptr (SherdPicture) picture = picture_new (&corner, 60, 160, 0, dice);
  const guint8 *codes = g_bytes_get_data (picture->pixels, NULL);
  guint8 *red = g_malloc (3 * SIDE_PX * SIDE_PX);
  double x = 0.0, y = 0.0;

  /* (r + 2 g + b) / 4 is the same everywhere. */
  for (guint i = 0; i < SIDE_PX * SIDE_PX; i++)
    {
      red[3 * i] = codes[3 * i];
      red[3 * i + 1] = 110;
      red[3 * i + 2] = (guint8)(220 - codes[3 * i]);
    }
  g_bytes_unref (picture->pixels);
  picture->pixels = g_bytes_new_take (red, 3 * SIDE_PX * SIDE_PX);
  g_assert_true (sherd_corner_find (picture, 42, 37, 12, &x, &y));
  g_assert_cmpfloat (hypot (x - corner.x, y - corner.y), <, WORST_PX);
}

static void
test_an_edge_and_noise_are_no_corners (void)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (21);
  const Corner edge = { 40, 40, 0.3, G_PI, 0 }, faint = { 40, 40, 0.3, G_PI / 2, 0 };
  g_autoptr (SherdPicture) straight = picture_new (&edge, 60, 160, 2, dice);
  g_autoptr (SherdPicture) flat = picture_new (NULL, 0, 120, 0, dice);
  g_autoptr (SherdPicture) noise = picture_new (NULL, 0, 120, 4, dice);
  g_autoptr (SherdPicture) buried = picture_new (&faint, 119, 120, 4, dice);

  assert_none (straight, 40, 40, 12);
  assert_none (flat, 40, 40, 12);
  assert_none (noise, 40, 40, 12);
  assert_none (buried, 40, 40, 12);
}

static void
test_a_corner_out_of_reach_is_left_alone (void)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (22);
  const Corner corner = { 40.3, 39.6, 1.0, G_PI / 2, 0.0 };
  g_autoptr (SherdPicture) picture = picture_new (&corner, 60, 160, 1, dice);

  assert_none (picture, 10, 10, 12);
  assert_none (picture, 40, 40, 0);
  assert_none (picture, 40, 40, -3);
  assert_none (picture, 40, 40, NAN);
  assert_none (picture, NAN, 40, 12);
  assert_none (picture, -1, 40, 12);
  assert_none (picture, 40, SIDE_PX + 1, 12);
}

/* The window reaches beyond the picture; what lies there must not be read. */
static void
test_a_corner_at_the_edge_of_the_picture_is_safe (void)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (23);
  const Corner corner = { 3.0, 4.0, 0.0, G_PI / 2, 0.0 };
  g_autoptr (SherdPicture) picture = picture_new (&corner, 60, 160, 1, dice);
  double x = corner.x, y = corner.y;

  sherd_corner_find (picture, 0, 0, 500, &x, &y);
  sherd_corner_find (picture, SIDE_PX, SIDE_PX, 80, &x, &y);
  g_assert_cmpfloat (hypot (x - corner.x, y - corner.y), <, 2.0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/corner/found-to-a-tenth-of-a-pixel", test_corners_are_found_to_a_tenth_of_a_pixel);
  g_test_add_func ("/photo/corner/an-edge-beside-moves-it-by-a-quarter-of-a-pixel-at-most",
                   test_an_edge_beside_moves_it_by_a_quarter_of_a_pixel_at_most);
  g_test_add_func ("/photo/corner/colour-alone-makes-one", test_colour_alone_makes_a_corner);
  g_test_add_func ("/photo/corner/an-edge-and-noise-are-none", test_an_edge_and_noise_are_no_corners);
  g_test_add_func ("/photo/corner/out-of-reach-is-left-alone", test_a_corner_out_of_reach_is_left_alone);
  g_test_add_func ("/photo/corner/at-the-edge-of-the-picture-is-safe",
                   test_a_corner_at_the_edge_of_the_picture_is_safe);
  return g_test_run ();
}
