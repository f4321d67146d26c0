/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/reader.h"

#include <glib/gi18n-lib.h>

/* IEC 61966-2-5 (opRGB): primaries and the exponent 563/256 of its encoding (both from memory, as in the ICC's
 * registry of colour encodings). */
static const SherdPrimaries oprgb_primaries = { 0.64, 0.33, 0.21, 0.71, 0.15, 0.06, 0.3127, 0.3290 };
static const double oprgb_exponent = 563.0 / 256.0;

static void
add_remark (GPtrArray *remarks, const char *text)
{
  g_ptr_array_add (remarks, g_strdup (text));
}

/**
 * sherd_reader_remark_damaged_profile:
 * @remarks: receives the remark
 *
 * Tells the user that the file has a colour profile which cannot be used.
 */
void
sherd_reader_remark_damaged_profile (GPtrArray *remarks)
{
  add_remark (remarks, _ ("The colour profile in the file is damaged or belongs to another kind of picture. It was set "
                          "aside; colours may be wrong without a chart."));
}

/**
 * sherd_reader_use_icc:
 * @reader: a reader whose samples are known
 * @info: (inout): receives the space and the profile's name
 * @remarks: receives a remark if the profile cannot be used
 * @profile: (nullable): an ICC profile
 * @length: its size in bytes
 *
 * Decodes by an embedded profile.
 *
 * Returns: FALSE if there is none that can be used
 */
gboolean
sherd_reader_use_icc (SherdReader *reader,
                      SherdPhotoInfo *info,
                      GPtrArray *remarks,
                      gconstpointer profile,
                      gsize length)
{
  SherdIcc *icc;

  if (!profile)
    return FALSE;
  icc = length <= SHERD_INPUT_MAX_PROFILE_BYTES ? sherd_icc_new (profile, length, reader->samples.n_colours) : NULL;
  if (!icc)
    {
      sherd_reader_remark_damaged_profile (remarks);
      return FALSE;
    }
  info->space = SHERD_PHOTO_SPACE_ICC;
  info->profile_name = g_strdup (sherd_icc_get_name (icc));
  reader->decoding = sherd_decoding_new_icc (&reader->samples, icc);
  return TRUE;
}

/**
 * sherd_reader_use_exif_space:
 * @reader: a reader whose samples are known
 * @info: (inout): receives the space
 * @space: what EXIF says
 *
 * Decodes by the colour space that the camera names.
 *
 * Returns: FALSE if it names none, or the file is not RGB or grey
 */
gboolean
sherd_reader_use_exif_space (SherdReader *reader, SherdPhotoInfo *info, SherdExifSpace space)
{
  if (reader->samples.n_colours == 4)
    return FALSE;
  switch (space)
    {
    case SHERD_EXIF_SPACE_SRGB:
      info->space = SHERD_PHOTO_SPACE_SRGB;
      reader->decoding = sherd_decoding_new_srgb (&reader->samples);
      return TRUE;
    case SHERD_EXIF_SPACE_OPRGB:
      info->space = SHERD_PHOTO_SPACE_OPRGB;
      reader->decoding = sherd_decoding_new_power (&reader->samples, oprgb_exponent);
      return sherd_decoding_set_primaries (reader->decoding, &oprgb_primaries);
    case SHERD_EXIF_SPACE_UNSAID:
    case SHERD_EXIF_SPACE_OTHER:
    default:
      return FALSE;
    }
}

/**
 * sherd_reader_assume_srgb:
 * @reader: a reader whose samples are known
 * @info: (inout): receives the space
 * @remarks: receives what the user has to know
 * @space: what EXIF says
 *
 * Decodes as sRGB because nothing better is known.
 */
void
sherd_reader_assume_srgb (SherdReader *reader, SherdPhotoInfo *info, GPtrArray *remarks, SherdExifSpace space)
{
  info->space = SHERD_PHOTO_SPACE_ASSUMED_SRGB;
  reader->decoding = sherd_decoding_new_srgb (&reader->samples);

  if (reader->samples.n_colours == 4)
    add_remark (remarks, _ ("The picture is in printing inks without a colour profile: its colours are only a guess. "
                            "Use the camera's own file."));
  else if (space == SHERD_EXIF_SPACE_OTHER)
    add_remark (remarks, _ ("The camera says that the colours are not sRGB but not what they are: sRGB was assumed. "
                            "Set the camera to sRGB."));
  else
    add_remark (remarks, _ ("No colour profile: sRGB was assumed."));
}

/**
 * sherd_reader_remark_few_colours:
 * @reader: a reader whose samples are known
 * @info: what is known of the photograph
 * @remarks: receives what the user has to know
 *
 * Tells the user of a picture in which colour is missing or coarse.
 */
void
sherd_reader_remark_few_colours (SherdReader *reader, SherdPhotoInfo *info, GPtrArray *remarks)
{
  if (info->grey)
    add_remark (remarks, _ ("The picture is grey: only lightness can be measured in it."));
  if (info->bits < 8)
    add_remark (remarks, _ ("The picture has so few steps of grey that small differences are lost."));
}
