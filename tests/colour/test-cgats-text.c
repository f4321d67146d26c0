/* SPDX-License-Identifier: GPL-3.0-or-later */

/* What the text must become is written out by hand; the rules are those by which LittleCMS 2.14 cuts words. */

#include "config.h"

#include "colour/cgats-text.h"

#include <string.h>

#define FORMAT "BEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L\nEND_DATA_FORMAT\n"
#define PLAIN_FORMAT "BEGIN_DATA_FORMAT \nSAMPLE_ID LAB_L \nEND_DATA_FORMAT \n"

static SherdCgatsText *
plain (const char *text)
{
  g_autoptr (GError) error = NULL;
  SherdCgatsText *self = sherd_cgats_text_new (text, strlen (text), &error);

  g_assert_no_error (error);
  return self;
}

static const SherdCgatsTable *
table (const SherdCgatsText *text, guint index)
{
  g_assert_cmpuint (index, <, text->tables->len);
  return g_ptr_array_index (text->tables, index);
}

static void
test_cells_are_quoted_and_keywords_are_not (void)
{
  g_autoptr (SherdCgatsText) text =
    plain ("IT8.7/2\nORIGINATOR \"me\" # a note\n" FORMAT "BEGIN_DATA\n\tA1  0x10\n'the \"2nd\"' 5 \nEND_DATA");

  g_assert_cmpstr (text->text->str, ==,
                   "CGATS.17\nORIGINATOR \"me\" \n" PLAIN_FORMAT
                   "BEGIN_DATA \n\"A1\" \"0x10\" \n'the \"2nd\"' \"5\" \nEND_DATA \n");
}

static void
test_lines_keep_their_numbers (void)
{
  g_autoptr (SherdCgatsText) text =
    plain ("\r\nCGATS.17\r\r\n" FORMAT "# rows\r\nBEGIN_DATA\nA1 1\n\nA2\n2\nEND_DATA\n");
  const GArray *lines = table (text, 0)->row_lines;

  g_assert_cmpuint (lines->len, ==, 2);
  g_assert_cmpuint (g_array_index (lines, guint, 0), ==, 9);
  g_assert_cmpuint (g_array_index (lines, guint, 1), ==, 11);
}

static void
test_a_quote_left_open_ends_with_its_line (void)
{
  g_autoptr (SherdCgatsText) text = plain ("CGATS.17\n" FORMAT "BEGIN_DATA\nA1 \"5\nA2 6\nEND_DATA\n");

  g_assert_nonnull (strstr (text->text->str, "\"A1\" \"5\" \n\"A2\" \"6\" \n"));
}

static void
test_each_table_tells_its_light (void)
{
  g_autoptr (SherdCgatsText) text = plain ("CGATS.17\nILLUMINANT \"D50\"\n" FORMAT "BEGIN_DATA\nA1 1\nEND_DATA\n"
                                           "CGATS.17\nILLUMINATION_NAME 'D65'\n" FORMAT "BEGIN_DATA\nA1 1\nEND_DATA\n");

  g_assert_null (table (text, 0)->other_light);
  g_assert_cmpstr (table (text, 1)->other_light, ==, "ILLUMINATION_NAME 'D65'");
}

static void
test_words_about_light_are_no_light (void)
{
  /* "B" would be illuminant B, "10" the wide observer. */
  g_autoptr (SherdCgatsText) text =
    plain ("CGATS.17\nDESCRIPTOR \"illuminated by 10 lamps, Illumination: Bright, observers 10\"\n" FORMAT
           "BEGIN_DATA\nA1 1\nEND_DATA\n");

  g_assert_null (table (text, 0)->other_light);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/colour/cgats-text/cells-quoted-keywords-not", test_cells_are_quoted_and_keywords_are_not);
  g_test_add_func ("/colour/cgats-text/lines-keep-their-numbers", test_lines_keep_their_numbers);
  g_test_add_func ("/colour/cgats-text/open-quote-ends-with-its-line", test_a_quote_left_open_ends_with_its_line);
  g_test_add_func ("/colour/cgats-text/each-table-tells-its-light", test_each_table_tells_its_light);
  g_test_add_func ("/colour/cgats-text/words-about-light-are-no-light", test_words_about_light_are_no_light);
  return g_test_run ();
}
