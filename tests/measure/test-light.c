/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: photographs of our own making, computed here from a lamp of stated place by the textbook law (Lambert's
 * cosine, inverse square), so that the fit can be held against the place and the light that went in. */
#include "config.h"

#include "measure/least_squares.h"
#include "measure/light.h"

#include <math.h>

#define N_PATCHES 24
#define N_CELLS 150
#define N_SAMPLES (N_PATCHES + N_CELLS)

/* A face of 150 × 100 mm, its chart 20 mm to the right. */
static const double middle_mm[3] = { 75, 50, 0 };
static const double ground_reflectance[3] = { 0.4, 0.25, 0.12 };

typedef struct
{
  double lamp_mm[3];
  double lamp[3];
  double ambient[3];
} Room;

static const Room room = { { 300, -350, -700 }, { 0.9, 0.7, 0.5 }, { 0.10, 0.11, 0.12 } };

static double
true_light (const Room *r, const SherdLightPoint *point, guint channel)
{
  double d[3], square = 0, cosine = 0, middle = 0;

  for (guint i = 0; i < 3; i++)
    {
      d[i] = r->lamp_mm[i] - point->position_mm[i];
      square += d[i] * d[i];
      cosine += d[i] * point->normal[i];
      middle += pow (r->lamp_mm[i] - middle_mm[i], 2);
    }
  return r->lamp[channel] * cosine / sqrt (square) * middle / square + r->ambient[channel];
}

static SherdLightPoint
point_at (double x_mm, double y_mm, double z_mm)
{
  return (SherdLightPoint){ { x_mm, y_mm, z_mm }, { 0, 0, -1 }, 0 };
}

static void
fill_samples (SherdLightSample *samples)
{
  for (guint i = 0; i < N_SAMPLES; i++)
    {
      const gboolean ground = i >= N_PATCHES;
      const guint k = ground ? i - N_PATCHES : i;

      samples[i].ground = ground;
      samples[i].brightness_sd_ln = ground ? 0.03 : 0.01;
      samples[i].colour_sd_ln = ground ? 0.03 : 0.01;
      samples[i].weight = ground ? 0.4 : 1;
      samples[i].point = ground ? point_at (5 + 10 * (k % 15), 5 + 10 * (k / 15), 0)
                                : point_at (180 + 22 * (k % 4), 10 + 22 * (k / 4), 6);
      for (guint c = 0; c < 3; c++)
        samples[i].ln_value[c] = log (true_light (&room, &samples[i].point, c) * (ground ? ground_reflectance[c] : 1));
    }
}

/* Half a per cent of light is 0.12 L* in the middle of the scale; the beliefs pull that much on exact data. */
#define LIGHT_TOLERANCE 0.005

static void
assert_light_on_face (const SherdLight *light, double tolerance)
{
  for (double x = 0; x <= 150; x += 30)
    for (double y = 0; y <= 100; y += 25)
      {
        const SherdLightPoint point = point_at (x, y, 0);
        double value[3];

        sherd_light_at (light, &point, value);
        for (guint c = 0; c < 3; c++)
          g_assert_cmpfloat_with_epsilon (value[c] / true_light (&room, &point, c), 1, tolerance);
      }
}

static void
test_lamp_recovered (void)
{
  SherdLightSample samples[N_SAMPLES];
  SherdLight light;
  double lamp_mm[3], along = 0, length = 0, true_length = 0;

  g_test_summary ("Light under the zones is found from chart and ground, and the lamp's direction within 15°.");
  fill_samples (samples);
  sherd_light_fit (&light, samples, N_SAMPLES, middle_mm);
  assert_light_on_face (&light, LIGHT_TOLERANCE);

  sherd_light_lamp_mm (light.parameters, middle_mm, lamp_mm);
  for (guint i = 0; i < 3; i++)
    {
      along += (lamp_mm[i] - middle_mm[i]) * (room.lamp_mm[i] - middle_mm[i]);
      length += pow (lamp_mm[i] - middle_mm[i], 2);
      true_length += pow (room.lamp_mm[i] - middle_mm[i], 2);
    }
  g_assert_cmpfloat (along / sqrt (length * true_length), >, cos (15 * G_PI / 180));
}

