/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/paint-compare.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "desk/children.h"
#include "desk/fact-table.h"
#include "trial/format.h"
#include "trial/paint-facts.h"
#include "trial/recipe-words.h"

/* Of a doubt that is shown (JCGM 100:2008, 6.2.1). */
#define COVERAGE 2.0

#define NO_VALUE "–"

struct _SherdPaintCompare
{
  GtkWidget parent_instance;

  GtkLabel *heading;
  GtkDropDown *other_chooser;
  SherdFactTable *table;

  SherdTrial *trial;
  SherdPaint *paint;
  char *other_id;
  gboolean is_showing;
};

static guint closed_signal;

G_DEFINE_FINAL_TYPE (SherdPaintCompare, sherd_paint_compare, GTK_TYPE_WIDGET)

/* The two that are compared. */
typedef struct
{
  SherdPaint *paints[2];
  SherdPaintFacts *facts[2];
} Pair;

static char *
dup_value (SherdValue value, double factor)
{
  return isfinite (value.value) ? sherd_format_uncertain (factor * value.value, COVERAGE * fabs (factor) * value.u)
                                : g_strdup (NO_VALUE);
}

/* Rows for the ingredients of one, with the share of the same in both; those shown already are left out. */
static char *
dup_share_of (const Pair *pair, guint which, const SherdIngredient *wanted)
{
  const SherdRecipe *recipe = sherd_paint_get_recipe (pair->paints[which]);

  if (pair->facts[which]->mix == NULL)
    return g_strdup (NO_VALUE);
  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (g_strcmp0 (recipe->ingredients[i].material_id, wanted->material_id) == 0 &&
        g_strcmp0 (recipe->ingredients[i].paint_id, wanted->paint_id) == 0)
      return dup_value (g_array_index (pair->facts[which]->mix->shares, SherdMixShare, i).mass_frac, 100.0);
  return g_strdup (NO_VALUE);
}

static gboolean
has_ingredient (SherdPaint *paint, const SherdIngredient *wanted)
{
  const SherdRecipe *recipe = sherd_paint_get_recipe (paint);

  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (g_strcmp0 (recipe->ingredients[i].material_id, wanted->material_id) == 0 &&
        g_strcmp0 (recipe->ingredients[i].paint_id, wanted->paint_id) == 0)
      return TRUE;
  return FALSE;
}

static void
add_ingredients (SherdPaintCompare *self, const Pair *pair, guint which)
{
  const SherdRecipe *recipe = sherd_paint_get_recipe (pair->paints[which]);

  for (guint i = 0; i < recipe->n_ingredients; i++)
    {
      const SherdIngredient *ingredient = &recipe->ingredients[i];
      g_autofree char *name = sherd_ingredient_dup_name (self->trial, ingredient);
      g_autofree char *first = dup_share_of (pair, 0, ingredient);
      g_autofree char *second = dup_share_of (pair, 1, ingredient);

      if (which == 0 || !has_ingredient (pair->paints[0], ingredient))
        sherd_fact_table_add_row (self->table, name, first, second, NULL);
    }
}

/* (nullable): of the fired paint */
static const SherdFiredOxide *
find_oxide (SherdPaintFacts *facts, SherdOxide oxide)
{
  for (guint i = 0; facts->mix != NULL && i < facts->mix->oxides->len; i++)
    {
      const SherdFiredOxide *fired = &g_array_index (facts->mix->oxides, SherdFiredOxide, i);

      if (fired->oxide == oxide)
        return fired;
    }
  return NULL;
}

static char *
dup_mass (const SherdFiredOxide *fired)
{
  return fired != NULL ? dup_value (fired->mass_pct, 1.0) : g_strdup (NO_VALUE);
}

static char *
dup_per_flux (const SherdFiredOxide *fired)
{
  return fired != NULL ? dup_value (fired->per_flux, 1.0) : g_strdup (NO_VALUE);
}

