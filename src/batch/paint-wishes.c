/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/paint-wishes.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "batch/quantity.h"
#include "batch/words.h"
#include "trial/built-in-materials.h"
#include "trial/edits.h"
#include "trial/number.h"
#include "trial/paint-use.h"

#define ZONES "zones"

/* Our choice: no kiln or open fire for pottery peaks outside, and none holds its peak for longer than a week. */
#define LEAST_PEAK_C 100.0
#define MOST_PEAK_C 1600.0
#define MOST_MINUTES 10080.0

void
sherd_paint_wishes_clear (SherdPaintWishes *wishes)
{
  g_free (wishes->batch);
  g_free (wishes->area);
  g_free (wishes->piece);
  g_free (wishes->thickness);
  g_free (wishes->reserve);
  g_free (wishes->have);
  g_free (wishes->round);
  g_free (wishes->peak);
  g_free (wishes->minutes);
  g_free (wishes->add);
  g_strfreev (wishes->parts);
  g_free (wishes->by);
  g_free (wishes->binder);
  g_free (wishes->water);
  g_free (wishes->import);
  g_free (wishes->export);
}

/**
 * sherd_paint_wishes_change_recipe:
 * @wishes: what was asked
 *
 * Returns: whether a recipe is to be changed
 */
gboolean
sherd_paint_wishes_change_recipe (const SherdPaintWishes *wishes)
{
  return wishes->parts != NULL || wishes->by != NULL || wishes->binder != NULL || wishes->water != NULL;
}

/* How many ways of telling the batch were taken. */
static guint
count_batches (const SherdPaintWishes *wishes)
{
  return (wishes->batch != NULL) + (wishes->area != NULL) + (wishes->have != NULL);
}

/**
 * sherd_paint_wishes_ask_batch:
 * @wishes: what was asked
 *
 * Returns: whether the command line says how much there is to be
 */
gboolean
sherd_paint_wishes_ask_batch (const SherdPaintWishes *wishes)
{
  return count_batches (wishes) > 0;
}

static gboolean
needs_paint (const SherdPaintWishes *wishes)
{
  return count_batches (wishes) > 0 || wishes->peak != NULL || wishes->revision != 0 || wishes->remove ||
         sherd_paint_wishes_change_recipe (wishes);
}

static const char *
find_batch_contradiction (const SherdPaintWishes *wishes)
{
  const gboolean of_zones = g_strcmp0 (wishes->area, ZONES) == 0;

  if (count_batches (wishes) > 1)
    return _ ("Take one of --batch, --area and --have: each says how much there will be.");
  if (wishes->area != NULL && wishes->thickness == NULL)
    return _ ("--area needs the thickness of one dry coat: say it with --thickness.");
  if (wishes->area == NULL &&
      (wishes->thickness != NULL || wishes->coats != SHERD_COATS_UNTOLD || wishes->reserve != NULL))
    return _ ("--thickness, --coats and --reserve belong to --area.");
  if (wishes->piece != NULL && !of_zones)
    return _ ("--piece belongs to --area zones.");
  if (of_zones && wishes->coats != SHERD_COATS_UNTOLD)
    return _ ("The zones have their own number of coats: leave out --coats.");
  return NULL;
}

/**
 * sherd_paint_wishes_find_contradiction:
 * @wishes: what was asked
 *
 * Returns: (nullable) (transfer none): why the options do not belong together
 */
const char *
sherd_paint_wishes_find_contradiction (const SherdPaintWishes *wishes)
{
  const gboolean is_exchange = wishes->import != NULL || wishes->export != NULL;

  if (wishes->csv && wishes->json)
    return _ ("Take either --csv or --json.");
  if (is_exchange && (wishes->code != NULL || wishes->add != NULL || needs_paint (wishes)))
    return _ ("--import and --export are about all paints or materials: take them alone.");
  if (wishes->import != NULL && wishes->export != NULL)
    return _ ("Take either --import or --export.");
  if (wishes->import == NULL && (wishes->dry_run || wishes->skip))
    return _ ("--dry-run and --skip belong to --import.");
  if (wishes->code != NULL && wishes->add != NULL)
    return _ ("--add names the new paint: leave out the other code.");
  if (wishes->slip && wishes->add == NULL)
    return _ ("--slip belongs to --add.");
  if (wishes->code == NULL && wishes->add == NULL && needs_paint (wishes))
    return _ ("This is about one paint: say its code behind FILE.");
  if (wishes->minutes != NULL && wishes->peak == NULL)
    return _ ("--minutes belongs to --peak.");
  return find_batch_contradiction (wishes);
}

