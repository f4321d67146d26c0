/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/file.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "trial/durable.h"
#include "trial/photo-file.h"
#include "trial/trial-private.h"
#include "trial/versions.h"

#define VERSIONS_ENDING ".versions"
#define PHOTOS_ENDING ".photos"

static gboolean
fail_to_open (const char *path, const char *problem, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_OPEN, _ ("“%s” cannot be opened: %s."), name, problem);
  return FALSE;
}

/* A pipe would never end and a device never fit, so only plain files are read. */
static gboolean
read_plain_file (const char *path, char **text, gsize *length, GError **error)
{
  g_autoptr (GError) problem = NULL;
  struct stat status;

  if (g_stat (path, &status) != 0)
    return fail_to_open (path, g_strerror (errno), error);
  if (!S_ISREG (status.st_mode))
    return fail_to_open (path, _ ("it is not a file"), error);
  if (status.st_size > (goffset)SHERD_TRIAL_MAX_BYTES)
    return fail_to_open (path, _ ("it is far too large for a trial"), error);
  if (!g_file_get_contents (path, text, length, &problem))
    return fail_to_open (path, problem->message, error);
  return TRUE;
}

/**
 * sherd_trial_load:
 * @path: a trial's file
 * @error: place for an error
 *
 * Returns: (transfer full): the trial, read whole; NULL with SHERD_TRIAL_ERROR_OPEN, or an error of
 * sherd_trial_new_from_text ()
 */
SherdTrial *
sherd_trial_load (const char *path, GError **error)
{
  g_autofree char *real_path = sherd_durable_resolve (path);
  g_autofree char *name = g_path_get_basename (real_path);
  g_autofree char *display_name = g_filename_display_name (name);
  g_autofree char *text = NULL;
  g_autofree char *sha256 = NULL;
  g_autoptr (SherdTrial) trial = NULL;
  gsize length;

  if (!read_plain_file (real_path, &text, &length, error))
    return NULL;
  trial = sherd_trial_new_from_text (text, length, display_name, error);
  if (trial == NULL)
    return NULL;
  sha256 = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *)text, length);
  sherd_trial_set_file (trial, real_path, sha256);
  return g_steal_pointer (&trial);
}

static char *
without_suffix (const char *path)
{
  const gsize length = strlen (path) - (g_str_has_suffix (path, SHERD_TRIAL_SUFFIX) ? strlen (SHERD_TRIAL_SUFFIX) : 0);

  return g_strndup (path, length);
}

/* NAME.photos beside NAME.sherdboard. A version in NAME.versions shares the photographs of its trial. */
static char *
photos_folder_of (const char *path)
{
  g_autofree char *parent = g_path_get_dirname (path);
  g_autofree char *stem = g_str_has_suffix (parent, VERSIONS_ENDING)
                            ? g_strndup (parent, strlen (parent) - strlen (VERSIONS_ENDING))
                            : without_suffix (path);

  return g_strconcat (stem, PHOTOS_ENDING, NULL);
}

/**
 * sherd_trial_dup_photos_folder:
 * @trial: a trial
 *
 * Returns: (transfer full) (nullable): the folder of its photographs; NULL before the first save
 */
char *
sherd_trial_dup_photos_folder (SherdTrial *trial)
{
  const char *path = sherd_trial_get_path (trial);

  return path != NULL ? photos_folder_of (path) : NULL;
}

static char *
existing_in (const char *folder, SherdPhotograph *photograph)
{
  g_autofree char *path = g_build_filename (folder, sherd_photograph_get_file (photograph), NULL);

  return g_file_test (path, G_FILE_TEST_IS_REGULAR) ? g_steal_pointer (&path) : NULL;
}

static char *
existing_in_earlier (SherdTrial *trial, SherdPhotograph *photograph)
{
  GPtrArray *folders = sherd_trial_get_earlier_photo_folders (trial);

  for (guint i = folders->len; i > 0; i--)
    {
      char *path = existing_in (g_ptr_array_index (folders, i - 1), photograph);

      if (path != NULL)
        return path;
    }
  return NULL;
}

/**
 * sherd_trial_dup_photo_path:
 * @trial: a trial
 * @photograph: one of its photographs
 *
 * Looks in the folder of photographs, then in those of earlier names of the trial, then where the picture was added
 * from.
 *
 * Returns: (transfer full): where the picture can be read; when it is nowhere, where it ought to be
 */
