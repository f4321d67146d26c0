/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/calibrate.h"

#include "colour/srgb.h"
#include "measure/field.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_statistics.h>
#include <math.h>
#include <string.h>

/* How samples scatter about the light, in ln. */
typedef struct
{
  double brightness; /* common to the channels */
  double colour;     /* of each channel alone */
} Scatter;

/* Scatter of patches (printing, dust) and of cells of ground (mottling) about the light, in ln: believed before looking
 * (our choice), then taken from what the first fit leaves over, but never below the least. Clay is mottled more broadly
 * than a cell: before looking all cells together weigh as much as GROUND_WEIGHT independent ones in brightness (our
 * choice), then as much as their covariance by distance says; in colour each counts, for that is the camera's noise. */
static const Scatter patch_scatter = { 0.012, 0.010 }, ground_scatter = { 0.04, 0.03 };
static const Scatter least_scatter = { 0.005, 0.003 };
#define GROUND_WEIGHT 60.0
#define FEWEST_TO_WEIGH 40
/* A cell farther off is dirt. */
#define MOST_LEFT_LN 0.15
/* Darker patches tell more of noise and flare than of light. */
#define LEAST_PATCH_REFLECTANCE 0.03
#define LEAST_READING 0.005
#define N_ROUNDS 4
/* A patch this far off the fitted light is shaded or covered, if most others are not. */
#define SHADED_LN 0.2
#define MOST_SHADED_FRAC 0.34
#define LEAST_GROUND_CELLS 6
#define FEWEST_FOR_SCATTER 10

typedef struct
{
  const SherdMeasurePatch *patches;
  SherdPatchReading *readings;
  gsize n_patches;
  GArray *cells;
  const SherdCamera *camera;
  double (*as_filed)[3];    /* means of the patches before any tone curve is undone */
  double *cells_as_filed;   /* the cells' ln_value likewise */
  double (*reflectance)[3]; /* of each patch in the camera's channels */
  Scatter patch;
  Scatter ground;
  double ground_weight; /* of one cell */
} Work;

void
sherd_calibration_clear (SherdCalibration *calibration)
{
  g_clear_pointer (&calibration->errors, g_free);
}

static void
keep_as_filed (Work *work)
{
  for (gsize i = 0; i < work->n_patches; i++)
    memcpy (work->as_filed[i], work->readings[i].mean, sizeof work->as_filed[i]);
  for (guint i = 0; i < work->cells->len; i++)
    memcpy (work->cells_as_filed + 3 * i, g_array_index (work->cells, SherdGroundCell, i).ln_value,
            3 * sizeof (double));
}

static void
start_reflectances (Work *work)
{
  for (gsize i = 0; i < work->n_patches; i++)
    {
      const SherdXyz xyz = sherd_lab_to_xyz (&work->patches[i].lab);
      const SherdRgb rgb = sherd_srgb_from_xyz_d50 (&xyz);

      work->reflectance[i][0] = rgb.r;
      work->reflectance[i][1] = rgb.g;
      work->reflectance[i][2] = rgb.b;
    }
}

static gboolean
patch_tells_light (const Work *work, gsize i)
{
  for (guint c = 0; c < 3; c++)
    if (work->reflectance[i][c] < LEAST_PATCH_REFLECTANCE || work->readings[i].mean[c] < LEAST_READING)
      return FALSE;
  return work->readings[i].usable;
}

static void
append_ground (const Work *work, GArray *samples)
{
  const double weight = work->ground_weight;

  for (guint i = 0; work->cells->len >= LEAST_GROUND_CELLS && i < work->cells->len; i++)
    {
      const SherdGroundCell *cell = &g_array_index (work->cells, SherdGroundCell, i);
      SherdLightSample sample = { .brightness_sd_ln = work->ground.brightness,
                                  .colour_sd_ln = work->ground.colour * sqrt (weight),
                                  .weight = weight,
                                  .ground = TRUE };

      sample.point = sherd_field_point (work->camera, cell->centre_mm);
      memcpy (sample.ln_value, cell->ln_value, sizeof sample.ln_value);
      g_array_append_val (samples, sample);
    }
}

