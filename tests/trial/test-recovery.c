/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The journal against crashes. A second program is really killed (SIGKILL); both share the monotonic clock, by which
 * the age of what is recovered is measured against the two seconds that are promised. */
#include "config.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "support.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/recovery.h"

#define PROMISED_US (2 * G_USEC_PER_SEC)

typedef struct
{
  char *folder;
  char *journals;
  char *file;
} Place;

static void
set_up (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();

  place->folder = scratch_new ();
  place->journals = scratch_path (place->folder, "journals");
  place->file = scratch_path (place->folder, "clay.sherdboard");
  g_assert_nonnull (sherd_trial_add_tile (trial, "T", 100, 60, 8, SHERD_CLAY_DRY, NULL));
  g_assert_true (sherd_trial_save_as (trial, place->file, NULL, NULL));
}

static void
tear_down (Place *place, gconstpointer data)
{
  scratch_remove (place->folder);
  g_free (place->folder);
  g_free (place->journals);
  g_free (place->file);
}

static void
retitle (SherdTrial *trial, const char *title)
{
  sherd_trial_begin_edit (trial, "Change title");
  sherd_trial_set (trial, trial, "title", title);
  sherd_trial_end_edit (trial);
}

static void
quit_cb (GMainLoop *loop)
{
  g_main_loop_quit (loop);
}

static gboolean
quit_timeout_cb (gpointer data)
{
  quit_cb (data);
  return G_SOURCE_REMOVE;
}

static void
wait_ms (guint ms)
{
  g_autoptr (GMainLoop) loop = g_main_loop_new (NULL, FALSE);

  g_timeout_add (ms, quit_timeout_cb, loop);
  g_main_loop_run (loop);
}

static guint
count_journals (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    n += g_str_has_suffix (name, ".recovery");
  return n;
}

static gboolean
wait_for_journal (const char *folder)
{
  const gint64 deadline = g_get_monotonic_time () + PROMISED_US;

  while (count_journals (folder) == 0 && g_get_monotonic_time () < deadline)
    wait_ms (20);
  return count_journals (folder) > 0;
}

/* (transfer full): once there is something, or the time is up */
static GPtrArray *
wait_for_found (const char *folder)
{
  const gint64 deadline = g_get_monotonic_time () + PROMISED_US;
  GPtrArray *found = sherd_recovery_find (folder);

  while (found->len == 0 && g_get_monotonic_time () < deadline)
    {
      g_ptr_array_unref (found);
      wait_ms (20);
      found = sherd_recovery_find (folder);
    }
  return found;
}

/* When the title @wanted was set, by what the program told. */
static gint64
time_of (const char *told, const char *wanted)
{
  g_auto (GStrv) lines = g_strsplit (told, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_auto (GStrv) words = g_strsplit (lines[i], " ", 2);

      if (words[0] != NULL && words[1] != NULL && g_str_equal (words[0], wanted))
        return g_ascii_strtoll (words[1], NULL, 10);
    }
  return 0;
}

/* Runs the program for @ms, kills it, and gives what it told. */
static char *
edit_and_kill (Place *place, guint ms, gint64 *killed_at)
{
  const char *arguments[] = { g_getenv ("SHERD_EDIT_UNTIL_KILLED"), place->file, place->journals, NULL };
  g_autoptr (GSubprocess) program = g_subprocess_newv (arguments, G_SUBPROCESS_FLAGS_STDOUT_PIPE, NULL);
  g_autofree char *told = g_malloc0 (1u << 20);
  gsize length = 0;

  g_assert_nonnull (program);
  g_usleep (ms * 1000u);
  *killed_at = g_get_monotonic_time ();
  g_subprocess_send_signal (program, SIGKILL);
  g_assert_true (
    g_input_stream_read_all (g_subprocess_get_stdout_pipe (program), told, (1u << 20) - 1, &length, NULL, NULL));
  g_assert_true (g_subprocess_wait (program, NULL, NULL));
  return g_steal_pointer (&told);
}

