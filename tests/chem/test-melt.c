/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The outlook against published points and against common practice: raw lead-ore paints without enough heat stay
 * unglazed at about 760 °C; lead alone melts clear, with copper black, with iron dull; any borax brings first liquid
 * down to the first visible red; galena needs more heat than litharge (Di Febo et al. 2018). All others are properties.
 */

#include "config.h"

#include "chem/melt.h"

#include <math.h>
#include <string.h>

#include "chem/substance-table.h"

#define SHORT_FIRE_MIN 10.0

typedef struct
{
  SherdSubstanceTable *table;
  GPtrArray *systems;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->table = sherd_substance_table_new_built_in ();
  fixture->systems = sherd_phase_systems_new_built_in ();
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  sherd_substance_table_free (fixture->table);
  g_ptr_array_unref (fixture->systems);
}

/* “galena 55 quartz 18”: parts by mass. */
static SherdMix *
mix_of (const Fixture *fixture, const char *text)
{
  g_auto (GStrv) words = g_strsplit (text, " ", 0);
  SherdMix *mix = sherd_mix_new (SHERD_MIX_BY_MASS);

  for (guint i = 0; words[i] != NULL; i += 2)
    {
      const SherdSubstance *substance = sherd_substance_table_find (fixture->table, words[i]);

      g_assert_nonnull (substance);
      sherd_mix_add (mix, substance, g_ascii_strtod (words[i + 1], NULL));
    }
  return mix;
}

static SherdMeltOutlook
outlook_of (const Fixture *fixture, const char *text, double peak_c, double minutes)
{
  g_autoptr (SherdMix) mix = mix_of (fixture, text);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdMixFacts) facts = sherd_mix_facts_new (mix, NULL, &error);
  const SherdMeltHeat heat = { peak_c > 0.0, { peak_c, 0.0 }, minutes };
  SherdMeltOutlook outlook;

  g_assert_no_error (error);
  sherd_melt_outlook (facts, &heat, fixture->systems, &outlook);
  g_test_message ("%s: begins %.0f-%.0f, complete %.0f-%.0f, reasons %x, verdict %d", text, outlook.begin_c.low,
                  outlook.begin_c.high, outlook.complete_c.low, outlook.complete_c.high, outlook.reasons,
                  outlook.verdict);
  return outlook;
}

static void
test_litharge_and_quartz_melt_where_the_diagram_says (Fixture *fixture, gconstpointer data)
{
  /* 71 mass % PbO is the eutectic at 732 °C; 88.14 the compound that melts at 743 °C. */
  const SherdMeltOutlook eutectic = outlook_of (fixture, "litharge 71 quartz 29", 0.0, 0.0);
  const SherdMeltOutlook compound = outlook_of (fixture, "litharge 88.14 quartz 11.86", 0.0, 0.0);

  g_assert_true (eutectic.has_begin && eutectic.has_complete);
  g_assert_cmpstr (eutectic.system, ==, "PbO-SiO2");
  g_assert_cmpfloat_with_epsilon (eutectic.place_frac, 0.3972, 0.001);
  g_assert_cmpfloat (eutectic.begin_c.low, <=, 732.0);
  g_assert_cmpfloat (eutectic.begin_c.high, >=, 732.0);
  g_assert_cmpfloat (eutectic.begin_c.high, <, 745.0);
  g_assert_cmpfloat (eutectic.complete_c.low, <=, 732.0);
  g_assert_cmpfloat (eutectic.complete_c.high, >=, 732.0);
  g_assert_cmpfloat (compound.complete_c.low, <=, 743.0);
  g_assert_cmpfloat (compound.complete_c.high, >=, 743.0);
  g_assert_cmpfloat (compound.complete_c.high, <, 765.0);
  g_assert_cmpint (compound.sureness, ==, SHERD_MELT_FAIRLY_SURE);
}