/* Patches first, then the ground, so that an even choice holds both. */
static GArray *
light_samples (const Work *work)
{
  GArray *samples = g_array_new (FALSE, TRUE, sizeof (SherdLightSample));

  for (gsize i = 0; i < work->n_patches; i++)
    {
      SherdLightSample sample = { .point = work->readings[i].point,
                                  .brightness_sd_ln = work->patch.brightness,
                                  .colour_sd_ln = work->patch.colour,
                                  .weight = 1 };

      if (!patch_tells_light (work, i))
        continue;
      for (guint c = 0; c < 3; c++)
        sample.ln_value[c] = log (work->readings[i].mean[c] / work->reflectance[i][c]);
      g_array_append_val (samples, sample);
    }
  append_ground (work, samples);
  return samples;
}

/* The patches with the light divided out; @index tells which patch each pair is. */
static gsize
make_pairs (const Work *work, const SherdLight *light, SherdCorrectionPair *pairs, gsize *index)
{
  gsize n = 0;

  for (gsize i = 0; i < work->n_patches; i++)
    {
      const SherdPatchReading *reading = &work->readings[i];
      double value[3];

      if (!reading->usable)
        continue;
      sherd_light_at (light, &reading->point, value);
      pairs[n].linear =
        (SherdRgb){ reading->mean[0] / value[0], reading->mean[1] / value[1], reading->mean[2] / value[2] };
      pairs[n].reference = work->patches[i].lab;
      pairs[n].weight = 1;
      index[n++] = i;
    }
  return n;
}

/* What each patch reflects in the camera's own channels: the correction turned round. */
static void
update_reflectances (Work *work, const SherdCorrection *correction)
{
  double inverse_data[9], matrix_data[9];
  gsl_matrix_view inverse = gsl_matrix_view_array (inverse_data, 3, 3);
  gsl_matrix_view matrix = gsl_matrix_view_array (matrix_data, 3, 3);
  gsize indices[3];
  gsl_permutation permutation = { 3, indices };
  int sign;

  for (guint i = 0; i < 9; i++)
    matrix_data[i] = correction->matrix[i / 3][i % 3];
  gsl_linalg_LU_decomp (&matrix.matrix, &permutation, &sign);
  if (fabs (gsl_linalg_LU_det (&matrix.matrix, sign)) < 1e-6)
    return;
  gsl_linalg_LU_invert (&matrix.matrix, &permutation, &inverse.matrix);
  for (gsize i = 0; i < work->n_patches; i++)
    {
      const SherdXyz xyz = sherd_lab_to_xyz (&work->patches[i].lab);

      for (guint c = 0; c < 3; c++)
        work->reflectance[i][c] =
          inverse_data[3 * c] * xyz.x + inverse_data[3 * c + 1] * xyz.y + inverse_data[3 * c + 2] * xyz.z;
    }
}

/* Patches in shadow or covered are set aside, unless so many are that the fit itself must be wrong. */
static void
drop_shaded (Work *work, const SherdLight *light)
{
  g_autofree gboolean *shaded = g_new0 (gboolean, work->n_patches);
  gsize n_shaded = 0, n_told = 0;

  for (gsize i = 0; i < work->n_patches; i++)
    {
      double value[3], off = 0;

      if (!patch_tells_light (work, i))
        continue;
      sherd_light_at (light, &work->readings[i].point, value);
      for (guint c = 0; c < 3; c++)
        off += log (work->readings[i].mean[c] / work->reflectance[i][c] / value[c]) / 3;
      shaded[i] = fabs (off) > SHADED_LN;
      n_shaded += shaded[i] != FALSE;
      n_told++;
    }
  if ((double)n_shaded > MOST_SHADED_FRAC * (double)n_told)
    return;
  for (gsize i = 0; i < work->n_patches; i++)
    if (shaded[i])
      work->readings[i].usable = FALSE;
}

