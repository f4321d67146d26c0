/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts and what must become of them after RFC 8259, written by hand; the corpus is the public conformance collection
 * whose names say y (must pass), n (must fail), i (free): "Parsing JSON is a minefield", N. Seriot 2016. */
#include "config.h"

#include <string.h>

#include "support.h"
#include "trial/file.h"
#include "trial/json-text.h"

typedef struct
{
  const char *what;
  const char *text;
  const char *message; /* NULL: passes; else what the message begins with */
} Case;

static const Case cases[] = {
  { "empty-object", "{}", NULL },
  { "scalar", " 12 ", NULL },
  { "numbers", "[0, -0, -1.5, 1e5, 1E-5, 2.50e+3, 9223372036854775807, -9223372036854775808]", NULL },
  { "escapes", "\"\\\"\\\\\\/\\b\\f\\n\\r\\t\\u00e9\\ud83d\\ude00\"", NULL },
  { "byte-order-mark", "\xef\xbb\xbf{}", NULL },
  { "underflow-is-zero", "1e-999", NULL },
  { "nothing", "", "line 1: the file ends" },
  { "only-space", " \n ", "line 2: the file ends" },
  { "second-root", "{}\n{}", "line 2: something stands behind" },
  { "comment", "{\n// no\n\"a\": 1}", "line 2: “/” is not expected" },
  { "assignment", "var x = {};", "line 1: “v” is not expected" },
  { "trailing-comma", "[1,]", "line 1, [1]: “]” is not expected" },
  { "trailing-comma-in-object", "{\"a\":1,}", "line 1: “}” is not expected" },
  { "missing-colon", "{\"a\" 1}", "line 1, a: “1” is not expected" },
  { "missing-comma", "[1 2]", "line 1: “2” is not expected" },
  { "single-quotes", "{'a': 1}", "line 1: “'” is not expected" },
  { "leading-zero", "[01]", "line 1, [0]: a number must not begin with 0" },
  { "no-digit-after-point", "[1.]", "line 1, [0]: a number lacks a digit" },
  { "no-digit-before-point", "[.5]", "line 1, [0]: “.” is not expected" },
  { "no-digit-in-exponent", "[1e]", "line 1, [0]: a number lacks a digit" },
  { "plus", "[+1]", "line 1, [0]: “+” is not expected" },
  { "nan", "{\"a\":\n NaN}", "line 2, a: “N” is not expected" },
  { "whole-overflow", "{\"a\": [1, 9223372036854775808]}",
    "line 1, a[1]: the number 9223372036854775808 is too large" },
  { "whole-underflow", "[-9223372036854775809]", "line 1, [0]: the number" },
  { "double-overflow", "[1e400]", "line 1, [0]: the number 1e400 is too large" },
  { "member-twice", "{\"a\": {\"b\": 1,\n \"b\": 2}}", "line 2, a.b: this member is there twice" },
  { "member-twice-escaped", "{\"a\": 1, \"\\u0061\": 2}", "line 1, a: this member is there twice" },
  { "unclosed-text", "[\"abc", "line 1, [0]: the file ends" },
  { "newline-in-text", "[\"ab\ncd\"]", "line 1, [0]: a text is not closed" },
  { "unknown-escape", "[\"\\x\"]", "line 1, [0]: an unknown escape" },
  { "short-unicode-escape", "[\"\\u12\"]", "line 1, [0]: “\\u” must be followed" },
  { "nul-escape", "[\"\\u0000\"]", "line 1, [0]: a NUL" },
  { "lone-high-surrogate", "[\"\\ud800\"]", "line 1, [0]: half a character" },
  { "lone-low-surrogate", "[\"\\udc00\"]", "line 1, [0]: half a character" },
  { "two-high-surrogates", "[\"\\ud800\\ud800\"]", "line 1, [0]: half a character" },
  { "not-utf8", "{\n\"a\": \"\xff\"}", "line 2: this is not UTF-8" },
  { "half-word", "[tru]", "line 1, [0]: “t” is not expected" },
};

static void
test_case (gconstpointer data)
{
  const Case *one = data;
  g_autoptr (GError) error = NULL;
  const gboolean passed = sherd_json_check (one->text, strlen (one->text), &error);

  if (one->message == NULL)
    {
      g_assert_no_error (error);
      g_assert_true (passed);
      return;
    }
  g_assert_false (passed);
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SYNTAX);
  if (!g_str_has_prefix (error->message, one->message))
    g_assert_cmpstr (error->message, ==, one->message);
}

