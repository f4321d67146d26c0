/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/glare.h"

#include "measure/cholesky.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

/* Surfaces thought of before looking, all our choice. A sheen is a lobe S cosⁿ h about the mirror direction
 * (J. F. Blinn, "Models of light reflection for computer synthesized pictures", SIGGRAPH 1977), h the angle between the
 * normal and the bisector of lamp and lens; S in units of reflectance. A glossy surface mirrors the room as well; what
 * it mirrors is as light as the room is on average, or a wall of half of that, or a light ceiling. */
static const struct
{
  double exponent;
  double strength;
  double prior;
  double room; /* light of the mirrored part of the room ÷ its average */
} sheens[] = {
  { 20, 0.05, 0.01, 0 }, { 20, 0.1, 0.02, 0 },  { 20, 0.2, 0.02, 0 },  { 20, 0.4, 0.02, 0 }, { 45, 0.05, 0.01, 0 },
  { 45, 0.1, 0.02, 0 },  { 45, 0.2, 0.03, 0 },  { 45, 0.4, 0.03, 0 },  { 90, 0.1, 0.01, 0 }, { 90, 0.3, 0.02, 0 },
  { 90, 0.6, 0.02, 0 },  { 300, 1, 0.02, 1.5 }, { 300, 3, 0.03, 0.5 }, { 900, 3, 0.04, 1 },
};
#define N_SHEENS G_N_ELEMENTS (sheens)
/* No glass forms without a firing: raw paint mirrors no room. A burnished slip has a sheen all the same, half as often
 * as a fired one (our choice). */
#define UNFIRED_SATIN_FACTOR 0.5

/* A satin surface as it mostly is; half its peak is reached 10° off. */
#define SATIN_EXPONENT 45
#define SATIN_STRENGTH 0.2

/* Refractive index of a silicate glass. */
#define REFRACTIVE_INDEX 1.5
/* A sheen worth more than this is told as glare; a fainter one the interval holds (our choice: seen, but hardly). */
#define GLARE_L 2.0
/* No paint reflects less than this in any channel (our choice: soot black is about 1–2 %). */
#define BLACKEST 0.008
#define LEAST_COSINE 0.2
/* A sheen is uneven of itself, with the relief of its surface, by this share over half a zone (our choice). */
#define SHEEN_UNEVEN_FRAC 0.1
/* One zone moves the odds between places of the lamp by no more than e³ either way (our choice). */
#define MOST_LN_EVIDENCE 3.0
/* Where a sheen is likelier than not its strength is still anybody's guess: the paint may be as dark as its darkest
 * channel allows. */
#define SHEEN_IS_SEEN 0.5

/* Steps of what may have been added: each a quarter more than the one before. */
#define LEAST_LEVEL 2e-4
#define LEVEL_RATIO 1.25

/* Luminance of the sRGB primaries (IEC 61966-2-1): good enough to tell one unit of L*. */
static const double luminance[3] = { 0.2126, 0.7152, 0.0722 };

/* Light that adds less than this share to the darkest channel, and changes less than this share of how far paint does,
 * explains a zone as well as none. */
#define NOTHING_FRAC 1e-3
/* A lobe lower than e to this is none. */
#define LOWEST_LN (-20.0)

/* One thought-of surface under one place of the lamp. */
typedef struct
{
  double weight; /* prior, then times how well it explains the zone */
  double ln_likelihood;
  double added;
  double lobe; /* what of it is the lamp */
} Case;

/* Large: only what is filled may be touched, so it is never cleared. */
typedef struct
{
  gsize n;
  double ln_matte; /* ln likelihood with nothing added */
  Case cases[SHERD_MOST_LAMPS * N_SHEENS + 1];
} Cases;

/**
 * sherd_lamps_draw:
 *
 * Draws places of the lamp from the normal distribution that the light fit leaves (azimuth, elevation, distance); the
 * first is the fitted one. A flat face tells the lamp's direction to some ten degrees only.
 */
