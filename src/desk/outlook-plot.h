/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A place in the plot: share of the right-hand oxide (0…1, by amount of substance) and temperature. */
typedef struct
{
  double share_frac;
  double temperature_c;
} SherdOutlookPoint;

/* Temperature over composition of one system of two oxides: where the last crystal melts, and where a paint stands.
 * Nothing else. */
#define SHERD_TYPE_OUTLOOK_PLOT (sherd_outlook_plot_get_type ())
G_DECLARE_FINAL_TYPE (SherdOutlookPlot, sherd_outlook_plot, SHERD, OUTLOOK_PLOT, GtkWidget)

GtkWidget *sherd_outlook_plot_new (void);

/* @left, @right: formulas of the oxides; @points: the liquidus from left to right */
void sherd_outlook_plot_set_system (SherdOutlookPlot *self,
                                    const char *left,
                                    const char *right,
                                    const SherdOutlookPoint *points,
                                    gsize n_points);
/* @share_frac: NAN for a paint outside the system; @least_frac, @most_frac: what it may be; @peak_c: NAN when not known
 */
void sherd_outlook_plot_set_paint (SherdOutlookPlot *self,
                                   double share_frac,
                                   double least_frac,
                                   double most_frac,
                                   double peak_c);

G_END_DECLS
