/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/tiff-source.h"

#include <string.h>

/* Our choice: the most that libtiff may ask for at once. A damaged file can state anything. */
#define MAX_SINGLE_BYTES ((tmsize_t)512 << 20)

static tmsize_t
read_bytes (thandle_t handle, void *data, tmsize_t n_bytes)
{
  SherdTiffSource *source = handle;
  const gsize n_wanted = (gsize)n_bytes;
  gsize n_read = 0;

  if (source->at < source->file->size_bytes && fseeko (source->file->stream, (off_t)source->at, SEEK_SET) == 0)
    n_read = fread (data, 1, n_wanted, source->file->stream);
  source->cut_off |= n_read < n_wanted;
  source->at += n_read;
  return (tmsize_t)n_read;
}

static tmsize_t
write_nothing (thandle_t handle, void *data, tmsize_t n_bytes)
{
  return 0;
}

static toff_t
seek (thandle_t handle, toff_t offset, int whence)
{
  SherdTiffSource *source = handle;
  const guint64 from = whence == SEEK_CUR ? source->at : whence == SEEK_END ? source->file->size_bytes : 0;

  return source->at = from + offset;
}

static int
keep_open (thandle_t handle)
{
  return 0;
}

static toff_t
get_size (thandle_t handle)
{
  return ((SherdTiffSource *)handle)->file->size_bytes;
}

static G_GNUC_PRINTF (2, 0) void tell_developer (const char *module, const char *format, va_list arguments)
{
  g_autofree char *message = g_strdup_vprintf (format, arguments);

  g_debug ("TIFF: %s: %s", module, message);
}

static G_GNUC_PRINTF (4, 0) int note_error (TIFF *tiff,
                                            void *source,
                                            const char *module,
                                            const char *format,
                                            va_list arguments)
{
  tell_developer (module, format, arguments);
  return 1;
}

/* Most warnings are about tags. These decoders only warn where data are missing, and fill the pixels in. */
static G_GNUC_PRINTF (4, 0) int note_warning (TIFF *tiff,
                                              void *user_data,
                                              const char *module,
                                              const char *format,
                                              va_list arguments)
{
  static const char *const filling[] = { "JPEGLib", "Fax", "PackBits" };
  SherdTiffSource *source = user_data;

  for (guint i = 0; module && i < G_N_ELEMENTS (filling); i++)
    source->made_up |= g_str_has_prefix (module, filling[i]);
  tell_developer (module, format, arguments);
  return 1;
}

static TIFFOpenOptions *
options_new (SherdTiffSource *source)
{
  TIFFOpenOptions *options = TIFFOpenOptionsAlloc ();

  if (!options)
    return NULL;
  TIFFOpenOptionsSetMaxSingleMemAlloc (options, MAX_SINGLE_BYTES);
  TIFFOpenOptionsSetErrorHandlerExtR (options, note_error, source);
  TIFFOpenOptionsSetWarningHandlerExtR (options, note_warning, source);
  return options;
}

/**
 * sherd_tiff_source_open:
 * @source: (out caller-allocates): becomes a handle; must stay where it is until it is closed
 * @file: a file, which must stay until then
 *
 * Opens the first directory of a TIFF file. Errors and warnings of libtiff (4.5 and later) come to this handle alone.
 * Large strips that are not packed are seen as many small ones (“C”), so that a row costs little memory. The file is
 * not mapped (“m”): one that another program shortens must not end this one.
 *
 * Returns: FALSE if there is no directory that can be read
 */
gboolean
sherd_tiff_source_open (SherdTiffSource *source, SherdInput *file)
{
  TIFFOpenOptions *options;

  *source = (SherdTiffSource){ .file = file };
  options = options_new (source);
  if (!options)
    return FALSE;
  source->tiff = TIFFClientOpenExt (file->name, "rmC", source, read_bytes, write_nothing, seek, keep_open, get_size,
                                    NULL, NULL, options);
  TIFFOpenOptionsFree (options);
  return source->tiff != NULL;
}

/**
 * sherd_tiff_source_close:
 * @source: a handle, open or not
 */
void
sherd_tiff_source_close (SherdTiffSource *source)
{
  g_clear_pointer (&source->tiff, TIFFClose);
}
