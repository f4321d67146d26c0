/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "support.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <png.h>
#include <string.h>

#include "trial/edits.h"
#include "trial/file.h"
#include "trial/inputs.h"
#include "trial/trial-private.h"

static void
append (GListModel *list, gpointer part)
{
  g_list_store_append (G_LIST_STORE (list), part);
  g_object_unref (part);
}

/* Every member of a material, each at something else than what an absent one stands for. */
static void
add_materials (SherdTrial *trial)
{
  static const char *const hazards[] = { "copper", "silica dust", NULL };
  g_autoptr (SherdAnalysis) analysis = sherd_analysis_new ();
  SherdMaterial *ash = sherd_material_new ("material-1", NULL);

  sherd_analysis_add (analysis, "CaO", 34.5, 0.75, NULL);
  sherd_analysis_add (analysis, "SiO2", 40.25, NAN, NULL);
  g_object_set (ash, "name", "Alder ash", "kind", SHERD_MATERIAL_FLUX, "formula", "CaCO3", "analysis", analysis,
                "loss-pct", 24.5, "loss-doubt-pct", 0.5, "particle-density-g-cm3", 2.6, "bulk-density-g-cm3", 0.55,
                "spoon-g", 2.9, "spoon-ml", 5.0, "colour", "grey", "fired-colour", "buff", "hazards", hazards,
                "purity-pct", 80.0, "purity-doubt-pct", 5.0, "rest", SHERD_REST_LIME, "place", "the marsh", NULL);
  g_object_set (ash, "lot", "2", "grinding-min", 20.0, "sieve-um", 63.0, "washing", "three times", "price-per-kg", 4.5,
                "currency", "crowns", "stock-g", 0.0, "note", "from\nthe stove", "source", "a handbook", "origin",
                "wood_ash", "softens-from-c", 600.0, "softens-to-c", 650.0, "flows-from-c", 700.0, "flows-to-c", 750.0,
                "heating", "chars, then sinters", NULL);
  append (sherd_trial_get_materials (trial), ash);
  append (sherd_trial_get_materials (trial), g_object_new (SHERD_TYPE_MATERIAL, "id", "material-2", "name",
                                                           "Cherry gum", "kind", SHERD_MATERIAL_BINDER, NULL));
}

/* The black has been fired, and changed since. */
static void
mix_black (SherdPaint *black)
{
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  g_autoptr (SherdRevisions) earlier = sherd_revisions_new ();

  recipe->basis = SHERD_BASIS_VOLUME;
  sherd_recipe_insert_material (recipe, 0, "material-1", 2.0, "2");
  sherd_recipe_insert_paint (recipe, 1, "paint-2", 1.0 / 3.0, "1/3");
  sherd_recipe_set_binder (recipe, "material-2", 5.0);
  recipe->water_pct = 60.0;
  g_object_set (black, "recipe", recipe, "batch-g", 50.0, "revision", 2, NULL);
  recipe->ingredients[1].revision = 1;
  sherd_recipe_set_parts (recipe, 0, 3.0, NULL);
  sherd_revisions_append (earlier, 1, "2025-03-05T06:07:08Z", recipe, NULL);
  g_object_set (black, "earlier", earlier, NULL);
}

static void
add_paints (SherdTrial *trial)
{
  SherdPaint *black = sherd_paint_new ("paint-1", "KM", "crow black");
  SherdPaint *red = sherd_paint_new ("paint-2", "RU 2", "fox red “two”");

  g_object_set (black, "note", "first line\n\tsecond\\line", NULL);
  g_object_set (red, "kind", SHERD_PAINT_SLIP, NULL);
  mix_black (black);
  append (sherd_trial_get_paints (trial), black);
  append (sherd_trial_get_paints (trial), red);
}

static SherdZone *
zone_at (const char *id, const char *code, double x_mm, double y_mm)
{
  return sherd_zone_new (id, code, &(SherdRectangle){ x_mm, y_mm, 20.1, 12.3 });
}

static void
add_zones (SherdTrial *trial, SherdSide *face)
{
  static const SherdPoint corners[] = { { 60, 10 }, { 80.5, 10 }, { 80.5, 30.25 }, { 70, 22 } };
  g_autoptr (SherdOutline) polygon = sherd_outline_new (corners, G_N_ELEMENTS (corners));
  SherdZone *first = zone_at ("zone-1", "A1", 5.1, 5.2);
  SherdZone *second = zone_at ("zone-2", "A2", 30, 5.2);
  SherdZone *third = zone_at ("zone-3", "A3", 0, 0);
  GListModel *zones = sherd_side_get_zones (face);

  g_object_set (first, "paint", sherd_trial_find_paint (trial, "paint-1"), "coats", 2, "paint-revision", 1, NULL);
  g_object_set (second, "paint", sherd_trial_find_paint (trial, "paint-2"), "replicate", 3, "ground", "white slip",
                "locked", TRUE, NULL);
  g_object_set (third, "polygon", polygon, NULL);
  append (zones, first);
  append (zones, second);
  append (zones, third);
}

