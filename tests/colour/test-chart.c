/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Texts after the example files of CGATS.17 (ISO 28178), good ones and bad ones, written here; reference files of real
 * charts from the shared folder, whose values are read off the file by eye. What LittleCMS 2.14 does when left alone
 * with the bad ones is told beside them. */

#include "config.h"

#include "colour/chart.h"

#include "oracle.h"

#include <string.h>

#define COLUMNS "NUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\n"
#define START "CGATS.17\n" COLUMNS "NUMBER_OF_SETS 2\nBEGIN_DATA\n"
#define SECOND_ROW "A2 65.71 18.13 17.81\n"
#define GOOD START "A1 37.99 13.56 14.06\n" SECOND_ROW "END_DATA\n"
#define XYZ_COLUMNS "NUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\nSAMPLE_ID XYZ_X XYZ_Y XYZ_Z\nEND_DATA_FORMAT\n"

/* Decimal numbers of ten digits and less, read as they are written. */
#define AS_WRITTEN 1e-12

static const SherdChartPatch *
patch (const SherdChart *chart, guint index)
{
  g_assert_cmpuint (index, <, chart->patches->len);
  return &g_array_index (chart->patches, SherdChartPatch, index);
}

static SherdChart *
read_good (const char *text)
{
  g_autoptr (GError) error = NULL;
  SherdChart *chart = sherd_chart_new_from_cgats (text, -1, &error);

  g_assert_no_error (error);
  g_assert_nonnull (chart);
  return chart;
}

static void
assert_patch (const SherdChart *chart, guint index, const char *name, double l, double a, double b)
{
  g_assert_cmpstr (patch (chart, index)->name, ==, name);
  assert_lab_near (&patch (chart, index)->lab, &(SherdLab){ l, a, b }, AS_WRITTEN);
}

static void
assert_good (const char *text, gssize length)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdChart) chart = sherd_chart_new_from_cgats (text, length, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (chart->patches->len, ==, 2);
  assert_patch (chart, 0, "A1", 37.99, 13.56, 14.06);
  assert_patch (chart, 1, "A2", 65.71, 18.13, 17.81);
}

static void
test_a_plain_file_is_read (void)
{
  assert_good (GOOD, -1);
}

static char *
with_line_ends (const char *line_end)
{
  g_auto (GStrv) lines = g_strsplit (GOOD, "\n", -1);

  return g_strjoinv (line_end, lines);
}

static void
test_any_line_end_will_do (void)
{
  g_autofree char *windows = with_line_ends ("\r\n");
  g_autofree char *old_mac = with_line_ends ("\r");

  assert_good (windows, -1);
  assert_good (old_mac, -1);
}

static void
test_a_byte_order_mark_is_passed_over (void)
{
  /* LittleCMS refuses the file. */
  assert_good ("\xef\xbb\xbf" GOOD, -1);
}

static void
test_utf_16_is_read (void)
{
  gsize length;
  g_autofree char *little = g_convert (GOOD, -1, "UTF-16LE", "UTF-8", NULL, &length, NULL);
  g_autofree char *marked = g_malloc (length + 2);

  memcpy (marked, "\xff\xfe", 2);
  memcpy (marked + 2, little, length);
  assert_good (marked, (gssize)length + 2);
}

static void
test_the_text_need_not_end_with_a_zero (void)
{
  const gsize length = strlen (GOOD);
  g_autofree char *exact = g_memdup2 (GOOD, length);

  assert_good (exact, (gssize)length);
}

static void
test_small_letters_comments_and_blank_lines_are_passed_over (void)
{
  assert_good ("\n# a comment before all\ncgats.17\n\nnumber_of_fields 4 # four\nbegin_data_format\n"
               "sample_id lab_l lab_a lab_b\nend_data_format\nnumber_of_sets 2\nbegin_data\n\n"
               "A1\t37.99\t13.56   14.06 # brown\n# in between\n" SECOND_ROW "end_data\n",
               -1);
}