static void
test_a_killed_program_loses_at_most_two_seconds (Place *place, gconstpointer data)
{
  static const guint times_ms[] = { 2100, 2700, 3400 };

  for (gsize i = 0; i < G_N_ELEMENTS (times_ms); i++)
    {
      gint64 killed_at;
      g_autofree char *told = edit_and_kill (place, times_ms[i], &killed_at);
      g_autoptr (GPtrArray) found = sherd_recovery_find (place->journals);
      g_autoptr (GError) error = NULL;
      g_autoptr (SherdTrial) trial = NULL;
      SherdRecovery *recovery;
      gint64 age_us;

      g_assert_cmpuint (found->len, ==, 1);
      recovery = g_ptr_array_index (found, 0);
      g_assert_cmpstr (recovery->trial_path, ==, place->file);
      trial = sherd_recovery_open (recovery, &error);
      g_assert_no_error (error);
      g_assert_true (sherd_trial_get_modified (trial));
      /* The next edit was not saved: what is lost is no older than that. */
      age_us = killed_at - time_of (told, sherd_trial_get_title (trial));
      g_test_message ("killed after %u ms: recovered a state %" G_GINT64_FORMAT " ms old", times_ms[i], age_us / 1000);
      g_assert_cmpint (age_us, <, PROMISED_US);
      sherd_recovery_discard (recovery);
      g_assert_cmpuint (count_journals (place->journals), ==, 0);
    }
}