static void
add_piece (SherdTrial *trial)
{
  SherdPiece *piece = sherd_piece_new ("piece-1", "Tile 1", 100, 60, 8);
  SherdSide *face = sherd_side_new ("side-1", "face");

  g_object_set (piece, "state", SHERD_CLAY_DRY, NULL);
  g_object_set (face, "ground", "buff body, burnished", NULL);
  add_zones (trial, face);
  append (sherd_piece_get_sides (piece), face);
  append (sherd_piece_get_sides (piece), sherd_side_new ("side-2", "back"));
  append (sherd_trial_get_pieces (trial), piece);
}

SherdChart *
example_chart_new (guint n_rows, guint n_columns)
{
  SherdChart *chart = sherd_chart_new ("invented chart");

  for (guint row = 0; row < n_rows; row++)
    for (guint column = 0; column < n_columns; column++)
      {
        g_autofree char *name = g_strdup_printf ("%c%02u", 'A' + (int)row, column + 1);

        sherd_chart_add (chart, name, &(SherdLab){ 20.0 + 10.0 * row, 5.0 * column, 0.1 * (row + column) });
      }
  return chart;
}

static SherdPiece *
new_piece_of_form (const char *id, const char *name, SherdPieceKind kind, double thickness_mm, const SherdForm *form)
{
  return g_object_new (SHERD_TYPE_PIECE, "id", id, "name", name, "kind", kind, "thickness-mm", thickness_mm, "form",
                       form, "painted-state", SHERD_CLAY_DRY, "bar-leather-hard-mm", 100.0, "bar-dry-mm", 95.5,
                       "bar-fired-mm", 94.0, "drying-pct", 5.0, "drying-doubt-pct", 1.0, "firing-pct", 1.5,
                       "firing-doubt-pct", 0.5, NULL);
}

/* With two zones, one of them drawn. */
static void
add_bowl (SherdTrial *trial)
{
  const SherdProfilePoint wall[] = { { 30, 0, TRUE }, { 55, 25, FALSE }, { 65, 60, FALSE } };
  const SherdProfilePoint hollow[] = { { 65, 60, FALSE }, { 50, 25, FALSE }, { 0, 7, FALSE } };
  const SherdRange range = { 10, 70, 5, 30 }, round_triangle = { 80, 120, 5, 30 };
  const SherdPoint drawn[] = { { 80, 5 }, { 120, 5 }, { 100, 30 } };
  g_autoptr (SherdOutline) triangle = sherd_outline_new (drawn, G_N_ELEMENTS (drawn));
  g_autoptr (SherdForm) form = sherd_form_new ();
  SherdSide *outside = sherd_side_new ("side-1", "outside");
  SherdZone *zone = sherd_zone_new_range ("zone-5", "A2", &round_triangle);
  SherdPiece *bowl;

  sherd_form_set_outside (form, wall, G_N_ELEMENTS (wall));
  sherd_form_set_inside (form, hollow, G_N_ELEMENTS (hollow));
  form->floor_mm = 7;
  bowl = new_piece_of_form ("piece-2", "Bowl 2", SHERD_PIECE_VESSEL, 5, form);
  append (sherd_side_get_zones (outside), sherd_zone_new_range ("zone-4", "A1", &range));
  g_object_set (outside, "burnish", SHERD_BURNISH_OVER, "drying-days", 2.5, NULL);
  g_object_set (zone, "polygon", triangle, "laid-g", 0.75, "laid-doubt-g", 0.05, NULL);
  append (sherd_side_get_zones (outside), zone);
  append (sherd_piece_get_sides (bowl), outside);
  append (sherd_trial_get_pieces (trial), bowl);
}

static void
add_pierced_sherd (SherdTrial *trial)
{
  const SherdPoint edge[] = { { 0, 10 }, { 40, 0 }, { 60, 35 }, { 20, 50 } };
  const SherdHole hole = { 35, 25, 6 };
  g_autoptr (SherdOutline) outline = sherd_outline_new (edge, G_N_ELEMENTS (edge));
  g_autoptr (SherdForm) form = sherd_form_new ();
  SherdPiece *sherd;

  sherd_form_set_edge (form, outline);
  sherd_form_set_holes (form, &hole, 1);
  sherd = new_piece_of_form ("piece-3", "Sherd 3", SHERD_PIECE_SHERD, 6, form);
  append (sherd_piece_get_sides (sherd), sherd_side_new ("side-1", "face"));
  append (sherd_trial_get_pieces (trial), sherd);
}

