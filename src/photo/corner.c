/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/corner.h"

#include <math.h>

/* Our choices, first tried on a few rendered photographs of tiles, then judged on 300 drawn corners held back: 60° to
 * 120° wide, blurred by a deviation of 0.7 to 1.4 px, contrast 30 to 120 codes, noise of up to 8. Alone, a corner is
 * placed the better the wider the window is (rms 0.23 px with a deviation of 3 px, 0.16 px with 5 px). Rounded by up to
 * 2 px and with another edge 5 to 8 px inside, as the frame of a chart or a narrow margin has it, 3 px is best: rms
 * 0.44 px, against 0.69 px with 2 and with 4 px; without the hole of 3 px in the middle of the window 0.51 px.
 * The others: how round the structure of a corner must be (1: edges of equal strength at a right angle; 0: one straight
 * edge), how strong its gradient must be, in sRGB codes a pixel, to be more than noise, how far it must be the
 * clearest, how faint it may be beside another, and when the place has come to rest; these were judged as a whole, not
 * each.
 */
#define WINDOW_SD_PX 3.0
#define WINDOW_PX 8
#define ROUNDED_PX 3.0
#define COARSE_WINDOW_PX 2
#define PEAK_PX 2
#define FAINT_FRAC 0.05
#define LEAST_ROUNDNESS 0.3
#define LEAST_GRADIENT 2.0
#define RESTS_PX 0.005
#define MOST_STEPS 30
/* Beyond this a search is no help to a hand, and would take long. */
#define MOST_RADIUS_PX 80

#define CHANNELS 3u

/* In codes a pixel. */
typedef struct
{
  float x;
  float y;
} Gradient;

/* Gradients of a piece of the picture. */
typedef struct
{
  int left;
  int top;
  int width;
  int height;
  Gradient *gradients; /* of each channel of each pixel */
} Patch;

/* Sums of the products of gradients over a window: the structure tensor, and with it the place weighted by it. */
typedef struct
{
  double xx;
  double xy;
  double yy;
  double x;
  double y;
  double weight;
} Tensor;

static void
patch_clear (Patch *patch)
{
  g_free (patch->gradients);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Patch, patch_clear)

/* The border goes on beyond the picture. */
static double
code_at (const SherdPicture *picture, int x, int y, guint channel)
{
  const int inside_x = CLAMP (x, 0, (int)picture->width_px - 1), inside_y = CLAMP (y, 0, (int)picture->height_px - 1);
  const guint8 *rgb = (const guint8 *)g_bytes_get_data (picture->pixels, NULL) + (gsize)inside_y * picture->stride +
                      CHANNELS * (gsize)inside_x;

  return rgb[channel];
}

/* Central differences, smoothed across with 1 2 1 (Sobel's operator), scaled to codes a pixel. */
static Gradient
differentiate (const SherdPicture *picture, int x, int y, guint channel)
{
  double dx = 0.0, dy = 0.0;

  for (int i = -1; i <= 1; i++)
    {
      const double weight = i == 0 ? 2.0 : 1.0;

      dx += weight * (code_at (picture, x + 1, y + i, channel) - code_at (picture, x - 1, y + i, channel));
      dy += weight * (code_at (picture, x + i, y + 1, channel) - code_at (picture, x + i, y - 1, channel));
    }
  return (Gradient){ (float)(dx / 8.0), (float)(dy / 8.0) };
}

static void
patch_init (Patch *patch, const SherdPicture *picture, double x_px, double y_px, int reach)
{
  patch->left = (int)floor (x_px) - reach;
  patch->top = (int)floor (y_px) - reach;
  patch->width = patch->height = 2 * reach + 1;
  patch->gradients = g_new (Gradient, (gsize)CHANNELS * patch->width * patch->height);
  for (int y = 0; y < patch->height; y++)
    for (int x = 0; x < patch->width; x++)
      for (guint channel = 0; channel < CHANNELS; channel++)
        patch->gradients[CHANNELS * (y * patch->width + x) + channel] =
          differentiate (picture, patch->left + x, patch->top + y, channel);
}

