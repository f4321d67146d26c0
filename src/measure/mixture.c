/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/mixture.h"

#include "measure/choice.h"
#include "measure/pixel-classes.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics.h>
#include <math.h>
#include <string.h>

/* Mottling of a painted surface before it is seen (our choice): 4.5 % in brightness, 1.5 % in colour, believed as
 * much as PRIOR_PIXELS pixels. */
#define PAINT_BRIGHTNESS_SD 0.045
#define PAINT_COLOUR_SD 0.015
#define PRIOR_PIXELS 30.0
#define LEAST_BRIGHTNESS_SD 0.015
#define LEAST_COLOUR_SD 0.005
#define MOST_BRIGHTNESS_SD 0.12
#define MOST_COLOUR_SD 0.05

/* A paint nearer to the ground than this (in standard deviations of ground pixels) is not told from it. */
#define DISTINCT_DISTANCE 2.5

#define N_SEARCH_PIXELS 240
#define N_FIT_PIXELS 600
#define N_SEARCH_STEPS 5
#define N_FIT_STEPS 25
/* When a thousand zones share the pixels, each has few, and few steps are worth it. */
#define FEW_PIXELS 200
#define N_HURRIED_STEPS 6
#define N_HURRIED_PIXELS 45
#define ENOUGH_GAIN 1e-4
#define HURRIED_GAIN 1e-2
/* A start this near to a paint already found (in standard deviations of its pixels) would lead to the same. */
#define SAME_PAINT 2.0

/* Gaussian in three channels, ready to be evaluated. */
typedef struct
{
  double mean[3];
  double inverse[6]; /* xx, yy, zz, xy, xz, yz */
  double ln_scale;   /* −½ ln |Σ|; the factor (2π)^−3/2 is left out everywhere */
} Gaussian;

typedef struct
{
  const float *pixels;
  gsize n_pixels;
  SherdSurface ground;
  double noise_sd[3];
} Zone;

typedef struct
{
  SherdPaintGuess paint;
  double ln_likelihood;
} State;

static void
gaussian_init (Gaussian *gaussian, const double mean[3], double m[3][3])
{
  const double xx = m[1][1] * m[2][2] - m[1][2] * m[1][2];
  const double xy = m[0][2] * m[1][2] - m[0][1] * m[2][2];
  const double xz = m[0][1] * m[1][2] - m[0][2] * m[1][1];
  const double determinant = m[0][0] * xx + m[0][1] * xy + m[0][2] * xz;

  memcpy (gaussian->mean, mean, sizeof gaussian->mean);
  gaussian->inverse[0] = xx / determinant;
  gaussian->inverse[1] = (m[0][0] * m[2][2] - m[0][2] * m[0][2]) / determinant;
  gaussian->inverse[2] = (m[0][0] * m[1][1] - m[0][1] * m[0][1]) / determinant;
  gaussian->inverse[3] = xy / determinant;
  gaussian->inverse[4] = xz / determinant;
  gaussian->inverse[5] = (m[0][1] * m[0][2] - m[0][0] * m[1][2]) / determinant;
  gaussian->ln_scale = -0.5 * log (determinant);
}

static double
gaussian_square (const Gaussian *gaussian, const float *pixel)
{
  const double x = pixel[0] - gaussian->mean[0];
  const double y = pixel[1] - gaussian->mean[1];
  const double z = pixel[2] - gaussian->mean[2];
  const double *s = gaussian->inverse;

  return s[0] * x * x + s[1] * y * y + s[2] * z * z + 2 * (s[3] * x * y + s[4] * x * z + s[5] * y * z);
}

static double
median_of (double *values, gsize n)
{
  return gsl_stats_median (values, 1, n);
}

/* Median of one channel of one pixel in @stride, and how far from it a pixel may lie to belong to the surface. */
static double
median_channel (const float *reflectance, gsize n, gsize stride, guint channel, double *scratch, double *reach)
{
  double median;

  for (gsize i = 0; i < n; i++)
    scratch[i] = reflectance[3 * sherd_choose_in_group (i, stride) + channel];
  median = median_of (scratch, n);
  for (gsize i = 0; i < n; i++)
    scratch[i] = fabs (reflectance[3 * sherd_choose_in_group (i, stride) + channel] - median);
  *reach = 3 * 1.4826 * median_of (scratch, n) + 1e-6;
  return median;
}