void
sherd_lamps_draw (SherdLamps *lamps, const SherdLight *light, guint n_lamps, gulong seed)
{
  enum
  {
    N = SHERD_LIGHT_LN_DISTANCE + 1
  };
  double of_place[N * N], root[N][N];
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);

  lamps->n_lamps = MIN (n_lamps, SHERD_MOST_LAMPS);
  gsl_rng_set (rng, seed);
  for (guint i = 0; i < N; i++)
    for (guint j = 0; j < N; j++)
      of_place[N * i + j] = light->covariance[i][j];
  sherd_cholesky_3 (of_place, root);
  for (guint k = 0; k < lamps->n_lamps; k++)
    {
      double parameters[SHERD_LIGHT_SIZE], z[N];

      memcpy (parameters, light->parameters, sizeof parameters);
      for (guint i = 0; i < N; i++)
        z[i] = k ? gsl_ran_gaussian (rng, 1) : 0;
      for (guint i = 0; i < N; i++)
        for (guint j = 0; j <= i; j++)
          parameters[i] += root[i][j] * z[j];
      parameters[SHERD_LIGHT_ELEVATION] = CLAMP (parameters[SHERD_LIGHT_ELEVATION], 0.1, G_PI - 0.1);
      sherd_light_lamp_mm (parameters, light->middle_mm, lamps->lamp_mm[k]);
      lamps->weight[k] = 1.0 / lamps->n_lamps;
    }
  gsl_rng_free (rng);
}

static void
direction (const double from[3], const double to[3], double unit[3])
{
  const double length = sqrt (pow (to[0] - from[0], 2) + pow (to[1] - from[1], 2) + pow (to[2] - from[2], 2));

  for (guint i = 0; i < 3; i++)
    unit[i] = (to[i] - from[i]) / length;
}

static double
half_angle_cosine (const double lamp_mm[3], const double lens_mm[3], const double point_mm[3])
{
  double to_lamp[3], to_lens[3], square = 0;

  direction (point_mm, lamp_mm, to_lamp);
  direction (point_mm, lens_mm, to_lens);
  for (guint i = 0; i < 3; i++)
    square += (to_lamp[i] + to_lens[i]) * (to_lamp[i] + to_lens[i]);
  return square > 0 ? MAX (-(to_lamp[2] + to_lens[2]) / sqrt (square), 0) : 0;
}

/* Angle between the face's normal and the bisector of lamp and lens: 0 where the lamp is mirrored. */
double
sherd_half_angle_rad (const double lamp_mm[3], const double lens_mm[3], const double point_mm[3])
{
  return acos (MIN (half_angle_cosine (lamp_mm, lens_mm, point_mm), 1));
}

/* How a lobe stands at the middle of a zone and changes across it. */
typedef struct
{
  double cosine;
  double slope[2]; /* of cos h, per mm */
  double scale;    /* radiance of a lobe per unit of reflectance: lamp's share of the light over its cosine */
} Lobe;

static void
lobe_init (Lobe *lobe, const double lamp_mm[3], const double share, const SherdCamera *camera, const SherdSlope *slope)
{
  const double step_mm = 1.0;
  const double middle[3] = { slope->x_mm, slope->y_mm, 0 };
  double to_lamp[3];

  lobe->cosine = half_angle_cosine (lamp_mm, camera->position_mm, middle);
  for (guint axis = 0; axis < 2; axis++)
    {
      double moved[3] = { middle[0], middle[1], 0 };

      moved[axis] += step_mm;
      lobe->slope[axis] = (half_angle_cosine (lamp_mm, camera->position_mm, moved) - lobe->cosine) / step_mm;
    }
  direction (middle, lamp_mm, to_lamp);
  lobe->scale = share / MAX (-to_lamp[2], LEAST_COSINE);
}

/* Covariance of the relative slopes of a paint of reflectance @paint under a sheen: paint varies in brightness, all
 * channels together, and a little in colour; the lamp's image is uneven too, by the same reflectance in every channel.
 */
static void
slope_root (const SherdSlope *slope, const double paint[3], double lobe, double root[3][3])
{
  const double brightness = slope->brightness_slope_sd * slope->brightness_slope_sd;
  const double colour = slope->colour_slope_sd * slope->colour_slope_sd;
  const double uneven = SHEEN_UNEVEN_FRAC * lobe / slope->reach_mm;
  double covariance[9];

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      covariance[3 * i + j] = brightness + (i == j ? colour : 0) + uneven * uneven / (paint[i] * paint[j]);
  sherd_cholesky_3 (covariance, root);
}

/* ln likelihood of the slopes seen if @added lies on the paint, of which @lobe is the lamp's image and changes by
 * @added_slope per mm. */
