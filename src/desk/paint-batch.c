/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/paint-batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "desk/children.h"
#include "desk/number-entry.h"
#include "trial/edits.h"
#include "trial/format.h"
#include "trial/mixing-card.h"
#include "trial/number.h"
#include "trial/paint-use.h"
#include "trial/recipe-words.h"

/* What an area begins with. Common practice, no source: matte paint dries to 0.03 to 0.08 mm a coat, slip to 0.05 to
 * 0.25 mm; two thin coats; a fifth stays in brush and jar. */
#define PAINT_COAT_MM 0.05
#define SLIP_COAT_MM 0.15
#define FIRST_COATS 2
#define FIRST_RESERVE_PCT 20.0
/* A kitchen scale for small things. */
#define FIRST_READABILITY_G 0.1

#define MOST_COATS 99

/* Of a doubt that is shown (JCGM 100:2008, 6.2.1). */
#define COVERAGE 2.0

struct _SherdPaintBatch
{
  GtkWidget parent_instance;

  GtkDropDown *way_chooser;
  GtkStack *ways;
  SherdNumberEntry *total_entry;
  SherdNumberEntry *at_hand_entry;
  GtkDropDown *part_chooser;
  SherdNumberEntry *area_entry;
  SherdNumberEntry *coats_entry;
  SherdNumberEntry *coat_entry;
  SherdNumberEntry *reserve_entry;
  GtkButton *zones_button;
  SherdNumberEntry *scale_entry;
  GtkLabel *result_label;

  SherdTrial *trial;
  SherdPaint *paint;
  SherdBatchRequest request;
  gboolean is_showing;
};

static guint changed_signal;

G_DEFINE_FINAL_TYPE (SherdPaintBatch, sherd_paint_batch, GTK_TYPE_WIDGET)

static void
tell_changed (SherdPaintBatch *self)
{
  if (!self->is_showing)
    g_signal_emit (self, changed_signal, 0);
}

/* A number over 0 is taken; else the field says so and the request stays. */
static void
take (SherdPaintBatch *self, SherdNumberEntry *entry, double *place, double value)
{
  if (!(value > 0.0))
    {
      sherd_number_entry_refuse (entry, _ ("This must be more than 0."));
      return;
    }
  *place = value;
  tell_changed (self);
}

static void
way_cb (SherdPaintBatch *self)
{
  static const char *const pages[] = { "total", "at-hand", "area" };

  self->request.way = (SherdBatchWay)gtk_drop_down_get_selected (self->way_chooser);
  gtk_stack_set_visible_child_name (self->ways, pages[self->request.way]);
  tell_changed (self);
}

static void
total_cb (SherdPaintBatch *self, double total_g)
{
  g_autoptr (GError) error = NULL;

  if (!sherd_trial_set_paint_batch_g (self->trial, self->paint, total_g, TRUE, &error))
    sherd_number_entry_refuse (self->total_entry, error->message);
}

static void
left_cb (SherdPaintBatch *self)
{
  if (self->trial != NULL)
    sherd_trial_seal_edit (self->trial);
}

static void
at_hand_cb (SherdPaintBatch *self, double at_hand_g)
{
  take (self, self->at_hand_entry, &self->request.at_hand_g, at_hand_g);
}

static void
part_cb (SherdPaintBatch *self)
{
  const guint part = gtk_drop_down_get_selected (self->part_chooser);

  if (self->is_showing || part == GTK_INVALID_LIST_POSITION)
    return;
  self->request.part = part;
  tell_changed (self);
}

static void
area_cb (SherdPaintBatch *self, double area_cm2)
{
  take (self, self->area_entry, &self->request.area_cm2, area_cm2);
}

static void
coats_cb (SherdPaintBatch *self, double coats)
{
  if (coats != floor (coats) || coats < 1.0 || coats > MOST_COATS)
    {
      g_autofree char *reason = g_strdup_printf (_ ("Coats are whole: 1 to %d."), MOST_COATS);

      sherd_number_entry_refuse (self->coats_entry, reason);
      return;
    }
  self->request.coats = (guint)coats;
  tell_changed (self);
}

static void
coat_cb (SherdPaintBatch *self, double coat_mm)
{
  take (self, self->coat_entry, &self->request.coat_mm, coat_mm);
}

static void
reserve_cb (SherdPaintBatch *self, double reserve_pct)
{
  if (!(reserve_pct >= 0.0))
    {
      sherd_number_entry_refuse (self->reserve_entry, _ ("A reserve is 0 or more."));
      return;
    }
  self->request.reserve_frac = reserve_pct / 100.0;
  tell_changed (self);
}

