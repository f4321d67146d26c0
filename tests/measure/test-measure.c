/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: the project's rendered tile “white clay” (see tests/data/rendered), measured as it is and with one thing
 * wrong at a time. */
#include "config.h"

#include "colour/difference.h"
#include "measure/measure.h"

#include "scene.h"

#include <math.h>
#include <string.h>

typedef struct
{
  SherdScene *scene;
  SherdScenePhoto photo; /* copies of the marks to be spoilt */
  SherdMeasureRequest request;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "data", "rendered", "white_clay", NULL);
  g_autoptr (GError) error = NULL;

  fixture->scene = sherd_scene_load (folder, &error);
  g_assert_no_error (error);
  fixture->photo = fixture->scene->photos[0];
  fixture->request = (SherdMeasureRequest){ .photo_path = fixture->photo.path,
                                            .face_width_mm = fixture->scene->width_mm,
                                            .face_height_mm = fixture->scene->height_mm,
                                            .marks = fixture->photo.face_marks,
                                            .n_marks = 4,
                                            .mark_sd_px = 0.5,
                                            .zones = fixture->scene->zones,
                                            .n_zones = fixture->scene->n_zones,
                                            .reference = SHERD_REFERENCE_CHART,
                                            .reference_marks = fixture->photo.chart_marks,
                                            .n_reference_marks = 4,
                                            .patches = fixture->scene->patches,
                                            .n_patches = fixture->scene->n_patches };
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  sherd_scene_free (fixture->scene);
}

static SherdPhotoMeasurement *
measure (const Fixture *fixture)
{
  g_autoptr (GError) error = NULL;
  SherdPhotoMeasurement *measured = sherd_measure_photo (&fixture->request, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  return measured;
}

static void
assert_refused (const Fixture *fixture, GQuark domain, int code, const char *word)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_measure_photo (&fixture->request, NULL, NULL, NULL, &error));
  if (code >= 0)
    g_assert_error (error, domain, code);
  else
    g_assert_nonnull (error);
  g_assert_nonnull (strstr (error->message, word));
}

static gboolean
warned_of (const SherdPhotoMeasurement *measured, const char *word)
{
  for (guint i = 0; measured->warnings[i]; i++)
    if (strstr (measured->warnings[i], word))
      return TRUE;
  return FALSE;
}

static void
test_all_is_well (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPhotoMeasurement) measured = measure (fixture);

  g_assert_cmpuint (measured->n_zones, ==, fixture->scene->n_zones);
  g_assert_cmpuint (measured->n_patches, ==, fixture->scene->n_patches);
  g_assert_cmpuint (g_strv_length (measured->warnings), ==, 0);
  g_assert_cmpfloat (measured->correction.loo_mean_de00, <, 1);
  g_assert_cmpfloat (measured->uneven_frac, >, 0.02);
  for (gsize i = 0; i < measured->n_zones; i++)
    {
      const SherdZoneColour *zone = &measured->zones[i];
      double sum = 0.08 * 0.08;

      g_assert_cmpstr (zone->code, ==, fixture->scene->zones[i].code);
      g_assert_cmpfloat (zone->px_per_mm, >, 1);
      sum += zone->scatter[0][0] + zone->reference[0][0] + zone->registration[0][0] + zone->light[0][0];
      g_assert_cmpfloat_with_epsilon (zone->covariance[0][0], sum, 1e-9);
      g_assert_cmpfloat (zone->lower_95.l, <, zone->lab.l);
      g_assert_cmpfloat (zone->upper_95.l, >, zone->lab.l);
    }
}

static void
test_no_zone (Fixture *fixture, gconstpointer data)
{
  fixture->request.n_zones = 0;
  assert_refused (fixture, SHERD_MEASURE_ERROR, SHERD_MEASURE_ERROR_ZONES, "Lay the zones out");
}

static void
test_unmarked_chart (Fixture *fixture, gconstpointer data)
{
  fixture->request.n_reference_marks = 3;
  assert_refused (fixture, SHERD_MEASURE_ERROR, SHERD_MEASURE_ERROR_REFERENCE, "four corners");
}

