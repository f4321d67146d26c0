/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Invented outlooks and their sentences, worked by hand. */
#include "config.h"

#include <string.h>

#include "trial/outlook-words.h"

static SherdMeltOutlook
example (void)
{
  SherdMeltOutlook outlook = { 0 };

  outlook.has_begin = TRUE;
  outlook.begin_c.low = 714.0;
  outlook.begin_c.high = 738.0;
  outlook.verdict = SHERD_MELT_PARTLY;
  outlook.sureness = SHERD_MELT_ROUGH;
  return outlook;
}

static void
assert_says (const SherdMeltOutlook *outlook, const char *sentence)
{
  g_autofree char *words = sherd_outlook_dup_words (outlook);

  if (strstr (words, sentence) == NULL)
    g_error ("“%s” is not in “%s”", sentence, words);
}

static void
test_temperatures_are_told_to_ten_degrees (void)
{
  const SherdMeltOutlook outlook = example ();

  assert_says (&outlook, "Melt can be expected to begin between 710 and 740 °C.");
}

static void
test_the_distance_of_the_firing_has_three_forms (void)
{
  static const struct
  {
    double low, high;
    const char *sentence;
  } distances[] = { { 42.0, 118.0, "The firing is 40 to 120 °C hotter than where melt begins." },
                    { -118.0, -42.0, "The firing is 40 to 120 °C colder than where melt begins." },
                    { -23.0, 58.0, "The firing is between 20 °C colder and 60 °C hotter than where melt begins." } };

  for (guint i = 0; i < G_N_ELEMENTS (distances); i++)
    {
      SherdMeltOutlook outlook = example ();

      outlook.over_begin_c.low = distances[i].low;
      outlook.over_begin_c.high = distances[i].high;
      assert_says (&outlook, distances[i].sentence);
    }
}

static void
test_without_a_firing_no_distance_is_told (void)
{
  SherdMeltOutlook outlook = example ();
  g_autofree char *words = NULL;

  outlook.verdict = SHERD_MELT_NOT_ASKED;
  words = sherd_outlook_dup_words (&outlook);
  g_assert_null (strstr (words, "The firing is"));
  assert_says (&outlook, "No firing is planned or logged.");
}

static void
test_every_reason_and_how_sure_it_is_are_told (void)
{
  SherdMeltOutlook outlook = example ();

  outlook.reasons = (SherdMeltReasons)((1u << SHERD_N_MELT_REASONS) - 1);
  for (guint i = 0; i < SHERD_N_MELT_REASONS; i++)
    assert_says (&outlook, sherd_melt_reason_get_words ((SherdMeltReasons)(1u << i)));
  assert_says (&outlook, "How sure this is: rough.");
  assert_says (&outlook, sherd_melt_get_advice_words ());
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/outlook-words/temperatures are told to ten degrees",
                   test_temperatures_are_told_to_ten_degrees);
  g_test_add_func ("/trial/outlook-words/the distance of the firing has three forms",
                   test_the_distance_of_the_firing_has_three_forms);
  g_test_add_func ("/trial/outlook-words/without a firing no distance is told",
                   test_without_a_firing_no_distance_is_told);
  g_test_add_func ("/trial/outlook-words/every reason and how sure it is are told",
                   test_every_reason_and_how_sure_it_is_are_told);
  return g_test_run ();
}
