/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/chart.h"

#include <glib/gi18n-lib.h>
#include <lcms2.h>
#include <math.h>
#include <string.h>

#include "colour/cgats-text.h"

/* Our choice: no chart photographed beside a pot has more patches. */
#define MAX_PATCHES 2000

/* No surface colour reaches these: our choice, to find values in the wrong column. */
#define MAX_AB 150.0

/* CGATS.17 writes XYZ with white at 100. Even the whitest patch of a chart written with white at 1 stays below this. */
#define LEAST_BRIGHTEST_Y 2.0

G_DEFINE_QUARK (sherd - colour - error - quark, sherd_colour_error)

static void
clear_patch (gpointer data)
{
  SherdChartPatch *patch = data;

  g_free (patch->name);
  g_free (patch->other_name);
}

/**
 * sherd_chart_new:
 * @description: (nullable): what the chart is called
 *
 * Returns: (transfer full): a chart without patches
 */
SherdChart *
sherd_chart_new (const char *description)
{
  SherdChart *chart = g_new0 (SherdChart, 1);

  chart->description = g_strdup (description != NULL ? description : "");
  chart->patches = g_array_new (FALSE, FALSE, sizeof (SherdChartPatch));
  g_array_set_clear_func (chart->patches, clear_patch);
  return chart;
}

void
sherd_chart_free (SherdChart *chart)
{
  if (chart == NULL)
    return;
  g_free (chart->description);
  g_array_unref (chart->patches);
  g_free (chart);
}

/**
 * sherd_chart_add:
 * @chart: a chart
 * @name: the patch's code or number
 * @lab: its colour, D50, 2°
 *
 * Adds a patch at the end, as typed in from the values printed with a chart.
 */
void
sherd_chart_add (SherdChart *chart, const char *name, const SherdLab *lab)
{
  SherdChartPatch patch = { .name = g_strdup (name), .lab = *lab };

  g_array_append_val (chart->patches, patch);
}

/* A table of the file, and the columns that it has; -1 for those it has not. */
typedef struct
{
  cmsHANDLE file;
  const SherdCgatsTable *table;
  int n_rows;
  int id;
  int name;
  int lab[3];
  int xyz[3];
} Sheet;

static int
find_column (cmsHANDLE file, const char *const *aliases)
{
  int column = -1;

  for (guint i = 0; aliases[i] != NULL && column < 0; i++)
    column = cmsIT8FindDataFormat (file, aliases[i]);
  return column;
}

/* NULL when there is nothing in it. */
static const char *
cell (const Sheet *sheet, int row, int column)
{
  const char *text = column >= 0 ? cmsIT8GetDataRowCol (sheet->file, row, column) : NULL;

  return text != NULL && text[strspn (text, " ")] != '\0' ? text : NULL;
}

static guint
line_of_row (const Sheet *sheet, int row)
{
  return g_array_index (sheet->table->row_lines, guint, row);
}

/* "A1", "F12": the place of a patch on its chart. */
static gboolean
is_place_code (const char *name)
{
  const char *digits = name;

  while (g_ascii_isalpha (*digits))
    digits++;
  return digits > name && digits - name <= 2 && *digits != '\0' && strspn (digits, "0123456789") == strlen (digits);
}

static gboolean
holds_place_codes (const Sheet *sheet, int column)
{
  for (int row = 0; row < sheet->n_rows; row++)
    {
      const char *name = cell (sheet, row, column);

      if (name == NULL || !is_place_code (name))
        return FALSE;
    }
  return TRUE;
}

/* Makers put the place of a patch into one of the two columns, and a running number or a word into the other. */
static void
order_names (Sheet *sheet)
{
  if (sheet->id < 0 || (!holds_place_codes (sheet, sheet->id) && holds_place_codes (sheet, sheet->name)))
    {
      const int second = sheet->id;

      sheet->id = sheet->name;
      sheet->name = second;
    }
}

static gboolean
has_columns (const int columns[3])
{
  return columns[0] >= 0 && columns[1] >= 0 && columns[2] >= 0;
}

