/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: pixels drawn here with stated shares, colours and noise (GNU Scientific Library random numbers, fixed
 * seeds); the answer is what went in. Colours of H8 of the project's table of checks. */
#include "config.h"

#include "measure/mixture.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>

#define N_PIXELS 3000

static const double paint[3] = { 0.12, 0.09, 0.05 };
static const double ground_mean[3] = { 0.45, 0.42, 0.30 };
static const double noise_sd[3] = { 0.004, 0.004, 0.004 };

static void
draw_pixel (gsl_rng *rng, double paint_share, const double of_paint[3], float *pixel)
{
  const double mottling = 1 + gsl_ran_gaussian (rng, 0.035);

  for (guint c = 0; c < 3; c++)
    pixel[c] = (float)(mottling * (paint_share * of_paint[c] + (1 - paint_share) * ground_mean[c]) +
                       gsl_ran_gaussian (rng, noise_sd[c]));
}

static SherdSurface
make_ground (gsl_rng *rng)
{
  g_autofree float *pixels = g_new (float, 3 * N_PIXELS);
  SherdSurface ground;

  for (guint i = 0; i < N_PIXELS; i++)
    draw_pixel (rng, 0, paint, pixels + 3 * i);
  sherd_surface_fit (&ground, pixels, N_PIXELS, N_PIXELS);
  return ground;
}

/* @pure of paint, @mixed of every share between, the rest ground. */
static SherdMixture
fit_drawn (double pure, double mixed, const double of_paint[3])
{
  g_autofree float *pixels = g_new (float, 3 * N_PIXELS);
  g_autofree guint8 *kinds = g_new (guint8, N_PIXELS);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  SherdSurface ground;
  SherdMixture mixture;

  gsl_rng_set (rng, 7);
  ground = make_ground (rng);
  for (guint i = 0; i < N_PIXELS; i++)
    {
      const double at = (i + 0.5) / N_PIXELS;
      const double share = at < pure ? 1 : at < pure + mixed ? gsl_rng_uniform (rng) : 0;

      draw_pixel (rng, share, of_paint, pixels + 3 * i);
    }
  sherd_mixture_fit (&mixture, pixels, N_PIXELS, &ground, noise_sd, kinds);
  gsl_rng_free (rng);
  return mixture;
}

static void
assert_paint (const SherdMixture *mixture, const double of_paint[3], double tolerance_frac)
{
  g_assert_true (mixture->distinct);
  for (guint c = 0; c < 3; c++)
    g_assert_cmpfloat_with_epsilon (mixture->paint.mean[c] / of_paint[c], 1, tolerance_frac);
}

static void
test_thirty_five_per_cent (void)
{
  const SherdMixture mixture = fit_drawn (0.35, 0, paint);

  g_assert_cmpfloat_with_epsilon (mixture.retained_frac, 0.35, 0.005);
  assert_paint (&mixture, paint, 0.01);
}

static void
test_mixed_pixels_count_in_part (void)
{
  /* Half of the mixed pixels' area is paint: 0.3 + 0.4 / 2. */
  const SherdMixture mixture = fit_drawn (0.3, 0.4, paint);

  g_assert_cmpfloat_with_epsilon (mixture.retained_frac, 0.5, 0.03);
  assert_paint (&mixture, paint, 0.03);
}

static void
test_little_paint_is_found (void)
{
  const SherdMixture mixture = fit_drawn (0.1, 0, paint);

  g_assert_cmpfloat_with_epsilon (mixture.retained_frac, 0.1, 0.01);
  assert_paint (&mixture, paint, 0.02);
}

static void
test_light_paint_on_darker_ground (void)
{
  static const double white[3] = { 0.85, 0.82, 0.76 };
  const SherdMixture mixture = fit_drawn (0.7, 0.1, white);

  g_assert_cmpfloat_with_epsilon (mixture.retained_frac, 0.75, 0.02);
  assert_paint (&mixture, white, 0.01);
}