static gboolean
read_area (const SherdPaintWishes *wishes,
           SherdTrial *trial,
           SherdPaint *paint,
           SherdBatchRequest *request,
           GError **error)
{
  SherdPiece *piece = wishes->piece != NULL ? sherd_trial_find_piece_by_name (trial, wishes->piece) : NULL;

  request->way = SHERD_BATCH_BY_AREA;
  request->coats = wishes->coats == SHERD_COATS_UNTOLD ? 1 : (guint)MAX (wishes->coats, 0);
  if (!g_str_equal (wishes->area, ZONES))
    return sherd_quantity_parse ("area", SHERD_QUANTITY_AREA_CM2, wishes->area, &request->area_cm2, error);
  if (wishes->piece != NULL && piece == NULL)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("The trial has no piece “%s”. “sherd check” lists its pieces."), wishes->piece);
      return FALSE;
    }
  request->area_cm2 = sherd_trial_get_coat_area_mm2 (trial, paint, piece) / 100.0;
  if (request->area_cm2 > 0.0)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("No zone carries “%s” as it stands. Say the area in cm²."), sherd_paint_get_code (paint));
  return FALSE;
}

static gboolean
read_coat (const SherdPaintWishes *wishes, SherdBatchRequest *request, GError **error)
{
  double reserve_pct = 0.0;

  if (!sherd_quantity_parse ("thickness", SHERD_QUANTITY_LENGTH_MM, wishes->thickness, &request->coat_mm, error) ||
      (wishes->reserve != NULL &&
       !sherd_quantity_parse ("reserve", SHERD_QUANTITY_FRAC_PCT, wishes->reserve, &reserve_pct, error)))
    return FALSE;
  request->reserve_frac = reserve_pct / 100.0;
  return TRUE;
}

/* Capital and small letters are the same, as in the names of materials; a paint is told by its code. */
static gboolean
ingredient_is_named (SherdTrial *trial, const SherdIngredient *ingredient, const char *name)
{
  SherdMaterial *material =
    ingredient->material_id != NULL ? sherd_trial_find_material (trial, ingredient->material_id) : NULL;
  SherdPaint *paint = ingredient->paint_id != NULL ? sherd_trial_find_paint (trial, ingredient->paint_id) : NULL;

  if (material != NULL)
    return sherd_trial_find_material_by_name (trial, name) == material;
  return paint != NULL && g_str_equal (sherd_paint_get_code (paint), name);
}

/* "Malachite=12g": as much as that allows. */
static gboolean
read_at_hand (const SherdPaintWishes *wishes,
              SherdTrial *trial,
              SherdPaint *paint,
              SherdBatchRequest *request,
              GError **error)
{
  const SherdRecipe *recipe = sherd_paint_find_recipe (paint, (guint)wishes->revision);
  g_autofree char *mass = NULL;
  g_autofree char *name = sherd_words_pair ("have", wishes->have, &mass, error);

  request->way = SHERD_BATCH_BY_AT_HAND;
  if (name == NULL || !sherd_quantity_parse ("have", SHERD_QUANTITY_MASS_G, mass, &request->at_hand_g, error))
    return FALSE;
  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (ingredient_is_named (trial, &recipe->ingredients[i], name))
      {
        request->part = i;
        return TRUE;
      }
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("“%s” is no ingredient of “%s”."), name,
               sherd_paint_get_code (paint));
  return FALSE;
}