static double
ln_likelihood (const SherdSlope *slope, double added, double lobe, const double added_slope[2])
{
  double paint[3], root[3][3], scale = 1, ln = 0;

  if (!slope->usable)
    return 0;
  for (guint c = 0; c < 3; c++)
    paint[c] = slope->mean[c] - added;
  slope_root (slope, paint, lobe, root);
  for (guint c = 0; c < 3; c++)
    scale *= root[c][c] * paint[c] / slope->mean[c];
  for (guint axis = 0; axis < 2; axis++)
    {
      double y[3];

      for (guint c = 0; c < 3; c++)
        {
          y[c] = (slope->slope[axis][c] * slope->mean[c] - added_slope[axis]) / paint[c];
          for (guint k = 0; k < c; k++)
            y[c] -= root[c][k] * y[k];
          y[c] /= root[c][c];
          ln -= 0.5 * y[c] * y[c];
        }
    }
  return ln - 2 * log (scale);
}

static double
lightness (double y)
{
  return y > 216.0 / 24389 ? 116 * cbrt (y) - 16 : 24389.0 / 27 * y;
}

/* What added light makes GLARE_L of a zone's L*; infinite for one so black that all its light is less. */
static double
worth_telling (const SherdSlope *slope)
{
  const double y = luminance[0] * slope->mean[0] + luminance[1] * slope->mean[1] + luminance[2] * slope->mean[2];
  const double below = lightness (y) - GLARE_L;

  if (below < 0)
    return INFINITY;
  return y - (below > 8 ? pow ((below + 16) / 116, 3) : below * 27 / 24389);
}

static double
darkest_channel (const SherdSlope *slope)
{
  return MIN (MIN (slope->mean[0], slope->mean[1]), slope->mean[2]);
}

static double
prior_of (guint sheen, gboolean unfired)
{
  if (!unfired)
    return sheens[sheen].prior;
  return sheens[sheen].room > 0 ? 0 : UNFIRED_SATIN_FACTOR * sheens[sheen].prior;
}

static double
matte_prior (gboolean unfired)
{
  double others = 0;

  for (guint k = 0; k < N_SHEENS; k++)
    others += prior_of (k, unfired);
  return 1 - others;
}

static void
cases_init (Cases *cases, const SherdSlope *slope, gboolean unfired)
{
  const double still[2] = { 0, 0 };

  cases->ln_matte = ln_likelihood (slope, 0, 0, still);
  cases->cases[0] = (Case){ matte_prior (unfired), cases->ln_matte, 0, 0 };
  cases->n = 1;
}

static void
add_case (Cases *cases, const SherdSlope *slope, double prior, double lobe, double room, const double added_slope[2])
{
  const double added = lobe + room, darkest = darkest_channel (slope);
  const double change = NOTHING_FRAC * slope->colour_slope_sd * darkest;
  const gboolean nothing =
    added < NOTHING_FRAC * darkest && fabs (added_slope[0]) < change && fabs (added_slope[1]) < change;

  /* What cannot be under the sheen rules the sheen out. */
  if (added > 0 && darkest - added < BLACKEST)
    return;
  cases->cases[cases->n++] =
    (Case){ prior, nothing ? cases->ln_matte : ln_likelihood (slope, added, lobe, added_slope), added, lobe };
}

/* cosⁿ⁻¹ h for every sheen. */
static void
lobe_powers (double cosine, double powers[N_SHEENS])
{
  const double ln = log (MAX (cosine, 1e-30));

  for (guint k = 0; k < N_SHEENS; k++)
    if (k > 0 && sheens[k].exponent == sheens[k - 1].exponent)
      powers[k] = powers[k - 1];
    else
      powers[k] = (sheens[k].exponent - 1) * ln > LOWEST_LN ? exp ((sheens[k].exponent - 1) * ln) : 0;
}

/* Unpolarised light on glass (Fresnel): the share that is mirrored at @cosine of the angle from the normal. */
static double
mirrored_frac (double cosine)
{
  const double inside = sqrt (1 - (1 - cosine * cosine) / (REFRACTIVE_INDEX * REFRACTIVE_INDEX));
  const double across = (cosine - REFRACTIVE_INDEX * inside) / (cosine + REFRACTIVE_INDEX * inside);
  const double along = (REFRACTIVE_INDEX * cosine - inside) / (REFRACTIVE_INDEX * cosine + inside);

  return (across * across + along * along) / 2;
}