/* FALSE when the number of rows is not that of the data, which LittleCMS has counted before. */
static gboolean
sheet_init (Sheet *sheet, cmsHANDLE file, guint index, const SherdCgatsText *text)
{
  static const char *const id_aliases[] = { "SAMPLE_ID", "SAMPLEID", NULL };
  static const char *const name_aliases[] = { "SAMPLE_NAME", "SAMPLE_LOC", "SAMPLENAME", NULL };
  static const char *const lab_aliases[3] = { "LAB_L", "LAB_A", "LAB_B" };
  static const char *const xyz_aliases[3] = { "XYZ_X", "XYZ_Y", "XYZ_Z" };

  cmsIT8SetTable (file, index);
  sheet->file = file;
  sheet->table = g_ptr_array_index (text->tables, index);
  sheet->n_rows = (int)sheet->table->row_lines->len;
  sheet->id = find_column (file, id_aliases);
  sheet->name = find_column (file, name_aliases);
  for (guint i = 0; i < 3; i++)
    {
      sheet->lab[i] = cmsIT8FindDataFormat (file, lab_aliases[i]);
      sheet->xyz[i] = cmsIT8FindDataFormat (file, xyz_aliases[i]);
    }
  order_names (sheet);
  return cmsIT8GetPropertyDbl (file, "NUMBER_OF_SETS") == (double)sheet->n_rows;
}

static gboolean
check_sheet (const Sheet *sheet, GError **error)
{
  if (!has_columns (sheet->lab) && !has_columns (sheet->xyz))
    return sherd_cgats_refuse (error,
                               _ ("it has no colours. Columns LAB_L, LAB_A, LAB_B or XYZ_X, XYZ_Y, XYZ_Z are needed."));
  if (sheet->id < 0)
    return sherd_cgats_refuse (error, _ ("its patches have no names. A column SAMPLE_ID or SAMPLE_NAME is needed."));
  if (sheet->table->other_light != NULL)
    return sherd_cgats_refuse (
      error,
      _ ("its colours are for another light or observer than D50, 2°: “%s”. Ask its maker for values for "
         "D50, 2°."),
      sheet->table->other_light);
  if (sheet->n_rows < 1 || sheet->n_rows > MAX_PATCHES)
    return sherd_cgats_refuse (error, _ ("it has %d patches; 1 to %d can be used."), sheet->n_rows, MAX_PATCHES);
  return TRUE;
}

/* g_ascii_strtod () alone would stop at a decimal comma, and take "0x10" and "nan". */
static gboolean
read_number (const Sheet *sheet, int row, int column, const char *patch, double *value, GError **error)
{
  const char *text = cell (sheet, row, column);
  char *end = NULL;

  if (text == NULL)
    return sherd_cgats_refuse (error, _ ("line %u: a value of patch “%s” is missing."), line_of_row (sheet, row),
                               patch);
  *value = g_ascii_strtod (text, &end);
  if (*end != '\0' || !isfinite (*value) || strspn (text, "+-.0123456789eE") != strlen (text))
    return sherd_cgats_refuse (
      error, _ ("line %u: “%s” at patch “%s” is not a number. Write it with a decimal point, like 37.99."),
      line_of_row (sheet, row), text, patch);
  return TRUE;
}

static gboolean
read_triple (const Sheet *sheet, int row, const int columns[3], const char *patch, double values[3], GError **error)
{
  for (guint i = 0; i < 3; i++)
    if (!read_number (sheet, row, columns[i], patch, &values[i], error))
      return FALSE;
  return TRUE;
}

/* Lab where the file has it; else from XYZ. */
static gboolean
read_lab (const Sheet *sheet, int row, const char *patch, SherdLab *lab, GError **error)
{
  const gboolean has_lab = has_columns (sheet->lab);
  double values[3];

  if (!read_triple (sheet, row, has_lab ? sheet->lab : sheet->xyz, patch, values, error))
    return FALSE;
  if (has_lab)
    *lab = (SherdLab){ values[0], values[1], values[2] };
  else
    *lab = sherd_lab_from_xyz (&(SherdXyz){ values[0] / 100.0, values[1] / 100.0, values[2] / 100.0 });
  if (lab->l < 0.0 || lab->l > 100.0 + 1e-6 || fabs (lab->a) > MAX_AB || fabs (lab->b) > MAX_AB)
    return sherd_cgats_refuse (error, _ ("line %u: patch “%s” has the impossible colour L* %.6g, a* %.6g, b* %.6g."),
                               line_of_row (sheet, row), patch, lab->l, lab->a, lab->b);
  return TRUE;
}

static gboolean
add_patch_of_row (SherdChart *chart, const Sheet *sheet, int row, GHashTable *names, GError **error)
{
  const char *name = cell (sheet, row, sheet->id);
  SherdChartPatch patch;
  SherdLab lab;

  if (name == NULL)
    return sherd_cgats_refuse (error, _ ("line %u: the patch has no name."), line_of_row (sheet, row));
  if (!g_hash_table_add (names, g_strdup (name)))
    return sherd_cgats_refuse (error, _ ("line %u: another patch has the name “%s” already."), line_of_row (sheet, row),
                               name);
  if (!read_lab (sheet, row, name, &lab, error))
    return FALSE;
  patch = (SherdChartPatch){ g_strdup (name), g_strdup (cell (sheet, row, sheet->name)), lab };
  g_array_append_val (chart->patches, patch);
  return TRUE;
}