static void
add_oxides (SherdPaintCompare *self, const Pair *pair, char *(*dup_text) (const SherdFiredOxide *fired))
{
  for (int oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    {
      const SherdFiredOxide *fired[2] = { find_oxide (pair->facts[0], (SherdOxide)oxide),
                                          find_oxide (pair->facts[1], (SherdOxide)oxide) };
      g_autofree char *first = dup_text (fired[0]);
      g_autofree char *second = dup_text (fired[1]);

      if (fired[0] != NULL || fired[1] != NULL)
        sherd_fact_table_add_row (self->table, sherd_oxide_get_formula ((SherdOxide)oxide), first, second, NULL);
    }
}

static char *
dup_lost (SherdPaintFacts *facts)
{
  return facts->mix != NULL ? dup_value (facts->mix->lost_frac, 100.0) : g_strdup (NO_VALUE);
}

static void
fill_table (SherdPaintCompare *self, const Pair *pair)
{
  g_autofree char *lost = dup_lost (pair->facts[0]);
  g_autofree char *other_lost = dup_lost (pair->facts[1]);
  const char *first = sherd_paint_get_code (pair->paints[0]), *second = sherd_paint_get_code (pair->paints[1]);

  sherd_fact_table_begin (self->table, _ ("Two paints side by side"));
  sherd_fact_table_add_heading (self->table, _ ("Dry mixture, mass %"), first, second, NULL);
  add_ingredients (self, pair, 0);
  add_ingredients (self, pair, 1);
  sherd_fact_table_add_row (self->table, _ ("Lost in the fire, %"), lost, other_lost, NULL);
  sherd_fact_table_add_heading (self->table, _ ("After firing, mass %"), first, second, NULL);
  add_oxides (self, pair, dup_mass);
  sherd_fact_table_add_heading (self->table, _ ("Moles per mole of fluxes"), first, second, NULL);
  add_oxides (self, pair, dup_per_flux);
  sherd_fact_table_end (self->table);
}

/* Any other paint, unless the one chosen before is still there. */
static SherdPaint *
find_other (SherdPaintCompare *self)
{
  SherdPaint *other = self->other_id != NULL ? sherd_trial_find_paint (self->trial, self->other_id) : NULL;
  GListModel *paints = sherd_trial_get_paints (self->trial);

  for (guint i = 0; (other == NULL || other == self->paint) && i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      other = paint;
    }
  return other != self->paint ? other : NULL;
}

static void
show_others (SherdPaintCompare *self, SherdPaint *shown)
{
  GListModel *paints = sherd_trial_get_paints (self->trial);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  guint selected = 0;

  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      gtk_string_list_take (names, sherd_format_paint (paint));
      if (paint == shown)
        selected = i;
    }
  gtk_drop_down_set_model (self->other_chooser, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->other_chooser, selected);
}

static void
show_pair (SherdPaintCompare *self, SherdPaint *other)
{
  g_autoptr (SherdPaintFacts) facts = sherd_paint_facts_new (self->trial, self->paint, 0, NULL);
  g_autoptr (SherdPaintFacts) other_facts = sherd_paint_facts_new (self->trial, other, 0, NULL);
  const Pair pair = { { self->paint, other }, { facts, other_facts } };

  fill_table (self, &pair);
}

/**
 * sherd_paint_compare_show:
 * @self: a comparison
 * @trial: the trial
 * @paint: one of its paints, to stand on the left
 */
void
sherd_paint_compare_show (SherdPaintCompare *self, SherdTrial *trial, SherdPaint *paint)
{
  g_autofree char *name = sherd_format_paint (paint);
  g_autofree char *heading = g_strdup_printf (_ ("%s beside"), name);
  SherdPaint *other;

  g_set_object (&self->trial, trial);
  g_set_object (&self->paint, paint);
  other = find_other (self);
  self->is_showing = TRUE;
  gtk_label_set_text (self->heading, heading);
  show_others (self, other);
  if (other != NULL)
    show_pair (self, other);
  self->is_showing = FALSE;
}

static void
other_cb (SherdPaintCompare *self)
{
  g_autoptr (SherdPaint) other = NULL;

  if (self->is_showing || self->trial == NULL)
    return;
  other =
    g_list_model_get_item (sherd_trial_get_paints (self->trial), gtk_drop_down_get_selected (self->other_chooser));
  g_free (self->other_id);
  self->other_id = other != NULL ? g_strdup (sherd_part_get_id (SHERD_PART (other))) : NULL;
  if (other != NULL)
    show_pair (self, other);
}

static void
close_cb (SherdPaintCompare *self)
{
  g_signal_emit (self, closed_signal, 0);
}

static void
sherd_paint_compare_dispose (GObject *object)
{
  SherdPaintCompare *self = SHERD_PAINT_COMPARE (object);

  sherd_children_drop (GTK_WIDGET (self));
  g_clear_object (&self->paint);
  g_clear_object (&self->trial);
  g_clear_pointer (&self->other_id, g_free);
  G_OBJECT_CLASS (sherd_paint_compare_parent_class)->dispose (object);
}

static void
sherd_paint_compare_class_init (SherdPaintCompareClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_paint_compare_dispose;
  g_type_ensure (SHERD_TYPE_FACT_TABLE);
  closed_signal =
    g_signal_new ("closed", SHERD_TYPE_PAINT_COMPARE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/paint-compare.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdPaintCompare, heading);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintCompare, other_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintCompare, table);
  gtk_widget_class_bind_template_callback (widget_class, other_cb);
  gtk_widget_class_bind_template_callback (widget_class, close_cb);
}

static void
sherd_paint_compare_init (SherdPaintCompare *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