char *
sherd_trial_dup_photo_path (SherdTrial *trial, SherdPhotograph *photograph)
{
  g_autofree char *folder = sherd_trial_dup_photos_folder (trial);
  const char *source = sherd_photograph_get_source_path (photograph);
  char *path = folder != NULL ? existing_in (folder, photograph) : NULL;

  if (path == NULL)
    path = existing_in_earlier (trial, photograph);
  if (path == NULL && source != NULL)
    path = g_strdup (source);
  if (path == NULL)
    path = g_build_filename (folder != NULL ? folder : ".", sherd_photograph_get_file (photograph), NULL);
  return path;
}

/**
 * sherd_trial_check_photo:
 * @trial: a trial
 * @photograph: one of its photographs
 * @error: place for an error
 *
 * Reads the picture whole.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_PHOTO when it is missing or no longer the picture that was added
 */
gboolean
sherd_trial_check_photo (SherdTrial *trial, SherdPhotograph *photograph, GError **error)
{
  g_autofree char *path = sherd_trial_dup_photo_path (trial, photograph);
  g_autofree char *sha256 = sherd_photo_file_sha256 (path, NULL, error);

  if (sha256 == NULL)
    return FALSE;
  if (!g_str_equal (sha256, sherd_photograph_get_sha256 (photograph)))
    {
      g_autofree char *name = g_filename_display_name (path);

      g_set_error (
        error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO,
        _ ("The photograph “%s” is no longer the one that was added. Put the original back, or add it again."), name);
      return FALSE;
    }
  return TRUE;
}

static gboolean
make_folder (const char *folder, GError **error)
{
  g_autofree char *name = g_filename_display_name (folder);

  if (g_mkdir_with_parents (folder, 0777) == 0)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SAVE, _ ("The folder “%s” could not be made: %s."), name,
               g_strerror (errno));
  return FALSE;
}

/* A picture already there is not read again at each save; sherd_trial_check_photo () does that when asked. */
static gboolean
store_photo_in (SherdTrial *trial, SherdPhotograph *photograph, const char *folder, GError **error)
{
  g_autofree char *target = existing_in (folder, photograph);
  g_autofree char *source = sherd_trial_dup_photo_path (trial, photograph);
  struct stat status;

  if (target != NULL && g_stat (target, &status) == 0 &&
      (guint64)status.st_size == sherd_photograph_get_size_bytes (photograph))
    return TRUE;
  g_free (target);
  target = g_build_filename (folder, sherd_photograph_get_file (photograph), NULL);
  return make_folder (folder, error) &&
         sherd_photo_file_copy (source, target, sherd_photograph_get_sha256 (photograph), error);
}

/**
 * sherd_trial_store_photo:
 * @self: a trial
 * @photograph: a photograph about to be one of its own
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_PHOTO or SHERD_TRIAL_ERROR_SAVE when the picture could not be brought beside
 * the trial; TRUE at once while the trial has no file
 */
gboolean
sherd_trial_store_photo (SherdTrial *self, SherdPhotograph *photograph, GError **error)
{
  g_autofree char *folder = sherd_trial_dup_photos_folder (self);

  return folder == NULL || store_photo_in (self, photograph, folder, error);
}

static void
add_remark (GString *remarks, const char *remark)
{
  if (remarks->len > 0)
    g_string_append_c (remarks, '\n');
  g_string_append (remarks, remark);
}

/* A picture that is gone must not keep the rest of the work from being saved; a full disk must. */
static gboolean
store_photos (SherdTrial *trial, const char *folder, GString *remarks, GError **error)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);
  const guint n_photographs = g_list_model_get_n_items (photographs);

  if (g_file_test (folder, G_FILE_TEST_IS_DIR))
    sherd_durable_clean_folder (folder);
  for (guint i = 0; i < n_photographs; i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);
      g_autoptr (GError) problem = NULL;

      if (store_photo_in (trial, photograph, folder, &problem))
        continue;
      if (!g_error_matches (problem, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO))
        {
          g_propagate_error (error, g_steal_pointer (&problem));
          return FALSE;
        }
      add_remark (remarks, problem->message);
    }
  return TRUE;
}

/* What is at @path now hashes to this; NULL when there is nothing. */
static char *
hash_present (const char *path)
{
  g_autofree char *content = NULL;
  gsize length;

  if (!g_file_get_contents (path, &content, &length, NULL))
    return NULL;
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *)content, length);
}

static gboolean
check_unchanged (SherdTrial *trial, const char *path, GError **error)
{
  g_autofree char *present = hash_present (path);
  g_autofree char *name = g_filename_display_name (path);

  if (present == NULL || g_strcmp0 (present, sherd_trial_get_disk_sha256 (trial)) == 0)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_CHANGED,
               _ ("Another program has changed “%s” since it was opened here. Save under another name to keep both, or "
                  "replace it."),
               name);
  return FALSE;
}

