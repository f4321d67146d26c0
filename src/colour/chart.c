/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/chart.h"

#include <glib/gi18n-lib.h>
#include <lcms2.h>
#include <math.h>
#include <string.h>

/* Our choice: no chart photographed beside a pot has more patches. */
#define MAX_PATCHES 2000

/* Our choice: a chart's text file of that many patches stays far below. */
#define MAX_BYTES (4 * 1024 * 1024)

/* No surface colour reaches these: our choice, to find values in the wrong column. */
#define MAX_AB 150.0

G_DEFINE_QUARK (sherd - colour - error - quark, sherd_colour_error)

static void
clear_patch (gpointer data)
{
  SherdChartPatch *patch = data;

  g_free (patch->name);
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
 * Adds a patch at the end.
 */
void
sherd_chart_add (SherdChart *chart, const char *name, const SherdLab *lab)
{
  SherdChartPatch patch = { .name = g_strdup (name), .lab = *lab };

  g_array_append_val (chart->patches, patch);
}

G_GNUC_PRINTF (2, 3)
static gboolean
refuse (GError **error, const char *format, ...)
{
  va_list arguments;
  g_autofree char *reason = NULL;

  va_start (arguments, format);
  reason = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_CGATS, _ ("The chart's text file cannot be used: %s"),
               reason);
  return FALSE;
}

/* The columns that hold a patch's colour; -1 where the file has none. */
typedef struct
{
  int name;
  int lab[3];
  int xyz[3];
} Columns;

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
holds_place_codes (cmsHANDLE file, int column)
{
  int n_rows = (int)CLAMP (cmsIT8GetPropertyDbl (file, "NUMBER_OF_SETS"), 0.0, MAX_PATCHES);

  for (int row = 0; row < n_rows; row++)
    {
      const char *name = cmsIT8GetDataRowCol (file, row, column);

      if (name == NULL || !is_place_code (name))
        return FALSE;
    }
  return n_rows > 0;
}

/* Makers put the place of a patch into SAMPLE_ID or into SAMPLE_NAME, and a running number or a word into the other. */
static int
find_name_column (cmsHANDLE file)
{
  int id = cmsIT8FindDataFormat (file, "SAMPLE_ID");
  int name = cmsIT8FindDataFormat (file, "SAMPLE_NAME");

  if (id < 0 || (name >= 0 && holds_place_codes (file, name)))
    return name;
  return id;
}

static gboolean
has_columns (const int columns[3])
{
  return columns[0] >= 0 && columns[1] >= 0 && columns[2] >= 0;
}

static gboolean
find_columns (cmsHANDLE file, Columns *columns, GError **error)
{
  static const char *lab_names[3] = { "LAB_L", "LAB_A", "LAB_B" };
  static const char *xyz_names[3] = { "XYZ_X", "XYZ_Y", "XYZ_Z" };

  columns->name = find_name_column (file);
  for (guint i = 0; i < 3; i++)
    {
      columns->lab[i] = cmsIT8FindDataFormat (file, lab_names[i]);
      columns->xyz[i] = cmsIT8FindDataFormat (file, xyz_names[i]);
    }
  if (columns->name < 0)
    return refuse (error, _ ("its patches have no names. A column SAMPLE_ID or SAMPLE_NAME is needed."));
  if (!has_columns (columns->lab) && !has_columns (columns->xyz))
    return refuse (error, _ ("it has no colours. Columns LAB_L, LAB_A, LAB_B or XYZ_X, XYZ_Y, XYZ_Z are needed."));
  return TRUE;
}

/* LittleCMS reads "12,5" as 12 and an empty cell as 0, so cells are read as text and must be a number throughout. */
static gboolean
read_cell (cmsHANDLE file, int row, int column, const char *patch, double *value, GError **error)
{
  const char *text = cmsIT8GetDataRowCol (file, row, column);
  char *end = NULL;

  if (text == NULL || *text == '\0')
    return refuse (error, _ ("a value of patch “%s” is missing."), patch);
  *value = g_ascii_strtod (text, &end);
  if (*end != '\0' || !isfinite (*value))
    return refuse (error, _ ("“%s” at patch “%s” is not a number. Write it with a decimal point."), text, patch);
  return TRUE;
}

static gboolean
read_triple (cmsHANDLE file, int row, const int columns[3], const char *patch, double values[3], GError **error)
{
  for (guint i = 0; i < 3; i++)
    if (!read_cell (file, row, columns[i], patch, &values[i], error))
      return FALSE;
  return TRUE;
}

/* Lab where the file has it; else from XYZ, which CGATS.17 writes on a scale where white is 100. */
static gboolean
read_lab (cmsHANDLE file, int row, const Columns *columns, const char *patch, SherdLab *lab, GError **error)
{
  double values[3];

  if (has_columns (columns->lab))
    {
      if (!read_triple (file, row, columns->lab, patch, values, error))
        return FALSE;
      *lab = (SherdLab){ .l = values[0], .a = values[1], .b = values[2] };
    }
  else
    {
      SherdXyz xyz;

      if (!read_triple (file, row, columns->xyz, patch, values, error))
        return FALSE;
      xyz = (SherdXyz){ .x = values[0] / 100.0, .y = values[1] / 100.0, .z = values[2] / 100.0 };
      *lab = sherd_lab_from_xyz (&xyz);
    }
  if (lab->l < 0.0 || lab->l > 100.0 + 1e-6 || fabs (lab->a) > MAX_AB || fabs (lab->b) > MAX_AB)
    return refuse (error, _ ("patch “%s” has the impossible colour L* %.6g, a* %.6g, b* %.6g."), patch, lab->l, lab->a,
                   lab->b);
  return TRUE;
}