/**
 * sherd_surface_fit:
 * @reflectance: three floats a pixel
 * @n_enough: an even choice of about so many pixels is looked at
 *
 * Median reflectance of single pixels and their covariance, robustly: pixels more than three median absolute
 * deviations (Gaussian scaled) off in any channel are left out of the covariance.
 */
void
sherd_surface_fit (SherdSurface *surface, const float *reflectance, gsize n_pixels, gsize n_enough)
{
  const gsize stride = MAX (1, n_pixels / n_enough), n = n_pixels / stride;
  g_autofree double *scratch = g_new (double, n);
  double reach[3], n_inside = 0;

  memset (surface->covariance, 0, sizeof surface->covariance);
  for (guint c = 0; c < 3; c++)
    surface->mean[c] = median_channel (reflectance, n, stride, c, scratch, &reach[c]);
  for (gsize i = 0; i < n; i++)
    {
      const float *pixel = reflectance + 3 * sherd_choose_in_group (i, stride);
      double d[3];
      gboolean inside = TRUE;

      for (guint c = 0; c < 3; c++)
        {
          d[c] = pixel[c] - surface->mean[c];
          inside = inside && fabs (d[c]) <= reach[c];
        }
      for (guint a = 0; inside && a < 3; a++)
        for (guint b = 0; b < 3; b++)
          surface->covariance[a][b] += d[a] * d[b];
      n_inside += inside;
    }
  for (guint a = 0; a < 3; a++)
    for (guint b = 0; b < 3; b++)
      surface->covariance[a][b] = surface->covariance[a][b] / MAX (n_inside, 1) + (a == b ? 1e-8 : 0);
}

/* Mahalanobis distance of a colour from single pixels of @surface. */
double
sherd_surface_distance (const SherdSurface *surface, const double reflectance[3])
{
  const float pixel[3] = { (float)reflectance[0], (float)reflectance[1], (float)reflectance[2] };
  Gaussian gaussian;

  gaussian_init (&gaussian, surface->mean, (double (*)[3])surface->covariance);
  return sqrt (gaussian_square (&gaussian, pixel));
}

/* How many of @n_pixels lie within @reach standard deviations of single pixels of @surface. */
gsize
sherd_surface_count_like (const SherdSurface *surface, const float *reflectance, gsize n_pixels, double reach)
{
  Gaussian gaussian;
  gsize n = 0;

  gaussian_init (&gaussian, surface->mean, (double (*)[3])surface->covariance);
  for (gsize i = 0; i < n_pixels; i++)
    n += gaussian_square (&gaussian, reflectance + 3 * i) < reach * reach;
  return n;
}

/* Surfaces nearer to each other than this share of the lighter one: mottling leads from one to the other (our choice).
 */
#define ALIKE_FRAC 0.35

/* How many of @n_pixels lie more than @share of the way from @surface to @other; none when the two are alike. */
gsize
sherd_surface_count_toward (const SherdSurface *surface,
                            const SherdSurface *other,
                            const float *reflectance,
                            gsize n_pixels,
                            double share)
{
  double way[3], length = 0, size = 0;
  gsize n = 0;

  for (guint c = 0; c < 3; c++)
    {
      way[c] = other->mean[c] - surface->mean[c];
      length += way[c] * way[c];
      size += MAX (other->mean[c], surface->mean[c]) * MAX (other->mean[c], surface->mean[c]);
    }
  if (length < ALIKE_FRAC * ALIKE_FRAC * size)
    return 0;
  for (gsize i = 0; i < n_pixels; i++)
    {
      double along = 0;

      for (guint c = 0; c < 3; c++)
        along += (reflectance[3 * i + c] - surface->mean[c]) * way[c];
      n += along > share * length;
    }
  return n;
}

