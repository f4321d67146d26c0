/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "batch/words.h"
#include "trial/blending.h"
#include "trial/format.h"

/* No potter can ask for so many. */
#define STEPS_UNTOLD G_MININT

/* Our choice: ten tonnes of paint are a slip of the finger. */
#define MOST_TOTAL_G 1e7

/* Our choice: steps of 20 %. */
#define DEFAULT_STEPS 5

/* Our choice: a kitchen scale for jewellers. */
#define DEFAULT_SCALE_G 0.1

typedef struct
{
  int n_steps;
  int n_steps_down;
  char *at;
  gboolean centroid;
  char *stem;
  double total_g;
  double scale_g;
  gboolean dry_run;
  gboolean csv;
  gboolean json;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->at);
  g_free (wishes->stem);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

static SherdBlend *
line_at (const char *text, GError **error)
{
  g_autoptr (GArray) shares_pct = sherd_words_list ("at", text, error);

  return shares_pct != NULL ? sherd_blend_line_at ((const double *)shares_pct->data, shares_pct->len, error) : NULL;
}

static SherdBlend *
make_blend (const Wishes *wishes, guint n_paints, GError **error)
{
  const guint n_steps = wishes->n_steps != STEPS_UNTOLD ? (guint)wishes->n_steps : DEFAULT_STEPS;

  if (wishes->at != NULL)
    return line_at (wishes->at, error);
  if (wishes->centroid)
    return sherd_blend_centroid (n_paints, error);
  if (n_paints == 2)
    return sherd_blend_line (n_steps, error);
  if (n_paints == 3)
    return sherd_blend_triaxial (n_steps, error);
  return sherd_blend_square (n_steps, wishes->n_steps_down != STEPS_UNTOLD ? (guint)wishes->n_steps_down : n_steps,
                             error);
}

static const char *const share_keys[] = { "share_1_pct", "share_2_pct", "share_3_pct", "share_4_pct" };
static const char *const weigh_keys[] = { "weigh_1_g", "weigh_2_g", "weigh_3_g", "weigh_4_g" };

/* What to weigh, where a total is asked for: "HB 8.0 g + MN 2.0 g". */
static void
set_weights (SherdTable *table, const GPtrArray *paints, const SherdBlendMember *member, const Wishes *wishes)
{
  double grams[SHERD_BLEND_MOST_PAINTS];
  const double off = sherd_blend_weigh (member, wishes->total_g, wishes->scale_g, grams);
  const guint decimals = (guint)CLAMP (ceil (-log10 (wishes->scale_g)), 0.0, 6.0);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < paints->len; i++)
    {
      g_autofree char *mass = sherd_format_number (grams[i], decimals);

      sherd_table_set_number (table, weigh_keys[i], grams[i]);
      if (member->parts[i] > 0)
        g_string_append_printf (text, "%s%s %s g", text->len > 0 ? " + " : "",
                                sherd_paint_get_code (g_ptr_array_index (paints, i)), mass);
    }
  sherd_table_set_text (table, "weigh", text->str);
  sherd_table_set_number (table, "share_off_pct", 100.0 * off);
}

static SherdTable *
table_new (const GPtrArray *paints, const SherdBlend *blend, const GPtrArray *made, const Wishes *wishes)
{
  const gboolean weighs = wishes->total_g > 0.0;
  const SherdColumn columns[] = {
    { "row", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "column", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "paint", _ ("Paint"), SHERD_COLUMN_TEXT, 0 },
    { "paint_name", _ ("Name"), SHERD_COLUMN_TEXT, 0 },
    { share_keys[0], NULL, SHERD_COLUMN_NUMBER, 0 },
    { share_keys[1], NULL, SHERD_COLUMN_NUMBER, 0 },
    { share_keys[2], NULL, SHERD_COLUMN_NUMBER, 0 },
    { share_keys[3], NULL, SHERD_COLUMN_NUMBER, 0 },
    { weigh_keys[0], NULL, SHERD_COLUMN_NUMBER, 0 },
    { weigh_keys[1], NULL, SHERD_COLUMN_NUMBER, 0 },
    { weigh_keys[2], NULL, SHERD_COLUMN_NUMBER, 0 },
    { weigh_keys[3], NULL, SHERD_COLUMN_NUMBER, 0 },
    { "share_off_pct", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "weigh", weighs ? _ ("Weigh, dry") : NULL, SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));

  for (guint i = 0; i < blend->n_members; i++)
    {
      const SherdBlendMember *member = &blend->members[i];

      sherd_table_add_row (table);
      sherd_table_set_integer (table, "row", member->row + 1);
      sherd_table_set_integer (table, "column", member->column + 1);
      sherd_table_set_text (table, "paint", sherd_paint_get_code (g_ptr_array_index (made, i)));
      sherd_table_set_text (table, "paint_name", sherd_paint_get_name (g_ptr_array_index (made, i)));
      for (guint j = 0; j < paints->len; j++)
        sherd_table_set_number (table, share_keys[j], sherd_blend_share_pct (member, j));
      if (weighs)
        set_weights (table, paints, member, wishes);
    }
  return table;
}

static void
print_json (SherdTrial *trial, const GPtrArray *paints, const SherdTable *table)
{
  JsonObject *document = json_object_new ();
  JsonArray *codes = json_array_new ();

  for (guint i = 0; i < paints->len; i++)
    json_array_add_string_element (codes, sherd_paint_get_code (g_ptr_array_index (paints, i)));
  json_object_set_string_member (document, "trial", sherd_trial_get_title (trial));
  json_object_set_array_member (document, "paints", codes);
  json_object_set_member (document, "blend", sherd_table_to_json (table));
  sherd_verb_print_json ("sherd-blend", document);
}

