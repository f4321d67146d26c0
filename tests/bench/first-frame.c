/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "first-frame.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

static void
after_paint_cb (GdkFrameClock *clock)
{
  struct timespec spent;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &spent);
  printf ("%" G_GINT64_FORMAT " %.2f\n", g_get_monotonic_time (),
          1e3 * (double)spent.tv_sec + 1e-6 * (double)spent.tv_nsec);
  fflush (stdout);
  _exit (EXIT_SUCCESS);
}

static void
realize_cb (GtkWidget *window)
{
  g_signal_connect (gtk_widget_get_frame_clock (window), "after-paint", G_CALLBACK (after_paint_cb), NULL);
}

static void
window_added_cb (GtkApplication *application, GtkWindow *window)
{
  g_signal_connect (window, "realize", G_CALLBACK (realize_cb), NULL);
}

void
first_frame_tell (GtkApplication *application)
{
  g_signal_connect (application, "window-added", G_CALLBACK (window_added_cb), NULL);
}
