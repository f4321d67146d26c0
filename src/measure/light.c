/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/light.h"

#include "measure/least_squares.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Beliefs before looking, all our choice, none from a photograph that is measured. A lamp stands about a metre off
 * (×÷ 1.35), neither raking nor straight above; it fades like something between a tube (p = 1) and a small bulb
 * (p = 2); the room gives a third of the lamp's light within a factor of e; lamp and room differ in colour as tungsten
 * and daylight do (e^±0.5 per channel); a lens darkens the corners by a few per cent that its camera has not mended. */
static const double distance_mm = 1000, distance_sd_ln = 0.3;
static const double elevation_rad = 0.87, elevation_sd_rad = 0.44;
static const double power = 1.5, power_sd = 0.5;
static const double vignetting_sd = 0.1;
static const double ambient_frac = 0.3, ambient_sd_ln = 1.0, ambient_colour_sd_ln = 0.5;
/* Holds what nothing else holds, such as the level when there is no chart. */
static const double level_sd_ln = 5.0;

/* Light at grazing incidence is not cut off sharply: lamps have a size. */
#define TERMINATOR_SOFTNESS 0.04
#define HUBER_THRESHOLD 2.0

#define N_PRIORS 14
#define N_COARSE_GROUND 40

/* The lamp is looked for all round, low and high; after a few steps only the more promising places are followed. */
#define N_STARTS 12
#define N_KEPT_STARTS 4
#define N_FIRST_STEPS 4
#define N_FURTHER_STEPS 9
static const double start_elevations_rad[] = { 0.6, 1.1 };
#define N_SHARED 3 /* azimuth, elevation, distance: they move the lamp */

typedef struct
{
  const SherdLightSample *samples;
  gsize n_samples;
  const double *middle_mm;
} FitData;

/* Where the lamp stands for @parameters, in mm in the frame of the face. */
void
sherd_light_lamp_mm (const double *parameters, const double middle_mm[3], double lamp_mm[3])
{
  const double distance = exp (parameters[SHERD_LIGHT_LN_DISTANCE]);
  const double level = cos (parameters[SHERD_LIGHT_ELEVATION]);

  lamp_mm[0] = middle_mm[0] + distance * level * cos (parameters[SHERD_LIGHT_AZIMUTH]);
  lamp_mm[1] = middle_mm[1] + distance * level * sin (parameters[SHERD_LIGHT_AZIMUTH]);
  lamp_mm[2] = middle_mm[2] - distance * sin (parameters[SHERD_LIGHT_ELEVATION]);
}

/* What all points share for one set of parameters. */
typedef struct
{
  const double *parameters;
  double lamp_mm[3];
  double ambient[3];            /* over the lamp, per channel */
  double moves_mm[N_SHARED][3]; /* of the lamp by azimuth, elevation, ln distance */
} Setting;

/* Lamp light at a point. */
typedef struct
{
  double to_lamp_mm[3];
  double square;
  double cosine;
  double fading;   /* (D/d)^p */
  double ln_ratio; /* ln (D/d) */
  double factor;   /* s(cos θ) (D/d)^p */
} LampLight;

static void
setting_init (Setting *setting, const double *parameters, const double middle_mm[3])
{
  const double distance = exp (parameters[SHERD_LIGHT_LN_DISTANCE]);
  const double ca = cos (parameters[SHERD_LIGHT_AZIMUTH]), sa = sin (parameters[SHERD_LIGHT_AZIMUTH]);
  const double ce = cos (parameters[SHERD_LIGHT_ELEVATION]), se = sin (parameters[SHERD_LIGHT_ELEVATION]);
  const double moves[N_SHARED][3] = { [SHERD_LIGHT_AZIMUTH] = { -ce * sa, ce * ca, 0 },
                                      [SHERD_LIGHT_ELEVATION] = { -se * ca, -se * sa, -ce },
                                      [SHERD_LIGHT_LN_DISTANCE] = { ce * ca, ce * sa, -se } };

  setting->parameters = parameters;
  sherd_light_lamp_mm (parameters, middle_mm, setting->lamp_mm);
  for (guint c = 0; c < 3; c++)
    setting->ambient[c] = exp (parameters[SHERD_LIGHT_LN_AMBIENT + c]);
  for (guint k = 0; k < N_SHARED; k++)
    for (guint i = 0; i < 3; i++)
      setting->moves_mm[k][i] = distance * moves[k][i];
}

