/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measures rendered scenes with known truth and prints how far off the measurement is.
 *
 *   accuracy [--reference chart|grey|none] [--jitter PX] [--zones] [--csv FILE] FOLDER…
 *
 * Each FOLDER holds a truth.json of a tile scene. */
#include "config.h"

#include "colour/difference.h"
#include "measure/shift.h"

#include "../measure/scene.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define GOOD_PIXELS 1000
#define GOOD_VIEW_DEG 55
#define GOOD_MIRROR_DEG 15
#define BLACK_L 35
#define MOST_PHOTOS 2
/* A shift that everybody would call one (our choice). */
#define LARGE_SHIFT_DE00 3.0

static char *reference_name = NULL;
static double jitter_px = 0;
static gboolean show_zones = FALSE;
static char *csv_path = NULL;
static char **folders = NULL;

static const char *const gloss_names[SHERD_SCENE_N_GLOSS] = { "matte", "satin", "glossy" };

static const GOptionEntry entries[] = {
  { "reference", 'r', 0, G_OPTION_ARG_STRING, &reference_name, "What to calibrate with", "chart|grey|none" },
  { "jitter", 'j', 0, G_OPTION_ARG_DOUBLE, &jitter_px, "Move every mark by this much, as a hand would", "PX" },
  { "zones", 'z', 0, G_OPTION_ARG_NONE, &show_zones, "Print a line for every zone", NULL },
  { "csv", 'c', 0, G_OPTION_ARG_FILENAME, &csv_path, "Write a row for every zone, with the parts of its budget",
    "FILE" },
  { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &folders, NULL, "FOLDER…" },
  G_OPTION_ENTRY_NULL
};

/* Growing list of numbers with what is wanted of them. */
typedef struct
{
  GArray *values;
} List;

static void
list_add (List *list, double value)
{
  if (list->values == NULL)
    list->values = g_array_new (FALSE, FALSE, sizeof (double));
  g_array_append_val (list->values, value);
}

static int
compare (gconstpointer a, gconstpointer b)
{
  const double difference = *(const double *)a - *(const double *)b;

  return (difference > 0) - (difference < 0);
}

static double
list_mean (const List *list)
{
  double sum = 0;

  for (guint i = 0; list->values && i < list->values->len; i++)
    sum += g_array_index (list->values, double, i);
  return list->values ? sum / list->values->len : NAN;
}

static double
list_at (const List *list, double share)
{
  if (list->values == NULL)
    return NAN;
  g_array_sort (list->values, compare);
  return g_array_index (list->values, double, (guint)(share * (list->values->len - 1)));
}

static guint
list_n (const List *list)
{
  return list->values ? list->values->len : 0;
}

typedef struct
{
  List colour;                             /* ΔE00, matte and unflagged */
  List black;                              /* |ΔL*| of the dark ones among them */
  List level;                              /* signed ΔL* */
  List axis_error;                         /* |error| per axis, unflagged */
  List axis_width;                         /* half-width of the interval per axis, unflagged */
  List covered[3];                         /* 1 or 0 per axis, unflagged */
  List covered_gloss[SHERD_SCENE_N_GLOSS]; /* the three axes together, by how the surface really shines */
  List width_gloss[SHERD_SCENE_N_GLOSS];
  List flagged_gloss[SHERD_SCENE_N_GLOSS];
  List flagged_covered; /* per axis, of flagged zones that have a colour all the same */
  List good_flagged;
  List good_flagged_wide; /* counting every zone whose mirror direction is over 7.5° away */
  List retained;
  List shift; /* |error|, neither side flagged */
  List shift_covered;
  List shift_half_width;
  List shift_covered_flagged; /* either side flagged but measured */
  List large_called;          /* 1 or 0: shifts over LARGE_SHIFT_DE00 that are called a change */
  List large_called_flagged;
  List still_called; /* and of pairs that truly are the same, both matte */
  List still_called_shiny;
} Tally;

