/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A card for 10 g of two parts of malachite to one of galena: 6.7 and 3.3 g by hand, on a scale that reads to 0.1 g. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "trial/built-in-materials.h"
#include "trial/edits.h"
#include "trial/mixing-card.h"

static SherdPaint *
add_lead_paint (SherdTrial *trial)
{
  g_autoptr (GPtrArray) built_ins = sherd_built_in_materials_new ();
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  g_autoptr (GError) error = NULL;
  SherdPaint *paint = sherd_trial_add_paint (trial, "LB", "Lead black", &error);
  SherdMaterial *malachite = sherd_trial_find_or_add_material (trial, built_ins, "malachite");
  SherdMaterial *galena = sherd_trial_find_or_add_material (trial, built_ins, "galena");

  sherd_recipe_insert_material (recipe, 0, sherd_part_get_id (SHERD_PART (malachite)), 2.0, NULL);
  sherd_recipe_insert_material (recipe, 1, sherd_part_get_id (SHERD_PART (galena)), 1.0, "1");
  recipe->water_pct = 80.0;
  sherd_trial_set_recipe (trial, paint, recipe, FALSE, &error);
  g_assert_no_error (error);
  return paint;
}

static char *
dup_card (double total_g)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  const SherdBatchRequest request = { .way = SHERD_BATCH_BY_TOTAL, .total_g = total_g, .readability_g = 0.1 };
  g_autoptr (SherdPaintFacts) facts =
    sherd_paint_facts_new (trial, add_lead_paint (trial), 0, isfinite (total_g) ? &request : NULL);

  return sherd_mixing_card_new (facts, 0.1);
}

static void
test_the_card_says_what_to_weigh (void)
{
  g_autofree char *card = dup_card (10.0);

  g_assert_true (g_str_has_prefix (card, "LB Lead black\nParts by mass\n\n"));
  g_assert_nonnull (strstr (card, "       2     6.7 g  Malachite\n"));
  g_assert_nonnull (strstr (card, "       1     3.3 g  Galena"));
  g_assert_nonnull (strstr (card, "             8.0 g  water\n"));
}

/* Lead and its fumes, not for food, and the rules of the place: common practice, no source. */
static void
test_no_card_goes_without_its_cautions (void)
{
  const double totals_g[] = { 10.0, NAN };

  for (guint i = 0; i < G_N_ELEMENTS (totals_g); i++)
    {
      g_autofree char *card = dup_card (totals_g[i]);

      g_assert_nonnull (strstr (card, "Galena (lead sulphide): lead: "));
      g_assert_nonnull (strstr (card, "Not for food"));
      g_assert_nonnull (strstr (card, "local rules"));
      g_assert_false (g_regex_match_simple ("\\bnan\\b", card, 0, 0));
    }
}

static void
test_grams_have_the_decimals_of_the_scale (void)
{
  static const struct
  {
    double readability_g;
    const char *text;
  } scales[] = {
    { 1.0, "13" }, { 0.5, "12.6" }, { 0.1, "12.6" }, { 0.01, "12.57" }, { 0.0, "12.57" }, { NAN, "12.57" }
  };

  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    {
      g_autofree char *text = sherd_mixing_card_dup_grams (12.57, scales[i].readability_g);

      g_assert_cmpstr (text, ==, scales[i].text);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/mixing-card/the card says what to weigh", test_the_card_says_what_to_weigh);
  g_test_add_func ("/trial/mixing-card/no card goes without its cautions", test_no_card_goes_without_its_cautions);
  g_test_add_func ("/trial/mixing-card/grams have the decimals of the scale",
                   test_grams_have_the_decimals_of_the_scale);
  return g_test_run ();
}
