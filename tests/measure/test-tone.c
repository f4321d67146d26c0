/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: patches photographed here through stated contrast curves; the answer is the light that went in. */
#include "config.h"

#include "colour/srgb.h"
#include "measure/tone.h"

#include <math.h>

#define N_PATCHES 24

/* Lit a little unevenly and by a warm lamp, as in life. */
static const double lamp[3] = { 0.9, 0.8, 0.6 };

static void
make_chart (SherdLab *reference, SherdRgb *truth, SherdRgb *light)
{
  for (guint i = 0; i < N_PATCHES; i++)
    {
      const double hue = i * 2.4, chroma = i < 18 ? 30 : 0, level = 1 - 0.01 * i;
      SherdXyz xyz;

      reference[i] = (SherdLab){ i < 18 ? 35 + 2.5 * i : 20 + 14 * (i - 18), chroma * cos (hue), chroma * sin (hue) };
      xyz = sherd_lab_to_xyz (&reference[i]);
      truth[i] = sherd_srgb_from_xyz_d50 (&xyz);
      light[i] = (SherdRgb){ lamp[0] * level, lamp[1] * level, lamp[2] * level };
      truth[i] = (SherdRgb){ truth[i].r * light[i].r, truth[i].g * light[i].g, truth[i].b * light[i].b };
    }
}

/* Contrast raised as cameras do: darks down, lights up. */
static double
contrasty (double linear, double strength)
{
  const double encoded = sherd_srgb_encode (linear);

  return sherd_srgb_decode (encoded - strength * sin (2 * G_PI * encoded) / (2 * G_PI));
}

static void
photograph (const SherdRgb *truth, double strength, SherdRgb *seen)
{
  for (guint i = 0; i < N_PATCHES; i++)
    seen[i] = (SherdRgb){ contrasty (truth[i].r, strength), contrasty (truth[i].g, strength),
                          contrasty (truth[i].b, strength) };
}

static void
test_straight_stays_straight (void)
{
  SherdLab reference[N_PATCHES];
  SherdRgb truth[N_PATCHES], light[N_PATCHES];
  SherdTone tone;

  make_chart (reference, truth, light);
  /* A patch misread by 1 %, as dust does, is no reason for a curve. */
  truth[5].r *= 1.01;
  truth[9].g *= 0.99;
  sherd_tone_fit (&tone, truth, light, reference, N_PATCHES);
  g_assert_false (tone.bent);
  g_assert_cmpfloat (sherd_tone_apply (&tone, 0.3f), ==, 0.3f);
}

/* Light is right to 1 %, that is 0.25 L*, over the range the patches span; untouched it is off by up to 20 %. */
static void
assert_undone (double strength)
{
  SherdLab reference[N_PATCHES];
  SherdRgb truth[N_PATCHES], light[N_PATCHES], seen[N_PATCHES];
  SherdTone tone;
  double level;

  make_chart (reference, truth, light);
  photograph (truth, strength, seen);
  sherd_tone_fit (&tone, seen, light, reference, N_PATCHES);
  g_assert_true (tone.bent);
  /* The level as a whole belongs to the light. */
  level = sherd_tone_apply (&tone, (float)contrasty (0.2, strength)) / 0.2;
  for (double at = 0.04; at < 0.7; at += 0.06)
    g_assert_cmpfloat_with_epsilon (sherd_tone_apply (&tone, (float)contrasty (at, strength)) / at / level, 1, 0.01);
}

static void
test_contrast_is_undone (void)
{
  assert_undone (0.1);
  assert_undone (0.25);
  assert_undone (-0.15);
}

static void
test_few_patches_give_no_curve (void)
{
  SherdLab reference[N_PATCHES];
  SherdRgb truth[N_PATCHES], light[N_PATCHES], seen[N_PATCHES];
  SherdTone tone;

  make_chart (reference, truth, light);
  photograph (truth, 0.2, seen);
  sherd_tone_fit (&tone, seen, light, reference, 8);
  g_assert_false (tone.bent);
}

static void
test_table_ends (void)
{
  static const double terms[SHERD_TONE_TERMS] = { 0.02, 0.03, 0, 0 };
  SherdTone tone;

  sherd_tone_init (&tone, terms);
  g_assert_cmpfloat (sherd_tone_apply (&tone, -0.01f), ==, -0.01f);
  g_assert_cmpfloat (sherd_tone_apply (&tone, 1.2f), ==, 1.2f);
  g_assert_cmpfloat_with_epsilon (sherd_tone_apply (&tone, 0.9999f), 0.9999, 1e-3);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/tone/straight-stays-straight", test_straight_stays_straight);
  g_test_add_func ("/measure/tone/contrast-is-undone", test_contrast_is_undone);
  g_test_add_func ("/measure/tone/few-patches-give-no-curve", test_few_patches_give_no_curve);
  g_test_add_func ("/measure/tone/table-ends", test_table_ends);
  return g_test_run ();
}
