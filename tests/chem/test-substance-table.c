/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The built-in table against tests/data/chem/minerals.csv: yields and losses there were computed by another program
 * from the same formulas, to four decimals. */

#include "config.h"

#include "chem/substance-table.h"

#include <math.h>
#include <string.h>

#include "chem/yield.h"
#include "support.h"

/* Four decimals of a yield; two of a loss in %. */
#define YIELD_ROUNDING 0.00011
#define LOSS_ROUNDING_PCT 0.011

/* The list's typical analyses are rounded to 0.1 %, ours are taken as shares of their sum, and manganese is written as
 * MnO. */
#define ANALYSIS_ROUNDING 0.006

enum
{
  COLUMN_ID,
  COLUMN_FORMULA = 3,
  COLUMN_DENSITY = 5,
  COLUMN_YIELD = 7,
  COLUMN_LOSS
};

static double
yield_in_list (const char *list, const char *oxide)
{
  g_auto (GStrv) pairs = g_strsplit (list, ";", 0);

  for (guint i = 0; pairs[i] != NULL; i++)
    {
      const char *colon = strchr (pairs[i], ':');

      if (colon != NULL && strlen (oxide) == (gsize)(colon - pairs[i]) && g_str_has_prefix (pairs[i], oxide))
        return g_ascii_strtod (colon + 1, NULL);
    }
  return 0.0;
}

static void
assert_row (const SherdSubstanceTable *table, GStrv fields)
{
  g_autofree char *id = g_strdelimit (g_strdup (fields[COLUMN_ID]), "_", '-');
  const SherdSubstance *substance = sherd_substance_table_find (table, id);
  const gboolean is_analysis = strcmp (fields[COLUMN_FORMULA], "analysis") == 0;
  SherdYield yield;

  g_test_message ("%s", id);
  g_assert_nonnull (substance);
  g_assert_cmpfloat (substance->particle_g_ml.value, ==, g_ascii_strtod (fields[COLUMN_DENSITY], NULL));
  g_assert_true (sherd_substance_get_yield (substance, &yield, NULL));
  g_assert_cmpfloat_with_epsilon (100.0 * yield.lost_frac.value, g_ascii_strtod (fields[COLUMN_LOSS], NULL),
                                  is_analysis ? 100.0 * ANALYSIS_ROUNDING : LOSS_ROUNDING_PCT);
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    g_assert_cmpfloat_with_epsilon (yield.oxide_frac[oxide].value,
                                    yield_in_list (fields[COLUMN_YIELD], sherd_oxide_get_formula (oxide)),
                                    is_analysis ? ANALYSIS_ROUNDING : YIELD_ROUNDING);
}

static void
test_yields_losses_and_densities_are_those_of_the_list (void)
{
  g_autoptr (SherdSubstanceTable) table = sherd_substance_table_new_built_in ();
  g_auto (GStrv) rows = rows_of_file ("minerals.csv");
  guint n = 0;

  g_assert_nonnull (table);
  for (guint i = 1; rows[i] != NULL; i++, n++)
    {
      g_auto (GStrv) fields = split_row (rows[i]);

      assert_row (table, fields);
    }
  g_assert_cmpuint (n, ==, 55);
}

static void
test_every_material_is_whole_and_has_its_sources (void)
{
  g_autoptr (SherdSubstanceTable) table = sherd_substance_table_new_built_in ();
  guint n_kind[SHERD_N_SUBSTANCE_KINDS] = { 0 };

  g_assert_cmpuint (table->substances->len, >=, 45);
  for (guint i = 0; i < table->substances->len; i++)
    {
      const SherdSubstance *substance = g_ptr_array_index (table->substances, i);
      SherdValue bulk;
      SherdYield yield;

      g_test_message ("%s", substance->id);
      n_kind[substance->kind]++;
      g_assert_nonnull (substance->colour_raw);
      g_assert_nonnull (substance->colour_fired);
      g_assert_cmpuint (substance->heat_steps->len, >, 0);
      g_assert_true (sherd_substance_get_yield (substance, &yield, NULL));
      g_assert_true (sherd_substance_get_bulk_g_ml (substance, &bulk));
      g_assert_cmpfloat (bulk.value, <, substance->particle_g_ml.value);
      for (guint fact = 0; fact < SHERD_N_FACTS; fact++)
        {
          g_autofree char *words = sherd_substance_table_dup_sources (table, substance, fact);

          g_assert_cmpuint (strlen (words), >, 10);
        }
    }
  for (guint kind = 0; kind < SHERD_N_SUBSTANCE_KINDS; kind++)
    g_assert_cmpuint (n_kind[kind], >=, 4);
}

