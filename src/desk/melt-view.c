/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/melt-view.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "chem/phase.h"
#include "desk/children.h"
#include "desk/number-entry.h"
#include "desk/outlook-plot.h"
#include "trial/outlook-words.h"

/* What a planned peak is taken to be good to: common practice, no source: a thermocouple beside the pot is 10 to 20 °C
 * off the pot. */
#define PEAK_DOUBT_C 15.0

/* No pot of this kind is fired hotter, and no fire is colder. */
#define COLDEST_PEAK_C 100.0
#define HOTTEST_PEAK_C 1500.0

/* The curve is drawn from so many places. */
#define N_PLOT_POINTS 101

struct _SherdMeltView
{
  GtkWidget parent_instance;

  SherdNumberEntry *peak_entry;
  SherdNumberEntry *minutes_entry;
  GtkLabel *words_label;
  SherdOutlookPlot *plot;

  GPtrArray *systems; /* of SherdPhaseSystem */
  SherdMeltHeat heat;
};

static guint changed_signal;

G_DEFINE_FINAL_TYPE (SherdMeltView, sherd_melt_view, GTK_TYPE_WIDGET)

static void
peak_cb (SherdMeltView *self, double peak_c)
{
  if (peak_c < COLDEST_PEAK_C || peak_c > HOTTEST_PEAK_C)
    {
      g_autofree char *reason =
        g_strdup_printf (_ ("A peak is between %.0f and %.0f °C."), COLDEST_PEAK_C, HOTTEST_PEAK_C);

      sherd_number_entry_refuse (self->peak_entry, reason);
      return;
    }
  self->heat.is_known = isfinite (peak_c);
  self->heat.peak_c = (SherdValue){ isfinite (peak_c) ? peak_c : 0.0, PEAK_DOUBT_C };
  g_signal_emit (self, changed_signal, 0);
}

static void
minutes_cb (SherdMeltView *self, double minutes)
{
  if (minutes <= 0.0)
    {
      sherd_number_entry_refuse (self->minutes_entry, _ ("This must be more than 0."));
      return;
    }
  self->heat.minutes = isfinite (minutes) ? minutes : 0.0;
  g_signal_emit (self, changed_signal, 0);
}

/* The liquidus, from the system's second oxide on the left to its first on the right. */
static void
show_system (SherdMeltView *self, const SherdPhaseSystem *system)
{
  SherdOutlookPoint points[N_PLOT_POINTS];

  for (guint i = 0; i < N_PLOT_POINTS; i++)
    {
      points[i].share_frac = (double)i / (N_PLOT_POINTS - 1);
      points[i].temperature_c = sherd_phase_liquidus_c (system, points[i].share_frac, NULL);
    }
  sherd_outlook_plot_set_system (self->plot, sherd_oxide_get_formula (system->oxides[1]),
                                 sherd_oxide_get_formula (system->oxides[0]), points, N_PLOT_POINTS);
}

static void
show_place (SherdMeltView *self, const SherdMeltOutlook *outlook)
{
  const SherdPhaseSystem *system =
    outlook->system[0] != '\0' ? sherd_phase_systems_find (self->systems, outlook->system) : NULL;
  const gboolean has_plot = system != NULL && system->has_liquidus && system->n_oxides == 2;

  gtk_widget_set_visible (GTK_WIDGET (self->plot), has_plot);
  if (!has_plot)
    return;
  show_system (self, system);
  sherd_outlook_plot_set_paint (self->plot, outlook->place_frac, outlook->place_range_frac.low,
                                outlook->place_range_frac.high, self->heat.is_known ? self->heat.peak_c.value : NAN);
}

/* The verdict is the first line and stands out from its reasons. */
static void
show_words (SherdMeltView *self, const char *words)
{
  g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();
  PangoAttribute *bold = pango_attr_weight_new (PANGO_WEIGHT_BOLD);

  bold->start_index = 0;
  bold->end_index = (guint)strcspn (words, "\n");
  pango_attr_list_insert (attributes, bold);
  gtk_label_set_attributes (self->words_label, attributes);
  gtk_label_set_text (self->words_label, words);
}

/**
 * sherd_melt_view_show:
 * @self: a view
 * @facts: of a paint
 *
 * Shows whether it can melt in the firing that is planned.
 */
void
sherd_melt_view_show (SherdMeltView *self, const SherdMixFacts *facts)
{
  SherdMeltOutlook outlook;
  g_autofree char *words = NULL;

  sherd_melt_outlook (facts, &self->heat, self->systems, &outlook);
  words = sherd_outlook_dup_words (&outlook);
  show_words (self, words);
  show_place (self, &outlook);
}

static void
sherd_melt_view_dispose (GObject *object)
{
  SherdMeltView *self = SHERD_MELT_VIEW (object);

  sherd_children_drop (GTK_WIDGET (self));
  g_clear_pointer (&self->systems, g_ptr_array_unref);
  G_OBJECT_CLASS (sherd_melt_view_parent_class)->dispose (object);
}

static void
sherd_melt_view_class_init (SherdMeltViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_melt_view_dispose;
  g_type_ensure (SHERD_TYPE_NUMBER_ENTRY);
  g_type_ensure (SHERD_TYPE_OUTLOOK_PLOT);
  changed_signal =
    g_signal_new ("changed", SHERD_TYPE_MELT_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/melt-view.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdMeltView, peak_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdMeltView, minutes_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdMeltView, words_label);
  gtk_widget_class_bind_template_child (widget_class, SherdMeltView, plot);
  gtk_widget_class_bind_template_callback (widget_class, peak_cb);
  gtk_widget_class_bind_template_callback (widget_class, minutes_cb);
}

static void
sherd_melt_view_init (SherdMeltView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->systems = sherd_phase_systems_new_built_in ();
}