static void
test_what_is_recovered_can_be_saved (Place *place, gconstpointer data)
{
  g_autoptr (GPtrArray) found = NULL;
  g_autoptr (SherdTrial) trial = NULL;
  g_autoptr (SherdTrial) saved = NULL;
  g_autoptr (GError) error = NULL;
  gint64 killed_at;

  g_free (edit_and_kill (place, 2200, &killed_at));
  found = sherd_recovery_find (place->journals);
  trial = sherd_recovery_open (g_ptr_array_index (found, 0), NULL);
  g_assert_true (sherd_recovery_start (trial, place->journals, NULL));
  g_assert_cmpuint (count_journals (place->journals), ==, 1);
  g_assert_true (sherd_trial_save (trial, SHERD_SAVE_NORMAL, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (count_journals (place->journals), ==, 0);
  saved = sherd_trial_load (place->file, NULL);
  g_assert_cmpstr (sherd_trial_get_title (saved), ==, sherd_trial_get_title (trial));
  sherd_recovery_stop (trial);
}

static void
test_saving_and_undoing_remove_the_journal (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = sherd_trial_load (place->file, NULL);

  g_assert_true (sherd_recovery_start (trial, place->journals, NULL));
  g_assert_cmpuint (count_journals (place->journals), ==, 0);
  retitle (trial, "a");
  g_assert_true (wait_for_journal (place->journals));
  sherd_trial_undo (trial);
  g_assert_cmpuint (count_journals (place->journals), ==, 0);
  sherd_trial_redo (trial);
  g_assert_true (wait_for_journal (place->journals));
  g_assert_true (sherd_trial_save (trial, SHERD_SAVE_NORMAL, NULL, NULL));
  g_assert_cmpuint (count_journals (place->journals), ==, 0);
  sherd_recovery_stop (trial);
}

static void
test_giving_up_removes_the_journal (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = sherd_trial_load (place->file, NULL);

  g_assert_true (sherd_recovery_start (trial, place->journals, NULL));
  retitle (trial, "a");
  g_assert_true (wait_for_journal (place->journals));
  retitle (trial, "b");
  sherd_recovery_stop (trial);
  wait_ms (1300);
  g_assert_cmpuint (count_journals (place->journals), ==, 0);
}

static void
test_a_running_program_is_not_offered (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = sherd_trial_load (place->file, NULL);
  g_autoptr (GPtrArray) found = NULL;

  g_assert_true (sherd_recovery_start (trial, place->journals, NULL));
  retitle (trial, "a");
  g_assert_true (wait_for_journal (place->journals));
  found = sherd_recovery_find (place->journals);
  g_assert_cmpuint (found->len, ==, 0);
  sherd_recovery_stop (trial);
}

static void
test_a_trial_without_a_file_is_recovered_with_its_pictures (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autofree char *picture = scratch_path (place->folder, "späte Sonne.png");
  g_autoptr (SherdPhotograph) photograph = NULL;
  g_autoptr (GPtrArray) found = NULL;
  g_autoptr (SherdTrial) again = NULL;
  g_autoptr (SherdPhotograph) recovered = NULL;
  SherdPiece *tile = sherd_trial_add_tile (trial, "T", 100, 60, 8, SHERD_CLAY_DRY, NULL);

  write_png (picture, 20, 10, 33);
  photograph = sherd_photograph_new_from_file (picture, NULL);
  g_assert_true (sherd_recovery_start (trial, place->journals, NULL));
  g_assert_true (sherd_trial_add_photograph (trial, photograph, tile, sherd_piece_find_side_by_name (tile, "face"),
                                             "unfired", NULL));
  g_assert_true (wait_for_journal (place->journals));
  /* As if the program had died: the lock goes, the file stays. Writing may hold the trial a little longer. */
  g_clear_object (&trial);

  found = wait_for_found (place->journals);
  g_assert_cmpuint (found->len, ==, 1);
  g_assert_null (((SherdRecovery *)g_ptr_array_index (found, 0))->trial_path);
  again = sherd_recovery_open (g_ptr_array_index (found, 0), NULL);
  recovered = g_list_model_get_item (sherd_trial_get_photographs (again), 0);
  g_assert_true (sherd_trial_check_photo (again, recovered, NULL));
}

static void
test_damaged_and_foreign_files_are_not_offered (Place *place, gconstpointer data)
{
  static const char *const texts[] = { "", "{", "{\"format\": \"other\"}", "[]" };
  g_autoptr (GPtrArray) found = NULL;

  g_assert_cmpint (g_mkdir (place->journals, 0700), ==, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autofree char *name = g_strdup_printf ("%" G_GSIZE_FORMAT ".recovery", i);
      g_autofree char *path = scratch_path (place->journals, name);

      g_assert_true (g_file_set_contents (path, texts[i], -1, NULL));
    }
  found = sherd_recovery_find (place->journals);
  g_assert_cmpuint (found->len, ==, 0);
}

static void
remember_cb (SherdTrial *trial, const char *message, char **told)
{
  g_free (*told);
  *told = g_strdup (message);
}

static void
test_a_journal_that_cannot_be_written_is_told (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = sherd_trial_load (place->file, NULL);
  g_autofree char *told = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_recovery_start (trial, "/proc/no/such/folder", &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SAVE);
  g_assert_true (sherd_recovery_start (trial, place->journals, NULL));
  g_signal_connect (trial, "recovery-failed", G_CALLBACK (remember_cb), &told);
  scratch_remove (place->journals);
  retitle (trial, "a");
  wait_ms (1500);
  g_assert_nonnull (told);
  sherd_recovery_stop (trial);
}

static void
add (const char *name, void (*test) (Place *place, gconstpointer data))
{
  g_autofree char *path = g_strconcat ("/trial/recovery/", name, NULL);

  g_test_add (path, Place, NULL, set_up, test, tear_down);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  add ("a-killed-program-loses-at-most-two-seconds", test_a_killed_program_loses_at_most_two_seconds);
  add ("what-is-recovered-can-be-saved", test_what_is_recovered_can_be_saved);
  add ("saving-and-undoing-remove-the-journal", test_saving_and_undoing_remove_the_journal);
  add ("giving-up-removes-the-journal", test_giving_up_removes_the_journal);
  add ("a-running-program-is-not-offered", test_a_running_program_is_not_offered);
  add ("a-trial-without-a-file-is-recovered-with-its-pictures",
       test_a_trial_without_a_file_is_recovered_with_its_pictures);
  add ("damaged-and-foreign-files-are-not-offered", test_damaged_and_foreign_files_are_not_offered);
  add ("a-journal-that-cannot-be-written-is-told", test_a_journal_that_cannot_be_written_is_told);
  return g_test_run ();
}
