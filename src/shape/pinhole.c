/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/pinhole.h"

#include "shape/space.h"

#include <string.h>

/* What lies behind the camera is seen as from its own plane, far outside the picture, so that a fit finds its way back.
 */
#define NEAREST_MM 1.0

/* Steps of the distortion's inverse; each wins a digit or more within a picture. */
#define STRAIGHTEN_STEPS 30u

/**
 * sherd_pinhole_to_camera:
 * @pinhole: a camera
 * @position_mm: in the frame of the piece
 * @in_camera_mm: (out): in the frame of the camera; its third coordinate is the depth
 */
void
sherd_pinhole_to_camera (const SherdPinhole *pinhole, const double position_mm[3], double in_camera_mm[3])
{
  for (guint i = 0; i < 3; i++)
    in_camera_mm[i] = sherd_dot (pinhole->rotation[i], position_mm) + pinhole->translation[i];
}

/* Brown, "Close-range camera calibration", Photogrammetric Engineering 37 (1971), 855: the first radial term. */
static SherdPoint
distort (const SherdPinhole *pinhole, double x, double y)
{
  const double stretch = 1.0 + pinhole->k1 * (x * x + y * y);

  return (SherdPoint){ pinhole->centre_x_px + pinhole->focal_px * x * stretch,
                       pinhole->centre_y_px + pinhole->focal_px * y * stretch };
}

/**
 * sherd_pinhole_project:
 * @pinhole: a camera
 * @position_mm: in the frame of the piece
 *
 * Returns: where it is seen in the upright photograph
 */
SherdPoint
sherd_pinhole_project (const SherdPinhole *pinhole, const double position_mm[3])
{
  double p[3];

  sherd_pinhole_to_camera (pinhole, position_mm, p);
  p[2] = MAX (p[2], NEAREST_MM);
  return distort (pinhole, p[0] / p[2], p[1] / p[2]);
}

/**
 * sherd_pinhole_straighten:
 * @pinhole: a camera
 * @photo_px: where something is seen
 *
 * Returns: where a lens without distortion would have it
 */
SherdPoint
sherd_pinhole_straighten (const SherdPinhole *pinhole, SherdPoint photo_px)
{
  const double seen_x = (photo_px.x - pinhole->centre_x_px) / pinhole->focal_px;
  const double seen_y = (photo_px.y - pinhole->centre_y_px) / pinhole->focal_px;
  double x = seen_x, y = seen_y;

  for (guint i = 0; i < STRAIGHTEN_STEPS && pinhole->k1 != 0.0; i++)
    {
      /* Beyond the circle in which a lens can be so, the stretch is held. */
      const double stretch = MAX (1.0 + pinhole->k1 * (x * x + y * y), 0.3);

      x = seen_x / stretch;
      y = seen_y / stretch;
    }
  return (SherdPoint){ pinhole->centre_x_px + pinhole->focal_px * x, pinhole->centre_y_px + pinhole->focal_px * y };
}

/**
 * sherd_pinhole_centre:
 * @pinhole: a camera
 * @centre_mm: (out): where its lens is, in the frame of the piece: −Rᵀ t
 */
void
sherd_pinhole_centre (const SherdPinhole *pinhole, double centre_mm[3])
{
  for (guint j = 0; j < 3; j++)
    {
      centre_mm[j] = 0.0;
      for (guint i = 0; i < 3; i++)
        centre_mm[j] -= pinhole->rotation[i][j] * pinhole->translation[i];
    }
}

/**
 * sherd_pinhole_ray:
 * @pinhole: a camera
 * @photo_px: a place in the upright photograph
 * @direction: (out): unit vector in the frame of the piece, from the lens to what is seen there
 */
