/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/durable.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "trial/error.h"

#define ASIDE_SUFFIX ".sherdtmp"
#define NEW_FILE_MODE 0666

/* The write-aside file is kept locked: what can be locked by another was left behind by a killed program. */
struct _SherdDurableFile
{
  char *path;
  char *folder;
  char *aside_path;
  int fd;
  gboolean committed;
};

static void
set_save_error (const char *path, int code, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (
    error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SAVE,
    _ ("“%s” could not be saved: %s. What was there before is unharmed. Make room or choose another place, and "
       "save again."),
    name, g_strerror (code));
}

static gboolean
is_still_linked (int fd)
{
  struct stat status;

  return fstat (fd, &status) == 0 && status.st_nlink > 0;
}

/* A cleaner may remove the new file before it is locked: then another is made. */
static gboolean
open_aside (SherdDurableFile *self)
{
  g_autofree char *base = g_path_get_basename (self->path);

  for (guint attempt = 0; attempt < 10; attempt++)
    {
      g_autofree char *name = g_strdup_printf (".%.200s.%08x" ASIDE_SUFFIX, base, g_random_int ());
      g_autofree char *path = g_build_filename (self->folder, name, NULL);

      self->fd = g_open (path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, NEW_FILE_MODE);
      if (self->fd < 0 && errno == EEXIST)
        continue;
      if (self->fd < 0)
        return FALSE;
      /* A file system without locks is served as well, only its left-overs may be removed too early. */
      flock (self->fd, LOCK_EX | LOCK_NB);
      if (is_still_linked (self->fd))
        {
          self->aside_path = g_steal_pointer (&path);
          return TRUE;
        }
      close (self->fd);
      self->fd = -1;
    }
  errno = EEXIST;
  return FALSE;
}

/**
 * sherd_durable_file_new:
 * @path: the file to be replaced or made
 * @error: place for an error
 *
 * Opens a file aside in the same folder, with the mode of the one it will replace.
 *
 * Returns: (transfer full): the file to write to; NULL with SHERD_TRIAL_ERROR_SAVE
 */
SherdDurableFile *
sherd_durable_file_new (const char *path, GError **error)
{
  g_autoptr (SherdDurableFile) self = g_new0 (SherdDurableFile, 1);
  struct stat old;

  self->fd = -1;
  self->path = g_strdup (path);
  self->folder = g_path_get_dirname (path);
  if (!open_aside (self) ||
      (stat (path, &old) == 0 && S_ISREG (old.st_mode) && fchmod (self->fd, old.st_mode & 07777) != 0))
    {
      set_save_error (path, errno, error);
      return NULL;
    }
  return g_steal_pointer (&self);
}

/**
 * sherd_durable_file_write:
 * @self: a file aside
 * @data: (array length=length): bytes
 * @length: how many
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_SAVE when they did not all go in
 */
gboolean
sherd_durable_file_write (SherdDurableFile *self, const void *data, gsize length, GError **error)
{
  const char *rest = data;

  while (length > 0)
    {
      const gssize written = write (self->fd, rest, length);

      if (written < 0 && errno == EINTR)
        continue;
      if (written < 0)
        {
          set_save_error (self->path, errno, error);
          return FALSE;
        }
      rest += written;
      length -= (gsize)written;
    }
  return TRUE;
}

/* A failed fsync is not tried again: the kernel may have dropped the pages and would then report success. */
static int
sync_fd (int fd)
{
  int result;

  do
    result = fsync (fd);
  while (result != 0 && errno == EINTR);
  return result;
}

/**
 * sherd_durable_file_finish:
 * @self: a file aside
 * @error: place for an error
 *
 * Brings all that was written to the disk.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_SAVE when the disk did not take it
 */
gboolean
sherd_durable_file_finish (SherdDurableFile *self, GError **error)
{
  if (sync_fd (self->fd) == 0)
    return TRUE;
  set_save_error (self->path, errno, error);
  return FALSE;
}

