/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CSV by the rules of RFC 4180, section 2, whose numbers the comments give, and as spreadsheets bend them. */
#include "config.h"

#include <string.h>

#include "trial/csv.h"
#include "trial/error.h"

static SherdCsv *
read_csv (const char *text)
{
  g_autoptr (GError) error = NULL;
  SherdCsv *csv = sherd_csv_new (text, strlen (text), &error);

  g_assert_no_error (error);
  return csv;
}

static const SherdCsvRow *
row_at (const SherdCsv *csv, guint index)
{
  g_assert_cmpuint (index, <, csv->rows->len);
  return g_ptr_array_index (csv->rows, index);
}

static void
assert_row (const SherdCsv *csv, guint index, guint line, const char *joined)
{
  const SherdCsvRow *row = row_at (csv, index);
  g_autofree char *found = g_strjoinv ("|", row->fields);

  g_assert_cmpstr (found, ==, joined);
  g_assert_cmpuint (row->line, ==, line);
}

/* 2.1 to 2.4: lines, a last line without an end, fields that may be empty. */
static void
test_plain_rows (void)
{
  g_autoptr (SherdCsv) csv = read_csv ("a,b,c\r\n1,,3\r\n,,\r\n4,5,6");

  g_assert_cmpuint (csv->rows->len, ==, 3);
  assert_row (csv, 0, 1, "a|b|c");
  assert_row (csv, 1, 2, "1||3");
  assert_row (csv, 2, 4, "4|5|6");
}

/* 2.5 to 2.7: quotes, with separators, line ends and quotes within. */
static void
test_quoted_fields (void)
{
  g_autoptr (SherdCsv) csv = read_csv ("\"a,b\",\"say \"\"so\"\"\"\n\"two\nlines\",x\ny,z\n");

  assert_row (csv, 0, 1, "a,b|say \"so\"");
  assert_row (csv, 1, 2, "two\nlines|x");
  assert_row (csv, 2, 4, "y|z");
}

static void
test_separators_marks_and_line_ends (void)
{
  g_autoptr (SherdCsv) german = read_csv ("\xef\xbb\xbfname;parts\nOcker;2,5\n");
  g_autoptr (SherdCsv) tabs = read_csv ("name\tparts\rOchre, red\t2\r");
  g_autoptr (SherdCsv) one = read_csv ("name\nOchre\n");
  g_autoptr (SherdCsv) none = read_csv ("");

  g_assert_cmpint (german->separator, ==, ';');
  assert_row (german, 0, 1, "name|parts");
  assert_row (german, 1, 2, "Ocker|2,5");
  g_assert_cmpint (tabs->separator, ==, '\t');
  assert_row (tabs, 1, 2, "Ochre, red|2");
  assert_row (one, 1, 2, "Ochre");
  g_assert_cmpuint (none->rows->len, ==, 0);
}

static void
test_what_cannot_be_read_is_told_by_line (void)
{
  static const struct
  {
    const char *text;
    gsize length;
    const char *line;
  } broken[] = {
    { "a,b\n\"open,c\nd,e\n", 0, "line 2" },
    { "a,b\n1,\"x\"y\n", 0, "line 2" },
    { "a,b\nc,d\n\xe4,e\n", 0, "line 3" },
    { "a\0b", 3, "line 1" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (broken); i++)
    {
      g_autoptr (GError) error = NULL;
      const gsize length = broken[i].length > 0 ? broken[i].length : strlen (broken[i].text);

      g_assert_null (sherd_csv_new (broken[i].text, length, &error));
      g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SYNTAX);
      g_assert_true (g_str_has_prefix (error->message, broken[i].line));
    }
}

/* Any bytes are read or refused, never more. */
static void
test_noise_is_survived (void)
{
  static const char signs[] = "ab,;\t\"\"\r\n \xc3\xa4";

  for (guint round = 0; round < 20000; round++)
    {
      char noise[24];
      const gsize length = (gsize)g_test_rand_int_range (0, sizeof noise);
      g_autoptr (SherdCsv) csv = NULL;

      for (gsize i = 0; i < length; i++)
        noise[i] = signs[g_test_rand_int_range (0, sizeof signs - 1)];
      csv = sherd_csv_new (noise, length, NULL);
      for (guint i = 0; csv != NULL && i < csv->rows->len; i++)
        g_assert_cmpuint (g_strv_length (row_at (csv, i)->fields), >, 0);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/csv/plain-rows", test_plain_rows);
  g_test_add_func ("/trial/csv/quoted-fields", test_quoted_fields);
  g_test_add_func ("/trial/csv/separators-marks-and-line-ends", test_separators_marks_and_line_ends);
  g_test_add_func ("/trial/csv/what-cannot-be-read-is-told-by-line", test_what_cannot_be_read_is_told_by_line);
  g_test_add_func ("/trial/csv/noise-is-survived", test_noise_is_survived);
  return g_test_run ();
}