/* No division by a reflectance below this. */
#define BLACKEST 1e-3

/* Pixels channel by channel, filled up to whole blocks. */
typedef struct
{
  float *channels[3];
  gsize n_pixels;
} Planes;

/* Every @stride-th pixel of a zone. */
static void
planes_init (Planes *planes, const Zone *zone, gsize stride)
{
  const gsize n = (zone->n_pixels - 1) / stride + 1;
  const gsize n_full = (n + SHERD_PIXEL_BLOCK - 1) / SHERD_PIXEL_BLOCK * SHERD_PIXEL_BLOCK;

  planes->n_pixels = n;
  planes->channels[0] = g_new0 (float, 3 * n_full);
  for (guint c = 0; c < 3; c++)
    {
      planes->channels[c] = planes->channels[0] + c * n_full;
      for (gsize i = 0; i < n; i++)
        planes->channels[c][i] = zone->pixels[3 * stride * i + c];
    }
}

static void
planes_clear (Planes *planes)
{
  g_free (planes->channels[0]);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Planes, planes_clear)

/* What the pixels of the block from @first on probably are; nothing at all beyond the last pixel. */
static gsize
classify_block (const SherdPixelClasses *classes, const Planes *planes, gsize first, SherdMemberships *members)
{
  const float *const block[3] = { planes->channels[0] + first, planes->channels[1] + first,
                                  planes->channels[2] + first };
  const gsize n = MIN (planes->n_pixels - first, SHERD_PIXEL_BLOCK);

  sherd_pixel_classify (classes, block, members);
  for (gsize i = n; i < SHERD_PIXEL_BLOCK; i++)
    {
      members->density[i] = 1;
      members->mixed_share[i] = 0;
      for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
        members->probability[k][i] = 0;
    }
  return n;
}

/* Sums for the next guess of the paint, one for each place in a block. */
typedef struct
{
  float weight[SHERD_N_PIXEL_KINDS][SHERD_PIXEL_BLOCK];
  float paint[3][SHERD_PIXEL_BLOCK];
  float brightness[SHERD_PIXEL_BLOCK]; /* squared relative deviations */
  float colour[SHERD_PIXEL_BLOCK];
} LaneSums;

/* The same of all places. */
typedef struct
{
  double weight[SHERD_N_PIXEL_KINDS];
  double paint[3];
  double brightness;
  double colour;
} Sums;

static void
add_block (LaneSums *sums, const float per_paint[3], const SherdMemberships *members, const Planes *planes, gsize first)
{
  const float *red = planes->channels[0] + first, *green = planes->channels[1] + first;
  const float *blue = planes->channels[2] + first;

  for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
    for (guint i = 0; i < SHERD_PIXEL_BLOCK; i++)
      sums->weight[k][i] += members->probability[k][i];
  for (guint i = 0; i < SHERD_PIXEL_BLOCK; i++)
    {
      const float p = members->probability[SHERD_PIXEL_PAINT][i];
      const float r = red[i] * per_paint[0] - 1, g = green[i] * per_paint[1] - 1, b = blue[i] * per_paint[2] - 1;
      const float mean = (r + g + b) / 3;

      sums->paint[0][i] += p * red[i];
      sums->paint[1][i] += p * green[i];
      sums->paint[2][i] += p * blue[i];
      sums->brightness[i] += p * mean * mean;
      sums->colour[i] += p * ((r - mean) * (r - mean) + (g - mean) * (g - mean) + (b - mean) * (b - mean)) / 2;
    }
}

static double
sum_of_lanes (const float lanes[SHERD_PIXEL_BLOCK])
{
  double sum = 0;

  for (guint i = 0; i < SHERD_PIXEL_BLOCK; i++)
    sum += lanes[i];
  return sum;
}

static Sums
sum_lanes (const LaneSums *lanes)
{
  Sums sums = { .brightness = sum_of_lanes (lanes->brightness), .colour = sum_of_lanes (lanes->colour) };

  for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
    sums.weight[k] = sum_of_lanes (lanes->weight[k]);
  for (guint c = 0; c < 3; c++)
    sums.paint[c] = sum_of_lanes (lanes->paint[c]);
  return sums;
}