static gboolean
add_patch_of_row (SherdChart *chart, cmsHANDLE file, int row, const Columns *columns, GHashTable *names, GError **error)
{
  const char *name = cmsIT8GetDataRowCol (file, row, columns->name);
  SherdLab lab;

  if (name == NULL || *name == '\0' || !g_utf8_validate (name, -1, NULL))
    return refuse (error, _ ("the patch in row %d has no name in UTF-8 text."), row + 1);
  if (!g_hash_table_add (names, g_strdup (name)))
    return refuse (error, _ ("two patches are named “%s”."), name);
  if (!read_lab (file, row, columns, name, &lab, error))
    return FALSE;
  sherd_chart_add (chart, name, &lab);
  return TRUE;
}

/* An illuminant other than D50 would make every colour another number. */
static gboolean
check_illuminant (const char *text, GError **error)
{
  static const char *others[] = { "D65", "D55", "D75", "\"A\"", "ILLUMINANT, A", "ILLUMINANT,A", "F11" };
  const char *line = text;

  while (line != NULL && *line != '\0')
    {
      const char *end = strchr (line, '\n');
      g_autofree char *copy = end != NULL ? g_strndup (line, (gsize)(end - line)) : g_strdup (line);
      g_autofree char *upper = g_ascii_strup (copy, -1);

      if (strstr (upper, "ILLUMINANT") != NULL)
        for (guint i = 0; i < G_N_ELEMENTS (others); i++)
          if (strstr (upper, others[i]) != NULL)
            return refuse (error, _ ("its colours are for another light than D50: “%s”. Ask for values for D50, 2°."),
                           g_strstrip (copy));
      if (g_str_has_prefix (g_strchug (upper), "BEGIN_DATA"))
        break;
      line = end != NULL ? end + 1 : NULL;
    }
  return TRUE;
}

/* The first table that holds colours: some makers put spectra or notes in tables of their own. */
static gboolean
choose_table (cmsHANDLE file, Columns *columns, GError **error)
{
  guint n_tables = cmsIT8TableCount (file);

  for (guint i = 0; i < n_tables; i++)
    {
      cmsIT8SetTable (file, i);
      if (find_columns (file, columns, NULL))
        return TRUE;
    }
  cmsIT8SetTable (file, 0);
  return find_columns (file, columns, error);
}

static gboolean
read_patches (SherdChart *chart, cmsHANDLE file, GError **error)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Columns columns;
  double n_sets;

  if (!choose_table (file, &columns, error))
    return FALSE;
  n_sets = cmsIT8GetPropertyDbl (file, "NUMBER_OF_SETS");
  if (!(n_sets >= 1.0 && n_sets <= MAX_PATCHES))
    return refuse (error, _ ("it says it has %.6g patches; 1 to %d can be used."), n_sets, MAX_PATCHES);
  for (int row = 0; row < (int)n_sets; row++)
    if (!add_patch_of_row (chart, file, row, &columns, names, error))
      return FALSE;
  return TRUE;
}

/* LittleCMS prints its complaints through this; ours come as errors. */
static void
keep_message (cmsContext context, cmsUInt32Number code, const char *text)
{
  GString *message = cmsGetContextUserData (context);

  g_string_assign (message, text);
}

static cmsHANDLE
parse (cmsContext context, const char *text, gsize length, const GString *message, GError **error)
{
  cmsHANDLE file = cmsIT8LoadFromMem (context, text, (cmsUInt32Number)length);

  if (file == NULL)
    refuse (error, _ ("it is not CGATS.17 text (%s)."), message->len > 0 ? message->str : _ ("unreadable"));
  return file;
}

/**
 * sherd_chart_new_from_cgats:
 * @text: content of a CGATS.17 (ISO 28178) text file
 * @length: its bytes, or -1 when it ends with a zero
 * @error: SHERD_COLOUR_ERROR_CGATS, naming the patch or the column
 *
 * Reads the reference values of a chart: a name (SAMPLE_ID, SAMPLE_NAME or both) and a colour (LAB_L, LAB_A, LAB_B, or
 * XYZ with white at 100) for every patch, for D50 and the 2° observer. A byte-order mark is passed over.
 *
 * Returns: (transfer full): the chart, patches in the order of the file
 */
SherdChart *
sherd_chart_new_from_cgats (const char *text, gssize length, GError **error)
{
  static const char byte_order_mark[] = "\xef\xbb\xbf";
  gsize n_bytes = length < 0 ? strlen (text) : (gsize)length;
  g_autoptr (GString) message = g_string_new (NULL);
  g_autoptr (SherdChart) chart = NULL;
  g_autofree char *copy = NULL;
  cmsContext context;
  cmsHANDLE file;
  const char *description;
  gboolean read = FALSE;

  if (n_bytes >= 3 && memcmp (text, byte_order_mark, 3) == 0)
    {
      text += 3;
      n_bytes -= 3;
    }
  if (n_bytes == 0 || n_bytes > MAX_BYTES || memchr (text, '\0', n_bytes) != NULL)
    {
      refuse (error, n_bytes == 0 ? _ ("it is empty.") : _ ("it is not a text file of a chart's size."));
      return NULL;
    }
  copy = g_strndup (text, n_bytes);
  if (!check_illuminant (copy, error))
    return NULL;

  context = cmsCreateContext (NULL, message);
  cmsSetLogErrorHandlerTHR (context, keep_message);
  file = parse (context, copy, n_bytes, message, error);
  if (file != NULL)
    {
      description = cmsIT8GetProperty (file, "DESCRIPTOR");
      chart = sherd_chart_new (description != NULL && g_utf8_validate (description, -1, NULL) ? description : NULL);
      read = read_patches (chart, file, error);
      cmsIT8Free (file);
    }
  cmsDeleteContext (context);
  return read ? g_steal_pointer (&chart) : NULL;
}
