/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spellings worked by hand; the value of a fraction is the quotient itself. */
#include "config.h"

#include <math.h>

#include "trial/error.h"
#include "trial/number.h"

typedef struct
{
  const char *text;
  const char *mark;
  double value;
} Spelling;

static void
test_people_spell_numbers_in_many_ways (void)
{
  static const Spelling spellings[] = {
    { "2", ".", 2.0 },
    { " 2.5 ", ".", 2.5 },
    { ".5", ".", 0.5 },
    { "7.", ".", 7.0 },
    { "2,5", ",", 2.5 },
    { "2,5", ".", 2.5 },
    { "0,125", ".", 0.125 },
    { "2.5", ",", 2.5 },
    { "0.125", ",", 0.125 },
    { "1,125", ",", 1.125 },
    { "1.25", ",", 1.25 },
    { "1/3", ".", 1.0 / 3.0 },
    { "1 / 3", ".", 1.0 / 3.0 },
    { "1 1/2", ".", 1.5 },
    { "½", ".", 0.5 },
    { "1½", ".", 1.5 },
    { "2 ¾", ".", 2.75 },
    { "1⁄8", ".", 0.125 },
    { "1,5/2", ",", 0.75 },
    { "−3", ".", -3.0 },
    { "- 1/4", ".", -0.25 },
    { "0", ".", 0.0 },
    { "٢٫٥", "٫", 2.5 },          /* Arabic digits with their mark */
    { "1\302\2401/2", ".", 1.5 }, /* no-break space */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (spellings); i++)
    {
      g_autoptr (GError) error = NULL;
      double value = NAN;

      sherd_number_parse_marked (spellings[i].text, spellings[i].mark, &value, &error);
      g_assert_no_error (error);
      g_assert_cmpfloat (value, ==, spellings[i].value);
    }
}

static void
test_what_is_no_number_is_refused_and_the_value_left_alone (void)
{
  static const Spelling refused[] = {
    { "", ".", 0 },        { "  ", ".", 0 },
    { "two", ".", 0 },     { "12,500", ".", 0 },
    { "1,000", ".", 0 },   { "1.000", ",", 0 },
    { "12.500", ",", 0 },  { "1.000,5", ",", 0 },
    { "1/0", ".", 0 },     { "0/0", ".", 0 },
    { "/3", ".", 0 },      { "1/", ".", 0 },
    { "1/2/3", ".", 0 },   { "1 2", ".", 0 },
    { "1.5 1/2", ".", 0 }, { "--1", ".", 0 },
    { "1e5", ".", 0 },     { "0x10", ".", 0 },
    { "inf", ".", 0 },     { "nan", ".", 0 },
    { "2 g", ".", 0 },     { ".", ".", 0 },
    { "1..2", ".", 0 },    { "\xff", ".", 0 },
    { "1/-2", ".", 0 },    { "99999999999999999999999999999999999999999", ".", 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autoptr (GError) error = NULL;
      double value = -7.0;

      g_assert_false (sherd_number_parse_marked (refused[i].text, refused[i].mark, &value, &error));
      g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      g_assert_cmpfloat (value, ==, -7.0);
    }
}

static void
test_numbers_are_shown_as_they_would_be_written (void)
{
  static const Spelling shown[] = {
    { "2", ".", 2.0 },           { "2.5", ".", 2.5 },     { "2,5", ",", 2.5 },       { "1/3", ".", 1.0 / 3.0 },
    { "2 2/3", ".", 8.0 / 3.0 }, { "0.125", ".", 0.125 }, { "−1/6", ".", -1.0 / 6 }, { "", ".", NAN },
    { "0", ".", 0.0 },           { "0", ".", -0.0 },      { "1500", ".", 1500.0 },   { "3.14159", ".", 3.14159 },
    { "", ".", INFINITY },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (shown); i++)
    {
      g_autofree char *text = sherd_number_text_marked (shown[i].value, shown[i].mark);

      g_assert_cmpstr (text, ==, shown[i].text);
    }
}

/* Every quarter, third, fifth and thousandth up to 20, in both kinds of locale. */
static void
test_what_is_shown_reads_back_as_the_same_number (void)
{
  static const int below[] = { 1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 16, 1000 };
  static const char *const marks[] = { ".", "," };

  for (gsize i = 0; i < G_N_ELEMENTS (below); i++)
    for (int above = 0; above <= 20 * below[i]; above++)
      for (gsize j = 0; j < G_N_ELEMENTS (marks); j++)
        {
          const double value = (double)above / below[i];
          g_autofree char *text = sherd_number_text_marked (value, marks[j]);
          g_autoptr (GError) error = NULL;
          double back = NAN;

          sherd_number_parse_marked (text, marks[j], &back, &error);
          g_assert_no_error (error);
          g_assert_cmpfloat_with_epsilon (back, value, 1e-14 * (1.0 + value));
        }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/number/people spell numbers in many ways", test_people_spell_numbers_in_many_ways);
  g_test_add_func ("/trial/number/what is no number is refused and the value left alone",
                   test_what_is_no_number_is_refused_and_the_value_left_alone);
  g_test_add_func ("/trial/number/numbers are shown as they would be written",
                   test_numbers_are_shown_as_they_would_be_written);
  g_test_add_func ("/trial/number/what is shown reads back as the same number",
                   test_what_is_shown_reads_back_as_the_same_number);
  return g_test_run ();
}
