/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/chart-layout.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/error.h"

/* Our choice for a chart of unknown size. Only proportions matter: the reference marks carry the scale. The margin
 * keeps each patch clear of gaps whose width nobody stated. */
#define PLAIN_PITCH_MM 10.0
#define PLAIN_MARGIN_MM 1.5

/**
 * sherd_chart_layout_init_plain:
 * @layout: (out): a layout
 * @n_rows: rows of patches
 * @n_columns: columns of patches
 *
 * Describes a chart of which only rows and columns are known. The frame is the field of patches from outer corner to
 * outer corner; of each patch the inner part is taken, so that gaps of unknown width do no harm.
 */
void
sherd_chart_layout_init_plain (SherdChartLayout *layout, guint n_rows, guint n_columns)
{
  *layout = (SherdChartLayout){
    .n_rows = n_rows,
    .n_columns = n_columns,
    .frame_width_mm = n_columns * PLAIN_PITCH_MM,
    .frame_height_mm = n_rows * PLAIN_PITCH_MM,
    .left_mm = PLAIN_MARGIN_MM,
    .top_mm = PLAIN_MARGIN_MM,
    .patch_width_mm = PLAIN_PITCH_MM - 2.0 * PLAIN_MARGIN_MM,
    .patch_height_mm = PLAIN_PITCH_MM - 2.0 * PLAIN_MARGIN_MM,
    .gap_x_mm = 2.0 * PLAIN_MARGIN_MM,
    .gap_y_mm = 2.0 * PLAIN_MARGIN_MM,
  };
}

static gboolean
length_is_sound (double length_mm, gboolean may_be_zero)
{
  return isfinite (length_mm) && length_mm <= SHERD_CHART_MAX_MM && (may_be_zero ? length_mm >= 0.0 : length_mm > 0.0);
}

static gboolean
lengths_are_sound (const SherdChartLayout *layout)
{
  return length_is_sound (layout->frame_width_mm, FALSE) && length_is_sound (layout->frame_height_mm, FALSE) &&
         length_is_sound (layout->patch_width_mm, FALSE) && length_is_sound (layout->patch_height_mm, FALSE) &&
         length_is_sound (layout->left_mm, TRUE) && length_is_sound (layout->top_mm, TRUE) &&
         length_is_sound (layout->gap_x_mm, TRUE) && length_is_sound (layout->gap_y_mm, TRUE);
}

/**
 * sherd_chart_layout_check:
 * @layout: a layout
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when there is no patch, a length that cannot be, or a patch outside the
 * frame
 */
gboolean
sherd_chart_layout_check (const SherdChartLayout *layout, GError **error)
{
  /* A hair for the sum of lengths typed with decimals. */
  const double hair_mm = 1e-6;
  SherdRectangle last;

  if (layout->n_rows == 0 || layout->n_columns == 0 ||
      (guint64)layout->n_rows * layout->n_columns > SHERD_CHART_MAX_PATCHES)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("A chart of %u × %u patches is not taken. It needs at least 1 and at most %u patches."),
                   layout->n_rows, layout->n_columns, SHERD_CHART_MAX_PATCHES);
      return FALSE;
    }
  if (!lengths_are_sound (layout))
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("A length of the chart is negative, zero or above %.0f mm."), SHERD_CHART_MAX_MM);
      return FALSE;
    }
  last = sherd_chart_layout_patch (layout, layout->n_rows - 1, layout->n_columns - 1);
  if (last.x_mm + last.width_mm > layout->frame_width_mm + hair_mm ||
      last.y_mm + last.height_mm > layout->frame_height_mm + hair_mm)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("The patches of the chart need %.1f × %.1f mm, its frame is only %.1f × %.1f mm."),
                   last.x_mm + last.width_mm, last.y_mm + last.height_mm, layout->frame_width_mm,
                   layout->frame_height_mm);
      return FALSE;
    }
  return TRUE;
}

/**
 * sherd_chart_layout_patch:
 * @layout: a sound layout
 * @row: from 0 at the top
 * @column: from 0 at the left
 *
 * Returns: the place of one patch in the frame, mm, origin top left
 */