static double
scaled_median (double *sizes, gsize n)
{
  return 1.4826 * gsl_stats_median (sizes, 1, n);
}

/* What a fit leaves over in the patches, or in the ground; @believed when there are too few to tell. */
static Scatter
scatter_left (const SherdLight *light,
              const SherdLightSample *samples,
              gsize n_samples,
              gboolean ground,
              const Scatter *believed)
{
  g_autofree double *brightness = g_new (double, n_samples + 1);
  g_autofree double *colour = g_new (double, 3 * n_samples + 1);
  Scatter scatter = *believed;
  gsize n = 0;

  for (gsize i = 0; i < n_samples; i++)
    {
      double value[3], left[3], mean = 0;

      if ((samples[i].ground != FALSE) != (ground != FALSE))
        continue;
      sherd_light_at (light, &samples[i].point, value);
      for (guint c = 0; c < 3; c++)
        {
          left[c] =
            samples[i].ln_value[c] - log (value[c]) - (ground ? light->parameters[SHERD_LIGHT_LN_GROUND + c] : 0);
          mean += left[c] / 3;
        }
      for (guint c = 0; c < 3; c++)
        colour[3 * n + c] = fabs (left[c] - mean) * sqrt (1.5);
      brightness[n++] = fabs (mean);
    }
  if (n >= FEWEST_FOR_SCATTER)
    {
      scatter.brightness = MAX (scaled_median (brightness, n), least_scatter.brightness);
      scatter.colour = MAX (scaled_median (colour, 3 * n), least_scatter.colour);
    }
  return scatter;
}

/* One over the number of neighbours that tell as much as one cell. */
static double
learn_weight (const Work *work, const SherdLight *light, const SherdLightSample *ground)
{
  g_autofree double *residuals = g_new (double, 3 * work->cells->len);
  SherdCellScatter brightness, colour;

  for (guint i = 0; i < work->cells->len; i++)
    {
      double value[3];

      sherd_light_at (light, &ground[i].point, value);
      for (guint c = 0; c < 3; c++)
        residuals[3 * i + c] =
          CLAMP (ground[i].ln_value[c] - log (value[c]) - light->parameters[SHERD_LIGHT_LN_GROUND + c], -MOST_LEFT_LN,
                 MOST_LEFT_LN);
    }
  sherd_cell_scatter (work->cells, residuals, &brightness, &colour);
  return 1 / brightness.alike;
}

static void
learn_scatter (Work *work, const SherdLight *light, const GArray *samples)
{
  const SherdLightSample *first = (const SherdLightSample *)samples->data;

  work->patch = scatter_left (light, first, samples->len, FALSE, &patch_scatter);
  work->ground = scatter_left (light, first, samples->len, TRUE, &ground_scatter);
  if (work->cells->len >= FEWEST_TO_WEIGH)
    work->ground_weight = learn_weight (work, light, first + samples->len - work->cells->len);
}

static void
fit_light (Work *work, SherdLight *light, SherdPoint middle_mm, gboolean again)
{
  const double middle[3] = { middle_mm.x, middle_mm.y, 0 };
  g_autoptr (GArray) samples = light_samples (work);

  if (samples->len == 0)
    sherd_light_init_even (light, middle);
  else if (again)
    sherd_light_refit (light, (const SherdLightSample *)samples->data, samples->len);
  else
    sherd_light_fit (light, (const SherdLightSample *)samples->data, samples->len, middle);
  learn_scatter (work, light, samples);
}

