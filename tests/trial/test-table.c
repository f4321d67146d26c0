/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Expected text is written out by hand: quoting after RFC 4180, section 2, rules 5 to 7; widths after Unicode Standard
 * Annex 11 (wide letters take two cells, combining marks none). */
#include "config.h"

#include "trial/table.h"

#include <math.h>

static const SherdColumn columns[] = {
  { "zone", "Zone", SHERD_COLUMN_TEXT, 0 },     { "L", "L*", SHERD_COLUMN_NUMBER, 1 },
  { "L_low95", NULL, SHERD_COLUMN_NUMBER, 0 },  { "pixels", "Pixels", SHERD_COLUMN_INTEGER, 0 },
  { "changed", NULL, SHERD_COLUMN_BOOLEAN, 0 }, { "remark", "Remark", SHERD_COLUMN_TEXT, 0 },
};

static SherdTable *
table_of_two (const char *first, const char *second)
{
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));

  sherd_table_add_row (table);
  sherd_table_set_text (table, "zone", first);
  sherd_table_set_number (table, "L", -3.26);
  sherd_table_set_integer (table, "pixels", 1234);
  sherd_table_add_row (table);
  sherd_table_set_text (table, "zone", second);
  sherd_table_set_number (table, "L", 42.04);
  sherd_table_set_number (table, "L_low95", 0.1);
  sherd_table_set_integer (table, "pixels", 7);
  sherd_table_set_boolean (table, "changed", FALSE);
  sherd_table_set_text (table, "remark", "over-exposed");
  return table;
}

static void
test_numbers_stand_right_and_words_left (void)
{
  g_autoptr (SherdTable) table = table_of_two ("A1", "Rim 12");
  g_autofree char *text = sherd_table_to_text (table);

  g_assert_cmpstr (text, ==,
                   "Zone      L*  Pixels  Remark\n"
                   "A1      −3.3    1234\n"
                   "Rim 12  42.0       7  over-exposed\n");
}

static void
test_wide_letters_take_two_cells (void)
{
  g_autoptr (SherdTable) table = table_of_two ("黒い土", "Hearth");
  g_autofree char *text = sherd_table_to_text (table);

  g_assert_cmpstr (text, ==,
                   "Zone      L*  Pixels  Remark\n"
                   "黒い土  −3.3    1234\n"
                   "Hearth  42.0       7  over-exposed\n");
}

static void
test_combining_marks_take_no_cell (void)
{
  g_autoptr (SherdTable) table = table_of_two ("Gru\xcc\x88n", "Ocker");
  g_autofree char *text = sherd_table_to_text (table);

  g_assert_cmpstr (text, ==,
                   "Zone     L*  Pixels  Remark\n"
                   "Gru\xcc\x88n   −3.3    1234\n"
                   "Ocker  42.0       7  over-exposed\n");
}

static void
test_what_was_not_measured_is_a_dash_for_people (void)
{
  g_autoptr (SherdTable) table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  g_autofree char *number = NULL;
  g_autofree char *words = NULL;

  sherd_table_add_row (table);
  sherd_table_set_number (table, "L", NAN);
  number = sherd_table_dup_cell (table, 0, 1);
  words = sherd_table_dup_cell (table, 0, 5);
  g_assert_cmpstr (number, ==, "–");
  g_assert_cmpstr (words, ==, "");
}

static void
test_minus_is_a_minus_and_zero_has_none (void)
{
  static const struct
  {
    double value;
    const char *text;
  } rows[] = { { -0.04, "0.0" }, { -0.05001, "−0.1" }, { -12.0, "−12.0" }, { 0.0, "0.0" } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (SherdTable) table = sherd_table_new (columns, G_N_ELEMENTS (columns));
      g_autofree char *text = NULL;

      sherd_table_add_row (table);
      sherd_table_set_number (table, "L", rows[i].value);
      text = sherd_table_dup_cell (table, 0, 1);
      g_assert_cmpstr (text, ==, rows[i].text);
    }
}

static void
test_csv_is_rfc_4180 (void)
{
  g_autoptr (SherdTable) table = table_of_two ("a \"black\", fired", "two\nlines");
  g_autofree char *csv = sherd_table_to_csv (table);

  g_assert_cmpstr (csv, ==,
                   "zone,L,L_low95,pixels,changed,remark\r\n"
                   "\"a \"\"black\"\", fired\",-3.26,,1234,,\r\n"
                   "\"two\nlines\",42.04,0.1,7,false,over-exposed\r\n");
}

static void
test_json_says_null_for_not_measured (void)
{
  g_autoptr (SherdTable) table = table_of_two ("A1", "A2");
  g_autoptr (JsonNode) node = sherd_table_to_json (table);
  g_autofree char *json = json_to_string (node, FALSE);
  g_autoptr (JsonNode) expected = json_from_string (
    "[{\"zone\":\"A1\",\"L\":-3.26,\"L_low95\":null,\"pixels\":1234,\"changed\":null,\"remark\":null},"
    "{\"zone\":\"A2\",\"L\":42.04,\"L_low95\":0.1,\"pixels\":7,\"changed\":false,"
    "\"remark\":\"over-exposed\"}]",
    NULL);
  g_autoptr (JsonNode) read_back = json_from_string (json, NULL);

  g_assert_true (json_node_equal (read_back, expected));
}

static void
test_an_empty_table_has_its_headings (void)
{
  g_autoptr (SherdTable) table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  g_autofree char *text = sherd_table_to_text (table);
  g_autofree char *csv = sherd_table_to_csv (table);
  g_autoptr (JsonNode) json = sherd_table_to_json (table);

  g_assert_cmpstr (text, ==, "Zone  L*  Pixels  Remark\n");
  g_assert_cmpstr (csv, ==, "zone,L,L_low95,pixels,changed,remark\r\n");
  g_assert_cmpuint (json_array_get_length (json_node_get_array (json)), ==, 0);
}

static void
test_text_keeps_a_row_on_its_line (void)
{
  g_autoptr (SherdTable) table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  g_autofree char *text = NULL;

  sherd_table_add_row (table);
  sherd_table_set_text (table, "zone", "A\n\033[2J");
  text = sherd_table_to_text (table);
  g_assert_cmpstr (text, ==, "Zone              L*  Pixels  Remark\nA\\u000a\\u001b[2J   –       –\n");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/table/numbers-stand-right-and-words-left", test_numbers_stand_right_and_words_left);
  g_test_add_func ("/trial/table/wide-letters-take-two-cells", test_wide_letters_take_two_cells);
  g_test_add_func ("/trial/table/combining-marks-take-no-cell", test_combining_marks_take_no_cell);
  g_test_add_func ("/trial/table/what-was-not-measured-is-a-dash-for-people",
                   test_what_was_not_measured_is_a_dash_for_people);
  g_test_add_func ("/trial/table/minus-is-a-minus-and-zero-has-none", test_minus_is_a_minus_and_zero_has_none);
  g_test_add_func ("/trial/table/csv-is-rfc-4180", test_csv_is_rfc_4180);
  g_test_add_func ("/trial/table/json-says-null-for-not-measured", test_json_says_null_for_not_measured);
  g_test_add_func ("/trial/table/an-empty-table-has-its-headings", test_an_empty_table_has_its_headings);
  g_test_add_func ("/trial/table/text-keeps-a-row-on-its-line", test_text_keeps_a_row_on_its_line);
  return g_test_run ();
}
