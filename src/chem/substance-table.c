/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/substance-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "chem/embedded.h"

/* Our choice: our own is a fifth of it. */
#define MOST_BYTES 500000

typedef struct
{
  SherdSubstanceTable *table;
  SherdSubstance *substance; /* (nullable): the one being read */
  SherdHeatStep step;        /* its words are not yet read */
  SherdSource *source;       /* (nullable) */
  GString *text;
  double density_doubt_frac;
} Reading;

static const char *const fact_words[SHERD_N_FACTS] = { "composition", "density", "bulk", "heat", "colour" };

static void
source_free (gpointer data)
{
  SherdSource *source = data;

  g_free (source->id);
  g_free (source->citation);
  g_free (source->how_known);
  g_free (source);
}

void
sherd_substance_table_free (SherdSubstanceTable *table)
{
  if (table == NULL)
    return;
  g_ptr_array_unref (table->substances);
  g_ptr_array_unref (table->sources);
  g_free (table);
}

#define refuse(error, ...) sherd_refuse (error, SHERD_CHEM_ERROR_TABLE, __VA_ARGS__)

/* @text: (nullable): when absent the value stays. */
static gboolean
take_number (const char *text, double least, double most, double *value, GError **error)
{
  char *end = NULL;
  double number;

  if (text == NULL)
    return TRUE;
  number = g_ascii_strtod (text, &end);
  if (end == text || *end != '\0' || !isfinite (number) || strspn (text, "0123456789.") != strlen (text))
    return refuse (error, _ ("“%s” is not a number."), text);
  if (number < least || number > most)
    return refuse (error, _ ("%s lies outside %g to %g."), text, least, most);
  *value = number;
  return TRUE;
}

static gboolean
take_kind (const char *text, SherdSubstanceKind *kind, GError **error)
{
  for (guint i = 0; i < SHERD_N_SUBSTANCE_KINDS; i++)
    if (strcmp (text, sherd_substance_kind_get_id (i)) == 0)
      {
        *kind = i;
        return TRUE;
      }
  return refuse (error, _ ("“%s” is no kind of material."), text);
}

static gboolean
take_hazards (const char *text, SherdHazards *hazards, GError **error)
{
  g_auto (GStrv) ids = g_strsplit (text != NULL ? text : "", " ", 0);

  for (guint i = 0; ids[i] != NULL; i++)
    {
      const SherdHazards hazard = sherd_hazard_from_id (ids[i]);

      if (*ids[i] != '\0' && hazard == 0)
        return refuse (error, _ ("“%s” is no hazard."), ids[i]);
      *hazards |= hazard;
    }
  return TRUE;
}

#define ATTRIBUTES element, names, values, error
#define OPTIONAL (G_MARKUP_COLLECT_STRING | G_MARKUP_COLLECT_OPTIONAL)

static gboolean
begin_table (Reading *reading, const char *element, const char **names, const char **values, GError **error)
{
  const char *doubt_pct = NULL;
  double pct = 0.0;

  if (!g_markup_collect_attributes (ATTRIBUTES, G_MARKUP_COLLECT_STRING, "density-doubt-pct", &doubt_pct,
                                    G_MARKUP_COLLECT_INVALID) ||
      !take_number (doubt_pct, 0.0, 50.0, &pct, error))
    return FALSE;
  reading->density_doubt_frac = pct / 100.0;
  return TRUE;
}

static gboolean
begin_source (Reading *reading, const char *element, const char **names, const char **values, GError **error)
{
  const char *id, *known;

  if (!g_markup_collect_attributes (ATTRIBUTES, G_MARKUP_COLLECT_STRING, "id", &id, G_MARKUP_COLLECT_STRING, "known",
                                    &known, G_MARKUP_COLLECT_INVALID))
    return FALSE;
  if (sherd_substance_table_find_source (reading->table, id) != NULL)
    return refuse (error, _ ("the source “%s” stands twice."), id);
  reading->source = g_new0 (SherdSource, 1);
  reading->source->id = g_strdup (id);
  reading->source->how_known = g_strdup (known);
  g_ptr_array_add (reading->table->sources, reading->source);
  return TRUE;
}