static gboolean
covers (const SherdZoneColour *zone, const SherdLab *truth, guint axis)
{
  const double lower[3] = { zone->lower_95.l, zone->lower_95.a, zone->lower_95.b };
  const double upper[3] = { zone->upper_95.l, zone->upper_95.a, zone->upper_95.b };
  const double at[3] = { truth->l, truth->a, truth->b };

  return at[axis] >= lower[axis] && at[axis] <= upper[axis];
}

static void
print_zone (const SherdScene *scene, gsize photo, const SherdZoneColour *zone, const SherdSceneTruth *truth)
{
  g_autofree char *words = sherd_zone_flags_to_text (zone->flags);

  g_print ("%-10s %-7s %-4s %s h %4.1f L %5.1f  err %6.2f %6.2f %6.2f  de %6.2f  low %5.2f %5.2f %5.2f up %5.2f %5.2f "
           "%5.2f%s  ret %.3f err %5.1f  n %u  %s\n",
           scene->name, scene->photos[photo].state, zone->code, truth->matte ? "matte" : "shiny", truth->half_angle_deg,
           truth->lab.l, zone->lab.l - truth->lab.l, zone->lab.a - truth->lab.a, zone->lab.b - truth->lab.b,
           sherd_difference_de00 (&zone->lab, &truth->lab), zone->lab.l - zone->lower_95.l,
           zone->lab.a - zone->lower_95.a, zone->lab.b - zone->lower_95.b, zone->upper_95.l - zone->lab.l,
           zone->upper_95.a - zone->lab.a, zone->upper_95.b - zone->lab.b,
           covers (zone, &truth->lab, 0) && covers (zone, &truth->lab, 1) && covers (zone, &truth->lab, 2) ? " " : "!",
           truth->retained_frac, 100 * (zone->retained_frac - truth->retained_frac), zone->n_pixels,
           words ? words : "");
}

static void
tally_intervals (Tally *tally, const SherdZoneColour *zone, const SherdSceneTruth *truth)
{
  const double error[3] = { zone->lab.l - truth->lab.l, zone->lab.a - truth->lab.a, zone->lab.b - truth->lab.b };
  const double width[3] = { zone->upper_95.l - zone->lower_95.l, zone->upper_95.a - zone->lower_95.a,
                            zone->upper_95.b - zone->lower_95.b };

  for (guint axis = 0; axis < 3; axis++)
    {
      list_add (&tally->axis_error, fabs (error[axis]));
      list_add (&tally->axis_width, width[axis] / 2);
      list_add (&tally->covered[axis], covers (zone, &truth->lab, axis));
      list_add (&tally->covered_gloss[truth->gloss], covers (zone, &truth->lab, axis));
      list_add (&tally->width_gloss[truth->gloss], width[axis] / 2);
    }
}

static void
tally_flags (Tally *tally, const SherdZoneColour *zone, const SherdSceneTruth *truth)
{
  const gboolean good =
    truth->matte && truth->n_visible_px >= GOOD_PIXELS && truth->view_deg < GOOD_VIEW_DEG && truth->retained_frac > 0.2;

  list_add (&tally->flagged_gloss[truth->gloss], zone->flags != 0);
  if (good && truth->half_angle_deg > GOOD_MIRROR_DEG)
    list_add (&tally->good_flagged, zone->flags != 0);
  if (good && truth->half_angle_deg > GOOD_MIRROR_DEG / 2.0)
    list_add (&tally->good_flagged_wide, zone->flags != 0);
  for (guint axis = 0; zone->flags && sherd_zone_colour_is_measured (zone) && axis < 3; axis++)
    list_add (&tally->flagged_covered, covers (zone, &truth->lab, axis));
}