static void
test_lead_materials_say_so (void)
{
  g_autoptr (SherdSubstanceTable) table = sherd_substance_table_new_built_in ();
  g_autoptr (GPtrArray) found = sherd_substance_table_search (table, "lead");

  g_assert_cmpuint (found->len, >=, 7);
  for (guint i = 0; i < table->substances->len; i++)
    {
      const SherdSubstance *substance = g_ptr_array_index (table->substances, i);
      SherdYield yield;

      sherd_substance_get_yield (substance, &yield, NULL);
      g_assert_cmpint (yield.oxide_frac[SHERD_OXIDE_PBO].value > 0.0, ==,
                       (sherd_substance_get_hazards (substance) & SHERD_HAZARD_LEAD) != 0);
    }
}

static gboolean
finds (const SherdSubstanceTable *table, const char *words, const char *id)
{
  g_autoptr (GPtrArray) found = sherd_substance_table_search (table, words);

  return g_ptr_array_find (found, sherd_substance_table_find (table, id), NULL);
}

static void
test_search_takes_parts_of_words_in_any_order (void)
{
  g_autoptr (SherdSubstanceTable) table = sherd_substance_table_new_built_in ();
  g_autoptr (GPtrArray) all = sherd_substance_table_search (table, " ");

  g_assert_cmpuint (all->len, ==, table->substances->len);
  g_assert_true (finds (table, "MALA", "malachite"));
  g_assert_true (finds (table, "oxide iron red", "hematite"));
  g_assert_true (finds (table, "fe2o3", "hematite"));
  g_assert_true (finds (table, "flux lead", "galena"));
  g_assert_true (finds (table, "sulphur dioxide", "galena"));
  g_assert_false (finds (table, "flux lead", "malachite"));
}

static void
test_refusals_name_the_line (void)
{
  static const struct
  {
    const char *text;
    guint line;
    const char *words;
  } refusals[] = {
    { "", 1, "" },
    { "<materials", 1, "" },
    { "<things/>", 1, "<things> does not belong" },
    { "<materials density-doubt-pct='3'>\n<source id='A' known='seen'>x</source>\n<source id='A' "
      "known='seen'>x</source></materials>",
      3, "stands twice" },
    { "<materials density-doubt-pct='3'>\n\n<material id='a' kind='paint' density='2'/></materials>", 3,
      "no kind of material" },
    { "<materials density-doubt-pct='3'>\n<material id='a' kind='clay' density='two'/></materials>", 2,
      "is not a number" },
    { "<materials density-doubt-pct='3'>\n<material id='a' kind='clay' density='99'/></materials>", 2, "lies outside" },
    { "<materials density-doubt-pct='3'>\n<material id='a' kind='clay' density='2' colour='red'/></materials>", 2,
      "colour" },
    { "<materials density-doubt-pct='3'>\n<material id='a' kind='clay' density='2' hazards='bad'/></materials>", 2,
      "no hazard" },
    { "<materials density-doubt-pct='3'>\n<material id='a' kind='clay' density='2'></material></materials>", 2,
      "has no name" },
    { "<materials density-doubt-pct='3'>\n<material id='a' kind='clay' "
      "density='2'>\n<formula>Xx2</formula></material></materials>",
      3, "“Xx” is not an element" },
    { "<materials density-doubt-pct='3'>\n<material id='a' kind='clay' density='2'>\n<analysis>SiO2 "
      "40</analysis></material></materials>",
      3, "sums to 40.0" },
    { "<materials density-doubt-pct='3'>\n<material id='a' kind='clay' density='2'>\nwords</material></materials>", 3,
      "text does not belong" },
    { "<materials density-doubt-pct='3'>\n<material id='a' kind='clay' density='2'>\n<heat from='9' "
      "to='3'>x</heat></material></materials>",
      3, "ends below" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *line = g_strdup_printf ("ine %u", refusals[i].line);

      g_assert_null (sherd_substance_table_new (refusals[i].text, -1, &error));
      g_assert_error (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_TABLE);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, refusals[i].words));
      g_assert_true (refusals[i].words[0] == '\0' || strstr (error->message, line) != NULL);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/substance-table/yields-losses-and-densities-are-those-of-the-list",
                   test_yields_losses_and_densities_are_those_of_the_list);
  g_test_add_func ("/chem/substance-table/every-material-is-whole-and-has-its-sources",
                   test_every_material_is_whole_and_has_its_sources);
  g_test_add_func ("/chem/substance-table/lead-materials-say-so", test_lead_materials_say_so);
  g_test_add_func ("/chem/substance-table/search-takes-parts-of-words-in-any-order",
                   test_search_takes_parts_of_words_in_any_order);
  g_test_add_func ("/chem/substance-table/refusals-name-the-line", test_refusals_name_the_line);
  return g_test_run ();
}
