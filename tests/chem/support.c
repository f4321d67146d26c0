/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "support.h"

#include <math.h>
#include <string.h>

static void
check_value_free (gpointer data)
{
  CheckValue *value = data;

  g_free (value->quantity);
  g_free (value);
}

/* Fields in quotes may hold commas; none holds a quote. */
GStrv
split_row (const char *row)
{
  g_autoptr (GStrvBuilder) fields = g_strv_builder_new ();

  while (row != NULL)
    {
      const gboolean quoted = *row == '"';
      const char *end = quoted ? strchr (row + 1, '"') : row + strcspn (row, ",");
      g_autofree char *field = g_strndup (row + quoted, (gsize)(end - row - quoted));

      g_strv_builder_add (fields, field);
      end += quoted;
      row = *end == ',' ? end + 1 : NULL;
    }
  return g_strv_builder_end (fields);
}

GStrv
rows_of_file (const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "chem", name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  return g_strsplit (g_strstrip (text), "\n", 0);
}

GHashTable *
check_values_new (void)
{
  GHashTable *values = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, check_value_free);
  g_auto (GStrv) lines = rows_of_file ("check-values.csv");

  for (guint i = 1; lines[i] != NULL; i++)
    {
      g_auto (GStrv) fields = split_row (lines[i]);
      CheckValue *value = g_new0 (CheckValue, 1);

      g_assert_cmpuint (g_strv_length (fields), ==, 6);
      value->quantity = g_strdup (fields[1]);
      value->value = g_ascii_strtod (fields[2], NULL);
      value->tolerance = g_ascii_strtod (fields[3], NULL);
      g_hash_table_insert (values, g_strdup (fields[0]), value);
    }
  return values;
}

const CheckValue *
check_value (GHashTable *values, const char *id)
{
  const CheckValue *value = g_hash_table_lookup (values, id);

  g_assert_nonnull (value);
  return value;
}

void
assert_near (GHashTable *values, const char *id, double found)
{
  const CheckValue *wanted = check_value (values, id);

  if (!(fabs (found - wanted->value) <= wanted->tolerance))
    g_error ("%s (%s): wanted %g ± %g, found %.6g", id, wanted->quantity, wanted->value, wanted->tolerance, found);
}
