/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/mixture.h"

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

/* Paint shares of a pixel that shows both; the middles of five equal parts. */
static const double mixed_shares[] = { 0.1, 0.3, 0.5, 0.7, 0.9 };
#define N_MIXED G_N_ELEMENTS (mixed_shares)
/* Shares between the middles must be covered too: a little more than the spread of an even part, 0.2 ÷ √12. */
#define MIXED_SHARE_SD 0.08
/* Mirrored light on paint, in units of reflectance, the same in every channel; each stands for a factor of about two
 * and a half. */
static const double sheens[] = { 0.05, 0.12, 0.3, 0.7 };
#define N_SHEENS G_N_ELEMENTS (sheens)
#define SHEEN_SD_FRAC 0.4
#define SHEEN_COLOUR_SD_FRAC 0.04

/* Ground, paint, mixed …, sheen …, anything else. */
enum
{
  CLASS_GROUND,
  CLASS_PAINT,
  CLASS_MIXED,
  CLASS_SHEEN = CLASS_MIXED + N_MIXED,
  CLASS_REST = CLASS_SHEEN + N_SHEENS,
  N_CLASSES
};

/* Anything else is as likely anywhere between black and white: density 1 in units of (2π)^−3/2, as a Gaussian without
 * end. */
#define LN_OTHER (1.5 * 1.8378770664093453)

/* Cameras and JPEG keep colour more coarsely than brightness: at an edge a pixel may have its own brightness and its
 * neighbours' colour. Standard deviation of that share (our choice). */
#define COLOUR_BLUR_SD 0.2

/* Rec. 709 luma (ITU-R BT.709): what JPEG calls brightness, near enough in linear light. */
static const double luma[3] = { 0.2126, 0.7152, 0.0722 };

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

/* Likelihoods below this share of the greatest count for nothing: e^−18 of a pixel. */
#define LEAST_LN_SHARE (-18.0)

/* All that a pixel may be: its Gaussians side by side, so that one is evaluated with the next. */
typedef struct
{
  double mean[3][N_CLASSES];
  double inverse[6][N_CLASSES]; /* those of Gaussian, those off the diagonal doubled; all halved */
  double ln_scale[N_CLASSES];   /* with ln of the class's weight */
} Classes;

typedef struct
{
  const float *pixels;
  gsize n_pixels;
  SherdSurface ground;
  double noise_sd[3];
} Zone;

typedef struct
{
  double paint[3];
  double brightness_sd;
  double colour_sd;
  double weight[SHERD_N_PIXEL_KINDS];
  double ln_likelihood;
} State;

/* What one pixel probably is. */
typedef struct
{
  double probability[SHERD_N_PIXEL_KINDS];
  double mixed_share; /* mean paint share were it mixed */
  double ln_density;
} Membership;

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

/**
 * sherd_surface_fit:
 * @reflectance: three floats a pixel
 *
 * Median reflectance of single pixels and their covariance, robustly: pixels more than three median absolute
 * deviations (Gaussian scaled) off in any channel are left out of the covariance.
 */