static void
test_whole_paint (void)
{
  const SherdMixture mixture = fit_drawn (1, 0, paint);

  g_assert_cmpfloat (mixture.retained_frac, >, 0.995);
  assert_paint (&mixture, paint, 0.005);
}

static void
test_nothing_left (void)
{
  const SherdMixture mixture = fit_drawn (0, 0, paint);

  g_assert_cmpfloat (mixture.retained_frac, <, 0.05);
}

static void
test_surface_fit_ignores_strangers (void)
{
  g_autofree float *pixels = g_new (float, 3 * N_PIXELS);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  SherdSurface surface;

  g_test_summary ("A tenth of highlights leaves median and scatter of the rest.");
  for (guint i = 0; i < N_PIXELS; i++)
    {
      draw_pixel (rng, 0, paint, pixels + 3 * i);
      for (guint c = 0; i % 10 == 0 && c < 3; c++)
        pixels[3 * i + c] = 2;
    }
  sherd_surface_fit (&surface, pixels, N_PIXELS, N_PIXELS);
  for (guint c = 0; c < 3; c++)
    {
      g_assert_cmpfloat_with_epsilon (surface.mean[c] / ground_mean[c], 1, 0.01);
      g_assert_cmpfloat_with_epsilon (sqrt (surface.covariance[c][c]) / hypot (0.035 * ground_mean[c], 0.004), 1, 0.12);
    }
  gsl_rng_free (rng);
}

static void
test_flakes_smaller_than_a_pixel_show (void)
{
  static const double like_ground[3] = { 0.40, 0.37, 0.26 };
  g_autofree float *pixels = g_new (float, 3 * N_PIXELS);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  SherdSurface ground, surface;

  g_test_summary ("No pixel is bare, but one in five is 30 to 60 % ground: they must not pass for uneven paint.");
  gsl_rng_set (rng, 3);
  ground = make_ground (rng);
  for (guint i = 0; i < N_PIXELS; i++)
    draw_pixel (rng, i % 5 ? 1 : 0.4 + 0.3 * gsl_rng_uniform (rng), paint, pixels + 3 * i);
  sherd_surface_fit (&surface, pixels, N_PIXELS, N_PIXELS);
  g_assert_cmpuint (sherd_surface_count_like (&ground, pixels, N_PIXELS, 4), <, N_PIXELS / 300);
  g_assert_cmpuint (sherd_surface_count_toward (&surface, &ground, pixels, N_PIXELS, 0.25), >, N_PIXELS / 6);
  /* Whole paint does not reach that far, and one like the ground tells nothing. */
  for (guint i = 0; i < N_PIXELS; i++)
    draw_pixel (rng, 1, paint, pixels + 3 * i);
  g_assert_cmpuint (sherd_surface_count_toward (&surface, &ground, pixels, N_PIXELS, 0.25), <, N_PIXELS / 100);
  for (guint i = 0; i < N_PIXELS; i++)
    draw_pixel (rng, 1, like_ground, pixels + 3 * i);
  sherd_surface_fit (&surface, pixels, N_PIXELS, N_PIXELS);
  g_assert_cmpuint (sherd_surface_count_toward (&surface, &ground, pixels, N_PIXELS, 0.25), ==, 0);
  gsl_rng_free (rng);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/mixture/thirty-five-per-cent", test_thirty_five_per_cent);
  g_test_add_func ("/measure/mixture/mixed-pixels-count-in-part", test_mixed_pixels_count_in_part);
  g_test_add_func ("/measure/mixture/little-paint-is-found", test_little_paint_is_found);
  g_test_add_func ("/measure/mixture/light-paint-on-darker-ground", test_light_paint_on_darker_ground);
  g_test_add_func ("/measure/mixture/whole-paint", test_whole_paint);
  g_test_add_func ("/measure/mixture/nothing-left", test_nothing_left);
  g_test_add_func ("/measure/mixture/surface-fit-ignores-strangers", test_surface_fit_ignores_strangers);
  g_test_add_func ("/measure/mixture/flakes-smaller-than-a-pixel-show", test_flakes_smaller_than_a_pixel_show);
  return g_test_run ();
}
