/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The job from end to end on the rendered tiles, as a potter does it: lay out, photograph, mark, measure, save, fire,
 * photograph, measure, open again, compare. Truth is that of the renderer (truth.json beside the pictures: the mean
 * colour of the visible paint). */
#include "config.h"

#include <math.h>
#include <string.h>

#include "../measure/scene.h"
#include "colour/difference.h"
#include "support.h"
#include "trial/comparison.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/measure-job.h"

/* What the project asks of a tile with a chart. */
#define SHIFT_MEAN_ERROR_DE00 0.5

/* As sherd_scene_measure () takes exact marks. */
#define MARK_SD_PX 0.3

typedef struct
{
  SherdScene *scene;
  SherdTrial *trial;
  SherdPiece *tile;
  SherdSide *face;
  SherdReference *reference;
} Story;

/* The rectangle of an outline. The scene gets the very outline that the trial will make of it, so that both measure the
 * same to the last bit. */
static SherdRectangle
settle_rectangle (const SherdOutline **outline)
{
  const SherdPoint *corners = (*outline)->points;
  const SherdRectangle place = { fmin (corners[0].x, corners[2].x), fmin (corners[0].y, corners[2].y),
                                 fabs (corners[2].x - corners[0].x), fabs (corners[2].y - corners[0].y) };

  sherd_outline_free ((SherdOutline *)*outline);
  *outline = sherd_outline_new_rectangle (place.x_mm, place.y_mm, place.width_mm, place.height_mm);
  return place;
}

static SherdReference *
reference_of (const SherdScene *scene)
{
  g_autofree SherdReferencePatch *patches = g_new0 (SherdReferencePatch, scene->n_patches);

  for (gsize i = 0; i < scene->n_patches; i++)
    {
      patches[i].name = (char *)scene->patches[i].name;
      patches[i].rectangle_mm = settle_rectangle (&scene->patches[i].outline_mm);
      patches[i].lab = scene->patches[i].lab;
    }
  return sherd_reference_new_patches (SHERD_REFERENCE_CHART, "generic chart", 93, 137, patches, scene->n_patches);
}

static void
lay_out (Story *story)
{
  const SherdScene *scene = story->scene;

  story->tile =
    sherd_trial_add_tile (story->trial, "Tile", scene->width_mm, scene->height_mm, 8, SHERD_CLAY_FIRED, NULL);
  story->face = sherd_piece_find_side_by_name (story->tile, "face");
  for (gsize i = 0; i < scene->n_zones; i++)
    {
      const SherdRectangle place = settle_rectangle (&scene->zones[i].outline_mm);
      SherdZone *zone =
        sherd_trial_add_zone (story->trial, story->tile, story->face, scene->zones[i].code, &place, NULL);

      g_assert_nonnull (zone);
      g_assert_true (
        sherd_trial_set_zones_paint (story->trial, &zone, 1, scene->zones[i].bare ? NULL : scene->zones[i].code, NULL));
    }
}

static void
photograph_and_measure (Story *story, gsize index, const char *stage)
{
  const SherdScenePhoto *picture = &story->scene->photos[index];
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhotograph) photograph = sherd_photograph_new_from_file (picture->path, &error);

  g_assert_no_error (error);
  g_assert_true (sherd_trial_add_photograph (story->trial, photograph, story->tile, story->face, stage, &error));
  g_assert_true (sherd_trial_set_marks (story->trial, photograph, picture->face_marks, 4, FALSE, &error));
  sherd_trial_set_reference (story->trial, photograph, story->reference);
  g_assert_true (sherd_trial_set_reference_marks (story->trial, photograph, picture->chart_marks, 4, FALSE, &error));
  sherd_trial_begin_edit (story->trial, "Doubt of the marks");
  sherd_trial_set (story->trial, photograph, "mark-sd-px", MARK_SD_PX);
  sherd_trial_end_edit (story->trial);
  g_assert_nonnull (sherd_trial_measure (story->trial, photograph, NULL, NULL, NULL, &error));
  g_assert_no_error (error);
}

static void
reopen (Story *story, const char *file)
{
  g_autoptr (GError) error = NULL;

  g_clear_object (&story->trial);
  story->trial = sherd_trial_load (file, &error);
  g_assert_no_error (error);
  story->tile = sherd_trial_find_piece_by_name (story->trial, "Tile");
  story->face = sherd_piece_find_side_by_name (story->tile, "face");
}