static void
test_a_row_may_go_on_over_the_next_line (void)
{
  assert_good (START "A1 37.99\n  13.56 14.06\n" SECOND_ROW "END_DATA\n", -1);
}

static void
test_numbers_may_be_written_in_any_decimal_way (void)
{
  /* LittleCMS makes "A11406e-2" of the last of the first row. */
  g_autoptr (SherdChart) chart = read_good (START "A1 3.799e1 +13.56 1406e-2\nA2 .5 -7. \"17.81\"\nEND_DATA\n");

  assert_patch (chart, 0, "A1", 37.99, 13.56, 14.06);
  assert_patch (chart, 1, "A2", 0.5, -7, 17.81);
}

static void
test_names_stay_as_they_are_written (void)
{
  /* LittleCMS makes 1 of the first and 1.1 of the second. */
  g_autoptr (SherdChart) chart = read_good (START "01 37.99 13.56 14.06\n1.10 65.71 18.13 17.81\nEND_DATA\n");

  g_assert_cmpstr (patch (chart, 0)->name, ==, "01");
  g_assert_cmpstr (patch (chart, 1)->name, ==, "1.10");
}

static void
test_names_may_hold_spaces_signs_and_letters_beyond_ascii (void)
{
  g_autoptr (SherdChart) chart =
    read_good (START "\"dark # brown\" 37.99 13.56 14.06\ngrün 65.71 18.13 17.81\nEND_DATA\n");
  g_autoptr (SherdChart) windows = read_good (START "gr\xfcn 37.99 13.56 14.06\n" SECOND_ROW "END_DATA\n");

  g_assert_cmpstr (patch (chart, 0)->name, ==, "dark # brown");
  g_assert_cmpstr (patch (chart, 1)->name, ==, "grün");
  g_assert_cmpstr (patch (windows, 0)->name, ==, "grün");
}

#define BOTH_NAMES "NUMBER_OF_FIELDS 5\nBEGIN_DATA_FORMAT\nSAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\n"

static void
test_the_name_that_tells_the_place_comes_first (void)
{
  g_autoptr (SherdChart) by_name =
    read_good ("CGATS.17\n" BOTH_NAMES "NUMBER_OF_SETS 2\nBEGIN_DATA\n1 A1 30 0 0\n2 A2 40 0 0\nEND_DATA\n");
  g_autoptr (SherdChart) by_id =
    read_good ("CGATS.17\n" BOTH_NAMES "NUMBER_OF_SETS 2\nBEGIN_DATA\nA1 skin 30 0 0\nA2 skin 40 0 0\nEND_DATA\n");
  g_autoptr (SherdChart) by_number =
    read_good ("CGATS.17\n" BOTH_NAMES "NUMBER_OF_SETS 2\nBEGIN_DATA\n1 white 30 0 0\n2 black 40 0 0\nEND_DATA\n");

  g_assert_cmpstr (patch (by_name, 1)->name, ==, "A2");
  g_assert_cmpstr (patch (by_name, 1)->other_name, ==, "2");
  g_assert_cmpstr (patch (by_id, 1)->name, ==, "A2");
  g_assert_cmpstr (patch (by_id, 1)->other_name, ==, "skin");
  g_assert_cmpstr (patch (by_number, 1)->name, ==, "2");
  g_assert_cmpstr (patch (by_number, 1)->other_name, ==, "black");
}

static void
test_one_column_of_names_is_enough (void)
{
  g_autoptr (SherdChart) chart = read_good ("CGATS.17\nNUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\n"
                                            "LAB_L LAB_A LAB_B SAMPLE_NAME\nEND_DATA_FORMAT\n"
                                            "NUMBER_OF_SETS 1\nBEGIN_DATA\n30 1 2 brown\nEND_DATA\n");

  assert_patch (chart, 0, "brown", 30, 1, 2);
  g_assert_null (patch (chart, 0)->other_name);
}