static gboolean
begin_material (Reading *reading, const char *element, const char **names, const char **values, GError **error)
{
  const char *id, *kind_word, *density, *bulk = NULL, *bulk_doubt = NULL, *hazards = NULL;
  SherdSubstanceKind kind = 0;
  SherdSubstance *substance;

  if (!g_markup_collect_attributes (ATTRIBUTES, G_MARKUP_COLLECT_STRING, "id", &id, G_MARKUP_COLLECT_STRING, "kind",
                                    &kind_word, G_MARKUP_COLLECT_STRING, "density", &density, OPTIONAL, "bulk", &bulk,
                                    OPTIONAL, "bulk-doubt", &bulk_doubt, OPTIONAL, "hazards", &hazards,
                                    G_MARKUP_COLLECT_INVALID) ||
      !take_kind (kind_word, &kind, error))
    return FALSE;
  if (*id == '\0' || sherd_substance_table_find (reading->table, id) != NULL)
    return refuse (error, _ ("the material “%s” stands twice, or has no name for files."), id);
  substance = reading->substance = sherd_substance_new (id, NULL, kind);
  g_ptr_array_add (reading->table->substances, substance);
  substance->is_built_in = TRUE;
  if (!take_number (density, 0.1, 24.0, &substance->particle_g_ml.value, error) ||
      !take_number (bulk, 0.01, 24.0, &substance->bulk_g_ml.value, error) ||
      !take_number (bulk_doubt, 0.0, 24.0, &substance->bulk_g_ml.u, error))
    return FALSE;
  substance->particle_g_ml.u = substance->particle_g_ml.value * reading->density_doubt_frac;
  return take_hazards (hazards, &substance->hazards, error);
}

static gboolean
begin_heat (Reading *reading, const char *element, const char **names, const char **values, GError **error)
{
  const char *from = NULL, *to = NULL;

  reading->step = (SherdHeatStep){ NAN, NAN, NULL };
  if (!g_markup_collect_attributes (ATTRIBUTES, OPTIONAL, "from", &from, OPTIONAL, "to", &to,
                                    G_MARKUP_COLLECT_INVALID) ||
      !take_number (from, 0.0, 2000.0, &reading->step.from_c, error) ||
      !take_number (to, 0.0, 2000.0, &reading->step.to_c, error))
    return FALSE;
  if (reading->step.to_c < reading->step.from_c)
    return refuse (error, _ ("a heat step ends below where it begins."));
  return TRUE;
}

static gboolean
begin_glass (Reading *reading, const char *element, const char **names, const char **values, GError **error)
{
  SherdSubstance *substance = reading->substance;
  const char *from, *to, *flows_from, *flows_to;

  if (!g_markup_collect_attributes (ATTRIBUTES, G_MARKUP_COLLECT_STRING, "softens-from", &from, G_MARKUP_COLLECT_STRING,
                                    "softens-to", &to, G_MARKUP_COLLECT_STRING, "flows-from", &flows_from,
                                    G_MARKUP_COLLECT_STRING, "flows-to", &flows_to, G_MARKUP_COLLECT_INVALID))
    return FALSE;
  return take_number (from, 300.0, 1500.0, &substance->softens_c.low, error) &&
         take_number (to, substance->softens_c.low, 1500.0, &substance->softens_c.high, error) &&
         take_number (flows_from, substance->softens_c.low, 1500.0, &substance->flows_c.low, error) &&
         take_number (flows_to, substance->flows_c.low, 1500.0, &substance->flows_c.high, error);
}

static gboolean
check_sources (const SherdSubstanceTable *table, const char *text, GError **error)
{
  g_auto (GStrv) ids = g_strsplit (text, " ", 0);

  for (guint i = 0; ids[i] != NULL; i++)
    if (sherd_substance_table_find_source (table, ids[i]) == NULL)
      return refuse (error, _ ("there is no source “%s”."), ids[i]);
  return TRUE;
}