static void
test_raw_lead_ore_paints_stay_unglazed_at_760_in_a_short_fire (Fixture *fixture, gconstpointer data)
{
  static const char *const paints[] = { "galena 70 quartz 30",
                                        "galena 70 quartz 15 kaolinite 15",
                                        "galena 55 quartz 18 malachite 12 kaolinite 15",
                                        "galena 60 quartz 25 hematite 15",
                                        "galena 75 kaolinite 25",
                                        "anglesite 70 quartz 30" };

  for (guint i = 0; i < G_N_ELEMENTS (paints); i++)
    {
      const SherdMeltOutlook outlook = outlook_of (fixture, paints[i], 760.0, SHORT_FIRE_MIN);

      g_assert_cmpint (outlook.verdict, >=, SHERD_MELT_NONE);
      g_assert_cmpint (outlook.verdict, <=, SHERD_MELT_LIKELY_DULL);
      g_assert_cmpuint (outlook.reasons & SHERD_MELT_SULPHUR, !=, 0);
    }
}

static void
test_galena_needs_more_heat_than_litharge_of_the_same_composition (Fixture *fixture, gconstpointer data)
{
  /* 75 PbS and 25 SiO2 leave 70 PbO and 25 SiO2. */
  const SherdMeltOutlook galena = outlook_of (fixture, "galena 75 quartz 25", 0.0, 0.0);
  const SherdMeltOutlook litharge = outlook_of (fixture, "litharge 69.97 quartz 25", 0.0, 0.0);

  g_assert_cmpfloat_with_epsilon (galena.place_frac, litharge.place_frac, 1e-3);
  g_assert_cmpfloat (galena.begin_c.high - litharge.begin_c.high, >=, 50.0);
  g_assert_cmpfloat (galena.begin_c.low, >, litharge.begin_c.low);
  g_assert_cmpfloat (galena.complete_c.high, >, litharge.complete_c.high);
  /* Well below lanarkite's own melting at 970 °C. */
  g_assert_cmpfloat (galena.complete_c.low, <, 970.0);
  g_assert_cmpint (galena.sureness, >, SHERD_MELT_FAIRLY_SURE);
}

static void
test_lead_free_of_sulphur_melts_first_beside_galena (Fixture *fixture, gconstpointer data)
{
  const SherdMeltOutlook half = outlook_of (fixture, "galena 35 litharge 35 quartz 30", 0.0, 0.0);
  const SherdMeltOutlook litharge = outlook_of (fixture, "litharge 70 quartz 30", 0.0, 0.0);

  g_assert_cmpfloat_with_epsilon (half.begin_c.low, litharge.begin_c.low, 0.5);
  g_assert_cmpfloat (half.begin_c.high, >, litharge.begin_c.high);
}

static SherdLook
look_of (const Fixture *fixture, const char *text)
{
  return outlook_of (fixture, text, 0.0, 0.0).look;
}

static void
test_lead_alone_is_clear_with_copper_black_with_iron_dull (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpuint (look_of (fixture, "litharge 70 quartz 30"), ==, 0);
  g_assert_cmpuint (look_of (fixture, "galena 70 quartz 20 kaolinite 10"), ==, 0);
  g_assert_cmpuint (look_of (fixture, "litharge 60 quartz 25 tenorite 15"), ==, SHERD_LOOK_TINTED | SHERD_LOOK_BLACK);
  g_assert_cmpuint (look_of (fixture, "galena 60 quartz 25 malachite 15"), ==, SHERD_LOOK_TINTED | SHERD_LOOK_BLACK);
  g_assert_cmpuint (look_of (fixture, "litharge 60 quartz 25 hematite 15"), ==, SHERD_LOOK_TINTED | SHERD_LOOK_DULL);
  g_assert_cmpuint (look_of (fixture, "litharge 68 quartz 30 tenorite 2"), ==, SHERD_LOOK_TINTED);
  g_assert_cmpuint (look_of (fixture, "litharge 67 quartz 30 hematite 3"), ==, SHERD_LOOK_TINTED);
  g_assert_cmpuint (look_of (fixture, "litharge 63 quartz 30 hematite 7") & SHERD_LOOK_UNSURE, !=, 0);
  g_assert_cmpuint (look_of (fixture, "litharge 60 quartz 30 tin-oxide 10"), ==, SHERD_LOOK_OPAQUE);
}

static void
test_borax_brings_first_liquid_down_to_the_first_visible_red (Fixture *fixture, gconstpointer data)
{
  const SherdMeltOutlook outlook = outlook_of (fixture, "litharge 60 quartz 20 borax 20", 0.0, 0.0);

  /* 475 to 650 °C: first visible to dark red. */
  g_assert_cmpfloat (outlook.begin_c.low, <=, 485.0);
  g_assert_cmpfloat (outlook.begin_c.high, <, 650.0);
  g_assert_cmpuint (outlook.reasons & SHERD_MELT_BORATE, !=, 0);
}

