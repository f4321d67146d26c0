/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Faults while saving, injected from outside: strace makes the n-th call of a kind fail or kills the program there, a
 * resource limit stands for a full disk. After each the file must be the old or the new one, whole, with its pictures;
 * a program that reports success must have written the new one. */
#include "config.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>

#include "support.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/versions.h"

/* More calls of one kind than any save makes. */
#define MOST_CALLS 60

typedef struct
{
  char *folder;
  char *file;
  char *picture;
  char *trace;
  char *old_text;
  char *new_text;
} Stage;

static char *
content (const char *path)
{
  char *text = NULL;

  g_file_get_contents (path, &text, NULL, NULL);
  return text;
}

static const char *
save_once (void)
{
  return g_getenv ("SHERD_SAVE_ONCE");
}

/* -1 when a signal ended it. */
static int
run (const char *const *arguments, char **message)
{
  g_autoptr (GError) error = NULL;
  int status;

  g_assert_true (g_spawn_sync (NULL, (char **)arguments, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL, NULL,
                               NULL, NULL, message, &status, &error));
  return WIFEXITED (status) ? WEXITSTATUS (status) : -1;
}

/* The old state, as it lies before each run. */
static void
lay_out (Stage *stage)
{
  g_autofree char *photos = scratch_path (stage->folder, "clay.photos");
  g_autofree char *versions = scratch_path (stage->folder, "clay.versions");

  scratch_remove (photos);
  scratch_remove (versions);
  g_assert_true (g_file_set_contents (stage->file, stage->old_text, -1, NULL));
}

static void
stage_init (Stage *stage)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autofree char *message = NULL;

  stage->folder = scratch_new ();
  stage->file = scratch_path (stage->folder, "clay.sherdboard");
  stage->picture = scratch_path (stage->folder, "picture.png");
  stage->trace = scratch_path (stage->folder, "trace.txt");
  write_png (stage->picture, 300, 200, 99);
  g_assert_nonnull (sherd_trial_add_tile (trial, "T", 100, 60, 8, SHERD_CLAY_DRY, NULL));
  stage->old_text = sherd_trial_dup_text (trial, NULL);
  lay_out (stage);
  g_assert_cmpint (run ((const char *[]){ save_once (), stage->file, stage->picture, NULL }, &message), ==, 0);
  stage->new_text = content (stage->file);
  g_assert_cmpstr (stage->new_text, !=, stage->old_text);
}

static void
stage_clear (Stage *stage)
{
  scratch_remove (stage->folder);
  g_free (stage->folder);
  g_free (stage->file);
  g_free (stage->picture);
  g_free (stage->trace);
  g_free (stage->old_text);
  g_free (stage->new_text);
}

static guint
count_left_overs (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    n += g_str_has_suffix (name, ".sherdtmp");
  return n;
}

static guint
count_all_left_overs (Stage *stage)
{
  g_autofree char *photos = scratch_path (stage->folder, "clay.photos");
  g_autofree char *versions = scratch_path (stage->folder, "clay.versions");

  return count_left_overs (stage->folder) + count_left_overs (photos) + count_left_overs (versions);
}

/* A version is a whole state, or is not there. */
static void
assert_versions_are_whole (Stage *stage)
{
  g_auto (GStrv) versions = sherd_versions_list (stage->file);

  for (guint i = 0; versions[i] != NULL; i++)
    {
      g_autofree char *text = content (versions[i]);

      g_assert_true (g_str_equal (text, stage->old_text) || g_str_equal (text, stage->new_text));
    }
}

/* Whole, and with every picture that it names. Returns whether it is the new state. */
static gboolean
assert_whole (Stage *stage)
{
  g_autofree char *text = content (stage->file);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_trial_load (stage->file, &error);
  GListModel *photographs;

  g_assert_no_error (error);
  g_assert_true (g_str_equal (text, stage->old_text) || g_str_equal (text, stage->new_text));
  assert_versions_are_whole (stage);
  photographs = sherd_trial_get_photographs (trial);
  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);

      g_assert_true (sherd_trial_check_photo (trial, photograph, &error));
    }
  return g_str_equal (text, stage->new_text);
}

static gboolean
is_durability_doubt (const char *message)
{
  g_autofree char *code = g_strdup_printf ("%d ", SHERD_TRIAL_ERROR_DURABLE);

  return strstr (message, code) == message;
}

static void
assert_outcome (Stage *stage, int exit_status, const char *message)
{
  const gboolean is_new = assert_whole (stage);

  if (exit_status == 0)
    g_assert_true (is_new);
  if (exit_status == 1)
    {
      g_assert_cmpint (is_new, ==, is_durability_doubt (message));
      g_assert_cmpuint (count_all_left_overs (stage), ==, 0);
    }
}