/**
 * sherd_paint_wishes_read_request:
 * @wishes: what was asked
 * @trial: the trial
 * @paint: its paint
 * @request: (out): how much of it
 * @has_request: (out): whether it was asked
 * @error: G_OPTION_ERROR_BAD_VALUE or SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_paint_wishes_read_request (const SherdPaintWishes *wishes,
                                 SherdTrial *trial,
                                 SherdPaint *paint,
                                 SherdBatchRequest *request,
                                 gboolean *has_request,
                                 GError **error)
{
  const double planned_g = sherd_paint_get_batch_g (paint);

  *request = (SherdBatchRequest){ .way = SHERD_BATCH_BY_TOTAL, .total_g = planned_g };
  *has_request = count_batches (wishes) > 0 || !isnan (planned_g);
  if (wishes->batch != NULL &&
      !sherd_quantity_parse ("batch", SHERD_QUANTITY_MASS_G, wishes->batch, &request->total_g, error))
    return FALSE;
  if (wishes->area != NULL &&
      (!read_area (wishes, trial, paint, request, error) || !read_coat (wishes, request, error)))
    return FALSE;
  if (wishes->have != NULL && !read_at_hand (wishes, trial, paint, request, error))
    return FALSE;
  return wishes->round == NULL ||
         sherd_quantity_parse ("round", SHERD_QUANTITY_MASS_G, wishes->round, &request->readability_g, error);
}

/* NAN is not told. */
static gboolean
check_heat (double peak_c, double minutes, GError **error)
{
  if (peak_c < LEAST_PEAK_C || peak_c > MOST_PEAK_C)
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("The peak of a firing is %.0f to %.0f °C."),
                 LEAST_PEAK_C, MOST_PEAK_C);
  else if (minutes <= 0.0 || minutes > MOST_MINUTES)
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                 _ ("The time at the peak is above 0 and up to %.0f minutes."), MOST_MINUTES);
  else
    return TRUE;
  return FALSE;
}

/**
 * sherd_paint_wishes_read_heat:
 * @wishes: what was asked
 * @heat: (out): the firing to look at
 * @error: G_OPTION_ERROR_BAD_VALUE
 */
gboolean
sherd_paint_wishes_read_heat (const SherdPaintWishes *wishes, SherdMeltHeat *heat, GError **error)
{
  double peak_c = NAN, minutes = NAN;

  if ((wishes->peak != NULL &&
       !sherd_quantity_parse ("peak", SHERD_QUANTITY_TEMPERATURE_C, wishes->peak, &peak_c, error)) ||
      (wishes->minutes != NULL && !sherd_words_numbers ("minutes", wishes->minutes, &minutes, 1, FALSE, error)) ||
      !check_heat (peak_c, minutes, error))
    return FALSE;
  *heat = (SherdMeltHeat){ .is_known = wishes->peak != NULL };
  if (wishes->peak != NULL)
    heat->peak_c.value = peak_c;
  if (wishes->minutes != NULL)
    heat->minutes = minutes;
  return TRUE;
}

/* (transfer full): "", or the names of built-in materials in which the word occurs */
static char *
dup_similar (GPtrArray *built_ins, const char *word)
{
  g_autofree char *wanted = g_utf8_casefold (word, -1);
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < built_ins->len && *wanted != '\0'; i++)
    {
      const char *name = ((const SherdMaterialRecord *)g_ptr_array_index (built_ins, i))->name;
      g_autofree char *folded = g_utf8_casefold (name, -1);

      if (strstr (folded, wanted) != NULL)
        g_string_append_printf (names, "%s“%s”", names->len > 0 ? ", " : _ (" Do you mean "), name);
    }
  if (names->len > 0)
    g_string_append_c (names, '?');
  return g_string_free (g_steal_pointer (&names), FALSE);
}

static void
refuse_name (GPtrArray *built_ins, const char *name, GError **error)
{
  g_autofree char *similar = dup_similar (built_ins, name);

  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("There is no material “%s”, in the trial or built in.%s"), name, similar);
}

/* A material of the trial, a built-in one, which is copied into the trial, or another paint by its code. */
static gboolean
add_part (SherdTrial *trial, SherdRecipe *recipe, GPtrArray *built_ins, const char *text, GError **error)
{
  g_autofree char *parts_text = NULL;
  g_autofree char *name = sherd_words_pair ("part", text, &parts_text, error);
  SherdMaterial *material;
  SherdPaint *paint;
  double parts;

  if (name == NULL || !sherd_number_parse (parts_text, &parts, error))
    return FALSE;
  material = sherd_trial_find_or_add_material (trial, built_ins, name);
  paint = material == NULL ? sherd_trial_find_paint_by_code (trial, name) : NULL;
  if (material != NULL)
    sherd_recipe_insert_material (recipe, G_MAXUINT, sherd_part_get_id (SHERD_PART (material)), parts, parts_text);
  else if (paint != NULL)
    sherd_recipe_insert_paint (recipe, G_MAXUINT, sherd_part_get_id (SHERD_PART (paint)), parts, parts_text);
  else
    refuse_name (built_ins, name, error);
  return material != NULL || paint != NULL;
}