/* Of a whole block. One logarithm is enough: a density lies between about 10⁻³ and 10¹², sixteen of them far from the
 * ends of a double. */
static double
ln_density (const SherdMemberships *members)
{
  double product = 1;

  for (guint i = 0; i < SHERD_PIXEL_BLOCK; i++)
    product *= members->density[i];
  return log (product);
}

static double
shrunk_sd (double sum_of_squares, double n, double noise, double least, double most, double believed)
{
  const double seen = MAX (sum_of_squares / n - noise, least * least);
  const double variance = (n * seen + PRIOR_PIXELS * believed * believed) / (n + PRIOR_PIXELS);

  return MIN (sqrt (variance), most);
}

static void
update_state (const Zone *zone, State *state, const Sums *sums, gsize n_pixels)
{
  const double n = sums->weight[SHERD_PIXEL_PAINT];
  SherdPaintGuess *paint = &state->paint;
  double noise = 0;

  for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
    paint->weight[k] = (sums->weight[k] + 0.5) / ((double)n_pixels + 0.5 * SHERD_N_PIXEL_KINDS);
  for (guint c = 0; c < 3; c++)
    {
      const double relative = zone->noise_sd[c] / MAX (paint->mean[c], BLACKEST);

      noise += relative * relative / 3;
      paint->mean[c] = MAX (sums->paint[c] / n, 1e-4);
    }
  paint->brightness_sd =
    shrunk_sd (sums->brightness, n, noise / 3, LEAST_BRIGHTNESS_SD, MOST_BRIGHTNESS_SD, PAINT_BRIGHTNESS_SD);
  paint->colour_sd = shrunk_sd (sums->colour, n, noise, LEAST_COLOUR_SD, MOST_COLOUR_SD, PAINT_COLOUR_SD);
}

/* Sums over all pixels; their mean ln likelihood goes to @state. */
static Sums
sum_up (const Zone *zone, const Planes *planes, State *state)
{
  SherdPixelClasses classes;
  LaneSums lanes = { .weight = { { 0 } } };
  float per_paint[3];

  sherd_pixel_classes_init (&classes, &zone->ground, &state->paint, zone->noise_sd);
  for (guint c = 0; c < 3; c++)
    per_paint[c] = (float)(1 / MAX (state->paint.mean[c], BLACKEST));
  state->ln_likelihood = 0;
  for (gsize first = 0; first < planes->n_pixels; first += SHERD_PIXEL_BLOCK)
    {
      SherdMemberships members;

      classify_block (&classes, planes, first, &members);
      add_block (&lanes, per_paint, &members, planes, first);
      state->ln_likelihood += ln_density (&members);
    }
  state->ln_likelihood /= (double)planes->n_pixels;
  return sum_lanes (&lanes);
}

/* Expectation maximisation (A. P. Dempster, N. M. Laird, D. B. Rubin, J. R. Statist. Soc. B 39, 1977). */
static void
iterate (const Zone *zone, const Planes *planes, State *state, guint n_steps)
{
  const double enough = zone->n_pixels < FEW_PIXELS ? HURRIED_GAIN : ENOUGH_GAIN;
  double before = -INFINITY;

  for (guint step = 0; step < n_steps; step++)
    {
      const Sums sums = sum_up (zone, planes, state);

      if (sums.weight[SHERD_PIXEL_PAINT] < 2 || state->ln_likelihood - before < enough)
        return;
      before = state->ln_likelihood;
      update_state (zone, state, &sums, planes->n_pixels);
    }
}

static void
median_pixel (const Planes *planes, const gsize *order, gsize first, gsize last, double colour[3])
{
  const gsize n = MAX (last, first + 1) - first;
  g_autofree double *values = g_new (double, n);

  for (guint c = 0; c < 3; c++)
    {
      for (gsize i = 0; i < n; i++)
        values[i] = planes->channels[c][order[first + i]];
      colour[c] = MAX (median_of (values, n), 1e-4);
    }
}