static void
test_ground_reflectance_recovered (void)
{
  SherdLightSample samples[N_SAMPLES];
  SherdLight light;

  fill_samples (samples);
  sherd_light_fit (&light, samples, N_SAMPLES, middle_mm);
  for (guint c = 0; c < 3; c++)
    g_assert_cmpfloat_with_epsilon (exp (light.parameters[SHERD_LIGHT_LN_GROUND + c]) / ground_reflectance[c], 1,
                                    LIGHT_TOLERANCE);
}

static void
test_one_bad_patch_is_outvoted (void)
{
  SherdLightSample samples[N_SAMPLES];
  SherdLight light;

  g_test_summary ("A patch half in shadow and a seventh of the ground under dirt move the light by less than 2 %: "
                  "Huber's loss bounds their pull, it does not end it.");
  fill_samples (samples);
  for (guint c = 0; c < 3; c++)
    samples[7].ln_value[c] -= 0.7;
  for (guint i = N_PATCHES; i < N_SAMPLES; i += 7)
    for (guint c = 0; c < 3; c++)
      samples[i].ln_value[c] -= 0.5;
  sherd_light_fit (&light, samples, N_SAMPLES, middle_mm);
  assert_light_on_face (&light, 0.02);
}

static void
test_chart_alone (void)
{
  SherdLightSample samples[N_SAMPLES];
  SherdLight light;
  const SherdLightPoint near_chart = point_at (148, 50, 0), far_off = point_at (0, 50, 0);
  double near_u[3][3], far_u[3][3];

  g_test_summary ("Without ground the light far from the chart is a guess, and its uncertainty says so.");
  fill_samples (samples);
  sherd_light_fit (&light, samples, N_PATCHES, middle_mm);
  g_assert_false (light.has_ground);
  assert_light_on_face (&light, 0.08);
  sherd_light_ln_covariance (&light, &near_chart, near_u);
  sherd_light_ln_covariance (&light, &far_off, far_u);
  g_assert_cmpfloat (far_u[1][1], >, 2 * near_u[1][1]);
}

static void
test_uncertainty_has_the_right_size (void)
{
  SherdLightSample samples[N_SAMPLES];
  SherdLight light;
  const SherdLightPoint point = point_at (75, 50, 0);
  double covariance[3][3];

  fill_samples (samples);
  sherd_light_fit (&light, samples, N_SAMPLES, middle_mm);
  sherd_light_ln_covariance (&light, &point, covariance);
  /* Not below what 24 patches of 1.5 % leave, not above what one would. */
  g_assert_cmpfloat (sqrt (covariance[1][1]), >, 0.015 / sqrt (24));
  g_assert_cmpfloat (sqrt (covariance[1][1]), <, 0.03);
}

static void
test_even_light (void)
{
  SherdLight light;
  const SherdLightPoint point = point_at (10, 90, 0);
  double value[3];

  sherd_light_init_even (&light, middle_mm);
  sherd_light_at (&light, &point, value);
  for (guint c = 0; c < 3; c++)
    g_assert_cmpfloat_with_epsilon (value[c], 1, 1e-6);
  g_assert_cmpfloat (sherd_light_lamp_share (&light, &point), <, 1e-6);
}

static void
test_huber_loss (void)
{
  /* By hand: inside the threshold r, outside √(2·2·|r| − 4): r = 5 gives 4. */
  g_assert_cmpfloat_with_epsilon (sherd_huber_residual (1.5, 2), 1.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (sherd_huber_residual (5, 2), 4, 1e-12);
  g_assert_cmpfloat_with_epsilon (sherd_huber_residual (-5, 2), -4, 1e-12);
  g_assert_cmpfloat_with_epsilon (sherd_huber_slope (5, 2),
                                  (sherd_huber_residual (5.001, 2) - sherd_huber_residual (4.999, 2)) / 0.002, 1e-6);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/light/lamp-recovered", test_lamp_recovered);
  g_test_add_func ("/measure/light/ground-reflectance-recovered", test_ground_reflectance_recovered);
  g_test_add_func ("/measure/light/bad-samples-outvoted", test_one_bad_patch_is_outvoted);
  g_test_add_func ("/measure/light/chart-alone-is-less-sure-far-off", test_chart_alone);
  g_test_add_func ("/measure/light/uncertainty-has-the-right-size", test_uncertainty_has_the_right_size);
  g_test_add_func ("/measure/light/even-light-is-one", test_even_light);
  g_test_add_func ("/measure/light/huber-loss", test_huber_loss);
  return g_test_run ();
}