static void
add_photograph (SherdTrial *trial, const char *id, const char *stage, const char *sha_digit)
{
  static const SherdMark marks[] = { { { 0, 0 }, { 100.25, 80 } },
                                     { { 100, 0 }, { 900, 82.1 } },
                                     { { 100, 60 }, { 905, 560 } },
                                     { { 0, 60 }, { 95, 555 } } };
  static const SherdMark chart_marks[] = {
    { { 0, 0 }, { 1000, 80 } }, { { 40, 0 }, { 1400, 82 } }, { { 40, 60 }, { 1405, 660 } }, { { 0, 60 }, { 995, 655 } }
  };
  SherdChartLayout layout;
  g_autoptr (SherdChart) chart = example_chart_new (6, 4);
  g_autoptr (SherdReference) reference = NULL;
  g_autoptr (SherdMarks) face = sherd_marks_new (marks, G_N_ELEMENTS (marks));
  g_autoptr (SherdMarks) frame = sherd_marks_new (chart_marks, G_N_ELEMENTS (chart_marks));
  g_autoptr (GString) sha256 = g_string_new (NULL);
  g_autofree char *file = NULL;
  SherdPiece *piece = example_piece (trial);

  for (guint i = 0; i < 64; i++)
    g_string_append (sha256, sha_digit);
  file = g_strdup_printf ("%.12s-%s.png", sha256->str, id);
  sherd_chart_layout_init_plain (&layout, 6, 4);
  reference = sherd_reference_new_chart (chart, &layout, NULL);
  append (sherd_trial_get_photographs (trial),
          g_object_new (SHERD_TYPE_PHOTOGRAPH, "id", id, "piece", piece, "side", example_face (trial), "stage", stage,
                        "file", file, "sha256", sha256->str, "size-bytes", (guint64)123456, "original-name", "dawn.png",
                        "width-px", 1600, "height-px", 1200, "marks", face, "mark-sd-px", 0.7, "reference", reference,
                        "reference-marks", frame, "camera", "box", "taken", "2025-03-04T05:06:07", "focal-35mm", 50.0,
                        "exposure-s", 0.004, "f-number", 5.6, "iso", 200.0, "note", "by the barn", NULL));
}

static void
fill_numbers (double *numbers, gsize n, double first)
{
  for (gsize i = 0; i < n; i++)
    numbers[i] = first + (double)i / 7.0;
}

static void
fill_zone (SherdZoneColour *zone, guint index, const char *id, const char *code)
{
  double *const triples[] = { &zone->lab.l, &zone->lower_95.l, &zone->upper_95.l, &zone->pixel_sd.l, &zone->ground.l };
  double *const matrices[] = { &zone->covariance[0][0], &zone->scatter[0][0], &zone->reference[0][0],
                               &zone->registration[0][0], &zone->light[0][0] };

  zone->id = g_strdup (id);
  zone->code = g_strdup (code);
  for (guint i = 0; i < G_N_ELEMENTS (triples); i++)
    fill_numbers (triples[i], 3, 10.0 * index + i);
  for (guint i = 0; i < G_N_ELEMENTS (matrices); i++)
    fill_numbers (matrices[i], 9, 0.01 * (i + 1));
  zone->n_pixels = 1000 + index;
  zone->n_glare = 11;
  zone->n_shadow = 12;
  zone->n_clipped = 13;
  zone->n_ground = 14;
  zone->retained_frac = 0.9 + 0.01 * index;
  zone->px_per_mm = 8.0 / 3.0;
}

SherdPhotoMeasurement *
example_measurement_result (void)
{
  SherdPhotoMeasurement *result = g_new0 (SherdPhotoMeasurement, 1);

  result->n_zones = 3;
  result->zones = g_new0 (SherdZoneColour, 3);
  fill_zone (&result->zones[0], 0, "zone-1", "A1");
  fill_zone (&result->zones[1], 1, "zone-2", "A2");
  fill_zone (&result->zones[2], 2, "zone-3", "A3");
  result->zones[1].flags = (1u << 7) - 1;
  result->zones[1].lab = (SherdLab){ NAN, NAN, NAN };
  result->n_patches = 2;
  result->patches = g_new0 (SherdPatchError, 2);
  fill_numbers (&result->patches[0].lab.l, 3, 50);
  fill_numbers (&result->patches[0].error.l, 3, -0.3);
  result->patches[0].usable = TRUE;
  result->correction.model = SHERD_CORRECTION_ROOT_POLYNOMIAL;
  fill_numbers (&result->correction.matrix[0][0], 18, 0.1);
  fill_numbers (&result->correction.covariance[0][0], 9, 0.2);
  result->correction.n_pairs = 24;
  result->correction.loo_mean_de00 = 0.8;
  result->correction.loo_median_de00 = 0.7;
  result->correction.loo_max_de00 = 2.1;
  result->correction.loo_worst = 5;
  result->residual_rms_px = 0.4;
  result->residual_rms_mm = 0.05;
  result->uneven_frac = 0.31;
  result->reference_clipped_frac = 0.001;
  result->warnings = g_strsplit ("light came from one side|nothing else", "|", -1);
  return result;
}

