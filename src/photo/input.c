/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/input.h"

#include <errno.h>
#include <string.h>

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

/* Only a plain file is opened: a pipe or a device could wait or run for ever. */
static gboolean
check_plain_file (const char *path, const char *name, guint64 *size_bytes, GError **error)
{
  GStatBuf status;

  if (g_stat (path, &status) != 0)
    {
      g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_OPEN,
                   _ ("“%s” cannot be opened: %s. Check that the file is still where it was."), name,
                   g_strerror (errno));
      return FALSE;
    }
  if (!S_ISREG (status.st_mode))
    {
      g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_OPEN,
                   _ ("“%s” is not a picture file but a folder or a device. Choose a photograph."), name);
      return FALSE;
    }
  *size_bytes = (guint64)status.st_size;
  return TRUE;
}

/* Reads the first bytes and goes back to the beginning. */
static gboolean
read_head (SherdInput *file, GError **error)
{
  if (file->stream)
    file->n_head = fread (file->head, 1, sizeof file->head, file->stream);

  if (!file->stream || ferror (file->stream) || fseek (file->stream, 0, SEEK_SET) != 0)
    {
      g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_OPEN,
                   _ ("“%s” cannot be read: %s. Check the card or disk it is on and whether you may read it."),
                   file->name, g_strerror (errno));
      return FALSE;
    }
  if (file->n_head == 0)
    {
      g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_OPEN,
                   _ ("“%s” is empty. Copy it from the camera again."), file->name);
      return FALSE;
    }
  return TRUE;
}

/**
 * sherd_input_open:
 * @path: path of a file
 * @error: return location
 *
 * Opens a file and reads its first bytes.
 *
 * Returns: (transfer full): the file, or NULL with SHERD_PHOTO_ERROR_OPEN
 */
SherdInput *
sherd_input_open (const char *path, GError **error)
{
  g_autoptr (SherdInput) file = g_new0 (SherdInput, 1);

  file->name = g_filename_display_basename (path);
  if (!check_plain_file (path, file->name, &file->size_bytes, error))
    return NULL;

  file->stream = g_fopen (path, "rb");
  if (!read_head (file, error))
    return NULL;
  return g_steal_pointer (&file);
}

/**
 * sherd_input_open_bytes:
 * @bytes: a file's content
 * @name: what messages call it
 * @error: return location
 *
 * Like sherd_input_open() for a file that is in memory already.
 *
 * Returns: (transfer full): the file, or NULL with SHERD_PHOTO_ERROR_OPEN
 */
SherdInput *
sherd_input_open_bytes (GBytes *bytes, const char *name, GError **error)
{
  g_autoptr (SherdInput) file = g_new0 (SherdInput, 1);
  gsize size_bytes;
  gconstpointer data = g_bytes_get_data (bytes, &size_bytes);

  file->name = g_strdup (name);
  file->bytes = g_bytes_ref (bytes);
  file->size_bytes = size_bytes;
  /* An empty memory stream cannot be opened, an empty file can. */
  file->stream = size_bytes > 0 ? fmemopen ((void *)data, size_bytes, "rb") : g_fopen ("/dev/null", "rb");
  if (!read_head (file, error))
    return NULL;
  return g_steal_pointer (&file);
}

/**
 * sherd_input_free:
 * @file: (nullable) (transfer full): a file
 *
 * Closes @file.
 */
void
sherd_input_free (SherdInput *file)
{
  if (!file)
    return;
  g_clear_pointer (&file->stream, fclose);
  g_clear_pointer (&file->bytes, g_bytes_unref);
  g_free (file->name);
  g_free (file);
}

/**
 * sherd_input_check_size:
 * @file: a file
 * @width_px: the width its head states
 * @height_px: the height its head states
 * @error: return location
 *
 * Refuses a picture without pixels or with more than any camera makes, before memory is asked for.
 *
 * Returns: FALSE with SHERD_PHOTO_ERROR_BROKEN or SHERD_PHOTO_ERROR_TOO_LARGE
 */
gboolean
sherd_input_check_size (const SherdInput *file, guint64 width_px, guint64 height_px, GError **error)
{
  if (width_px == 0 || height_px == 0)
    {
      sherd_input_set_broken (file, error);
      return FALSE;
    }
  if (width_px <= SHERD_INPUT_MAX_SIDE_PX && height_px <= SHERD_INPUT_MAX_SIDE_PX &&
      width_px * height_px <= SHERD_INPUT_MAX_PIXELS)
    return TRUE;

  g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_TOO_LARGE,
               _ ("“%s” says it is %.0f × %.0f pixels: more than this program reads (1000 million, no side over 1 "
                  "million). Save a smaller copy, "
                  "or copy the file again if it is damaged."),
               file->name, (double)width_px, (double)height_px);
  return FALSE;
}

/**
 * sherd_input_check_memory:
 * @file: a file
 * @whole_bytes: what its decoder has to hold at once
 * @error: return location
 *
 * Refuses a picture that cannot be read row by row and would take too much memory as a whole.
 *
 * Returns: FALSE with SHERD_PHOTO_ERROR_TOO_LARGE
 */
gboolean
sherd_input_check_memory (const SherdInput *file, guint64 whole_bytes, GError **error)
{
  if (whole_bytes <= SHERD_INPUT_MAX_WHOLE_BYTES)
    return TRUE;

  g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_TOO_LARGE,
               _ ("“%s” is interlaced or progressive and would take %.0f MB of memory, more than the %.0f MB this "
                  "program gives it. Save it without interlacing (as a “baseline” JPEG) and open that."),
               file->name, (double)(whole_bytes >> 20), (double)(SHERD_INPUT_MAX_WHOLE_BYTES >> 20));
  return FALSE;
}

/**
 * sherd_input_set_broken:
 * @file: a file
 * @error: return location
 *
 * Sets SHERD_PHOTO_ERROR_BROKEN for data that make no sense.
 */
void
sherd_input_set_broken (const SherdInput *file, GError **error)
{
  g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_BROKEN,
               _ ("“%s” is damaged: not all of its picture can be read. Copy it from the camera again, or take another "
                  "photograph."),
               file->name);
}

/**
 * sherd_input_set_cut_off:
 * @file: a file
 * @error: return location
 *
 * Sets SHERD_PHOTO_ERROR_BROKEN for a file that ends too early.
 */
void
sherd_input_set_cut_off (const SherdInput *file, GError **error)
{
  g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_BROKEN,
               _ ("“%s” is cut off: it ends before its picture does. Copy it from the camera again, or take another "
                  "photograph."),
               file->name);
}

/**
 * sherd_input_set_no_memory:
 * @file: a file
 * @error: return location
 *
 * Sets SHERD_PHOTO_ERROR_TOO_LARGE for a picture that this computer cannot hold at this moment.
 */
void
sherd_input_set_no_memory (const SherdInput *file, GError **error)
{
  g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_TOO_LARGE,
               _ ("There is not enough memory for “%s”. Close other programs, or save a smaller copy of the picture."),
               file->name);
}

/**
 * sherd_input_set_unsupported:
 * @file: a file
 * @what: translated: what it is and what to do instead, a whole sentence or more
 * @error: return location
 *
 * Sets SHERD_PHOTO_ERROR_UNSUPPORTED for a known kind in a form that is not read.
 */
void
sherd_input_set_unsupported (const SherdInput *file, const char *what, GError **error)
{
  g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_UNSUPPORTED, _ ("“%s” cannot be measured. %s"), file->name,
               what);
}
