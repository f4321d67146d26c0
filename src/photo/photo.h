/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "colour/lab.h"

G_BEGIN_DECLS

#define SHERD_PHOTO_ERROR (sherd_photo_error_quark ())
GQuark sherd_photo_error_quark (void);

typedef enum
{
  SHERD_PHOTO_ERROR_OPEN,       /* missing, unreadable or empty file */
  SHERD_PHOTO_ERROR_UNKNOWN,    /* not a kind of picture this program reads */
  SHERD_PHOTO_ERROR_BROKEN,     /* damaged or cut off */
  SHERD_PHOTO_ERROR_TOO_LARGE,  /* more pixels than the stated limit */
  SHERD_PHOTO_ERROR_UNSUPPORTED /* a known kind in a form that cannot be measured, and why */
} SherdPhotoError;

/* Where the meaning of the numbers in the file comes from, in order of belief. */
typedef enum
{
  SHERD_PHOTO_SPACE_ICC,         /* embedded profile */
  SHERD_PHOTO_SPACE_SRGB,        /* PNG sRGB chunk or EXIF says sRGB */
  SHERD_PHOTO_SPACE_GAMMA,       /* PNG gAMA with or without cHRM; a TIFF's primaries */
  SHERD_PHOTO_SPACE_CICP,        /* PNG cICP: a code of ITU-T H.273 */
  SHERD_PHOTO_SPACE_OPRGB,       /* EXIF says the camera's optional space (DCF 2.0, IEC 61966-2-5) */
  SHERD_PHOTO_SPACE_ASSUMED_SRGB /* nothing said: assumed, and the user is told */
} SherdPhotoSpace;

/* What is known of a photograph from its head. Strings may be NULL. */
typedef struct
{
  guint width_px; /* as stored */
  guint height_px;
  guint orientation; /* EXIF 1…8, 1 = stored upright */
  guint bits;        /* per channel */
  gboolean grey;
  SherdPhotoSpace space;
  char *profile_name;
  char *format; /* "PNG", "JPEG", "TIFF" */
  char *camera;
  char *taken;       /* ISO 8601 as the camera says, no zone unless the file has one */
  double focal_35mm; /* 0 if unknown */
  double exposure_s; /* 0 if unknown */
  double f_number;
  double iso;
  GStrv remarks; /* doubts for the user, translated: "No colour profile: sRGB was assumed." */
} SherdPhotoInfo;

/* An open photograph, read from its first stored row to its last. Not shared between threads. */
typedef struct _SherdPhoto SherdPhoto;

/* Flags of one converted pixel. */
typedef enum
{
  SHERD_PIXEL_CLIPPED = 1 << 0,    /* a channel at 98 % of full scale or more */
  SHERD_PIXEL_DARK = 1 << 1,       /* a channel so low that the file cannot resolve it */
  SHERD_PIXEL_TRANSPARENT = 1 << 2 /* alpha below full */
} SherdPixelFlags;

char *sherd_photo_dup_formats (void);

SherdPhoto *sherd_photo_open (const char *path, GError **error);
SherdPhoto *sherd_photo_open_bytes (GBytes *bytes, const char *name, GError **error);
void sherd_photo_free (SherdPhoto *photo);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdPhoto, sherd_photo_free)

const SherdPhotoInfo *sherd_photo_get_info (const SherdPhoto *photo);
guint sherd_photo_get_upright_width_px (const SherdPhoto *photo);
guint sherd_photo_get_upright_height_px (const SherdPhoto *photo);

/* Continuous pixel positions, (0, 0) the outer corner of the first pixel. */
void sherd_photo_upright_to_stored (const SherdPhoto *photo, double x, double y, double *x_stored, double *y_stored);
void sherd_photo_stored_to_upright (const SherdPhoto *photo, double x, double y, double *x_upright, double *y_upright);

/* Only columns first…last (stored) will be asked for; called before the first row, lets a reader skip work. */
void sherd_photo_limit_columns (SherdPhoto *photo, guint first_px, guint last_px);

/* Makes stored row @y_px the current one; rows only go forward, those between are skipped as cheaply as the format
 * allows. */
gboolean sherd_photo_seek_row (SherdPhoto *photo, guint y_px, GError **error);

/* Converts @n pixels of the current row, @x_px, @x_px + @step, …, to linear light (3 floats each) and flags. */
void sherd_photo_convert (SherdPhoto *photo, guint x_px, guint step, gsize n, float *linear_rgb, guint8 *flags);

/* The current row from @x_px on as 8-bit sRGB, if that is what the file holds, else NULL. */
const guint8 *sherd_photo_get_srgb_codes (SherdPhoto *photo, guint x_px);

G_END_DECLS
