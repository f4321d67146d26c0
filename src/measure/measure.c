/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/measure.h"

#include "measure/calibrate.h"
#include "measure/camera.h"
#include "measure/field.h"
#include "measure/glare.h"
#include "measure/ground.h"
#include "measure/mixture.h"
#include "measure/reference.h"
#include "measure/sample.h"
#include "measure/zone.h"

#include <glib/gi18n-lib.h>
#include <math.h>

G_DEFINE_QUARK (sherd - measure - error - quark, sherd_measure_error)

/* A statistically sound sample is enough: these many pixels in all, spread over the zones (our choice); where zones are
 * so many that each has few, the last third would cost more than it tells. */
#define ZONE_SAMPLES_IN_ALL 90000
#define SAMPLES_OF_MANY_ZONES 60000
#define MANY_ZONES 300
#define MOST_ZONE_SAMPLES 4000
#define FEWEST_ZONE_SAMPLES 64
#define FACE_SAMPLES 36000
#define PATCH_SAMPLES 400

/* Hand-painted edges waver and lenses blur. The colour is taken inside the first margin, what is retained inside the
 * second: paint comes off at edges first, so they must be looked at (our choice). Small zones have less in proportion.
 */
#define COLOUR_EDGE_MM 0.6
#define COLOUR_EDGE_PX 1.5
#define RETAINED_EDGE_MM 0.2
#define RETAINED_EDGE_PX 0.5
#define MOST_EDGE_FRAC 0.12
/* Bare ground is looked for this far from zones and edges. */
#define GROUND_EDGE_MM 1.0
/* The middle 60 % of a patch. */
#define PATCH_EDGE_FRAC 0.2

/* Our choice, far from both: leave-one-out means of ordinary photographs of charts are 3.4 to 4.3 (tests of real
 * charts) and patches taken for one another are tens apart. */
#define MOST_CHART_MISFIT_DE00 8.0

/* With no mark of the contrary. */
#define DEFAULT_MARK_SD_PX 0.5
#define MOST_RESIDUAL_PX 3.0
#define LEAST_INSIDE_FRAC 0.98
#define FEWEST_GROUND_PIXELS 200
/* So many tell the ground's colour to a thousandth. */
#define N_GROUND_PIXELS 8000
/* Drawn places of the lamp, fewer when many zones share the work. */
#define LAMPS_IN_ALL 3200
#define FEWEST_LAMPS 8
#define SEED 20 /* of the drawn places of the lamp: results repeat */
/* Used when nothing tells the camera's noise: an 8-bit file of a phone in a room (our choice). */
#define DEFAULT_NOISE_SD 0.004

/* Everything between opening the photograph and handing back the result. */
typedef struct
{
  const SherdMeasureRequest *request;
  SherdPhoto *photo;
  guint width_px;
  guint height_px;
  double mark_sd_px;
  SherdHomography face;
  SherdCamera camera;
  SherdHomography chart;
  SherdPlane chart_plane;
  GArray *regions; /* of SherdSampleRegion: the face, the patches, the zones */
  GArray *samples; /* of SherdSample, the same order */
  SherdPatchReading *readings;
  SherdCalibration calibration;
  SherdZonePixels *bare; /* of the face */
  GArray *cells;
  SherdField field;
  SherdSurface ground;
  gboolean has_ground;
  SherdLamps lamps;
  double noise_sd[3];
  SherdPhotoMeasurement *result;
  GPtrArray *warnings;
} Walk;

static void
warn (Walk *walk, const char *text)
{
  g_ptr_array_add (walk->warnings, g_strdup (text));
}

static void
warn_taking (Walk *walk, char *text)
{
  g_ptr_array_add (walk->warnings, text);
}

