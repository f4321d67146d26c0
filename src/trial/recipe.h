/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>
#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* How the parts of a recipe were measured. */
typedef enum
{
  SHERD_BASIS_MASS,
  SHERD_BASIS_VOLUME
} SherdBasis;

#define SHERD_TYPE_BASIS (sherd_basis_get_type ())
GType sherd_basis_get_type (void); /* "mass", "volume" */

/* Some parts of a material or of another paint. */
typedef struct
{
  char *material_id; /* (nullable): exactly one of material_id and paint_id is there */
  char *paint_id;    /* (nullable) */
  guint revision;    /* of that paint; 0 for the paint as it stands, which is so in every present recipe */
  double parts;      /* over 0 */
  char *parts_text;  /* as typed, "1/3"; empty where nobody typed it */
  JsonObject *unknown;
} SherdIngredient;

/* What a paint is mixed of. A value: copy it, change the copy by the functions below, give it to
 * sherd_trial_set_recipe (). A recipe without ingredients is one that nobody has written down. */
typedef struct
{
  SherdBasis basis;
  SherdIngredient *ingredients;
  guint n_ingredients;
  char *binder_id;   /* (nullable): a material */
  double binder_pct; /* of the dry mass; NAN when not known */
  double water_pct;  /* likewise */
} SherdRecipe;

#define SHERD_TYPE_RECIPE (sherd_recipe_get_type ())
GType sherd_recipe_get_type (void);

/* Our choice: no hand mixes more. */
#define SHERD_RECIPE_MAX_INGREDIENTS 100
/* Likewise: bounds for parts, and for water and binder. */
#define SHERD_PARTS_MIN 1e-6
#define SHERD_PARTS_MAX 1e6
#define SHERD_RECIPE_MAX_PCT 10000.0

/* (transfer full): empty, by mass */
SherdRecipe *sherd_recipe_new (void);
SherdRecipe *sherd_recipe_copy (const SherdRecipe *recipe);
void sherd_recipe_free (SherdRecipe *recipe);
/* The same mix, however the parts were typed. */
gboolean sherd_recipe_same_mix (const SherdRecipe *first, const SherdRecipe *second);
gboolean sherd_recipe_equal (const SherdRecipe *first, const SherdRecipe *second);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdRecipe, sherd_recipe_free)

/* @parts_text: (nullable): as typed */
void sherd_recipe_insert_material (SherdRecipe *recipe,
                                   guint position,
                                   const char *material_id,
                                   double parts,
                                   const char *parts_text);
void sherd_recipe_insert_paint (SherdRecipe *recipe,
                                guint position,
                                const char *paint_id,
                                double parts,
                                const char *parts_text);
void sherd_recipe_remove (SherdRecipe *recipe, guint position);
void sherd_recipe_move (SherdRecipe *recipe, guint from, guint to);
void sherd_recipe_set_parts (SherdRecipe *recipe, guint position, double parts, const char *parts_text);
/* @material_id: (nullable), @paint_id: (nullable): the one that takes its place */
void sherd_recipe_set_what (SherdRecipe *recipe, guint position, const char *material_id, const char *paint_id);
/* @material_id: (nullable) */
void sherd_recipe_set_binder (SherdRecipe *recipe, const char *material_id, double pct);

/* Copied to the end. */
void sherd_recipe_append (SherdRecipe *recipe, const SherdIngredient *ingredient);

/* Numbers within their bounds: SHERD_TRIAL_ERROR_VALUE, naming the row. */
gboolean sherd_recipe_check (const SherdRecipe *recipe, GError **error);
gboolean sherd_recipe_names_material (const SherdRecipe *recipe, const char *material_id);

G_END_DECLS
