/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/recovery.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "trial/durable.h"
#include "trial/file.h"
#include "trial/reader.h"
#include "trial/trial-private.h"
#include "trial/writer.h"

#define RECOVERY_ENDING ".recovery"
#define LOCK_ENDING ".lock"
#define RECOVERY_FORMAT "sherdboard-recovery"
#define RECOVERY_MAX_SOURCES 100000u

/* Half of the two seconds that are promised; the rest is for writing. */
#define DELAY_MS 1000

#define JOURNAL_KEY "sherd-recovery-journal"
#define FOUND_KEY "sherd-recovery-found"

/* What the writing thread shares with the journal. */
typedef struct
{
  GMutex mutex;
  char *path;
  guint newest; /* number of the newest text to be written; a thread with an older one leaves it */
} Store;

typedef struct
{
  SherdTrial *trial; /* not owned: the journal goes with it */
  Store *store;
  char *lock_path;
  int lock_fd;
  GSource *timer;
  gboolean writing;
  gboolean edited_while_writing;
  gboolean failure_told;
} Journal;

typedef struct
{
  Store *store;
  char *text;
  gsize length;
  guint number;
} Snapshot;

static void
store_clear (gpointer data)
{
  Store *store = data;

  g_mutex_clear (&store->mutex);
  g_free (store->path);
}

static void
store_unref (Store *store)
{
  g_atomic_rc_box_release_full (store, store_clear);
}

static void
snapshot_free (gpointer data)
{
  Snapshot *snapshot = data;

  store_unref (snapshot->store);
  g_free (snapshot->text);
  g_free (snapshot);
}

/**
 * sherd_recovery_free:
 * @recovery: (transfer full): what was found
 */
void
sherd_recovery_free (SherdRecovery *recovery)
{
  g_free (recovery->file);
  g_free (recovery->trial_path);
  g_free (recovery->title);
  g_clear_pointer (&recovery->edited, g_date_time_unref);
  g_free (recovery);
}

/**
 * sherd_recovery_dup_folder:
 *
 * Returns: (transfer full): where recovery files lie: the user's state folder (XDG Base Directory Specification)
 */
char *
sherd_recovery_dup_folder (void)
{
  return g_build_filename (g_get_user_state_dir (), "sherdboard", "recovery", NULL);
}

/* Paths need not be UTF-8, so they are kept as URIs. */
static void
write_path (SherdWriter *writer, const char *member, const char *path)
{
  g_autofree char *uri = path != NULL ? g_filename_to_uri (path, NULL, NULL) : NULL;

  if (uri != NULL)
    sherd_writer_text (writer, member, uri);
}

static void
write_sources (SherdWriter *writer, GListModel *photographs)
{
  const guint n_photographs = g_list_model_get_n_items (photographs);

  sherd_writer_begin_list (writer, "sources");
  for (guint i = 0; i < n_photographs; i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);

      if (sherd_photograph_get_source_path (photograph) == NULL)
        continue;
      sherd_writer_begin_object (writer, NULL);
      sherd_writer_text (writer, "photograph", sherd_part_get_id (SHERD_PART (photograph)));
      write_path (writer, "source", sherd_photograph_get_source_path (photograph));
      sherd_writer_end_object (writer);
    }
  sherd_writer_end_list (writer);
}

/* The trial's own text, as a text, with what its file does not hold. */
static char *
dup_recovery_text (SherdTrial *trial, gsize *length)
{
  SherdWriter *writer = sherd_writer_new ();
  g_autofree char *trial_text = sherd_trial_dup_text (trial, NULL);

  sherd_writer_begin_object (writer, NULL);
  sherd_writer_text (writer, "format", RECOVERY_FORMAT);
  write_path (writer, "file", sherd_trial_get_path (trial));
  if (sherd_trial_get_disk_sha256 (trial) != NULL)
    sherd_writer_text (writer, "file_sha256", sherd_trial_get_disk_sha256 (trial));
  sherd_writer_text (writer, "title", sherd_trial_get_title (trial));
  write_sources (writer, sherd_trial_get_photographs (trial));
  sherd_writer_text (writer, "trial", trial_text);
  sherd_writer_end_object (writer);
  return sherd_writer_finish (writer, length);
}

static void schedule (Journal *journal);