static gboolean
check_request (const SherdMeasureRequest *request, GError **error)
{
  if (request->n_zones == 0)
    {
      g_set_error (error, SHERD_MEASURE_ERROR, SHERD_MEASURE_ERROR_ZONES,
                   _ ("There is no zone to measure. Lay the zones out on the piece first."));
      return FALSE;
    }
  if (request->reference != SHERD_REFERENCE_NONE && (request->n_patches == 0 || request->n_reference_marks < 4))
    {
      g_set_error (error, SHERD_MEASURE_ERROR, SHERD_MEASURE_ERROR_REFERENCE,
                   _ ("The chart or card is not marked. Mark its four corners, or measure without a reference."));
      return FALSE;
    }
  return TRUE;
}

static gboolean
marks_in_photo (const Walk *walk, const SherdMark *marks, gsize n_marks)
{
  for (gsize i = 0; i < n_marks; i++)
    if (marks[i].photo_px.x < 0 || marks[i].photo_px.y < 0 || marks[i].photo_px.x > walk->width_px ||
        marks[i].photo_px.y > walk->height_px)
      return FALSE;
  return TRUE;
}

static gboolean
fit_face (Walk *walk, GError **error)
{
  const SherdMeasureRequest *request = walk->request;
  const SherdPhotoInfo *info = sherd_photo_get_info (walk->photo);
  const SherdFocalGuess guess = sherd_focal_guess (walk->width_px, walk->height_px, info->focal_35mm);

  if (!sherd_homography_fit (&walk->face, request->marks, request->n_marks, walk->mark_sd_px, error))
    {
      g_prefix_error (error, _ ("The piece cannot be placed: "));
      return FALSE;
    }
  if (!marks_in_photo (walk, request->marks, request->n_marks))
    warn (walk, _ ("A corner of the piece is marked outside the photograph; zones there cannot be measured."));
  if (walk->face.residual_rms_px > MOST_RESIDUAL_PX)
    warn_taking (walk,
                 g_strdup_printf (_ ("The piece's marks do not fit together: they are off by %.1f px on average, "
                                     "mark %u most. Check that each is on its own corner and that the size of the "
                                     "piece is right."),
                                  walk->face.residual_rms_px, walk->face.worst_mark + 1));
  sherd_camera_fit (&walk->camera, &walk->face, request->marks, request->n_marks, walk->mark_sd_px, walk->width_px,
                    walk->height_px, &guess);
  return TRUE;
}

static gboolean
fit_chart (Walk *walk, GError **error)
{
  const SherdMeasureRequest *request = walk->request;

  if (request->reference == SHERD_REFERENCE_NONE)
    return TRUE;
  if (!sherd_homography_fit (&walk->chart, request->reference_marks, request->n_reference_marks, walk->mark_sd_px,
                             error))
    {
      g_prefix_error (error, _ ("The chart cannot be placed: "));
      return FALSE;
    }
  if (!marks_in_photo (walk, request->reference_marks, request->n_reference_marks))
    warn (walk, _ ("Part of the chart or card lies outside the photograph; its patches there are left out."));
  sherd_plane_fit (&walk->chart_plane, &walk->camera, &walk->face, request->reference_marks, request->n_reference_marks,
                   walk->mark_sd_px);
  return TRUE;
}

static void
add_region (Walk *walk, SherdOutline *outline_px, gsize n_most)
{
  const SherdSampleRegion region = { outline_px, n_most };

  g_array_append_val (walk->regions, region);
}

static void
clear_region (gpointer data)
{
  sherd_outline_free (((SherdSampleRegion *)data)->outline_px);
}

/* (transfer full): inset by at most a share of its own size; the outline itself when nothing would be left. */
static SherdOutline *
inset_outline (const SherdOutline *outline_mm, double edge_mm)
{
  const double most = MOST_EDGE_FRAC * sqrt (fabs (sherd_outline_area (outline_mm)));
  SherdOutline *inset = sherd_outline_inset (outline_mm, MIN (edge_mm, most));

  return inset ? inset : sherd_outline_copy (outline_mm);
}

/* (transfer full): the part of a zone where its colour is taken. */
static SherdOutline *
zone_core (const Walk *walk, const SherdOutline *outline_mm)
{
  const double px_per_mm = sherd_homography_px_per_mm (&walk->face, sherd_outline_centroid (outline_mm));

  return inset_outline (outline_mm, COLOUR_EDGE_MM + COLOUR_EDGE_PX / px_per_mm);
}