static void
test_xyz_is_on_a_scale_to_100 (void)
{
  /* L* of Y = 18 is 49.496107610 (recomputed from ISO/CIE 11664-4); the white of D50 is neutral. */
  g_autoptr (SherdChart) chart = read_good (
    "CGATS.17\n" XYZ_COLUMNS "NUMBER_OF_SETS 2\nBEGIN_DATA\nA1 17.3556 18 14.8482\nA2 96.42 100 82.49\nEND_DATA\n");

  assert_lab_near (&patch (chart, 0)->lab, &(SherdLab){ 49.496107610, 0, 0 }, 1e-8);
  assert_lab_near (&patch (chart, 1)->lab, &(SherdLab){ 100, 0, 0 }, 1e-8);
}

static void
test_lab_comes_before_xyz (void)
{
  g_autoptr (SherdChart) chart =
    read_good ("CGATS.17\nNUMBER_OF_FIELDS 7\nBEGIN_DATA_FORMAT\nSAMPLE_ID XYZ_X XYZ_Y XYZ_Z LAB_L LAB_A LAB_B\n"
               "END_DATA_FORMAT\nNUMBER_OF_SETS 1\nBEGIN_DATA\nA1 10 10 10 37.99 13.56 14.06\nEND_DATA\n");

  assert_patch (chart, 0, "A1", 37.99, 13.56, 14.06);
}

#define NOTES_TABLE                                                                                                    \
  "CGATS.17\nILLUMINATION_NAME \"D65\"\nNUMBER_OF_FIELDS 2\nBEGIN_DATA_FORMAT\nSAMPLE_ID NOTE\nEND_DATA_FORMAT\n"      \
  "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 worn\nEND_DATA\n"

static void
test_the_table_with_colours_is_taken (void)
{
  assert_good (NOTES_TABLE GOOD, -1);
  assert_good (GOOD NOTES_TABLE, -1);
}

static void
test_the_table_for_d50_is_taken (void)
{
  assert_good ("CGATS.17\nILLUMINATION_NAME \"A\"\n" COLUMNS "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n" GOOD,
               -1);
}

static void
test_d50_and_2_degrees_may_be_named (void)
{
  assert_good ("CGATS.17\nWEIGHTING_FUNCTION \"ILLUMINANT, D50\"\nWEIGHTING_FUNCTION \"OBSERVER, 2 degree\"\n"
               "MEASUREMENT_SOURCE \"Illumination=D50\tObserverAngle=2\xc2\xb0\tFilter=No\"\nOBSERVER_ANGLE \"2\"\n"
               "# the maker's own lamp is ILLUMINANT D65\nILLUMINATION_NAME \"D50\"\n" COLUMNS
               "NUMBER_OF_SETS 2\nBEGIN_DATA\nA1 37.99 13.56 14.06\n" SECOND_ROW "END_DATA\n",
               -1);
}

static void
test_the_description_is_kept (void)
{
  g_autoptr (SherdChart) chart = read_good ("CGATS.17\nDESCRIPTOR \"24 matte patches\"\n" COLUMNS
                                            "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n");

  g_assert_cmpstr (chart->description, ==, "24 matte patches");
}

static void
test_a_chart_may_be_typed_in (void)
{
  g_autoptr (SherdChart) chart = sherd_chart_new (NULL);

  sherd_chart_add (chart, "A1", &(SherdLab){ 1, 2, 3 });
  sherd_chart_add (chart, "A2", &(SherdLab){ 4, 5, 6 });
  g_assert_cmpstr (chart->description, ==, "");
  g_assert_cmpuint (chart->patches->len, ==, 2);
  assert_patch (chart, 1, "A2", 4, 5, 6);
  g_assert_null (patch (chart, 1)->other_name);
}

/* Each bad file with a part of what the message has to say. */
typedef struct
{
  const char *name;
  const char *text;
  const char *says;
} BadFile;