SherdRectangle
sherd_chart_layout_patch (const SherdChartLayout *layout, guint row, guint column)
{
  return (SherdRectangle){
    .x_mm = layout->left_mm + column * (layout->patch_width_mm + layout->gap_x_mm),
    .y_mm = layout->top_mm + row * (layout->patch_height_mm + layout->gap_y_mm),
    .width_mm = layout->patch_width_mm,
    .height_mm = layout->patch_height_mm,
  };
}

/**
 * sherd_chart_layout_marks:
 * @layout: a sound layout
 * @kind: what the user picks
 * @points_mm: (out): top left, top right, bottom right, bottom left, in the frame
 *
 * Where in the chart's frame the four picked marks lie.
 */
void
sherd_chart_layout_marks (const SherdChartLayout *layout, SherdChartMarks kind, SherdPoint points_mm[4])
{
  const SherdRectangle first = sherd_chart_layout_patch (layout, 0, 0);
  const SherdRectangle last = sherd_chart_layout_patch (layout, layout->n_rows - 1, layout->n_columns - 1);
  double left = 0.0, top = 0.0, right = layout->frame_width_mm, bottom = layout->frame_height_mm;

  if (kind != SHERD_CHART_MARKS_FRAME)
    {
      const double inset_frac = kind == SHERD_CHART_MARKS_PATCH_CENTRES ? 0.5 : 0.0;

      left = first.x_mm + inset_frac * first.width_mm;
      top = first.y_mm + inset_frac * first.height_mm;
      right = last.x_mm + (1.0 - inset_frac) * last.width_mm;
      bottom = last.y_mm + (1.0 - inset_frac) * last.height_mm;
    }
  points_mm[0] = (SherdPoint){ left, top };
  points_mm[1] = (SherdPoint){ right, top };
  points_mm[2] = (SherdPoint){ right, bottom };
  points_mm[3] = (SherdPoint){ left, bottom };
}

/* How a chart's file may name its patches. */
typedef enum
{
  NAMED_ROW_LETTER,    /* A1 A2 A3 along the first row */
  NAMED_COLUMN_LETTER, /* A1 B1 C1 along the first row */
  NAMED_NUMBER,        /* 1 2 3 in reading order */
  N_NAMINGS
} Naming;

static char *
place_name (const SherdChartLayout *layout, Naming naming, guint row, guint column)
{
  switch (naming)
    {
    case NAMED_ROW_LETTER:
      return sherd_grid_code (row, column);
    case NAMED_COLUMN_LETTER:
      return sherd_grid_code (column, row);
    default:
      return g_strdup_printf ("%u", row * layout->n_columns + column + 1);
    }
}

/* "a01 " and "A1" are the same patch, so are "007" and "7". */
static char *
plain_name (const char *name)
{
  g_autofree char *upper = g_ascii_strup (name, -1);
  GString *plain = g_string_new (NULL);

  g_strstrip (upper);
  for (const char *c = upper; *c != '\0'; c++)
    {
      const gboolean after_digit = plain->len > 0 && g_ascii_isdigit (plain->str[plain->len - 1]);

      if (*c == '0' && !after_digit && g_ascii_isdigit (c[1]))
        continue;
      g_string_append_c (plain, *c);
    }
  return g_string_free (plain, FALSE);
}

/* Plain name → index + 1; NULL with an error when two patches share a name. */
static GHashTable *
index_names (const SherdChart *chart, GError **error)
{
  g_autoptr (GHashTable) table = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < chart->patches->len; i++)
    {
      const SherdChartPatch *patch = &g_array_index (chart->patches, SherdChartPatch, i);

      if (!g_hash_table_insert (table, plain_name (patch->name), GUINT_TO_POINTER (i + 1)))
        {
          g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                       _ ("The chart has two patches named “%s”. Give each patch a name of its own."), patch->name);
          return NULL;
        }
    }
  return g_steal_pointer (&table);
}

/* Fills @indices and returns TRUE, or returns FALSE and the first name without a patch. */
static gboolean
match_naming (const SherdChartLayout *layout, Naming naming, GHashTable *names, guint *indices, char **missing)
{
  for (guint row = 0; row < layout->n_rows; row++)
    for (guint column = 0; column < layout->n_columns; column++)
      {
        g_autofree char *name = place_name (layout, naming, row, column);
        const guint found = GPOINTER_TO_UINT (g_hash_table_lookup (names, name));

        if (found == 0)
          {
            *missing = g_steal_pointer (&name);
            return FALSE;
          }
        indices[row * layout->n_columns + column] = found - 1;
      }
  return TRUE;
}

