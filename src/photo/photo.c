/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/photo.h"

#include <glib/gi18n-lib.h>

#include "photo/foreign-kind.h"
#include "photo/orientation.h"
#include "photo/reader.h"

G_DEFINE_QUARK (sherd - photo - error - quark, sherd_photo_error)

/* Another format is one more line here. */
static const SherdReaderKind *const kinds[] = { &sherd_png_reader, &sherd_jpeg_reader, &sherd_tiff_reader };

struct _SherdPhoto
{
  SherdPhotoInfo info;
  SherdReader *reader;
  gboolean has_row;
  guint row_y_px;
  guint first_px; /* columns that may be asked for */
  guint last_px;
  GError *failure; /* of an earlier row: a file does not heal */
};

static const SherdReaderKind *
find_kind (const SherdInput *file)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (kinds[i]->recognises (file->head, file->n_head))
      return kinds[i];
  return NULL;
}

/**
 * sherd_photo_dup_formats:
 *
 * Returns: (transfer full): the kinds of file that this program reads: “PNG, JPEG, TIFF”
 */
char *
sherd_photo_dup_formats (void)
{
  const char *names[G_N_ELEMENTS (kinds) + 1] = { NULL };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    names[i] = kinds[i]->name;
  return g_strjoinv (", ", (char **)names);
}

static void
set_unknown (const SherdInput *file, GError **error)
{
  g_autofree char *remedy = sherd_foreign_kind_dup_remedy (file->head, file->n_head);

  g_autofree char *formats = sherd_photo_dup_formats ();

  g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_UNKNOWN, _ ("This program reads %s; “%s” is %s"), formats,
               file->name, remedy);
}

static SherdPhoto *
open_file (SherdInput *owned_file, GError **error)
{
  g_autoptr (SherdInput) file = owned_file;
  g_autoptr (SherdPhoto) photo = g_new0 (SherdPhoto, 1);
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func (g_free);
  const SherdReaderKind *kind = find_kind (file);

  if (!kind)
    {
      set_unknown (file, error);
      return NULL;
    }

  photo->info.orientation = 1;
  photo->reader = kind->open (g_steal_pointer (&file), &photo->info, remarks, error);
  if (!photo->reader)
    return NULL;
  photo->last_px = photo->info.width_px - 1;
  g_ptr_array_add (remarks, NULL);
  photo->info.remarks = (GStrv)g_ptr_array_free (g_steal_pointer (&remarks), FALSE);
  return g_steal_pointer (&photo);
}

/**
 * sherd_photo_open:
 * @path: path of a photograph
 * @error: return location
 *
 * Opens a photograph and reads its head; pixels are read row by row with sherd_photo_seek_row(). The kind of file is
 * known by its content, not by its name. A picture of more than 1000 million pixels is refused, as is one that must be
 * held in memory as a whole (interlaced PNG, progressive JPEG) if it takes more than 1 GiB, and a TIFF of which one row
 * of tiles, or one packed strip, takes more than 512 MiB; all others need little more than a row.
 *
 * Returns: (transfer full): the photograph, or NULL with a SherdPhotoError
 */
SherdPhoto *
sherd_photo_open (const char *path, GError **error)
{
  SherdInput *file = sherd_input_open (path, error);

  return file ? open_file (file, error) : NULL;
}

/**
 * sherd_photo_open_bytes:
 * @bytes: the content of a file
 * @name: what messages call it
 * @error: return location
 *
 * Like sherd_photo_open() for a file that is in memory already.
 *
 * Returns: (transfer full): the photograph, or NULL with a SherdPhotoError
 */
SherdPhoto *
sherd_photo_open_bytes (GBytes *bytes, const char *name, GError **error)
{
  SherdInput *file = sherd_input_open_bytes (bytes, name, error);

  return file ? open_file (file, error) : NULL;
}

/**
 * sherd_photo_free:
 * @photo: (nullable) (transfer full): a photograph
 *
 * Closes @photo.
 */
void
sherd_photo_free (SherdPhoto *photo)
{
  if (!photo)
    return;
  if (photo->reader)
    photo->reader->kind->free (photo->reader);
  g_free (photo->info.profile_name);
  g_free (photo->info.format);
  g_free (photo->info.camera);
  g_free (photo->info.taken);
  g_strfreev (photo->info.remarks);
  g_clear_error (&photo->failure);
  g_free (photo);
}

/**
 * sherd_photo_get_info:
 * @photo: a photograph
 *
 * Returns: (transfer none): what its head says
 */
const SherdPhotoInfo *
sherd_photo_get_info (const SherdPhoto *photo)
{
  return &photo->info;
}

/**
 * sherd_photo_get_upright_width_px:
 * @photo: a photograph
 *
 * Returns: the width of the picture as it is seen, turned by its orientation
 */
guint
sherd_photo_get_upright_width_px (const SherdPhoto *photo)
{
  return sherd_orientation_turns (photo->info.orientation) ? photo->info.height_px : photo->info.width_px;
}

