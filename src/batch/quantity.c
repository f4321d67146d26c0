/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/quantity.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "trial/number.h"

/* value in the first unit = number × factor + offset */
typedef struct
{
  const char *name;
  double factor;
  double offset;
} Unit;

/* Ounce and inch by definition: 28.349523125 g (international avoirdupois), 25.4 mm. Longer names stand before those
 * they end with. */
static const Unit mass_units[] = {
  { "kg", 1000.0, 0.0 }, { "mg", 1e-3, 0.0 }, { "g", 1.0, 0.0 }, { "oz", 28.349523125, 0.0 }, { NULL, 1.0, 0.0 },
};
static const Unit area_units[] = {
  { "cm2", 1.0, 0.0 }, { "cm²", 1.0, 0.0 },    { "mm2", 0.01, 0.0 },   { "mm²", 0.01, 0.0 }, { "m2", 1e4, 0.0 },
  { "m²", 1e4, 0.0 },  { "in2", 6.4516, 0.0 }, { "in²", 6.4516, 0.0 }, { NULL, 1.0, 0.0 },
};
static const Unit length_units[] = {
  { "mm", 1.0, 0.0 },  { "cm", 10.0, 0.0 }, { "µm", 1e-3, 0.0 },
  { "um", 1e-3, 0.0 }, { "in", 25.4, 0.0 }, { NULL, 1.0, 0.0 },
};
static const Unit share_units[] = { { "%", 1.0, 0.0 }, { NULL, 1.0, 0.0 } };
static const Unit temperature_units[] = {
  { "°C", 1.0, 0.0 },    { "C", 1.0, 0.0 },  { "°F", 5.0 / 9.0, -160.0 / 9.0 }, { "F", 5.0 / 9.0, -160.0 / 9.0 },
  { "K", 1.0, -273.15 }, { NULL, 1.0, 0.0 },
};

static const struct
{
  const Unit *units;
  const char *form; /* marked for translation */
} quantities[] = {
  { mass_units, N_ ("a mass, “50g” or “0.5kg”") },
  { area_units, N_ ("an area, “40cm2”") },
  { length_units, N_ ("a thickness, “0.1mm” or “80um”") },
  { share_units, N_ ("per cent, “10%”") },
  { temperature_units, N_ ("a temperature, “780C” or “1436F”") },
};

static gboolean
ends_with_unit (const char *text, const char *unit)
{
  const gsize length = strlen (text), unit_length = strlen (unit);

  return length > unit_length && g_str_has_suffix (text, unit) && !g_ascii_isalpha (text[length - unit_length - 1]);
}

static const Unit *
find_unit (const Unit *units, const char *text)
{
  while (units->name != NULL && !ends_with_unit (text, units->name))
    units++;
  return units;
}

/**
 * sherd_quantity_parse:
 * @option: name of the option, for the message
 * @quantity: what is asked for
 * @text: what was given
 * @value: (out): in the unit that the name of the quantity ends with
 * @error: G_OPTION_ERROR_BAD_VALUE
 */
gboolean
sherd_quantity_parse (const char *option, SherdQuantity quantity, const char *text, double *value, GError **error)
{
  const Unit *unit = find_unit (quantities[quantity].units, text);
  const gsize unit_length = unit->name != NULL ? strlen (unit->name) : 0;
  g_autofree char *digits = g_strndup (text, strlen (text) - unit_length);
  g_autoptr (GError) problem = NULL;
  double number;

  if (!sherd_number_parse (digits, &number, &problem))
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   _ ("“%s” does not fit --%s, which is written as %s."), text, option, _ (quantities[quantity].form));
      return FALSE;
    }
  *value = number * unit->factor + unit->offset;
  return TRUE;
}