static void
plan_face (Walk *walk)
{
  const SherdMeasureRequest *request = walk->request;
  g_autoptr (SherdOutline) face = sherd_outline_new_rectangle (0, 0, request->face_width_mm, request->face_height_mm);

  add_region (walk, sherd_outline_to_photo (face, &walk->face), FACE_SAMPLES);
}

static void
plan_patches (Walk *walk)
{
  const SherdMeasureRequest *request = walk->request;

  for (gsize i = 0; request->reference != SHERD_REFERENCE_NONE && i < request->n_patches; i++)
    {
      const SherdOutline *patch = request->patches[i].outline_mm;
      g_autoptr (SherdOutline) middle =
        sherd_outline_inset (patch, PATCH_EDGE_FRAC * sqrt (fabs (sherd_outline_area (patch))));

      add_region (walk, sherd_outline_to_photo (middle ? middle : patch, &walk->chart), PATCH_SAMPLES);
    }
}

static void
plan_zones (Walk *walk)
{
  const SherdMeasureRequest *request = walk->request;
  const gsize n_in_all = request->n_zones < MANY_ZONES ? ZONE_SAMPLES_IN_ALL : SAMPLES_OF_MANY_ZONES;
  const gsize n_each = CLAMP (n_in_all / request->n_zones, FEWEST_ZONE_SAMPLES, MOST_ZONE_SAMPLES);

  for (gsize i = 0; i < request->n_zones; i++)
    {
      const SherdOutline *outline = request->zones[i].outline_mm;
      const double px_per_mm = sherd_homography_px_per_mm (&walk->face, sherd_outline_centroid (outline));
      g_autoptr (SherdOutline) inset = inset_outline (outline, RETAINED_EDGE_MM + RETAINED_EDGE_PX / px_per_mm);

      add_region (walk, sherd_outline_to_photo (inset, &walk->face), n_each);
    }
}

static const SherdSample *
face_sample (const Walk *walk)
{
  return &g_array_index (walk->samples, SherdSample, 0);
}

static const SherdSample *
patch_sample (const Walk *walk, gsize patch)
{
  return &g_array_index (walk->samples, SherdSample, 1 + patch);
}

static const SherdSample *
zone_sample (const Walk *walk, gsize zone)
{
  return &g_array_index (walk->samples, SherdSample, walk->regions->len - walk->request->n_zones + zone);
}

static gboolean
read_pixels (Walk *walk, SherdProgressFunc progress, gpointer user_data, GCancellable *cancellable, GError **error)
{
  plan_face (walk);
  plan_patches (walk);
  plan_zones (walk);
  walk->samples = sherd_sample_photo (walk->photo, (const SherdSampleRegion *)walk->regions->data, walk->regions->len,
                                      progress, user_data, cancellable, error);
  return walk->samples != NULL;
}

static void
find_ground (Walk *walk)
{
  const SherdMeasureRequest *request = walk->request;
  const SherdSample *face = face_sample (walk);
  g_autoptr (SherdGroundMask) mask = sherd_ground_mask_new (request->face_width_mm, request->face_height_mm,
                                                            request->zones, request->n_zones, GROUND_EDGE_MM);
  SherdZonePixels *bare = sherd_zone_pixels_new (face->n);

  for (gsize i = 0; i < face->n; i++)
    {
      const SherdPoint at = sherd_homography_to_piece (&walk->face, (SherdPoint){ face->x_px[i], face->y_px[i] });

      if ((face->flags[i] & (SHERD_PIXEL_CLIPPED | SHERD_PIXEL_TRANSPARENT)) ||
          !sherd_ground_mask_contains (mask, at.x, at.y))
        continue;
      memcpy (bare->linear_rgb + 3 * bare->n, face->linear_rgb + 3 * i, 3 * sizeof (float));
      bare->x_mm[bare->n] = (float)at.x;
      bare->y_mm[bare->n++] = (float)at.y;
    }
  walk->bare = bare;
  walk->cells = sherd_ground_cells (request->face_width_mm, request->face_height_mm, bare->linear_rgb, bare->x_mm,
                                    bare->y_mm, bare->n);
}

