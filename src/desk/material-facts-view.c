/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/material-facts-view.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "chem/yield.h"
#include "desk/children.h"
#include "desk/fact-table.h"
#include "trial/format.h"
#include "trial/material-substance.h"

/* Of a doubt that is shown (JCGM 100:2008, 6.2.1). */
#define COVERAGE 2.0

struct _SherdMaterialFactsView
{
  GtkWidget parent_instance;

  GtkWidget *cautions_box;
  GtkLabel *cautions_label;
  GtkLabel *missing_label;
  SherdFactTable *table;
  GtkWidget *heat_box;
  GtkLabel *heat_label;
  GtkLabel *source_label;
};

G_DEFINE_FINAL_TYPE (SherdMaterialFactsView, sherd_material_facts_view, GTK_TYPE_WIDGET)

static void
append_line (GString *lines, const char *line)
{
  g_string_append_printf (lines, "%s%s", lines->len > 0 ? "\n" : "", line);
}

static void
show_cautions (SherdMaterialFactsView *self, const SherdSubstance *substance)
{
  const SherdHazards hazards = sherd_substance_get_hazards (substance);
  g_autoptr (GString) lines = g_string_new (NULL);

  for (guint i = 0; i < SHERD_N_HAZARDS; i++)
    if ((hazards & (1u << i)) != 0)
      append_line (lines, sherd_hazard_get_caution ((SherdHazards)(1u << i)));
  append_line (lines, sherd_hazards_get_deference ());
  gtk_label_set_text (self->cautions_label, lines->str);
}

static void
add_value (SherdMaterialFactsView *self, const char *name, SherdValue frac)
{
  g_autofree char *pct = sherd_format_uncertain (100.0 * frac.value, 100.0 * COVERAGE * frac.u);

  sherd_fact_table_add_row (self->table, name, pct, NULL);
}

static void
fill_table (SherdMaterialFactsView *self, const SherdYield *yield)
{
  sherd_fact_table_add_heading (self->table, "", /* xgettext:no-c-format */
                                _ ("% of its mass"), NULL);
  for (int oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    if (yield->oxide_frac[oxide].value > 0.0)
      add_value (self, sherd_oxide_get_formula ((SherdOxide)oxide), yield->oxide_frac[oxide]);
  add_value (self, _ ("Lost (− means gained)"), yield->lost_frac);
}

static void
show_yield (SherdMaterialFactsView *self, const SherdSubstance *substance)
{
  g_autoptr (GError) error = NULL;
  SherdYield yield;
  const gboolean is_known = sherd_substance_get_yield (substance, &yield, &error);

  sherd_fact_table_begin (self->table, _ ("After firing in air"));
  if (is_known)
    fill_table (self, &yield);
  sherd_fact_table_end (self->table);
  gtk_label_set_text (self->missing_label, is_known ? "" : error->message);
  gtk_widget_set_visible (GTK_WIDGET (self->missing_label), !is_known);
}

static void
show_words (GtkLabel *label, GtkWidget *box, const char *words)
{
  gtk_label_set_text (label, words);
  gtk_widget_set_visible (box, *words != '\0');
}

static void
show_nothing (SherdMaterialFactsView *self, const GError *error)
{
  sherd_fact_table_begin (self->table, _ ("After firing in air"));
  sherd_fact_table_end (self->table);
  gtk_label_set_text (self->cautions_label, sherd_hazards_get_deference ());
  gtk_label_set_text (self->missing_label, error->message);
  gtk_widget_set_visible (GTK_WIDGET (self->missing_label), TRUE);
}

/**
 * sherd_material_facts_view_show:
 * @self: a view
 * @record: what is known of a material
 *
 * Shows what follows; where nothing does, what is missing.
 */
void
sherd_material_facts_view_show (SherdMaterialFactsView *self, const SherdMaterialRecord *record)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdSubstance) substance = sherd_material_record_dup_substance (record, record->origin, &error);

  show_words (self->heat_label, self->heat_box, record->heating);
  show_words (self->source_label, GTK_WIDGET (self->source_label), record->source);
  if (substance == NULL)
    {
      show_nothing (self, error);
      return;
    }
  show_cautions (self, substance);
  show_yield (self, substance);
}

static void
sherd_material_facts_view_dispose (GObject *object)
{
  sherd_children_drop (GTK_WIDGET (object));
  G_OBJECT_CLASS (sherd_material_facts_view_parent_class)->dispose (object);
}

static void
sherd_material_facts_view_class_init (SherdMaterialFactsViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_material_facts_view_dispose;
  g_type_ensure (SHERD_TYPE_FACT_TABLE);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/material-facts-view.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialFactsView, cautions_box);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialFactsView, cautions_label);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialFactsView, missing_label);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialFactsView, table);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialFactsView, heat_box);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialFactsView, heat_label);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialFactsView, source_label);
}

static void
sherd_material_facts_view_init (SherdMaterialFactsView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