static void
tally_zone (Tally *tally, const SherdZoneColour *zone, const SherdSceneTruth *truth)
{
  if (zone->retained_frac >= 0)
    list_add (&tally->retained, 100 * fabs (zone->retained_frac - truth->retained_frac));
  tally_flags (tally, zone, truth);
  if (zone->flags)
    return;
  tally_intervals (tally, zone, truth);
  if (!truth->matte)
    return;
  list_add (&tally->colour, sherd_difference_de00 (&zone->lab, &truth->lab));
  list_add (&tally->level, zone->lab.l - truth->lab.l);
  if (truth->lab.l < BLACK_L)
    list_add (&tally->black, fabs (zone->lab.l - truth->lab.l));
}

static void
move_zone (SherdZoneColour *zone, const SherdLab *from, const SherdLab *to)
{
  SherdLab *at[3] = { &zone->lab, &zone->lower_95, &zone->upper_95 };

  for (guint k = 0; k < G_N_ELEMENTS (at); k++)
    {
      at[k]->l += to->l - from->l;
      at[k]->a += to->a - from->a;
      at[k]->b += to->b - from->b;
    }
}

/* A shift whose true size is 0: one side is moved to where the other truly is. Mirrored light bends what it lies on, so
 * a side that shines stays where it is. */
static gboolean
still_is_called (const SherdScene *scene, gsize zone, const SherdPhotoMeasurement **measured)
{
  const SherdSceneTruth *before = &scene->photos[0].truth[zone], *after = &scene->photos[1].truth[zone];
  SherdZoneColour sides[2] = { measured[0]->zones[zone], measured[1]->zones[zone] };
  SherdShift shift;

  if (before->matte)
    move_zone (&sides[0], &before->lab, &after->lab);
  else
    move_zone (&sides[1], &after->lab, &before->lab);
  sherd_shift (&sides[0], &sides[1], measured[0]->patches, measured[1]->patches, measured[0]->n_patches, 1, &shift);
  return shift.measured && shift.real;
}

static void
tally_one_shift (Tally *tally, const SherdScene *scene, gsize zone, const SherdPhotoMeasurement **measured)
{
  const SherdSceneTruth *before = &scene->photos[0].truth[zone], *after = &scene->photos[1].truth[zone];
  const guint flags = measured[0]->zones[zone].flags | measured[1]->zones[zone].flags;
  const double true_de00 = sherd_difference_de00 (&before->lab, &after->lab);
  gboolean covered;
  SherdShift shift;

  sherd_shift_between (measured[0], zone, measured[1], zone, TRUE, 1, &shift);
  if (!shift.measured)
    return;
  covered = true_de00 >= shift.de00_low && true_de00 <= shift.de00_high;
  list_add (before->matte && after->matte ? &tally->still_called : &tally->still_called_shiny,
            still_is_called (scene, zone, measured));
  if (true_de00 > LARGE_SHIFT_DE00)
    list_add (flags ? &tally->large_called_flagged : &tally->large_called, shift.real);
  list_add (flags ? &tally->shift_covered_flagged : &tally->shift_covered, covered);
  if (flags)
    return;
  list_add (&tally->shift, fabs (shift.difference.de00 - true_de00));
  list_add (&tally->shift_half_width, (shift.de00_high - shift.de00_low) / 2);
}

static void
write_csv_row (FILE *csv,
               const SherdScene *scene,
               gsize photo,
               const SherdZoneColour *zone,
               const SherdSceneTruth *truth)
{
  const double lower[3] = { zone->lower_95.l, zone->lower_95.a, zone->lower_95.b };
  const double upper[3] = { zone->upper_95.l, zone->upper_95.a, zone->upper_95.b };
  const double at[3] = { zone->lab.l, zone->lab.a, zone->lab.b };
  const double real[3] = { truth->lab.l, truth->lab.a, truth->lab.b };
  static const char axes[] = "Lab";

  for (guint i = 0; i < 3; i++)
    fprintf (csv, "%s,%s,%s,%c,%s,%.2f,%.1f,%u,%.4f,%.4f,%u,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f\n", scene->name,
             scene->photos[photo].state, zone->code, axes[i], gloss_names[truth->gloss], truth->half_angle_deg,
             truth->view_deg, truth->n_visible_px, truth->retained_frac, zone->retained_frac, zone->flags, real[i],
             at[i], lower[i], upper[i], sqrt (zone->scatter[i][i]), sqrt (zone->reference[i][i]),
             sqrt (zone->light[i][i]), sqrt (zone->registration[i][i]));
}

