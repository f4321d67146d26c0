/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/chart-file.h"

#include <glib/gi18n-lib.h>

#include "trial/error.h"

/* Our choice: the text file of the largest chart stays far below. */
#define MAX_BYTES (4 * 1024 * 1024)

/* A device has no size and no end. */
static gboolean
check_file (GFile *file, const char *name, GError **error)
{
  g_autoptr (GFileInfo) info = g_file_query_info (
    file, G_FILE_ATTRIBUTE_STANDARD_SIZE "," G_FILE_ATTRIBUTE_STANDARD_TYPE, G_FILE_QUERY_INFO_NONE, NULL, error);

  if (info == NULL)
    {
      g_prefix_error (error, _ ("The chart's values cannot be read: "));
      return FALSE;
    }
  if (g_file_info_get_file_type (info) == G_FILE_TYPE_REGULAR && g_file_info_get_size (info) <= MAX_BYTES)
    return TRUE;
  g_set_error (
    error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_OPEN,
    _ ("“%s” is not a file, or too large for a chart's text file. Choose the file with the chart's reference "
       "values."),
    name);
  return FALSE;
}

/**
 * sherd_chart_file_load:
 * @file: a text file with the reference values of a chart (CGATS.17)
 * @error: of the file system, SHERD_TRIAL_ERROR_OPEN for what is no file or too large, or of the colour room
 *
 * Returns: (transfer full): the chart; NULL with an error that names the file
 */
SherdChart *
sherd_chart_file_load (GFile *file, GError **error)
{
  g_autofree char *name = g_file_get_parse_name (file);
  g_autofree char *text = NULL;
  gsize length = 0;
  SherdChart *chart;

  if (!check_file (file, name, error) || !g_file_load_contents (file, NULL, &text, &length, NULL, error))
    return NULL;
  chart = sherd_chart_new_from_cgats (text, (gssize)length, error);
  if (chart == NULL)
    g_prefix_error (error, "“%s”: ", name);
  return chart;
}
