/* SPDX-License-Identifier: GPL-3.0-or-later */
/* On the demo trial, whose photographs are measured once alone: a run must come to the same. */
#include "config.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>

#include "support.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/measure-run.h"

typedef struct
{
  char *folder;
  SherdTrial *trial;
  GListModel *photographs;
  SherdMeasureRun *run;
  GString *told; /* ids of photographs: measured as they are, failed with a mark */
  double done_frac;
  guint n_measured;
  gboolean finished;
  gboolean cancel_at_first;
} Bench;

static SherdPhotograph *
photograph_at (Bench *bench, guint i)
{
  g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (bench->photographs, i);

  return photograph;
}

/* The same picture once more, at a later stage. */
static SherdPhotograph *
add_again (Bench *bench, guint of, const char *stage)
{
  SherdPhotograph *first = photograph_at (bench, of);
  const SherdMarks *marks = sherd_photograph_get_marks (first);
  const SherdMarks *reference_marks = sherd_photograph_get_reference_marks (first);
  g_autofree char *path = sherd_trial_dup_photo_path (bench->trial, first);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhotograph) again = sherd_photograph_new_from_file (path, &error);

  g_assert_no_error (error);
  g_assert_true (sherd_trial_add_photograph (bench->trial, again, sherd_photograph_get_piece (first),
                                             sherd_photograph_get_side (first), stage, NULL));
  g_assert_true (sherd_trial_set_marks (bench->trial, again, marks->marks, marks->n_marks, FALSE, NULL));
  sherd_trial_set_reference (bench->trial, again, sherd_photograph_get_reference (first));
  g_assert_true (sherd_trial_set_reference_marks (bench->trial, again, reference_marks->marks, reference_marks->n_marks,
                                                  FALSE, NULL));
  return again;
}

static void
copy_to (const char *folder, const char *path)
{
  g_autofree char *name = g_path_get_basename (path);
  g_autoptr (GFile) from = g_file_new_for_path (path), to = g_file_new_build_filename (folder, name, NULL);

  g_assert_true (g_file_copy (from, to, G_FILE_COPY_NONE, NULL, NULL, NULL, NULL));
}

/* The path of a copy of the demo: adding photographs writes beside it. */
static char *
copy_demo (const char *folder)
{
  g_autofree char *file = g_build_filename (g_getenv ("SHERD_DATA_DIR"), "demo", "demo.sherdboard", NULL);
  g_autofree char *photos = g_build_filename (g_getenv ("SHERD_DATA_DIR"), "demo", "demo.photos", NULL);
  g_autofree char *copied_photos = g_build_filename (folder, "demo.photos", NULL);
  g_autoptr (GDir) listing = g_dir_open (photos, 0, NULL);
  const char *name;

  copy_to (folder, file);
  g_assert_cmpint (g_mkdir (copied_photos, 0700), ==, 0);
  while ((name = g_dir_read_name (listing)) != NULL)
    {
      g_autofree char *photo = g_build_filename (photos, name, NULL);

      copy_to (copied_photos, photo);
    }
  return g_build_filename (folder, "demo.sherdboard", NULL);
}

static void
set_up (Bench *bench, gconstpointer data)
{
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;

  bench->folder = scratch_new ();
  path = copy_demo (bench->folder);
  bench->trial = sherd_trial_load (path, &error);
  g_assert_no_error (error);
  bench->photographs = sherd_trial_get_photographs (bench->trial);
  g_assert_cmpuint (g_list_model_get_n_items (bench->photographs), ==, 2);
  bench->told = g_string_new (NULL);
}

static void
tear_down (Bench *bench, gconstpointer data)
{
  g_clear_object (&bench->run);
  g_clear_object (&bench->trial);
  g_string_free (bench->told, TRUE);
  scratch_remove (bench->folder);
  g_free (bench->folder);
}

static void
progress_cb (Bench *bench, double done_frac)
{
  g_assert_false (bench->finished);
  g_assert_cmpfloat (done_frac, >=, bench->done_frac);
  bench->done_frac = done_frac;
}

static void
measured_cb (Bench *bench, SherdMeasurement *measurement)
{
  SherdPhotograph *photograph = sherd_measurement_get_photograph (measurement);

  g_string_append_printf (bench->told, "%s ", sherd_part_get_id (SHERD_PART (photograph)));
  if (bench->cancel_at_first)
    sherd_measure_run_cancel (bench->run);
}

static void
failed_cb (Bench *bench, SherdPhotograph *photograph, const GError *error)
{
  g_assert_nonnull (error);
  g_string_append_printf (bench->told, "!%s ", sherd_part_get_id (SHERD_PART (photograph)));
}

static void
finished_cb (Bench *bench, guint n_measured)
{
  g_assert_false (bench->finished);
  bench->finished = TRUE;
  bench->n_measured = n_measured;
}

static void
begin (Bench *bench)
{
  bench->run = sherd_measure_run_new (bench->trial, bench->photographs);
  g_signal_connect_swapped (bench->run, "progress", G_CALLBACK (progress_cb), bench);
  g_signal_connect_swapped (bench->run, "measured", G_CALLBACK (measured_cb), bench);
  g_signal_connect_swapped (bench->run, "failed", G_CALLBACK (failed_cb), bench);
  g_signal_connect_swapped (bench->run, "finished", G_CALLBACK (finished_cb), bench);
  sherd_measure_run_start (bench->run);
}