static void
test_a_little_clay_does_not_raise_first_liquid (Fixture *fixture, gconstpointer data)
{
  const SherdMeltOutlook without = outlook_of (fixture, "litharge 75 quartz 25", 0.0, 0.0);
  const SherdMeltOutlook with = outlook_of (fixture, "litharge 75 quartz 20 kaolinite 10", 0.0, 0.0);

  g_assert_cmpfloat (with.begin_c.low, <=, 650.0);
  g_assert_cmpfloat (with.begin_c.high, <=, without.begin_c.high + 1.0);
  g_assert_cmpfloat (with.complete_c.high - with.complete_c.low, >, without.complete_c.high - without.complete_c.low);
  g_assert_cmpuint (with.reasons & SHERD_MELT_ALUMINA, !=, 0);
  g_assert_cmpuint (without.reasons & SHERD_MELT_ALUMINA, ==, 0);
}

static void
test_what_is_not_known_is_said (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    const char *text;
    SherdMeltReasons reason;
    gboolean has_begin, has_complete;
  } cases[] = {
    { "charcoal 1", SHERD_MELT_NOTHING_LEFT, FALSE, FALSE },
    { "pyrolusite 2 kaolinite 1", SHERD_MELT_NO_FLUX, FALSE, FALSE },
    { "quartz 1", SHERD_MELT_NO_FLUX, FALSE, FALSE },
    { "litharge 90 hematite 10", SHERD_MELT_NO_SILICA, TRUE, FALSE },
    { "litharge 30 kaolinite 70", SHERD_MELT_TOO_MUCH_ALUMINA, TRUE, FALSE },
    { "soda-ash 30 quartz 70", SHERD_MELT_NO_LIQUIDUS, TRUE, FALSE },
    { "frit-borosilicate 60 hematite 40", SHERD_MELT_GLASS, TRUE, FALSE },
    { "litharge 35 quartz 15 rutile 50", SHERD_MELT_OUTSIDE_SYSTEM, TRUE, TRUE },
    { "litharge 65 quartz 35", SHERD_MELT_ESTIMATED, TRUE, TRUE },
    { "litharge 20 quartz 80", SHERD_MELT_LITTLE_LIQUID, TRUE, TRUE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const SherdMeltOutlook outlook = outlook_of (fixture, cases[i].text, 0.0, 0.0);

      g_assert_cmpuint (outlook.reasons & cases[i].reason, !=, 0);
      g_assert_cmpint (outlook.has_begin, ==, cases[i].has_begin);
      g_assert_cmpint (outlook.has_complete, ==, cases[i].has_complete);
      g_assert_cmpint (outlook.sureness == SHERD_MELT_CANNOT_SAY, ==, !cases[i].has_begin);
      g_assert_cmpint (outlook.verdict, ==, SHERD_MELT_NOT_ASKED);
    }
}

static void
test_a_doubtful_ore_widens_the_range (Fixture *fixture, gconstpointer data)
{
  const SherdMeltHeat none = { .is_known = FALSE };
  double width_c[2];

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (SherdMix) mix = mix_of (fixture, "cerussite 75 quartz 25");
      g_autoptr (SherdSubstance) find = sherd_substance_copy (g_array_index (mix->parts, SherdMixPart, 0).substance);
      g_autoptr (SherdMixFacts) facts = NULL;
      SherdMeltOutlook outlook;

      sherd_substance_set_purity (find, (SherdValue){ 0.9, i * 0.08 }, SHERD_REST_QUARTZ, NULL);
      g_array_index (mix->parts, SherdMixPart, 0).substance = find;
      facts = sherd_mix_facts_new (mix, NULL, NULL);
      sherd_melt_outlook (facts, &none, fixture->systems, &outlook);
      width_c[i] = outlook.complete_c.high - outlook.complete_c.low;
      g_assert_cmpint ((outlook.reasons & SHERD_MELT_COMPOSITION) != 0, ==, i == 1);
    }
  g_assert_cmpfloat (width_c[1], >, width_c[0] + 100.0);
}

