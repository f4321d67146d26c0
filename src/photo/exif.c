/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/exif.h"

#include <math.h>
#include <string.h>

#include <libexif/exif-data.h>

/* JPEG cannot hold more, and no other file needs more. */
#define MAX_EXIF_BYTES (1u << 16)

static const guint8 exif_header[] = { 'E', 'x', 'i', 'f', 0, 0 };

/* libexif reads the whole block, repairs nothing and says nothing. */
static ExifData *
load (const guint8 *tiff, gsize length)
{
  g_autoptr (GByteArray) block = g_byte_array_new ();
  ExifData *data = exif_data_new ();

  if (!data)
    return NULL;
  exif_data_unset_option (data, EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
  exif_data_set_option (data, EXIF_DATA_OPTION_DONT_CHANGE_MAKER_NOTE);
  g_byte_array_append (block, exif_header, sizeof exif_header);
  g_byte_array_append (block, tiff, (guint)length);
  exif_data_load_data (data, block->data, block->len);
  return data;
}

static const ExifEntry *
find (ExifData *data, ExifIfd ifd, ExifTag tag)
{
  return exif_content_get_entry (data->ifd[ifd], tag);
}

static char *
dup_text (ExifData *data, ExifIfd ifd, ExifTag tag)
{
  const ExifEntry *entry = find (data, ifd, tag);
  g_autofree char *text = NULL;

  if (!entry || entry->format != EXIF_FORMAT_ASCII || !entry->data)
    return NULL;
  text = g_strndup ((const char *)entry->data, entry->size);
  g_strstrip (text);
  return *text ? g_utf8_make_valid (text, -1) : NULL;
}

/* One unsigned number, 0 if it is not there. */
static guint
get_number (ExifData *data, ExifIfd ifd, ExifTag tag)
{
  const ExifEntry *entry = find (data, ifd, tag);
  const ExifByteOrder order = exif_data_get_byte_order (data);

  if (!entry || !entry->data || entry->components < 1)
    return 0;
  if (entry->format == EXIF_FORMAT_SHORT && entry->size >= 2)
    return exif_get_short (entry->data, order);
  if (entry->format == EXIF_FORMAT_LONG && entry->size >= 4)
    return exif_get_long (entry->data, order);
  return 0;
}

/* One quotient, 0 if it is not there or makes no sense. */
static double
get_quotient (ExifData *data, ExifIfd ifd, ExifTag tag)
{
  const ExifEntry *entry = find (data, ifd, tag);
  ExifRational quotient;

  if (!entry || !entry->data || entry->format != EXIF_FORMAT_RATIONAL || entry->size < 8)
    return 0;
  quotient = exif_get_rational (entry->data, exif_data_get_byte_order (data));
  return quotient.denominator ? (double)quotient.numerator / quotient.denominator : 0;
}

/**
 * sherd_exif_dup_iso_date:
 * @exif_date: (nullable): “2024:05:31 14:02:11”, as EXIF and TIFF write dates
 *
 * Returns: (transfer full) (nullable): “2024-05-31T14:02:11”, or NULL for anything that is no date
 */
char *
sherd_exif_dup_iso_date (const char *exif_date)
{
  g_autoptr (GDateTime) date = NULL;
  g_autofree char *iso = NULL;

  if (!exif_date || strlen (exif_date) != 19 || exif_date[4] != ':' || exif_date[7] != ':')
    return NULL;
  iso = g_strdup (exif_date);
  iso[4] = iso[7] = '-';
  iso[10] = 'T';
  g_autoptr (GTimeZone) utc = g_time_zone_new_utc ();
  date = g_date_time_new_from_iso8601 (iso, utc);
  return date ? g_steal_pointer (&iso) : NULL;
}

static gboolean
is_zone (const char *text)
{
  return text && strlen (text) == 6 && (text[0] == '+' || text[0] == '-') && g_ascii_isdigit (text[1]) &&
         g_ascii_isdigit (text[2]) && text[3] == ':' && g_ascii_isdigit (text[4]) && g_ascii_isdigit (text[5]);
}

/* When the picture was taken, or digitised, or the file changed: the first of them that is there. */
static char *
dup_date (ExifData *data)
{
  static const struct
  {
    ExifIfd ifd;
    ExifTag date, zone;
  } places[] = {
    { EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_ORIGINAL, EXIF_TAG_OFFSET_TIME_ORIGINAL },
    { EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_DIGITIZED, EXIF_TAG_OFFSET_TIME_DIGITIZED },
    { EXIF_IFD_0, EXIF_TAG_DATE_TIME, EXIF_TAG_OFFSET_TIME },
  };

  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      g_autofree char *text = dup_text (data, places[i].ifd, places[i].date);
      g_autofree char *zone = dup_text (data, EXIF_IFD_EXIF, places[i].zone);
      g_autofree char *date = sherd_exif_dup_iso_date (text);

      if (date)
        return g_strconcat (date, is_zone (zone) ? zone : NULL, NULL);
    }
  return NULL;
}

