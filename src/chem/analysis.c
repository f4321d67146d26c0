/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "chem/substance.h"

/* Our choice: no analysis has more rows. */
#define MOST_ROWS 60

static const char *
skip_blanks (const char *at)
{
  while (*at == ' ' || *at == '\t' || *at == ':' || *at == '=')
    at++;
  return at;
}

/* A decimal with point or comma. NULL when there is none. */
static const char *
read_number (const char *at, double *value)
{
  const char *end = at + strspn (at, "0123456789.,");
  g_autofree char *plain = g_strndup (at, (gsize)MIN (end - at, 30));
  char *rest = NULL;

  g_strdelimit (plain, ",", '.');
  *value = g_ascii_strtod (plain, &rest);
  return end - at > 30 || rest == plain || *rest != '\0' ? NULL : end;
}

static const char *
after_plus_minus (const char *at)
{
  static const char *const signs[] = { "±", "+/-", "+-" };

  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (g_str_has_prefix (at, signs[i]))
      return skip_blanks (at + strlen (signs[i]));
  return NULL;
}

/* “54”, “54 ± 1”, “54 %”; “< 0.1” is anything up to it. */
static gboolean
read_share (const SherdTextReading *reading, const char **at, SherdValue *pct)
{
  const gboolean below = **at == '<';
  const char *start = *at = skip_blanks (*at + (below ? 1 : 0));
  const char *doubt;

  *at = read_number (*at, &pct->value);
  if (*at == NULL)
    return sherd_refuse_at (reading, start, _ ("a share in %% is expected here, like 54 or 54 ± 1."));
  pct->u = below ? sherd_doubt_of_limits (pct->value / 2.0) : 0.0;
  pct->value = below ? pct->value / 2.0 : pct->value;
  *at = skip_blanks (*at);
  doubt = after_plus_minus (*at);
  if (doubt != NULL)
    *at = read_number (doubt, &pct->u);
  if (*at == NULL)
    return sherd_refuse_at (reading, doubt, _ ("a doubt is expected behind ±, like 54 ± 1."));
  *at = skip_blanks (*at);
  *at = **at == '%' ? skip_blanks (*at + 1) : *at;
  if (pct->value > 150.0 || pct->u > 100.0)
    return sherd_refuse_at (reading, start, _ ("a share lies between 0 and 100 %%."));
  return TRUE;
}

static SherdFormula *
read_constituent (const SherdTextReading *reading, const char *name, gsize length)
{
  g_autoptr (SherdFormula) content = sherd_formula_read (reading, name, length);
  g_autoptr (GError) error = NULL;

  if (content != NULL && !sherd_oxides_check_fate (&content->atoms, &error))
    {
      sherd_refuse_at (reading, name, "%s", error->message);
      return NULL;
    }
  return g_steal_pointer (&content);
}

/* “SiO2 54 ± 1”. The name ends at a space, a colon or an equals sign. */
static gboolean
read_row (const SherdTextReading *reading, const char **at, SherdSubstance *into)
{
  const char *name = *at;
  const gsize length = strcspn (name, " \t:=;\n\r<");
  g_autofree char *formula = g_strndup (name, length);
  const gboolean is_loss = g_ascii_strcasecmp (formula, "LOI") == 0;
  g_autoptr (SherdFormula) content = NULL;
  SherdValue pct;

  if (into->constituents->len >= MOST_ROWS)
    return sherd_refuse_at (reading, name, _ ("there are more rows than an analysis has."));
  if (!is_loss)
    content = read_constituent (reading, name, length);
  if (!is_loss && content == NULL)
    return FALSE;
  *at = skip_blanks (name + length);
  if (!read_share (reading, at, &pct))
    return FALSE;
  if (**at != '\0' && strchr (";\n\r", **at) == NULL)
    return sherd_refuse_at (reading, *at, _ ("rows are parted by a semicolon or a new line."));
  sherd_substance_add (into, is_loss ? NULL : formula, g_steal_pointer (&content), pct);
  return TRUE;
}

/**
 * sherd_substance_set_analysis:
 * @substance: a substance
 * @text: rows like “SiO2 54 ± 1”, parted by semicolons or new lines, in mass %. A row may be any formula, a mineral's
 * too; “LOI” is the loss on ignition; “< 0.1” is anything up to it. ± is a standard uncertainty
 * @place: (out) (nullable): where it is wrong
 * @error: SHERD_CHEM_ERROR_ANALYSIS; the substance is unchanged then
 *
 * Returns: whether it is read and sums to 100 % within SHERD_ANALYSIS_TOLERANCE_PCT
 */
gboolean
sherd_substance_set_analysis (SherdSubstance *substance, const char *text, SherdTextPlace *place, GError **error)
{
  g_autoptr (SherdSubstance) read = sherd_substance_new (NULL, NULL, substance->kind);
  const SherdTextReading reading = { text, _ ("Analysis"), SHERD_CHEM_ERROR_ANALYSIS, place, error };
  GArray *constituents;

  if (place != NULL)
    *place = (SherdTextPlace){ 0, 0 };
  if (!g_utf8_validate (text, -1, NULL))
    {
      sherd_refuse_at (&reading, text, _ ("this is not text."));
      return FALSE;
    }
  for (const char *at = text + strspn (text, " \t;\n\r"); *at != '\0'; at += strspn (at, " \t;\n\r"))
    if (!read_row (&reading, &at, read))
      return FALSE;
  if (!sherd_substance_check (read, error))
    return FALSE;
  constituents = substance->constituents;
  substance->constituents = g_steal_pointer (&read->constituents);
  read->constituents = constituents;
  return TRUE;
}

/**
 * sherd_substance_dup_analysis:
 * @substance: a substance
 *
 * Returns: (transfer full): what sherd_substance_set_analysis () reads
 */
char *
sherd_substance_dup_analysis (const SherdSubstance *substance)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < substance->constituents->len; i++)
    {
      const SherdConstituent *constituent = &g_array_index (substance->constituents, SherdConstituent, i);
      char value[G_ASCII_DTOSTR_BUF_SIZE], doubt[G_ASCII_DTOSTR_BUF_SIZE];

      g_string_append_printf (text, "%s%s %s", i > 0 ? "; " : "",
                              constituent->formula != NULL ? constituent->formula : "LOI",
                              g_ascii_formatd (value, sizeof value, "%.6g", constituent->pct.value));
      if (constituent->pct.u > 0.0)
        g_string_append_printf (text, " ± %s", g_ascii_formatd (doubt, sizeof doubt, "%.6g", constituent->pct.u));
    }
  return g_string_free (text, FALSE);
}