static void
write_csv_head (FILE *csv)
{
  fputs ("scene,state,zone,axis,gloss,half_angle_deg,view_deg,visible_px,retained_true,retained,flags,true,measured,"
         "lower_95,upper_95,u_scatter,u_reference,u_light,u_registration\n",
         csv);
}

static void
print_photo (const SherdScene *scene, gsize photo, const SherdPhotoMeasurement *measured)
{
  for (guint i = 0; measured->warnings[i]; i++)
    g_print ("%s %s: %s\n", scene->name, scene->photos[photo].state, measured->warnings[i]);
  g_print ("%s %s: LOO %.2f, uneven %.2f\n", scene->name, scene->photos[photo].state,
           measured->correction.loo_mean_de00, measured->uneven_frac);
  for (gsize i = 0; i < scene->n_zones; i++)
    print_zone (scene, photo, &measured->zones[i], &scene->photos[photo].truth[i]);
}

static void
judge_photo (Tally *tally, FILE *csv, const SherdScene *scene, gsize photo, const SherdPhotoMeasurement *measured)
{
  if (show_zones)
    print_photo (scene, photo, measured);
  for (gsize i = 0; i < scene->n_zones; i++)
    {
      tally_zone (tally, &measured->zones[i], &scene->photos[photo].truth[i]);
      if (csv)
        write_csv_row (csv, scene, photo, &measured->zones[i], &scene->photos[photo].truth[i]);
    }
}

static void
measure_scene (Tally *tally, FILE *csv, const char *folder, SherdReferenceKind kind)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdScene) scene = sherd_scene_load (folder, &error);
  const SherdPhotoMeasurement *measured[MOST_PHOTOS] = { NULL };

  for (gsize photo = 0; scene && photo < MIN (scene->n_photos, MOST_PHOTOS); photo++)
    {
      measured[photo] = sherd_scene_measure (scene, photo, kind, jitter_px, 1, &error);
      if (measured[photo])
        judge_photo (tally, csv, scene, photo, measured[photo]);
    }
  if (error)
    g_printerr ("%s\n", error->message);
  for (gsize i = 0; measured[0] && measured[1] && i < scene->n_zones; i++)
    tally_one_shift (tally, scene, i, measured);
  for (gsize photo = 0; photo < MOST_PHOTOS; photo++)
    sherd_photo_measurement_free ((SherdPhotoMeasurement *)measured[photo]);
}

static double
percent (const List *list)
{
  return 100 * list_mean (list);
}

static void
print_intervals (const Tally *tally)
{
  g_print ("95 %% intervals, no remark      cover L* %.1f, a* %.1f, b* %.1f %% (n %u each)  median half-width %.2f  "
           "median error %.2f  ratio %.1f\n",
           percent (&tally->covered[0]), percent (&tally->covered[1]), percent (&tally->covered[2]),
           list_n (&tally->covered[0]), list_at (&tally->axis_width, 0.5), list_at (&tally->axis_error, 0.5),
           list_at (&tally->axis_width, 0.5) / list_at (&tally->axis_error, 0.5));
  for (guint gloss = 0; gloss < SHERD_SCENE_N_GLOSS; gloss++)
    g_print (
      "  %-7s                     cover %.1f %% (n %u)  median half-width %.2f; with a remark %.1f %% of %u zones\n",
      gloss_names[gloss], percent (&tally->covered_gloss[gloss]), list_n (&tally->covered_gloss[gloss]),
      list_at (&tally->width_gloss[gloss], 0.5), percent (&tally->flagged_gloss[gloss]),
      list_n (&tally->flagged_gloss[gloss]));
  g_print ("  with a remark, measured     cover %.1f %% (n %u)\n", percent (&tally->flagged_covered),
           list_n (&tally->flagged_covered));
}

