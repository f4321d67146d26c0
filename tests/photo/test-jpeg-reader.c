/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The files are made here by libjpeg. Codes are compared with plain libjpeg decoding of the whole picture, colours with
 * IEC 61966-2-1 as in colour/srgb.c (tested there against published values) or with LittleCMS called directly. */
#include "config.h"

#include <math.h>
#include <string.h>

#include <glib.h>

#include "colour/srgb.h"
#include "fixtures.h"

/* A table entry is a float of the double that the formula gives. */
#define FLOAT_TOLERANCE 1e-6

static SherdPhoto *
open_photo (GBytes *bytes)
{
  g_autoptr (GError) error = NULL;
  SherdPhoto *photo = sherd_photo_open_bytes (bytes, "made.jpg", &error);

  g_assert_no_error (error);
  return photo;
}

static GBytes *
make (const FixtureJpeg *fixture, guint seed)
{
  const guint channels = fixture->space == JCS_GRAYSCALE ? 1 : fixture->space == JCS_RGB ? 3 : 4;
  g_autofree guint16 *samples = fixture_samples (fixture->width, fixture->height, channels, 8, seed);

  return fixture_jpeg (fixture, samples);
}

/* Whole reading against plain libjpeg. */
static void
check_codes_of (const FixtureJpeg *fixture)
{
  guint channels;
  g_autoptr (GBytes) bytes = make (fixture, 1);
  g_autofree guint8 *codes = fixture_decode_jpeg (bytes, &channels);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);

  g_assert_nonnull (pixels);
  for (gsize i = 0; i < (gsize)fixture->width * fixture->height; i++)
    for (guint c = 0; c < 3; c++)
      {
        const guint8 code = codes[i * channels + (channels == 3 ? c : 0)];

        g_assert_cmpfloat_with_epsilon (pixels->linear[3 * i + c], sherd_srgb_decode (code / 255.0), FLOAT_TOLERANCE);
      }
}

static const struct
{
  const char *name;
  FixtureJpeg jpeg;
} forms[] = {
  { "grey", { .width = 61, .height = 45, .space = JCS_GRAYSCALE } },
  { "4-4-4", { .width = 150, .height = 101, .space = JCS_RGB } },
  { "4-2-2", { .width = 150, .height = 101, .space = JCS_RGB, .h = 2 } },
  { "4-2-0", { .width = 203, .height = 150, .space = JCS_RGB, .h = 2, .v = 2 } },
  { "4-4-0", { .width = 203, .height = 150, .space = JCS_RGB, .v = 2 } },
  { "4-1-1", { .width = 203, .height = 150, .space = JCS_RGB, .h = 4 } },
  { "4-1-0", { .width = 203, .height = 150, .space = JCS_RGB, .h = 4, .v = 2 } },
  { "1-by-4", { .width = 90, .height = 150, .space = JCS_RGB, .v = 4 } },
  { "4-2-0-narrow", { .width = 3, .height = 150, .space = JCS_RGB, .h = 2, .v = 2 } },
  { "all-1-by-2", { .width = 91, .height = 67, .space = JCS_RGB, .v = 2, .other_v = 2 } },
  { "4-2-2-on-end", { .width = 133, .height = 67, .space = JCS_RGB, .h = 2, .v = 2, .other_v = 2 } },
  { "stored-as-rgb", { .width = 77, .height = 65, .space = JCS_RGB, .stored = JCS_RGB } },
  { "restarts", { .width = 203, .height = 150, .space = JCS_RGB, .h = 2, .v = 2, .restart_rows = 1 } },
  { "arithmetic", { .width = 203, .height = 150, .space = JCS_RGB, .h = 2, .v = 2, .arithmetic = TRUE } },
  { "progressive", { .width = 203, .height = 150, .space = JCS_RGB, .h = 2, .v = 2, .progressive = TRUE } },
  { "progressive-4-4-4", { .width = 203, .height = 150, .space = JCS_RGB, .progressive = TRUE } },
  { "progressive-grey", { .width = 203, .height = 150, .space = JCS_GRAYSCALE, .progressive = TRUE } },
  { "progressive-arithmetic",
    { .width = 203, .height = 150, .space = JCS_RGB, .progressive = TRUE, .arithmetic = TRUE } },
  { "one-pixel", { .width = 1, .height = 1, .space = JCS_RGB, .h = 2, .v = 2 } },
};

static void
test_codes (gconstpointer data)
{
  check_codes_of (data);
}

/* The pixels that a partial reading gives are those of the whole, for whatever rows, columns and steps are asked. */
static void
check_part (GBytes *bytes, const FixturePixels *whole, GRand *rand)
{
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  const guint first = (guint)g_rand_int_range (rand, 0, (gint32)whole->width);
  const guint last = (guint)g_rand_int_range (rand, (gint32)first, (gint32)whole->width);
  const guint most_skipped = (guint)g_rand_int_range (rand, 1, 60);
  g_autofree float *linear = g_new (float, 3 * whole->width);
  g_autofree guint8 *flags = g_new (guint8, whole->width);

  sherd_photo_limit_columns (photo, first, last);
  for (guint y = (guint)g_rand_int_range (rand, 0, (gint32)whole->height); y < whole->height;
       y += (guint)g_rand_int_range (rand, 1, (gint32)most_skipped + 1))
    {
      const guint step = (guint)g_rand_int_range (rand, 1, 4);
      const gsize n = (last - first) / step + 1;

      g_assert_true (sherd_photo_seek_row (photo, y, NULL));
      sherd_photo_convert (photo, first, step, n, linear, flags);
      for (gsize i = 0; i < n; i++)
        {
          const gsize place = (gsize)y * whole->width + first + i * step;

          g_assert_cmpmem (linear + 3 * i, 3 * sizeof (float), whole->linear + 3 * place, 3 * sizeof (float));
          g_assert_cmpuint (flags[i], ==, whole->flags[place]);
        }
    }
}

static void
test_parts (gconstpointer data)
{
  const FixtureJpeg *fixture = data;
  g_autoptr (GBytes) bytes = make (fixture, 2);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) whole = fixture_read_all (photo, NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (guint round = 0; round < 200; round++)
    check_part (bytes, whole, rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      g_autofree char *codes = g_strconcat ("/photo/jpeg/codes-equal-plain-libjpeg/", forms[i].name, NULL);
      g_autofree char *parts = g_strconcat ("/photo/jpeg/parts-equal-the-whole/", forms[i].name, NULL);

      g_test_add_data_func (codes, &forms[i].jpeg, test_codes);
      g_test_add_data_func (parts, &forms[i].jpeg, test_parts);
    }
  return g_test_run ();
}