static State
state_from (const double colour[3])
{
  State state = {
    { .brightness_sd = PAINT_BRIGHTNESS_SD, .colour_sd = PAINT_COLOUR_SD, .weight = { 0.3, 0.4, 0.2, 0.1 } }, 0
  };

  memcpy (state.paint.mean, colour, sizeof state.paint.mean);
  return state;
}

static gboolean
state_is_distinct (const Zone *zone, const State *state)
{
  return sherd_surface_distance (&zone->ground, state->paint.mean) > DISTINCT_DISTANCE &&
         state->paint.weight[SHERD_PIXEL_PAINT] * (double)zone->n_pixels > 2;
}

/* Every how-manieth pixel is looked at so that about @wanted are. */
static gsize
stride_for (gsize n_pixels, gsize wanted)
{
  if (n_pixels < FEW_PIXELS)
    return 1 + (n_pixels - 1) / N_HURRIED_PIXELS;
  return MAX (1, n_pixels / wanted);
}

static gboolean
leads_to (const Zone *zone, const State *found, const double colour[3])
{
  SherdSurface paint;

  memcpy (paint.mean, found->paint.mean, sizeof paint.mean);
  sherd_paint_guess_covariance (&found->paint, zone->noise_sd, paint.covariance);
  return sherd_surface_distance (&paint, colour) < SAME_PAINT;
}

/* The pixels in the order of their distance from the ground, and of their lightness. */
static void
sort_pixels (const Zone *zone, const Planes *planes, gsize *by_distance, gsize *by_lightness)
{
  const gsize n = planes->n_pixels;
  g_autofree double *distance = g_new (double, n);
  g_autofree double *lightness = g_new (double, n);
  Gaussian ground;

  gaussian_init (&ground, zone->ground.mean, (double (*)[3])zone->ground.covariance);
  for (gsize i = 0; i < n; i++)
    {
      const float pixel[3] = { planes->channels[0][i], planes->channels[1][i], planes->channels[2][i] };

      distance[i] = gaussian_square (&ground, pixel);
      lightness[i] = pixel[0] + pixel[1] + pixel[2];
    }
  gsl_sort_index (by_distance, distance, 1, n);
  gsl_sort_index (by_lightness, lightness, 1, n);
}

/* Starts from the pixels farthest from the ground, from the darkest and from the lightest; keeps the likeliest paint
 * that is not the ground itself. */
static gboolean
search_paint (const Zone *zone, State *best)
{
  static const struct
  {
    gboolean by_distance;
    double first, last;
  } starts[] = { { TRUE, 0.85, 1.0 }, { FALSE, 0.0, 0.06 }, { FALSE, 0.94, 1.0 },
                 { TRUE, 0.5, 1.0 },  { TRUE, 0.96, 1.0 },  { FALSE, 0.0, 0.4 } };
  const guint n_starts = zone->n_pixels < FEW_PIXELS ? 3 : G_N_ELEMENTS (starts);
  g_auto (Planes) planes = { 0 };
  g_autofree gsize *by_distance = NULL, *by_lightness = NULL;
  gboolean found = FALSE;

  planes_init (&planes, zone, stride_for (zone->n_pixels, N_SEARCH_PIXELS));
  by_distance = g_new (gsize, planes.n_pixels);
  by_lightness = g_new (gsize, planes.n_pixels);
  sort_pixels (zone, &planes, by_distance, by_lightness);
  for (guint k = 0; k < n_starts; k++)
    {
      double colour[3];
      State state;

      median_pixel (&planes, starts[k].by_distance ? by_distance : by_lightness,
                    (gsize)(starts[k].first * (double)planes.n_pixels),
                    (gsize)(starts[k].last * (double)planes.n_pixels), colour);
      if (found && leads_to (zone, best, colour))
        continue;
      state = state_from (colour);
      iterate (zone, &planes, &state, N_SEARCH_STEPS);
      if (state_is_distinct (zone, &state) && (!found || state.ln_likelihood > best->ln_likelihood))
        {
          *best = state;
          found = TRUE;
        }
    }
  return found;
}

