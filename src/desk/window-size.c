/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/window-size.h"

static gboolean
settings_are_installed (void)
{
  GSettingsSchemaSource *source = g_settings_schema_source_get_default ();
  g_autoptr (GSettingsSchema) schema =
    source != NULL ? g_settings_schema_source_lookup (source, SHERD_APP_ID, TRUE) : NULL;

  return schema != NULL;
}

/**
 * sherd_window_size_keep:
 * @window: a window that was not shown yet
 *
 * Opens @window as large as the last one was, and remembers how it is left. A program that was not installed may have
 * no settings; its windows keep the size of their template (g_settings_new () would end the program).
 */
void
sherd_window_size_keep (GtkWindow *window)
{
  g_autoptr (GSettings) settings = NULL;

  if (!settings_are_installed ())
    return;
  settings = g_settings_new (SHERD_APP_ID);
  g_settings_bind (settings, "window-width", window, "default-width", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (settings, "window-height", window, "default-height", G_SETTINGS_BIND_DEFAULT);
  g_settings_bind (settings, "window-maximized", window, "maximized", G_SETTINGS_BIND_DEFAULT);
}
