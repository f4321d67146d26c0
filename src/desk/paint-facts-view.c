/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/paint-facts-view.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "desk/children.h"
#include "desk/fact-table.h"
#include "desk/melt-view.h"
#include "trial/format.h"
#include "trial/recipe-words.h"

/* Of a doubt that is shown (JCGM 100:2008, 6.2.1). */
#define COVERAGE 2.0

struct _SherdPaintFactsView
{
  GtkWidget parent_instance;

  GtkLabel *remarks_label;
  GtkWidget *cautions_box;
  GtkLabel *cautions_label;
  SherdMeltView *melt_view;
  GtkWidget *mix_box;
  SherdFactTable *shares_table;
  SherdFactTable *mix_table;
  GtkWidget *oxides_box;
  SherdFactTable *oxides_table;
  GtkWidget *stock_box;
  SherdFactTable *stock_table;
  GtkWidget *history_box;
  GtkLabel *history_label;

  SherdTrial *trial; /* borrowed while something is shown */
  SherdPaint *paint;
  SherdPaintFacts *facts;
};

G_DEFINE_FINAL_TYPE (SherdPaintFactsView, sherd_paint_facts_view, GTK_TYPE_WIDGET)

static guint changed_signal;

/* Another firing is planned: what follows from it is to be shown anew. */
static void
firing_cb (SherdPaintFactsView *self)
{
  g_signal_emit (self, changed_signal, 0);
}

static char *
dup_uncertain (SherdValue value, double factor)
{
  return sherd_format_uncertain (factor * value.value, COVERAGE * fabs (factor) * value.u);
}

/* Shares of nothing are nothing: a dash, not a number that is not one. */
static char *
dup_known (SherdValue value, double factor)
{
  return isfinite (value.value) ? dup_uncertain (value, factor) : g_strdup ("–");
}

static void
append_line (GString *lines, const char *line)
{
  g_string_append_printf (lines, "%s%s", lines->len > 0 ? "\n" : "", line);
}

/* What is said of the paint as a whole. */
static void
show_remarks (SherdPaintFactsView *self)
{
  g_autoptr (GString) missing = g_string_new (NULL);
  g_autoptr (GString) cautions = g_string_new (NULL);

  for (guint i = 0; i < self->facts->remarks->len; i++)
    {
      const SherdRemark *remark = &g_array_index (self->facts->remarks, SherdRemark, i);

      if (remark->kind == SHERD_REMARK_CAUTION && remark->row == SHERD_ROW_PAINT)
        append_line (cautions, remark->words);
      else if (remark->row == SHERD_ROW_PAINT)
        append_line (missing, remark->words);
    }
  gtk_label_set_text (self->remarks_label, missing->str);
  gtk_widget_set_visible (GTK_WIDGET (self->remarks_label), missing->len > 0);
  gtk_label_set_text (self->cautions_label, cautions->str);
  gtk_widget_set_visible (self->cautions_box, cautions->len > 0);
}

static void
add_share (SherdPaintFactsView *self, guint i)
{
  const SherdRecipe *recipe = sherd_paint_get_recipe (self->paint);
  const SherdMixShare *share = &g_array_index (self->facts->mix->shares, SherdMixShare, i);
  const SherdBatchRow *row =
    self->facts->batch != NULL ? &g_array_index (self->facts->batch->rows, SherdBatchRow, i) : NULL;
  g_autofree char *name = sherd_ingredient_dup_name (self->trial, &recipe->ingredients[i]);
  g_autofree char *mass = dup_known (share->mass_frac, 100.0);
  g_autofree char *volume = dup_known (share->volume_frac, 100.0);
  g_autofree char *weighed = row != NULL ? sherd_format_number (100.0 * row->share_after_frac, 1) : NULL;

  sherd_fact_table_add_row (self->shares_table, name, mass, volume, weighed, NULL);
}

static void
show_shares (SherdPaintFactsView *self)
{
  sherd_fact_table_begin (self->shares_table, _ ("Shares of the dry mixture"));
  sherd_fact_table_add_heading (self->shares_table, "", _ ("mass %"), _ ("volume %"),
                                self->facts->batch != NULL ? _ ("weighed %") : NULL, NULL);
  for (guint i = 0; i < self->facts->mix->shares->len; i++)
    add_share (self, i);
  sherd_fact_table_end (self->shares_table);
}

