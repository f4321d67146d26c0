/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/demo.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#define DEMO_NAME "demo"

/* Where the program's data lie: in the build tree, or installed. */
static char *
dup_demo_folder (void)
{
  const char *data_folder = g_getenv ("SHERD_DATA_DIR");

  return g_build_filename (data_folder != NULL ? data_folder : SHERD_PACKAGE_DATA_DIR, DEMO_NAME, NULL);
}

static gboolean
copy_file (const char *from_folder, const char *to_folder, const char *name, GError **error)
{
  g_autoptr (GFile) from = g_file_new_build_filename (from_folder, name, NULL);
  g_autoptr (GFile) to = g_file_new_build_filename (to_folder, name, NULL);

  return g_file_copy (from, to, G_FILE_COPY_OVERWRITE | G_FILE_COPY_TARGET_DEFAULT_PERMS, NULL, NULL, NULL, error);
}

static gboolean
copy_folder (const char *from_folder, const char *to_folder, GError **error)
{
  g_autoptr (GDir) folder = g_dir_open (from_folder, 0, error);
  const char *name;

  if (folder == NULL)
    return FALSE;
  if (g_mkdir_with_parents (to_folder, 0755) != 0)
    {
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_FAILED, _ ("The folder “%s” could not be made."), to_folder);
      return FALSE;
    }
  while ((name = g_dir_read_name (folder)) != NULL)
    if (!copy_file (from_folder, to_folder, name, error))
      return FALSE;
  return TRUE;
}

/**
 * sherd_demo_copy:
 * @error: of the file system
 *
 * Copies the demo trial and its photographs into the user's cache, so that it can be tried out and thrown away.
 *
 * Returns: (transfer full) (type filename): path of the copy
 */
char *
sherd_demo_copy (GError **error)
{
  g_autofree char *demo_folder = dup_demo_folder ();
  g_autofree char *target = g_build_filename (g_get_user_cache_dir (), "sherdboard", DEMO_NAME, NULL);
  g_autofree char *photos_from = g_build_filename (demo_folder, DEMO_NAME ".photos", NULL);
  g_autofree char *photos_to = g_build_filename (target, DEMO_NAME ".photos", NULL);

  if (!copy_folder (photos_from, photos_to, error) || !copy_file (demo_folder, target, DEMO_NAME ".sherdboard", error))
    {
      g_prefix_error (error, _ ("The demo trial is not installed with this program. "));
      return NULL;
    }
  return g_build_filename (target, DEMO_NAME ".sherdboard", NULL);
}
