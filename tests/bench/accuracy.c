/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measures rendered scenes with known truth and prints how far off the measurement is.
 *
 *   accuracy [--reference chart|grey|none] [--jitter PX] [--zones] FOLDER…
 *
 * Each FOLDER holds a truth.json of a tile scene. */
#include "config.h"

#include "colour/difference.h"
#include "measure/shift.h"

#include "../measure/scene.h"

#include <math.h>
#include <stdlib.h>

#define GOOD_PIXELS 1000
#define GOOD_VIEW_DEG 55
#define GOOD_MIRROR_DEG 15

static char *reference_name = NULL;
static double jitter_px = 0;
static gboolean show_zones = FALSE;
static char **folders = NULL;

static const GOptionEntry entries[] = {
  { "reference", 'r', 0, G_OPTION_ARG_STRING, &reference_name, "What to calibrate with", "chart|grey|none" },
  { "jitter", 'j', 0, G_OPTION_ARG_DOUBLE, &jitter_px, "Move every mark by this much, as a hand would", "PX" },
  { "zones", 'z', 0, G_OPTION_ARG_NONE, &show_zones, "Print a line for every zone", NULL },
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
  List colour;     /* ΔE00, matte and unflagged */
  List black;      /* |ΔL*| of the dark ones among them */
  List level;      /* signed ΔL* */
  List axis_error; /* |error| per axis, unflagged */
  List axis_width; /* half-width of the interval per axis, unflagged */
  List covered;    /* 1 or 0 per axis, unflagged */
  List covered_axis[3];
  List glossy; /* 1: flagged or covered, of zones not matte */
  List good_flagged;
  List good_flagged_wide; /* counting every zone whose mirror direction is over 7.5° away */
  List retained;
  List shift;
  List shift_covered;
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
tally_intervals (Tally *tally, const SherdZoneColour *zone, const SherdLab *truth)
{
  const double error[3] = { zone->lab.l - truth->l, zone->lab.a - truth->a, zone->lab.b - truth->b };
  const double width[3] = { zone->upper_95.l - zone->lower_95.l, zone->upper_95.a - zone->lower_95.a,
                            zone->upper_95.b - zone->lower_95.b };

  for (guint axis = 0; axis < 3; axis++)
    {
      list_add (&tally->axis_error, fabs (error[axis]));
      list_add (&tally->axis_width, width[axis] / 2);
      list_add (&tally->covered, covers (zone, truth, axis));
      list_add (&tally->covered_axis[axis], covers (zone, truth, axis));
    }
}

static void
tally_zone (Tally *tally, const SherdZoneColour *zone, const SherdSceneTruth *truth)
{
  const gboolean good =
    truth->matte && truth->n_visible_px >= GOOD_PIXELS && truth->view_deg < GOOD_VIEW_DEG && truth->retained_frac > 0.2;

  if (zone->retained_frac >= 0)
    list_add (&tally->retained, 100 * fabs (zone->retained_frac - truth->retained_frac));
  if (good && truth->half_angle_deg > GOOD_MIRROR_DEG)
    list_add (&tally->good_flagged, zone->flags != 0);
  if (good && truth->half_angle_deg > GOOD_MIRROR_DEG / 2.0)
    list_add (&tally->good_flagged_wide, zone->flags != 0);
  if (!truth->matte)
    list_add (&tally->glossy, zone->flags != 0 || (covers (zone, &truth->lab, 0) && covers (zone, &truth->lab, 1) &&
                                                   covers (zone, &truth->lab, 2)));
  if (zone->flags)
    return;
  tally_intervals (tally, zone, &truth->lab);
  if (!truth->matte)
    return;
  list_add (&tally->colour, sherd_difference_de00 (&zone->lab, &truth->lab));
  list_add (&tally->level, zone->lab.l - truth->lab.l);
  if (truth->lab.l < 35)
    list_add (&tally->black, fabs (zone->lab.l - truth->lab.l));
}

static void
tally_shift (Tally *tally, const SherdScene *scene, SherdPhotoMeasurement **measured)
{
  for (gsize i = 0; i < scene->n_zones; i++)
    {
      const SherdSceneTruth *before = &scene->photos[0].truth[i], *after = &scene->photos[1].truth[i];
      const double true_de00 = sherd_difference_de00 (&before->lab, &after->lab);
      SherdShift shift;

      sherd_shift_between (measured[0], i, measured[1], i, TRUE, 1, &shift);
      if (!shift.measured || measured[0]->zones[i].flags || measured[1]->zones[i].flags)
        continue;
      list_add (&tally->shift, fabs (shift.difference.de00 - true_de00));
      list_add (&tally->shift_covered, true_de00 >= shift.de00_low && true_de00 <= shift.de00_high);
    }
}

static void
measure_scene (Tally *tally, const char *folder, SherdReferenceKind kind)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdScene) scene = sherd_scene_load (folder, &error);
  g_autofree SherdPhotoMeasurement **measured = NULL;

  if (scene == NULL)
    {
      g_printerr ("%s\n", error->message);
      return;
    }
  measured = g_new0 (SherdPhotoMeasurement *, scene->n_photos);
  for (gsize photo = 0; photo < scene->n_photos; photo++)
    {
      measured[photo] = sherd_scene_measure (scene, photo, kind, jitter_px, 1, &error);
      if (measured[photo] == NULL)
        {
          g_printerr ("%s\n", error->message);
          return;
        }
      for (guint i = 0; show_zones && measured[photo]->warnings[i]; i++)
        g_print ("%s %s: %s\n", scene->name, scene->photos[photo].state, measured[photo]->warnings[i]);
      if (show_zones)
        g_print ("%s %s: LOO %.2f, uneven %.2f\n", scene->name, scene->photos[photo].state,
                 measured[photo]->correction.loo_mean_de00, measured[photo]->uneven_frac);
      for (gsize i = 0; i < scene->n_zones; i++)
        {
          if (show_zones)
            print_zone (scene, photo, &measured[photo]->zones[i], &scene->photos[photo].truth[i]);
          tally_zone (tally, &measured[photo]->zones[i], &scene->photos[photo].truth[i]);
        }
    }
  if (scene->n_photos == 2)
    tally_shift (tally, scene, measured);
  for (gsize photo = 0; photo < scene->n_photos; photo++)
    sherd_photo_measurement_free (measured[photo]);
}