static const BadFile bad_files[] = {
  { "empty", "", "it is empty" },
  { "byte-order-mark-alone", "\xef\xbb\xbf", "no rows between BEGIN_DATA" },
  { "web-page", "<html><body>The page you look for is not here</body></html>\n", "no rows between BEGIN_DATA" },
  { "table-of-a-spreadsheet", "patch;L;a;b\nA1;37;13;14\n", "no rows between BEGIN_DATA" },
  /* LittleCMS reads 0. */
  { "decimal-comma", START "A1 37,99 13,56 14,06\n" SECOND_ROW "END_DATA\n",
    "line 8: “37,99” at patch “A1” is not a number. Write it with a decimal point" },
  { "decimal-comma-in-quotes", START "A1 37.99 \"13,56\" 14.06\n" SECOND_ROW "END_DATA\n", "“13,56”" },
  { "unit-in-the-cell", START "A1 37.99% 13.56 14.06\n" SECOND_ROW "END_DATA\n", "“37.99%”" },
  /* LittleCMS reads 16, and so would strtod (). */
  { "hexadecimal", START "A1 0x10 13.56 14.06\n" SECOND_ROW "END_DATA\n", "“0x10”" },
  { "not-a-number", START "A1 nan 13.56 14.06\n" SECOND_ROW "END_DATA\n", "“nan”" },
  { "infinite", START "A1 1e999 13.56 14.06\n" SECOND_ROW "END_DATA\n", "“1e999”" },
  { "two-numbers-in-one", START "A1 1.2.3 13.56 14.06\n" SECOND_ROW "END_DATA\n", "“1.2.3”" },
  { "empty-cell", START "A1 \"\" 13.56 14.06\n" SECOND_ROW "END_DATA\n", "line 8: a value of patch “A1” is missing" },
  /* LittleCMS takes the next row's name for the missing value. */
  { "value-missing", START "A1 37.99 13.56\n" SECOND_ROW "END_DATA\n", "line 8 does not have 4 values" },
  { "value-missing-at-the-end", START "A1 37.99 13.56 14.06\nA2 65.71 18.13\nEND_DATA\n",
    "line 9 does not have 4 values" },
  { "value-missing-in-a-cut-file", START "A1 37.99 13.56 14.06\nA2 65.71", "line 9 does not have 4 values" },
  { "value-too-many", START "A1 37.99 13.56 14.06 1\n" SECOND_ROW "END_DATA\n", "line 8 does not have 4 values" },
  { "semicolons", START "A1;37.99;13.56;14.06\nA2;65.71;18.13;17.81\nEND_DATA\n", "line 8 does not have 4 values" },
  { "row-missing", START "A1 37.99 13.56 14.06\nEND_DATA\n", "NUMBER_OF_SETS was 2" },
  { "row-too-many", START "A1 1 2 3\nA2 1 2 3\nA3 1 2 3\nEND_DATA\n", "NUMBER_OF_SETS was 2" },
  { "no-count-of-rows", "CGATS.17\n" COLUMNS "BEGIN_DATA\nA1 1 2 3\nEND_DATA\n", "NUMBER_OF_SETS" },
  { "no-count-of-columns",
    "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nNUMBER_OF_SETS 1\nBEGIN_DATA\n"
    "A1 1 2 3\nEND_DATA\n",
    "NUMBER_OF_FIELDS" },
  { "boundless-count-of-rows", "CGATS.17\n" COLUMNS "NUMBER_OF_SETS 2000000000\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n",
    "not sound CGATS.17" },
  { "boundless-count-of-columns",
    "CGATS.17\nNUMBER_OF_FIELDS 2000000000\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\n"
    "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n",
    "not sound CGATS.17" },
  { "count-below-zero", "CGATS.17\n" COLUMNS "NUMBER_OF_SETS -1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n",
    "not sound CGATS.17" },
  { "no-rows", "CGATS.17\n" COLUMNS "NUMBER_OF_SETS 0\nBEGIN_DATA\nEND_DATA\n", "no rows" },
  { "no-columns", "CGATS.17\nNUMBER_OF_SETS 1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n", "line 3: data begin" },
  { "no-colour-columns",
    "CGATS.17\nNUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\nSAMPLE_ID L a b\nEND_DATA_FORMAT\nNUMBER_OF_SETS 1\n"
    "BEGIN_DATA\nA1 1 2 3\nEND_DATA\n",
    "Columns LAB_L, LAB_A, LAB_B or XYZ_X, XYZ_Y, XYZ_Z are needed" },
  { "half-lab-half-xyz",
    "CGATS.17\nNUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L XYZ_Y XYZ_Z\nEND_DATA_FORMAT\n"
    "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n",
    "Columns LAB_L" },
  { "no-names",
    "CGATS.17\nNUMBER_OF_FIELDS 3\nBEGIN_DATA_FORMAT\nLAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nNUMBER_OF_SETS 1\n"
    "BEGIN_DATA\n1 2 3\nEND_DATA\n",
    "SAMPLE_ID or SAMPLE_NAME is needed" },
  { "empty-name", START "\"\" 37.99 13.56 14.06\n" SECOND_ROW "END_DATA\n", "line 8: the patch has no name" },
  { "same-name-twice", START "A2 37.99 13.56 14.06\n" SECOND_ROW "END_DATA\n",
    "line 9: another patch has the name “A2”" },
  { "lightness-below-0", START "A1 -1 0 0\n" SECOND_ROW "END_DATA\n", "line 8: patch “A1” has the impossible colour" },
  { "lightness-above-100", START "A1 100.1 0 0\n" SECOND_ROW "END_DATA\n", "impossible colour L* 100.1" },
  { "a-beyond-150", START "A1 50 151 0\n" SECOND_ROW "END_DATA\n", "a* 151" },
  { "b-beyond-150", START "A1 50 0 -151\n" SECOND_ROW "END_DATA\n", "b* -151" },
  { "xyz-to-1", "CGATS.17\n" XYZ_COLUMNS "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 0.9642 1 0.8249\nEND_DATA\n",
    "a white of 100, not of 1" },
  { "lab-for-d65", "CGATS.17\nILLUMINATION_NAME \"D65\"\n" COLUMNS "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n",
    "another light or observer than D50, 2°: “ILLUMINATION_NAME" },
  { "xyz-for-d65",
    "CGATS.17\nWEIGHTING_FUNCTION \"ILLUMINANT, D65\"\n" XYZ_COLUMNS
    "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 10 20 30\nEND_DATA\n",
    "another light" },
  { "lab-for-a-lamp",
    "CGATS.17\nWEIGHTING_FUNCTION \"ILLUMINANT, A\"\n" COLUMNS "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n",
    "another light" },
  { "measured-for-10-degrees",
    "CGATS.17\nMEASUREMENT_SOURCE \"Illumination=D50 ObserverAngle=10\"\n" COLUMNS
    "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n",
    "observer" },
  /* LittleCMS opens any file so named. */
  { "include", "CGATS.17\n.INCLUDE \"/etc/hostname\"\n" COLUMNS "NUMBER_OF_SETS 1\nBEGIN_DATA\nA1 1 2 3\nEND_DATA\n",
    "line 2: it asks for another file" },
  { "include-in-the-data", START "A1 37.99 13.56 14.06\n.include \"/etc/hostname\"\nEND_DATA\n",
    "line 9: it asks for another file" },
};

