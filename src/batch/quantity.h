/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What can be asked for with a unit behind; a bare number is in the first. */
typedef enum
{
  SHERD_QUANTITY_MASS_G,       /* g, kg, mg, oz */
  SHERD_QUANTITY_AREA_CM2,     /* cm2, cm², mm2, mm², m2, m², in2 */
  SHERD_QUANTITY_LENGTH_MM,    /* mm, µm, um, cm, in */
  SHERD_QUANTITY_FRAC_PCT,     /* % */
  SHERD_QUANTITY_TEMPERATURE_C /* C, °C, F, °F, K */
} SherdQuantity;

/* Reads "50g", "1/2 kg", "40 cm²", "780C"; numbers as sherd_number_parse () takes them. G_OPTION_ERROR_BAD_VALUE,
 * naming option and text. */
gboolean
sherd_quantity_parse (const char *option, SherdQuantity quantity, const char *text, double *value, GError **error);

G_END_DECLS