static gboolean
begin_sources (Reading *reading, const char *element, const char **names, const char **values, GError **error)
{
  const char *found[SHERD_N_FACTS];

  if (!g_markup_collect_attributes (ATTRIBUTES, G_MARKUP_COLLECT_STRING, fact_words[0], &found[0],
                                    G_MARKUP_COLLECT_STRING, fact_words[1], &found[1], G_MARKUP_COLLECT_STRING,
                                    fact_words[2], &found[2], G_MARKUP_COLLECT_STRING, fact_words[3], &found[3],
                                    G_MARKUP_COLLECT_STRING, fact_words[4], &found[4], G_MARKUP_COLLECT_INVALID))
    return FALSE;
  for (guint i = 0; i < SHERD_N_FACTS; i++)
    {
      if (!check_sources (reading->table, found[i], error))
        return FALSE;
      g_free (reading->substance->sources[i]);
      reading->substance->sources[i] = g_strdup (found[i]);
    }
  return TRUE;
}

typedef gboolean (
  *Begin) (Reading *reading, const char *element, const char **names, const char **values, GError **error);

static gboolean
begin_plain (Reading *reading, const char *element, const char **names, const char **values, GError **error)
{
  return g_markup_collect_attributes (ATTRIBUTES, G_MARKUP_COLLECT_INVALID, NULL);
}

/* Which element may stand in which. */
static const struct
{
  const char *name;
  const char *parent; /* NULL: the whole */
  Begin begin;
} elements[] = {
  { "materials", NULL, begin_table },          { "source", "materials", begin_source },
  { "material", "materials", begin_material }, { "name", "material", begin_plain },
  { "formula", "material", begin_plain },      { "analysis", "material", begin_plain },
  { "raw", "material", begin_plain },          { "fired", "material", begin_plain },
  { "heat", "material", begin_heat },          { "glass", "material", begin_glass },
  { "note", "material", begin_plain },         { "sources", "material", begin_sources },
};

static void
start_element (GMarkupParseContext *context,
               const char *name,
               const char **names,
               const char **values,
               gpointer data,
               GError **error)
{
  const GSList *stack = g_markup_parse_context_get_element_stack (context);
  const char *parent = stack->next != NULL ? stack->next->data : NULL;
  Reading *reading = data;

  g_string_truncate (reading->text, 0);
  for (guint i = 0; i < G_N_ELEMENTS (elements); i++)
    if (strcmp (name, elements[i].name) == 0 && g_strcmp0 (parent, elements[i].parent) == 0)
      {
        elements[i].begin (reading, name, names, values, error);
        return;
      }
  refuse (error, _ ("<%s> does not belong here."), name);
}

static void
take_text (char **target, const char *text)
{
  g_free (*target);
  *target = g_strdup (text);
}

static gboolean
end_material (Reading *reading, GError **error)
{
  SherdSubstance *substance = g_steal_pointer (&reading->substance);
  g_autoptr (GError) reason = NULL;

  if (*substance->name == '\0')
    return refuse (error, _ ("the material “%s” has no name."), substance->id);
  if (substance->sources[SHERD_FACT_COMPOSITION] == NULL)
    return refuse (error, _ ("the material “%s” has no sources."), substance->id);
  if (!sherd_substance_check (substance, &reason))
    return refuse (error, "%s", reason->message);
  return TRUE;
}

static gboolean
end_content (SherdSubstance *substance, const char *text, gboolean is_formula, GError **error)
{
  g_autoptr (GError) reason = NULL;
  const gboolean good = is_formula ? sherd_substance_set_formula (substance, text, NULL, &reason)
                                   : sherd_substance_set_analysis (substance, text, NULL, &reason);

  return good || refuse (error, "%s", reason->message);
}

/* GMarkup does so only where an element begins. */
static void
prefix_line (GMarkupParseContext *context, GError **error)
{
  int line;

  g_markup_parse_context_get_position (context, &line, NULL);
  g_prefix_error (error, _ ("Line %d: "), line);
}