/* “10 : 5 : 2”: of the dry mass, the smallest that is there is 1. */
static char *
dup_ratio (const SherdMixFacts *mix)
{
  static const SherdSubstanceKind kinds[] = { SHERD_SUBSTANCE_COLOURANT, SHERD_SUBSTANCE_CLAY, SHERD_SUBSTANCE_FLUX };
  g_autoptr (GString) ratio = g_string_new (NULL);
  double least = INFINITY;

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (mix->kind_frac[kinds[i]].value > 0.0)
      least = MIN (least, mix->kind_frac[kinds[i]].value);
  if (!isfinite (least))
    return NULL;
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      const double part = mix->kind_frac[kinds[i]].value / least;
      g_autofree char *number = sherd_format_number (part, part > 0.0 ? 1 : 0);

      g_string_append_printf (ratio, "%s%s", i > 0 ? " : " : "", number);
    }
  return g_string_free (g_steal_pointer (&ratio), FALSE);
}

static void
show_mix (SherdPaintFactsView *self)
{
  const SherdMixFacts *mix = self->facts->mix;
  g_autofree char *ratio = dup_ratio (mix);
  g_autofree char *lost = dup_known (mix->lost_frac, 100.0);
  g_autofree char *lost_words = g_strdup_printf ("%s %%", lost);

  sherd_fact_table_begin (self->mix_table, _ ("The mixture as a whole"));
  if (ratio != NULL)
    sherd_fact_table_add_row (self->mix_table, _ ("Colourant : clay : flux, by mass"), ratio, NULL);
  sherd_fact_table_add_row (self->mix_table,
                            mix->lost_frac.value >= 0.0 ? _ ("Lost in the fire") : _ ("Gained in the fire (−)"),
                            lost_words, NULL);
  sherd_fact_table_end (self->mix_table);
}

static void
add_oxide (SherdPaintFactsView *self, const SherdFiredOxide *oxide)
{
  g_autofree char *mass = dup_known (oxide->mass_pct, 1.0);
  g_autofree char *mole = dup_known (oxide->mole_pct, 1.0);
  g_autofree char *formula = dup_known (oxide->per_flux, 1.0);

  sherd_fact_table_add_row (self->oxides_table, sherd_oxide_get_formula (oxide->oxide), mass, mole, formula, NULL);
}

/* The molar formula after Seger: moles for one mole of fluxes. */
static void
show_oxides (SherdPaintFactsView *self)
{
  const GArray *oxides = self->facts->mix->oxides;

  sherd_fact_table_begin (self->oxides_table, _ ("Oxides after firing"));
  sherd_fact_table_add_heading (self->oxides_table, "", _ ("mass %"), _ ("mole %"), _ ("per flux"), NULL);
  for (guint i = 0; i < oxides->len; i++)
    add_oxide (self, &g_array_index (oxides, SherdFiredOxide, i));
  sherd_fact_table_end (self->oxides_table);
  gtk_widget_set_visible (self->oxides_box, oxides->len > 0);
}

/* Price with its currency, or a dash where none is known. */
static char *
dup_cost (double cost, const char *currency)
{
  g_autofree char *number = sherd_format_number (cost, 2);

  return isfinite (cost) ? g_strdup_printf ("%s %s", number, currency) : g_strdup ("–");
}

static char *
dup_known_g (double grams)
{
  return isfinite (grams) ? sherd_format_number (grams, 1) : g_strdup ("–");
}

static void
add_stock (SherdPaintFactsView *self, const SherdPaintStock *stock)
{
  g_autofree char *need = dup_known_g (stock->need_g);
  g_autofree char *left = dup_known_g (stock->left_g);
  g_autofree char *left_words = stock->left_g < 0.0 ? g_strdup_printf (_ ("%s: not enough"), left) : g_strdup (left);
  g_autofree char *cost = dup_cost (stock->cost, stock->currency);

  sherd_fact_table_add_row (self->stock_table, stock->name, need, left_words, cost, NULL);
}

