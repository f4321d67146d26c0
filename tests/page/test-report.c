/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The printed results of the rendered tile, read back by poppler's tools: a program that is not ours. A4 is
 * 210 × 297 mm (ISO 216). */
#include "config.h"

#include "page/report.h"

#include <math.h>
#include <png.h>
#include <string.h>

#include "../batch/story.h"
#include "page/paper.h"

#define PX_PER_MM 5.0
#define RASTERISE "pdftoppm -scale-to-x 1050 -scale-to-y 1485 -gray -png r.pdf page"
#define EDGE_MM 15.0
/* The rim of a stroke and the smoothing of an edge reach this far out. */
#define EDGE_TOLERANCE_MM 0.4

typedef struct
{
  char *folder;
  SherdScene *scene;
} Fixture;

/* FALSE and skipped when the machine has no poppler. */
static gboolean
can_read_pdf (void)
{
  static const char *const tools[] = { "pdfinfo", "pdffonts", "pdftotext", "pdftoppm" };

  for (gsize i = 0; i < G_N_ELEMENTS (tools); i++)
    {
      g_autofree char *path = g_find_program_in_path (tools[i]);

      if (path == NULL)
        {
          g_test_skip ("poppler's tools are not installed.");
          return FALSE;
        }
    }
  return TRUE;
}

static void
set_up (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *measured = NULL;

  fixture->folder = story_folder_new ();
  fixture->scene = story_scene_new ("white_clay");
  story_tell (fixture->folder, fixture->scene);
  measured = story_run_well (fixture->folder, "measure tile");
}

static void
tear_down (Fixture *fixture, gconstpointer user_data)
{
  story_folder_remove (fixture->folder);
  sherd_scene_free (fixture->scene);
  g_free (fixture->folder);
}

static void
print_page (Fixture *fixture)
{
  g_autofree char *table = story_run_well (fixture->folder, "compare tile --pdf r.pdf");

  g_assert_cmpstr (table, !=, "");
}

static char *
run_tool (Fixture *fixture, const char *line)
{
  g_auto (GStrv) words = g_strsplit (line, " ", -1);
  char *out = NULL;
  g_autofree char *err = NULL;
  int wait_status;

  g_assert_true (
    g_spawn_sync (fixture->folder, words, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err, &wait_status, NULL));
  g_assert_cmpint (wait_status, ==, 0);
  g_assert_cmpstr (err, ==, "");
  return out;
}

static void
test_the_page_is_a4 (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *info = NULL;
  const char *size;
  double width_pt;
  double height_pt;
  char *end;

  if (!can_read_pdf ())
    return;
  print_page (fixture);
  info = run_tool (fixture, "pdfinfo r.pdf");
  size = strstr (info, "Page size:");
  g_assert_nonnull (size);
  width_pt = g_ascii_strtod (size + strlen ("Page size:"), &end);
  g_assert_true (g_str_has_prefix (end, " x "));
  height_pt = g_ascii_strtod (end + 3, NULL);
  g_assert_cmpfloat_with_epsilon (width_pt, 210.0 / 25.4 * 72.0, 0.01);
  g_assert_cmpfloat_with_epsilon (height_pt, 297.0 / 25.4 * 72.0, 0.01);
  g_assert_nonnull (strstr (info, "Title:           A rendered tile\n"));
}

static void
test_every_font_is_in_the_file (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *fonts = NULL;
  g_auto (GStrv) lines = NULL;
  gsize column;

  if (!can_read_pdf ())
    return;
  print_page (fixture);
  fonts = run_tool (fixture, "pdffonts r.pdf");
  lines = g_strsplit (g_strchomp (fonts), "\n", -1);
  g_assert_cmpuint (g_strv_length (lines), >=, 3);
  g_assert_nonnull (strstr (lines[0], "emb sub uni"));
  column = (gsize)(strstr (lines[0], "emb sub uni") - lines[0]);
  for (guint i = 2; lines[i] != NULL; i++)
    g_assert_true (g_str_has_prefix (lines[i] + column, "yes"));
}