static gboolean
same_first_word (const char *first, const char *second)
{
  const gsize n = strcspn (first, " ");

  return n == strcspn (second, " ") && g_ascii_strncasecmp (first, second, n) == 0;
}

/**
 * sherd_exif_dup_camera:
 * @maker: (nullable): who made the camera
 * @model: (nullable): which it is; many models begin with the maker's name
 *
 * Returns: (transfer full) (nullable): both, with no word twice
 */
char *
sherd_exif_dup_camera (const char *maker, const char *model)
{
  if (!maker || !model)
    return g_strdup (model ? model : maker);
  if (same_first_word (maker, model))
    return g_strdup (model);
  return g_strconcat (maker, " ", model, NULL);
}

/* EXIF 2.32, 4.6.5: ColorSpace is 1 for sRGB, 0xFFFF for anything else; DCF 2.0 then marks its optional space by the
 * interoperability index “R03”. */
static SherdExifSpace
get_space (ExifData *data)
{
  g_autofree char *index = dup_text (data, EXIF_IFD_INTEROPERABILITY, EXIF_TAG_INTEROPERABILITY_INDEX);

  switch (get_number (data, EXIF_IFD_EXIF, EXIF_TAG_COLOR_SPACE))
    {
    case 0:
      return SHERD_EXIF_SPACE_UNSAID;
    case 1:
      return SHERD_EXIF_SPACE_SRGB;
    default:
      return g_strcmp0 (index, "R03") == 0 ? SHERD_EXIF_SPACE_OPRGB : SHERD_EXIF_SPACE_OTHER;
    }
}

/**
 * sherd_exif_read:
 * @tiff: an EXIF block from its TIFF header on
 * @length: its size in bytes
 * @info: (inout): receives orientation and capture data
 *
 * Reads what a camera wrote about a photograph. Whatever is missing, damaged or impossible is left as it was.
 *
 * Returns: what the block says of the colour space
 */
SherdExifSpace
sherd_exif_read (const guint8 *tiff, gsize length, SherdPhotoInfo *info)
{
  ExifData *data = length > 0 && length <= MAX_EXIF_BYTES ? load (tiff, length) : NULL;
  SherdExifSpace space;
  g_autofree char *maker = NULL;
  g_autofree char *model = NULL;
  guint orientation;

  if (!data)
    return SHERD_EXIF_SPACE_UNSAID;

  maker = dup_text (data, EXIF_IFD_0, EXIF_TAG_MAKE);
  model = dup_text (data, EXIF_IFD_0, EXIF_TAG_MODEL);
  orientation = get_number (data, EXIF_IFD_0, EXIF_TAG_ORIENTATION);
  if (orientation >= 1 && orientation <= 8)
    info->orientation = orientation;
  info->camera = sherd_exif_dup_camera (maker, model);
  info->taken = dup_date (data);
  info->focal_35mm = get_number (data, EXIF_IFD_EXIF, EXIF_TAG_FOCAL_LENGTH_IN_35MM_FILM);
  info->exposure_s = get_quotient (data, EXIF_IFD_EXIF, EXIF_TAG_EXPOSURE_TIME);
  info->f_number = get_quotient (data, EXIF_IFD_EXIF, EXIF_TAG_FNUMBER);
  info->iso = get_number (data, EXIF_IFD_EXIF, EXIF_TAG_ISO_SPEED_RATINGS);
  space = get_space (data);
  exif_data_unref (data);
  return space;
}