static LampLight
lamp_light (const Setting *setting, const SherdLightPoint *point)
{
  const double *parameters = setting->parameters;
  LampLight lit = { .square = 0 };

  for (guint i = 0; i < 3; i++)
    {
      lit.to_lamp_mm[i] = setting->lamp_mm[i] - point->position_mm[i];
      lit.square += lit.to_lamp_mm[i] * lit.to_lamp_mm[i];
      lit.cosine += lit.to_lamp_mm[i] * point->normal[i];
    }
  lit.cosine /= sqrt (lit.square);
  lit.ln_ratio = parameters[SHERD_LIGHT_LN_DISTANCE] - 0.5 * log (lit.square);
  lit.fading = exp (parameters[SHERD_LIGHT_POWER] * lit.ln_ratio);
  lit.factor =
    0.5 * (lit.cosine + sqrt (lit.cosine * lit.cosine + TERMINATOR_SOFTNESS * TERMINATOR_SOFTNESS)) * lit.fading;
  return lit;
}

/* Derivatives of the factor by azimuth, elevation, ln distance, power. */
static void
factor_slopes (const Setting *setting, const LampLight *lit, const SherdLightPoint *point, double *slopes)
{
  const double length = sqrt (lit->square), fades = setting->parameters[SHERD_LIGHT_POWER];
  const double by_cosine =
    0.5 * lit->fading *
    (1 + lit->cosine / sqrt (lit->cosine * lit->cosine + TERMINATOR_SOFTNESS * TERMINATOR_SOFTNESS));

  for (guint k = 0; k < N_SHARED; k++)
    {
      double along = 0, up = 0;

      for (guint i = 0; i < 3; i++)
        {
          along += lit->to_lamp_mm[i] * setting->moves_mm[k][i] / lit->square;
          up += point->normal[i] * setting->moves_mm[k][i] / length;
        }
      slopes[k] =
        by_cosine * (up - lit->cosine * along) + lit->factor * fades * ((k == SHERD_LIGHT_LN_DISTANCE ? 1 : 0) - along);
    }
  slopes[SHERD_LIGHT_POWER] = lit->factor * lit->ln_ratio;
}

static double
vignetting_factor (const double *parameters, const SherdLightPoint *point)
{
  return MAX (1 - parameters[SHERD_LIGHT_VIGNETTING] * point->corner_square, 0.05);
}

static void
ln_light (const Setting *setting, double factor, double vignetting, double value[3])
{
  for (guint c = 0; c < 3; c++)
    value[c] = setting->parameters[SHERD_LIGHT_LN_LAMP + c] + log ((factor + setting->ambient[c]) * vignetting);
}

static void
prior_residuals (const double *x, double *residuals)
{
  const double *ambient = x + SHERD_LIGHT_LN_AMBIENT;
  const double mean = (ambient[0] + ambient[1] + ambient[2]) / 3;
  gsize n = 0;

  residuals[n++] = (x[SHERD_LIGHT_LN_DISTANCE] - log (distance_mm)) / distance_sd_ln;
  residuals[n++] = (x[SHERD_LIGHT_ELEVATION] - elevation_rad) / elevation_sd_rad;
  residuals[n++] = (x[SHERD_LIGHT_POWER] - power) / power_sd;
  residuals[n++] = x[SHERD_LIGHT_VIGNETTING] / vignetting_sd;
  residuals[n++] = (mean - log (ambient_frac)) / ambient_sd_ln;
  for (guint c = 0; c < 3; c++)
    {
      residuals[n++] = (ambient[c] - mean) / ambient_colour_sd_ln;
      residuals[n++] = x[SHERD_LIGHT_LN_LAMP + c] / level_sd_ln;
      residuals[n++] = x[SHERD_LIGHT_LN_GROUND + c] / level_sd_ln;
    }
}