/* Whether the file's grid goes on beyond the layout's: then rows and columns were mistaken, and every patch would be
 * looked for in the wrong place. A patch beside the grid, such as the white of the paper, is no such thing.
 */
static gboolean
goes_on (const SherdChartLayout *layout, Naming naming, GHashTable *names)
{
  g_autofree char *below = place_name (layout, naming, layout->n_rows, 0);
  g_autofree char *beside = place_name (layout, naming, 0, layout->n_columns);

  return g_hash_table_contains (names, below) || (naming != NAMED_NUMBER && g_hash_table_contains (names, beside));
}

static guint *
refuse_count (const SherdChartLayout *layout, const SherdChart *chart, GError **error)
{
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("The chart's values are for %u patches, but %u rows × %u columns are %u. Count the rows and columns "
                  "of the chart."),
               chart->patches->len, layout->n_rows, layout->n_columns, layout->n_rows * layout->n_columns);
  return NULL;
}

/**
 * sherd_chart_layout_match:
 * @layout: a sound layout
 * @chart: patches with names and colours
 * @error: place for an error
 *
 * Finds for every place of the layout the patch of the chart's file that lies there. Files name patches by row letter
 * and column number ("A1", also "A01"), by column letter and row number, or by number in reading order; the first of
 * these ways that names every place is taken. Patches of the file beside that grid are left out.
 *
 * Returns: (transfer full): n_rows × n_columns indices into the chart's patches in reading order; NULL with
 * SHERD_TRIAL_ERROR_VALUE when no way names every place, or the file's grid is larger
 */
guint *
sherd_chart_layout_match (const SherdChartLayout *layout, const SherdChart *chart, GError **error)
{
  g_autofree guint *indices = g_new0 (guint, (gsize)layout->n_rows * layout->n_columns);
  g_autoptr (GHashTable) names = index_names (chart, error);
  g_autofree char *first_missing = NULL;

  if (names == NULL)
    return NULL;
  for (Naming naming = NAMED_ROW_LETTER; naming < N_NAMINGS; naming++)
    {
      g_autofree char *missing = NULL;

      if (match_naming (layout, naming, names, indices, &missing))
        return goes_on (layout, naming, names) ? refuse_count (layout, chart, error) : g_steal_pointer (&indices);
      if (first_missing == NULL)
        first_missing = g_steal_pointer (&missing);
    }
  g_set_error (
    error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
    _ ("The chart's values do not fit %u rows × %u columns: there is no patch “%s”. Patches are named A1, A2, … "
       "or 1, 2, … in reading order."),
    layout->n_rows, layout->n_columns, first_missing);
  return NULL;
}

/**
 * sherd_chart_layout_guess:
 * @chart: patches with names
 * @n_rows: (out): rows, when told
 * @n_columns: (out): columns
 *
 * Names like A1, A2, … B1, … tell how many rows and columns a chart has, read as rows by letter; a chart that lies
 * otherwise is turned by who knows it.
 *
 * Returns: FALSE, and nothing set, when the patches have other names, or do not fill such a grid
 */
gboolean
sherd_chart_layout_guess (const SherdChart *chart, guint *n_rows, guint *n_columns)
{
  g_autoptr (GHashTable) names = index_names (chart, NULL);
  SherdChartLayout layout = { 0 };
  gboolean more = names != NULL;

  while (more)
    {
      g_autofree char *name = place_name (&layout, NAMED_ROW_LETTER, 0, layout.n_columns);

      more = g_hash_table_contains (names, name);
      layout.n_columns += more;
    }
  if (layout.n_columns == 0 || chart->patches->len % layout.n_columns != 0)
    return FALSE;
  layout.n_rows = chart->patches->len / layout.n_columns;
  for (guint i = 0; i < chart->patches->len; i++)
    {
      g_autofree char *name = sherd_grid_code (i / layout.n_columns, i % layout.n_columns);

      if (!g_hash_table_contains (names, name))
        return FALSE;
    }
  *n_rows = layout.n_rows;
  *n_columns = layout.n_columns;
  return TRUE;
}