/* Reflectance that a glossy zone gains from a room of even light. */
static double
mirrored_room (const SherdCamera *camera, const SherdSlope *slope, double ambient_share)
{
  const double middle[3] = { slope->x_mm, slope->y_mm, 0 };
  double to_lens[3];

  direction (middle, camera->position_mm, to_lens);
  return ambient_share * mirrored_frac (CLAMP (-to_lens[2], LEAST_COSINE, 1));
}

static void
add_sheens (Cases *cases, const Lobe *lobe, double room, const SherdSlope *slope, gboolean unfired, double each)
{
  double powers[N_SHEENS];

  lobe_powers (lobe->cosine, powers);
  for (guint k = 0; k < N_SHEENS; k++)
    {
      const double height = sheens[k].strength * lobe->scale * powers[k];
      const double prior = prior_of (k, unfired);
      const double added_slope[2] = { height * sheens[k].exponent * lobe->slope[0],
                                      height * sheens[k].exponent * lobe->slope[1] };

      if (prior > 0)
        add_case (cases, slope, prior * each, height * lobe->cosine, sheens[k].room * room, added_slope);
    }
}

/* Weighs every case by how well it explains the zone; their sum, and ln of the scale that it is in. */
static double
weigh (Cases *cases, double *ln_scale)
{
  double total = 0;

  *ln_scale = -INFINITY;
  for (gsize i = 0; i < cases->n; i++)
    *ln_scale = MAX (*ln_scale, cases->cases[i].ln_likelihood);
  for (gsize i = 0; i < cases->n; i++)
    {
      Case *one = &cases->cases[i];

      one->weight *= one->ln_likelihood == *ln_scale ? 1 : exp (one->ln_likelihood - *ln_scale);
      total += one->weight;
    }
  return total;
}

static guint
level_of (double added)
{
  if (!(added > LEAST_LEVEL))
    return 0;
  return MIN (1 + (guint)(log (added / LEAST_LEVEL) / log (LEVEL_RATIO)), SHERD_GLARE_LEVELS - 1);
}

static void
summarise (SherdGlare *glare, Cases *cases, const SherdSlope *slope)
{
  const double told = worth_telling (slope);
  double ln_scale;
  const double total = weigh (cases, &ln_scale);

  for (gsize i = 0; i < cases->n; i++)
    {
      const Case *one = &cases->cases[i];
      const guint level = level_of (one->added);

      glare->share[level] += one->weight / total;
      glare->added[level] += one->weight / total * one->added;
      glare->room[level] += one->weight / total * (one->added - one->lobe);
      glare->probability += one->lobe > told ? one->weight / total : 0;
    }
  for (guint k = 0; k < SHERD_GLARE_LEVELS; k++)
    {
      glare->added[k] /= MAX (glare->share[k], 1e-300);
      glare->room[k] /= MAX (glare->share[k], 1e-300);
    }
}

/* A zone's light is white once it is divided out; the lamp's part of it and the room's are not. */
static void
set_tints (SherdGlare *glare, const SherdLight *light, const double lamp_share[3], double mean_share)
{
  for (guint c = 0; c < 3; c++)
    {
      glare->lamp_tint[c] = lamp_share[c] / mean_share;
      glare->room_tint[c] = (1 - lamp_share[c]) / (1 - mean_share);
    }
  glare->room_tint_sd = mean_share * sherd_light_ambient_tint_sd (light) / 2;
}

/* ln of how likely the change across a zone is, whatever its surface, if the lamp stands at @lamp_mm. */
static double
ln_evidence (const double lamp_mm[3],
             double share,
             const SherdCamera *camera,
             const SherdSlope *slope,
             gboolean unfired)
{
  double total, ln_scale;
  Cases cases;
  Lobe lobe;

  cases_init (&cases, slope, unfired);
  lobe_init (&lobe, lamp_mm, share, camera, slope);
  add_sheens (&cases, &lobe, mirrored_room (camera, slope, 1 - share), slope, unfired, 1);
  total = weigh (&cases, &ln_scale);
  return ln_scale + log (total);
}