static void
add_measurement (SherdTrial *trial)
{
  SherdPhotograph *photograph = example_photograph (trial, 0);
  g_autofree char *inputs = sherd_inputs_dup_sha256 (photograph);

  append (sherd_trial_get_measurements (trial),
          sherd_measurement_new ("measurement-1", photograph, inputs, "0.1.0", "2025-03-04T05:06:07Z",
                                 example_measurement_result ()));
}

SherdTrial *
example_trial_new (void)
{
  SherdTrial *trial = sherd_trial_new ();

  g_object_set (trial, "title", "Marsh clay, winter", "notes", "ash from alder", "seed", (guint64)42, NULL);
  add_materials (trial);
  add_paints (trial);
  add_piece (trial);
  add_bowl (trial);
  add_pierced_sherd (trial);
  add_photograph (trial, "photograph-1", "unfired", "a");
  add_photograph (trial, "photograph-2", "after firing 1, after rubbing", "b");
  add_measurement (trial);
  sherd_trial_settle (trial);
  return trial;
}

char *
example_trial_dup_text (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();

  return sherd_trial_dup_text (trial, NULL);
}

SherdPiece *
example_piece (SherdTrial *trial)
{
  return sherd_trial_find_piece (trial, "piece-1");
}

SherdSide *
example_face (SherdTrial *trial)
{
  return sherd_piece_find_side_by_name (example_piece (trial), "face");
}

SherdZone *
example_zone (SherdTrial *trial, const char *code)
{
  return sherd_side_find_zone_by_code (example_face (trial), code);
}

SherdPhotograph *
example_photograph (SherdTrial *trial, guint index)
{
  g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (sherd_trial_get_photographs (trial), index);

  return photograph;
}

static void
copy_items (GListModel *list, GPtrArray *items)
{
  g_ptr_array_set_size (items, 0);
  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    g_ptr_array_add (items, g_list_model_get_item (list, i));
}

static void
items_changed_cb (GListModel *list, guint position, guint n_removed, guint n_added, GPtrArray *before)
{
  g_autoptr (GPtrArray) after = g_ptr_array_new_with_free_func (g_object_unref);

  copy_items (list, after);
  g_assert_cmpuint (n_removed + n_added, >, 0);
  g_assert_cmpuint (position + n_removed, <=, before->len);
  g_assert_cmpuint (before->len - n_removed + n_added, ==, after->len);
  for (guint i = 0; i < position; i++)
    g_assert_true (g_ptr_array_index (before, i) == g_ptr_array_index (after, i));
  for (guint i = position + n_removed; i < before->len; i++)
    g_assert_true (g_ptr_array_index (before, i) == g_ptr_array_index (after, i - n_removed + n_added));
  copy_items (list, before);
}

void
list_watch (GListModel *list)
{
  GPtrArray *items = g_ptr_array_new_with_free_func (g_object_unref);

  copy_items (list, items);
  g_signal_connect_data (list, "items-changed", G_CALLBACK (items_changed_cb), items,
                         (GClosureNotify)(GCallback)g_ptr_array_unref, 0);
}

char *
scratch_new (void)
{
  GError *error = NULL;
  char *folder = g_dir_make_tmp (NULL, &error);

  g_assert_no_error (error);
  return folder;
}

void
scratch_remove (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        scratch_remove (path);
      else
        g_unlink (path);
    }
  g_rmdir (folder);
}

char *
scratch_path (const char *folder, const char *name)
{
  return g_build_filename (folder, name, NULL);
}

void
write_png (const char *path, guint width_px, guint height_px, guint8 shade)
{
  g_autofree guint8 *pixels = g_malloc (3u * width_px * height_px);
  png_image image = { .version = PNG_IMAGE_VERSION, .width = width_px, .height = height_px, .format = PNG_FORMAT_RGB };

  memset (pixels, shade, 3u * width_px * height_px);
  g_assert_true (png_image_write_to_file (&image, path, 0, pixels, 0, NULL));
}

char *
shared_path_or_skip (const char *name)
{
  const char *shared = g_getenv ("SHERD_SHARED_DIR");
  g_autofree char *path = shared != NULL ? g_build_filename (shared, name, NULL) : NULL;

  if (path != NULL && g_file_test (path, G_FILE_TEST_EXISTS))
    return g_steal_pointer (&path);
  g_test_skip ("The shared test data is not here (SHERD_SHARED_DIR).");
  return NULL;
}