void
sherd_surface_fit (SherdSurface *surface, const float *reflectance, gsize n_pixels)
{
  g_autofree double *values = g_new (double, n_pixels);
  double reach[3], n = 0;

  memset (surface->covariance, 0, sizeof surface->covariance);
  for (guint c = 0; c < 3; c++)
    {
      for (gsize i = 0; i < n_pixels; i++)
        values[i] = reflectance[3 * i + c];
      surface->mean[c] = median_of (values, n_pixels);
      for (gsize i = 0; i < n_pixels; i++)
        values[i] = fabs (reflectance[3 * i + c] - surface->mean[c]);
      reach[c] = 3 * 1.4826 * median_of (values, n_pixels) + 1e-6;
    }
  for (gsize i = 0; i < n_pixels; i++)
    {
      double d[3];
      gboolean inside = TRUE;

      for (guint c = 0; c < 3; c++)
        {
          d[c] = reflectance[3 * i + c] - surface->mean[c];
          inside = inside && fabs (d[c]) <= reach[c];
        }
      for (guint a = 0; inside && a < 3; a++)
        for (guint b = 0; b < 3; b++)
          surface->covariance[a][b] += d[a] * d[b];
      n += inside;
    }
  for (guint a = 0; a < 3; a++)
    for (guint b = 0; b < 3; b++)
      surface->covariance[a][b] = surface->covariance[a][b] / MAX (n, 1) + (a == b ? 1e-8 : 0);
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

/* Brightness varies together in all channels, colour in each alone, noise is that of the camera. */
static void
paint_covariance (const Zone *zone, const State *state, double covariance[3][3])
{
  const double brightness = state->brightness_sd * state->brightness_sd;
  const double colour = state->colour_sd * state->colour_sd;

  for (guint a = 0; a < 3; a++)
    for (guint b = 0; b < 3; b++)
      covariance[a][b] =
        brightness * state->paint[a] * state->paint[b] +
        (a == b ? colour * state->paint[a] * state->paint[a] + zone->noise_sd[a] * zone->noise_sd[a] : 0);
}

/* From the ground's to the paint's colour at equal luma. */
static void
colour_between (const Zone *zone, const State *state, double colour[3])
{
  double brighter = 0;

  for (guint c = 0; c < 3; c++)
    brighter += luma[c] * (state->paint[c] - zone->ground.mean[c]);
  for (guint c = 0; c < 3; c++)
    colour[c] = state->paint[c] - zone->ground.mean[c] - brighter;
}

static void
set_class (Classes *classes, guint k, const Gaussian *gaussian, double weight)
{
  for (guint c = 0; c < 3; c++)
    {
      classes->mean[c][k] = gaussian->mean[c];
      classes->inverse[c][k] = 0.5 * gaussian->inverse[c];
      classes->inverse[3 + c][k] = gaussian->inverse[3 + c];
    }
  classes->ln_scale[k] = gaussian->ln_scale + log (weight);
}

static void
make_mixed (const Zone *zone, const State *state, double paint[3][3], double f, Gaussian *gaussian)
{
  double mean[3], covariance[3][3], colour[3];

  colour_between (zone, state, colour);
  for (guint a = 0; a < 3; a++)
    {
      mean[a] = f * state->paint[a] + (1 - f) * zone->ground.mean[a];
      for (guint b = 0; b < 3; b++)
        covariance[a][b] = f * paint[a][b] + (1 - f) * zone->ground.covariance[a][b] +
                           COLOUR_BLUR_SD * COLOUR_BLUR_SD * colour[a] * colour[b] +
                           MIXED_SHARE_SD * MIXED_SHARE_SD * (state->paint[a] - zone->ground.mean[a]) *
                             (state->paint[b] - zone->ground.mean[b]);
    }
  gaussian_init (gaussian, mean, covariance);
}

static void
make_sheen (const State *state, double paint[3][3], double sheen, Gaussian *gaussian)
{
  double mean[3], covariance[3][3];

  for (guint a = 0; a < 3; a++)
    {
      mean[a] = state->paint[a] + sheen;
      for (guint b = 0; b < 3; b++)
        covariance[a][b] = paint[a][b] + SHEEN_SD_FRAC * SHEEN_SD_FRAC * sheen * sheen +
                           (a == b ? SHEEN_COLOUR_SD_FRAC * SHEEN_COLOUR_SD_FRAC * sheen * sheen : 0);
    }
  gaussian_init (gaussian, mean, covariance);
}

static void
make_classes (const Zone *zone, const State *state, Classes *classes)
{
  const double other = state->weight[SHERD_PIXEL_OTHER] / (N_SHEENS + 1);
  const Gaussian rest = { .ln_scale = LN_OTHER };
  double paint[3][3];
  Gaussian gaussian;

  paint_covariance (zone, state, paint);
  gaussian_init (&gaussian, zone->ground.mean, (double (*)[3])zone->ground.covariance);
  set_class (classes, CLASS_GROUND, &gaussian, state->weight[SHERD_PIXEL_GROUND]);
  gaussian_init (&gaussian, state->paint, paint);
  set_class (classes, CLASS_PAINT, &gaussian, state->weight[SHERD_PIXEL_PAINT]);
  for (guint k = 0; k < N_MIXED; k++)
    {
      make_mixed (zone, state, paint, mixed_shares[k], &gaussian);
      set_class (classes, CLASS_MIXED + k, &gaussian, state->weight[SHERD_PIXEL_MIXED] / N_MIXED);
    }
  for (guint k = 0; k < N_SHEENS; k++)
    {
      make_sheen (state, paint, sheens[k], &gaussian);
      set_class (classes, CLASS_SHEEN + k, &gaussian, other);
    }
  set_class (classes, CLASS_REST, &rest, other);
}

static double
class_likelihoods (const Classes *classes, const float *pixel, double likelihood[N_CLASSES])
{
  const double (*s)[N_CLASSES] = classes->inverse;
  double top = -INFINITY;

  for (guint k = 0; k < N_CLASSES; k++)
    {
      const double x = pixel[0] - classes->mean[0][k];
      const double y = pixel[1] - classes->mean[1][k];
      const double z = pixel[2] - classes->mean[2][k];

      likelihood[k] = classes->ln_scale[k] - (x * (s[0][k] * x + s[3][k] * y + s[4][k] * z) +
                                              y * (s[1][k] * y + s[5][k] * z) + z * s[2][k] * z);
    }
  for (guint k = 0; k < N_CLASSES; k++)
    top = MAX (top, likelihood[k]);
  for (guint k = 0; k < N_CLASSES; k++)
    likelihood[k] = likelihood[k] - top < LEAST_LN_SHARE ? 0 : exp (likelihood[k] - top);
  return top;
}

static void
classify (const Classes *classes, const float *pixel, Membership *membership)
{
  double likelihood[N_CLASSES], sum = 0, mixed = 0, shares = 0, other = 0;
  const double top = class_likelihoods (classes, pixel, likelihood);

  for (guint k = 0; k < N_MIXED; k++)
    {
      mixed += likelihood[CLASS_MIXED + k];
      shares += likelihood[CLASS_MIXED + k] * mixed_shares[k];
    }
  for (guint k = CLASS_SHEEN; k <= CLASS_REST; k++)
    other += likelihood[k];
  sum = likelihood[CLASS_GROUND] + likelihood[CLASS_PAINT] + mixed + other;
  membership->probability[SHERD_PIXEL_GROUND] = likelihood[CLASS_GROUND] / sum;
  membership->probability[SHERD_PIXEL_PAINT] = likelihood[CLASS_PAINT] / sum;
  membership->probability[SHERD_PIXEL_MIXED] = mixed / sum;
  membership->probability[SHERD_PIXEL_OTHER] = other / sum;
  membership->mixed_share = mixed > 0 ? shares / mixed : 0.5;
  membership->ln_density = top + log (sum);
}

/* Sums over the pixels for the next guess of the paint. */
typedef struct
{
  double weight[SHERD_N_PIXEL_KINDS];
  double paint[3];
  double brightness; /* squared relative deviations */
  double colour;
} Sums;

static void
add_to_sums (Sums *sums, const State *state, const Membership *membership, const float *pixel)
{
  const double p = membership->probability[SHERD_PIXEL_PAINT];
  double relative[3], mean;

  for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
    sums->weight[k] += membership->probability[k];
  for (guint c = 0; c < 3; c++)
    {
      sums->paint[c] += p * pixel[c];
      relative[c] = pixel[c] / MAX (state->paint[c], 1e-3) - 1;
    }
  mean = (relative[0] + relative[1] + relative[2]) / 3;
  sums->brightness += p * mean * mean;
  for (guint c = 0; c < 3; c++)
    sums->colour += p * (relative[c] - mean) * (relative[c] - mean) / 2;
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
  double noise = 0;

  for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
    state->weight[k] = (sums->weight[k] + 0.5) / ((double)n_pixels + 0.5 * SHERD_N_PIXEL_KINDS);
  for (guint c = 0; c < 3; c++)
    {
      const double relative = zone->noise_sd[c] / MAX (state->paint[c], 1e-3);

      noise += relative * relative / 3;
      state->paint[c] = MAX (sums->paint[c] / n, 1e-4);
    }
  state->brightness_sd =
    shrunk_sd (sums->brightness, n, noise / 3, LEAST_BRIGHTNESS_SD, MOST_BRIGHTNESS_SD, PAINT_BRIGHTNESS_SD);
  state->colour_sd = shrunk_sd (sums->colour, n, noise, LEAST_COLOUR_SD, MOST_COLOUR_SD, PAINT_COLOUR_SD);
}

/* Expectation maximisation over every @stride-th pixel (A. P. Dempster, N. M. Laird, D. B. Rubin, J. R. Statist.
 * Soc. B 39, 1977). */
static void
iterate (const Zone *zone, State *state, gsize stride, guint n_steps)
{
  const double enough = zone->n_pixels < FEW_PIXELS ? HURRIED_GAIN : ENOUGH_GAIN;
  double before = -INFINITY;

  for (guint step = 0; step < n_steps; step++)
    {
      Classes classes;
      Sums sums = { 0 };
      gsize n = 0;

      make_classes (zone, state, &classes);
      state->ln_likelihood = 0;
      for (gsize i = 0; i < zone->n_pixels; i += stride, n++)
        {
          Membership membership;

          classify (&classes, zone->pixels + 3 * i, &membership);
          add_to_sums (&sums, state, &membership, zone->pixels + 3 * i);
          state->ln_likelihood += membership.ln_density;
        }
      state->ln_likelihood /= (double)n;
      if (sums.weight[SHERD_PIXEL_PAINT] < 2 || state->ln_likelihood - before < enough)
        return;
      before = state->ln_likelihood;
      update_state (zone, state, &sums, n);
    }
}

static void
median_pixel (const Zone *zone, gsize stride, const gsize *order, gsize first, gsize last, double colour[3])
{
  const gsize n = MAX (last, first + 1) - first;
  g_autofree double *values = g_new (double, n);

  for (guint c = 0; c < 3; c++)
    {
      for (gsize i = 0; i < n; i++)
        values[i] = zone->pixels[3 * stride * order[first + i] + c];
      colour[c] = MAX (median_of (values, n), 1e-4);
    }
}

static State
state_from (const double colour[3])
{
  State state = { .brightness_sd = PAINT_BRIGHTNESS_SD,
                  .colour_sd = PAINT_COLOUR_SD,
                  .weight = { 0.3, 0.4, 0.2, 0.1 } };

  memcpy (state.paint, colour, sizeof state.paint);
  return state;
}

static gboolean
state_is_distinct (const Zone *zone, const State *state)
{
  return sherd_surface_distance (&zone->ground, state->paint) > DISTINCT_DISTANCE &&
         state->weight[SHERD_PIXEL_PAINT] * (double)zone->n_pixels > 2;
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

  memcpy (paint.mean, found->paint, sizeof paint.mean);
  paint_covariance (zone, found, paint.covariance);
  return sherd_surface_distance (&paint, colour) < SAME_PAINT;
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
  const gboolean hurried = zone->n_pixels < FEW_PIXELS;
  const guint n_starts = hurried ? 3 : G_N_ELEMENTS (starts);
  const gsize stride = stride_for (zone->n_pixels, N_SEARCH_PIXELS);
  const gsize n = (zone->n_pixels - 1) / stride + 1;
  g_autofree double *distance = g_new (double, n);
  g_autofree double *lightness = g_new (double, n);
  g_autofree gsize *by_distance = g_new (gsize, n);
  g_autofree gsize *by_lightness = g_new (gsize, n);
  gboolean found = FALSE;
  Gaussian ground;

  gaussian_init (&ground, zone->ground.mean, (double (*)[3])zone->ground.covariance);
  for (gsize i = 0; i < n; i++)
    {
      const float *pixel = zone->pixels + 3 * stride * i;

      distance[i] = gaussian_square (&ground, pixel);
      lightness[i] = pixel[0] + pixel[1] + pixel[2];
    }
  gsl_sort_index (by_distance, distance, 1, n);
  gsl_sort_index (by_lightness, lightness, 1, n);
  for (guint k = 0; k < n_starts; k++)
    {
      double colour[3];
      State state;

      median_pixel (zone, stride, starts[k].by_distance ? by_distance : by_lightness,
                    (gsize)(starts[k].first * (double)n), (gsize)(starts[k].last * (double)n), colour);
      if (found && leads_to (zone, best, colour))
        continue;
      state = state_from (colour);
      iterate (zone, &state, stride, N_SEARCH_STEPS);
      if (state_is_distinct (zone, &state) && (!found || state.ln_likelihood > best->ln_likelihood))
        {
          *best = state;
          found = TRUE;
        }
    }
  return found;
}

static SherdPixelKind
likeliest_kind (const Membership *membership)
{
  guint best = 0;

  for (guint k = 1; k < SHERD_N_PIXEL_KINDS; k++)
    if (membership->probability[k] > membership->probability[best])
      best = k;
  return (SherdPixelKind)best;
}

/* Shares and kinds over all pixels, the paint known. */
static void
finish (const Zone *zone, const State *state, SherdMixture *mixture, guint8 *kinds)
{
  const double each = 1.0 / (double)zone->n_pixels;
  Classes classes;

  make_classes (zone, state, &classes);
  memset (mixture->share, 0, sizeof mixture->share);
  mixture->retained_frac = 0;
  for (gsize i = 0; i < zone->n_pixels; i++)
    {
      Membership m;

      classify (&classes, zone->pixels + 3 * i, &m);
      kinds[i] = (guint8)likeliest_kind (&m);
      for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
        mixture->share[k] += each * m.probability[k];
      mixture->retained_frac += each * (m.probability[SHERD_PIXEL_PAINT] + m.probability[SHERD_PIXEL_OTHER] +
                                        m.probability[SHERD_PIXEL_MIXED] * m.mixed_share);
    }
  memcpy (mixture->paint.mean, state->paint, sizeof mixture->paint.mean);
  paint_covariance (zone, state, mixture->paint.covariance);
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
  iterate (&zone, &state, stride_for (n_pixels, N_FIT_PIXELS), n_pixels < FEW_PIXELS ? N_HURRIED_STEPS : N_FIT_STEPS);
  finish (&zone, &state, mixture, kinds);
  mixture->distinct = state_is_distinct (&zone, &state);
}
