/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/lab-text.h"

#include <math.h>

#include <glib/gi18n-lib.h>

/* To one decimal, and never “-0.0”. */
static double
round_to_tenth (double value)
{
  return round (10.0 * value) / 10.0 + 0.0;
}

/**
 * sherd_lab_text:
 * @lab: CIELAB, D50, 2°
 *
 * Returns: (transfer full): the colour in words, to one decimal: “L* 45.2, a* 12.3, b* 20.1”
 */
char *
sherd_lab_text (const SherdLab *lab)
{
  return g_strdup_printf (_ ("L* %.1f, a* %.1f, b* %.1f"), round_to_tenth (lab->l), round_to_tenth (lab->a),
                          round_to_tenth (lab->b));
}