static void
print_tally (const Tally *tally)
{
  g_print ("colour, matte and unflagged   mean %.2f  95 %% %.2f  worst %.2f  (n %u)  mean ΔL* %+.2f\n",
           list_mean (&tally->colour), list_at (&tally->colour, 0.95), list_at (&tally->colour, 1),
           list_n (&tally->colour), list_mean (&tally->level));
  g_print ("blacks, |ΔL*|                 mean %.2f  worst %.2f  (n %u)\n", list_mean (&tally->black),
           list_at (&tally->black, 1), list_n (&tally->black));
  g_print (
    "95 %% intervals per axis       cover %.1f %% (L* %.1f, a* %.1f, b* %.1f)  median half-width %.2f  median error "
    "%.2f  ratio %.1f\n",
    100 * list_mean (&tally->covered), 100 * list_mean (&tally->covered_axis[0]),
    100 * list_mean (&tally->covered_axis[1]), 100 * list_mean (&tally->covered_axis[2]),
    list_at (&tally->axis_width, 0.5), list_at (&tally->axis_error, 0.5),
    list_at (&tally->axis_width, 0.5) / list_at (&tally->axis_error, 0.5));
  g_print ("not matte: flagged or covered %.1f %% (n %u)\n", 100 * list_mean (&tally->glossy), list_n (&tally->glossy));
  g_print ("good zones flagged            %.1f %% (n %u); with the mirror direction taken twice: %.1f %% (n %u)\n",
           100 * list_mean (&tally->good_flagged), list_n (&tally->good_flagged),
           100 * list_mean (&tally->good_flagged_wide), list_n (&tally->good_flagged_wide));
  g_print ("retained, points              mean %.2f  95 %% %.2f  worst %.2f  (n %u)\n", list_mean (&tally->retained),
           list_at (&tally->retained, 0.95), list_at (&tally->retained, 1), list_n (&tally->retained));
  g_print ("shift ΔE00                    mean error %.2f  worst %.2f  (n %u)  covered %.1f %%\n",
           list_mean (&tally->shift), list_at (&tally->shift, 1), list_n (&tally->shift),
           100 * list_mean (&tally->shift_covered));
}

static void
tally_clear (Tally *tally)
{
  /* A Tally is nothing but lists, one after the other. */
  List *lists = (List *)tally;

  for (gsize i = 0; i < sizeof *tally / sizeof (List); i++)
    g_clear_pointer (&lists[i].values, g_array_unref);
}

int
main (int argc, char **argv)
{
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  SherdReferenceKind kind = SHERD_REFERENCE_CHART;
  Tally tally = { 0 };

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || folders == NULL)
    {
      g_printerr ("%s\n", error ? error->message : "Which folders?");
      return 2;
    }
  if (g_strcmp0 (reference_name, "grey") == 0)
    kind = SHERD_REFERENCE_GREY_CARD;
  else if (g_strcmp0 (reference_name, "none") == 0)
    kind = SHERD_REFERENCE_NONE;
  for (guint i = 0; folders[i]; i++)
    measure_scene (&tally, folders[i], kind);
  print_tally (&tally);
  tally_clear (&tally);
  return 0;
}