/* Through the trial and its file nothing may be gained or lost against measuring the scene by hand. */
static void
assert_same_as_measured_directly (Story *story, gsize index)
{
  g_autoptr (SherdPhotoMeasurement) direct =
    sherd_scene_measure (story->scene, index, SHERD_REFERENCE_CHART, 0.0, 1, NULL);
  g_autoptr (SherdMeasurement) measurement =
    g_list_model_get_item (sherd_trial_get_measurements (story->trial), (guint)index);
  const SherdPhotoMeasurement *kept = sherd_measurement_get_result (measurement);

  g_assert_cmpuint (kept->n_zones, ==, direct->n_zones);
  for (gsize i = 0; i < direct->n_zones; i++)
    {
      g_assert_cmpstr (kept->zones[i].code, ==, direct->zones[i].code);
      g_assert_cmpuint (kept->zones[i].flags, ==, direct->zones[i].flags);
      g_assert_cmpuint (kept->zones[i].n_pixels, ==, direct->zones[i].n_pixels);
      g_assert_cmpfloat (kept->zones[i].lab.l, ==, direct->zones[i].lab.l);
      g_assert_cmpfloat (kept->zones[i].lab.a, ==, direct->zones[i].lab.a);
      g_assert_cmpfloat (kept->zones[i].lab.b, ==, direct->zones[i].lab.b);
    }
}

/* Neither mirrors the lamp nor has lost paint: what makes those hard is the measuring room's to judge. */
static gboolean
is_plain (const SherdSceneTruth *truth)
{
  return truth->matte && truth->retained_frac > 0.95;
}

static void
assert_shifts (Story *story)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdComparison) comparison =
    sherd_trial_compare (story->trial, story->tile, story->face, "unfired", "after firing 1", &error);
  const SherdSceneTruth *before = story->scene->photos[0].truth, *after = story->scene->photos[1].truth;
  double sum_de00 = 0.0;
  guint n = 0;

  g_assert_no_error (error);
  g_assert_true (sherd_comparison_get_same_reference (comparison));
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (comparison)), ==, story->scene->n_zones);
  for (guint i = 0; i < story->scene->n_zones; i++)
    {
      g_autoptr (SherdZoneShift) row = g_list_model_get_item (G_LIST_MODEL (comparison), i);
      const SherdShift *shift = sherd_zone_shift_get_shift (row);

      if (!is_plain (&before[i]) || !is_plain (&after[i]))
        continue;
      g_assert_true (shift->measured);
      sum_de00 += fabs (shift->difference.de00 - sherd_difference_de00 (&before[i].lab, &after[i].lab));
      n++;
    }
  g_test_message ("%s: mean error of the shift %.3f over %u plain zones", story->scene->name, sum_de00 / n, n);
  g_assert_cmpuint (n, >=, 2);
  g_assert_cmpfloat (sum_de00 / n, <=, SHIFT_MEAN_ERROR_DE00);
}

static void
test_story (gconstpointer data)
{
  g_autofree char *name = g_strconcat ("scenes/", (const char *)data, NULL);
  g_autofree char *scene_folder = shared_path_or_skip (name);
  g_autofree char *folder = NULL;
  g_autofree char *file = NULL;
  g_autofree char *bytes = NULL;
  g_autofree char *again = NULL;
  Story story = { 0 };

  if (scene_folder == NULL)
    return;
  folder = scratch_new ();
  file = scratch_path (folder, "story.sherdboard");
  story.scene = sherd_scene_load (scene_folder, NULL);
  story.trial = sherd_trial_new ();
  story.reference = reference_of (story.scene);
  lay_out (&story);
  photograph_and_measure (&story, 0, "unfired");
  g_assert_true (sherd_trial_save_as (story.trial, file, NULL, NULL));
  reopen (&story, file);
  photograph_and_measure (&story, 1, "after firing 1");
  g_assert_true (sherd_trial_save (story.trial, SHERD_SAVE_NORMAL, NULL, NULL));
  bytes = sherd_trial_dup_text (story.trial, NULL);
  reopen (&story, file);
  again = sherd_trial_dup_text (story.trial, NULL);
  g_assert_cmpstr (bytes, ==, again);
  assert_same_as_measured_directly (&story, 0);
  assert_same_as_measured_directly (&story, 1);
  assert_shifts (&story);
  g_clear_object (&story.trial);
  g_clear_object (&story.reference);
  sherd_scene_free (story.scene);
  scratch_remove (folder);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/trial/story/tile-a", "tile_a", test_story);
  g_test_add_data_func ("/trial/story/tile-b", "tile_b", test_story);
  return g_test_run ();
}