static gboolean
set_binder (SherdTrial *trial, SherdRecipe *recipe, GPtrArray *built_ins, const char *text, GError **error)
{
  g_autofree char *share = NULL;
  g_autofree char *name = sherd_words_pair ("binder", text, &share, error);
  SherdMaterial *material;
  double pct;

  if (name == NULL || !sherd_quantity_parse ("binder", SHERD_QUANTITY_FRAC_PCT, share, &pct, error))
    return FALSE;
  material = sherd_trial_find_or_add_material (trial, built_ins, name);
  if (material != NULL)
    sherd_recipe_set_binder (recipe, sherd_part_get_id (SHERD_PART (material)), pct);
  else
    refuse_name (built_ins, name, error);
  return material != NULL;
}

static gboolean
set_basis (SherdRecipe *recipe, const char *text, GError **error)
{
  g_autoptr (GEnumClass) bases = g_type_class_ref (SHERD_TYPE_BASIS);
  const GEnumValue *found = g_enum_get_value_by_nick (bases, text);

  if (found != NULL)
    recipe->basis = (SherdBasis)found->value;
  else
    g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                 _ ("“%s” does not fit --by, which is mass or volume."), text);
  return found != NULL;
}

static gboolean
change_recipe (const SherdPaintWishes *wishes, SherdTrial *trial, SherdPaint *paint, GError **error)
{
  g_autoptr (SherdRecipe) recipe = sherd_recipe_copy (sherd_paint_get_recipe (paint));
  g_autoptr (GPtrArray) built_ins = sherd_built_in_materials_new ();

  while (wishes->parts != NULL && recipe->n_ingredients > 0)
    sherd_recipe_remove (recipe, 0);
  for (guint i = 0; wishes->parts != NULL && wishes->parts[i] != NULL; i++)
    if (!add_part (trial, recipe, built_ins, wishes->parts[i], error))
      return FALSE;
  if (wishes->by != NULL && !set_basis (recipe, wishes->by, error))
    return FALSE;
  if (wishes->binder != NULL && !set_binder (trial, recipe, built_ins, wishes->binder, error))
    return FALSE;
  if (wishes->water != NULL &&
      !sherd_quantity_parse ("water", SHERD_QUANTITY_FRAC_PCT, wishes->water, &recipe->water_pct, error))
    return FALSE;
  return sherd_trial_set_recipe (trial, paint, recipe, FALSE, error);
}

static SherdPaint *
find_or_add_paint (const SherdPaintWishes *wishes, SherdTrial *trial, GError **error)
{
  g_autofree char *name = NULL;
  g_autofree char *code = wishes->add != NULL ? sherd_words_pair ("add", wishes->add, &name, error) : NULL;
  SherdPaint *paint;

  if (wishes->add == NULL)
    {
      paint = sherd_trial_find_paint_by_code (trial, wishes->code);
      if (paint == NULL)
        g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                     _ ("The trial has no paint “%s”. “sherd paint FILE” lists its paints."), wishes->code);
      return paint;
    }
  paint = code != NULL ? sherd_trial_add_paint (trial, code, name, error) : NULL;
  if (paint != NULL && wishes->slip)
    sherd_trial_set_paint_kind (trial, paint, SHERD_PAINT_SLIP);
  return paint;
}

/**
 * sherd_paint_wishes_edit:
 * @wishes: what was asked
 * @trial: the trial
 * @error: G_OPTION_ERROR_BAD_VALUE or of SHERD_TRIAL_ERROR; the trial may be changed in part then, and is not to be
 * saved
 *
 * Finds or adds the paint and gives it the recipe that was asked for.
 *
 * Returns: (nullable) (transfer none): the paint
 */
SherdPaint *
sherd_paint_wishes_edit (const SherdPaintWishes *wishes, SherdTrial *trial, GError **error)
{
  SherdPaint *paint = find_or_add_paint (wishes, trial, error);
  double batch_g;

  if (paint == NULL)
    return NULL;
  if (sherd_paint_wishes_change_recipe (wishes) && !change_recipe (wishes, trial, paint, error))
    return NULL;
  if (wishes->add == NULL || wishes->batch == NULL)
    return paint;
  return sherd_quantity_parse ("batch", SHERD_QUANTITY_MASS_G, wishes->batch, &batch_g, error) &&
             sherd_trial_set_paint_batch_g (trial, paint, batch_g, FALSE, error)
           ? paint
           : NULL;
}