/* What a killed program left aside is removed by the next save, which succeeds. */
static void
assert_next_save_cleans_up (Stage *stage)
{
  g_autofree char *message = NULL;

  g_assert_true (g_file_set_contents (stage->file, stage->old_text, -1, NULL));
  g_assert_cmpint (run ((const char *[]){ save_once (), stage->file, stage->picture, NULL }, &message), ==, 0);
  g_assert_cmpuint (count_all_left_overs (stage), ==, 0);
  g_assert_true (assert_whole (stage));
}

static gboolean
was_injected (Stage *stage)
{
  g_autofree char *trace = content (stage->trace);

  return trace != NULL && strstr (trace, "INJECTED") != NULL;
}

static gboolean
strace_works_or_skip (void)
{
  const char *const probe[] = { "strace", "-o", "/dev/null", "-e", "trace=write", "true", NULL };
  g_autofree char *found = g_find_program_in_path ("strace");
  g_autofree char *message = NULL;

  if (found != NULL && run (probe, &message) == 0)
    return TRUE;
  g_test_skip ("strace is missing or may not trace here");
  return FALSE;
}

typedef struct
{
  const char *name;
  const char *calls; /* as strace selects them */
  const char *fault;
  guint fewest; /* a save makes at least so many of them */
} Fault;

static const Fault faults[] = {
  { "write-enospc", "write", "error=ENOSPC", 3 },     { "write-edquot", "write", "error=EDQUOT", 3 },
  { "write-eintr", "write", "error=EINTR", 3 },       { "fsync-eio", "fsync", "error=EIO", 6 },
  { "rename-eacces", "/^rename", "error=EACCES", 3 }, { "rename-eperm", "/^rename", "error=EPERM", 3 },
  { "mkdir-eacces", "/^mkdir", "error=EACCES", 1 },   { "chmod-eperm", "fchmod", "error=EPERM", 1 },
  { "kill-at-write", "write", "signal=KILL", 3 },     { "kill-at-fsync", "fsync", "signal=KILL", 6 },
  { "kill-at-rename", "/^rename", "signal=KILL", 3 }, { "kill-at-open", "openat", "signal=KILL", 4 },
};

/* Whether the fault came at all. A leak check cannot run in a traced program. */
static gboolean
disturb (Stage *stage, const Fault *fault, guint nth)
{
  g_autofree char *select = g_strconcat ("trace=", fault->calls, NULL);
  g_autofree char *inject = g_strdup_printf ("inject=%s:%s:when=%u", fault->calls, fault->fault, nth);
  g_autofree char *message = NULL;
  const char *const arguments[] = { "strace",       "-E",         "ASAN_OPTIONS=detect_leaks=0",
                                    "-f",           "-o",         stage->trace,
                                    "-e",           select,       "-e",
                                    inject,         save_once (), stage->file,
                                    stage->picture, NULL };
  int exit_status;

  lay_out (stage);
  exit_status = run (arguments, &message);
  assert_outcome (stage, exit_status, message);
  if (exit_status == -1)
    {
      g_assert_nonnull (strstr (fault->fault, "KILL"));
      assert_next_save_cleans_up (stage);
      return TRUE;
    }
  return was_injected (stage);
}

static void
test_fault (gconstpointer data)
{
  const Fault *fault = data;
  Stage stage;
  guint nth = 1;

  if (!strace_works_or_skip ())
    return;
  stage_init (&stage);
  while (nth < MOST_CALLS && disturb (&stage, fault, nth))
    nth++;
  g_test_message ("%s: %u calls disturbed one by one", fault->name, nth - 1);
  g_assert_cmpuint (nth - 1, >=, fault->fewest);
  stage_clear (&stage);
}

static void
test_a_full_disk_leaves_the_old_file (void)
{
  Stage stage;
  guint n_refused = 0, n_saved = 0;

  stage_init (&stage);
  for (gsize limit = 0; limit < 2 * strlen (stage.new_text); limit += 101)
    {
      g_autofree char *bytes = g_strdup_printf ("%" G_GSIZE_FORMAT, limit);
      g_autofree char *message = NULL;
      int exit_status;

      lay_out (&stage);
      exit_status = run ((const char *[]){ save_once (), stage.file, stage.picture, bytes, NULL }, &message);
      g_assert_cmpint (exit_status, !=, -1);
      assert_outcome (&stage, exit_status, message);
      n_refused += exit_status == 1;
      n_saved += exit_status == 0;
    }
  g_assert_cmpuint (n_refused, >, 5);
  g_assert_cmpuint (n_saved, >, 5);
  stage_clear (&stage);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      g_autofree char *name = g_strconcat ("/trial/save/whole-after/", faults[i].name, NULL);

      g_test_add_data_func (name, &faults[i], test_fault);
    }
  g_test_add_func ("/trial/save/a-full-disk-leaves-the-old-file", test_a_full_disk_leaves_the_old_file);
  return g_test_run ();
}