static void
write_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Snapshot *snapshot = data;
  GError *error = NULL;
  gboolean written = TRUE;

  g_mutex_lock (&snapshot->store->mutex);
  if (snapshot->number == snapshot->store->newest)
    written = sherd_durable_write (snapshot->store->path, snapshot->text, snapshot->length, &error);
  g_mutex_unlock (&snapshot->store->mutex);
  if (written)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SherdTrial *trial = SHERD_TRIAL (source);
  Journal *journal = g_object_get_data (source, JOURNAL_KEY);
  g_autoptr (GError) error = NULL;
  const gboolean written = g_task_propagate_boolean (G_TASK (result), &error);

  if (journal == NULL)
    return;
  journal->writing = FALSE;
  if (!written && !journal->failure_told)
    sherd_trial_report_recovery_failure (trial, error->message);
  journal->failure_told = !written;
  if (journal->edited_while_writing)
    schedule (journal);
}

static gboolean
write_cb (gpointer data)
{
  Journal *journal = data;
  g_autoptr (GTask) task = NULL;
  Snapshot *snapshot;

  g_clear_pointer (&journal->timer, g_source_unref);
  if (!sherd_trial_get_modified (journal->trial))
    return G_SOURCE_REMOVE;
  snapshot = g_new0 (Snapshot, 1);
  snapshot->store = g_atomic_rc_box_acquire (journal->store);
  snapshot->text = dup_recovery_text (journal->trial, &snapshot->length);
  g_mutex_lock (&journal->store->mutex);
  snapshot->number = ++journal->store->newest;
  g_mutex_unlock (&journal->store->mutex);
  journal->writing = TRUE;
  journal->edited_while_writing = FALSE;
  task = g_task_new (journal->trial, NULL, written_cb, NULL);
  g_task_set_task_data (task, snapshot, snapshot_free);
  g_task_run_in_thread (task, write_in_thread);
  return G_SOURCE_REMOVE;
}

/* The first edit sets the clock; later ones do not put it off, or a long drag would never be written. */
static void
schedule (Journal *journal)
{
  if (journal->writing)
    journal->edited_while_writing = TRUE;
  if (journal->writing || journal->timer != NULL)
    return;
  journal->timer = g_timeout_source_new (DELAY_MS);
  g_source_set_callback (journal->timer, write_cb, journal, NULL);
  g_source_attach (journal->timer, g_main_context_get_thread_default ());
}

static void
cancel_timer (Journal *journal)
{
  if (journal->timer == NULL)
    return;
  g_source_destroy (journal->timer);
  g_clear_pointer (&journal->timer, g_source_unref);
}

/* A text still being written is waited for, or it would come back after it was removed. */
static void
remove_file (Journal *journal)
{
  cancel_timer (journal);
  g_mutex_lock (&journal->store->mutex);
  journal->store->newest++;
  g_unlink (journal->store->path);
  g_mutex_unlock (&journal->store->mutex);
}

static void
changed_cb (Journal *journal)
{
  if (sherd_trial_get_modified (journal->trial))
    schedule (journal);
  else
    remove_file (journal);
}

static void
journal_free (gpointer data)
{
  Journal *journal = data;

  cancel_timer (journal);
  close (journal->lock_fd);
  g_free (journal->lock_path);
  store_unref (journal->store);
  g_free (journal);
}

/* A lock dies with its program, however that ends. */
static int
take_lock (const char *path)
{
  const int fd = g_open (path, O_RDWR | O_CREAT | O_CLOEXEC, 0600);

  if (fd >= 0 && flock (fd, LOCK_EX | LOCK_NB) == 0)
    return fd;
  if (fd >= 0)
    close (fd);
  return -1;
}

static char *
with_ending (const char *file, const char *ending)
{
  g_autofree char *stem = g_strndup (file, strlen (file) - strlen (RECOVERY_ENDING));

  return g_strconcat (stem, ending, NULL);
}

static Journal *
journal_new_at (SherdTrial *trial, const char *file)
{
  g_autofree char *lock_path = with_ending (file, LOCK_ENDING);
  const int lock_fd = take_lock (lock_path);
  Journal *journal;

  if (lock_fd < 0)
    return NULL;
  journal = g_new0 (Journal, 1);
  journal->trial = trial;
  journal->lock_fd = lock_fd;
  journal->lock_path = g_steal_pointer (&lock_path);
  journal->store = g_atomic_rc_box_new0 (Store);
  journal->store->path = g_strdup (file);
  g_mutex_init (&journal->store->mutex);
  return journal;
}