static gboolean
blend (SherdTrial *trial, char **codes, const Wishes *wishes, GError **error)
{
  g_autoptr (GPtrArray) paints = sherd_verb_find_paints (trial, codes, error);
  g_autoptr (SherdBlend) made_of = paints != NULL ? make_blend (wishes, paints->len, error) : NULL;
  g_autofree char *stem = NULL;
  g_autoptr (GPtrArray) made = NULL;
  g_autoptr (SherdTable) table = NULL;

  if (made_of == NULL)
    return FALSE;
  stem = wishes->stem != NULL ? g_strdup (wishes->stem)
                              : sherd_trial_dup_blend_stem ((SherdPaint *const *)paints->pdata, paints->len);
  made = sherd_trial_add_blend (trial, (SherdPaint *const *)paints->pdata, made_of, stem, error);
  if (made == NULL || (!wishes->dry_run && !sherd_verb_save (trial, error)))
    return FALSE;
  table = table_new (paints, made_of, made, wishes);
  if (wishes->json)
    print_json (trial, paints, table);
  else
    sherd_verb_print_table (table, wishes->csv);
  return TRUE;
}

static gboolean
is_number_of_steps (int n_steps)
{
  return n_steps > 0 || n_steps == STEPS_UNTOLD;
}

/* (nullable): why the options do not belong together */
static const char *
find_contradiction (const Wishes *wishes, guint n_paints)
{
  if (wishes->csv && wishes->json)
    return _ ("Take either --csv or --json.");
  if (wishes->centroid && (wishes->n_steps != STEPS_UNTOLD || wishes->at != NULL))
    return _ ("--centroid has no steps: leave --steps and --at out.");
  if (wishes->at != NULL && (wishes->n_steps != STEPS_UNTOLD || n_paints != 2))
    return _ ("--at takes the place of --steps, and is for two paints.");
  if (wishes->n_steps_down != STEPS_UNTOLD && n_paints != 4)
    return _ ("--steps-down is for four paints.");
  if (!is_number_of_steps (wishes->n_steps) || !is_number_of_steps (wishes->n_steps_down))
    return _ ("Steps are a whole number from 1 up.");
  if (!(wishes->total_g >= 0.0 && wishes->total_g <= MOST_TOTAL_G) ||
      !(wishes->scale_g >= 0.0001 && wishes->scale_g <= 1000.0))
    return _ ("--total is a mass in g; --scale is the least step of the scale, 0.0001 to 1000 g.");
  return NULL;
}

static SherdExit
run (const SherdVerb *verb, char ***arguments)
{
  g_auto (Wishes) wishes = { .n_steps = STEPS_UNTOLD, .n_steps_down = STEPS_UNTOLD, .scale_g = DEFAULT_SCALE_G };
  const GOptionEntry entries[] = {
    { "steps", 's', 0, G_OPTION_ARG_INT, &wishes.n_steps, N_ ("Steps from one paint to the next (5 unless told)"),
      N_ ("NUMBER") },
    { "steps-down", 0, 0, G_OPTION_ARG_INT, &wishes.n_steps_down,
      N_ ("Of four paints: steps from the line of the first two to that of the others"), N_ ("NUMBER") },
    { "at", 0, 0, G_OPTION_ARG_STRING, &wishes.at,
      N_ ("Of two paints: shares of the second, per cent, in unlike steps"), N_ ("PCT,PCT,…") },
    { "centroid", 0, 0, G_OPTION_ARG_NONE, &wishes.centroid,
      N_ ("Each paint, each two, three and four of them in equal parts"), NULL },
    { "code", 0, 0, G_OPTION_ARG_STRING, &wishes.stem,
      N_ ("What the codes of the new paints begin with (first letters of the paints unless told)"), N_ ("TEXT") },
    { "total", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.total_g, N_ ("Also say what to weigh for so much of each, dry"),
      "G" },
    { "scale", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.scale_g, N_ ("The least step of the scale (0.1 g unless told)"),
      "G" },
    { "dry-run", 'n', 0, G_OPTION_ARG_NONE, &wishes.dry_run, N_ ("Show the blend and change nothing"), NULL },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &wishes.csv, N_ ("Print comma-separated values"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &wishes.json, N_ ("Print JSON"), NULL },
    G_OPTION_ENTRY_NULL
  };
  SherdExit status;
  const char *contradiction;
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = NULL;

  if (!sherd_verb_parse (verb, entries, arguments, 3, &status))
    return status;
  contradiction = find_contradiction (&wishes, g_strv_length (*arguments) - 2);
  if (contradiction != NULL)
    return sherd_verb_wrong_command (verb, contradiction);
  trial = sherd_verb_load ((*arguments)[1], &error);
  if (trial != NULL && blend (trial, *arguments + 2, &wishes, &error))
    return SHERD_EXIT_DONE;
  return sherd_verb_refuse (verb, error);
}

const SherdVerb sherd_verb_blend = {
  .name = "blend",
  .operands = N_ ("FILE PAINT PAINT [PAINT [PAINT]]"),
  .summary = N_ ("Make paints stepped between two, three or four"),
  .example = "sherd blend demo.sherdboard KA HE --steps 5 --dry-run",
  .n_more_operands = 2,
  .run = run,
};