/**
 * sherd_photo_get_upright_height_px:
 * @photo: a photograph
 *
 * Returns: the height of the picture as it is seen
 */
guint
sherd_photo_get_upright_height_px (const SherdPhoto *photo)
{
  return sherd_orientation_turns (photo->info.orientation) ? photo->info.width_px : photo->info.height_px;
}

/**
 * sherd_photo_upright_to_stored:
 * @photo: a photograph
 * @x: continuous position in the picture as seen, (0, 0) the outer corner of the first pixel, y down
 * @y: likewise
 * @x_stored: (out): the same point in the rows as stored
 * @y_stored: (out): likewise
 */
void
sherd_photo_upright_to_stored (const SherdPhoto *photo, double x, double y, double *x_stored, double *y_stored)
{
  sherd_orientation_to_stored (photo->info.orientation, photo->info.width_px, photo->info.height_px, x, y, x_stored,
                               y_stored);
}

/**
 * sherd_photo_stored_to_upright:
 * @photo: a photograph
 * @x: continuous position in the rows as stored
 * @y: likewise
 * @x_upright: (out): the same point in the picture as seen
 * @y_upright: (out): likewise
 */
void
sherd_photo_stored_to_upright (const SherdPhoto *photo, double x, double y, double *x_upright, double *y_upright)
{
  sherd_orientation_to_upright (photo->info.orientation, photo->info.width_px, photo->info.height_px, x, y, x_upright,
                                y_upright);
}

/**
 * sherd_photo_limit_columns:
 * @photo: a photograph of which no row has been asked for yet
 * @first_px: first stored column that will be asked for
 * @last_px: last stored column that will be asked for
 *
 * Lets a reader leave out the work for other columns. Pixels are the same as without.
 */
void
sherd_photo_limit_columns (SherdPhoto *photo, guint first_px, guint last_px)
{
  g_return_if_fail (!photo->has_row);
  g_return_if_fail (first_px <= last_px && last_px < photo->info.width_px);

  photo->first_px = first_px;
  photo->last_px = last_px;
  photo->reader->kind->limit_columns (photo->reader, first_px, last_px);
}

/**
 * sherd_photo_seek_row:
 * @photo: a photograph
 * @y_px: stored row, not above the one sought before
 * @error: return location
 *
 * Makes a row the current one. Rows between are skipped as cheaply as the format allows.
 *
 * Returns: FALSE with SHERD_PHOTO_ERROR_BROKEN if the file is damaged or cut off here or before
 */
gboolean
sherd_photo_seek_row (SherdPhoto *photo, guint y_px, GError **error)
{
  g_return_val_if_fail (y_px < photo->info.height_px, FALSE);
  g_return_val_if_fail (!photo->has_row || y_px >= photo->row_y_px, FALSE);

  if (!photo->failure && (!photo->has_row || y_px > photo->row_y_px))
    photo->reader->kind->seek_row (photo->reader, y_px, &photo->failure);
  photo->has_row = TRUE;
  photo->row_y_px = y_px;
  if (photo->failure)
    g_propagate_error (error, g_error_copy (photo->failure));
  return !photo->failure;
}

static const guint8 *
find_pixel (const SherdPhoto *photo, guint x_px)
{
  const SherdReader *reader = photo->reader;

  return reader->row + (x_px - reader->first_px) * sherd_samples_get_pixel_bytes (&reader->samples);
}

/**
 * sherd_photo_convert:
 * @photo: a photograph with a current row
 * @x_px: first stored column
 * @step: every how many columns one is taken, 1 or more
 * @n: how many are taken
 * @linear_rgb: (out): 3 × @n: linear light in the sRGB primaries, 1 for the file's white, not limited to 0…1
 * @flags: (out): @n sets of SherdPixelFlags
 *
 * Converts pixels of the current row.
 */
void
sherd_photo_convert (SherdPhoto *photo, guint x_px, guint step, gsize n, float *linear_rgb, guint8 *flags)
{
  g_return_if_fail (photo->has_row && !photo->failure);
  g_return_if_fail (n == 0 || (x_px >= photo->first_px && step > 0 && x_px + (n - 1) * step <= photo->last_px));

  if (n > 0)
    sherd_decoding_convert (photo->reader->decoding, find_pixel (photo, x_px), step, n, linear_rgb, flags);
}

/**
 * sherd_photo_get_srgb_codes:
 * @photo: a photograph with a current row
 * @x_px: stored column
 *
 * The current row as it is to be shown, where no conversion is needed.
 *
 * Returns: (transfer none) (nullable): 8-bit sRGB triples from column @x_px on, valid until the next row; NULL if the
 * file holds anything else
 */
const guint8 *
sherd_photo_get_srgb_codes (SherdPhoto *photo, guint x_px)
{
  const SherdSamples *samples = &photo->reader->samples;

  g_return_val_if_fail (photo->has_row && !photo->failure, NULL);

  if (samples->n_colours != 3 || samples->has_alpha || samples->bits != 8 ||
      !sherd_decoding_is_srgb (photo->reader->decoding))
    return NULL;
  return find_pixel (photo, x_px);
}