static Journal *
journal_new (SherdTrial *trial, const char *folder)
{
  const char *found = g_object_get_data (G_OBJECT (trial), FOUND_KEY);
  g_autofree char *key = g_uuid_string_random ();
  g_autofree char *name = g_strconcat (key, RECOVERY_ENDING, NULL);
  g_autofree char *file = g_build_filename (folder, name, NULL);
  Journal *journal = found != NULL ? journal_new_at (trial, found) : NULL;

  return journal != NULL ? journal : journal_new_at (trial, file);
}

/**
 * sherd_recovery_start:
 * @trial: a trial that has no journal yet
 * @folder: (nullable): where to write; NULL for the user's state folder
 * @error: place for an error
 *
 * From now on every edit lies on the disk within two seconds, as long as the thread-default main context runs. Saving,
 * and undoing all that is not saved, removes the file.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_SAVE when nothing can be written there
 */
gboolean
sherd_recovery_start (SherdTrial *trial, const char *folder, GError **error)
{
  g_autofree char *own_folder = folder != NULL ? g_strdup (folder) : sherd_recovery_dup_folder ();
  Journal *journal = NULL;

  g_return_val_if_fail (g_object_get_data (G_OBJECT (trial), JOURNAL_KEY) == NULL, FALSE);
  if (g_mkdir_with_parents (own_folder, 0700) == 0)
    {
      sherd_durable_clean_folder (own_folder);
      journal = journal_new (trial, own_folder);
    }
  if (journal == NULL)
    {
      const int code = errno;
      g_autofree char *name = g_filename_display_name (own_folder);

      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SAVE,
                   _ ("Nothing can be written in “%s” (%s), so a crash would lose what was not saved. Save often."),
                   name, g_strerror (code));
      return FALSE;
    }
  g_object_set_data_full (G_OBJECT (trial), JOURNAL_KEY, journal, journal_free);
  g_signal_connect_swapped (trial, "edited", G_CALLBACK (changed_cb), journal);
  g_signal_connect_swapped (trial, "notify::modified", G_CALLBACK (changed_cb), journal);
  return TRUE;
}

/**
 * sherd_recovery_stop:
 * @trial: a trial
 *
 * The user closed the trial: saved, or gave up the changes. Does nothing without a journal.
 */
void
sherd_recovery_stop (SherdTrial *trial)
{
  Journal *journal = g_object_get_data (G_OBJECT (trial), JOURNAL_KEY);

  if (journal == NULL)
    return;
  g_signal_handlers_disconnect_by_data (trial, journal);
  remove_file (journal);
  g_unlink (journal->lock_path);
  g_object_set_data (G_OBJECT (trial), JOURNAL_KEY, NULL);
}

static char *
read_path (SherdReader *reader, const char *member)
{
  const char *uri = sherd_reader_text (reader, member, SHERD_OPTIONAL);

  return uri != NULL ? g_filename_from_uri (uri, NULL, NULL) : NULL;
}

/* (nullable): NULL when the file is damaged; a half-written one never gets its name */
static SherdReader *
open_recovery (const char *file, char **text)
{
  gsize length;
  g_autoptr (SherdReader) reader = NULL;

  if (!g_file_get_contents (file, text, &length, NULL))
    return NULL;
  reader = sherd_reader_new (*text, length, NULL);
  if (reader == NULL || g_strcmp0 (sherd_reader_text (reader, "format", SHERD_REQUIRED), RECOVERY_FORMAT) != 0)
    return NULL;
  return g_steal_pointer (&reader);
}

static GDateTime *
time_written (const char *file)
{
  GStatBuf status;

  return g_stat (file, &status) == 0 ? g_date_time_new_from_unix_local (status.st_mtime) : NULL;
}

static gboolean
is_abandoned (const char *file)
{
  g_autofree char *lock_path = with_ending (file, LOCK_ENDING);
  const int fd = take_lock (lock_path);

  if (fd < 0)
    return FALSE;
  close (fd);
  return TRUE;
}