static void
test_marks_in_a_line (Fixture *fixture, gconstpointer data)
{
  for (guint i = 0; i < 4; i++)
    fixture->photo.face_marks[i].photo_px = (SherdPoint){ 100 + 50 * i, 100 + 50 * i };
  assert_refused (fixture, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_DEGENERATE, "piece cannot be placed");
}

static void
test_missing_photo (Fixture *fixture, gconstpointer data)
{
  fixture->request.photo_path = "/nowhere/at-all.jpg";
  assert_refused (fixture, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_OPEN, "at-all.jpg");
}

static void
test_cancelled (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  g_assert_null (sherd_measure_photo (&fixture->request, NULL, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
count_progress (double done_frac, gpointer user_data)
{
  double *last = user_data;

  g_assert_cmpfloat (done_frac, >=, *last);
  g_assert_cmpfloat (done_frac, <=, 1);
  *last = done_frac;
}

static void
test_progress_grows (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPhotoMeasurement) measured = NULL;
  double last = 0;

  measured = sherd_measure_photo (&fixture->request, count_progress, &last, NULL, NULL);
  g_assert_nonnull (measured);
  g_assert_cmpfloat (last, >, 0.5);
}

static void
test_chart_marked_upside_down (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPhotoMeasurement) right = measure (fixture), turned = NULL;
  SherdScenePhoto as_is = fixture->photo;

  g_test_summary ("A chart whose corners begin at the wrong one is measured all the same, and the user is told.");
  for (guint i = 0; i < 4; i++)
    fixture->photo.chart_marks[i].photo_px = as_is.chart_marks[(i + 2) % 4].photo_px;
  turned = measure (fixture);
  g_assert_true (warned_of (turned, "upside down"));
  for (gsize i = 0; i < right->n_zones; i++)
    g_assert_cmpfloat (sherd_difference_de00 (&right->zones[i].lab, &turned->zones[i].lab), <, 0.2);
}

static void
test_chart_marked_a_quarter_off (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPhotoMeasurement) right = measure (fixture), turned = NULL;
  SherdScenePhoto as_is = fixture->photo;

  g_test_summary ("Corners that begin a quarter turn off put every patch on another one: the user is told.");
  for (guint i = 0; i < 4; i++)
    fixture->photo.chart_marks[i].photo_px = as_is.chart_marks[(i + 1) % 4].photo_px;
  turned = measure (fixture);
  g_assert_true (warned_of (turned, "does not look like its reference values"));
  g_assert_false (warned_of (right, "does not look like its reference values"));
}

static void
test_zone_outside (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdOutline) far_off = sherd_outline_new_rectangle (2000, 2000, 30, 20);
  g_autoptr (SherdPhotoMeasurement) measured = NULL;
  SherdMeasureZone zones[2] = { fixture->scene->zones[0], { "far", "Z9", far_off, FALSE } };

  fixture->request.zones = zones;
  fixture->request.n_zones = 2;
  measured = measure (fixture);
  g_assert_cmpuint (measured->zones[1].flags & SHERD_ZONE_OUTSIDE, !=, 0);
  g_assert_cmpuint (measured->zones[1].flags & SHERD_ZONE_NOT_MEASURED, !=, 0);
  g_assert_cmpfloat (measured->zones[1].retained_frac, ==, -1);
  g_assert_cmpuint (measured->zones[0].flags & SHERD_ZONE_OUTSIDE, ==, 0);
}

static void
test_sliver (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdOutline) sliver = sherd_outline_new_rectangle (10, 10, 1, 1);
  g_autoptr (SherdPhotoMeasurement) measured = NULL;
  g_autofree char *words = NULL;
  SherdMeasureZone zones[2] = { fixture->scene->zones[0], { "tiny", "Z9", sliver, FALSE } };

  fixture->request.zones = zones;
  fixture->request.n_zones = 2;
  measured = measure (fixture);
  g_assert_cmpuint (measured->zones[1].flags & SHERD_ZONE_FEW_PIXELS, !=, 0);
  words = sherd_zone_flags_to_text (measured->zones[1].flags);
  g_assert_nonnull (strstr (words, "too little of it"));
}

