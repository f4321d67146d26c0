/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Real photographs of real charts: ../shared/corpus/charts, with the places of the corner patches in charts.json and
 * published colours of the 24 patches in numbers/chart24_lab_later.csv (D50). Skipped where they are absent.
 *
 * What may be expected: leave-one-out ΔE*ab below 3 from raw files of a good camera (A. Molada-Tebar and others,
 * Sensors 19 (2019) 4610). These are phone JPEGs with the maker's tone curve, lit unevenly, so twice that is allowed.
 */
#include "config.h"

#include <json-glib/json-glib.h>

#include "colour/correction.h"
#include "colour/difference.h"
#include "measure/sample.h"

#define N_ROWS 4
#define N_COLUMNS 6
#define N_PATCHES (N_ROWS * N_COLUMNS)

/* Half the side of the window read of a patch, in units of the pitch: well inside its edges. */
#define HALF_WINDOW 0.18

#define LARGEST_LOO_MEAN_DE00 6.0

/* One chart as photographed: mean linear light of every patch. */
typedef struct
{
  SherdRgb linear[N_PATCHES];
} Chart;

static SherdLab reference[N_PATCHES];
static JsonNode *charts;

static char *
shared_path (const char *name)
{
  return g_build_filename (g_getenv ("SHERD_SHARED_DIR"), "corpus", name, NULL);
}

static gboolean
load_reference (void)
{
  g_autofree char *path = shared_path ("numbers/chart24_lab_later.csv");
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;

  if (!g_file_get_contents (path, &text, NULL, NULL))
    return FALSE;
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; i < N_PATCHES; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i + 1], ",", -1);

      reference[i] =
        (SherdLab){ g_ascii_strtod (cells[4], NULL), g_ascii_strtod (cells[5], NULL), g_ascii_strtod (cells[6], NULL) };
    }
  return TRUE;
}

static gboolean
load_charts (void)
{
  g_autofree char *path = shared_path ("charts.json");
  g_autoptr (JsonParser) parser = json_parser_new ();

  if (!json_parser_load_from_file (parser, path, NULL))
    return FALSE;
  charts = json_parser_steal_root (parser);
  return TRUE;
}

static SherdPoint
point_of (JsonObject *corners, const char *name)
{
  JsonArray *xy = json_object_get_array_member (corners, name);

  return (SherdPoint){ json_array_get_double_element (xy, 0), json_array_get_double_element (xy, 1) };
}

static JsonObject *
find_photo (const char *file)
{
  JsonArray *photos = json_object_get_array_member (json_node_get_object (charts), "photos");

  for (guint i = 0; i < json_array_get_length (photos); i++)
    {
      JsonObject *photo = json_array_get_object_element (photos, i);

      if (g_str_equal (json_object_get_string_member (photo, "file"), file))
        return photo;
    }
  g_assert_not_reached ();
}

/* Where the middles of the patches lie, in units of the pitch from the middle of patch 1. */
static void
place_chart (JsonObject *photo, SherdHomography *homography)
{
  static const char *const names[] = { "patch_1_dark_skin", "patch_6_bluish_green", "patch_24_black",
                                       "patch_19_white" };
  const SherdPoint places[] = { { 0, 0 }, { N_COLUMNS - 1, 0 }, { N_COLUMNS - 1, N_ROWS - 1 }, { 0, N_ROWS - 1 } };
  JsonObject *corners = json_object_get_object_member (photo, "corner_patch_centres");
  SherdMark marks[4];
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 4; i++)
    marks[i] = (SherdMark){ .piece_mm = places[i], .photo_px = point_of (corners, names[i]) };
  sherd_homography_fit (homography, marks, 4, 1.0, &error);
  g_assert_no_error (error);
}

static SherdRgb
mean_of (const SherdSample *sample)
{
  SherdRgb mean = { 0, 0, 0 };

  g_assert_cmpuint (sample->n, >, 50);
  for (gsize i = 0; i < sample->n; i++)
    {
      mean.r += (double)sample->linear_rgb[3 * i] / (double)sample->n;
      mean.g += (double)sample->linear_rgb[3 * i + 1] / (double)sample->n;
      mean.b += (double)sample->linear_rgb[3 * i + 2] / (double)sample->n;
    }
  return mean;
}