static SherdRecovery *
recovery_new (const char *file)
{
  g_autofree char *text = NULL;
  g_autoptr (SherdReader) reader = is_abandoned (file) ? open_recovery (file, &text) : NULL;
  SherdRecovery *recovery;

  if (reader == NULL)
    return NULL;
  recovery = g_new0 (SherdRecovery, 1);
  recovery->file = g_strdup (file);
  recovery->trial_path = read_path (reader, "file");
  recovery->title = g_strdup (sherd_reader_text (reader, "title", SHERD_REQUIRED));
  recovery->edited = time_written (file);
  return recovery;
}

static int
compare_newest_first (gconstpointer a, gconstpointer b)
{
  const SherdRecovery *first = *(const SherdRecovery *const *)a, *second = *(const SherdRecovery *const *)b;

  if (first->edited == NULL || second->edited == NULL)
    return 0;
  return g_date_time_compare (second->edited, first->edited);
}

/**
 * sherd_recovery_find:
 * @folder: (nullable): where to look; NULL for the user's state folder
 *
 * Returns: (transfer full) (element-type SherdRecovery): what crashed programs left behind, newest first; the journals
 * of programs still running are left out
 */
GPtrArray *
sherd_recovery_find (const char *folder)
{
  g_autofree char *own_folder = folder != NULL ? g_strdup (folder) : sherd_recovery_dup_folder ();
  GPtrArray *found = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_recovery_free);
  g_autoptr (GDir) dir = g_dir_open (own_folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *file = g_build_filename (own_folder, name, NULL);
      SherdRecovery *recovery = *name != '.' && g_str_has_suffix (name, RECOVERY_ENDING) ? recovery_new (file) : NULL;

      if (recovery != NULL)
        g_ptr_array_add (found, recovery);
    }
  g_ptr_array_sort (found, compare_newest_first);
  return found;
}

static void
read_sources (SherdReader *reader, SherdTrial *trial)
{
  const guint n_sources = sherd_reader_enter_list (reader, "sources", RECOVERY_MAX_SOURCES);

  for (guint i = 0; i < n_sources; i++)
    {
      SherdPhotograph *photograph;
      g_autofree char *source = NULL;
      JsonObject *unknown;

      sherd_reader_enter_item (reader, i);
      photograph = sherd_trial_find_photograph (trial, sherd_reader_text (reader, "photograph", SHERD_REQUIRED));
      source = read_path (reader, "source");
      if (photograph != NULL && source != NULL)
        g_object_set (photograph, "source-path", source, NULL);
      unknown = sherd_reader_leave (reader);
      g_clear_pointer (&unknown, json_object_unref);
    }
  sherd_reader_leave_list (reader);
}

/**
 * sherd_recovery_open:
 * @recovery: what was found
 * @error: place for an error
 *
 * Returns: (transfer full): the trial as it stood at the last write, modified, with the path of its own file; NULL with
 * SHERD_TRIAL_ERROR_OPEN, or an error of sherd_trial_new_from_text ()
 */
SherdTrial *
sherd_recovery_open (const SherdRecovery *recovery, GError **error)
{
  g_autofree char *text = NULL;
  g_autoptr (SherdReader) reader = open_recovery (recovery->file, &text);
  g_autoptr (SherdTrial) trial = NULL;
  const char *trial_text = reader != NULL ? sherd_reader_text (reader, "trial", SHERD_REQUIRED) : NULL;

  if (trial_text == NULL)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_OPEN, _ ("The recovery file “%s” cannot be read."),
                   recovery->file);
      return NULL;
    }
  trial = sherd_trial_new_from_text (trial_text, strlen (trial_text), recovery->title, error);
  if (trial == NULL)
    return NULL;
  read_sources (reader, trial);
  sherd_trial_set_file (trial, recovery->trial_path, sherd_reader_text (reader, "file_sha256", SHERD_OPTIONAL));
  sherd_trial_set_saved (trial, FALSE);
  g_object_set_data_full (G_OBJECT (trial), FOUND_KEY, g_strdup (recovery->file), g_free);
  return g_steal_pointer (&trial);
}

/**
 * sherd_recovery_discard:
 * @recovery: what was found and is not wanted
 */
void
sherd_recovery_discard (const SherdRecovery *recovery)
{
  g_autofree char *lock_path = with_ending (recovery->file, LOCK_ENDING);

  g_unlink (recovery->file);
  g_unlink (lock_path);
}