static void
test_more_heat_and_more_time_are_never_worse (Fixture *fixture, gconstpointer data)
{
  static const char *const paints[] = { "litharge 71 quartz 29", "galena 55 quartz 18 malachite 12 kaolinite 15",
                                        "frit-lead-bisilicate 80 hematite 20", "borax 40 quartz 40 kaolinite 20" };

  for (guint i = 0; i < G_N_ELEMENTS (paints); i++)
    {
      SherdMeltVerdict before = SHERD_MELT_NONE;

      for (double peak_c = 400.0; peak_c <= 1300.0; peak_c += 50.0)
        {
          const SherdMeltOutlook shorter = outlook_of (fixture, paints[i], peak_c, 10.0);
          const SherdMeltOutlook longer = outlook_of (fixture, paints[i], peak_c, 40.0);

          g_assert_cmpint (shorter.verdict, >=, before);
          g_assert_cmpint (longer.verdict, >=, shorter.verdict);
          g_assert_cmpfloat (longer.heat_c.low, >, shorter.heat_c.low);
          g_assert_cmpfloat (longer.heat_c.high, ==, peak_c);
          before = shorter.verdict;
        }
    }
}

static void
test_a_hot_long_fire_melts_what_the_diagram_melts (Fixture *fixture, gconstpointer data)
{
  const SherdMeltOutlook outlook = outlook_of (fixture, "litharge 80 quartz 20", 850.0, 60.0);

  g_assert_cmpint (outlook.verdict, ==, SHERD_MELT_COMPLETE);
  g_assert_cmpfloat (outlook.over_complete_c.low, >, 50.0);
  g_assert_cmpfloat (outlook.over_begin_c.low, >, 100.0);
  g_assert_cmpint (outlook_of (fixture, "litharge 80 quartz 20", 600.0, 60.0).verdict, ==, SHERD_MELT_NONE);
}

/* 10 minutes at 850 °C; by hand: 1/T = 1/1123.15 + 8.314462618/200000 × ln 6 → 1039.1 K. */
static void
test_a_short_peak_counts_as_one_hour_at_less (Fixture *fixture, gconstpointer data)
{
  const SherdMeltOutlook outlook = outlook_of (fixture, "litharge 80 quartz 20", 850.0, 10.0);
  const SherdMeltOutlook assumed = outlook_of (fixture, "litharge 80 quartz 20", 850.0, 0.0);

  g_assert_cmpfloat_with_epsilon (outlook.heat_c.low, 1.0 / (1.0 / 1123.15 + 8.314462618 / 200e3 * log (6.0)) - 273.15,
                                  1e-6);
  g_assert_cmpuint (outlook.reasons & SHERD_MELT_SHORT_TIME, !=, 0);
  g_assert_cmpuint (assumed.reasons & SHERD_MELT_TIME_ASSUMED, !=, 0);
}

static void
test_whatever_is_mixed_ranges_are_in_order_and_finite (Fixture *fixture, gconstpointer data)
{
  for (guint run = 0; run < 150; run++)
    {
      g_autoptr (SherdMix) mix = sherd_mix_new (SHERD_MIX_BY_MASS);
      g_autoptr (SherdMixFacts) facts = NULL;
      const SherdMeltHeat heat = { TRUE, { g_test_rand_double_range (300.0, 1300.0), 20.0 }, 15.0 };
      SherdMeltOutlook outlook;
      const guint n = (guint)g_test_rand_int_range (1, 5);

      for (guint i = 0; i < n; i++)
        sherd_mix_add (mix,
                       g_ptr_array_index (fixture->table->substances,
                                          (guint)g_test_rand_int_range (0, (gint32)fixture->table->substances->len)),
                       g_test_rand_double_range (0.01, 10.0));
      facts = sherd_mix_facts_new (mix, NULL, NULL);
      g_assert_nonnull (facts);
      sherd_melt_outlook (facts, &heat, fixture->systems, &outlook);
      g_assert_true (!outlook.has_begin || (outlook.begin_c.low > 300.0 && outlook.begin_c.high < 2000.0));
      g_assert_true (!outlook.has_begin || outlook.begin_c.low <= outlook.begin_c.high);
      g_assert_true (!outlook.has_complete || outlook.has_begin);
      g_assert_true (!outlook.has_complete ||
                     (outlook.complete_c.low >= outlook.begin_c.low &&
                      outlook.complete_c.low <= outlook.complete_c.high && outlook.complete_c.high < 2000.0));
      g_assert_true (outlook.verdict != SHERD_MELT_NOT_ASKED);
      g_assert_true (outlook.has_begin || outlook.verdict == SHERD_MELT_UNKNOWN);
    }
}

