/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Grams by hand: 2 : 1 by mass of grains of 4.0 and 2.0 g/ml. */

#include "config.h"

#include "chem/batch.h"

#include <math.h>
#include <string.h>

#include "pantry.h"

#define ROUNDING 1e-9

typedef struct
{
  SherdSubstance *colourant;
  SherdSubstance *clay;
  SherdSubstance *gum;
  SherdMix *mix;
  SherdMixFacts *facts;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->colourant = pantry_new ("CuO", SHERD_SUBSTANCE_COLOURANT, 4.0);
  fixture->clay = pantry_new ("Al2Si2O5(OH)4", SHERD_SUBSTANCE_CLAY, 2.0);
  fixture->gum = pantry_new_from_analysis ("LOI 100", SHERD_SUBSTANCE_BINDER, 1.4);
  fixture->mix = sherd_mix_new (SHERD_MIX_BY_MASS);
  sherd_mix_add (fixture->mix, fixture->colourant, 2.0);
  sherd_mix_add (fixture->mix, fixture->clay, 1.0);
  sherd_mix_set_binder (fixture->mix, fixture->gum, 3.0);
  fixture->mix->water_pct = 80.0;
  fixture->facts = sherd_mix_facts_new (fixture->mix, NULL, NULL);
  g_assert_nonnull (fixture->facts);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  sherd_mix_facts_free (fixture->facts);
  sherd_mix_free (fixture->mix);
  sherd_substance_free (fixture->colourant);
  sherd_substance_free (fixture->clay);
  sherd_substance_free (fixture->gum);
}

static SherdBatch *
plan (Fixture *fixture, SherdBatchRequest request)
{
  g_autoptr (GError) error = NULL;
  SherdBatch *batch = sherd_batch_new (fixture->mix, fixture->facts, &request, &error);

  g_assert_no_error (error);
  return batch;
}

static const SherdBatchRow *
row (const SherdBatch *batch, guint index)
{
  return &g_array_index (batch->rows, SherdBatchRow, index);
}

static void
test_a_total_is_shared_out (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdBatch) batch = plan (fixture, (SherdBatchRequest){ .way = SHERD_BATCH_BY_TOTAL, .total_g = 50.0 });

  g_assert_cmpfloat_with_epsilon (row (batch, 0)->exact_g.value, 100.0 / 3.0, ROUNDING);
  g_assert_cmpfloat_with_epsilon (row (batch, 1)->weighed_g, 50.0 / 3.0, ROUNDING);
  g_assert_cmpfloat_with_epsilon (batch->binder.exact_g.value, 1.5, ROUNDING);
  g_assert_cmpfloat_with_epsilon (batch->water_g.value, 40.0, ROUNDING);
  g_assert_cmpfloat_with_epsilon (batch->largest_change_frac, 0.0, ROUNDING);
  g_assert_cmpint (batch->rounded_away, ==, -1);
}

static void
test_what_is_at_hand_sets_the_rest (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdBatch) batch =
    plan (fixture, (SherdBatchRequest){ .way = SHERD_BATCH_BY_AT_HAND, .part = 1, .at_hand_g = 4.0 });

  g_assert_cmpfloat_with_epsilon (batch->total_g.value, 12.0, ROUNDING);
  g_assert_cmpfloat_with_epsilon (row (batch, 0)->exact_g.value, 8.0, ROUNDING);
  g_assert_cmpfloat_with_epsilon (row (batch, 1)->exact_g.value, 4.0, ROUNDING);
  g_assert_cmpfloat (row (batch, 1)->exact_g.u, ==, 0.0);
}

static void
test_an_area_takes_area_times_thickness_times_coats_times_density (Fixture *fixture, gconstpointer data)
{
  const SherdBatchRequest request = {
    .way = SHERD_BATCH_BY_AREA, .area_cm2 = 40.0, .coat_mm = 0.05, .coats = 2, .reserve_frac = 0.5
  };
  g_autoptr (SherdBatch) batch = plan (fixture, request);
  /* 3 g of grains: 2 / 4 + 1 / 2 = 1 ml. Coat: 40 × 0.005 × 2 = 0.4 ml, half full. */
  g_assert_cmpfloat_with_epsilon (fixture->facts->particle_g_ml.value, 3.0, ROUNDING);
  g_assert_cmpfloat_with_epsilon (batch->total_g.value, 0.4 * 0.5 * 3.0 * 1.5, ROUNDING);
  g_assert_cmpfloat_with_epsilon (batch->total_g.u / batch->total_g.value, 0.1 / sqrt (3.0) / 0.5, 2e-3);
}

