/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Blocks are put together here byte by byte after EXIF 2.32 (CIPA DC-008) and TIFF 6.0, section 2. The values of the
 * corpus file were read with a hex viewer. */
#include "config.h"

#include <string.h>

#include <glib.h>

#include "fixtures.h"
#include "photo/exif.h"

static void
info_clear (SherdPhotoInfo *info)
{
  g_free (info->camera);
  g_free (info->taken);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SherdPhotoInfo, info_clear)

static SherdExifSpace
read_block (GBytes *block, SherdPhotoInfo *info)
{
  gsize n_bytes;
  const guint8 *data = g_bytes_get_data (block, &n_bytes);

  info->orientation = 1;
  return sherd_exif_read (data, n_bytes, info);
}

/* A little-endian block under construction: entries of IFD0, of the Exif IFD, of the interoperability IFD, and the data
 * they point to. */
typedef struct
{
  GByteArray *entries[3];
  guint n_entries[3];
  GByteArray *data;
} Block;

#define DATA_AT 1000u
#define IFD_AT(i) (8u + 300u * (i))

static void
append (GByteArray *array, guint32 number, guint n_bytes)
{
  for (guint i = 0; i < n_bytes; i++)
    {
      const guint8 byte = (guint8)(number >> 8 * i);

      g_byte_array_append (array, &byte, 1);
    }
}

static void
add_entry (Block *block, guint ifd, guint tag, guint type, guint count, guint32 value)
{
  append (block->entries[ifd], tag, 2);
  append (block->entries[ifd], type, 2);
  append (block->entries[ifd], count, 4);
  append (block->entries[ifd], value, 4);
  block->n_entries[ifd]++;
}

static void
add_text (Block *block, guint ifd, guint tag, const char *text)
{
  add_entry (block, ifd, tag, 2, (guint)strlen (text) + 1, DATA_AT + block->data->len);
  g_byte_array_append (block->data, (const guint8 *)text, (guint)strlen (text) + 1);
}

static void
add_quotient (Block *block, guint ifd, guint tag, guint32 numerator, guint32 denominator)
{
  add_entry (block, ifd, tag, 5, 1, DATA_AT + block->data->len);
  append (block->data, numerator, 4);
  append (block->data, denominator, 4);
}

static Block *
block_new (void)
{
  Block *block = g_new0 (Block, 1);

  for (guint i = 0; i < 3; i++)
    block->entries[i] = g_byte_array_new ();
  block->data = g_byte_array_new ();
  add_entry (block, 0, 0x8769, 4, 1, IFD_AT (1));
  add_entry (block, 1, 0xA005, 4, 1, IFD_AT (2));
  return block;
}

static void
pad (GByteArray *file, guint n_bytes)
{
  while (file->len < n_bytes)
    append (file, 0, 1);
}

static GBytes *
block_finish (Block *block)
{
  GByteArray *file = g_byte_array_new ();

  g_byte_array_append (file, (const guint8 *)"II*\0\10\0\0\0", 8);
  for (guint i = 0; i < 3; i++)
    {
      pad (file, IFD_AT (i));
      append (file, block->n_entries[i], 2);
      g_byte_array_append (file, block->entries[i]->data, block->entries[i]->len);
      append (file, 0, 4);
      g_byte_array_free (block->entries[i], TRUE);
    }
  pad (file, DATA_AT);
  g_byte_array_append (file, block->data->data, block->data->len);
  g_byte_array_free (block->data, TRUE);
  g_free (block);
  return g_byte_array_free_to_bytes (file);
}

