/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "first-frame.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

typedef struct
{
  GtkWindow *window;
  const char *title; /* (nullable): the one that it begins with */
  gboolean told;
} Watch;

static void
tell_now (void)
{
  struct timespec spent;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &spent);
  printf ("%" G_GINT64_FORMAT " %.2f\n", g_get_monotonic_time (),
          1e3 * (double)spent.tv_sec + 1e-6 * (double)spent.tv_nsec);
  fflush (stdout);
}

static void
after_paint_cb (GdkFrameClock *clock, Watch *watch)
{
  const gboolean ends = watch->title == NULL || !g_str_equal (gtk_window_get_title (watch->window), watch->title);

  if (!watch->told || ends)
    tell_now ();
  watch->told = TRUE;
  if (ends)
    _exit (EXIT_SUCCESS);
}

static void
realize_cb (GtkWidget *window, Watch *watch)
{
  g_signal_connect (gtk_widget_get_frame_clock (window), "after-paint", G_CALLBACK (after_paint_cb), watch);
}

static void
window_added_cb (GtkApplication *application, GtkWindow *window, const char *title)
{
  Watch *watch = g_new0 (Watch, 1);

  *watch = (Watch){ .window = window, .title = title };
  g_signal_connect (window, "realize", G_CALLBACK (realize_cb), watch);
}

void
first_frame_tell (GtkApplication *application, const char *title)
{
  g_signal_connect (application, "window-added", G_CALLBACK (window_added_cb), (gpointer)title);
}