static void
test_rounding_shows_what_it_changes (Fixture *fixture, gconstpointer data)
{
  const SherdBatchRequest request = { .way = SHERD_BATCH_BY_TOTAL, .total_g = 1.0, .readability_g = 0.1 };
  g_autoptr (SherdBatch) batch = plan (fixture, request);
  g_autoptr (SherdMix) weighed = sherd_batch_to_mix (batch, fixture->mix);
  g_autoptr (SherdMixFacts) facts = sherd_mix_facts_new (weighed, NULL, NULL);

  /* 0.667 → 0.7, 0.333 → 0.3; the gum's 0.03 g cannot be weighed. */
  g_assert_cmpfloat_with_epsilon (row (batch, 0)->weighed_g, 0.7, ROUNDING);
  g_assert_cmpfloat_with_epsilon (row (batch, 1)->weighed_g, 0.3, ROUNDING);
  g_assert_cmpfloat_with_epsilon (batch->largest_change_frac, 0.7 - 2.0 / 3.0, ROUNDING);
  g_assert_cmpfloat (batch->binder.weighed_g, ==, 0.0);
  g_assert_cmpfloat_with_epsilon (g_array_index (facts->shares, SherdMixShare, 0).mass_frac.value, 0.7, ROUNDING);
}

static void
test_a_part_too_small_for_the_scale_is_named (Fixture *fixture, gconstpointer data)
{
  const SherdBatchRequest request = { .way = SHERD_BATCH_BY_TOTAL, .total_g = 1.0, .readability_g = 1.0 };
  g_autoptr (SherdBatch) batch = plan (fixture, request);

  g_assert_cmpint (batch->rounded_away, ==, 1);
  g_assert_cmpfloat (row (batch, 0)->share_after_frac, ==, 1.0);
}

static void
test_impossible_requests_are_refused_in_words (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    SherdBatchRequest request;
    const char *words;
  } refusals[] = {
    { { .way = SHERD_BATCH_BY_TOTAL, .total_g = 0.0 }, "above zero grams" },
    { { .way = SHERD_BATCH_BY_TOTAL, .total_g = NAN }, "above zero grams" },
    { { .way = SHERD_BATCH_BY_TOTAL, .total_g = 1.0, .readability_g = -1.0 }, "The scale reads" },
    { { .way = SHERD_BATCH_BY_AT_HAND, .part = 2, .at_hand_g = 1.0 }, "Choose the ingredient" },
    { { .way = SHERD_BATCH_BY_AT_HAND, .part = 1, .at_hand_g = -1.0 }, "at hand is above zero" },
    { { .way = SHERD_BATCH_BY_AREA, .area_cm2 = 0.0, .coat_mm = 0.1, .coats = 1 }, "area to be painted" },
    { { .way = SHERD_BATCH_BY_AREA, .area_cm2 = 9.0, .coat_mm = 99.0, .coats = 1 }, "mm thick" },
    { { .way = SHERD_BATCH_BY_AREA, .area_cm2 = 9.0, .coat_mm = 0.1, .coats = 0 }, "1 to 100 coats" },
    { { .way = SHERD_BATCH_BY_AREA, .area_cm2 = 9.0, .coat_mm = 0.1, .coats = 1, .reserve_frac = -0.1 }, "reserve" },
    { { .way = SHERD_BATCH_BY_AREA, .area_cm2 = 9.0, .coat_mm = 0.1, .coats = 1, .packing_frac = { 2.0, 0.0 } },
      "packing" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (sherd_batch_new (fixture->mix, fixture->facts, &refusals[i].request, &error));
      g_assert_error (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_VALUE);
      g_assert_nonnull (strstr (error->message, refusals[i].words));
    }
}

static void
test_an_area_without_density_is_refused (Fixture *fixture, gconstpointer data)
{
  const SherdBatchRequest request = { .way = SHERD_BATCH_BY_AREA, .area_cm2 = 9.0, .coat_mm = 0.1, .coats = 1 };
  g_autoptr (SherdMixFacts) facts = NULL;
  g_autoptr (GError) error = NULL;

  fixture->clay->particle_g_ml.value = 0.0;
  facts = sherd_mix_facts_new (fixture->mix, NULL, NULL);
  g_assert_null (sherd_batch_new (fixture->mix, facts, &request, &error));
  g_assert_error (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_DENSITY);
}

#define ADD(name, function) g_test_add ("/chem/batch/" name, Fixture, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("a-total-is-shared-out", test_a_total_is_shared_out);
  ADD ("what-is-at-hand-sets-the-rest", test_what_is_at_hand_sets_the_rest);
  ADD ("an-area-takes-area-times-thickness-times-coats-times-density",
       test_an_area_takes_area_times_thickness_times_coats_times_density);
  ADD ("rounding-shows-what-it-changes", test_rounding_shows_what_it_changes);
  ADD ("a-part-too-small-for-the-scale-is-named", test_a_part_too_small_for_the_scale_is_named);
  ADD ("impossible-requests-are-refused-in-words", test_impossible_requests_are_refused_in_words);
  ADD ("an-area-without-density-is-refused", test_an_area_without_density_is_refused);
  return g_test_run ();
}
