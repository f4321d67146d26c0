/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/stage.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "trial/error.h"

#define FIRED_PREFIX "after firing "
#define RUBBED_SUFFIX ", after rubbing"

/* "1"…"99" without leading zero or sign, so that each stage has one spelling. */
static gboolean
parse_count (const char *digits, guint *count)
{
  guint64 value = 0;

  if (!g_ascii_isdigit (*digits) || *digits == '0')
    return FALSE;
  if (!g_ascii_string_to_unsigned (digits, 10, 1, SHERD_STAGE_MAX_FIRINGS, &value, NULL))
    return FALSE;
  *count = (guint)value;
  return TRUE;
}

/**
 * sherd_stage_parse:
 * @stage: (nullable): a stage as the file and the command line write it
 * @n_firings: (out) (optional): how many firings lie before it, 0…SHERD_STAGE_MAX_FIRINGS
 * @rubbed: (out) (optional): whether the piece has been rubbed since
 *
 * Reads "unfired", "after firing N", each with or without ", after rubbing".
 *
 * Returns: FALSE when @stage is none of these; nothing is set then
 */
gboolean
sherd_stage_parse (const char *stage, guint *n_firings, gboolean *rubbed)
{
  g_autofree char *firing = NULL;
  gboolean is_rubbed;
  guint count = 0;

  if (stage == NULL)
    return FALSE;
  is_rubbed = g_str_has_suffix (stage, RUBBED_SUFFIX);
  firing = g_strndup (stage, strlen (stage) - (is_rubbed ? strlen (RUBBED_SUFFIX) : 0));
  if (!g_str_equal (firing, SHERD_STAGE_UNFIRED) &&
      !(g_str_has_prefix (firing, FIRED_PREFIX) && parse_count (firing + strlen (FIRED_PREFIX), &count)))
    return FALSE;

  if (n_firings != NULL)
    *n_firings = count;
  if (rubbed != NULL)
    *rubbed = is_rubbed;
  return TRUE;
}

/**
 * sherd_stage_check:
 * @stage: what the user wrote
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE, telling the forms that are taken
 */
gboolean
sherd_stage_check (const char *stage, GError **error)
{
  if (sherd_stage_parse (stage, NULL, NULL))
    return TRUE;
  g_set_error (
    error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
    _ ("“%s” is not a stage. Write “unfired” or “after firing 1” (up to %u), with “, after rubbing” behind it "
       "if the piece was rubbed."),
    stage != NULL ? stage : "", SHERD_STAGE_MAX_FIRINGS);
  return FALSE;
}

/**
 * sherd_stage_new:
 * @n_firings: how many firings lie before it
 * @rubbed: whether the piece has been rubbed since
 *
 * Returns: (transfer full): the stage as the file writes it
 */
char *
sherd_stage_new (guint n_firings, gboolean rubbed)
{
  const char *rubbing = rubbed ? RUBBED_SUFFIX : "";

  if (n_firings == 0)
    return g_strconcat (SHERD_STAGE_UNFIRED, rubbing, NULL);
  return g_strdup_printf (FIRED_PREFIX "%u%s", n_firings, rubbing);
}

/**
 * sherd_stage_compare:
 * @first: a stage
 * @second: another
 *
 * Sorts by the piece's life: fewer firings first, unrubbed before rubbed. What is no stage comes last.
 *
 * Returns: less than, equal to or greater than 0, like strcmp ()
 */
int
sherd_stage_compare (const char *first, const char *second)
{
  guint firings[2] = { G_MAXUINT, G_MAXUINT };
  gboolean rubbed[2] = { FALSE, FALSE };

  sherd_stage_parse (first, &firings[0], &rubbed[0]);
  sherd_stage_parse (second, &firings[1], &rubbed[1]);
  if (firings[0] != firings[1])
    return firings[0] < firings[1] ? -1 : 1;
  return (rubbed[0] ? 1 : 0) - (rubbed[1] ? 1 : 0);
}