static void
test_a_bad_file_is_refused (gconstpointer data)
{
  const BadFile *bad = data;
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_chart_new_from_cgats (bad->text, -1, &error));
  g_assert_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_CGATS);
  g_assert_true (g_str_has_prefix (error->message, "The chart's text file cannot be used: "));
  if (strstr (error->message, bad->says) == NULL)
    g_test_message ("the message is “%s”, it lacks “%s”", error->message, bad->says);
  g_assert_nonnull (strstr (error->message, bad->says));
}

static void
assert_bytes_refused (const char *bytes, gsize length, const char *says)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_chart_new_from_cgats (bytes, (gssize)length, &error));
  g_assert_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_CGATS);
  g_assert_nonnull (strstr (error->message, says));
}

static void
test_bytes_that_are_no_text_are_refused (void)
{
  static const char zero_within[] = "CGATS.17\n\0" COLUMNS;
  static const char picture[] = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR";

  assert_bytes_refused (zero_within, sizeof zero_within, "it is not text");
  assert_bytes_refused (picture, sizeof picture, "it is not text");
}

static void
test_a_file_of_megabytes_is_refused (void)
{
  const gsize length = 4u * 1024u * 1024u + 1u;
  g_autofree char *spaces = g_malloc (length);

  memset (spaces, ' ', length);
  assert_bytes_refused (spaces, length, "far too large");
}