static void
scale_cb (SherdPaintBatch *self, double readability_g)
{
  take (self, self->scale_entry, &self->request.readability_g, readability_g);
}

static void
show_request (SherdPaintBatch *self)
{
  const SherdBatchRequest *request = &self->request;

  sherd_number_entry_show (self->at_hand_entry, request->at_hand_g);
  sherd_number_entry_show (self->area_entry, request->area_cm2);
  sherd_number_entry_show (self->coats_entry, request->coats);
  sherd_number_entry_show (self->coat_entry, request->coat_mm);
  sherd_number_entry_show (self->reserve_entry, 100.0 * request->reserve_frac);
  sherd_number_entry_show (self->scale_entry, request->readability_g);
}

/* Each zone counts with its own coats, so the area is that of single coats. */
static void
zones_cb (SherdPaintBatch *self)
{
  self->request.area_cm2 = sherd_trial_get_coat_area_mm2 (self->trial, self->paint, NULL) / 100.0;
  self->request.coats = 1;
  show_request (self);
  tell_changed (self);
}

static void
show_zones (SherdPaintBatch *self)
{
  const double area_cm2 = sherd_trial_get_coat_area_mm2 (self->trial, self->paint, NULL) / 100.0;
  g_autofree char *number = sherd_format_number (area_cm2, 1);
  g_autofree char *words = g_strdup_printf (_ ("Take its zones with their coats: %s cm²"), number);

  gtk_button_set_label (self->zones_button, words);
  gtk_widget_set_visible (GTK_WIDGET (self->zones_button), area_cm2 > 0.0);
}

static void
show_parts (SherdPaintBatch *self)
{
  const SherdRecipe *recipe = sherd_paint_get_recipe (self->paint);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  for (guint i = 0; i < recipe->n_ingredients; i++)
    gtk_string_list_take (names, sherd_ingredient_dup_name (self->trial, &recipe->ingredients[i]));
  if (self->request.part >= recipe->n_ingredients)
    self->request.part = 0;
  gtk_drop_down_set_model (self->part_chooser, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->part_chooser, self->request.part);
}

static void
begin_request (SherdPaintBatch *self)
{
  self->request = (SherdBatchRequest){
    .way = self->request.way,
    .at_hand_g = NAN,
    .area_cm2 = NAN,
    .coat_mm = sherd_paint_get_kind (self->paint) == SHERD_PAINT_SLIP ? SLIP_COAT_MM : PAINT_COAT_MM,
    .coats = FIRST_COATS,
    .reserve_frac = FIRST_RESERVE_PCT / 100.0,
    .readability_g = self->request.readability_g,
  };
}

/**
 * sherd_paint_batch_show:
 * @self: a batch
 * @trial: the trial
 * @paint: (nullable): one of its paints
 *
 * Shows the batch that is planned for a paint; areas and what is at hand are forgotten when another paint comes.
 */
void
sherd_paint_batch_show (SherdPaintBatch *self, SherdTrial *trial, SherdPaint *paint)
{
  const gboolean is_other = paint != self->paint;

  g_set_object (&self->trial, trial);
  g_set_object (&self->paint, paint);
  if (paint == NULL)
    return;
  self->is_showing = TRUE;
  if (is_other)
    begin_request (self);
  self->request.total_g = sherd_paint_get_batch_g (paint);
  sherd_number_entry_show (self->total_entry, self->request.total_g);
  show_request (self);
  show_parts (self);
  show_zones (self);
  self->is_showing = FALSE;
}

/* The number that is asked for first: NAN until it is typed. */
static double
amount (SherdPaintBatch *self)
{
  const double amounts[] = { self->request.total_g, self->request.at_hand_g, self->request.area_cm2 };

  return amounts[self->request.way];
}

/**
 * sherd_paint_batch_get_request:
 * @self: a batch
 *
 * Returns: (nullable): what is asked for; NULL while it is not said how much
 */
const SherdBatchRequest *
sherd_paint_batch_get_request (SherdPaintBatch *self)
{
  return isfinite (amount (self)) ? &self->request : NULL;
}

/**
 * sherd_paint_batch_get_readability_g:
 * @self: a batch
 *
 * Returns: of the scale
 */
double
sherd_paint_batch_get_readability_g (SherdPaintBatch *self)
{
  return self->request.readability_g;
}