static void
fit_paint (const Zone *zone, State *state)
{
  g_auto (Planes) planes = { 0 };

  planes_init (&planes, zone, stride_for (zone->n_pixels, N_FIT_PIXELS));
  iterate (zone, &planes, state, zone->n_pixels < FEW_PIXELS ? N_HURRIED_STEPS : N_FIT_STEPS);
}

static SherdPixelKind
likeliest_kind (const SherdMemberships *members, gsize i)
{
  guint best = 0;

  for (guint k = 1; k < SHERD_N_PIXEL_KINDS; k++)
    if (members->probability[k][i] > members->probability[best][i])
      best = k;
  return (SherdPixelKind)best;
}

/* Shares and kinds over all pixels, the paint known. */
static void
finish (const Zone *zone, const State *state, SherdMixture *mixture, guint8 *kinds)
{
  const double each = 1.0 / (double)zone->n_pixels;
  g_auto (Planes) planes = { 0 };
  SherdPixelClasses classes;
  double mixed_share = 0;

  planes_init (&planes, zone, 1);
  sherd_pixel_classes_init (&classes, &zone->ground, &state->paint, zone->noise_sd);
  memset (mixture->share, 0, sizeof mixture->share);
  for (gsize first = 0; first < planes.n_pixels; first += SHERD_PIXEL_BLOCK)
    {
      SherdMemberships members;
      const gsize n = classify_block (&classes, &planes, first, &members);

      for (gsize i = 0; i < n; i++)
        kinds[first + i] = (guint8)likeliest_kind (&members, i);
      for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
        mixture->share[k] += each * sum_of_lanes (members.probability[k]);
      mixed_share += each * sum_of_lanes (members.mixed_share);
    }
  mixture->retained_frac = mixture->share[SHERD_PIXEL_PAINT] + mixture->share[SHERD_PIXEL_OTHER] + mixed_share;
  memcpy (mixture->paint.mean, state->paint.mean, sizeof mixture->paint.mean);
  sherd_paint_guess_covariance (&state->paint, zone->noise_sd, mixture->paint.covariance);
}

static void
all_ground (SherdMixture *mixture, const SherdSurface *ground, gsize n_pixels, guint8 *kinds)
{
  memset (mixture, 0, sizeof *mixture);
  mixture->paint = *ground;
  mixture->share[SHERD_PIXEL_GROUND] = 1;
  memset (kinds, SHERD_PIXEL_GROUND, n_pixels);
}

/**
 * sherd_mixture_fit:
 * @reflectance: three floats a pixel, light divided out
 * @n_pixels: at least one
 * @ground: single pixels of bare ground in the same photograph
 * @noise_sd: of the camera, per channel, in units of reflectance
 * @kinds: (out) (array length=n_pixels): #SherdPixelKind of every pixel
 *
 * Parts the pixels of a zone into paint, bare ground, pixels that show both, and others. The ground is known; the
 * paint's colour and mottling and the shares are found by expectation maximisation from several starts. A pixel that
 * shows both is a mixture in linear light (the Murray–Davies area law: A. Murray, J. Franklin Inst. 221, 1936).
 * The retained share counts other pixels as paint: highlights and shadows lie on it.
 */
void
sherd_mixture_fit (SherdMixture *mixture,
                   const float *reflectance,
                   gsize n_pixels,
                   const SherdSurface *ground,
                   const double noise_sd[3],
                   guint8 *kinds)
{
  Zone zone = { .pixels = reflectance, .n_pixels = n_pixels, .ground = *ground };
  State state;

  memcpy (zone.noise_sd, noise_sd, sizeof zone.noise_sd);
  if (!search_paint (&zone, &state))
    {
      all_ground (mixture, ground, n_pixels, kinds);
      return;
    }
  fit_paint (&zone, &state);
  finish (&zone, &state, mixture, kinds);
  mixture->distinct = state_is_distinct (&zone, &state);
}
