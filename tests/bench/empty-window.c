/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The least that a GTK program can show: a window with nothing in it, as large as the program's own. */
#include "config.h"

#include "first-frame.h"

static void
activate_cb (GtkApplication *application)
{
  GtkWidget *window = gtk_application_window_new (application);

  gtk_window_set_default_size (GTK_WINDOW (window), 1240, 780);
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  g_autoptr (GtkApplication) application = gtk_application_new ("org.sherdboard.EmptyWindow", G_APPLICATION_NON_UNIQUE);

  first_frame_tell (application, NULL);
  g_signal_connect (application, "activate", G_CALLBACK (activate_cb), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
