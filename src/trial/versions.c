/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/versions.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "trial/durable.h"
#include "trial/error.h"
#include "trial/file.h"

/* The parts of "folder/NAME.sherdboard". */
typedef struct
{
  char *folder; /* NAME.versions */
  char *prefix; /* "NAME-" */
} Place;

static void
place_clear (Place *place)
{
  g_free (place->folder);
  g_free (place->prefix);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Place, place_clear)

static void
place_init (Place *place, const char *path)
{
  g_autofree char *stem = g_str_has_suffix (path, SHERD_TRIAL_SUFFIX)
                            ? g_strndup (path, strlen (path) - strlen (SHERD_TRIAL_SUFFIX))
                            : g_strdup (path);
  g_autofree char *base = g_path_get_basename (stem);

  place->folder = g_strconcat (stem, ".versions", NULL);
  place->prefix = g_strconcat (base, "-", NULL);
}

/* 0 when @name is no version. */
static guint64
version_number (const Place *place, const char *name)
{
  g_autofree char *digits = NULL;
  guint64 number = 0;
  gsize length;

  if (!g_str_has_prefix (name, place->prefix) || !g_str_has_suffix (name, SHERD_TRIAL_SUFFIX))
    return 0;
  length = strlen (name) - strlen (place->prefix);
  if (length <= strlen (SHERD_TRIAL_SUFFIX))
    return 0;
  digits = g_strndup (name + strlen (place->prefix), length - strlen (SHERD_TRIAL_SUFFIX));
  g_ascii_string_to_unsigned (digits, 10, 1, G_MAXINT32, &number, NULL);
  return number;
}

static char *
version_path (const Place *place, guint64 number)
{
  g_autofree char *name = g_strdup_printf ("%s%06" G_GUINT64_FORMAT SHERD_TRIAL_SUFFIX, place->prefix, number);

  return g_build_filename (place->folder, name, NULL);
}

static int
compare_descending (gconstpointer a, gconstpointer b)
{
  const guint64 first = *(const guint64 *)a, second = *(const guint64 *)b;

  return first > second ? -1 : first < second;
}

/* Numbers of the versions that are there, newest first. */
static GArray *
version_numbers (const Place *place)
{
  GArray *numbers = g_array_new (FALSE, FALSE, sizeof (guint64));
  g_autoptr (GDir) dir = g_dir_open (place->folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      const guint64 number = version_number (place, name);

      if (number > 0)
        g_array_append_val (numbers, number);
    }
  g_array_sort (numbers, compare_descending);
  return numbers;
}

/* A copy, not a second name of the same file: a program that writes into the trial's file would change both. It is on
 * the disk with its folder before the trial's file is replaced.
 */
static gboolean
copy_file (const char *source, const char *target, GError **error)
{
  g_autofree char *content = NULL;
  gsize length;

  return g_file_get_contents (source, &content, &length, error) && sherd_durable_write (target, content, length, error);
}

static gboolean
same_content (const char *first, const char *second)
{
  g_autofree char *a = NULL;
  g_autofree char *b = NULL;
  gsize a_length, b_length;

  return g_file_get_contents (first, &a, &a_length, NULL) && g_file_get_contents (second, &b, &b_length, NULL) &&
         a_length == b_length && memcmp (a, b, a_length) == 0;
}

/* The versions beyond @n_kept go. One that cannot be removed only takes room. */
static void
drop_oldest (const Place *place, GArray *numbers, guint n_kept)
{
  for (guint i = n_kept; i < numbers->len; i++)
    {
      g_autofree char *path = version_path (place, g_array_index (numbers, guint64, i));

      g_unlink (path);
    }
}

/**
 * sherd_versions_keep:
 * @path: a trial's file, about to be replaced
 * @n_kept: how many versions to keep
 * @error: place for an error
 *
 * Copies what lies at @path to its versions.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_SAVE when it could not be kept; TRUE when it was, is already, or there is
 * nothing
 */
gboolean
sherd_versions_keep (const char *path, guint n_kept, GError **error)
{
  g_auto (Place) place = { NULL, NULL };
  g_autoptr (GArray) numbers = NULL;
  g_autofree char *newest = NULL;
  g_autofree char *target = NULL;
  g_autoptr (GError) problem = NULL;
  guint64 number;

  if (!g_file_test (path, G_FILE_TEST_IS_REGULAR))
    return TRUE;
  place_init (&place, path);
  sherd_durable_clean_folder (place.folder);
  numbers = version_numbers (&place);
  number = numbers->len > 0 ? g_array_index (numbers, guint64, 0) : 0;
  newest = version_path (&place, number);
  if (number > 0 && same_content (newest, path))
    return TRUE;

  number++;
  target = version_path (&place, number);
  if (g_mkdir_with_parents (place.folder, 0777) != 0 || !copy_file (path, target, &problem))
    {
      const int code = errno;
      g_autofree char *name = g_filename_display_name (place.folder);

      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SAVE,
                   _ ("The state before could not be kept in “%s”: %s."), name,
                   problem != NULL ? problem->message : g_strerror (code));
      return FALSE;
    }
  g_array_prepend_val (numbers, number);
  drop_oldest (&place, numbers, n_kept);
  return TRUE;
}

/**
 * sherd_versions_list:
 * @path: a trial's file
 *
 * Returns: (transfer full): the paths of its kept versions, newest first
 */
GStrv
sherd_versions_list (const char *path)
{
  g_autoptr (GStrvBuilder) paths = g_strv_builder_new ();
  g_auto (Place) place = { NULL, NULL };
  g_autoptr (GArray) numbers = NULL;

  place_init (&place, path);
  numbers = version_numbers (&place);
  for (guint i = 0; i < numbers->len; i++)
    {
      g_autofree char *version = version_path (&place, g_array_index (numbers, guint64, i));

      g_strv_builder_add (paths, version);
    }
  return g_strv_builder_end (paths);
}
