/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From start to first frame: the program with its demo trial against an empty GTK window, by turns, so that other work
 * on the machine falls on both alike. Needs a display; prints lines "name value aim".
 *
 *   bench-start EMPTY-WINDOW DEMO-WINDOW */
#include "config.h"

#include <glib.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>

#define N_ROUNDS 11u

/* The first frame, and the first with the trial; of the empty window the same. */
enum
{
  FIRST,
  SHOWN,
  N_FRAMES
};

typedef struct
{
  double wall_ms[N_FRAMES][N_ROUNDS];
  double cpu_ms[N_FRAMES][N_ROUNDS];
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
start (const char *const *words, Times *times, guint round)
{
  g_autofree char *printed = NULL;
  g_autoptr (GError) error = NULL;
  const gint64 began_us = g_get_monotonic_time ();
  gint64 drawn_us[N_FRAMES];
  double cpu_ms[N_FRAMES];
  int status, n_read;

  if (!g_spawn_sync (NULL, (char **)words, NULL, G_SPAWN_DEFAULT, NULL, NULL, &printed, NULL, &status, &error))
    g_error ("%s", error->message);
  n_read = sscanf (printed, "%" G_GINT64_FORMAT " %lf %" G_GINT64_FORMAT " %lf", &drawn_us[FIRST], &cpu_ms[FIRST],
                   &drawn_us[SHOWN], &cpu_ms[SHOWN]);
  if (n_read < 2)
    g_error ("%s drew no frame", words[0]);
  for (guint i = 0; i < N_FRAMES; i++)
    {
      const guint at = n_read < 4 ? FIRST : i;

      times->wall_ms[i][round] = (double)(drawn_us[at] - began_us) / 1000.0;
      times->cpu_ms[i][round] = cpu_ms[at];
    }
}

static void
print_ratio (const char *name, double value_ms, double empty_ms, const char *aim)
{
  g_print ("%-28s %7.2f  %s (%.0f ms against %.0f)\n", name, value_ms / empty_ms, aim, value_ms, empty_ms);
}

int
main (int argc, char **argv)
{
  const char *const empty_words[] = { argc > 1 ? argv[1] : NULL, NULL };
  const char *const demo_words[] = { argc > 2 ? argv[2] : NULL, "--demo", NULL };
  double load[3] = { 0 };
  Times empty, demo;

  setlocale (LC_ALL, "");
  if (argc != 3)
    {
      g_printerr ("Usage: bench-start EMPTY-WINDOW DEMO-WINDOW\n");
      return EXIT_FAILURE;
    }
  getloadavg (load, 3);
  g_print ("# %u processors, load %.1f\n", g_get_num_processors (), load[0]);
  start (empty_words, &empty, 0); /* from a cold disk: not counted */
  start (demo_words, &demo, 0);
  for (guint i = 0; i < N_ROUNDS; i++)
    {
      start (empty_words, &empty, i);
      start (demo_words, &demo, i);
    }
  print_ratio ("first-frame-wall-to-empty", median (demo.wall_ms[FIRST]), median (empty.wall_ms[FIRST]), "≤ 1.5");
  print_ratio ("first-frame-cpu-to-empty", median (demo.cpu_ms[FIRST]), median (empty.cpu_ms[FIRST]), "≤ 1.5");
  print_ratio ("trial-shown-wall-to-empty", median (demo.wall_ms[SHOWN]), median (empty.wall_ms[SHOWN]), "");
  print_ratio ("trial-shown-cpu-to-empty", median (demo.cpu_ms[SHOWN]), median (empty.cpu_ms[SHOWN]), "");
  return EXIT_SUCCESS;
}