static void
wait_for_the_end (Bench *bench)
{
  while (!bench->finished)
    g_main_context_iteration (NULL, TRUE);
}

static char *
told_in_order (Bench *bench)
{
  GString *ids = g_string_new (NULL);

  for (guint i = 0; i < g_list_model_get_n_items (bench->photographs); i++)
    g_string_append_printf (ids, "%s ", sherd_part_get_id (SHERD_PART (photograph_at (bench, i))));
  return g_string_free (ids, FALSE);
}

static void
test_all_are_told_in_their_order (Bench *bench, gconstpointer data)
{
  g_autofree char *order = NULL;

  add_again (bench, 1, "after firing 2");
  add_again (bench, 0, "unfired");
  add_again (bench, 1, "after firing 3");
  order = told_in_order (bench);
  begin (bench);
  wait_for_the_end (bench);
  g_assert_cmpstr (bench->told->str, ==, order);
  g_assert_cmpuint (bench->n_measured, ==, 5);
  g_assert_cmpfloat (bench->done_frac, ==, 1);
}

static void
test_each_is_measured_as_it_would_be_alone (Bench *bench, gconstpointer data)
{
  SherdLab alone[2];

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (GError) error = NULL;
      SherdMeasurement *measurement =
        sherd_trial_measure (bench->trial, photograph_at (bench, i), NULL, NULL, NULL, &error);

      g_assert_no_error (error);
      alone[i] = sherd_measurement_get_result (measurement)->zones[0].lab;
    }
  begin (bench);
  wait_for_the_end (bench);
  for (guint i = 0; i < 2; i++)
    {
      SherdMeasurement *measurement = sherd_trial_get_measurement (bench->trial, photograph_at (bench, i));
      const SherdLab *lab = &sherd_measurement_get_result (measurement)->zones[0].lab;

      g_assert_cmpmem (lab, sizeof *lab, &alone[i], sizeof *lab);
    }
}

static void
test_one_that_fails_is_told_in_its_place (Bench *bench, gconstpointer data)
{
  g_autofree char *wanted = NULL;
  SherdPhotograph *bare = add_again (bench, 0, "after firing 2");

  add_again (bench, 1, "after firing 3");
  g_assert_true (sherd_trial_set_marks (bench->trial, bare, NULL, 0, FALSE, NULL));
  wanted =
    g_strdup_printf ("%s %s !%s %s ", sherd_part_get_id (SHERD_PART (photograph_at (bench, 0))),
                     sherd_part_get_id (SHERD_PART (photograph_at (bench, 1))), sherd_part_get_id (SHERD_PART (bare)),
                     sherd_part_get_id (SHERD_PART (photograph_at (bench, 3))));
  begin (bench);
  wait_for_the_end (bench);
  g_assert_cmpstr (bench->told->str, ==, wanted);
  g_assert_cmpuint (bench->n_measured, ==, 3);
  g_assert_cmpfloat (bench->done_frac, ==, 1);
}

static void
test_nothing_to_measure_ends_at_once (Bench *bench, gconstpointer data)
{
  for (guint i = 0; i < 2; i++)
    g_assert_true (sherd_trial_set_marks (bench->trial, photograph_at (bench, i), NULL, 0, FALSE, NULL));
  begin (bench);
  g_assert_true (bench->finished);
  g_assert_cmpuint (bench->n_measured, ==, 0);
}

static void
test_a_cancelled_run_keeps_what_was_told (Bench *bench, gconstpointer data)
{
  g_auto (GStrv) told = NULL;

  for (guint i = 0; i < 12; i++)
    add_again (bench, i % 2, "after firing 2");
  bench->cancel_at_first = TRUE;
  begin (bench);
  wait_for_the_end (bench);
  g_strchomp (bench->told->str);
  told = g_strsplit (bench->told->str, " ", -1);
  g_assert_cmpuint (bench->n_measured, ==, g_strv_length (told));
  g_assert_cmpuint (bench->n_measured, <, 14);
  g_assert_null (strchr (bench->told->str, '!'));
  for (guint i = 0; told[i] != NULL; i++)
    g_assert_nonnull (sherd_trial_get_measurement (bench->trial, sherd_trial_find_photograph (bench->trial, told[i])));
}

static void
add (const char *name, void (*test) (Bench *bench, gconstpointer data))
{
  g_autofree char *path = g_strconcat ("/trial/measure-run/", name, NULL);

  g_test_add (path, Bench, NULL, set_up, test, tear_down);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  add ("all-are-told-in-their-order", test_all_are_told_in_their_order);
  add ("each-is-measured-as-it-would-be-alone", test_each_is_measured_as_it_would_be_alone);
  add ("one-that-fails-is-told-in-its-place", test_one_that_fails_is_told_in_its_place);
  add ("nothing-to-measure-ends-at-once", test_nothing_to_measure_ends_at_once);
  add ("a-cancelled-run-keeps-what-was-told", test_a_cancelled_run_keeps_what_was_told);
  return g_test_run ();
}