static void
read_chart (const char *file, Chart *chart)
{
  g_autofree char *path = shared_path (file);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhoto) photo = sherd_photo_open (path, &error);
  SherdSampleRegion regions[N_PATCHES];
  g_autoptr (GArray) samples = NULL;
  SherdHomography homography;

  g_assert_no_error (error);
  place_chart (find_photo (file), &homography);
  for (guint i = 0; i < N_PATCHES; i++)
    {
      g_autoptr (SherdOutline) window = sherd_outline_new_rectangle (
        i % N_COLUMNS - HALF_WINDOW, (double)(i / N_COLUMNS) - HALF_WINDOW, 2 * HALF_WINDOW, 2 * HALF_WINDOW);

      regions[i] = (SherdSampleRegion){ .outline_px = sherd_outline_to_photo (window, &homography), .n_most = 2000 };
    }
  samples = sherd_sample_photo (photo, regions, N_PATCHES, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < N_PATCHES; i++)
    {
      chart->linear[i] = mean_of (&g_array_index (samples, SherdSample, i));
      sherd_outline_free (regions[i].outline_px);
    }
}

static void
fit_chart (const Chart *chart, guint first, guint step, SherdCorrection *correction)
{
  SherdCorrectionPair pairs[N_PATCHES];
  gsize n_pairs = 0;
  g_autoptr (GError) error = NULL;

  for (guint i = first; i < N_PATCHES; i += step)
    pairs[n_pairs++] = (SherdCorrectionPair){ .linear = chart->linear[i], .reference = reference[i], .weight = 1 };
  sherd_correction_fit_best (correction, pairs, n_pairs, NULL, &error);
  g_assert_no_error (error);
}

static gboolean
skip_without_corpus (void)
{
  if (charts != NULL)
    return FALSE;
  g_test_skip ("no corpus of real charts beside the project");
  return TRUE;
}

static void
test_left_out_patches_come_out_right (gconstpointer file)
{
  Chart chart;
  SherdCorrection correction;

  if (skip_without_corpus ())
    return;
  read_chart (file, &chart);
  fit_chart (&chart, 0, 1, &correction);
  g_test_message ("%s: leave-one-out mean ΔE00 %.2f, worst %.2f", (const char *)file, correction.loo_mean_de00,
                  correction.loo_max_de00);
  g_assert_cmpfloat (correction.loo_mean_de00, <, LARGEST_LOO_MEAN_DE00);
}

static SherdLab
corrected (const SherdCorrection *correction, const SherdRgb *linear)
{
  SherdXyz xyz = sherd_correction_apply (correction, linear);

  return sherd_lab_from_xyz (&xyz);
}

/* Mean ΔE00 between the two charts over the patches that neither fit saw. */
static double
distance (const Chart *one, const SherdCorrection *of_one, const Chart *two, const SherdCorrection *of_two)
{
  double sum = 0;
  guint n = 0;

  for (guint i = 1; i < N_PATCHES; i += 2, n++)
    {
      SherdLab first = corrected (of_one, &one->linear[i]);
      SherdLab second = corrected (of_two, &two->linear[i]);

      sum += sherd_difference_de00 (&first, &second);
    }
  return sum / n;
}

/* Every second patch makes the fit, the others are compared. */
static void
test_two_lights_come_closer_together (void)
{
  static const char *const files[2][2] = { { "charts/full_lightA_02.jpg", "charts/full_lightB_08.jpg" },
                                           { "charts/full_lightA_04.jpg", "charts/full_lightB_10.jpg" } };

  if (skip_without_corpus ())
    return;
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      Chart chart[2];
      SherdCorrection correction[2];
      SherdCorrection none;
      double before;
      double after;

      sherd_correction_init_none (&none);
      for (guint light = 0; light < 2; light++)
        {
          read_chart (files[i][light], &chart[light]);
          fit_chart (&chart[light], 0, 2, &correction[light]);
        }
      before = distance (&chart[0], &none, &chart[1], &none);
      after = distance (&chart[0], &correction[0], &chart[1], &correction[1]);
      g_test_message ("light A to light B: mean ΔE00 %.2f as photographed, %.2f corrected", before, after);
      g_assert_cmpfloat (after, <, before);
    }
}

int
main (int argc, char **argv)
{
  static const char *const files[] = { "charts/full_lightA_02.jpg", "charts/full_lightA_04.jpg",
                                       "charts/full_lightB_08.jpg", "charts/full_lightB_10.jpg",
                                       "charts/small_lightC_07.jpg" };
  int status;

  g_test_init (&argc, &argv, NULL);
  if (g_getenv ("SHERD_SHARED_DIR") != NULL && load_reference ())
    load_charts ();
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *name = g_strdup_printf ("/measure/real-charts/left-out-patches/%s", files[i]);

      g_test_add_data_func (name, files[i], test_left_out_patches_come_out_right);
    }
  g_test_add_func ("/measure/real-charts/two-lights-come-closer-together", test_two_lights_come_closer_together);
  status = g_test_run ();
  g_clear_pointer (&charts, json_node_unref);
  return status;
}