/* (transfer full): all zones of the scene and one more. */
static SherdMeasureZone *
with_one_more (Fixture *fixture, const SherdOutline *outline_mm)
{
  const gsize n = fixture->scene->n_zones;
  SherdMeasureZone *zones = g_new (SherdMeasureZone, n + 1);

  memcpy (zones, fixture->scene->zones, n * sizeof *zones);
  zones[n] = (SherdMeasureZone){ "more", "Z9", outline_mm, FALSE };
  fixture->request.zones = zones;
  fixture->request.n_zones = n + 1;
  return zones;
}

static void
test_bare_ground_as_a_painted_zone (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdOutline) rim = sherd_outline_new_rectangle (1.5, 1.5, 3.5, fixture->scene->height_mm - 3);
  g_autoptr (SherdPhotoMeasurement) painted = NULL, bare = NULL;
  g_autofree SherdMeasureZone *zones = with_one_more (fixture, rim);
  const gsize last = fixture->scene->n_zones;

  g_test_summary ("Where a zone shows nothing but ground its paint is gone; as a bare control it is a colour.");
  painted = measure (fixture);
  g_assert_cmpuint (painted->zones[last].flags & SHERD_ZONE_LITTLE_PAINT, !=, 0);
  g_assert_cmpfloat (painted->zones[last].retained_frac, <, 0.1);
  zones[last].bare = TRUE;
  bare = measure (fixture);
  g_assert_cmpuint (bare->zones[last].flags & SHERD_ZONE_NOT_MEASURED, ==, 0);
  g_assert_cmpfloat (sherd_difference_de00 (&bare->zones[last].lab, &bare->zones[last].ground), <, 1.5);
}

static void
test_no_bare_ground (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdOutline) all =
    sherd_outline_new_rectangle (0, 0, fixture->scene->width_mm, fixture->scene->height_mm);
  g_autoptr (SherdPhotoMeasurement) usual = measure (fixture), measured = NULL;
  SherdMeasureZone zones[2] = { fixture->scene->zones[0], { "all", "Z9", all, FALSE } };

  g_test_summary ("With no ground in view the chart alone tells the light; the interval grows and the user is told.");
  fixture->request.zones = zones;
  fixture->request.n_zones = 2;
  measured = measure (fixture);
  g_assert_true (warned_of (measured, "bare ground"));
  g_assert_cmpfloat (measured->zones[0].light[0][0], >, usual->zones[0].light[0][0]);
}

static void
test_chart_half_out_of_view (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPhotoMeasurement) measured = NULL;
  const SherdPoint corner = fixture->photo.chart_marks[1].photo_px;
  const double gone_x = corner.x > 400 ? 4000 : -4000;
  SherdMark marks[4];
  SherdOutline *outlines[64];
  SherdMeasurePatch patches[64];

  /* The last two patches are said to lie far beyond the photograph. */
  memcpy (marks, fixture->photo.chart_marks, sizeof marks);
  memcpy (patches, fixture->scene->patches, fixture->scene->n_patches * sizeof *patches);
  for (gsize i = fixture->scene->n_patches - 2; i < fixture->scene->n_patches; i++)
    {
      outlines[i] = sherd_outline_new_rectangle (gone_x, 0, 10, 10);
      patches[i].outline_mm = outlines[i];
    }
  fixture->request.patches = patches;
  measured = measure (fixture);
  g_assert_true (warned_of (measured, "2 patches"));
  g_assert_false (measured->patches[fixture->scene->n_patches - 1].usable);
  g_assert_true (measured->patches[0].usable);
  for (gsize i = fixture->scene->n_patches - 2; i < fixture->scene->n_patches; i++)
    sherd_outline_free (outlines[i]);
}

/* How far the lightness of zones without a remark lies from that of the usual measurement, at most. */
static double
most_lightness_apart (const SherdPhotoMeasurement *usual, const SherdPhotoMeasurement *other)
{
  double most = 0.0;

  for (gsize i = 0; i < usual->n_zones; i++)
    if (usual->zones[i].flags == 0)
      most = fmax (most, fabs (usual->zones[i].lab.l - other->zones[i].lab.l));
  return most;
}

/* The chart's frame is told in numbers less than half its size, as rows and columns alone give them. Taken for its size
 * they put the chart near the lens and its light off by several L*; taken for proportions they do no harm. */
