/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From start to first frame: the program with its demo trial against an empty GTK window, by turns, so that other work
 * on the machine falls on both alike. Needs a display; prints lines "name value aim".
 *
 *   bench-start EMPTY-WINDOW DEMO-WINDOW */
#include "config.h"

#include <glib.h>
#include <stdio.h>
#include <stdlib.h>

#define N_ROUNDS 11u

typedef struct
{
  double wall_ms[N_ROUNDS];
  double cpu_ms[N_ROUNDS];
} Times;

static int
compare (const void *a, const void *b)
{
  const double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

static double
median (double values[N_ROUNDS])
{
  qsort (values, N_ROUNDS, sizeof *values, compare);
  return values[N_ROUNDS / 2];
}

static void
start (const char *const *words, double *wall_ms, double *cpu_ms)
{
  g_autofree char *printed = NULL;
  g_autoptr (GError) error = NULL;
  const gint64 began_us = g_get_monotonic_time ();
  gint64 drawn_us = 0;
  int status;

  if (!g_spawn_sync (NULL, (char **)words, NULL, G_SPAWN_DEFAULT, NULL, NULL, &printed, NULL, &status, &error))
    g_error ("%s", error->message);
  if (sscanf (printed, "%" G_GINT64_FORMAT " %lf", &drawn_us, cpu_ms) != 2)
    g_error ("%s drew no frame", words[0]);
  *wall_ms = (double)(drawn_us - began_us) / 1000.0;
}

static void
print_times (const char *name, Times *empty, Times *demo)
{
  g_print ("# %s: wall %.0f ms against %.0f, CPU %.0f ms against %.0f\n", name, median (demo->wall_ms),
           median (empty->wall_ms), median (demo->cpu_ms), median (empty->cpu_ms));
  g_print ("%-28s %7.2f  ≤ 1.5\n", "start-wall-to-empty-window", median (demo->wall_ms) / median (empty->wall_ms));
  g_print ("%-28s %7.2f  ≤ 1.5\n", "start-cpu-to-empty-window", median (demo->cpu_ms) / median (empty->cpu_ms));
}

int
main (int argc, char **argv)
{
  const char *const empty_words[] = { argc > 1 ? argv[1] : NULL, NULL };
  const char *const demo_words[] = { argc > 2 ? argv[2] : NULL, "--demo", NULL };
  double load[3] = { 0 }, ignored[2];
  Times empty, demo;

  if (argc != 3)
    {
      g_printerr ("Usage: bench-start EMPTY-WINDOW DEMO-WINDOW\n");
      return EXIT_FAILURE;
    }
  getloadavg (load, 3);
  g_print ("# %u processors, load %.1f\n", g_get_num_processors (), load[0]);
  start (empty_words, &ignored[0], &ignored[1]);
  start (demo_words, &ignored[0], &ignored[1]);
  for (guint i = 0; i < N_ROUNDS; i++)
    {
      start (empty_words, &empty.wall_ms[i], &empty.cpu_ms[i]);
      start (demo_words, &demo.wall_ms[i], &demo.cpu_ms[i]);
    }
  print_times ("start to first frame", &empty, &demo);
  return EXIT_SUCCESS;
}