/* @columns: the first prior's derivative by the first parameter; parameters are @n_residuals apart. */
static void
prior_jacobian (double *columns, gsize n_residuals)
{
  double *column[SHERD_LIGHT_SIZE];
  gsize n = 0;

  for (guint k = 0; k < SHERD_LIGHT_SIZE; k++)
    {
      column[k] = columns + k * n_residuals;
      memset (column[k], 0, N_PRIORS * sizeof (double));
    }
  column[SHERD_LIGHT_LN_DISTANCE][n++] = 1 / distance_sd_ln;
  column[SHERD_LIGHT_ELEVATION][n++] = 1 / elevation_sd_rad;
  column[SHERD_LIGHT_POWER][n++] = 1 / power_sd;
  column[SHERD_LIGHT_VIGNETTING][n++] = 1 / vignetting_sd;
  for (guint c = 0; c < 3; c++)
    column[SHERD_LIGHT_LN_AMBIENT + c][n] = 1 / (3 * ambient_sd_ln);
  n++;
  for (guint c = 0; c < 3; c++)
    {
      for (guint k = 0; k < 3; k++)
        column[SHERD_LIGHT_LN_AMBIENT + k][n] = ((k == c) - 1.0 / 3) / ambient_colour_sd_ln;
      n++;
      column[SHERD_LIGHT_LN_LAMP + c][n++] = 1 / level_sd_ln;
      column[SHERD_LIGHT_LN_GROUND + c][n++] = 1 / level_sd_ln;
    }
}

/* Turns three differences into independent ones of unit variance: the mean of the channels scatters by brightness and
 * colour, each channel's departure from it by colour alone. */
typedef struct
{
  double of_mean;
  double of_departure;
} Whitening;

static Whitening
whitening_of (const SherdLightSample *sample)
{
  const double mean_sd =
    sqrt (3 * sample->brightness_sd_ln * sample->brightness_sd_ln + sample->colour_sd_ln * sample->colour_sd_ln);

  return (Whitening){ 1 / mean_sd, 1 / sample->colour_sd_ln };
}

static void
whiten (const Whitening *whitening, double three[3])
{
  const double mean = (three[0] + three[1] + three[2]) / 3;

  for (guint c = 0; c < 3; c++)
    three[c] = (three[c] - mean) * whitening->of_departure + mean * whitening->of_mean;
}

static void
sample_residuals (const Setting *setting,
                  const SherdLightSample *sample,
                  double factor,
                  const Whitening *whitening,
                  double residuals[3])
{
  const double *x = setting->parameters;
  double value[3];

  ln_light (setting, factor, vignetting_factor (x, &sample->point), value);
  for (guint c = 0; c < 3; c++)
    residuals[c] = value[c] + (sample->ground ? x[SHERD_LIGHT_LN_GROUND + c] : 0) - sample->ln_value[c];
  whiten (whitening, residuals);
}

static void
light_residuals (const double *x, double *residuals, gconstpointer user_data)
{
  const FitData *data = user_data;
  Setting setting;

  setting_init (&setting, x, data->middle_mm);
  for (gsize i = 0; i < data->n_samples; i++)
    {
      const SherdLightSample *sample = &data->samples[i];
      const LampLight lit = lamp_light (&setting, &sample->point);
      const Whitening whitening = whitening_of (sample);
      const double weight = sqrt (sample->weight);
      double *three = residuals + 3 * i;

      sample_residuals (&setting, sample, lit.factor, &whitening, three);
      for (guint c = 0; c < 3; c++)
        three[c] = weight * sherd_huber_residual (three[c], HUBER_THRESHOLD);
    }
  prior_residuals (x, residuals + 3 * data->n_samples);
}

/* Derivatives of ln E in one channel; @by_factor: of the lamp's factor. */
static void
ln_light_slopes (const Setting *setting,
                 guint c,
                 double factor,
                 const double *by_factor,
                 const SherdLightPoint *point,
                 double *slopes)
{
  const double total = factor + setting->ambient[c];

  for (guint k = SHERD_LIGHT_AZIMUTH; k <= SHERD_LIGHT_POWER; k++)
    slopes[k] = by_factor[k] / total;
  slopes[SHERD_LIGHT_VIGNETTING] = -point->corner_square / vignetting_factor (setting->parameters, point);
  slopes[SHERD_LIGHT_LN_LAMP + c] = 1;
  slopes[SHERD_LIGHT_LN_AMBIENT + c] = setting->ambient[c] / total;
}

/* How residuals of one sample are weighed: Huber's loss and the sample's own weight. */
static void
residual_weights (const SherdLightSample *sample, const double residuals[3], double weights[3])
{
  const double weight = sqrt (sample->weight);

  for (guint c = 0; c < 3; c++)
    weights[c] = weight * sherd_huber_slope (residuals[c], HUBER_THRESHOLD);
}