static gboolean
sync_folder (const char *folder)
{
  const int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
  gboolean synced;
  int code;

  if (fd < 0)
    return FALSE;
  /* EINVAL: a file system that cannot sync folders, there is nothing more to be had. */
  synced = sync_fd (fd) == 0 || errno == EINVAL;
  code = errno;
  close (fd);
  errno = code;
  return synced;
}

/**
 * sherd_durable_file_commit:
 * @self: a finished file aside
 * @error: place for an error
 *
 * Lets it take the old file's place and brings the folder to the disk.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_SAVE when the old file is still in place, or SHERD_TRIAL_ERROR_DURABLE when the
 * new one is, but may not survive a power cut
 */
gboolean
sherd_durable_file_commit (SherdDurableFile *self, GError **error)
{
  if (rename (self->aside_path, self->path) != 0)
    {
      set_save_error (self->path, errno, error);
      return FALSE;
    }
  self->committed = TRUE;
  if (!sync_folder (self->folder))
    {
      g_autofree char *name = g_filename_display_name (self->path);

      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_DURABLE,
                   _ ("“%s” was written, but the disk did not confirm it (%s). Save a copy in another place."), name,
                   g_strerror (errno));
      return FALSE;
    }
  return TRUE;
}

/**
 * sherd_durable_file_free:
 * @self: (transfer full): a file aside
 *
 * Removes what was written unless it was committed.
 */
void
sherd_durable_file_free (SherdDurableFile *self)
{
  if (self->aside_path != NULL && !self->committed)
    unlink (self->aside_path);
  if (self->fd >= 0)
    close (self->fd);
  g_free (self->aside_path);
  g_free (self->folder);
  g_free (self->path);
  g_free (self);
}

/**
 * sherd_durable_write:
 * @path: the file to be replaced or made
 * @data: (array length=length): its new content
 * @length: bytes
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_SAVE or SHERD_TRIAL_ERROR_DURABLE, see sherd_durable_file_commit ()
 */
gboolean
sherd_durable_write (const char *path, const void *data, gsize length, GError **error)
{
  g_autoptr (SherdDurableFile) file = sherd_durable_file_new (path, error);

  return file != NULL && sherd_durable_file_write (file, data, length, error) &&
         sherd_durable_file_finish (file, error) && sherd_durable_file_commit (file, error);
}

/**
 * sherd_durable_resolve:
 * @path: a file, a symbolic link to one, or neither yet
 *
 * Returns: (transfer full): the absolute path of the file itself, so that a rename does not replace the link
 */
char *
sherd_durable_resolve (const char *path)
{
  char *real = realpath (path, NULL);
  g_autofree char *folder = NULL;
  g_autofree char *base = NULL;
  char *real_folder;
  char *resolved;

  if (real == NULL)
    {
      folder = g_path_get_dirname (path);
      base = g_path_get_basename (path);
      real_folder = realpath (folder, NULL);
      resolved =
        real_folder != NULL ? g_build_filename (real_folder, base, NULL) : g_canonicalize_filename (path, NULL);
      free (real_folder);
      return resolved;
    }
  resolved = g_strdup (real);
  free (real);
  return resolved;
}

static void
remove_left_over (const char *path)
{
  const int fd = g_open (path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC, 0);

  if (fd < 0)
    return;
  if (flock (fd, LOCK_EX | LOCK_NB) == 0)
    unlink (path);
  close (fd);
}

/**
 * sherd_durable_clean_folder:
 * @folder: where files are saved
 *
 * Removes the files aside of programs that were killed while saving. A file that is being written is locked and stays.
 */
void
sherd_durable_clean_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  if (dir == NULL)
    return;
  while ((name = g_dir_read_name (dir)) != NULL)
    if (*name == '.' && g_str_has_suffix (name, ASIDE_SUFFIX))
      {
        g_autofree char *path = g_build_filename (folder, name, NULL);

        remove_left_over (path);
      }
}
