/* SPDX-License-Identifier: GPL-3.0-or-later */

/* What can be mixed and what is refused. */

#include "config.h"

#include "chem/mix.h"

#include <math.h>
#include <string.h>

#include "pantry.h"

static void
assert_refused (const SherdMix *mix, int part, SherdChemError code, const char *words)
{
  g_autoptr (GError) error = NULL;
  int at_fault = 99;

  g_assert_false (sherd_mix_check (mix, &at_fault, &error));
  g_assert_error (error, SHERD_CHEM_ERROR, (int)code);
  g_assert_nonnull (strstr (error->message, words));
  g_assert_cmpint (at_fault, ==, part);
}

static void
test_parts_are_above_zero (void)
{
  static const double bad[] = { 0.0, -1.0, NAN, INFINITY };
  g_autoptr (SherdSubstance) quartz = pantry_new ("SiO2", SHERD_SUBSTANCE_FILLER, 2.65);

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (SherdMix) mix = sherd_mix_new (SHERD_MIX_BY_MASS);

      sherd_mix_add (mix, quartz, 1.0);
      sherd_mix_add (mix, quartz, bad[i]);
      assert_refused (mix, 1, SHERD_CHEM_ERROR_PARTS, "above zero");
    }
}

static void
test_an_empty_mix_and_a_part_without_material_are_refused (void)
{
  g_autoptr (SherdMix) empty = sherd_mix_new (SHERD_MIX_BY_MASS);
  g_autoptr (SherdMix) blank = sherd_mix_new (SHERD_MIX_BY_MASS);

  assert_refused (empty, -1, SHERD_CHEM_ERROR_EMPTY, "empty");
  sherd_mix_add (blank, NULL, 1.0);
  assert_refused (blank, 0, SHERD_CHEM_ERROR_PARTS, "Choose a material");
}

static void
test_volume_needs_a_density_or_a_weighed_spoon (void)
{
  g_autoptr (SherdSubstance) unknown = pantry_new ("SiO2", SHERD_SUBSTANCE_FILLER, 0.0);
  g_autoptr (SherdSubstance) clay = pantry_new ("Al2Si2O5(OH)4", SHERD_SUBSTANCE_CLAY, 2.6);
  g_autoptr (SherdMix) mix = sherd_mix_new (SHERD_MIX_BY_VOLUME);
  g_autoptr (SherdMix) outer = sherd_mix_new (SHERD_MIX_BY_VOLUME);
  g_autoptr (SherdMix) inner = sherd_mix_new (SHERD_MIX_BY_MASS);

  sherd_mix_add (mix, clay, 1.0);
  sherd_mix_add (mix, unknown, 2.0);
  assert_refused (mix, 1, SHERD_CHEM_ERROR_DENSITY, "need the density");
  sherd_mix_add (inner, unknown, 1.0);
  sherd_mix_add (outer, clay, 1.0);
  sherd_mix_add_mix (outer, inner, 1.0);
  assert_refused (outer, 1, SHERD_CHEM_ERROR_DENSITY, "other paint");
  unknown->spoon_g.value = clay->spoon_g.value = 4.0;
  g_assert_true (sherd_mix_check (mix, NULL, NULL));
}

static void
test_circles_are_refused_at_the_part_that_closes_them (void)
{
  g_autoptr (SherdSubstance) quartz = pantry_new ("SiO2", SHERD_SUBSTANCE_FILLER, 2.65);
  g_autoptr (SherdMix) first = sherd_mix_new (SHERD_MIX_BY_MASS);
  g_autoptr (SherdMix) second = sherd_mix_new (SHERD_MIX_BY_MASS);
  g_autoptr (SherdMix) alone = sherd_mix_new (SHERD_MIX_BY_MASS);

  sherd_mix_add (first, quartz, 1.0);
  sherd_mix_add_mix (first, second, 1.0);
  sherd_mix_add (second, quartz, 1.0);
  g_assert_true (sherd_mix_check (first, NULL, NULL));
  sherd_mix_add_mix (second, first, 1.0);
  assert_refused (first, 1, SHERD_CHEM_ERROR_CIRCULAR, "contains itself");
  sherd_mix_add_mix (alone, alone, 1.0);
  assert_refused (alone, 0, SHERD_CHEM_ERROR_CIRCULAR, "contains itself");
}

static void
test_many_mixes_in_each_other_take_no_time (void)
{
  g_autoptr (SherdSubstance) quartz = pantry_new ("SiO2", SHERD_SUBSTANCE_FILLER, 2.65);
  g_autoptr (GPtrArray) mixes = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_mix_free);
  g_autoptr (GPtrArray) list = NULL;

  /* Each holds the one before twice: 2⁶⁰ ways lead down. */
  for (guint i = 0; i < 60; i++)
    {
      SherdMix *mix = sherd_mix_new (SHERD_MIX_BY_MASS);

      sherd_mix_add (mix, quartz, 1.0);
      for (guint k = 0; k < 2 && i > 0; k++)
        sherd_mix_add_mix (mix, g_ptr_array_index (mixes, i - 1), 1.0);
      g_ptr_array_add (mixes, mix);
    }
  g_assert_true (sherd_mix_check (g_ptr_array_index (mixes, 59), NULL, NULL));
  list = sherd_mix_list_mixes (g_ptr_array_index (mixes, 59), NULL);
  g_assert_cmpuint (list->len, ==, 60);
}

static void
test_binder_and_water_have_ranges (void)
{
  g_autoptr (SherdSubstance) quartz = pantry_new ("SiO2", SHERD_SUBSTANCE_FILLER, 2.65);
  g_autoptr (SherdMix) mix = sherd_mix_new (SHERD_MIX_BY_MASS);

  sherd_mix_add (mix, quartz, 1.0);
  sherd_mix_set_binder (mix, quartz, 101.0);
  assert_refused (mix, -1, SHERD_CHEM_ERROR_PARTS, "binder lies");
  sherd_mix_set_binder (mix, quartz, NAN);
  assert_refused (mix, -1, SHERD_CHEM_ERROR_PARTS, "binder lies");
  sherd_mix_set_binder (mix, NULL, 0.0);
  mix->water_pct = -1.0;
  assert_refused (mix, -1, SHERD_CHEM_ERROR_PARTS, "water lies");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/mix/parts-are-above-zero", test_parts_are_above_zero);
  g_test_add_func ("/chem/mix/an-empty-mix-and-a-part-without-material-are-refused",
                   test_an_empty_mix_and_a_part_without_material_are_refused);
  g_test_add_func ("/chem/mix/volume-needs-a-density-or-a-weighed-spoon",
                   test_volume_needs_a_density_or_a_weighed_spoon);
  g_test_add_func ("/chem/mix/circles-are-refused-at-the-part-that-closes-them",
                   test_circles_are_refused_at_the_part_that_closes_them);
  g_test_add_func ("/chem/mix/many-mixes-in-each-other-take-no-time", test_many_mixes_in_each_other_take_no_time);
  g_test_add_func ("/chem/mix/binder-and-water-have-ranges", test_binder_and_water_have_ranges);
  return g_test_run ();
}
