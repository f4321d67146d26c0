/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/tiff-exif.h"

#include <math.h>

/* A text of the current directory, or NULL. */
static char *
dup_text (TIFF *tiff, guint32 tag)
{
  const char *stored = NULL;
  g_autofree char *text = NULL;

  if (!TIFFGetField (tiff, tag, &stored) || !stored)
    return NULL;
  text = g_utf8_make_valid (stored, -1);
  g_strstrip (text);
  return *text ? g_steal_pointer (&text) : NULL;
}

/* A quotient of the current directory, 0 if it is not there or makes no sense. Whether libtiff gives a float or a
 * double differs from version to version. */
static double
get_quotient (TIFF *tiff, guint32 tag)
{
  const TIFFField *field = TIFFFindField (tiff, tag, TIFF_ANY);
  double wide = 0;
  float narrow = 0;

  if (!field)
    return 0;
  if (TIFFFieldSetGetSize (field) == (int)sizeof wide)
    TIFFGetField (tiff, tag, &wide);
  else if (TIFFGetField (tiff, tag, &narrow))
    wide = (double)narrow;
  return isfinite (wide) && wide > 0 ? wide : 0;
}

static guint16
get_short (TIFF *tiff, guint32 tag)
{
  guint16 value = 0;

  return TIFFGetField (tiff, tag, &value) ? value : 0;
}

static double
get_iso (TIFF *tiff)
{
  guint16 n = 0;
  const guint16 *ratings = NULL;

  return TIFFGetField (tiff, EXIFTAG_ISOSPEEDRATINGS, &n, &ratings) && n > 0 ? ratings[0] : 0;
}

/* EXIF 2.32, 4.6.5; TIFF files name no “optional space”. */
static SherdExifSpace
get_space (TIFF *tiff)
{
  switch (get_short (tiff, EXIFTAG_COLORSPACE))
    {
    case 0:
      return SHERD_EXIF_SPACE_UNSAID;
    case 1:
      return SHERD_EXIF_SPACE_SRGB;
    default:
      return SHERD_EXIF_SPACE_OTHER;
    }
}

static SherdExifSpace
read_camera_directory (TIFF *tiff, SherdPhotoInfo *info)
{
  g_autofree char *date = dup_text (tiff, EXIFTAG_DATETIMEORIGINAL);
  char *taken = sherd_exif_dup_iso_date (date);

  if (taken)
    {
      g_free (info->taken);
      info->taken = taken;
    }
  info->focal_35mm = get_short (tiff, EXIFTAG_FOCALLENGTHIN35MMFILM);
  info->exposure_s = get_quotient (tiff, EXIFTAG_EXPOSURETIME);
  info->f_number = get_quotient (tiff, EXIFTAG_FNUMBER);
  info->iso = get_iso (tiff);
  return get_space (tiff);
}

/**
 * sherd_tiff_exif_read:
 * @source: a handle at the directory of the picture; it may be at another one afterwards
 * @info: (inout): receives orientation and capture data
 *
 * Reads what a camera wrote about a photograph (EXIF 2.32 in TIFF 6.0). Whatever is missing, damaged or impossible is
 * left as it was.
 *
 * Returns: what is said of the colour space
 */
SherdExifSpace
sherd_tiff_exif_read (SherdTiffSource *source, SherdPhotoInfo *info)
{
  TIFF *tiff = source->tiff;
  g_autofree char *maker = dup_text (tiff, TIFFTAG_MAKE);
  g_autofree char *model = dup_text (tiff, TIFFTAG_MODEL);
  g_autofree char *date = dup_text (tiff, TIFFTAG_DATETIME);
  const guint orientation = get_short (tiff, TIFFTAG_ORIENTATION);
  toff_t directory = 0;

  if (orientation >= 1 && orientation <= 8)
    info->orientation = orientation;
  info->camera = sherd_exif_dup_camera (maker, model);
  info->taken = sherd_exif_dup_iso_date (date);
  if (!TIFFGetField (tiff, TIFFTAG_EXIFIFD, &directory) || !TIFFReadEXIFDirectory (tiff, directory))
    return SHERD_EXIF_SPACE_UNSAID;
  return read_camera_directory (tiff, info);
}
