/* SPDX-License-Identifier: GPL-3.0-or-later */
/* data/trial.schema.json against what the writer writes. The checker below knows just the words of JSON Schema (draft
 * 2020-12) that the schema uses and stops at any other, so that nothing in the schema goes unchecked. */
#include "config.h"

#include <json-glib/json-glib.h>
#include <string.h>

#include "support.h"
#include "trial/file.h"

typedef struct
{
  JsonObject *root;
  GHashTable *met;    /* "definition.member" that the text has */
  GPtrArray *strange; /* members of the text that the schema lacks, problems */
} Check;

static void check_value (Check *check, JsonNode *value, JsonObject *schema, const char *place);

static JsonObject *
load_schema (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("SHERD_DATA_DIR"), "trial.schema.json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;

  json_parser_load_from_file (parser, path, &error);
  g_assert_no_error (error);
  return json_object_ref (json_node_get_object (json_parser_get_root (parser)));
}

static void G_GNUC_PRINTF (3, 4) complain (Check *check, const char *place, const char *format, ...)
{
  g_autofree char *problem = NULL;
  va_list arguments;

  va_start (arguments, format);
  problem = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_ptr_array_add (check->strange, g_strdup_printf ("%s: %s", place, problem));
}

static gboolean
is_type (JsonNode *value, const char *type)
{
  const GType held = JSON_NODE_HOLDS_VALUE (value) ? json_node_get_value_type (value) : G_TYPE_INVALID;

  if (g_str_equal (type, "object"))
    return JSON_NODE_HOLDS_OBJECT (value);
  if (g_str_equal (type, "array"))
    return JSON_NODE_HOLDS_ARRAY (value);
  if (g_str_equal (type, "null"))
    return JSON_NODE_HOLDS_NULL (value);
  if (g_str_equal (type, "string"))
    return held == G_TYPE_STRING;
  if (g_str_equal (type, "boolean"))
    return held == G_TYPE_BOOLEAN;
  if (g_str_equal (type, "integer"))
    return held == G_TYPE_INT64;
  g_assert_cmpstr (type, ==, "number");
  return held == G_TYPE_INT64 || held == G_TYPE_DOUBLE;
}

static void
check_type (Check *check, JsonNode *value, JsonNode *type, const char *place)
{
  gboolean fits = FALSE;

  if (JSON_NODE_HOLDS_ARRAY (type))
    for (guint i = 0; i < json_array_get_length (json_node_get_array (type)); i++)
      fits = fits || is_type (value, json_array_get_string_element (json_node_get_array (type), i));
  else
    fits = is_type (value, json_node_get_string (type));
  if (!fits)
    complain (check, place, "wrong type");
}

static void
check_enum (Check *check, JsonNode *value, JsonArray *choices, const char *place)
{
  for (guint i = 0; i < json_array_get_length (choices); i++)
    if (json_node_equal (value, json_array_get_element (choices, i)))
      return;
  complain (check, place, "not among the choices");
}

static void
check_required (Check *check, JsonObject *object, JsonArray *required, const char *place)
{
  for (guint i = 0; i < json_array_get_length (required); i++)
    if (!json_object_has_member (object, json_array_get_string_element (required, i)))
      complain (check, place, "lacks %s", json_array_get_string_element (required, i));
}

/* @place names the definition, not the position, so that members are counted per definition. */
static void
check_members (Check *check, JsonObject *object, JsonObject *properties, const char *place)
{
  g_autoptr (GList) members = json_object_get_members (object);

  for (GList *link = members; link != NULL; link = link->next)
    {
      g_autofree char *member = g_strdup_printf ("%s.%s", place, (const char *)link->data);

      g_hash_table_add (check->met, g_strdup (member));
      if (json_object_has_member (properties, link->data))
        check_value (check, json_object_get_member (object, link->data),
                     json_object_get_object_member (properties, link->data), member);
      else
        complain (check, member, "is not in the schema");
    }
}

static void
check_items (Check *check, JsonArray *array, JsonObject *items, const char *place)
{
  for (guint i = 0; i < json_array_get_length (array); i++)
    check_value (check, json_array_get_element (array, i), items, place);
}

static gsize
letters (JsonNode *value)
{
  return (gsize)g_utf8_strlen (json_node_get_string (value), -1);
}

static void
check_bound (Check *check, JsonNode *value, const char *word, JsonNode *bound, const char *place)
{
  const double limit = json_node_get_double (bound);
  double size = 0.0;

  if (g_str_has_suffix (word, "imum") && !JSON_NODE_HOLDS_NULL (value))
    size = json_node_get_double (value);
  else if (g_str_has_suffix (word, "Length"))
    size = (double)letters (value);
  else if (JSON_NODE_HOLDS_ARRAY (value))
    size = json_array_get_length (json_node_get_array (value));
  else
    return;
  if (g_str_has_prefix (word, "min") ? size < limit : size > limit)
    complain (check, place, "%g breaks %s %g", size, word, limit);
}

static void
check_reference (Check *check, JsonNode *value, const char *reference)
{
  JsonObject *definitions = json_object_get_object_member (check->root, "$defs");
  const char *name = reference + strlen ("#/$defs/");

  g_assert_true (g_str_has_prefix (reference, "#/$defs/"));
  g_assert_true (json_object_has_member (definitions, name));
  check_value (check, value, json_object_get_object_member (definitions, name), name);
}