/* Least at the place itself, where lens and sharpening round the corner and its gradients point past it. */
static double
edge_weight (double square_px2, double sd_px)
{
  return exp (-square_px2 / (2.0 * sd_px * sd_px)) * (1.0 - exp (-square_px2 / (2.0 * ROUNDED_PX * ROUNDED_PX)));
}

/* Of all channels alike (Di Zenzo, "A note on the gradient of a multi-image", Computer Vision, Graphics, and Image
 * Processing 33, 1986; from memory): red clay on a grey table differs in colour alone.
 */
static void
add_gradient (Tensor *sum, const Gradient *gradient, double px, double py, double weight)
{
  const double gx = gradient->x, gy = gradient->y;

  sum->xx += weight * gx * gx;
  sum->xy += weight * gx * gy;
  sum->yy += weight * gy * gy;
  sum->x += weight * gx * (gx * px + gy * py);
  sum->y += weight * gy * (gx * px + gy * py);
}

/* @window_px each way around the pixel of @x_px, @y_px; weighted by distance from the place when @sd_px is above 0. */
static Tensor
sum_window (const Patch *patch, double x_px, double y_px, int window_px, double sd_px)
{
  const int middle_x = (int)floor (x_px) - patch->left, middle_y = (int)floor (y_px) - patch->top;
  Tensor sum = { 0 };

  for (int y = MAX (middle_y - window_px, 0); y <= MIN (middle_y + window_px, patch->height - 1); y++)
    for (int x = MAX (middle_x - window_px, 0); x <= MIN (middle_x + window_px, patch->width - 1); x++)
      {
        const double px = patch->left + x + 0.5, py = patch->top + y + 0.5;
        const double square = (px - x_px) * (px - x_px) + (py - y_px) * (py - y_px);
        const double weight = sd_px > 0.0 ? edge_weight (square, sd_px) : 1.0;

        for (guint channel = 0; channel < CHANNELS; channel++)
          add_gradient (&sum, &patch->gradients[CHANNELS * (y * patch->width + x) + channel], px, py,
                        weight / CHANNELS);
        sum.weight += weight;
      }
  return sum;
}

static double
determinant (const Tensor *tensor)
{
  return tensor->xx * tensor->yy - tensor->xy * tensor->xy;
}

static double
trace (const Tensor *tensor)
{
  return tensor->xx + tensor->yy;
}

static gboolean
is_corner (const Tensor *tensor)
{
  const double sum = trace (tensor);

  return sum / tensor->weight >= LEAST_GRADIENT * LEAST_GRADIENT &&
         4.0 * determinant (tensor) >= LEAST_ROUNDNESS * sum * sum;
}

/* Half of the harmonic mean of the structure's two axes: high where edges of two directions meet, 0 along one edge. */
static double
strength (const Tensor *tensor)
{
  return is_corner (tensor) ? determinant (tensor) / (trace (tensor) * tensor->weight) : 0.0;
}

/* Of the pixels within the radius, row by row; @side of them each way. */
static double *
map_strength (const Patch *patch, double x_px, double y_px, double radius_px, int radius, int side)
{
  double *map = g_new0 (double, (gsize)side *side);

  for (int i = 0; i < side * side; i++)
    {
      const double x = floor (x_px) + i % side - radius + 0.5, y = floor (y_px) + i / side - radius + 0.5;
      const Tensor tensor = sum_window (patch, x, y, COARSE_WINDOW_PX, 0.0);

      map[i] = hypot (x - x_px, y - y_px) <= radius_px ? strength (&tensor) : 0.0;
    }
  return map;
}

static gboolean
is_peak (const double *map, int side, int index)
{
  const int x = index % side, y = index / side;

  for (int dy = -PEAK_PX; dy <= PEAK_PX; dy++)
    for (int dx = -PEAK_PX; dx <= PEAK_PX; dx++)
      if (x + dx >= 0 && y + dy >= 0 && x + dx < side && y + dy < side && map[(y + dy) * side + x + dx] > map[index])
        return FALSE;
  return TRUE;
}