static void
test_every_zone_and_its_paint_is_named (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *words = NULL;

  if (!can_read_pdf ())
    return;
  print_page (fixture);
  words = run_tool (fixture, "pdftotext -layout r.pdf -");
  g_assert_nonnull (strstr (words, "A rendered tile"));
  g_assert_nonnull (strstr (words, "Tile 1, Face: from “Unfired” to “After firing 1”"));
  for (gsize i = 0; i < fixture->scene->n_zones; i++)
    {
      const char *code = fixture->scene->zones[i].code;
      g_autofree char *row = g_strdup_printf ("\n%s +%s Paint, of “%s” ", code, code, code);

      g_assert_true (g_regex_match_simple (row, words, 0, 0));
    }
  g_assert_null (strstr (words, "…"));
}

/* One page in grey, 0 is black. */
typedef struct
{
  png_image image;
  guint8 *grey;
} Raster;

static void
raster_read (Raster *raster, const char *path)
{
  raster->image = (png_image){ .version = PNG_IMAGE_VERSION };
  g_assert_true (png_image_begin_read_from_file (&raster->image, path));
  raster->image.format = PNG_FORMAT_GRAY;
  raster->grey = g_malloc (PNG_IMAGE_SIZE (raster->image));
  g_assert_true (png_image_finish_read (&raster->image, NULL, raster->grey, 0, NULL));
}

static gboolean
has_ink (const Raster *raster, double x_mm, double y_mm, double width_mm, double height_mm)
{
  guint left = (guint)lround (x_mm * PX_PER_MM), right = (guint)lround ((x_mm + width_mm) * PX_PER_MM);
  guint top = (guint)lround (y_mm * PX_PER_MM), bottom = (guint)lround ((y_mm + height_mm) * PX_PER_MM);

  for (guint y = top; y < MIN (bottom, raster->image.height); y++)
    for (guint x = left; x < MIN (right, raster->image.width); x++)
      if (raster->grey[(gsize)y * raster->image.width + x] < 250)
        return TRUE;
  return FALSE;
}

/* The footer stands in the lower edge by design, the rest of the edge is bare. */
static void
assert_edge_is_bare (const Raster *raster)
{
  const double bare_mm = EDGE_MM - EDGE_TOLERANCE_MM;

  g_assert_false (has_ink (raster, 0, 0, SHERD_A4_WIDTH_MM, bare_mm));
  g_assert_false (has_ink (raster, 0, 0, bare_mm, SHERD_A4_HEIGHT_MM));
  g_assert_false (has_ink (raster, SHERD_A4_WIDTH_MM - bare_mm, 0, bare_mm, SHERD_A4_HEIGHT_MM));
  g_assert_false (has_ink (raster, 0, SHERD_A4_HEIGHT_MM - 8.0, SHERD_A4_WIDTH_MM, 8.0));
  g_assert_true (has_ink (raster, EDGE_MM, EDGE_MM, SHERD_A4_WIDTH_MM - 2 * EDGE_MM, 20.0));
}

static void
test_nothing_is_printed_outside_the_edge (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "page-1.png", NULL);
  g_autofree char *printed = NULL;
  Raster raster;

  if (!can_read_pdf ())
    return;
  print_page (fixture);
  printed = run_tool (fixture, RASTERISE);
  raster_read (&raster, path);
  g_assert_cmpuint (raster.image.width, ==, (guint)(SHERD_A4_WIDTH_MM * PX_PER_MM));
  g_assert_cmpuint (raster.image.height, ==, (guint)(SHERD_A4_HEIGHT_MM * PX_PER_MM));
  assert_edge_is_bare (&raster);
  g_free (raster.grey);
}

