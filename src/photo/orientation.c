/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/orientation.h"

/* What has to be done to the stored picture, in this order, to see it upright (EXIF 2.32, 4.6.4.1, tag 0x0112). */
typedef struct
{
  gboolean swap_axes; /* rows become columns */
  gboolean mirror_x;  /* then left and right are exchanged */
  gboolean mirror_y;  /* and top and bottom */
} Turn;

static const Turn turns[] = {
  [1] = { FALSE, FALSE, FALSE }, /* row 0 is the top, column 0 the left side */
  [2] = { FALSE, TRUE, FALSE },  /* top, right */
  [3] = { FALSE, TRUE, TRUE },   /* bottom, right */
  [4] = { FALSE, FALSE, TRUE },  /* bottom, left */
  [5] = { TRUE, FALSE, FALSE },  /* left, top */
  [6] = { TRUE, TRUE, FALSE },   /* right, top */
  [7] = { TRUE, TRUE, TRUE },    /* right, bottom */
  [8] = { TRUE, FALSE, TRUE },   /* left, bottom */
};

static Turn
turn_of (guint orientation)
{
  return turns[orientation >= 1 && orientation < G_N_ELEMENTS (turns) ? orientation : 1];
}

/**
 * sherd_orientation_turns:
 * @orientation: EXIF orientation 1…8; anything else counts as 1
 *
 * Returns: whether the upright picture is as wide as the stored one is high
 */
gboolean
sherd_orientation_turns (guint orientation)
{
  return turn_of (orientation).swap_axes;
}

/**
 * sherd_orientation_to_upright:
 * @orientation: EXIF orientation 1…8; anything else counts as 1
 * @stored_width_px: width of the picture as stored
 * @stored_height_px: its height
 * @x_stored: continuous position, 0 at the left edge of the stored picture, right positive
 * @y_stored: 0 at its top edge, down positive
 * @x_upright: (out): the same point in the picture as seen
 * @y_upright: (out): likewise
 *
 * Takes a point from the picture as stored to the picture as seen.
 */
void
sherd_orientation_to_upright (guint orientation,
                              guint stored_width_px,
                              guint stored_height_px,
                              double x_stored,
                              double y_stored,
                              double *x_upright,
                              double *y_upright)
{
  const Turn turn = turn_of (orientation);
  const double width_px = turn.swap_axes ? stored_height_px : stored_width_px;
  const double height_px = turn.swap_axes ? stored_width_px : stored_height_px;
  const double x = turn.swap_axes ? y_stored : x_stored;
  const double y = turn.swap_axes ? x_stored : y_stored;

  *x_upright = turn.mirror_x ? width_px - x : x;
  *y_upright = turn.mirror_y ? height_px - y : y;
}

/**
 * sherd_orientation_to_stored:
 * @orientation: EXIF orientation 1…8; anything else counts as 1
 * @stored_width_px: width of the picture as stored
 * @stored_height_px: its height
 * @x_upright: continuous position in the picture as seen
 * @y_upright: likewise
 * @x_stored: (out): the same point in the picture as stored
 * @y_stored: (out): likewise
 *
 * The way back of sherd_orientation_to_upright().
 */
void
sherd_orientation_to_stored (guint orientation,
                             guint stored_width_px,
                             guint stored_height_px,
                             double x_upright,
                             double y_upright,
                             double *x_stored,
                             double *y_stored)
{
  const Turn turn = turn_of (orientation);
  const double width_px = turn.swap_axes ? stored_height_px : stored_width_px;
  const double height_px = turn.swap_axes ? stored_width_px : stored_height_px;
  const double x = turn.mirror_x ? width_px - x_upright : x_upright;
  const double y = turn.mirror_y ? height_px - y_upright : y_upright;

  *x_stored = turn.swap_axes ? y : x;
  *y_stored = turn.swap_axes ? x : y;
}