static void
print_shifts (const Tally *tally)
{
  g_print (
    "shift ΔE00, no remark         mean error %.2f  worst %.2f  (n %u)  covered %.1f %%  median half-width %.2f\n",
    list_mean (&tally->shift), list_at (&tally->shift, 1), list_n (&tally->shift), percent (&tally->shift_covered),
    list_at (&tally->shift_half_width, 0.5));
  g_print ("  with a remark               covered %.1f %% (n %u)\n", percent (&tally->shift_covered_flagged),
           list_n (&tally->shift_covered_flagged));
  g_print ("  over %.0f called a change      %.1f %% (n %u); with a remark %.1f %% (n %u)\n", LARGE_SHIFT_DE00,
           percent (&tally->large_called), list_n (&tally->large_called), percent (&tally->large_called_flagged),
           list_n (&tally->large_called_flagged));
  g_print ("  none called a change        matte %.1f %% (n %u), else %.1f %% (n %u)\n", percent (&tally->still_called),
           list_n (&tally->still_called), percent (&tally->still_called_shiny), list_n (&tally->still_called_shiny));
}

static void
print_tally (const Tally *tally)
{
  g_print ("colour, matte, no remark      mean %.2f  95 %% %.2f  worst %.2f  (n %u)  mean ΔL* %+.2f\n",
           list_mean (&tally->colour), list_at (&tally->colour, 0.95), list_at (&tally->colour, 1),
           list_n (&tally->colour), list_mean (&tally->level));
  g_print ("blacks, |ΔL*|                 mean %.2f  worst %.2f  (n %u)\n", list_mean (&tally->black),
           list_at (&tally->black, 1), list_n (&tally->black));
  print_intervals (tally);
  g_print ("good zones flagged            %.1f %% (n %u); with the mirror direction taken twice: %.1f %% (n %u)\n",
           percent (&tally->good_flagged), list_n (&tally->good_flagged), percent (&tally->good_flagged_wide),
           list_n (&tally->good_flagged_wide));
  g_print ("retained, points              mean %.2f  95 %% %.2f  worst %.2f  (n %u)\n", list_mean (&tally->retained),
           list_at (&tally->retained, 0.95), list_at (&tally->retained, 1), list_n (&tally->retained));
  print_shifts (tally);
}

static void
tally_clear (Tally *tally)
{
  /* A Tally is nothing but lists, one after the other. */
  List *lists = (List *)tally;

  for (gsize i = 0; i < sizeof *tally / sizeof (List); i++)
    g_clear_pointer (&lists[i].values, g_array_unref);
}

static SherdReferenceKind
reference_kind (void)
{
  if (g_strcmp0 (reference_name, "grey") == 0)
    return SHERD_REFERENCE_GREY_CARD;
  return g_strcmp0 (reference_name, "none") == 0 ? SHERD_REFERENCE_NONE : SHERD_REFERENCE_CHART;
}

int
main (int argc, char **argv)
{
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  Tally tally = { 0 };
  FILE *csv;

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || folders == NULL)
    {
      g_printerr ("%s\n", error ? error->message : "Which folders?");
      return 2;
    }
  csv = csv_path ? fopen (csv_path, "w") : NULL;
  if (csv)
    write_csv_head (csv);
  for (guint i = 0; folders[i]; i++)
    measure_scene (&tally, csv, folders[i], reference_kind ());
  print_tally (&tally);
  tally_clear (&tally);
  if (csv && fclose (csv) != 0)
    {
      g_printerr ("%s could not be written.\n", csv_path);
      return 1;
    }
  return 0;
}
