/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What a factor is to the questions asked. */
typedef enum
{
  SHERD_ROLE_PAINT,       /* which paint lies there */
  SHERD_ROLE_COMPOSITION, /* the share of something in that paint: goes where the paint goes, and is asked instead */
  SHERD_ROLE_PLACE,       /* what stays with the zone when paints change places: ground, side, height, coats, firing */
  SHERD_ROLE_PIECE        /* which piece */
} SherdRole;

/* Something that differs between zones and may matter. */
typedef struct
{
  char *key;  /* for data, never translated: "share:iron oxide" */
  char *name; /* for people: "share of iron oxide" */
  SherdRole role;
  char **levels;         /* NULL for a number */
  guint n_levels;        /* 0 for a number */
  gboolean is_direction; /* a number in degrees that comes round: 360 is 0 */
  double *values; /* by zone: the number, or that of the level; NAN where it does not apply (no coats without paint),
                     INFINITY where it is not known */
} SherdFactor;

/* All zones of a trial, as rows of factors. */
typedef struct
{
  guint n_zones;
  char **zone_names; /* by zone: "Dish 1, B3" */
  gboolean *locked;  /* by zone */
  GPtrArray *factors;
} SherdLayout;

SherdLayout *sherd_layout_new (guint n_zones);
void sherd_layout_free (SherdLayout *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdLayout, sherd_layout_free)

void sherd_layout_name_zone (SherdLayout *self, guint zone, const char *name, gboolean locked);
void
sherd_layout_add_numbers (SherdLayout *self, const char *key, const char *name, SherdRole role, const double *values);
void sherd_layout_add_directions (SherdLayout *self,
                                  const char *key,
                                  const char *name,
                                  SherdRole role,
                                  const double *degrees);
void sherd_layout_add_levels (SherdLayout *self,
                              const char *key,
                              const char *name,
                              SherdRole role,
                              const char *const *levels);
const SherdFactor *sherd_layout_get_factor (const SherdLayout *self, guint factor);
/* (nullable) */
const SherdFactor *sherd_layout_find_role (const SherdLayout *self, SherdRole role);
gboolean sherd_layout_is_painted (const SherdLayout *self, guint zone);
gboolean sherd_layout_same_direction (double first_deg, double second_deg);
guint sherd_layout_count_zones (const SherdLayout *self, const SherdFactor *factor, guint level);

/* (transfer full): some zones, some factors, others left out */
SherdLayout *sherd_layout_take (const SherdLayout *self, const guint *zones, guint n_zones, const gboolean *factors);

G_END_DECLS
