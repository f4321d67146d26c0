/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/application.h"

#include <glib/gi18n-lib.h>

#include "desk/window.h"

struct _SherdApplication
{
  GtkApplication parent_instance;

  gboolean wants_demo;
};

G_DEFINE_FINAL_TYPE (SherdApplication, sherd_application, GTK_TYPE_APPLICATION)

static const struct
{
  const char *action;
  const char *keys[3];
} shortcuts[] = {
  { "win.new", { "<Control>n" } },
  { "win.open", { "<Control>o" } },
  { "win.save", { "<Control>s" } },
  { "win.save-as", { "<Control><Shift>s" } },
  { "win.undo", { "<Control>z" } },
  { "win.redo", { "<Control><Shift>z", "<Control>y" } },
  { "win.measure", { "<Control>m" } },
  { "win.station('paints')", { "<Control>1" } },
  { "win.station('piece')", { "<Control>2" } },
  { "win.station('photographs')", { "<Control>3" } },
  { "win.station('results')", { "<Control>4" } },
  { "window.close", { "<Control>w", "<Control>q" } },
  { "win.show-help-overlay", { "<Control>question" } },
};

static void
add_style (const char *resource)
{
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();

  gtk_css_provider_load_from_resource (provider, resource);
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
}

/* In the build tree the program's icon is not in the theme. */
static void
add_icons (void)
{
  const char *data_folder = g_getenv ("SHERD_DATA_DIR");
  g_autofree char *icons = data_folder != NULL ? g_build_filename (data_folder, "icons", NULL) : NULL;

  if (icons != NULL)
    gtk_icon_theme_add_search_path (gtk_icon_theme_get_for_display (gdk_display_get_default ()), icons);
}

static void
sherd_application_startup (GApplication *application)
{
  G_APPLICATION_CLASS (sherd_application_parent_class)->startup (application);
  add_icons ();
  add_style ("/org/sherdboard/Sherdboard/photo-canvas.css");
  add_style ("/org/sherdboard/Sherdboard/sherdboard.css");
  for (guint i = 0; i < G_N_ELEMENTS (shortcuts); i++)
    gtk_application_set_accels_for_action (GTK_APPLICATION (application), shortcuts[i].action, shortcuts[i].keys);
}

/* What a window opens when its first frame is drawn. */
typedef struct
{
  SherdWindow *window;
  char *path; /* NULL: the demo */
} Opening;

static void
opening_free (gpointer data)
{
  Opening *opening = data;

  g_object_unref (opening->window);
  g_free (opening->path);
  g_free (opening);
}

static gboolean
open_cb (gpointer data)
{
  Opening *opening = data;

  if (opening->path != NULL)
    sherd_window_open_path (opening->window, opening->path);
  else
    sherd_window_open_demo (opening->window);
  return G_SOURCE_REMOVE;
}

/* The window comes at once, its trial when that is read: nobody waits before an empty screen. */
static void
open_in_new_window (SherdApplication *self, const char *path)
{
  GtkWidget *window = sherd_window_new (GTK_APPLICATION (self));
  Opening *opening = g_new (Opening, 1);

  *opening = (Opening){ SHERD_WINDOW (g_object_ref (window)), g_strdup (path) };
  gtk_window_present (GTK_WINDOW (window));
  g_idle_add_full (G_PRIORITY_LOW, open_cb, opening, opening_free);
}

static void
sherd_application_activate (GApplication *application)
{
  SherdApplication *self = SHERD_APPLICATION (application);
  GtkWidget *window;

  if (self->wants_demo)
    {
      open_in_new_window (self, NULL);
      return;
    }
  window = sherd_window_new (GTK_APPLICATION (self));
  sherd_window_show_start (SHERD_WINDOW (window));
  gtk_window_present (GTK_WINDOW (window));
  sherd_window_offer_recovery (SHERD_WINDOW (window));
}

static void
sherd_application_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  for (int i = 0; i < n_files; i++)
    {
      g_autofree char *path = g_file_get_path (files[i]);

      if (path != NULL)
        open_in_new_window (SHERD_APPLICATION (application), path);
    }
}

static int
sherd_application_handle_local_options (GApplication *application, GVariantDict *options)
{
  if (g_variant_dict_contains (options, "version"))
    {
      g_print ("sherdboard %s\n", SHERD_VERSION);
      return 0;
    }
  SHERD_APPLICATION (application)->wants_demo = g_variant_dict_contains (options, "demo");
  return -1;
}

/**
 * sherd_application_new:
 * @flags: beyond G_APPLICATION_HANDLES_OPEN
 *
 * Returns: (transfer full): the application
 */
SherdApplication *
sherd_application_new (GApplicationFlags flags)
{
  return g_object_new (SHERD_TYPE_APPLICATION, "application-id", SHERD_APP_ID, "flags",
                       flags | G_APPLICATION_HANDLES_OPEN, "resource-base-path", "/org/sherdboard/Sherdboard", NULL);
}

static void
sherd_application_class_init (SherdApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  application_class->startup = sherd_application_startup;
  application_class->activate = sherd_application_activate;
  application_class->open = sherd_application_open;
  application_class->handle_local_options = sherd_application_handle_local_options;
}

static void
sherd_application_init (SherdApplication *self)
{
  const GOptionEntry options[] = { { "demo", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Open a copy of the demo trial"),
                                     NULL },
                                   { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Show the version"), NULL },
                                   G_OPTION_ENTRY_NULL };

  g_application_add_main_option_entries (G_APPLICATION (self), options);
  g_application_set_option_context_parameter_string (G_APPLICATION (self), _ ("[TRIAL]"));
}
