/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opening and saving on a real file system, in a scratch folder. Pictures are made here; SHA-256 is checked against
 * GLib's over the file's bytes. */
#include "config.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "support.h"
#include "trial/durable.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/photo-file.h"
#include "trial/versions.h"

typedef struct
{
  char *folder;
  char *file; /* folder/clay.sherdboard */
  char *picture;
} Place;

static void
set_up (Place *place, gconstpointer data)
{
  place->folder = scratch_new ();
  place->file = scratch_path (place->folder, "clay.sherdboard");
  place->picture = scratch_path (place->folder, "after the rain.png");
  write_png (place->picture, 40, 30, 120);
}

static void
tear_down (Place *place, gconstpointer data)
{
  scratch_remove (place->folder);
  g_free (place->folder);
  g_free (place->file);
  g_free (place->picture);
}

/* A trial of its own without photographs, so that nothing is missing beside it. */
static SherdTrial *
plain_trial (void)
{
  SherdTrial *trial = sherd_trial_new ();

  g_assert_nonnull (sherd_trial_add_tile (trial, "T", 100, 60, 8, SHERD_CLAY_DRY, NULL));
  return trial;
}

static SherdPhotograph *
add_picture (SherdTrial *trial, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhotograph) photograph = sherd_photograph_new_from_file (path, &error);
  g_autoptr (SherdPiece) piece = g_list_model_get_item (sherd_trial_get_pieces (trial), 0);

  g_assert_no_error (error);
  g_assert_true (sherd_trial_add_photograph (trial, photograph, piece, sherd_piece_find_side_by_name (piece, "face"),
                                             "unfired", &error));
  g_assert_no_error (error);
  return photograph;
}

static void
save_as (SherdTrial *trial, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *remark = NULL;

  g_assert_true (sherd_trial_save_as (trial, path, &remark, &error));
  g_assert_no_error (error);
  g_assert_null (remark);
}

static void
save (SherdTrial *trial)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (sherd_trial_save (trial, SHERD_SAVE_NORMAL, NULL, &error));
  g_assert_no_error (error);
}

static SherdTrial *
load (const char *path)
{
  g_autoptr (GError) error = NULL;
  SherdTrial *trial = sherd_trial_load (path, &error);

  g_assert_no_error (error);
  return trial;
}

static char *
content (const char *path)
{
  char *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  return text;
}

static void
retitle (SherdTrial *trial, const char *title)
{
  sherd_trial_begin_edit (trial, "Change title");
  sherd_trial_set (trial, trial, "title", title);
  sherd_trial_end_edit (trial);
}

static guint
count_files (const char *folder, const char *ending)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    n += g_str_has_suffix (name, ending);
  return n;
}

static void
test_what_is_saved_is_what_is_loaded (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autofree char *bare_name = scratch_path (place->folder, "clay");
  g_autoptr (SherdTrial) again = NULL;
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;

  add_picture (trial, place->picture);
  save_as (trial, bare_name);
  g_assert_cmpstr (sherd_trial_get_path (trial), ==, place->file);
  g_assert_false (sherd_trial_get_modified (trial));
  again = load (place->file);
  first = sherd_trial_dup_text (trial, NULL);
  second = sherd_trial_dup_text (again, NULL);
  g_assert_cmpstr (first, ==, second);
}

static void
test_a_picture_is_copied_at_the_first_save (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  SherdPhotograph *photograph = add_picture (trial, place->picture);
  g_autofree char *before = sherd_trial_dup_photo_path (trial, photograph);
  g_autofree char *after = NULL;
  g_autofree char *bytes = NULL;
  g_autofree char *sha256 = NULL;
  g_autofree char *expected = NULL;
  gsize length;

  g_assert_cmpstr (before, ==, place->picture);
  save_as (trial, place->file);
  after = sherd_trial_dup_photo_path (trial, photograph);
  g_assert_true (g_file_get_contents (after, &bytes, &length, NULL));
  sha256 = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (guchar *)bytes, length);
  expected = g_strdup_printf ("%s/clay.photos/%.12s-after the rain.png", place->folder, sha256);
  g_assert_cmpstr (after, ==, expected);
  g_assert_cmpuint (sherd_photograph_get_size_bytes (photograph), ==, length);
  g_assert_cmpuint (sherd_photograph_get_width_px (photograph), ==, 40);

  g_unlink (place->picture);
  g_assert_true (sherd_trial_check_photo (trial, photograph, NULL));
}