/* A line across the page 45 mm down: each picture fills its 87 mm, and 6 mm of paper part them. */
static void
test_both_pictures_are_printed_side_by_side (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "page-1.png", NULL);
  g_autofree char *printed = NULL;
  Raster raster;

  if (!can_read_pdf ())
    return;
  print_page (fixture);
  printed = run_tool (fixture, RASTERISE);
  raster_read (&raster, path);
  for (guint x = 0; x < raster.image.width; x++)
    {
      guint8 grey = raster.grey[(gsize)(45.0 * PX_PER_MM) * raster.image.width + x];
      double x_mm = x / PX_PER_MM;

      if ((x_mm > 15.5 && x_mm < 101.5) || (x_mm > 108.5 && x_mm < 194.5))
        g_assert_cmpuint (grey, <, 250);
      else if (x_mm > 102.5 && x_mm < 107.5)
        g_assert_cmpuint (grey, ==, 255);
    }
  g_free (raster.grey);
}

static void
test_a_lost_picture_leaves_a_note (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *pictures = g_build_filename (fixture->folder, "tile.photos", NULL);
  g_autofree char *words = NULL;

  if (!can_read_pdf ())
    return;
  story_folder_remove (pictures);
  print_page (fixture);
  words = run_tool (fixture, "pdftotext r.pdf -");
  g_assert_nonnull (strstr (words, "before.jpg"));
  g_assert_nonnull (strstr (words, "after.jpg"));
  g_assert_nonnull (strstr (words, " ± "));
}

static void
test_a_page_that_cannot_be_written_is_told (Fixture *fixture, gconstpointer user_data)
{
  g_auto (Run) run = story_run (fixture->folder, "compare tile --pdf nowhere/r.pdf");

  g_assert_cmpint (run.status, ==, 1);
  g_assert_nonnull (strstr (run.err, "“nowhere/r.pdf”"));
}

/* A tile of 12 × 8 zones does not fit one sheet. */
static void
test_many_zones_turn_the_page (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *made = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autofree char *measured = NULL;
  g_autofree char *printed = NULL;
  g_autofree char *rastered = NULL;
  g_autofree char *second = g_build_filename (fixture->folder, "page-2.png", NULL);
  g_autofree char *line = NULL;
  g_autofree char *words = NULL;
  Raster raster;

  if (!can_read_pdf ())
    return;
  made = story_run_well (
    fixture->folder, "new tile --force --tile 225.3x75.4x8 --zones 8x12 --margin 3 --gap 2 --paint P=Paint --fill P");
  line = story_dup_photograph_line (fixture->scene, 0, "unfired");
  before = story_run_well (fixture->folder, line);
  g_clear_pointer (&line, g_free);
  line = story_dup_photograph_line (fixture->scene, 1, "after firing 1");
  after = story_run_well (fixture->folder, line);
  measured = story_run_well (fixture->folder, "measure tile");
  printed = story_run_well (fixture->folder, "compare tile --pdf r.pdf");
  words = run_tool (fixture, "pdftotext -layout r.pdf -");
  g_assert_true (g_regex_match_simple ("\nH12 +P Paint ", words, 0, 0));
  rastered = run_tool (fixture, RASTERISE);
  raster_read (&raster, second);
  assert_edge_is_bare (&raster);
  g_free (raster.grey);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function) g_test_add ("/page/report/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("the-page-is-a4", test_the_page_is_a4);
  ADD ("every-font-is-in-the-file", test_every_font_is_in_the_file);
  ADD ("every-zone-and-its-paint-is-named", test_every_zone_and_its_paint_is_named);
  ADD ("nothing-is-printed-outside-the-edge", test_nothing_is_printed_outside_the_edge);
  ADD ("both-pictures-are-printed-side-by-side", test_both_pictures_are_printed_side_by_side);
  ADD ("a-lost-picture-leaves-a-note", test_a_lost_picture_leaves_a_note);
  ADD ("a-page-that-cannot-be-written-is-told", test_a_page_that_cannot_be_written_is_told);
  ADD ("many-zones-turn-the-page", test_many_zones_turn_the_page);
#undef ADD
  return g_test_run ();
}