/* The nearest pixel that stands out as a corner among its neighbours, and is not faint beside the clearest of all. */
static gboolean
find_coarse (const Patch *patch, double x_px, double y_px, double radius_px, double *best_x, double *best_y)
{
  const int radius = (int)ceil (radius_px), side = 2 * radius + 1;
  g_autofree double *map = map_strength (patch, x_px, y_px, radius_px, radius, side);
  double most = 0.0, least_px = G_MAXDOUBLE;

  for (int i = 0; i < side * side; i++)
    most = MAX (most, map[i]);
  for (int i = 0; i < side * side; i++)
    {
      const double x = floor (x_px) + i % side - radius + 0.5, y = floor (y_px) + i / side - radius + 0.5;
      const double distance_px = hypot (x - x_px, y - y_px);

      if (map[i] <= 0.0 || map[i] < FAINT_FRAC * most || distance_px >= least_px || !is_peak (map, side, i))
        continue;
      least_px = distance_px;
      *best_x = x;
      *best_y = y;
    }
  return least_px < G_MAXDOUBLE;
}

/* Where all edges of the window meet: the point nearest to the lines through each pixel across its gradient, weighted
 * by the gradient. Moved on until it rests.
 */
static gboolean
refine (const Patch *patch, double *x_px, double *y_px)
{
  for (guint step = 0; step < MOST_STEPS; step++)
    {
      const Tensor tensor = sum_window (patch, *x_px, *y_px, WINDOW_PX, WINDOW_SD_PX);
      const double divisor = determinant (&tensor);
      double x, y, moved_px;

      if (!is_corner (&tensor))
        return FALSE;
      x = (tensor.x * tensor.yy - tensor.y * tensor.xy) / divisor;
      y = (tensor.y * tensor.xx - tensor.x * tensor.xy) / divisor;
      moved_px = hypot (x - *x_px, y - *y_px);
      if (moved_px > WINDOW_PX)
        return FALSE;
      *x_px = x;
      *y_px = y;
      if (moved_px < RESTS_PX)
        return TRUE;
    }
  return FALSE;
}

/**
 * sherd_corner_find:
 * @picture: a photograph at full size
 * @x_photo_px: where it is looked for; the middle of the first pixel is 0.5
 * @y_photo_px: likewise
 * @radius_px: how far around, at most 80
 * @corner_x_photo_px: (out): where it is
 * @corner_y_photo_px: (out): likewise
 *
 * Looks for the nearest clear crossing of two edges and finds its place to a fraction of a pixel, after Förstner and
 * Gülch, "A fast operator for detection and precise location of distinct points, corners and centres of circular
 * features", ISPRS Intercommission Conference, Interlaken 1987 (from memory): the structure tensor of the gradients
 * tells corner from edge, and the point with the least weighted distance to all edges of a window is the corner.
 *
 * Returns: FALSE when nothing within the radius is a corner: flat, one straight edge, or noise
 */
gboolean
sherd_corner_find (const SherdPicture *picture,
                   double x_photo_px,
                   double y_photo_px,
                   double radius_px,
                   double *corner_x_photo_px,
                   double *corner_y_photo_px)
{
  const double searched_px = MIN (radius_px, MOST_RADIUS_PX);
  g_auto (Patch) patch = { 0 };
  double x_px = x_photo_px, y_px = y_photo_px;

  if (!(radius_px > 0.0) || !(x_photo_px >= 0.0 && x_photo_px <= picture->width_px) ||
      !(y_photo_px >= 0.0 && y_photo_px <= picture->height_px))
    return FALSE;
  patch_init (&patch, picture, x_photo_px, y_photo_px, (int)ceil (searched_px) + 2 * WINDOW_PX);
  if (!find_coarse (&patch, x_photo_px, y_photo_px, searched_px, &x_px, &y_px) || !refine (&patch, &x_px, &y_px) ||
      hypot (x_px - x_photo_px, y_px - y_photo_px) > searched_px + 1.0)
    return FALSE;
  *corner_x_photo_px = x_px;
  *corner_y_photo_px = y_px;
  return TRUE;
}