static void
check_word (Check *check, JsonNode *value, const char *word, JsonNode *rule, const char *place)
{
  if (g_str_equal (word, "type"))
    check_type (check, value, rule, place);
  else if (g_str_equal (word, "enum"))
    check_enum (check, value, json_node_get_array (rule), place);
  else if (g_str_equal (word, "const") && !json_node_equal (value, rule))
    complain (check, place, "is not the constant");
  else if (g_str_equal (word, "required") && JSON_NODE_HOLDS_OBJECT (value))
    check_required (check, json_node_get_object (value), json_node_get_array (rule), place);
  else if (g_str_equal (word, "properties") && JSON_NODE_HOLDS_OBJECT (value))
    check_members (check, json_node_get_object (value), json_node_get_object (rule), place);
  else if (g_str_equal (word, "items") && JSON_NODE_HOLDS_ARRAY (value))
    check_items (check, json_node_get_array (value), json_node_get_object (rule), place);
  else if (g_str_has_prefix (word, "min") || g_str_has_prefix (word, "max"))
    check_bound (check, value, word, rule, place);
  else if (g_str_equal (word, "pattern") &&
           !g_regex_match_simple (json_node_get_string (rule), json_node_get_string (value), 0, 0))
    complain (check, place, "“%s” does not fit the pattern", json_node_get_string (value));
  else if (g_str_equal (word, "$ref"))
    check_reference (check, value, json_node_get_string (rule));
}

static void
check_value (Check *check, JsonNode *value, JsonObject *schema, const char *place)
{
  static const char *const known[] = { "type",      "enum",      "const",    "required",    "properties",
                                       "items",     "minItems",  "maxItems", "minimum",     "maximum",
                                       "minLength", "maxLength", "pattern",  "$ref",        "$defs",
                                       "$schema",   "$id",       "title",    "description", NULL };
  g_autoptr (GList) words = json_object_get_members (schema);

  for (GList *link = words; link != NULL; link = link->next)
    {
      g_assert_true (g_strv_contains (known, link->data));
      check_word (check, value, link->data, json_object_get_member (schema, link->data), place);
    }
}

static void
check_text (Check *check, const char *text)
{
  g_autoptr (JsonNode) root = json_from_string (text, NULL);

  check_value (check, root, check->root, "trial");
}

static Check *
check_new (void)
{
  Check *check = g_new0 (Check, 1);

  check->root = load_schema ();
  check->met = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  check->strange = g_ptr_array_new_with_free_func (g_free);
  return check;
}

static void
check_free (Check *check)
{
  json_object_unref (check->root);
  g_hash_table_unref (check->met);
  g_ptr_array_unref (check->strange);
  g_free (check);
}

static void
assert_nothing_strange (Check *check)
{
  for (guint i = 0; i < check->strange->len; i++)
    g_test_message ("%s", (char *)g_ptr_array_index (check->strange, i));
  g_assert_cmpuint (check->strange->len, ==, 0);
}

static void
test_the_writer_keeps_to_the_schema (void)
{
  g_autofree char *text = example_trial_dup_text ();
  g_autoptr (SherdTrial) empty = sherd_trial_new ();
  g_autofree char *empty_text = sherd_trial_dup_text (empty, NULL);
  Check *check = check_new ();

  check_text (check, text);
  check_text (check, empty_text);
  assert_nothing_strange (check);
  check_free (check);
}

static void
assert_members_met (Check *check, const char *name, JsonObject *definition)
{
  g_autoptr (GList) members = NULL;

  if (!json_object_has_member (definition, "properties"))
    return;
  members = json_object_get_members (json_object_get_object_member (definition, "properties"));
  for (GList *link = members; link != NULL; link = link->next)
    {
      g_autofree char *member = g_strdup_printf ("%s.%s", name, (const char *)link->data);

      if (!g_hash_table_contains (check->met, member))
        g_test_message ("%s is in the schema and never written", member);
      g_assert_true (g_hash_table_contains (check->met, member));
      g_assert_true (json_object_has_member (json_object_get_object_member (
                                               json_object_get_object_member (definition, "properties"), link->data),
                                             "description") ||
                     json_object_has_member (json_object_get_object_member (
                                               json_object_get_object_member (definition, "properties"), link->data),
                                             "$ref"));
    }
}

static void
test_the_schema_has_no_member_that_is_never_written (void)
{
  g_autofree char *text = example_trial_dup_text ();
  Check *check = check_new ();
  JsonObject *definitions = json_object_get_object_member (check->root, "$defs");
  g_autoptr (GList) names = json_object_get_members (definitions);

  check_text (check, text);
  assert_members_met (check, "trial", check->root);
  for (GList *link = names; link != NULL; link = link->next)
    assert_members_met (check, link->data, json_object_get_object_member (definitions, link->data));
  check_free (check);
}

static void
test_the_checker_sees_a_spoilt_text (void)
{
  static const char *const spoilt[][2] = {
    { "\"coats\": 2", "\"coats\": 200" }, { "\"coats\": 2", "\"layers\": 2" }, { "\"face\"", "\"rim\"" },
    { "\"seed\": 42", "\"seeds\": 42" },  { "[100.25, 80]", "[100.25]" },      { "\"stage\": \"unf", "\"stage\": \"f" },
  };
  g_autofree char *text = example_trial_dup_text ();

  for (gsize i = 0; i < G_N_ELEMENTS (spoilt); i++)
    {
      g_autoptr (GString) changed = g_string_new (text);
      Check *check = check_new ();

      g_assert_cmpuint (g_string_replace (changed, spoilt[i][0], spoilt[i][1], 1), ==, 1);
      check_text (check, changed->str);
      g_assert_cmpuint (check->strange->len, >, 0);
      check_free (check);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/schema/the-writer-keeps-to-it", test_the_writer_keeps_to_the_schema);
  g_test_add_func ("/trial/schema/has-no-member-that-is-never-written",
                   test_the_schema_has_no_member_that_is_never_written);
  g_test_add_func ("/trial/schema/the-checker-sees-a-spoilt-text", test_the_checker_sees_a_spoilt_text);
  return g_test_run ();
}