static void
show_stock (SherdPaintFactsView *self)
{
  const GArray *stocks = self->facts->stocks;
  g_autofree char *cost = dup_cost (self->facts->cost, self->facts->currency);

  gtk_widget_set_visible (self->stock_box, self->facts->batch != NULL && stocks->len > 0);
  sherd_fact_table_begin (self->stock_table, _ ("Cost and stock"));
  sherd_fact_table_add_heading (self->stock_table, "", _ ("needs, g"), _ ("left, g"), _ ("cost"), NULL);
  for (guint i = 0; i < stocks->len; i++)
    add_stock (self, &g_array_index (stocks, SherdPaintStock, i));
  sherd_fact_table_add_row (self->stock_table, _ ("This batch"), "", "", cost, NULL);
  sherd_fact_table_end (self->stock_table);
}

/* “Revision 1, until 2026-11-25: 2 Malachite, 1 Kaolin. Then: Malachite 2 → 3.” */
static void
append_revision (SherdPaintFactsView *self, GString *lines, const SherdRevision *revision)
{
  const SherdRecipe *next = sherd_paint_find_recipe (self->paint, revision->number + 1);
  g_autofree char *day = g_strndup (revision->replaced, strlen ("2026-11-25"));
  g_autofree char *was = sherd_recipe_dup_words (self->trial, revision->recipe);
  g_autofree char *changes = sherd_recipe_dup_changes (self->trial, revision->recipe, next);
  g_autofree char *line =
    g_strdup_printf (_ ("Revision %u, until %s: %s. Then: %s."), revision->number, day, was, changes);

  append_line (lines, line);
}

static void
show_history (SherdPaintFactsView *self)
{
  const SherdRevisions *earlier = sherd_paint_get_earlier (self->paint);
  g_autoptr (GString) lines = g_string_new (NULL);

  for (guint i = 0; i < earlier->n_revisions; i++)
    append_revision (self, lines, &earlier->revisions[i]);
  gtk_label_set_text (self->history_label, lines->str);
  gtk_widget_set_visible (self->history_box, lines->len > 0);
}

/**
 * sherd_paint_facts_view_show:
 * @self: a view
 * @trial: the trial
 * @paint: one of its paints
 * @facts: what follows from it; not kept
 *
 * Shows what is known; sections of which nothing is known are not there.
 */
void
sherd_paint_facts_view_show (SherdPaintFactsView *self, SherdTrial *trial, SherdPaint *paint, SherdPaintFacts *facts)
{
  self->trial = trial;
  self->paint = paint;
  self->facts = facts;
  show_remarks (self);
  show_history (self);
  gtk_widget_set_visible (self->mix_box, facts->mix != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->melt_view), facts->mix != NULL);
  gtk_widget_set_visible (self->oxides_box, facts->mix != NULL);
  if (facts->mix != NULL)
    {
      show_shares (self);
      show_mix (self);
      show_oxides (self);
      sherd_melt_view_show (self->melt_view, facts->mix);
    }
  show_stock (self);
  self->trial = NULL;
  self->paint = NULL;
  self->facts = NULL;
}

static void
sherd_paint_facts_view_dispose (GObject *object)
{
  sherd_children_drop (GTK_WIDGET (object));
  G_OBJECT_CLASS (sherd_paint_facts_view_parent_class)->dispose (object);
}

static void
sherd_paint_facts_view_class_init (SherdPaintFactsViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_paint_facts_view_dispose;
  changed_signal =
    g_signal_new ("changed", SHERD_TYPE_PAINT_FACTS_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  g_type_ensure (SHERD_TYPE_FACT_TABLE);
  g_type_ensure (SHERD_TYPE_MELT_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/paint-facts-view.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, remarks_label);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, cautions_box);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, cautions_label);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, melt_view);
  gtk_widget_class_bind_template_callback (widget_class, firing_cb);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, mix_box);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, shares_table);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, mix_table);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, oxides_box);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, oxides_table);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, stock_box);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, stock_table);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, history_box);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintFactsView, history_label);
}

static void
sherd_paint_facts_view_init (SherdPaintFactsView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
