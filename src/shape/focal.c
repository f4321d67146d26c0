/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/focal.h"

#include <math.h>

/* EXIF gives whole millimetres of a 35 mm equivalent; 3 % also covers focusing (geometry of a thin lens at ¾ m). */
#define EXIF_FOCAL_SD 0.03
/* Our choice without EXIF: a normal lens, give or take a third. */
#define GUESSED_FOCAL_SD 0.3
#define GUESSED_FOCAL_SIDES 1.2
#define DIAGONAL_35MM 43.2666 /* mm: 36 × 24 */

/**
 * sherd_focal_guess:
 * @focal_35mm: 35 mm equivalent focal length from the file's head, 0 if unknown
 *
 * Returns: the focal length in pixels believed before the marks are looked at: 36 × 24 mm diagonal for the
 * equivalent; without one 1.2 times the longer side
 */
SherdFocalGuess
sherd_focal_guess (guint width_px, guint height_px, double focal_35mm)
{
  SherdFocalGuess guess = { GUESSED_FOCAL_SIDES * MAX (width_px, height_px), GUESSED_FOCAL_SD };

  if (focal_35mm > 0)
    {
      guess.focal_px = focal_35mm * hypot (width_px, height_px) / DIAGONAL_35MM;
      guess.sd_ln = EXIF_FOCAL_SD;
    }
  return guess;
}