static void
test_the_same_picture_is_stored_once (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autofree char *photos = scratch_path (place->folder, "clay.photos");

  add_picture (trial, place->picture);
  save_as (trial, place->file);
  add_picture (trial, place->picture);
  save (trial);
  g_assert_cmpuint (count_files (photos, ".png"), ==, 1);
}

static void
test_a_picture_that_is_gone_does_not_keep_the_rest_from_being_saved (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autoptr (GError) error = NULL;
  g_autofree char *remark = NULL;

  add_picture (trial, place->picture);
  g_unlink (place->picture);
  g_assert_true (sherd_trial_save_as (trial, place->file, &remark, &error));
  g_assert_nonnull (remark);
  g_assert_nonnull (strstr (remark, "after the rain.png"));
}

static void
test_a_picture_that_was_replaced_is_not_taken_for_the_old_one (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autoptr (GError) error = NULL;
  SherdPhotograph *photograph = add_picture (trial, place->picture);
  g_autofree char *remark = NULL;

  write_png (place->picture, 40, 30, 121);
  g_assert_false (sherd_trial_check_photo (trial, photograph, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO);
  g_assert_true (sherd_trial_save_as (trial, place->file, &remark, NULL));
  g_assert_nonnull (remark);
}

static void
test_saving_under_another_name_takes_the_pictures_along (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autofree char *other = scratch_path (place->folder, "copy.sherdboard");
  g_autofree char *old_photos = scratch_path (place->folder, "clay.photos");
  g_autofree char *path = NULL;
  SherdPhotograph *photograph = add_picture (trial, place->picture);

  save_as (trial, place->file);
  save_as (trial, other);
  scratch_remove (old_photos);
  path = sherd_trial_dup_photo_path (trial, photograph);
  g_assert_nonnull (strstr (path, "copy.photos"));
  g_assert_true (sherd_trial_check_photo (trial, photograph, NULL));
}

static void
test_an_undone_picture_comes_back_after_saving_elsewhere (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autofree char *other = scratch_path (place->folder, "copy.sherdboard");
  g_autoptr (SherdTrial) again = NULL;
  g_autoptr (SherdPhotograph) photograph = NULL;

  add_picture (trial, place->picture);
  save_as (trial, place->file);
  g_unlink (place->picture);
  sherd_trial_undo (trial);
  save_as (trial, other);
  sherd_trial_redo (trial);
  save (trial);
  again = load (other);
  photograph = g_list_model_get_item (sherd_trial_get_photographs (again), 0);
  g_assert_true (sherd_trial_check_photo (again, photograph, NULL));
}

static void
test_the_last_five_states_are_kept (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_auto (GStrv) versions = NULL;

  save_as (trial, place->file);
  for (guint i = 1; i <= 8; i++)
    {
      g_autofree char *title = g_strdup_printf ("state %u", i);

      retitle (trial, title);
      save (trial);
    }
  versions = sherd_versions_list (place->file);
  g_assert_cmpuint (g_strv_length (versions), ==, SHERD_TRIAL_VERSIONS_KEPT);
  for (guint i = 0; i < 5; i++)
    {
      g_autoptr (SherdTrial) version = load (versions[i]);
      g_autofree char *title = g_strdup_printf ("state %u", 7 - i);

      g_assert_cmpstr (sherd_trial_get_title (version), ==, title);
    }
}

/* An editor that writes into the file, instead of beside it, must not reach the versions. */
static void
test_writing_into_the_file_leaves_its_versions (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_auto (GStrv) versions = NULL;
  g_autofree char *before = NULL;
  g_autofree char *kept = NULL;
  FILE *file;

  save_as (trial, place->file);
  before = content (place->file);
  g_assert_true (sherd_versions_keep (place->file, SHERD_TRIAL_VERSIONS_KEPT, NULL));
  file = g_fopen (place->file, "r+");
  g_assert_cmpint (fputs ("scribble", file), >=, 0);
  g_assert_cmpint (fclose (file), ==, 0);
  versions = sherd_versions_list (place->file);
  kept = content (versions[0]);
  g_assert_cmpstr (kept, ==, before);
}

static void
test_a_version_finds_the_pictures_of_its_trial (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autoptr (SherdTrial) version = NULL;
  g_autoptr (SherdPhotograph) photograph = NULL;
  g_auto (GStrv) versions = NULL;

  add_picture (trial, place->picture);
  save_as (trial, place->file);
  g_unlink (place->picture);
  retitle (trial, "later");
  save (trial);
  versions = sherd_versions_list (place->file);
  version = load (versions[0]);
  photograph = g_list_model_get_item (sherd_trial_get_photographs (version), 0);
  g_assert_true (sherd_trial_check_photo (version, photograph, NULL));
}

static void
test_a_file_changed_by_another_program_is_not_overwritten (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autoptr (GError) error = NULL;
  g_autofree char *now = NULL;
  g_auto (GStrv) versions = NULL;
  g_autofree char *kept = NULL;

  save_as (trial, place->file);
  g_assert_true (g_file_set_contents (place->file, "somebody else's work", -1, NULL));
  retitle (trial, "mine");
  g_assert_false (sherd_trial_save (trial, SHERD_SAVE_NORMAL, NULL, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_CHANGED);
  g_assert_true (sherd_trial_get_modified (trial));
  now = content (place->file);
  g_assert_cmpstr (now, ==, "somebody else's work");

  g_assert_true (sherd_trial_save (trial, SHERD_SAVE_OVER_CHANGED, NULL, NULL));
  versions = sherd_versions_list (place->file);
  kept = content (versions[0]);
  g_assert_cmpstr (kept, ==, "somebody else's work");
  retitle (trial, "mine again");
  save (trial);
}

static void
test_a_file_that_was_deleted_is_written_again (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();

  save_as (trial, place->file);
  g_unlink (place->file);
  retitle (trial, "again");
  save (trial);
  g_assert_true (g_file_test (place->file, G_FILE_TEST_IS_REGULAR));
}

static void
test_a_link_is_followed_and_the_mode_is_kept (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autoptr (SherdTrial) linked = NULL;
  g_autofree char *link_path = scratch_path (place->folder, "link.sherdboard");
  struct stat status;

  save_as (trial, place->file);
  g_assert_cmpint (g_chmod (place->file, 0640), ==, 0);
  g_assert_cmpint (symlink ("clay.sherdboard", link_path), ==, 0);
  linked = load (link_path);
  retitle (linked, "through the link");
  save (linked);
  g_assert_true (g_file_test (link_path, G_FILE_TEST_IS_SYMLINK));
  g_assert_cmpint (stat (place->file, &status), ==, 0);
  g_assert_cmpuint (status.st_mode & 07777, ==, 0640);
  g_clear_object (&trial);
  trial = load (place->file);
  g_assert_cmpstr (sherd_trial_get_title (trial), ==, "through the link");
}

static void
test_left_overs_are_cleaned_and_files_in_use_are_not (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autofree char *left = scratch_path (place->folder, ".clay.sherdboard.00000001.sherdtmp");
  g_autofree char *used = scratch_path (place->folder, ".clay.sherdboard.00000002.sherdtmp");
  g_autofree char *foreign = scratch_path (place->folder, ".clay.sherdboard.tmp");
  int fd;

  g_assert_true (g_file_set_contents (left, "x", -1, NULL));
  g_assert_true (g_file_set_contents (used, "x", -1, NULL));
  g_assert_true (g_file_set_contents (foreign, "x", -1, NULL));
  fd = g_open (used, O_RDONLY | O_CLOEXEC, 0);
  g_assert_cmpint (flock (fd, LOCK_EX | LOCK_NB), ==, 0);
  save_as (trial, place->file);
  g_assert_false (g_file_test (left, G_FILE_TEST_EXISTS));
  g_assert_true (g_file_test (used, G_FILE_TEST_EXISTS));
  g_assert_true (g_file_test (foreign, G_FILE_TEST_EXISTS));
  close (fd);
}

static void
assert_not_opened (const char *path)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_trial_load (path, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_OPEN);
}

static void
test_what_is_no_file_is_not_opened (Place *place, gconstpointer data)
{
  g_autofree char *pipe_path = scratch_path (place->folder, "pipe");
  g_autofree char *huge = scratch_path (place->folder, "huge");

  assert_not_opened (place->file);
  assert_not_opened (place->folder);
  g_assert_cmpint (mkfifo (pipe_path, 0600), ==, 0);
  assert_not_opened (pipe_path);
  g_assert_true (g_file_set_contents (huge, "", -1, NULL));
  g_assert_cmpint (truncate (huge, (goffset)SHERD_TRIAL_MAX_BYTES + 1), ==, 0);
  assert_not_opened (huge);
}

static void
test_a_failed_save_keeps_the_trial_modified_and_its_file (Place *place, gconstpointer data)
{
  g_autoptr (SherdTrial) trial = plain_trial ();
  g_autoptr (GError) error = NULL;
  g_autofree char *nowhere = g_build_filename (place->folder, "no", "such", "folder.sherdboard", NULL);

  save_as (trial, place->file);
  retitle (trial, "more");
  g_assert_false (sherd_trial_save_as (trial, nowhere, NULL, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SAVE);
  g_assert_cmpstr (sherd_trial_get_path (trial), ==, place->file);
  g_assert_true (sherd_trial_get_modified (trial));
}

static void
test_names_of_pictures_are_safe_everywhere (Place *place, gconstpointer data)
{
  g_autofree char *sha256 = g_strnfill (64, 'c');
  g_autofree char *long_name = g_strnfill (400, 'x');
  g_autofree char *long_jpg = g_strconcat (long_name, ".jpg", NULL);
  g_autofree char *plain = sherd_photo_file_name (sha256, "Żółw 1.jpg");
  g_autofree char *nasty = sherd_photo_file_name (sha256, "../a:b\n.png");
  g_autofree char *cut = sherd_photo_file_name (sha256, long_jpg);

  g_assert_cmpstr (plain, ==, "cccccccccccc-Żółw 1.jpg");
  g_assert_cmpstr (nasty, ==, "cccccccccccc-.._a_b_.png");
  g_assert_cmpuint (strlen (cut), <, 200);
  g_assert_true (g_str_has_suffix (cut, ".jpg"));
  g_assert_true (sherd_photo_file_name_is_safe (plain));
  g_assert_false (sherd_photo_file_name_is_safe (""));
  g_assert_false (sherd_photo_file_name_is_safe (".."));
  g_assert_false (sherd_photo_file_name_is_safe ("a/b"));
  g_assert_false (sherd_photo_file_name_is_safe ("a\\b"));
}

static void
add (const char *name, void (*test) (Place *place, gconstpointer data))
{
  g_autofree char *path = g_strconcat ("/trial/file/", name, NULL);

  g_test_add (path, Place, NULL, set_up, test, tear_down);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  add ("what-is-saved-is-what-is-loaded", test_what_is_saved_is_what_is_loaded);
  add ("a-picture-is-copied-at-the-first-save", test_a_picture_is_copied_at_the_first_save);
  add ("the-same-picture-is-stored-once", test_the_same_picture_is_stored_once);
  add ("a-picture-that-is-gone-does-not-keep-the-rest-from-being-saved",
       test_a_picture_that_is_gone_does_not_keep_the_rest_from_being_saved);
  add ("a-picture-that-was-replaced-is-not-taken-for-the-old-one",
       test_a_picture_that_was_replaced_is_not_taken_for_the_old_one);
  add ("saving-under-another-name-takes-the-pictures-along", test_saving_under_another_name_takes_the_pictures_along);
  add ("an-undone-picture-comes-back-after-saving-elsewhere", test_an_undone_picture_comes_back_after_saving_elsewhere);
  add ("the-last-five-states-are-kept", test_the_last_five_states_are_kept);
  add ("writing-into-the-file-leaves-its-versions", test_writing_into_the_file_leaves_its_versions);
  add ("a-version-finds-the-pictures-of-its-trial", test_a_version_finds_the_pictures_of_its_trial);
  add ("changed-by-another-program-is-not-overwritten", test_a_file_changed_by_another_program_is_not_overwritten);
  add ("that-was-deleted-is-written-again", test_a_file_that_was_deleted_is_written_again);
  add ("a-link-is-followed-and-the-mode-is-kept", test_a_link_is_followed_and_the_mode_is_kept);
  add ("left-overs-are-cleaned-and-files-in-use-are-not", test_left_overs_are_cleaned_and_files_in_use_are_not);
  add ("what-is-no-file-is-not-opened", test_what_is_no_file_is_not_opened);
  add ("a-failed-save-keeps-the-trial-modified-and-its-file", test_a_failed_save_keeps_the_trial_modified_and_its_file);
  add ("names-of-pictures-are-safe-everywhere", test_names_of_pictures_are_safe_everywhere);
  return g_test_run ();
}
