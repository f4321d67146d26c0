/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "story.h"

#include <glib/gstdio.h>
#include <png.h>
#include <string.h>

void
run_clear (Run *run)
{
  g_clear_pointer (&run->out, g_free);
  g_clear_pointer (&run->err, g_free);
}

char *
story_folder_new (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp (NULL, &error);

  g_assert_no_error (error);
  return folder;
}

void
story_folder_remove (const char *folder)
{
  g_autoptr (GDir) entries = g_dir_open (folder, 0, NULL);
  const char *name;

  while (entries != NULL && (name = g_dir_read_name (entries)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (g_file_test (path, G_FILE_TEST_IS_DIR))
        story_folder_remove (path);
      else
        g_remove (path);
    }
  g_rmdir (folder);
}

Run
story_run_in_locale (const char *folder, const char *arguments, const char *locale)
{
  g_autofree char *line = g_strdup_printf ("%s %s", g_getenv ("SHERD_PROGRAM"), arguments);
  g_auto (GStrv) words = NULL;
  g_auto (GStrv) environment = g_get_environ ();
  g_autoptr (GError) error = NULL;
  int wait_status;
  Run run = { 0 };

  if (locale != NULL)
    environment = g_environ_setenv (environment, "LC_ALL", locale, TRUE);
  /* Words for people stay untranslated, so that what differs is the data. */
  environment = g_environ_setenv (environment, "LANGUAGE", "en", TRUE);
  g_assert_true (g_shell_parse_argv (line, NULL, &words, &error));
  g_assert_true (
    g_spawn_sync (folder, words, environment, G_SPAWN_DEFAULT, NULL, NULL, &run.out, &run.err, &wait_status, &error));
  g_assert_no_error (error);
  g_assert_true (WIFEXITED (wait_status));
  run.status = WEXITSTATUS (wait_status);
  return run;
}

Run
story_run_into (const char *folder, const char *arguments, const char *output)
{
  g_autofree char *line = g_strdup_printf ("\"$SHERD_PROGRAM\" %s >%s", arguments, output);
  const char *const words[] = { "/bin/sh", "-c", line, NULL };
  g_autoptr (GError) error = NULL;
  int wait_status;
  Run run = { 0 };

  g_assert_true (
    g_spawn_sync (folder, (char **)words, NULL, G_SPAWN_DEFAULT, NULL, NULL, &run.out, &run.err, &wait_status, &error));
  g_assert_no_error (error);
  g_assert_true (WIFEXITED (wait_status));
  run.status = WEXITSTATUS (wait_status);
  return run;
}

Run
story_run (const char *folder, const char *arguments)
{
  return story_run_in_locale (folder, arguments, NULL);
}

char *
story_run_well (const char *folder, const char *arguments)
{
  g_auto (Run) run = story_run (folder, arguments);

  g_assert_cmpstr (run.err, ==, "");
  g_assert_cmpint (run.status, ==, 0);
  return g_steal_pointer (&run.out);
}

SherdScene *
story_scene_new (const char *name)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "data", "rendered", name, NULL);
  g_autoptr (GError) error = NULL;
  SherdScene *scene = sherd_scene_load (folder, &error);

  g_assert_no_error (error);
  return scene;
}

/* A decimal point whatever the locale. */
static void
append_number (GString *line, double value)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (line, g_ascii_formatd (digits, sizeof digits, "%.6f", value));
}

static void
append_numbers (GString *line, const double *values, guint n_values, char separator)
{
  for (guint i = 0; i < n_values; i++)
    {
      if (i > 0)
        g_string_append_c (line, separator);
      append_number (line, values[i]);
    }
}

static void
append_corners (GString *line, const char *option, const SherdMark marks[4])
{
  g_string_append_printf (line, " --%s \"", option);
  for (guint i = 0; i < 4; i++)
    {
      append_numbers (line, (double[]){ marks[i].photo_px.x, marks[i].photo_px.y }, 2, ',');
      g_string_append_c (line, i < 3 ? ' ' : '"');
    }
}