/* By a parameter of all channels; @three: derivatives of ln E. */
static void
set_shared (double *rows, const Whitening *whitening, const double weights[3], double three[3])
{
  whiten (whitening, three);
  for (guint c = 0; c < 3; c++)
    rows[c] = three[c] * weights[c];
}

/* By a parameter of @channel alone. */
static void
set_own (double *rows, const Whitening *whitening, const double weights[3], guint channel, double slope)
{
  const double other = slope * (whitening->of_mean - whitening->of_departure) / 3;
  const double own = other + slope * whitening->of_departure;

  for (guint c = 0; c < 3; c++)
    rows[c] = (c == channel ? own : other) * weights[c];
}

/* Three residuals of one sample; @columns: the first one's derivative by the first parameter. */
static void
sample_jacobian (const Setting *setting, const SherdLightSample *sample, double *columns, gsize n_residuals)
{
  const LampLight lit = lamp_light (setting, &sample->point);
  const Whitening whitening = whitening_of (sample);
  const double dims = -sample->point.corner_square / vignetting_factor (setting->parameters, &sample->point);
  double by_factor[SHERD_LIGHT_POWER + 1], residuals[3], weights[3], per_total[3], same[3] = { dims, dims, dims };

  factor_slopes (setting, &lit, &sample->point, by_factor);
  sample_residuals (setting, sample, lit.factor, &whitening, residuals);
  residual_weights (sample, residuals, weights);
  for (guint c = 0; c < 3; c++)
    per_total[c] = 1 / (lit.factor + setting->ambient[c]);
  for (guint k = SHERD_LIGHT_AZIMUTH; k <= SHERD_LIGHT_POWER; k++)
    {
      double three[3] = { by_factor[k] * per_total[0], by_factor[k] * per_total[1], by_factor[k] * per_total[2] };

      set_shared (columns + k * n_residuals, &whitening, weights, three);
    }
  set_shared (columns + SHERD_LIGHT_VIGNETTING * n_residuals, &whitening, weights, same);
  for (guint c = 0; c < 3; c++)
    {
      set_own (columns + (SHERD_LIGHT_LN_LAMP + c) * n_residuals, &whitening, weights, c, 1);
      set_own (columns + (SHERD_LIGHT_LN_AMBIENT + c) * n_residuals, &whitening, weights, c,
               setting->ambient[c] * per_total[c]);
      set_own (columns + (SHERD_LIGHT_LN_GROUND + c) * n_residuals, &whitening, weights, c, sample->ground ? 1 : 0);
    }
}

static void
light_jacobian (const double *x, double *jacobian, gconstpointer user_data)
{
  const FitData *data = user_data;
  const gsize n_residuals = 3 * data->n_samples + N_PRIORS;
  Setting setting;

  setting_init (&setting, x, data->middle_mm);
  for (gsize i = 0; i < data->n_samples; i++)
    sample_jacobian (&setting, &data->samples[i], jacobian + 3 * i, n_residuals);
  prior_jacobian (jacobian + 3 * data->n_samples, n_residuals);
}

static double
solve (SherdLight *light, const SherdLightSample *samples, gsize n_samples, guint max_iterations, gboolean last)
{
  const FitData data = { samples, n_samples, light->middle_mm };
  const SherdLeastSquares problem = { light_residuals,          light_jacobian,   &data,
                                      3 * n_samples + N_PRIORS, SHERD_LIGHT_SIZE, max_iterations };

  return sherd_least_squares_solve (&problem, light->parameters, last ? &light->covariance[0][0] : NULL);
}

/* Level and ground from the means of the samples, the lamp as believed. */
static void
start_parameters (SherdLight *light, const SherdLightSample *samples, gsize n_samples)
{
  double sum[2][3] = { { 0 } };
  gsize n[2] = { 0, 0 };
  double *x = light->parameters;

  for (gsize i = 0; i < n_samples; i++)
    {
      const guint kind = samples[i].ground ? 1 : 0;

      n[kind]++;
      for (guint c = 0; c < 3; c++)
        sum[kind][c] += samples[i].ln_value[c];
    }
  light->has_ground = n[1] > 0;
  x[SHERD_LIGHT_LN_DISTANCE] = log (distance_mm);
  x[SHERD_LIGHT_POWER] = power;
  for (guint c = 0; c < 3; c++)
    {
      const double level = n[0] ? sum[0][c] / (double)n[0] : 0;

      x[SHERD_LIGHT_LN_LAMP + c] = level;
      x[SHERD_LIGHT_LN_AMBIENT + c] = log (ambient_frac);
      x[SHERD_LIGHT_LN_GROUND + c] = n[1] ? sum[1][c] / (double)n[1] - level : 0;
    }
}