static void
test_capture_data (void)
{
  Block *block = block_new ();
  g_autoptr (GBytes) bytes = NULL;
  g_auto (SherdPhotoInfo) info = { 0 };

  add_entry (block, 0, 0x0112, 3, 1, 6);
  add_text (block, 0, 0x010F, "Kiln Optics");
  add_text (block, 0, 0x0110, "Model 7 ");
  add_text (block, 1, 0x9003, "2024:05:31 14:02:11");
  add_text (block, 1, 0x9011, "+02:00");
  add_quotient (block, 1, 0x829A, 1, 60);
  add_quotient (block, 1, 0x829D, 56, 10);
  add_entry (block, 1, 0x8827, 3, 1, 400);
  add_entry (block, 1, 0xA405, 3, 1, 77);
  add_entry (block, 1, 0xA001, 3, 1, 1);
  bytes = block_finish (block);

  g_assert_cmpint (read_block (bytes, &info), ==, SHERD_EXIF_SPACE_SRGB);
  g_assert_cmpuint (info.orientation, ==, 6);
  g_assert_cmpstr (info.camera, ==, "Kiln Optics Model 7");
  g_assert_cmpstr (info.taken, ==, "2024-05-31T14:02:11+02:00");
  g_assert_cmpfloat_with_epsilon (info.exposure_s, 1 / 60.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (info.f_number, 5.6, 1e-12);
  g_assert_cmpfloat (info.iso, ==, 400);
  g_assert_cmpfloat (info.focal_35mm, ==, 77);
}

static void
test_maker_is_not_said_twice (void)
{
  Block *block = block_new ();
  g_autoptr (GBytes) bytes = NULL;
  g_auto (SherdPhotoInfo) info = { 0 };

  add_text (block, 0, 0x010F, "KILN CORPORATION");
  add_text (block, 0, 0x0110, "Kiln 7");
  bytes = block_finish (block);
  read_block (bytes, &info);
  g_assert_cmpstr (info.camera, ==, "Kiln 7");
}

static char *
dup_taken (const char *original, const char *changed)
{
  Block *block = block_new ();
  g_autoptr (GBytes) bytes = NULL;
  g_auto (SherdPhotoInfo) info = { 0 };

  add_text (block, 0, 0x0132, changed);
  add_text (block, 1, 0x9003, original);
  bytes = block_finish (block);
  read_block (bytes, &info);
  return g_steal_pointer (&info.taken);
}

static void
test_dates (void)
{
  g_autofree char *unset = dup_taken ("0000:00:00 00:00:00", "2023:01:02 03:04:05");
  g_autofree char *blank = dup_taken ("    :  :     :  :  ", "    :  :     :  :  ");
  g_autofree char *impossible = dup_taken ("2023:02:30 10:00:00", "nonsense");

  g_assert_cmpstr (unset, ==, "2023-01-02T03:04:05");
  g_assert_null (blank);
  g_assert_null (impossible);
}

/* DCF 2.0: “R03” in the interoperability IFD marks the optional colour space. */
static void
test_colour_spaces (void)
{
  g_autoptr (GBytes) unsaid = fixture_exif (1, 0, TRUE);
  g_autoptr (GBytes) srgb = fixture_exif (1, 1, FALSE);
  g_autoptr (GBytes) other = fixture_exif (1, 0xFFFF, FALSE);
  g_autoptr (GBytes) optional = NULL;
  g_auto (SherdPhotoInfo) info = { 0 };
  Block *block = block_new ();

  add_entry (block, 1, 0xA001, 3, 1, 0xFFFF);
  add_entry (block, 2, 0x0001, 2, 4, 'R' | '0' << 8 | '3' << 16);
  optional = block_finish (block);

  g_assert_cmpint (read_block (unsaid, &info), ==, SHERD_EXIF_SPACE_UNSAID);
  g_assert_cmpint (read_block (srgb, &info), ==, SHERD_EXIF_SPACE_SRGB);
  g_assert_cmpint (read_block (other, &info), ==, SHERD_EXIF_SPACE_OTHER);
  g_assert_cmpint (read_block (optional, &info), ==, SHERD_EXIF_SPACE_OPRGB);
}

static void
test_nonsense_is_left_out (void)
{
  Block *block = block_new ();
  g_autoptr (GBytes) bytes = NULL;
  g_auto (SherdPhotoInfo) info = { 0 };

  add_entry (block, 0, 0x0112, 3, 1, 9);
  add_quotient (block, 1, 0x829A, 1, 0);
  add_text (block, 1, 0x829D, "five");
  add_text (block, 0, 0x0110, "      ");
  bytes = block_finish (block);
  g_assert_cmpint (read_block (bytes, &info), ==, SHERD_EXIF_SPACE_UNSAID);
  g_assert_cmpuint (info.orientation, ==, 1);
  g_assert_cmpfloat (info.exposure_s, ==, 0);
  g_assert_cmpfloat (info.f_number, ==, 0);
  g_assert_null (info.camera);
}

static void
test_nothing (void)
{
  g_auto (SherdPhotoInfo) info = { 0 };

  g_assert_cmpint (sherd_exif_read (NULL, 0, &info), ==, SHERD_EXIF_SPACE_UNSAID);
}

/* Counts, offsets and types at random: harmless (the point of this test is the sanitizers). */
static void
test_damage (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  g_autoptr (GBytes) bytes = NULL;
  Block *block = block_new ();
  gsize n_bytes;
  const guint8 *data;

  add_text (block, 0, 0x010F, "Kiln Optics");
  add_entry (block, 0, 0x0112, 3, 1, 6);
  add_text (block, 1, 0x927C, "maker's note, of some length, which no one understands");
  add_quotient (block, 1, 0x829A, 1, 60);
  add_entry (block, 1, 0xA001, 3, 1, 1);
  bytes = block_finish (block);
  data = g_bytes_get_data (bytes, &n_bytes);
  for (guint round = 0; round < 2000; round++)
    {
      g_autofree guint8 *damaged = g_memdup2 (data, n_bytes);
      g_auto (SherdPhotoInfo) info = { .orientation = 1 };

      for (guint i = 0; i < 6; i++)
        damaged[IFD_AT (g_rand_int_range (rand, 0, 2)) + (guint)g_rand_int_range (rand, 0, 70)] =
          (guint8)g_rand_int (rand);
      sherd_exif_read (damaged, n_bytes - (gsize)g_rand_int_range (rand, 0, 200), &info);
      g_assert_cmpuint (info.orientation, >=, 1);
      g_assert_cmpuint (info.orientation, <=, 8);
    }
}

static void
test_corpus (void)
{
  const char *shared = g_getenv ("SHERD_SHARED_DIR");
  g_autofree char *path = shared ? g_build_filename (shared, "corpus/formats/exif_32-lens_data.jpeg", NULL) : NULL;
  g_autoptr (SherdPhoto) photo = NULL;
  const SherdPhotoInfo *info;

  if (!path || !g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_test_skip ("the shared corpus is not there");
      return;
    }
  photo = sherd_photo_open (path, NULL);
  info = sherd_photo_get_info (photo);
  g_assert_cmpstr (info->taken, ==, "2012-07-14T16:30:12");
  g_assert_cmpfloat (info->focal_35mm, ==, 157);
  g_assert_cmpfloat_with_epsilon (info->exposure_s, 1 / 500.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (info->f_number, 5.6, 1e-12);
  g_assert_cmpfloat (info->iso, ==, 200);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/exif/capture-data", test_capture_data);
  g_test_add_func ("/photo/exif/maker-is-not-said-twice", test_maker_is_not_said_twice);
  g_test_add_func ("/photo/exif/dates", test_dates);
  g_test_add_func ("/photo/exif/colour-spaces", test_colour_spaces);
  g_test_add_func ("/photo/exif/nonsense-is-left-out", test_nonsense_is_left_out);
  g_test_add_func ("/photo/exif/nothing", test_nothing);
  g_test_add_func ("/photo/exif/damage-is-harmless", test_damage);
  g_test_add_func ("/photo/exif/corpus", test_corpus);
  return g_test_run ();
}