/* The charts of the scenes are even grids; A1, A2 and B1 tell their pitch. */
static void
append_chart (GString *line, const SherdScene *scene, const SherdScenePhoto *photo)
{
  g_autofree char *folder = g_path_get_dirname (photo->path);
  const SherdPoint *first = scene->patches[0].outline_mm->points;
  const SherdPoint *right = scene->patches[1].outline_mm->points;
  const SherdPoint *below = scene->patches[4].outline_mm->points;
  double width_mm = first[2].x - first[0].x;
  double height_mm = first[2].y - first[0].y;

  g_string_append_printf (line, " --chart %s/chart.cgats --chart-grid 6x4 --chart-frame ", folder);
  append_numbers (line, (double[]){ photo->chart_marks[2].piece_mm.x, photo->chart_marks[2].piece_mm.y }, 2, 'x');
  g_string_append (line, " --chart-margin ");
  append_numbers (line, (double[]){ first[0].x, first[0].y }, 2, ',');
  g_string_append (line, " --chart-patch ");
  append_numbers (line, (double[]){ width_mm, height_mm }, 2, 'x');
  g_string_append (line, " --chart-gap ");
  append_numbers (line, (double[]){ right[0].x - first[0].x - width_mm, below[0].y - first[0].y - height_mm }, 2, ',');
  append_corners (line, "chart-corners", photo->chart_marks);
}

char *
story_dup_photograph_line (const SherdScene *scene, gsize photo, const char *stage)
{
  GString *line = g_string_new (NULL);

  g_string_append_printf (line, "photograph tile %s --stage \"%s\"", scene->photos[photo].path, stage);
  append_corners (line, "corners", scene->photos[photo].face_marks);
  append_chart (line, scene, &scene->photos[photo]);
  return g_string_free (line, FALSE);
}

static char *
dup_new_line (const SherdScene *scene)
{
  GString *line = g_string_new ("new tile --title \"A rendered tile\" --state fired --tile ");

  append_numbers (line, (double[]){ scene->width_mm, scene->height_mm }, 2, 'x');
  for (gsize i = 0; i < scene->n_zones; i++)
    {
      const char *code = scene->zones[i].code;
      const SherdPoint *corners = scene->zones[i].outline_mm->points;

      g_string_append_printf (line, " --paint \"%s=Paint, of “%s”\" --zone %s=", code, code, code);
      append_numbers (
        line, (double[]){ corners[0].x, corners[0].y, corners[2].x - corners[0].x, corners[2].y - corners[0].y }, 4,
        ',');
      g_string_append_printf (line, "=%s", code);
    }
  return g_string_free (line, FALSE);
}

void
story_tell (const char *folder, const SherdScene *scene)
{
  static const char *const stages[] = { "unfired", "after firing 1" };
  g_autofree char *new_line = dup_new_line (scene);
  g_autofree char *made = story_run_well (folder, new_line);

  g_assert_cmpstr (made, ==, "Made “tile.sherdboard”.\n");
  for (gsize i = 0; i < G_N_ELEMENTS (stages); i++)
    {
      g_autofree char *line = story_dup_photograph_line (scene, i, stages[i]);
      g_autofree char *added = story_run_well (folder, line);
      g_autofree char *expected = g_strdup_printf ("Added photograph photograph-%" G_GSIZE_FORMAT ".\n", i + 1);

      g_assert_cmpstr (added, ==, expected);
    }
}

JsonNode *
story_parse (const char *json)
{
  g_autoptr (GError) error = NULL;
  JsonNode *root = json_from_string (json, &error);

  g_assert_no_error (error);
  g_assert_true (JSON_NODE_HOLDS_OBJECT (root));
  return root;
}

void
story_write_png (const char *path, const guint8 *rgb, guint width_px, guint height_px)
{
  png_image image = { .version = PNG_IMAGE_VERSION, .width = width_px, .height = height_px, .format = PNG_FORMAT_RGB };

  g_assert_true (png_image_write_to_file (&image, path, FALSE, rgb, 0, NULL));
}
