/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>

#include "trial/format.h"
#include "trial/measure-job.h"
#include "trial/zone-faults.h"

/* Our choice: more faults of a side than this are one mistake made often. */
#define MOST_FAULTS 20u

static void
print_side (SherdSide *side)
{
  GListModel *zones = sherd_side_get_zones (side);
  guint n_zones = g_list_model_get_n_items (zones);
  g_autofree char *name = sherd_format_side (sherd_side_get_name (side));
  g_autoptr (GString) line = g_string_new (NULL);

  if (n_zones == 0)
    return;
  g_string_printf (line, g_dngettext (GETTEXT_PACKAGE, "  %s: %u zone", "  %s: %u zones", n_zones), name, n_zones);
  for (guint i = 0; i < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      SherdPaint *paint = sherd_zone_get_paint (zone);

      g_string_append_printf (line, "%s %s %s", i > 0 ? "," : ":", sherd_zone_get_code (zone),
                              paint != NULL ? sherd_paint_get_code (paint) : _ ("bare"));
    }
  sherd_verb_say ("%s", line->str);
}

/* Whether all its zones can be as they are drawn. */
static gboolean
warn_of_faults (SherdPiece *piece, SherdSide *side)
{
  g_autoptr (GArray) faults = sherd_zone_faults_new (piece, side);
  const guint n_more = faults->len > MOST_FAULTS ? faults->len - MOST_FAULTS : 0;
  g_autofree char *more = g_strdup_printf (
    ngettext ("There is %u more such fault on this side.", "There are %u more such faults on this side.", n_more),
    n_more);

  for (guint i = 0; i < faults->len - n_more; i++)
    {
      g_autofree char *words = sherd_zone_fault_dup_words (&g_array_index (faults, SherdZoneFault, i));

      sherd_verb_warn (words);
    }
  if (n_more > 0)
    sherd_verb_warn (more);
  return faults->len == 0;
}

static void
print_piece (SherdPiece *piece)
{
  static const char *const kinds[] = {
    [SHERD_PIECE_TILE] = N_ ("tile"),
    [SHERD_PIECE_DISC] = N_ ("disc"),
    [SHERD_PIECE_VESSEL] = N_ ("vessel"),
    [SHERD_PIECE_SHERD] = N_ ("sherd"),
  };
  g_autofree char *size = sherd_format_size_mm (sherd_piece_get_width_mm (piece), sherd_piece_get_height_mm (piece));

  sherd_verb_say (_ ("Piece “%s”: %s, %s"), sherd_piece_get_name (piece), _ (kinds[sherd_piece_get_kind (piece)]),
                  size);
}

/* Whether all zones can be as they are drawn. */
static gboolean
print_pieces (SherdTrial *trial)
{
  GListModel *pieces = sherd_trial_get_pieces (trial);
  gboolean is_sound = TRUE;

  for (guint i = 0; i < g_list_model_get_n_items (pieces); i++)
    {
      g_autoptr (SherdPiece) piece = g_list_model_get_item (pieces, i);
      GListModel *sides = sherd_piece_get_sides (piece);

      print_piece (piece);
      for (guint j = 0; j < g_list_model_get_n_items (sides); j++)
        {
          g_autoptr (SherdSide) side = g_list_model_get_item (sides, j);

          print_side (side);
          is_sound = warn_of_faults (piece, side) && is_sound;
        }
    }
  return is_sound;
}

static const char *
measurement_word (SherdTrial *trial, SherdPhotograph *photograph)
{
  SherdMeasurement *last = sherd_trial_get_last_measurement (trial, photograph);

  if (sherd_trial_get_measurement (trial, photograph) != NULL)
    return _ ("measured");
  if (last != NULL && !sherd_measurement_is_understood (last))
    return _ ("measured by a newer program: update this one, or measure again");
  if (last != NULL)
    return _ ("measured before it was changed: measure again");
  return _ ("not measured");
}

/* Whether the picture is there and whole. */
static gboolean
print_photograph (SherdTrial *trial, SherdPhotograph *photograph)
{
  g_autofree char *stage = sherd_format_stage (sherd_photograph_get_stage (photograph));
  g_autoptr (GError) error = NULL;
  gboolean whole = sherd_trial_check_photo (trial, photograph, &error);

  sherd_verb_say (_ ("Photograph %s: “%s”, %s, %s, %s"), sherd_part_get_id (SHERD_PART (photograph)),
                  sherd_photograph_get_original_name (photograph),
                  sherd_piece_get_name (sherd_photograph_get_piece (photograph)), stage,
                  measurement_word (trial, photograph));
  if (!whole)
    sherd_verb_warn (error->message);
  return whole;
}

static void
print_title (SherdTrial *trial)
{
  const char *title = sherd_trial_get_title (trial);

  if (*title != '\0')
    sherd_verb_say (_ ("Trial “%s”"), title);
  else
    sherd_verb_say ("%s", _ ("Trial without a title"));
}

static SherdExit
run (const SherdVerb *verb, char ***arguments)
{
  const GOptionEntry entries[] = { G_OPTION_ENTRY_NULL };
  SherdExit status;
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = NULL;
  GListModel *photographs;

  if (!sherd_verb_parse (verb, entries, arguments, 1, &status))
    return status;
  trial = sherd_verb_load ((*arguments)[1], &error);
  if (trial == NULL)
    return sherd_verb_wrong_input (error);

  print_title (trial);
  if (!print_pieces (trial))
    status = SHERD_EXIT_WRONG_INPUT;
  photographs = sherd_trial_get_photographs (trial);
  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);

      if (!print_photograph (trial, photograph))
        status = SHERD_EXIT_WRONG_INPUT;
    }
  return status;
}

const SherdVerb sherd_verb_check = {
  .name = "check",
  .operands = N_ ("FILE"),
  .summary = N_ ("Read a trial strictly, list what is in it and look for its photographs"),
  .example = "sherd check demo.sherdboard",
  .run = run,
};