static void
keep_errors (SherdCalibration *calibration, const gsize *index, gsize n, const double *residual_lab)
{
  for (gsize k = 0; k < n; k++)
    {
      SherdPatchError *patch = &calibration->errors[index[k]];

      patch->usable = TRUE;
      patch->error = (SherdLab){ residual_lab[3 * k], residual_lab[3 * k + 1], residual_lab[3 * k + 2] };
    }
}

/* Patches and ground as the camera saw them, from what the file has. */
static void
straighten (Work *work, const SherdTone *tone)
{
  for (gsize i = 0; i < work->n_patches; i++)
    for (guint c = 0; c < 3; c++)
      work->readings[i].mean[c] = sherd_tone_apply (tone, (float)work->as_filed[i][c]);
  for (guint i = 0; i < work->cells->len; i++)
    for (guint c = 0; c < 3; c++)
      {
        SherdGroundCell *cell = &g_array_index (work->cells, SherdGroundCell, i);

        cell->ln_value[c] = log (MAX (sherd_tone_apply (tone, (float)exp (work->cells_as_filed[3 * i + c])), 1e-5));
      }
}

static void
fit_tone (Work *work, const SherdLight *light, SherdTone *tone)
{
  g_autofree SherdRgb *seen = g_new (SherdRgb, work->n_patches);
  g_autofree SherdRgb *lit = g_new (SherdRgb, work->n_patches);
  g_autofree SherdLab *reference = g_new (SherdLab, work->n_patches);
  gsize n = 0;

  for (gsize i = 0; i < work->n_patches; i++)
    {
      const double *as_filed = work->as_filed[i];
      double value[3];

      if (!work->readings[i].usable)
        continue;
      sherd_light_at (light, &work->readings[i].point, value);
      seen[n] = (SherdRgb){ as_filed[0], as_filed[1], as_filed[2] };
      lit[n] = (SherdRgb){ value[0], value[1], value[2] };
      reference[n++] = work->patches[i].lab;
    }
  sherd_tone_fit (tone, seen, lit, reference, n);
  straighten (work, tone);
}

/* A chart that does not determine a 3×3 fit, such as a scale of greys, still serves as a grey card. */
static gboolean
fit_colours (SherdCorrection *correction, const SherdCorrectionPair *pairs, gsize n_pairs, GError **error)
{
  g_autoptr (GError) of_chart = NULL;

  if (sherd_correction_fit (correction, pairs, n_pairs, SHERD_CORRECTION_LINEAR, NULL, &of_chart) ||
      sherd_correction_fit_grey (correction, pairs, n_pairs, NULL, NULL))
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&of_chart));
  return FALSE;
}

/* Light, tone curve and correction depend on each other, so they are fitted in turn. */
static gboolean
calibrate_chart (SherdCalibration *calibration, Work *work, SherdPoint middle_mm, GError **error)
{
  g_autofree SherdCorrectionPair *pairs = g_new (SherdCorrectionPair, work->n_patches);
  g_autofree gsize *index = g_new (gsize, work->n_patches);
  g_autofree double *residual_lab = g_new0 (double, 3 * work->n_patches);
  gsize n;

  for (guint round = 0; round < N_ROUNDS; round++)
    {
      /* The first light was fitted to patches whose colours the camera had bent: look everywhere once more, and when it
       * has bent tones as well, each time the curve has come nearer. */
      fit_light (work, &calibration->light, middle_mm, round > 1 && !calibration->tone.bent);
      if (round > 0)
        drop_shaded (work, &calibration->light);
      fit_tone (work, &calibration->light, &calibration->tone);
      n = make_pairs (work, &calibration->light, pairs, index);
      if (!fit_colours (&calibration->correction, pairs, n, error))
        return FALSE;
      update_reflectances (work, &calibration->correction);
    }
  calibration->level_known = TRUE;
  n = make_pairs (work, &calibration->light, pairs, index);
  if (!sherd_correction_fit_best (&calibration->correction, pairs, n, residual_lab, NULL))
    return sherd_correction_fit_grey (&calibration->correction, pairs, n, NULL, error);
  keep_errors (calibration, index, n, residual_lab);
  return TRUE;
}

