/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/photo-file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <limits.h>
#include <string.h>
#include <unistd.h>

#include "trial/durable.h"
#include "trial/error.h"

#define HASH_DIGITS 12
#define BLOCK_BYTES ((gsize)256 * 1024)

/* Our choice: short of the 255 bytes that file systems take, with room for the digits and a temporary ending. */
#define MAX_NAME_BYTES 180u

static void
set_read_error (const char *path, int code, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO, _ ("The photograph “%s” cannot be read: %s."), name,
               g_strerror (code));
}

/* Reads the whole file by blocks, hashes it and, when @target is given, writes it there. */
static char *
hash_file (const char *path, SherdDurableFile *target, guint64 *size_bytes, GError **error)
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree guchar *block = g_malloc (BLOCK_BYTES);
  const int fd = g_open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK, 0);
  guint64 size = 0;
  gssize got = -1;
  gboolean written = TRUE;

  if (fd < 0)
    {
      set_read_error (path, errno, error);
      return NULL;
    }
  while (written && ((got = read (fd, block, BLOCK_BYTES)) > 0 || (got < 0 && errno == EINTR)))
    {
      if (got < 0)
        continue;
      g_checksum_update (checksum, block, got);
      size += (guint64)got;
      written = target == NULL || sherd_durable_file_write (target, block, (gsize)got, error);
    }
  if (written && got < 0)
    set_read_error (path, errno, error);
  g_close (fd, NULL);
  if (!written || got < 0)
    return NULL;
  if (size_bytes != NULL)
    *size_bytes = size;
  return g_strdup (g_checksum_get_string (checksum));
}

/**
 * sherd_photo_file_sha256:
 * @path: a file
 * @size_bytes: (out) (optional): its size
 * @error: place for an error
 *
 * Returns: (transfer full): SHA-256 of its content in lower case hexadecimal; NULL with SHERD_TRIAL_ERROR_PHOTO when it
 * cannot be read
 */
char *
sherd_photo_file_sha256 (const char *path, guint64 *size_bytes, GError **error)
{
  return hash_file (path, NULL, size_bytes, error);
}

/* Letters of every script stay; what some file system or shell refuses becomes "_". */
static char *
clean_name (const char *original_name)
{
  g_autofree char *valid = g_utf8_make_valid (original_name, -1);
  GString *clean = g_string_new (NULL);

  for (const char *c = valid; *c != '\0'; c = g_utf8_next_char (c))
    {
      const gunichar letter = g_utf8_get_char (c);

      if (g_unichar_iscntrl (letter) || (letter < 128 && strchr ("/\\:*?\"<>|", (int)letter) != NULL))
        g_string_append_c (clean, '_');
      else
        g_string_append_unichar (clean, letter);
    }
  return g_string_free (clean, FALSE);
}

/* The end of a name says what kind of file it is, so the beginning is cut. */
static const char *
last_bytes (const char *name, gsize n_bytes)
{
  const char *start = name;

  while (strlen (start) > n_bytes)
    start = g_utf8_next_char (start);
  return start;
}

/**
 * sherd_photo_file_name:
 * @sha256: hash of the content
 * @original_name: what the file was called
 *
 * Returns: (transfer full): the name under which the trial stores it: the first 12 digits of the hash, "-", the name
 */
char *
sherd_photo_file_name (const char *sha256, const char *original_name)
{
  g_autofree char *name = clean_name (original_name);

  return g_strdup_printf ("%.*s-%s", HASH_DIGITS, sha256, last_bytes (name, MAX_NAME_BYTES));
}

/**
 * sherd_photo_file_name_is_safe:
 * @name: a name from a trial file
 *
 * Returns: whether it is a plain file name: not empty, no folder in it, not "." or "..", not over-long
 */
gboolean
sherd_photo_file_name_is_safe (const char *name)
{
  return *name != '\0' && strpbrk (name, "/\\") == NULL && !g_str_equal (name, ".") && !g_str_equal (name, "..") &&
         strlen (name) <= NAME_MAX;
}

static gboolean
holds (const char *path, const char *sha256)
{
  g_autofree char *found =
    g_file_test (path, G_FILE_TEST_IS_REGULAR) ? sherd_photo_file_sha256 (path, NULL, NULL) : NULL;

  return g_strcmp0 (found, sha256) == 0;
}

/**
 * sherd_photo_file_copy:
 * @source: a picture
 * @target: where it is to lie; its folder exists
 * @sha256: what its content must hash to
 * @error: place for an error
 *
 * Copies a picture beside the trial. Does nothing when it lies there already.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_PHOTO when the source is gone or no longer the picture that was added, or
 * SHERD_TRIAL_ERROR_SAVE when it could not be written
 */
gboolean
sherd_photo_file_copy (const char *source, const char *target, const char *sha256, GError **error)
{
  g_autoptr (SherdDurableFile) copy = NULL;
  g_autoptr (GError) problem = NULL;
  g_autofree char *found = NULL;

  if (holds (target, sha256))
    return TRUE;
  copy = sherd_durable_file_new (target, error);
  if (copy == NULL)
    return FALSE;
  found = hash_file (source, copy, NULL, error);
  if (found == NULL)
    return FALSE;
  if (!g_str_equal (found, sha256))
    {
      g_autofree char *name = g_filename_display_name (source);

      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO,
                   _ ("The photograph “%s” is no longer the one that was added. Add it again."), name);
      return FALSE;
    }
  if (sherd_durable_file_finish (copy, error) && sherd_durable_file_commit (copy, &problem))
    return TRUE;
  if (problem != NULL)
    {
      /* For the trial that is about to name it, a picture that may vanish is one that could not be saved. */
      problem->code = SHERD_TRIAL_ERROR_SAVE;
      g_propagate_error (error, g_steal_pointer (&problem));
    }
  return FALSE;
}