static void
end_element (GMarkupParseContext *context, const char *name, gpointer data, GError **error)
{
  Reading *reading = data;
  SherdSubstance *substance = reading->substance;
  const char *text = g_strstrip (reading->text->str);

  if (strcmp (name, "source") == 0)
    take_text (&reading->source->citation, text);
  else if (strcmp (name, "name") == 0)
    take_text (&substance->name, text);
  else if (strcmp (name, "raw") == 0)
    take_text (&substance->colour_raw, text);
  else if (strcmp (name, "fired") == 0)
    take_text (&substance->colour_fired, text);
  else if (strcmp (name, "note") == 0)
    take_text (&substance->note, text);
  else if (strcmp (name, "formula") == 0 || strcmp (name, "analysis") == 0)
    end_content (substance, text, *name == 'f', error);
  else if (strcmp (name, "heat") == 0)
    {
      reading->step.words = g_strdup (text);
      g_array_append_val (substance->heat_steps, reading->step);
    }
  else if (strcmp (name, "material") == 0)
    end_material (reading, error);
  if (error != NULL && *error != NULL)
    prefix_line (context, error);
  g_string_truncate (reading->text, 0);
}

static gboolean
is_blank (const char *text, gsize length)
{
  for (gsize i = 0; i < length; i++)
    if (!g_ascii_isspace (text[i]))
      return FALSE;
  return TRUE;
}

static void
take_characters (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
  static const char *const without[] = { "materials", "material", "glass", "sources", NULL };
  const char *element = g_markup_parse_context_get_element (context);
  Reading *reading = data;

  if (!g_strv_contains (without, element))
    g_string_append_len (reading->text, text, (gssize)length);
  else if (!is_blank (text, length))
    refuse (error, _ ("text does not belong into <%s>."), element);
}

static void
to_table_error (GError **error)
{
  g_autoptr (GError) cause = NULL;

  if (error == NULL)
    return;
  cause = g_steal_pointer (error);
  g_set_error (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_TABLE, _ ("The table of materials cannot be read: %s"),
               cause->message);
}

/**
 * sherd_substance_table_new:
 * @text: a table as described in data/materials.xml
 * @length: its bytes, or -1 when it ends with a zero
 * @error: SHERD_CHEM_ERROR_TABLE, naming the line
 *
 * Reads strictly: what it does not know, or what cannot be, is refused.
 *
 * Returns: (transfer full) (nullable): the table
 */
SherdSubstanceTable *
sherd_substance_table_new (const char *text, gssize length, GError **error)
{
  static const GMarkupParser parser = { start_element, end_element, take_characters, NULL, NULL };
  const gsize n_bytes = length < 0 ? strlen (text) : (gsize)length;
  g_autoptr (SherdSubstanceTable) table = g_new0 (SherdSubstanceTable, 1);
  g_autoptr (GString) words = g_string_new (NULL);
  Reading reading = { .table = table, .text = words };
  g_autoptr (GMarkupParseContext) context =
    g_markup_parse_context_new (&parser, G_MARKUP_PREFIX_ERROR_POSITION | G_MARKUP_TREAT_CDATA_AS_TEXT, &reading, NULL);

  table->substances = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_substance_free);
  table->sources = g_ptr_array_new_with_free_func (source_free);
  if (n_bytes > MOST_BYTES)
    {
      g_set_error_literal (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_TABLE,
                           _ ("This is far too large for a table of materials."));
      return NULL;
    }
  if (!g_markup_parse_context_parse (context, text, (gssize)n_bytes, error) ||
      !g_markup_parse_context_end_parse (context, error))
    {
      to_table_error (error);
      return NULL;
    }
  return g_steal_pointer (&table);
}

/* Returns: (transfer full): the table that comes with the program; a test holds that it can be read */
SherdSubstanceTable *
sherd_substance_table_new_built_in (void)
{
  return sherd_substance_table_new ((const char *)sherd_embedded_materials, -1, NULL);
}