static void
test_a_name_of_a_page_is_refused (void)
{
  g_autofree char *name = g_strnfill (256, 'A');
  g_autofree char *text = g_strdup_printf (START "%s 37.99 13.56 14.06\n" SECOND_ROW "END_DATA\n", name);

  assert_bytes_refused (text, strlen (text), "line 8: a value is longer than 255 letters");
}

static void
test_more_patches_than_any_chart_has_are_refused (void)
{
  g_autoptr (GString) text = g_string_new ("CGATS.17\n" COLUMNS "NUMBER_OF_SETS 2001\nBEGIN_DATA\n");

  for (guint i = 0; i < 2001; i++)
    g_string_append_printf (text, "P%u 50 0 0\n", i);
  g_string_append (text, "END_DATA\n");
  assert_bytes_refused (text->str, text->len, "it has 2001 patches; 1 to 2000 can be used");
}

/* Every beginning of a good file, and the file with every byte gone, ends well or in an error. */
static void
test_a_cut_or_gnawed_file_never_crashes (void)
{
  const gsize length = strlen (GOOD);

  for (gsize n = 0; n < length; n++)
    {
      g_autofree char *cut = g_memdup2 (GOOD, length);
      g_autoptr (GError) error = NULL;
      g_autoptr (SherdChart) beginning = sherd_chart_new_from_cgats (cut, (gssize)n, &error);
      g_autoptr (GError) gnawed_error = NULL;
      g_autoptr (SherdChart) gnawed = NULL;

      g_assert_true ((beginning == NULL) == (error != NULL));
      memmove (cut + n, cut + n + 1, length - n - 1);
      gnawed = sherd_chart_new_from_cgats (cut, (gssize)length - 1, &gnawed_error);
      g_assert_true ((gnawed == NULL) == (gnawed_error != NULL));
    }
}

static SherdChart *
read_shared (const char *path, GError **error)
{
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  return sherd_chart_new_from_cgats (text, (gssize)length, error);
}

static void
test_a_real_file_of_24_patches_is_read (void)
{
  g_autofree char *path = shared_path_or_skip ("corpus/numbers/cgats/chart24_reference_lab.cie");
  g_autoptr (SherdChart) chart = path != NULL ? read_shared (path, NULL) : NULL;

  if (path == NULL)
    return;
  g_assert_cmpuint (chart->patches->len, ==, 24);
  assert_patch (chart, 0, "A01", 37.99, 13.56, 14.06);
  assert_patch (chart, 5, "A06", 70.72, -33.40, -0.20);
  assert_patch (chart, 23, "D06", 20.46, -0.08, -0.97);
}

static void
test_a_real_file_with_xyz_alone_is_read (void)
{
  g_autofree char *path = shared_path_or_skip ("corpus/numbers/cgats/other_30_patch_reference.cie");
  g_autoptr (SherdChart) chart = path != NULL ? read_shared (path, NULL) : NULL;
  const cmsCIEXYZ first = { 0.478, 0.505, 0.532 };
  cmsCIELab theirs;

  if (path == NULL)
    return;
  cmsXYZ2Lab (NULL, &theirs, &first);
  g_assert_cmpuint (chart->patches->len, ==, 30);
  g_assert_cmpstr (patch (chart, 9)->name, ==, "A10");
  assert_lab_near (&patch (chart, 0)->lab, &(SherdLab){ theirs.L, theirs.a, theirs.b }, 1e-9);
}

