/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/station-stack.h"

#include "desk/paints-station.h"
#include "desk/photographs-station.h"
#include "desk/piece-station.h"
#include "desk/results-station.h"
#include "desk/wheel.h"

static void
show_in_paints (GtkWidget *station, SherdTrial *trial)
{
  sherd_paints_station_set_trial (SHERD_PAINTS_STATION (station), trial);
}

static void
show_in_piece (GtkWidget *station, SherdTrial *trial)
{
  sherd_piece_station_set_trial (SHERD_PIECE_STATION (station), trial);
}

static void
show_in_photographs (GtkWidget *station, SherdTrial *trial)
{
  sherd_photographs_station_set_trial (SHERD_PHOTOGRAPHS_STATION (station), trial);
}

static void
show_in_results (GtkWidget *station, SherdTrial *trial)
{
  sherd_results_station_set_trial (SHERD_RESULTS_STATION (station), trial);
}

typedef struct
{
  const char *name;
  GType (*get_type) (void);
  void (*show) (GtkWidget *station, SherdTrial *trial);
} StationKind;

static const StationKind kinds[] = {
  { "paints", sherd_paints_station_get_type, show_in_paints },
  { "piece", sherd_piece_station_get_type, show_in_piece },
  { "photographs", sherd_photographs_station_get_type, show_in_photographs },
  { "results", sherd_results_station_get_type, show_in_results },
};

static const StationKind *
find_kind (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_str_equal (kinds[i].name, name))
      return &kinds[i];
  return NULL;
}

/**
 * sherd_station_stack_ensure:
 * @stack: holds the stations
 * @name: of a station
 * @trial: the trial that is open
 *
 * Returns: (transfer none): the station, made if need be, with @trial; NULL when there is none of that name
 */
GtkWidget *
sherd_station_stack_ensure (GtkStack *stack, const char *name, SherdTrial *trial)
{
  GtkWidget *station = gtk_stack_get_child_by_name (stack, name);
  const StationKind *kind = find_kind (name);

  g_return_val_if_fail (kind != NULL, NULL);
  if (station != NULL)
    return station;
  station = g_object_new (kind->get_type (), NULL);
  sherd_wheel_leave_numbers (station);
  gtk_stack_add_named (stack, station, name);
  kind->show (station, trial);
  return station;
}

/**
 * sherd_station_stack_set_trial:
 * @stack: holds the stations
 * @trial: takes the place of another in those that there are
 */
void
sherd_station_stack_set_trial (GtkStack *stack, SherdTrial *trial)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      GtkWidget *station = gtk_stack_get_child_by_name (stack, kinds[i].name);

      if (station != NULL)
        kinds[i].show (station, trial);
    }
}