/* Returns: (nullable) (transfer none): the substance of that id */
const SherdSubstance *
sherd_substance_table_find (const SherdSubstanceTable *table, const char *id)
{
  for (guint i = 0; i < table->substances->len; i++)
    {
      const SherdSubstance *substance = g_ptr_array_index (table->substances, i);

      if (strcmp (substance->id, id) == 0)
        return substance;
    }
  return NULL;
}

/* Returns: (nullable) (transfer none): the source of that id */
const SherdSource *
sherd_substance_table_find_source (const SherdSubstanceTable *table, const char *id)
{
  for (guint i = 0; i < table->sources->len; i++)
    {
      const SherdSource *source = g_ptr_array_index (table->sources, i);

      if (strcmp (source->id, id) == 0)
        return source;
    }
  return NULL;
}

/**
 * sherd_substance_table_dup_sources:
 * @table: the table
 * @substance: one of its substances
 * @fact: a kind of figure
 *
 * Returns: (transfer full): where it comes from and how it is known, “… (abstract seen); …”
 */
char *
sherd_substance_table_dup_sources (const SherdSubstanceTable *table, const SherdSubstance *substance, SherdFact fact)
{
  g_auto (GStrv) ids = g_strsplit (substance->sources[fact] != NULL ? substance->sources[fact] : "", " ", 0);
  GString *words = g_string_new (NULL);

  for (guint i = 0; ids[i] != NULL; i++)
    {
      const SherdSource *source = sherd_substance_table_find_source (table, ids[i]);

      if (source != NULL)
        g_string_append_printf (words, "%s%s (%s)", words->len > 0 ? "; " : "",
                                g_dgettext (GETTEXT_PACKAGE, source->citation),
                                g_dgettext (GETTEXT_PACKAGE, source->how_known));
    }
  return g_string_free (words, FALSE);
}

static void
append_folded (GString *haystack, const char *text)
{
  g_autofree char *folded = text != NULL ? g_utf8_casefold (text, -1) : NULL;

  if (folded != NULL)
    g_string_append_printf (haystack, "%s\n", folded);
}

/* All that can be looked for, in English and in the user's language. */
static char *
dup_haystack (const SherdSubstance *substance)
{
  const char *const texts[] = { substance->name, substance->colour_raw, substance->colour_fired };
  const SherdHazards hazards = sherd_substance_get_hazards (substance);
  GString *haystack = g_string_new (NULL);

  append_folded (haystack, substance->id);
  append_folded (haystack, sherd_substance_kind_get_id (substance->kind));
  append_folded (haystack, sherd_substance_kind_get_name (substance->kind));
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      append_folded (haystack, texts[i]);
      append_folded (haystack, sherd_substance_text (substance, texts[i]));
    }
  for (guint i = 0; i < substance->constituents->len; i++)
    append_folded (haystack, g_array_index (substance->constituents, SherdConstituent, i).formula);
  for (guint i = 0; i < SHERD_N_HAZARDS; i++)
    if (hazards & (1u << i))
      append_folded (haystack, sherd_hazard_get_name ((SherdHazards)(1u << i)));
  return g_string_free (haystack, FALSE);
}

static gboolean
holds_all (const char *haystack, const GStrv words)
{
  for (guint i = 0; words[i] != NULL; i++)
    if (strstr (haystack, words[i]) == NULL)
      return FALSE;
  return TRUE;
}

/**
 * sherd_substance_table_search:
 * @table: the table
 * @words: parts of words, parted by spaces, as they are typed
 *
 * Returns: (transfer container): the substances that hold every word in name, formula, kind, colour or hazard, in the
 *   order of the table
 */
GPtrArray *
sherd_substance_table_search (const SherdSubstanceTable *table, const char *words)
{
  g_autofree char *folded = g_utf8_casefold (words, -1);
  g_auto (GStrv) each = g_strsplit_set (folded, " \t\n", 0);
  GPtrArray *found = g_ptr_array_new ();

  for (guint i = 0; i < table->substances->len; i++)
    {
      SherdSubstance *substance = g_ptr_array_index (table->substances, i);
      g_autofree char *haystack = dup_haystack (substance);

      if (holds_all (haystack, each))
        g_ptr_array_add (found, substance);
    }
  return found;
}