static void
append_line (GString *words, char *line)
{
  g_string_append_printf (words, "%s%s", words->len > 0 ? "\n" : "", line);
  g_free (line);
}

static char *
dup_total (const SherdBatch *batch)
{
  g_autofree char *total = sherd_format_uncertain (batch->total_g.value, COVERAGE * batch->total_g.u);

  return g_strdup_printf (_ ("%s g of dry powder"), total);
}

static char *
dup_grams (SherdPaintBatch *self, const char *what, double grams)
{
  g_autofree char *number = sherd_mixing_card_dup_grams (grams, self->request.readability_g);

  return g_strdup_printf (_ ("%s g of %s"), number, what);
}

/* What the scale's rounding does to the mixture. */
static char *
dup_rounding (SherdPaintBatch *self, const SherdBatch *batch)
{
  g_autofree char *change = sherd_format_number (100.0 * batch->largest_change_frac, 1);
  g_autofree char *scale = sherd_number_text (self->request.readability_g);
  const SherdRecipe *recipe = sherd_paint_get_recipe (self->paint);
  g_autofree char *lost = NULL;

  if (batch->rounded_away < 0 || (guint)batch->rounded_away >= recipe->n_ingredients)
    return g_strdup_printf (_ ("Rounding to %s g changes no share by more than %s percentage points."), scale, change);
  lost = sherd_ingredient_dup_name (self->trial, &recipe->ingredients[batch->rounded_away]);
  return g_strdup_printf (_ ("The scale does not see %s: mix more, or weigh on a finer scale."), lost);
}

/**
 * sherd_paint_batch_show_facts:
 * @self: a batch
 * @facts: what follows from paint and request
 *
 * Shows what comes on to the scale beside the ingredients.
 */
void
sherd_paint_batch_show_facts (SherdPaintBatch *self, SherdPaintFacts *facts)
{
  const SherdBatch *batch = facts->batch;
  g_autoptr (GString) words = g_string_new (NULL);

  if (batch != NULL)
    {
      append_line (words, dup_total (batch));
      if (batch->binder.weighed_g > 0.0)
        append_line (words, dup_grams (self, _ ("dry binder"), batch->binder.weighed_g));
      if (batch->water_g.value > 0.0)
        append_line (words, dup_grams (self, _ ("water"), batch->water_g.value));
      append_line (words, dup_rounding (self, batch));
    }
  else if (facts->mix != NULL && !isfinite (amount (self)))
    append_line (words, g_strdup (_ ("Say how much, and the grams stand beside the ingredients.")));
  gtk_label_set_text (self->result_label, words->str);
  gtk_widget_set_visible (GTK_WIDGET (self->result_label), words->len > 0);
}

static void
sherd_paint_batch_dispose (GObject *object)
{
  SherdPaintBatch *self = SHERD_PAINT_BATCH (object);

  sherd_children_drop (GTK_WIDGET (self));
  g_clear_object (&self->paint);
  g_clear_object (&self->trial);
  G_OBJECT_CLASS (sherd_paint_batch_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, way_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, ways);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, total_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, at_hand_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, part_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, area_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, coats_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, coat_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, reserve_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, zones_button);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, scale_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintBatch, result_label);
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_callback (widget_class, way_cb);
  gtk_widget_class_bind_template_callback (widget_class, total_cb);
  gtk_widget_class_bind_template_callback (widget_class, left_cb);
  gtk_widget_class_bind_template_callback (widget_class, at_hand_cb);
  gtk_widget_class_bind_template_callback (widget_class, part_cb);
  gtk_widget_class_bind_template_callback (widget_class, area_cb);
  gtk_widget_class_bind_template_callback (widget_class, coats_cb);
  gtk_widget_class_bind_template_callback (widget_class, coat_cb);
  gtk_widget_class_bind_template_callback (widget_class, reserve_cb);
  gtk_widget_class_bind_template_callback (widget_class, zones_cb);
  gtk_widget_class_bind_template_callback (widget_class, scale_cb);
}

static void
sherd_paint_batch_class_init (SherdPaintBatchClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_paint_batch_dispose;
  g_type_ensure (SHERD_TYPE_NUMBER_ENTRY);
  changed_signal =
    g_signal_new ("changed", SHERD_TYPE_PAINT_BATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/paint-batch.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
}

static void
sherd_paint_batch_init (SherdPaintBatch *self)
{
  self->is_showing = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->request.readability_g = FIRST_READABILITY_G;
  self->request.total_g = NAN;
  self->is_showing = FALSE;
}