static void
test_chart_of_unknown_size (Fixture *fixture, gconstpointer data)
{
  const double share = 0.45;
  g_autoptr (SherdPhotoMeasurement) usual = measure (fixture);
  g_autoptr (SherdPhotoMeasurement) unsized = NULL;
  g_autoptr (SherdPhotoMeasurement) misplaced = NULL;
  SherdMark marks[4];
  SherdMeasurePatch patches[64];

  memcpy (marks, fixture->photo.chart_marks, sizeof marks);
  memcpy (patches, fixture->scene->patches, fixture->scene->n_patches * sizeof *patches);
  for (guint i = 0; i < 4; i++)
    marks[i].piece_mm = (SherdPoint){ share * marks[i].piece_mm.x, share * marks[i].piece_mm.y };
  for (gsize i = 0; i < fixture->scene->n_patches; i++)
    {
      SherdOutline *outline = sherd_outline_new (patches[i].outline_mm->points, patches[i].outline_mm->n_points);

      for (gsize j = 0; j < outline->n_points; j++)
        outline->points[j] = (SherdPoint){ share * outline->points[j].x, share * outline->points[j].y };
      patches[i].outline_mm = outline;
    }
  fixture->request.reference_marks = marks;
  fixture->request.patches = patches;
  misplaced = measure (fixture);
  fixture->request.reference_unsized = TRUE;
  unsized = measure (fixture);
  g_test_message ("L* apart: %.2f as proportions, %.2f as a size", most_lightness_apart (usual, unsized),
                  most_lightness_apart (usual, misplaced));
  g_assert_cmpfloat (most_lightness_apart (usual, unsized), <, 0.3);
  g_assert_cmpfloat (most_lightness_apart (usual, misplaced), >, 1.0);
  for (gsize i = 0; i < fixture->scene->n_patches; i++)
    sherd_outline_free ((SherdOutline *)patches[i].outline_mm);
}

static void
test_few_patches (Fixture *fixture, gconstpointer data)
{
  fixture->request.n_patches = 2;
  assert_refused (fixture, SHERD_COLOUR_ERROR, -1, "patches");
}

static void
test_misplaced_mark_is_named (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPhotoMeasurement) measured = NULL;
  SherdMark marks[5];

  memcpy (marks, fixture->photo.face_marks, 4 * sizeof *marks);
  marks[4].piece_mm = (SherdPoint){ fixture->scene->width_mm / 2, 0 };
  marks[4].photo_px = (SherdPoint){ (marks[0].photo_px.x + marks[1].photo_px.x) / 2 + 5,
                                    (marks[0].photo_px.y + marks[1].photo_px.y) / 2 + 25 };
  fixture->request.marks = marks;
  fixture->request.n_marks = 5;
  measured = measure (fixture);
  g_assert_true (warned_of (measured, "do not fit together"));
}

static void
add (const char *path, void (*test) (Fixture *, gconstpointer))
{
  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  add ("/measure/photo/all-is-well", test_all_is_well);
  add ("/measure/photo/refuses/no-zone", test_no_zone);
  add ("/measure/photo/refuses/unmarked-chart", test_unmarked_chart);
  add ("/measure/photo/refuses/marks-in-a-line", test_marks_in_a_line);
  add ("/measure/photo/refuses/missing-photo", test_missing_photo);
  add ("/measure/photo/a-chart-of-unknown-size-is-placed-by-the-photograph", test_chart_of_unknown_size);
  add ("/measure/photo/refuses/few-patches", test_few_patches);
  add ("/measure/photo/cancelled", test_cancelled);
  add ("/measure/photo/progress-grows", test_progress_grows);
  add ("/measure/photo/chart-marked-upside-down", test_chart_marked_upside_down);
  add ("/measure/photo/chart-marked-a-quarter-off", test_chart_marked_a_quarter_off);
  add ("/measure/photo/zone-outside", test_zone_outside);
  add ("/measure/photo/sliver", test_sliver);
  add ("/measure/photo/bare-ground-as-a-painted-zone", test_bare_ground_as_a_painted_zone);
  add ("/measure/photo/no-bare-ground", test_no_bare_ground);
  add ("/measure/photo/chart-half-out-of-view", test_chart_half_out_of_view);
  add ("/measure/photo/misplaced-mark-is-named", test_misplaced_mark_is_named);
  return g_test_run ();
}
