/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Directories put together byte by byte after TIFF 6.0, section 2, and EXIF 2.32, 4.6: what a writer should not write,
 * and what a camera does. */
#include "config.h"

#include <string.h>

#include <glib.h>

#include "photo/photo.h"

typedef struct
{
  guint16 tag, type;
  guint32 count, value;
} Entry;

static void
append (GByteArray *file, guint64 number, guint n_bytes)
{
  for (guint i = 0; i < n_bytes; i++)
    {
      const guint8 byte = (guint8)(number >> 8 * i);

      g_byte_array_append (file, &byte, 1);
    }
}

/* A little-endian file with one directory at its byte 8, of which the next one is at @next. */
static GBytes *
make_by_hand (const Entry *entries, guint n, guint32 next)
{
  g_autoptr (GByteArray) file = g_byte_array_new ();

  g_byte_array_append (file, (const guint8 *)"II*\0\10\0\0\0", 8);
  append (file, n, 2);
  for (guint i = 0; i < n; i++)
    {
      append (file, entries[i].tag, 2);
      append (file, entries[i].type, 2);
      append (file, entries[i].count, 4);
      append (file, entries[i].value, 4);
    }
  append (file, next, 4);
  for (guint i = 0; i < 1000; i++)
    append (file, i, 1);
  return g_byte_array_free_to_bytes (g_steal_pointer (&file));
}

#define SHORT 3
#define LONG 4
#define ASCII 2
#define RATIONAL 5

static void
check_refused (GBytes *bytes, SherdPhotoError code, const char *word)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (bytes, "hostile.tif", &error);

  g_assert_null (photo);
  g_assert_error (error, SHERD_PHOTO_ERROR, (int)code);
  g_assert_nonnull (strstr (error->message, word));
}

static void
test_absurd_size (void)
{
  const Entry wide[] = { { 256, LONG, 1, 0x7FFFFFFF }, { 257, LONG, 1, 0x7FFFFFFF }, { 258, SHORT, 1, 8 },
                         { 262, SHORT, 1, 1 },         { 273, LONG, 1, 300 },        { 278, LONG, 1, 0x7FFFFFFF },
                         { 279, LONG, 1, 100 } };
  const Entry hollow[] = { { 256, LONG, 1, 30000 }, { 257, LONG, 1, 30000 }, { 258, SHORT, 1, 8 },
                           { 259, SHORT, 1, 5 },    { 262, SHORT, 1, 1 },    { 273, LONG, 1, 300 },
                           { 278, LONG, 1, 30000 }, { 279, LONG, 1, 100 } };
  g_autoptr (GBytes) wide_bytes = make_by_hand (wide, G_N_ELEMENTS (wide), 0);
  g_autoptr (GBytes) hollow_bytes = make_by_hand (hollow, G_N_ELEMENTS (hollow), 0);
  g_autoptr (SherdPhoto) hollow_photo = sherd_photo_open_bytes (hollow_bytes, "hollow.tif", NULL);

  check_refused (wide_bytes, SHERD_PHOTO_ERROR_TOO_LARGE, "2147483647");
  g_assert_true (!hollow_photo || !sherd_photo_seek_row (hollow_photo, 0, NULL));
}

static void
test_absurd_tiles (void)
{
  const guint32 sides[] = { 0, 1, 0x7FFFFFFF, 0x80000000, 0xFFFFFFF0 };

  for (guint i = 0; i < G_N_ELEMENTS (sides) * G_N_ELEMENTS (sides); i++)
    {
      const Entry entries[] = { { 256, LONG, 1, 20 },
                                { 257, LONG, 1, 20 },
                                { 258, SHORT, 1, 8 },
                                { 259, SHORT, 1, 8 },
                                { 262, SHORT, 1, 1 },
                                { 322, LONG, 1, sides[i % G_N_ELEMENTS (sides)] },
                                { 323, LONG, 1, sides[i / G_N_ELEMENTS (sides)] },
                                { 324, LONG, 1, 300 },
                                { 325, LONG, 1, 100 } };
      g_autoptr (GBytes) bytes = make_by_hand (entries, G_N_ELEMENTS (entries), 0);

      g_autoptr (GError) error = NULL;
      g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (bytes, "hostile.tif", &error);

      g_assert_true (photo ? !sherd_photo_seek_row (photo, 0, &error) : error != NULL);
      g_assert_true (error->domain == SHERD_PHOTO_ERROR);
    }
}

/* Previews without end: each directory leads to itself. */
static void
test_loop (void)
{
  const Entry entries[] = { { 254, LONG, 1, 1 },  { 256, LONG, 1, 20 },  { 257, LONG, 1, 20 }, { 258, SHORT, 1, 8 },
                            { 262, SHORT, 1, 1 }, { 273, LONG, 1, 300 }, { 278, LONG, 1, 20 }, { 279, LONG, 1, 400 } };
  g_autoptr (GBytes) bytes = make_by_hand (entries, G_N_ELEMENTS (entries), 8);

  check_refused (bytes, SHERD_PHOTO_ERROR_UNSUPPORTED, "preview");
}