/* A size that nobody measured would put the chart at any distance from the lamp. In the plane of the face, where it is
 * asked to lie, the photograph itself tells the place.
 */
static void
place_in_face (const Walk *walk, SherdPoint in_frame_mm, SherdLightPoint *point)
{
  const SherdPoint seen_px = sherd_homography_to_photo (&walk->chart, in_frame_mm);
  const SherdPoint on_face_mm = sherd_homography_to_piece (&walk->face, seen_px);
  static const double out_of_face[3] = { 0.0, 0.0, -1.0 };

  point->position_mm[0] = on_face_mm.x;
  point->position_mm[1] = on_face_mm.y;
  point->position_mm[2] = 0.0;
  memcpy (point->normal, out_of_face, sizeof point->normal);
}

static void
place_reading (const Walk *walk, gsize patch, SherdPatchReading *reading)
{
  const SherdPoint in_frame_mm = sherd_outline_centroid (walk->request->patches[patch].outline_mm);
  double half_diagonal_square =
    walk->camera.centre_x_px * walk->camera.centre_x_px + walk->camera.centre_y_px * walk->camera.centre_y_px;
  SherdPoint seen;

  if (walk->request->reference_unsized)
    place_in_face (walk, in_frame_mm, &reading->point);
  else
    {
      sherd_plane_point (&walk->chart_plane, in_frame_mm, reading->point.position_mm);
      memcpy (reading->point.normal, walk->chart_plane.normal, sizeof reading->point.normal);
    }
  seen = sherd_camera_project (&walk->camera, reading->point.position_mm);
  reading->point.corner_square =
    (pow (seen.x - walk->camera.centre_x_px, 2) + pow (seen.y - walk->camera.centre_y_px, 2)) / half_diagonal_square;
}

/* Readings in the order of the chart's patches, each at the place where it was really seen. */
static void
read_patches (Walk *walk)
{
  const SherdMeasureRequest *request = walk->request;
  const gsize n = request->reference == SHERD_REFERENCE_NONE ? 0 : request->n_patches;
  g_autofree SherdPatchReading *as_marked = g_new0 (SherdPatchReading, n + 1);
  g_autofree guint *order = g_new0 (guint, n + 1);
  guint orientation = 0;

  for (gsize i = 0; i < n; i++)
    {
      const SherdSample *sample = patch_sample (walk, i);

      sherd_patch_reading_fill (&as_marked[i], sample->linear_rgb, sample->flags, sample->n);
      as_marked[i].usable = as_marked[i].usable && sample->inside_frac > LEAST_INSIDE_FRAC;
      place_reading (walk, i, &as_marked[i]);
    }
  if (request->reference == SHERD_REFERENCE_CHART)
    orientation = sherd_reference_orientation (request->patches, as_marked, n, order);
  if (orientation)
    warn_taking (walk, g_strdup_printf (_ ("The chart fits far better %s than as its corners are marked, and was taken "
                                           "so. Mark its corners again, beginning with its own top left one."),
                                        sherd_reference_orientation_name (orientation)));
  walk->readings = g_new0 (SherdPatchReading, n + 1);
  for (gsize i = 0; i < n; i++)
    walk->readings[i] = as_marked[order[i]];
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  const double difference = *(const double *)a - *(const double *)b;

  return (difference > 0) - (difference < 0);
}

/* The quietest third of the patches tells the camera's noise: texture and dust only add to it. */
static void
find_noise (Walk *walk)
{
  const gsize n_patches = walk->request->reference == SHERD_REFERENCE_CHART ? walk->request->n_patches : 0;
  g_autofree double *sd = g_new (double, n_patches + 1);

  for (guint c = 0; c < 3; c++)
    {
      gsize n = 0;

      for (gsize i = 0; i < n_patches; i++)
        if (walk->readings[i].usable)
          sd[n++] = walk->readings[i].sd[c];
      qsort (sd, n, sizeof *sd, compare_doubles);
      walk->noise_sd[c] = n >= 3 ? MAX (sd[n / 3], 5e-4) : DEFAULT_NOISE_SD;
    }
}