static void
test_real_files_without_colours_are_refused (void)
{
  static const char *const names[] = { "corpus/numbers/cgats/chart_measurement_export.txt",
                                       "corpus/numbers/cgats/D50.sp" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = shared_path_or_skip (names[i]);
      g_autoptr (GError) error = NULL;

      if (path == NULL)
        return;
      g_assert_null (read_shared (path, &error));
      g_assert_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_CGATS);
    }
}

static void
add_refusals (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (bad_files); i++)
    {
      g_autofree char *path = g_strconcat ("/colour/chart/refuses/", bad_files[i].name, NULL);

      g_test_add_data_func (path, &bad_files[i], test_a_bad_file_is_refused);
    }
  g_test_add_func ("/colour/chart/refuses/bytes-that-are-no-text", test_bytes_that_are_no_text_are_refused);
  g_test_add_func ("/colour/chart/refuses/megabytes", test_a_file_of_megabytes_is_refused);
  g_test_add_func ("/colour/chart/refuses/name-of-a-page", test_a_name_of_a_page_is_refused);
  g_test_add_func ("/colour/chart/refuses/2001-patches", test_more_patches_than_any_chart_has_are_refused);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/colour/chart/plain-file", test_a_plain_file_is_read);
  g_test_add_func ("/colour/chart/any-line-end", test_any_line_end_will_do);
  g_test_add_func ("/colour/chart/byte-order-mark", test_a_byte_order_mark_is_passed_over);
  g_test_add_func ("/colour/chart/utf-16", test_utf_16_is_read);
  g_test_add_func ("/colour/chart/no-zero-at-the-end", test_the_text_need_not_end_with_a_zero);
  g_test_add_func ("/colour/chart/small-letters-comments-blanks",
                   test_small_letters_comments_and_blank_lines_are_passed_over);
  g_test_add_func ("/colour/chart/row-over-two-lines", test_a_row_may_go_on_over_the_next_line);
  g_test_add_func ("/colour/chart/numbers-in-any-decimal-way", test_numbers_may_be_written_in_any_decimal_way);
  g_test_add_func ("/colour/chart/names-as-written", test_names_stay_as_they_are_written);
  g_test_add_func ("/colour/chart/names-beyond-ascii", test_names_may_hold_spaces_signs_and_letters_beyond_ascii);
  g_test_add_func ("/colour/chart/place-name-first", test_the_name_that_tells_the_place_comes_first);
  g_test_add_func ("/colour/chart/one-column-of-names", test_one_column_of_names_is_enough);
  g_test_add_func ("/colour/chart/xyz-to-100", test_xyz_is_on_a_scale_to_100);
  g_test_add_func ("/colour/chart/lab-before-xyz", test_lab_comes_before_xyz);
  g_test_add_func ("/colour/chart/table-with-colours", test_the_table_with_colours_is_taken);
  g_test_add_func ("/colour/chart/table-for-d50", test_the_table_for_d50_is_taken);
  g_test_add_func ("/colour/chart/d50-and-2-degrees-named", test_d50_and_2_degrees_may_be_named);
  g_test_add_func ("/colour/chart/description", test_the_description_is_kept);
  g_test_add_func ("/colour/chart/typed-in", test_a_chart_may_be_typed_in);
  g_test_add_func ("/colour/chart/cut-or-gnawed", test_a_cut_or_gnawed_file_never_crashes);
  g_test_add_func ("/colour/chart/real-24-patches", test_a_real_file_of_24_patches_is_read);
  g_test_add_func ("/colour/chart/real-xyz-alone", test_a_real_file_with_xyz_alone_is_read);
  g_test_add_func ("/colour/chart/real-without-colours", test_real_files_without_colours_are_refused);
  add_refusals ();
  return g_test_run ();
}