static void
test_an_impossible_firing_counts_as_none (Fixture *fixture, gconstpointer data)
{
  static const double peaks_c[] = { NAN, INFINITY, 1e9 };

  for (guint i = 0; i < G_N_ELEMENTS (peaks_c); i++)
    {
      const SherdMeltHeat heat = { TRUE, { peaks_c[i], 0.0 }, 10.0 };
      g_autoptr (SherdMix) mix = mix_of (fixture, "litharge 80 quartz 20");
      g_autoptr (SherdMixFacts) facts = sherd_mix_facts_new (mix, NULL, NULL);
      SherdMeltOutlook outlook;

      sherd_melt_outlook (facts, &heat, fixture->systems, &outlook);
      g_assert_cmpint (outlook.verdict, ==, SHERD_MELT_NOT_ASKED);
      g_assert_cmpfloat (outlook.heat_c.high, ==, 0.0);
      g_assert_true (outlook.has_begin);
    }
}

static void
test_everything_has_words (Fixture *fixture, gconstpointer data)
{
  g_autofree char *look = sherd_melt_look_dup_words (SHERD_LOOK_BLACK | SHERD_LOOK_DULL);

  for (guint i = 0; i < SHERD_N_MELT_REASONS; i++)
    g_assert_cmpuint (strlen (sherd_melt_reason_get_words ((SherdMeltReasons)(1u << i))), >, 10);
  for (guint i = 0; i < SHERD_N_MELT_SURENESSES; i++)
    g_assert_cmpuint (strlen (sherd_melt_sureness_get_words (i)), >, 3);
  for (guint i = 0; i < SHERD_N_MELT_VERDICTS; i++)
    g_assert_cmpuint (strlen (sherd_melt_verdict_get_words (i)), >, 10);
  g_assert_cmpstr (look, ==, "black, dull from grains that do not dissolve");
  g_assert_nonnull (strstr (sherd_melt_get_advice_words (), "not a prediction"));
}

#define ADD(name, function) g_test_add ("/chem/melt/" name, Fixture, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("litharge-and-quartz-melt-where-the-diagram-says", test_litharge_and_quartz_melt_where_the_diagram_says);
  ADD ("raw-lead-ore-paints-stay-unglazed-at-760-in-a-short-fire",
       test_raw_lead_ore_paints_stay_unglazed_at_760_in_a_short_fire);
  ADD ("galena-needs-more-heat-than-litharge-of-the-same-composition",
       test_galena_needs_more_heat_than_litharge_of_the_same_composition);
  ADD ("lead-free-of-sulphur-melts-first-beside-galena", test_lead_free_of_sulphur_melts_first_beside_galena);
  ADD ("lead-alone-is-clear-with-copper-black-with-iron-dull",
       test_lead_alone_is_clear_with_copper_black_with_iron_dull);
  ADD ("borax-brings-first-liquid-down-to-the-first-visible-red",
       test_borax_brings_first_liquid_down_to_the_first_visible_red);
  ADD ("a-little-clay-does-not-raise-first-liquid", test_a_little_clay_does_not_raise_first_liquid);
  ADD ("what-is-not-known-is-said", test_what_is_not_known_is_said);
  ADD ("a-doubtful-ore-widens-the-range", test_a_doubtful_ore_widens_the_range);
  ADD ("more-heat-and-more-time-are-never-worse", test_more_heat_and_more_time_are_never_worse);
  ADD ("a-hot-long-fire-melts-what-the-diagram-melts", test_a_hot_long_fire_melts_what_the_diagram_melts);
  ADD ("a-short-peak-counts-as-one-hour-at-less", test_a_short_peak_counts_as_one_hour_at_less);
  ADD ("whatever-is-mixed-ranges-are-in-order-and-finite", test_whatever_is_mixed_ranges_are_in_order_and_finite);
  ADD ("an-impossible-firing-counts-as-none", test_an_impossible_firing_counts_as_none);
  ADD ("everything-has-words", test_everything_has_words);
  return g_test_run ();
}