static char *
nested (guint depth)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < depth; i++)
    g_string_append_c (text, '[');
  for (guint i = 0; i < depth; i++)
    g_string_append_c (text, ']');
  return g_string_free (text, FALSE);
}

static void
test_nesting_is_limited (void)
{
  g_autofree char *allowed = nested (SHERD_JSON_MAX_DEPTH);
  g_autofree char *deeper = nested (SHERD_JSON_MAX_DEPTH + 1);
  g_autofree char *absurd = nested (1000000);

  g_assert_true (sherd_json_check (allowed, strlen (allowed), NULL));
  g_assert_false (sherd_json_check (deeper, strlen (deeper), NULL));
  g_assert_false (sherd_json_check (absurd, strlen (absurd), NULL));
}

/* Without a NUL behind the text: valgrind and sanitizers see a read past its end. */
static void
test_nothing_behind_the_end_is_read (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const gsize length = strlen (cases[i].text);
      g_autofree char *exact = g_memdup2 (cases[i].text, length);

      g_assert_cmpint (sherd_json_check (exact, length, NULL), ==, cases[i].message == NULL);
    }
}

static void
test_a_line_is_found_by_path (void)
{
  const char *text = "{\n\"a\": [\n{\"b\": 1},\n{\"b\":\n2}\n],\n\"ab\": 3}";

  g_assert_cmpuint (sherd_json_find_line (text, strlen (text), ""), ==, 1);
  g_assert_cmpuint (sherd_json_find_line (text, strlen (text), "a"), ==, 2);
  g_assert_cmpuint (sherd_json_find_line (text, strlen (text), "a[0].b"), ==, 3);
  g_assert_cmpuint (sherd_json_find_line (text, strlen (text), "a[1]"), ==, 4);
  g_assert_cmpuint (sherd_json_find_line (text, strlen (text), "a[1].b"), ==, 5);
  g_assert_cmpuint (sherd_json_find_line (text, strlen (text), "ab"), ==, 7);
  /* What is missing is told where the thing that lacks it begins. */
  g_assert_cmpuint (sherd_json_find_line (text, strlen (text), "a[1].c"), ==, 4);
  g_assert_cmpuint (sherd_json_find_line (text, strlen (text), "x"), ==, 1);
}

/* Names of files that the collection calls valid or free and that this reader refuses, as it says in json-text.h. */
static gboolean
refused_by_choice (const char *name)
{
  static const char *const names[] = { "y_object_duplicated_key.json", "y_object_duplicated_key_and_value.json",
                                       "y_string_null_escape.json", NULL };

  return g_strv_contains (names, name);
}

static void
check_file (const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;
  gboolean passed;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  passed = sherd_json_check (text, length, &error);
  g_test_message ("%s: %s", name, passed ? "passes" : error->message);
  g_assert_cmpint (passed, ==, error == NULL);
  if (g_str_has_prefix (name, "n_"))
    g_assert_false (passed);
  if (g_str_has_prefix (name, "y_"))
    g_assert_cmpint (passed, ==, !refused_by_choice (name));
  /* None of them is a trial. */
  g_clear_error (&error);
  g_assert_null (sherd_trial_new_from_text (text, length, name, &error));
  g_assert_true (error->domain == SHERD_TRIAL_ERROR);
}

static void
test_hostile_files_are_refused_or_passed_as_named (void)
{
  g_autofree char *folder = shared_path_or_skip ("corpus/json");
  g_autoptr (GDir) dir = folder != NULL ? g_dir_open (folder, 0, NULL) : NULL;
  const char *name;
  guint n_files = 0;

  if (folder == NULL)
    return;
  for (; (name = g_dir_read_name (dir)) != NULL; n_files++)
    check_file (folder, name);
  g_assert_cmpuint (n_files, >, 30);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *name = g_strdup_printf ("/trial/json-text/%s", cases[i].what);

      g_test_add_data_func (name, &cases[i], test_case);
    }
  g_test_add_func ("/trial/json-text/nesting-is-limited", test_nesting_is_limited);
  g_test_add_func ("/trial/json-text/nothing-behind-the-end-is-read", test_nothing_behind_the_end_is_read);
  g_test_add_func ("/trial/json-text/a-line-is-found-by-path", test_a_line_is_found_by_path);
  g_test_add_func ("/trial/json-text/hostile-files-are-refused-or-passed-as-named",
                   test_hostile_files_are_refused_or_passed_as_named);
  return g_test_run ();
}