static void
add_evidence (const SherdLamps *lamps,
              const SherdLight *light,
              const SherdCamera *camera,
              const SherdSlope *slope,
              gboolean unfired,
              double *ln_weight)
{
  const SherdLightPoint point = { { slope->x_mm, slope->y_mm, 0 }, { 0, 0, -1 }, 0 };
  const double share = sherd_light_lamp_share (light, &point);
  double ln[SHERD_MOST_LAMPS], mean = 0;

  for (guint k = 0; k < lamps->n_lamps; k++)
    {
      ln[k] = ln_evidence (lamps->lamp_mm[k], share, camera, slope, unfired);
      mean += ln[k] / lamps->n_lamps;
    }
  for (guint k = 0; k < lamps->n_lamps; k++)
    ln_weight[k] += CLAMP (ln[k] - mean, -MOST_LN_EVIDENCE, MOST_LN_EVIDENCE);
}

/**
 * sherd_lamps_learn:
 * @slopes: of all zones
 * @unfired: the piece has not been fired yet
 *
 * Zones with a sheen point at the lamp: every drawn place is weighed by how well it explains the changes across all
 * zones. One zone alone can say only so much, for no real surface is quite what was thought of.
 */
void
sherd_lamps_learn (SherdLamps *lamps,
                   const SherdLight *light,
                   const SherdCamera *camera,
                   const SherdSlope *slopes,
                   gsize n_slopes,
                   gboolean unfired)
{
  double ln_weight[SHERD_MOST_LAMPS] = { 0 }, top = -INFINITY, sum = 0;

  for (gsize i = 0; i < n_slopes; i++)
    if (slopes[i].usable)
      add_evidence (lamps, light, camera, &slopes[i], unfired, ln_weight);
  for (guint k = 0; k < lamps->n_lamps; k++)
    top = MAX (top, ln_weight[k]);
  for (guint k = 0; k < lamps->n_lamps; k++)
    sum += exp (ln_weight[k] - top);
  for (guint k = 0; k < lamps->n_lamps; k++)
    lamps->weight[k] = exp (ln_weight[k] - top) / sum;
}

/* Geometry alone: would a satin surface shine here, to at least half its peak, and is the paint light enough to hide
 * it? */
static void
add_geometry (SherdGlare *glare, const Lobe *lobe, double weight, const SherdSlope *slope)
{
  const double darkest = darkest_channel (slope);
  const double height = pow (lobe->cosine, SATIN_EXPONENT);
  const double added = SATIN_STRENGTH * lobe->scale * height;

  if (height > 0.5 && darkest - added > BLACKEST)
    glare->mirrored += weight;
  glare->possible += weight * MIN (2 * added, MAX (darkest - BLACKEST, 0));
}

/**
 * sherd_glare_estimate:
 * @slope: colour of the zone and how it changes across it, see sherd_blocks_slope()
 * @unfired: the piece has not been fired yet
 *
 * How much of a zone's light may be a mirrored lamp. A broad sheen lies over a whole zone and cannot be told from
 * lighter paint by its amount; but it changes across the zone as the lamp's geometry says, adds the same to every
 * channel, and cannot be more than the darkest channel shows. Every thought-of surface (matte, satin, glossy) under
 * every likely place of the lamp is weighed by how well it explains the change across the zone (Bayes). The room that
 * a glossy paint mirrors shows itself by nothing: what was believed of it before is left.
 */
void
sherd_glare_estimate (SherdGlare *glare,
                      const SherdLamps *lamps,
                      const SherdLight *light,
                      const SherdCamera *camera,
                      const SherdSlope *slope,
                      gboolean unfired)
{
  const SherdLightPoint point = { { slope->x_mm, slope->y_mm, 0 }, { 0, 0, -1 }, 0 };
  double lamp_share[3], share, room;
  Cases cases;

  memset (glare, 0, sizeof *glare);
  if (!slope->seen || lamps->n_lamps == 0)
    return;
  sherd_light_lamp_shares (light, &point, lamp_share);
  share = CLAMP ((lamp_share[0] + lamp_share[1] + lamp_share[2]) / 3, 1e-6, 1 - 1e-6);
  set_tints (glare, light, lamp_share, share);
  room = mirrored_room (camera, slope, 1 - share);
  cases_init (&cases, slope, unfired);
  for (guint k = 0; k < lamps->n_lamps; k++)
    {
      Lobe lobe;

      lobe_init (&lobe, lamps->lamp_mm[k], share, camera, slope);
      add_sheens (&cases, &lobe, room, slope, unfired, lamps->weight[k]);
      add_geometry (glare, &lobe, lamps->weight[k], slope);
    }
  summarise (glare, &cases, slope);
  if (glare->probability > SHEEN_IS_SEEN)
    glare->possible = MAX (darkest_channel (slope) - BLACKEST, 0);
}