static gboolean
calibrate (Walk *walk, GError **error)
{
  const SherdMeasureRequest *request = walk->request;
  const SherdPoint middle_mm = { request->face_width_mm / 2, request->face_height_mm / 2 };

  read_patches (walk);
  find_noise (walk);
  find_ground (walk);
  return sherd_calibrate (&walk->calibration, request->reference, request->patches, walk->readings,
                          request->reference == SHERD_REFERENCE_NONE ? 0 : request->n_patches, walk->cells,
                          &walk->camera, middle_mm, error);
}

static void
describe_ground (Walk *walk)
{
  sherd_tone_apply_all (&walk->calibration.tone, walk->bare->linear_rgb, 3 * walk->bare->n);
  sherd_divide_light (walk->bare, &walk->field);
  walk->has_ground = walk->bare->n >= FEWEST_GROUND_PIXELS;
  if (walk->has_ground)
    sherd_surface_fit (&walk->ground, walk->bare->linear_rgb, walk->bare->n, N_GROUND_PIXELS);
}

static void
light_the_face (Walk *walk)
{
  const SherdMeasureRequest *request = walk->request;

  sherd_field_init (&walk->field, &walk->calibration.light, &walk->camera, request->face_width_mm,
                    request->face_height_mm, walk->cells);
  if (walk->calibration.light.has_ground || request->reference == SHERD_REFERENCE_CHART)
    sherd_lamps_draw (&walk->lamps, &walk->calibration.light,
                      (guint)CLAMP (LAMPS_IN_ALL / request->n_zones, FEWEST_LAMPS, SHERD_MOST_LAMPS), SEED);
  describe_ground (walk);
  if (!walk->calibration.light.has_ground)
    warn (walk,
          _ ("There is too little bare ground round the zones to tell how even the light was. Leave a rim and gaps "
             "of bare clay, or the uncertainty stays wide."));
}

static SherdZonePixels *
pixels_on_face (const Walk *walk, const SherdSample *sample, const SherdOutline *core_mm, double core_frac)
{
  SherdZonePixels *pixels = sherd_zone_pixels_new (sample->n);

  pixels->n = sample->n;
  pixels->n_in_photo = sample->n_in_photo;
  pixels->core_frac = core_frac;
  memcpy (pixels->linear_rgb, sample->linear_rgb, 3 * sample->n * sizeof (float));
  memcpy (pixels->flags, sample->flags, sample->n);
  for (gsize i = 0; i < sample->n; i++)
    {
      const SherdPoint at = sherd_homography_to_piece (&walk->face, (SherdPoint){ sample->x_px[i], sample->y_px[i] });

      pixels->core[i] = sherd_outline_contains (core_mm, at) != FALSE;
      pixels->x_mm[i] = (float)at.x;
      pixels->y_mm[i] = (float)at.y;
    }
  return pixels;
}

static void
measure_zone (Walk *walk, gsize i, const SherdZoneContext *context, SherdZoneLook *look)
{
  const SherdMeasureZone *zone = &walk->request->zones[i];
  const SherdSample *sample = zone_sample (walk, i);
  const SherdPoint middle_mm = sherd_outline_centroid (zone->outline_mm);
  g_autoptr (SherdOutline) core = zone_core (walk, zone->outline_mm);
  g_autoptr (SherdZonePixels) pixels = pixels_on_face (
    walk, sample, core, fabs (sherd_outline_area (core)) / MAX (fabs (sherd_outline_area (zone->outline_mm)), 1e-9));
  SherdZoneColour *colour = &walk->result->zones[i];
  double of_place_px[2][2];

  colour->id = g_strdup (zone->id);
  colour->code = g_strdup (zone->code);
  colour->px_per_mm = sherd_homography_px_per_mm (&walk->face, middle_mm);
  if (sample->inside_frac < LEAST_INSIDE_FRAC)
    colour->flags |= SHERD_ZONE_OUTSIDE;
  sherd_homography_point_covariance (&walk->face, middle_mm, of_place_px);
  sherd_zone_measure (colour, pixels, context, zone->bare,
                      sqrt ((of_place_px[0][0] + of_place_px[1][1]) / 2) / colour->px_per_mm, look);
}

