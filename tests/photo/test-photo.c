/* SPDX-License-Identifier: GPL-3.0-or-later */

/* What the interface promises (photo.c), on files made here. */
#include "config.h"

#include <string.h>

#include <glib.h>
#include <glib/gstdio.h>

#include "fixtures.h"

typedef struct
{
  char *folder;
  char *path;
} Place;

static void
set_up (Place *place, gconstpointer data)
{
  place->folder = g_dir_make_tmp (NULL, NULL);
  place->path = g_build_filename (place->folder, "Schüssel 3.jpg", NULL);
}

static void
tear_down (Place *place, gconstpointer data)
{
  g_remove (place->path);
  g_rmdir (place->folder);
  g_free (place->path);
  g_free (place->folder);
}

static void
check_refusal (const char *path, SherdPhotoError code, const char *name, const char *word)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhoto) photo = sherd_photo_open (path, &error);

  g_assert_null (photo);
  g_assert_error (error, SHERD_PHOTO_ERROR, (int)code);
  g_assert_nonnull (strstr (error->message, name));
  g_assert_nonnull (strstr (error->message, word));
}

static void
test_refuses_missing (Place *place, gconstpointer data)
{
  check_refusal (place->path, SHERD_PHOTO_ERROR_OPEN, "“Schüssel 3.jpg”", "cannot be opened");
}

static void
test_refuses_folder (Place *place, gconstpointer data)
{
  g_autofree char *name = g_path_get_basename (place->folder);

  check_refusal (place->folder, SHERD_PHOTO_ERROR_OPEN, name, "folder");
}

static void
test_refuses_empty (Place *place, gconstpointer data)
{
  g_autoptr (GBytes) nothing = g_bytes_new_static ("", 0);
  g_autoptr (GError) error = NULL;

  g_file_set_contents (place->path, "", 0, NULL);
  check_refusal (place->path, SHERD_PHOTO_ERROR_OPEN, "“Schüssel 3.jpg”", "empty");
  g_assert_null (sherd_photo_open_bytes (nothing, "none", &error));
  g_assert_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_OPEN);
}

static void
test_refuses_text (Place *place, gconstpointer data)
{
  g_file_set_contents (place->path, "Fired on Tuesday.\n", -1, NULL);
  check_refusal (place->path, SHERD_PHOTO_ERROR_UNKNOWN, "“Schüssel 3.jpg”", "text");
}

/* The superuser may read everything. */
static void
test_refuses_unreadable (Place *place, gconstpointer data)
{
  g_file_set_contents (place->path, "\xFF\xD8\xFF", 3, NULL);
  g_chmod (place->path, 0);
  if (g_access (place->path, R_OK) == 0)
    g_test_skip ("this user may read every file");
  else
    check_refusal (place->path, SHERD_PHOTO_ERROR_OPEN, "“Schüssel 3.jpg”", "cannot be read");
}

/* A JPEG by content is read whatever its name says. */
static void
test_content_not_name_decides (Place *place, gconstpointer data)
{
  const FixturePng fixture = { 5, 4, 8, PNG_COLOR_TYPE_RGB, FALSE, NULL, NULL };
  g_autofree guint16 *samples = fixture_samples (5, 4, 3, 8, 1);
  g_autoptr (GBytes) bytes = fixture_png (&fixture, samples);
  g_autoptr (SherdPhoto) photo = NULL;

  g_file_set_contents (place->path, g_bytes_get_data (bytes, NULL), (gssize)g_bytes_get_size (bytes), NULL);
  photo = sherd_photo_open (place->path, NULL);
  g_assert_cmpstr (sherd_photo_get_info (photo)->format, ==, "PNG");
  g_assert_cmpuint (sherd_photo_get_info (photo)->width_px, ==, 5);
  g_assert_cmpuint (sherd_photo_get_info (photo)->height_px, ==, 4);
}

static SherdPhoto *
open_made (void)
{
  const FixturePng fixture = { 9, 9, 8, PNG_COLOR_TYPE_RGB, FALSE, NULL, NULL };
  g_autofree guint16 *samples = fixture_samples (9, 9, 3, 8, 1);
  g_autoptr (GBytes) bytes = fixture_png (&fixture, samples);

  return sherd_photo_open_bytes (bytes, "made", NULL);
}

static void
test_same_row_again (void)
{
  g_autoptr (SherdPhoto) photo = open_made ();
  float first[27], second[27];
  guint8 flags[9];

  g_assert_true (sherd_photo_seek_row (photo, 4, NULL));
  sherd_photo_convert (photo, 0, 1, 9, first, flags);
  g_assert_true (sherd_photo_seek_row (photo, 4, NULL));
  sherd_photo_convert (photo, 0, 1, 9, second, flags);
  g_assert_cmpmem (first, sizeof first, second, sizeof second);
}

static void
test_programmers_mistakes (const char *what, void (*mistake) (SherdPhoto *photo))
{
  g_autoptr (SherdPhoto) photo = open_made ();

  g_test_expect_message ("sherdboard", G_LOG_LEVEL_CRITICAL, what);
  mistake (photo);
  g_test_assert_expected_messages ();
}

static void
go_back (SherdPhoto *photo)
{
  sherd_photo_seek_row (photo, 4, NULL);
  sherd_photo_seek_row (photo, 3, NULL);
}

static void
go_beyond (SherdPhoto *photo)
{
  sherd_photo_seek_row (photo, 9, NULL);
}

static void
convert_beyond_limit (SherdPhoto *photo)
{
  float linear[27];
  guint8 flags[9];

  sherd_photo_limit_columns (photo, 2, 5);
  sherd_photo_seek_row (photo, 0, NULL);
  sherd_photo_convert (photo, 2, 2, 3, linear, flags);
}

static void
limit_too_late (SherdPhoto *photo)
{
  sherd_photo_seek_row (photo, 0, NULL);
  sherd_photo_limit_columns (photo, 2, 5);
}

static void
test_mistakes_are_caught (void)
{
  test_programmers_mistakes ("*y_px >= photo->row_y_px*", go_back);
  test_programmers_mistakes ("*y_px < photo->info.height_px*", go_beyond);
  test_programmers_mistakes ("*x_px*", convert_beyond_limit);
  test_programmers_mistakes ("*has_row*", limit_too_late);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/photo/photo/refuses/missing", Place, NULL, set_up, test_refuses_missing, tear_down);
  g_test_add ("/photo/photo/refuses/folder", Place, NULL, set_up, test_refuses_folder, tear_down);
  g_test_add ("/photo/photo/refuses/empty", Place, NULL, set_up, test_refuses_empty, tear_down);
  g_test_add ("/photo/photo/refuses/text", Place, NULL, set_up, test_refuses_text, tear_down);
  g_test_add ("/photo/photo/refuses/unreadable", Place, NULL, set_up, test_refuses_unreadable, tear_down);
  g_test_add ("/photo/photo/content-not-name-decides", Place, NULL, set_up, test_content_not_name_decides, tear_down);
  g_test_add_func ("/photo/photo/same-row-again", test_same_row_again);
  g_test_add_func ("/photo/photo/mistakes-are-caught", test_mistakes_are_caught);
  return g_test_run ();
}