static gboolean
calibrate_card (SherdCalibration *calibration, Work *work, SherdPoint middle_mm, GError **error)
{
  SherdCorrectionPair pair;
  gsize index;

  if (!work->readings[0].usable)
    {
      g_set_error (error, SHERD_MEASURE_ERROR, SHERD_MEASURE_ERROR_REFERENCE,
                   _ ("The grey card cannot be used: it is over-exposed, too dark, uneven or too small in the "
                      "photograph. Check its marks, or photograph it in the same light as the piece."));
      return FALSE;
    }
  fit_light (work, &calibration->light, middle_mm, FALSE);
  make_pairs (work, &calibration->light, &pair, &index);
  sherd_correction_init_grey (&calibration->correction, &pair.linear, &pair.reference);
  calibration->level_known = TRUE;
  return TRUE;
}

/* Keeps the file's own level: light is 1 in the middle of the face. */
static void
calibrate_nothing (SherdCalibration *calibration, Work *work, SherdPoint middle_mm)
{
  const SherdLightPoint point = sherd_field_point (work->camera, middle_mm);

  fit_light (work, &calibration->light, middle_mm, FALSE);
  sherd_light_free_level (&calibration->light, &point);
  sherd_correction_init_none (&calibration->correction);
}

/**
 * sherd_calibrate:
 * @calibration: (out caller-allocates): to be cleared with sherd_calibration_clear()
 * @patches: of the chart, or the one grey card; none when @kind is SHERD_REFERENCE_NONE
 * @readings: (inout): the same patches as photographed; those found to be shaded become unusable
 * @ground_cells: (inout): of SherdGroundCell; straightened like @readings when the camera bent tones
 *
 * Fits light and colour correction of one photograph together. The light is told by the chart's patches (light seen
 * divided by what they reflect) and by bare ground; the correction by the patches with the light divided out; each
 * round improves the other. Leave-one-out errors of the patches are kept.
 *
 * Returns: FALSE with SHERD_MEASURE_ERROR_REFERENCE or an error of the colour room when the reference is of no use
 */
gboolean
sherd_calibrate (SherdCalibration *calibration,
                 SherdReferenceKind kind,
                 const SherdMeasurePatch *patches,
                 SherdPatchReading *readings,
                 gsize n_patches,
                 GArray *ground_cells,
                 const SherdCamera *camera,
                 SherdPoint face_middle_mm,
                 GError **error)
{
  g_autofree double (*reflectance)[3] = g_malloc0 ((n_patches + 1) * sizeof *reflectance);
  g_autofree double (*as_filed)[3] = g_malloc0 ((n_patches + 1) * sizeof *as_filed);
  g_autofree double *cells_as_filed = g_new0 (double, 3 * ground_cells->len + 1);
  Work work = { patches,
                readings,
                n_patches,
                ground_cells,
                camera,
                as_filed,
                cells_as_filed,
                reflectance,
                patch_scatter,
                ground_scatter,
                MIN (1, GROUND_WEIGHT / MAX (ground_cells->len, 1)) };

  memset (calibration, 0, sizeof *calibration);
  calibration->n_errors = n_patches;
  calibration->errors = g_new0 (SherdPatchError, n_patches + 1);
  for (gsize i = 0; i < n_patches; i++)
    calibration->errors[i].lab = patches[i].lab;
  keep_as_filed (&work);
  start_reflectances (&work);
  switch (kind)
    {
    case SHERD_REFERENCE_CHART:
      return calibrate_chart (calibration, &work, face_middle_mm, error);
    case SHERD_REFERENCE_GREY_CARD:
      return calibrate_card (calibration, &work, face_middle_mm, error);
    case SHERD_REFERENCE_NONE:
    default:
      calibrate_nothing (calibration, &work, face_middle_mm);
      return TRUE;
    }
}
