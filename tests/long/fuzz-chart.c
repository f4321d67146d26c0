/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text is a chart with values that can be, or ends in an error with a message. */
#include "config.h"

#include "colour/chart.h"

#include <math.h>

int LLVMFuzzerTestOneInput (const guint8 *data, size_t size);

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdChart) chart = sherd_chart_new_from_cgats ((const char *)data, (gssize)size, &error);

  if (chart == NULL)
    {
      g_assert_true (error != NULL && error->message[0] != '\0');
      return 0;
    }
  for (guint i = 0; i < chart->patches->len; i++)
    {
      const SherdChartPatch *patch = &g_array_index (chart->patches, SherdChartPatch, i);

      g_assert_nonnull (patch->name);
      g_assert_true (isfinite (patch->lab.l) && isfinite (patch->lab.a) && isfinite (patch->lab.b));
    }
  return 0;
}