static gboolean
check_scale (const SherdChart *chart, const Sheet *sheet, GError **error)
{
  double brightest_y = 0.0;

  for (guint i = 0; i < chart->patches->len; i++)
    {
      const SherdXyz xyz = sherd_lab_to_xyz (&g_array_index (chart->patches, SherdChartPatch, i).lab);

      brightest_y = MAX (brightest_y, 100.0 * xyz.y);
    }
  if (has_columns (sheet->lab) || brightest_y >= LEAST_BRIGHTEST_Y)
    return TRUE;
  return sherd_cgats_refuse (error, _ ("its XYZ values are too small: they are written for a white of 100, not of 1. "
                                       "Multiply them by 100."));
}

static gboolean
read_patches (SherdChart *chart, const Sheet *sheet, GError **error)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (int row = 0; row < sheet->n_rows; row++)
    if (!add_patch_of_row (chart, sheet, row, names, error))
      return FALSE;
  return check_scale (chart, sheet, error);
}

/* The first table that holds colours: some makers put spectra or notes in tables of their own. */
static gboolean
choose_sheet (Sheet *sheet, cmsHANDLE file, const SherdCgatsText *text, GError **error)
{
  const guint n_tables = MIN (cmsIT8TableCount (file), text->tables->len);

  for (guint i = 0; i < n_tables; i++)
    if (sheet_init (sheet, file, i, text) && check_sheet (sheet, NULL))
      return TRUE;
  for (guint i = 0; i < n_tables; i++)
    if (sheet_init (sheet, file, i, text) && (has_columns (sheet->lab) || has_columns (sheet->xyz)))
      return check_sheet (sheet, error);
  if (!sheet_init (sheet, file, 0, text))
    return sherd_cgats_refuse (error, _ ("its NUMBER_OF_SETS is not the number of its rows."));
  return check_sheet (sheet, error);
}

/* LittleCMS prints its complaints through this; ours come as errors. */
static void
keep_message (cmsContext context, cmsUInt32Number code, const char *text)
{
  GString *message = cmsGetContextUserData (context);

  g_string_assign (message, text + strspn (text, ": "));
}

static SherdChart *
read_file (cmsHANDLE file, const SherdCgatsText *text, GError **error)
{
  const char *description = cmsIT8GetProperty (file, "DESCRIPTOR");
  g_autoptr (SherdChart) chart = sherd_chart_new (description);
  Sheet sheet;

  if (!choose_sheet (&sheet, file, text, error) || !read_patches (chart, &sheet, error))
    return NULL;
  return g_steal_pointer (&chart);
}

/**
 * sherd_chart_new_from_cgats:
 * @text: content of a CGATS.17 (ISO 28178) text file
 * @length: its bytes, or -1 when it ends with a zero
 * @error: SHERD_COLOUR_ERROR_CGATS, naming the line and the patch, or the column
 *
 * Reads the reference values of a chart: a name (SAMPLE_ID, SAMPLE_NAME or both) and a colour (LAB_L, LAB_A, LAB_B, or
 * XYZ with white at 100) for every patch, for D50 and the 2° observer. Of several tables the first with colours counts.
 * Of two names the one that tells the place of the patch ("A1") comes first.
 *
 * Returns: (transfer full): the chart, patches in the order of the file
 */
SherdChart *
sherd_chart_new_from_cgats (const char *text, gssize length, GError **error)
{
  g_autoptr (SherdCgatsText) plain = sherd_cgats_text_new (text, length < 0 ? strlen (text) : (gsize)length, error);
  g_autoptr (GString) message = g_string_new (NULL);
  SherdChart *chart = NULL;
  cmsContext context;
  cmsHANDLE file;

  if (plain == NULL)
    return NULL;
  context = cmsCreateContext (NULL, message);
  cmsSetLogErrorHandlerTHR (context, keep_message);
  file = cmsIT8LoadFromMem (context, plain->text->str, (cmsUInt32Number)plain->text->len);
  if (file != NULL)
    {
      chart = read_file (file, plain, error);
      cmsIT8Free (file);
    }
  else
    sherd_cgats_refuse (error, _ ("it is not sound CGATS.17 text (%s)."), g_strstrip (message->str));
  cmsDeleteContext (context);
  return chart;
}