/* A file of other colours, of other numbers, of a packing nobody knows. */
static void
test_unsupported (void)
{
  const struct
  {
    Entry odd;
    const char *word;
  } cases[] = { { { 262, SHORT, 1, 8 }, "grey, RGB" },
                { { 339, SHORT, 1, 2 }, "numbers" },
                { { 258, SHORT, 1, 12 }, "numbers" },
                { { 259, SHORT, 1, 6 }, "number 6" },
                { { 259, SHORT, 1, 4711 }, "number 4711" } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Entry entries[] = { { 256, LONG, 1, 20 },  { 257, LONG, 1, 20 },  { 258, SHORT, 1, 8 }, { 259, SHORT, 1, 1 },
                          { 262, SHORT, 1, 1 },  { 273, LONG, 1, 300 }, { 277, SHORT, 1, 1 }, { 278, LONG, 1, 20 },
                          { 279, LONG, 1, 400 }, { 339, SHORT, 1, 1 } };
      g_autoptr (GBytes) bytes = NULL;

      for (guint k = 0; k < G_N_ELEMENTS (entries); k++)
        if (entries[k].tag == cases[i].odd.tag)
          entries[k] = cases[i].odd;
      bytes = make_by_hand (entries, G_N_ELEMENTS (entries), 0);
      check_refused (bytes, SHERD_PHOTO_ERROR_UNSUPPORTED, cases[i].word);
    }
}

/* Where the camera's directory and its longer values are, behind the pixels. */
#define CAMERA_AT 750
#define VALUES_AT 900

static void
test_camera (void)
{
  const Entry entries[] = { { 256, LONG, 1, 20 },  { 257, LONG, 1, 20 },         { 258, SHORT, 1, 8 },
                            { 262, SHORT, 1, 1 },  { 273, LONG, 1, 300 },        { 278, LONG, 1, 20 },
                            { 279, LONG, 1, 400 }, { 34665, LONG, 1, CAMERA_AT } };
  const Entry camera[] = { { 33434, RATIONAL, 1, VALUES_AT },
                           { 33437, RATIONAL, 1, VALUES_AT + 8 },
                           { 34855, SHORT, 1, 200 },
                           { 36867, ASCII, 20, VALUES_AT + 16 },
                           { 40961, SHORT, 1, 1 },
                           { 41989, SHORT, 1, 75 } };
  const guint8 values[] = "\1\0\0\0\175\0\0\0\70\0\0\0\12\0\0\0"
                          "2023:02:01 09:08:07";
  g_autoptr (GBytes) directory = make_by_hand (camera, G_N_ELEMENTS (camera), 0);
  g_autoptr (GBytes) plain = make_by_hand (entries, G_N_ELEMENTS (entries), 0);
  g_autofree guint8 *content = g_memdup2 (g_bytes_get_data (plain, NULL), g_bytes_get_size (plain));
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (SherdPhoto) photo = NULL;
  const SherdPhotoInfo *info;

  memcpy (content + CAMERA_AT, (const guint8 *)g_bytes_get_data (directory, NULL) + 8,
          2 + 12 * G_N_ELEMENTS (camera) + 4);
  memcpy (content + VALUES_AT, values, sizeof values);
  bytes = g_bytes_new (content, g_bytes_get_size (plain));
  photo = sherd_photo_open_bytes (bytes, "camera.tif", NULL);
  info = sherd_photo_get_info (photo);
  g_assert_cmpfloat_with_epsilon (info->exposure_s, 1 / 125.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (info->f_number, 5.6, 1e-6);
  g_assert_cmpfloat (info->iso, ==, 200);
  g_assert_cmpfloat (info->focal_35mm, ==, 75);
  g_assert_cmpstr (info->taken, ==, "2023-02-01T09:08:07");
  g_assert_cmpint (info->space, ==, SHERD_PHOTO_SPACE_SRGB);
  g_assert_true (sherd_photo_seek_row (photo, 19, NULL));
}

/* A preview stands first; the picture is the next directory. */
static void
test_preview (void)
{
  const Entry preview[] = { { 254, LONG, 1, 1 },  { 256, LONG, 1, 20 },  { 257, LONG, 1, 20 }, { 258, SHORT, 1, 8 },
                            { 262, SHORT, 1, 1 }, { 273, LONG, 1, 300 }, { 278, LONG, 1, 20 }, { 279, LONG, 1, 400 } };
  const Entry picture[] = { { 254, LONG, 1, 0 },  { 256, LONG, 1, 30 },  { 257, LONG, 1, 15 }, { 258, SHORT, 1, 8 },
                            { 262, SHORT, 1, 1 }, { 273, LONG, 1, 250 }, { 278, LONG, 1, 15 }, { 279, LONG, 1, 450 } };
  g_autoptr (GBytes) directory = make_by_hand (picture, G_N_ELEMENTS (picture), 0);
  g_autoptr (GBytes) plain = make_by_hand (preview, G_N_ELEMENTS (preview), CAMERA_AT);
  g_autofree guint8 *content = g_memdup2 (g_bytes_get_data (plain, NULL), g_bytes_get_size (plain));
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (SherdPhoto) photo = NULL;

  memcpy (content + CAMERA_AT, (const guint8 *)g_bytes_get_data (directory, NULL) + 8,
          2 + 12 * G_N_ELEMENTS (picture) + 4);
  bytes = g_bytes_new (content, g_bytes_get_size (plain));
  photo = sherd_photo_open_bytes (bytes, "preview.tif", NULL);
  g_assert_cmpuint (sherd_photo_get_info (photo)->width_px, ==, 30);
  g_assert_true (sherd_photo_seek_row (photo, 14, NULL));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/tiff-head/absurd-size-is-refused", test_absurd_size);
  g_test_add_func ("/photo/tiff-head/absurd-tiles-are-refused", test_absurd_tiles);
  g_test_add_func ("/photo/tiff-head/loop-of-previews-is-refused", test_loop);
  g_test_add_func ("/photo/tiff-head/what-is-not-read-is-said", test_unsupported);
  g_test_add_func ("/photo/tiff-head/camera-time-and-space-are-told", test_camera);
  g_test_add_func ("/photo/tiff-head/preview-is-passed-over", test_preview);
  return g_test_run ();
}
