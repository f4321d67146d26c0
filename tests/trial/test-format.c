/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of the display rule (two significant digits of the expanded uncertainty, JCGM 100:2008, 7.2.6) worked by hand;
 * the first is the example of the rule itself, 6.79034 with u = 0.7492 (JCGM 101 run quoted in the project's notes). */
#include "config.h"

#include <float.h>
#include <math.h>

#include "trial/format.h"

typedef struct
{
  double value;
  double expanded_u;
  const char *text;
} Row;

static void
test_uncertain_numbers_show_two_digits_of_doubt (void)
{
  static const Row rows[] = {
    { 6.79034, 1.4984, "6.8 ± 1.5" },
    { 0.04, 0.00123, "0.0400 ± 0.0012" },
    { 1.0, 0.996, "1.0 ± 1.0" },
    { 99.96, 9.96, "100 ± 10" },
    { 123.4, 45.6, "123 ± 46" },
    { 1234.0, 456.0, "1230 ± 460" },
    { -3.26, 0.9, "−3.26 ± 0.90" },
    { -0.04, 1.2, "0.0 ± 1.2" },
    { 5.0, 0.0, "5.0" },
    { 5.04, NAN, "5.0" },
    { NAN, 1.0, "not known" },
    { 12.0, INFINITY, "12.0" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = sherd_format_uncertain (rows[i].value, rows[i].expanded_u);

      g_assert_cmpstr (text, ==, rows[i].text);
    }
}

static void
test_colours_are_triples (void)
{
  const double covariance[3][3] = { { 0.36, 0, 0 }, { 0, 0.16, 0 }, { 0, 0, 0.2025 } };
  const SherdLab lab = { 42.14, 11.0, -3.16 }, none = { NAN, 0, 0 };
  g_autofree char *plain = sherd_format_lab (&lab);
  g_autofree char *uncertain = sherd_format_lab_uncertain (&lab, covariance);
  g_autofree char *missing = sherd_format_lab (&none);

  g_assert_cmpstr (plain, ==, "42.1, 11.0, −3.2");
  g_assert_cmpstr (uncertain, ==, "L* 42.1 ± 1.2, a* 11.00 ± 0.80, b* −3.16 ± 0.90");
  g_assert_cmpstr (missing, ==, "not measured");
}

static void
test_shifts_that_were_not_measured_say_so (void)
{
  const SherdShift shift = { .measured = TRUE,
                             .difference = { .de00 = 6.79034 },
                             .de00_u = 0.7492,
                             .de00_low = 5.38,
                             .de00_high = 8.30,
                             .real = TRUE };
  const SherdShift glare = {
    .measured = TRUE, .difference = { .de00 = 11.94 }, .de00_u = 0.85, .de00_low = 4.21, .de00_high = 18.07
  };
  const SherdShift none = { .measured = FALSE };
  g_autofree char *text = sherd_format_shift (&shift);
  g_autofree char *verdict = sherd_format_shift_verdict (&shift);
  g_autofree char *missing = sherd_format_shift (&none);
  g_autofree char *one_sided = sherd_format_shift (&glare);

  g_assert_cmpstr (text, ==, "6.8 ± 1.5");
  g_assert_cmpstr (one_sided, ==, "11.9 (4.2–18.1)");
  g_assert_cmpstr (verdict, ==, "changed");
  g_assert_cmpstr (missing, ==, "not measured");
}

static void
assert_text (char *text, const char *expected)
{
  g_assert_cmpstr (text, ==, expected);
  g_free (text);
}

static void
test_words_and_sizes (void)
{
  assert_text (sherd_format_frac (0.944), "94 %");
  assert_text (sherd_format_frac (1.02), "100 %");
  assert_text (sherd_format_frac (-0.01), "0 %");
  assert_text (sherd_format_frac (-1.0), "cannot tell");
  assert_text (sherd_format_size_mm (120.0, 80.5), "120 × 80.5 mm");
  assert_text (sherd_format_size_mm (120.25, 80.999), "120.25 × 81 mm");
  assert_text (sherd_format_stage ("unfired"), "Unfired");
  assert_text (sherd_format_stage ("after firing 2, after rubbing"), "After firing 2, after rubbing");
  assert_text (sherd_format_stage ("whenever"), "whenever");
  assert_text (sherd_format_side ("back"), "Back");
  assert_text (sherd_format_zone_flags (0), "");
  assert_text (sherd_format_reference_kind (SHERD_REFERENCE_CHART), "Colour chart");
  assert_text (sherd_format_clay_state (SHERD_CLAY_FIRED), "Fired");
  assert_text (sherd_format_number (-0.04, 1), "0.0");
}

static void
test_every_flag_has_words (void)
{
  for (guint flag = SHERD_ZONE_FEW_PIXELS; flag <= SHERD_ZONE_DARK; flag <<= 1)
    {
      g_autofree char *words = sherd_format_zone_flags (flag);

      g_assert_cmpstr (words, !=, "");
    }
}

static void
test_exact_numbers_read_back_equal (void)
{
  static const double special[] = { 0.0, 0.1, 1.0 / 3.0, 1e300, DBL_MIN, DBL_MAX, DBL_TRUE_MIN, 123456789012345678.0 };

  for (gsize i = 0; i < G_N_ELEMENTS (special); i++)
    {
      g_autofree char *text = sherd_format_exact (special[i]);

      g_assert_cmpfloat (g_ascii_strtod (text, NULL), ==, special[i]);
    }
  for (guint i = 0; i < 20000; i++)
    {
      const double value = ldexp (g_test_rand_double_range (-1.0, 1.0), g_test_rand_int_range (-60, 60));
      g_autofree char *text = sherd_format_exact (value);

      g_assert_cmpfloat (g_ascii_strtod (text, NULL), ==, value);
    }
  assert_text (sherd_format_exact (0.1), "0.1");
  assert_text (sherd_format_exact (12.5), "12.5");
  assert_text (sherd_format_exact (-0.0), "-0.0");
}

/* ESC, CSI as one byte of ISO 6429's C1 set, line ends, and an override of the direction of writing. */
static void
test_what_steers_a_terminal_is_spelt_out (void)
{
  assert_text (sherd_format_visible ("Töpfe, 1/3 “schwarz”"), "Töpfe, 1/3 “schwarz”");
  assert_text (sherd_format_visible ("a\033[31mb"), "a\\u001b[31mb");
  assert_text (sherd_format_visible ("a\xc2\x9b b\177"), "a\\u009b b\\u007f");
  assert_text (sherd_format_visible ("a\nb\r\u2028"), "a\\u000ab\\u000d\\u2028");
  assert_text (sherd_format_visible ("gnp.\u202eexe"), "gnp.\\u202eexe");
  assert_text (sherd_format_visible ("\xff ok \xc3"), "� ok �");
  assert_text (sherd_format_visible (""), "");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/format/uncertain-numbers-show-two-digits-of-doubt",
                   test_uncertain_numbers_show_two_digits_of_doubt);
  g_test_add_func ("/trial/format/colours-are-triples", test_colours_are_triples);
  g_test_add_func ("/trial/format/shifts-that-were-not-measured-say-so", test_shifts_that_were_not_measured_say_so);
  g_test_add_func ("/trial/format/words-and-sizes", test_words_and_sizes);
  g_test_add_func ("/trial/format/every-flag-has-words", test_every_flag_has_words);
  g_test_add_func ("/trial/format/exact-numbers-read-back-equal", test_exact_numbers_read_back_equal);
  g_test_add_func ("/trial/format/what-steers-a-terminal-is-spelt-out", test_what_steers_a_terminal_is_spelt_out);
  return g_test_run ();
}