/* All patches and an even choice of the ground, enough to tell which start is best. */
static gsize
choose_coarse (const SherdLightSample *samples, gsize n_samples, SherdLightSample *coarse)
{
  gsize n_ground = 0, n = 0;
  double step, due = 0;

  for (gsize i = 0; i < n_samples; i++)
    n_ground += samples[i].ground;
  step = MAX (1.0, (double)n_ground / N_COARSE_GROUND);
  for (gsize i = 0; i < n_samples; i++)
    {
      if (samples[i].ground && --due > 0)
        continue;
      coarse[n] = samples[i];
      if (samples[i].ground)
        {
          coarse[n].weight *= step;
          due += step;
        }
      n++;
    }
  return n;
}

/**
 * sherd_light_init_even:
 *
 * Light that is the same everywhere and of level one: nothing is known of it.
 */
void
sherd_light_init_even (SherdLight *light, const double middle_mm[3])
{
  memset (light, 0, sizeof *light);
  memcpy (light->middle_mm, middle_mm, sizeof light->middle_mm);
  light->parameters[SHERD_LIGHT_ELEVATION] = elevation_rad;
  light->parameters[SHERD_LIGHT_LN_DISTANCE] = log (distance_mm);
  for (guint c = 0; c < 3; c++)
    light->parameters[SHERD_LIGHT_LN_AMBIENT + c] = 20;
  for (guint c = 0; c < 3; c++)
    light->parameters[SHERD_LIGHT_LN_LAMP + c] = -20;
}

/* A place of the lamp to begin with, and how it is getting on. */
typedef struct
{
  SherdLight light;
  double cost;
} Start;

static int
compare_starts (gconstpointer a, gconstpointer b)
{
  const double difference = ((const Start *)a)->cost - ((const Start *)b)->cost;

  return (difference > 0) - (difference < 0);
}

static void
place_starts (Start starts[N_STARTS], const SherdLight *light)
{
  for (guint i = 0; i < N_STARTS; i++)
    {
      starts[i].light = *light;
      starts[i].light.parameters[SHERD_LIGHT_AZIMUTH] = (i / 2) * 2 * G_PI / (N_STARTS / 2);
      starts[i].light.parameters[SHERD_LIGHT_ELEVATION] = start_elevations_rad[i % 2];
    }
}

/**
 * sherd_light_fit:
 * @samples: chart patches and cells of bare ground; either kind may be missing
 * @middle_mm: middle of the face
 *
 * Fits one near lamp and even ambient light to a photograph, per channel
 *
 *   E = V · L · [ s(cos θ) (D/d)^p + A/L ],  V = 1 − k r²
 *
 * with the lamp's place, p and k shared: a textbook point source with Lambert's cosine law, free in how fast it fades,
 * plus ambient light and the lens's vignetting. Patches give the level, the ground (of one unknown reflectance) the
 * shape under the zones. Least squares on logarithms with Huber's loss from several places of the lamp, each parameter
 * held by a broad belief stated at the top of this file.
 *
 * Returns: the sum of squared residuals
 */
double
sherd_light_fit (SherdLight *light, const SherdLightSample *samples, gsize n_samples, const double middle_mm[3])
{
  g_autofree SherdLightSample *coarse = g_new (SherdLightSample, n_samples + 1);
  const gsize n_coarse = choose_coarse (samples, n_samples, coarse);
  Start starts[N_STARTS];

  sherd_light_init_even (light, middle_mm);
  start_parameters (light, samples, n_samples);
  place_starts (starts, light);
  for (guint i = 0; i < N_STARTS; i++)
    starts[i].cost = solve (&starts[i].light, coarse, n_coarse, N_FIRST_STEPS, FALSE);
  qsort (starts, N_STARTS, sizeof *starts, compare_starts);
  for (guint i = 0; i < N_KEPT_STARTS; i++)
    starts[i].cost = solve (&starts[i].light, coarse, n_coarse, N_FURTHER_STEPS, FALSE);
  qsort (starts, N_KEPT_STARTS, sizeof *starts, compare_starts);
  *light = starts[0].light;
  return sherd_light_refit (light, samples, n_samples);
}

