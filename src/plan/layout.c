/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/layout.h"

#include <math.h>

static void
factor_free (gpointer data)
{
  SherdFactor *factor = data;

  g_free (factor->key);
  g_free (factor->name);
  g_strfreev (factor->levels);
  g_free (factor->values);
  g_free (factor);
}

/**
 * sherd_layout_new:
 * @n_zones: how many zones there are
 *
 * Returns: (transfer full): a layout of which nothing is known yet
 */
SherdLayout *
sherd_layout_new (guint n_zones)
{
  SherdLayout *self = g_new0 (SherdLayout, 1);

  self->n_zones = n_zones;
  self->zone_names = g_new0 (char *, n_zones + 1);
  self->locked = g_new0 (gboolean, n_zones + 1);
  self->factors = g_ptr_array_new_with_free_func (factor_free);
  return self;
}

void
sherd_layout_free (SherdLayout *self)
{
  for (guint zone = 0; zone < self->n_zones; zone++)
    g_free (self->zone_names[zone]);
  g_free (self->zone_names);
  g_free (self->locked);
  g_ptr_array_unref (self->factors);
  g_free (self);
}

/**
 * sherd_layout_name_zone:
 * @self: a layout
 * @zone: one of its zones
 * @name: what people call it
 * @locked: whether it must keep its paint
 */
void
sherd_layout_name_zone (SherdLayout *self, guint zone, const char *name, gboolean locked)
{
  g_free (self->zone_names[zone]);
  self->zone_names[zone] = g_strdup (name);
  self->locked[zone] = locked;
}

static SherdFactor *
add_factor (SherdLayout *self, const char *key, const char *name, SherdRole role)
{
  SherdFactor *factor = g_new0 (SherdFactor, 1);

  factor->key = g_strdup (key);
  factor->name = g_strdup (name);
  factor->role = role;
  factor->values = g_new0 (double, self->n_zones + 1);
  g_ptr_array_add (self->factors, factor);
  return factor;
}

/**
 * sherd_layout_add_numbers:
 * @self: a layout
 * @key: for data
 * @name: for people
 * @role: what it is
 * @values: (array): a number for each zone, NAN where it does not apply, INFINITY where it is not known
 */
void
sherd_layout_add_numbers (SherdLayout *self, const char *key, const char *name, SherdRole role, const double *values)
{
  SherdFactor *factor = add_factor (self, key, name, role);

  for (guint zone = 0; zone < self->n_zones; zone++)
    factor->values[zone] = values[zone];
}

/**
 * sherd_layout_add_directions:
 * @self: a layout
 * @key: for data
 * @name: for people
 * @role: what it is
 * @degrees: (array): a direction for each zone, such as where it lies around a vessel; NAN where it does not apply,
 * INFINITY where it is not known
 */
void
sherd_layout_add_directions (SherdLayout *self,
                             const char *key,
                             const char *name,
                             SherdRole role,
                             const double *degrees)
{
  SherdFactor *factor = add_factor (self, key, name, role);

  factor->is_direction = TRUE;
  for (guint zone = 0; zone < self->n_zones; zone++)
    factor->values[zone] = degrees[zone];
}

static double
find_level (GPtrArray *levels, const char *level)
{
  guint number;

  if (g_ptr_array_find_with_equal_func (levels, level, g_str_equal, &number))
    return number;
  g_ptr_array_add (levels, g_strdup (level));
  return levels->len - 1;
}

/**
 * sherd_layout_add_levels:
 * @self: a layout
 * @key: for data
 * @name: for people
 * @role: what it is
 * @levels: (array) (element-type utf8): a word for each zone, NULL where it does not apply
 */
void
sherd_layout_add_levels (SherdLayout *self,
                         const char *key,
                         const char *name,
                         SherdRole role,
                         const char *const *levels)
{
  SherdFactor *factor = add_factor (self, key, name, role);
  g_autoptr (GPtrArray) found = g_ptr_array_new ();

  for (guint zone = 0; zone < self->n_zones; zone++)
    factor->values[zone] = levels[zone] != NULL ? find_level (found, levels[zone]) : (double)NAN;
  factor->n_levels = found->len;
  g_ptr_array_add (found, NULL);
  factor->levels = (char **)g_ptr_array_steal (found, NULL);
}

const SherdFactor *
sherd_layout_get_factor (const SherdLayout *self, guint factor)
{
  return g_ptr_array_index (self->factors, factor);
}

/**
 * sherd_layout_find_role:
 * @self: a layout
 * @role: a role
 *
 * Returns: (nullable) (transfer none): the first factor of that role
 */
const SherdFactor *
sherd_layout_find_role (const SherdLayout *self, SherdRole role)
{
  for (guint i = 0; i < self->factors->len; i++)
    if (sherd_layout_get_factor (self, i)->role == role)
      return sherd_layout_get_factor (self, i);
  return NULL;
}

/**
 * sherd_layout_is_painted:
 * @self: a layout
 * @zone: one of its zones
 *
 * Returns: FALSE for a bare control; TRUE where no paints are told apart
 */
gboolean
sherd_layout_is_painted (const SherdLayout *self, guint zone)
{
  const SherdFactor *paint = sherd_layout_find_role (self, SHERD_ROLE_PAINT);

  return paint == NULL || !isnan (paint->values[zone]);
}

/**
 * sherd_layout_same_direction:
 * @first_deg: a direction
 * @second_deg: another
 *
 * Returns: whether they are the same but for whole turns and rounding
 */
gboolean
sherd_layout_same_direction (double first_deg, double second_deg)
{
  return fabs (remainder (first_deg - second_deg, 360.0)) < 1e-6;
}

/**
 * sherd_layout_count_zones:
 * @self: a layout
 * @factor: one of its factors with levels
 * @level: one of them
 *
 * Returns: how many zones have it
 */
guint
sherd_layout_count_zones (const SherdLayout *self, const SherdFactor *factor, guint level)
{
  guint n_zones = 0;

  for (guint zone = 0; zone < self->n_zones; zone++)
    n_zones += isfinite (factor->values[zone]) && (guint)factor->values[zone] == level;
  return n_zones;
}

static void
take_factor (SherdLayout *taken, const SherdFactor *factor, const guint *zones)
{
  SherdFactor *copy = add_factor (taken, factor->key, factor->name, factor->role);

  copy->levels = g_strdupv (factor->levels);
  copy->n_levels = factor->n_levels;
  copy->is_direction = factor->is_direction;
  for (guint i = 0; i < taken->n_zones; i++)
    copy->values[i] = factor->values[zones[i]];
}

/**
 * sherd_layout_take:
 * @self: a layout
 * @zones: (array length=n_zones): the zones to be taken, any of them as often as one likes
 * @n_zones: how many
 * @factors: (array): for each factor whether it is taken
 *
 * Returns: (transfer full): a layout of these alone
 */
SherdLayout *
sherd_layout_take (const SherdLayout *self, const guint *zones, guint n_zones, const gboolean *factors)
{
  SherdLayout *taken = sherd_layout_new (n_zones);

  for (guint i = 0; i < n_zones; i++)
    sherd_layout_name_zone (taken, i, self->zone_names[zones[i]], self->locked[zones[i]]);
  for (guint i = 0; i < self->factors->len; i++)
    if (factors[i])
      take_factor (taken, sherd_layout_get_factor (self, i), zones);
  return taken;
}