void
sherd_pinhole_ray (const SherdPinhole *pinhole, SherdPoint photo_px, double direction[3])
{
  const SherdPoint straight = sherd_pinhole_straighten (pinhole, photo_px);
  const double ray[3] = { (straight.x - pinhole->centre_x_px) / pinhole->focal_px,
                          (straight.y - pinhole->centre_y_px) / pinhole->focal_px, 1.0 };
  const double length = sherd_norm (ray);

  for (guint j = 0; j < 3; j++)
    direction[j] =
      (pinhole->rotation[0][j] * ray[0] + pinhole->rotation[1][j] * ray[1] + pinhole->rotation[2][j]) / length;
}

/**
 * sherd_pinhole_turn:
 * @pinhole: (inout): a camera
 * @turn_rad: axis in the frame of the camera, as long as the angle
 *
 * Turns the piece before the camera about its own origin (Rodrigues' formula).
 */
void
sherd_pinhole_turn (SherdPinhole *pinhole, const double turn_rad[3])
{
  const double angle = sherd_norm (turn_rad);
  const double a = angle > 1e-9 ? sin (angle) / angle : 1.0;
  const double b = angle > 1e-9 ? (1.0 - cos (angle)) / (angle * angle) : 0.5;
  double before[3][3];

  memcpy (before, pinhole->rotation, sizeof before);
  for (guint j = 0; j < 3; j++)
    {
      const double column[3] = { before[0][j], before[1][j], before[2][j] };
      double across[3], twice[3];

      sherd_cross (turn_rad, column, across);
      sherd_cross (turn_rad, across, twice);
      for (guint i = 0; i < 3; i++)
        pinhole->rotation[i][j] = column[i] + a * across[i] + b * twice[i];
    }
}

/* One row of the triangular part of a matrix, taken off from below: Gram and Schmidt on the rows of M. */
static gboolean
split_rows (double m[3][4], double k[3][3], double r[3][3])
{
  for (int i = 2; i >= 0; i--)
    {
      for (int j = i + 1; j < 3; j++)
        {
          k[i][j] = sherd_dot (m[i], r[j]);
          for (guint c = 0; c < 3; c++)
            m[i][c] -= k[i][j] * r[j][c];
        }
      k[i][i] = sherd_norm (m[i]);
      if (!(k[i][i] > 0.0))
        return FALSE;
      for (guint c = 0; c < 3; c++)
        r[i][c] = m[i][c] / k[i][i];
    }
  return TRUE;
}

static double
determinant (double r[3][3])
{
  double across[3];

  sherd_cross (r[1], r[2], across);
  return sherd_dot (r[0], across);
}

/**
 * sherd_pinhole_from_matrix:
 * @pinhole: (out): its principal point is what the matrix says
 * @matrix: 3 × 4, from the frame of the piece to the photograph, up to a factor
 *
 * P = K [R | t] with K upper triangular (Hartley and Zisserman, Multiple View Geometry, 2nd edition 2004, 6.2.4); its
 * two focal lengths are averaged and its skew dropped.
 *
 * Returns: whether the matrix is that of a camera
 */
gboolean
sherd_pinhole_from_matrix (SherdPinhole *pinhole, double matrix[3][4])
{
  double m[3][4], k[3][3] = { { 0 } };
  double sign;

  memcpy (m, matrix, sizeof m);
  if (!split_rows (m, k, pinhole->rotation))
    return FALSE;
  sign = determinant (pinhole->rotation) < 0.0 ? -1.0 : 1.0;
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      pinhole->rotation[i][j] *= sign;
  /* K t = p₄, from below. */
  for (int i = 2; i >= 0; i--)
    {
      double rest = sign * matrix[i][3];

      for (int j = i + 1; j < 3; j++)
        rest -= k[i][j] * pinhole->translation[j];
      pinhole->translation[i] = rest / k[i][i];
    }
  pinhole->focal_px = (k[0][0] + k[1][1]) / 2.0 / k[2][2];
  pinhole->centre_x_px = k[0][2] / k[2][2];
  pinhole->centre_y_px = k[1][2] / k[2][2];
  pinhole->k1 = 0.0;
  return isfinite (pinhole->focal_px) && pinhole->focal_px > 0.0;
}