/* A chart marked at the wrong corners, or read with the values of another one, is fitted as well as it goes. */
static void
warn_of_misfit (Walk *walk)
{
  const SherdCorrection *correction = &walk->calibration.correction;

  if (walk->request->reference != SHERD_REFERENCE_CHART || correction->model == SHERD_CORRECTION_GREY ||
      !(correction->loo_mean_de00 > MOST_CHART_MISFIT_DE00))
    return;
  warn (walk, _ ("The chart does not look like its reference values: no colour here can be trusted. Check that its "
                 "marks lie on its own corners, begin at its first patch and do not start a quarter turn off, and that "
                 "the values are those of this chart."));
}

static void
warn_of_reference (Walk *walk)
{
  const gsize n = walk->calibration.n_errors;
  gsize n_clipped = 0, n_lost = 0;

  for (gsize i = 0; i < n; i++)
    {
      n_clipped += walk->readings[i].clipped_frac > 0;
      n_lost += !walk->readings[i].usable;
    }
  walk->result->reference_clipped_frac = n ? (double)n_clipped / (double)n : 0;
  if (n_lost > 0 && walk->request->reference == SHERD_REFERENCE_CHART)
    warn_taking (walk,
                 g_strdup_printf (ngettext ("%u patch of the chart was left out: over-exposed, shaded or not what "
                                            "it should be.",
                                            "%u patches of the chart were left out: over-exposed, shaded or not "
                                            "what they should be.",
                                            (gulong)n_lost),
                                  (guint)n_lost));
  warn_of_misfit (walk);
  if (walk->request->reference == SHERD_REFERENCE_CHART && walk->calibration.correction.model == SHERD_CORRECTION_GREY)
    warn (walk,
          _ ("The chart's usable patches are too few or too much alike to correct colours by; its greys served as "
             "a grey card and uncertainties are wide."));
  if (walk->request->reference == SHERD_REFERENCE_NONE)
    warn (walk, _ ("There is no chart or card: colours are those of the file, and only large differences mean much."));
  if (walk->request->reference == SHERD_REFERENCE_GREY_CARD)
    warn (walk, _ ("A grey card mends lightness and cast, not the camera's colours: uncertainties are wide."));
}

static void
collect (Walk *walk)
{
  SherdPhotoMeasurement *result = walk->result;

  result->correction = walk->calibration.correction;
  result->n_patches = walk->calibration.n_errors;
  result->patches = g_steal_pointer (&walk->calibration.errors);
  result->residual_rms_px = walk->face.residual_rms_px;
  result->residual_rms_mm = walk->face.residual_rms_mm;
  result->uneven_frac = walk->field.uneven_frac;
  warn_of_reference (walk);
  g_ptr_array_add (walk->warnings, NULL);
  result->warnings = (GStrv)g_ptr_array_free (g_steal_pointer (&walk->warnings), FALSE);
}

static void
judge_glare (Walk *walk, const SherdZoneLook *looks, const SherdZoneContext *context)
{
  const gsize n = walk->request->n_zones;
  g_autofree SherdSlope *slopes = g_new (SherdSlope, n);

  for (gsize i = 0; i < n; i++)
    slopes[i] = looks[i].slope;
  sherd_lamps_learn (&walk->lamps, &walk->calibration.light, &walk->camera, slopes, n, walk->request->unfired);
  for (gsize i = 0; i < n; i++)
    sherd_zone_judge_glare (&walk->result->zones[i], &looks[i], context);
}