/* Fits again from where @light stands, after the samples have changed a little. */
double
sherd_light_refit (SherdLight *light, const SherdLightSample *samples, gsize n_samples)
{
  return solve (light, samples, n_samples, 30, TRUE);
}

/**
 * sherd_light_at:
 * @value: (out): light in three channels; linear light ÷ it is reflectance
 */
void
sherd_light_at (const SherdLight *light, const SherdLightPoint *point, double value[3])
{
  Setting setting;

  setting_init (&setting, light->parameters, light->middle_mm);
  ln_light (&setting, lamp_light (&setting, point).factor, vignetting_factor (light->parameters, point), value);
  for (guint c = 0; c < 3; c++)
    value[c] = exp (value[c]);
}

/* Share of the light at @point that comes from the lamp itself, in three channels, 0…1. */
void
sherd_light_lamp_shares (const SherdLight *light, const SherdLightPoint *point, double share[3])
{
  double factor;
  Setting setting;

  setting_init (&setting, light->parameters, light->middle_mm);
  factor = lamp_light (&setting, point).factor;
  for (guint c = 0; c < 3; c++)
    share[c] = factor / (factor + setting.ambient[c]);
}

/* The same, mean of the channels. */
double
sherd_light_lamp_share (const SherdLight *light, const SherdLightPoint *point)
{
  double share[3];

  sherd_light_lamp_shares (light, point, share);
  return (share[0] + share[1] + share[2]) / 3;
}

/* How well the colour of the ambient light beside the lamp's is known: standard uncertainty of ln red less ln blue. */
double
sherd_light_ambient_tint_sd (const SherdLight *light)
{
  const guint red = SHERD_LIGHT_LN_AMBIENT, blue = SHERD_LIGHT_LN_AMBIENT + 2;

  return sqrt (MAX (light->covariance[red][red] + light->covariance[blue][blue] - 2 * light->covariance[red][blue], 0));
}

/* Makes light 1 at @point, for want of anything that tells its level. */
void
sherd_light_free_level (SherdLight *light, const SherdLightPoint *point)
{
  double value[3];

  sherd_light_at (light, point, value);
  for (guint c = 0; c < 3; c++)
    {
      light->parameters[SHERD_LIGHT_LN_LAMP + c] -= log (value[c]);
      light->parameters[SHERD_LIGHT_LN_GROUND + c] += log (value[c]);
    }
  light->level_free = TRUE;
  light->level_point = *point;
}

static void
point_slopes (const SherdLight *light, const SherdLightPoint *point, double slopes[3][SHERD_LIGHT_SIZE])
{
  double by_factor[SHERD_LIGHT_POWER + 1];
  Setting setting;
  LampLight lit;

  setting_init (&setting, light->parameters, light->middle_mm);
  lit = lamp_light (&setting, point);
  factor_slopes (&setting, &lit, point, by_factor);
  for (guint c = 0; c < 3; c++)
    ln_light_slopes (&setting, c, lit.factor, by_factor, point, slopes[c]);
}

/**
 * sherd_light_ln_covariance:
 * @covariance: (out): of ln E in three channels at @point, from the fit; relative to the point that holds the level
 * when nothing else does
 */
void
sherd_light_ln_covariance (const SherdLight *light, const SherdLightPoint *point, double covariance[3][3])
{
  double slopes[3][SHERD_LIGHT_SIZE] = { { 0 } }, at_level[3][SHERD_LIGHT_SIZE] = { { 0 } };

  point_slopes (light, point, slopes);
  if (light->level_free)
    point_slopes (light, &light->level_point, at_level);
  for (guint i = 0; i < 3; i++)
    for (guint k = 0; k < SHERD_LIGHT_SIZE; k++)
      slopes[i][k] -= at_level[i][k];
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      {
        covariance[i][j] = 0;
        for (guint k = 0; k < SHERD_LIGHT_SIZE; k++)
          for (guint l = 0; l < SHERD_LIGHT_SIZE; l++)
            covariance[i][j] += slopes[i][k] * light->covariance[k][l] * slopes[j][l];
      }
}