static gboolean
write_trial (SherdTrial *trial,
             const char *path,
             gboolean check_changed,
             const char *text,
             gsize length,
             GString *remarks,
             GError **error)
{
  g_autoptr (SherdDurableFile) file = sherd_durable_file_new (path, error);
  g_autoptr (GError) problem = NULL;

  if (file == NULL || !sherd_durable_file_write (file, text, length, error) ||
      !sherd_durable_file_finish (file, error) || (check_changed && !check_unchanged (trial, path, error)))
    return FALSE;
  if (!sherd_versions_keep (path, SHERD_TRIAL_VERSIONS_KEPT, &problem))
    add_remark (remarks, problem->message);
  return sherd_durable_file_commit (file, error);
}

static void
take_path (SherdTrial *trial, const char *path, const char *sha256)
{
  g_autofree char *old_folder = sherd_trial_dup_photos_folder (trial);

  if (old_folder != NULL && g_strcmp0 (sherd_trial_get_path (trial), path) != 0)
    g_ptr_array_add (sherd_trial_get_earlier_photo_folders (trial), g_steal_pointer (&old_folder));
  sherd_trial_set_file (trial, path, sha256);
}

/* Photographs first: a trial that is there names only pictures that are there. */
static gboolean
save_to (SherdTrial *trial, const char *path, gboolean check_changed, GString *remarks, GError **error)
{
  g_autofree char *photos_folder = photos_folder_of (path);
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *text = NULL;
  g_autofree char *sha256 = NULL;
  g_autoptr (GError) problem = NULL;
  gboolean written;
  gsize length;

  sherd_durable_clean_folder (folder);
  if (!store_photos (trial, photos_folder, remarks, error))
    return FALSE;
  text = sherd_trial_dup_text (trial, &length);
  sha256 = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *)text, length);
  written = write_trial (trial, path, check_changed, text, length, remarks, &problem);
  if (written || g_error_matches (problem, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_DURABLE))
    take_path (trial, path, sha256);
  if (written)
    sherd_trial_set_saved (trial, TRUE);
  else
    g_propagate_error (error, g_steal_pointer (&problem));
  return written;
}

static gboolean
save_with_remark (SherdTrial *trial, const char *path, gboolean check_changed, char **remark, GError **error)
{
  g_autoptr (GString) remarks = g_string_new (NULL);
  const gboolean saved = save_to (trial, path, check_changed, remarks, error);

  if (remark != NULL)
    *remark = saved && remarks->len > 0 ? g_strdup (remarks->str) : NULL;
  return saved;
}

/**
 * sherd_trial_save:
 * @trial: a trial that has a file
 * @flags: whether to replace what another program wrote
 * @remark: (out) (optional) (nullable): what to tell the user although all is saved: a picture that is gone, a version
 * that could not be kept
 * @error: place for an error
 *
 * Copies new photographs beside the trial, writes it aside, brings it to the disk, keeps the state before among the
 * versions and lets the new one take its place. At any moment the old or the new file is there, whole.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_SAVE, _CHANGED (the file is as it was) or _DURABLE (it is the new one, but a
 * power cut may lose it)
 */
gboolean
sherd_trial_save (SherdTrial *trial, SherdSaveFlags flags, char **remark, GError **error)
{
  g_autofree char *path = g_strdup (sherd_trial_get_path (trial));

  g_return_val_if_fail (path != NULL, FALSE);
  return save_with_remark (trial, path, (flags & SHERD_SAVE_OVER_CHANGED) == 0, remark, error);
}

/**
 * sherd_trial_save_as:
 * @trial: a trial
 * @path: its file from now on; ".sherdboard" is added when missing; a file that is there is replaced and kept as a
 * version
 * @remark: (out) (optional) (nullable): as for sherd_trial_save ()
 * @error: place for an error
 *
 * Saves under a new name, with copies of all its photographs.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_SAVE or SHERD_TRIAL_ERROR_DURABLE; after the former the trial keeps its old
 * file
 */
gboolean
sherd_trial_save_as (SherdTrial *trial, const char *path, char **remark, GError **error)
{
  g_autofree char *full =
    g_str_has_suffix (path, SHERD_TRIAL_SUFFIX) ? g_strdup (path) : g_strconcat (path, SHERD_TRIAL_SUFFIX, NULL);
  g_autofree char *real_path = sherd_durable_resolve (full);

  return save_with_remark (trial, real_path, FALSE, remark, error);
}