static void
measure_zones (Walk *walk)
{
  const gsize n = walk->request->n_zones;
  g_autofree SherdZoneLook *looks = g_new0 (SherdZoneLook, n);
  SherdZoneContext context = {
    &walk->calibration,    &walk->field, &walk->camera, &walk->lamps, walk->has_ground ? &walk->ground : NULL, { 0 },
    walk->request->unfired
  };

  memcpy (context.noise_sd, walk->noise_sd, sizeof context.noise_sd);
  walk->result->n_zones = n;
  walk->result->zones = g_new0 (SherdZoneColour, n);
  for (gsize i = 0; i < n; i++)
    measure_zone (walk, i, &context, &looks[i]);
  judge_glare (walk, looks, &context);
}

static void
walk_clear (Walk *walk)
{
  g_clear_pointer (&walk->photo, sherd_photo_free);
  g_clear_pointer (&walk->regions, g_array_unref);
  g_clear_pointer (&walk->samples, g_array_unref);
  g_clear_pointer (&walk->readings, g_free);
  g_clear_pointer (&walk->bare, sherd_zone_pixels_free);
  g_clear_pointer (&walk->cells, g_array_unref);
  g_clear_pointer (&walk->warnings, g_ptr_array_unref);
  g_clear_pointer (&walk->result, sherd_photo_measurement_free);
  sherd_calibration_clear (&walk->calibration);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Walk, walk_clear)

static gboolean
open_photo (Walk *walk, GError **error)
{
  const SherdMeasureRequest *request = walk->request;

  walk->photo = sherd_photo_open (request->photo_path, error);
  if (walk->photo == NULL)
    return FALSE;
  walk->width_px = sherd_photo_get_upright_width_px (walk->photo);
  walk->height_px = sherd_photo_get_upright_height_px (walk->photo);
  walk->mark_sd_px = request->mark_sd_px > 0 ? request->mark_sd_px : DEFAULT_MARK_SD_PX;
  return TRUE;
}

/**
 * sherd_measure_photo:
 * @request: what is where
 * @progress: (nullable): called with the share done, 0…1
 * @cancellable: (nullable)
 *
 * Measures all zones of one photograph: places piece and chart by their marks, reads the pixels in one pass, fits light
 * and colour correction to chart and bare ground, divides the light out and takes each zone's colour with its
 * uncertainty, the share of paint left, and whether a mirrored lamp may lie on it.
 *
 * Returns: (transfer full) (nullable): the measurement, or %NULL with SHERD_MEASURE_ERROR, or an error of the photo,
 * shape or colour room, or G_IO_ERROR_CANCELLED
 */
SherdPhotoMeasurement *
sherd_measure_photo (const SherdMeasureRequest *request,
                     SherdProgressFunc progress,
                     gpointer user_data,
                     GCancellable *cancellable,
                     GError **error)
{
  g_auto (Walk) walk = { .request = request };

  walk.warnings = g_ptr_array_new_with_free_func (g_free);
  walk.regions = g_array_new (FALSE, FALSE, sizeof (SherdSampleRegion));
  g_array_set_clear_func (walk.regions, clear_region);
  walk.result = g_new0 (SherdPhotoMeasurement, 1);
  if (!check_request (request, error) || !open_photo (&walk, error) || !fit_face (&walk, error) ||
      !fit_chart (&walk, error) || !read_pixels (&walk, progress, user_data, cancellable, error) ||
      !calibrate (&walk, error))
    return NULL;
  light_the_face (&walk);
  measure_zones (&walk);
  collect (&walk);
  return g_steal_pointer (&walk.result);
}

void
sherd_photo_measurement_free (SherdPhotoMeasurement *measurement)
{
  if (measurement == NULL)
    return;
  for (gsize i = 0; i < measurement->n_zones; i++)
    {
      g_free (measurement->zones[i].id);
      g_free (measurement->zones[i].code);
    }
  g_free (measurement->zones);
  g_free (measurement->patches);
  g_strfreev (measurement->warnings);
  g_free (measurement);
}
