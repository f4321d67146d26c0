/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/layout-panel.h"

#include <glib/gi18n-lib.h>

#include "desk/children.h"
#include "plan/repair.h"
#include "trial/edits.h"
#include "trial/filling.h"
#include "trial/layout.h"
#include "trial/zone-faults.h"

/* Our choice: while the potter types, the answers wait so long. */
#define ANSWER_AFTER_MS 250

/* Our choice: more faults than this are one mistake made often. */
#define MAX_FAULTS 6u

struct _SherdLayoutPanel
{
  GtkWidget parent_instance;

  GtkLabel *faults;
  GtkWidget *fill_grid;
  GtkEntry *paints_entry;
  GtkDropDown *order_chooser;
  GtkSpinButton *replicates_spin;
  GtkSpinButton *controls_spin;
  GtkCheckButton *apart_check;
  GtkLabel *remark;
  GtkWidget *answers_box;
  GtkLabel *answers;

  SherdTrial *trial;
  SherdPiece *piece;
  SherdSide *side;
  guint answer_source;
  GCancellable *cancellable; /* (nullable): of the answer that is worked out */
};

G_DEFINE_FINAL_TYPE (SherdLayoutPanel, sherd_layout_panel, GTK_TYPE_WIDGET)

static void
show_faults (SherdLayoutPanel *self)
{
  g_autoptr (GArray) faults = sherd_zone_faults_new (self->piece, self->side);
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = 0; i < MIN (faults->len, MAX_FAULTS); i++)
    {
      g_autofree char *fault = sherd_zone_fault_dup_words (&g_array_index (faults, SherdZoneFault, i));

      g_string_append_printf (words, "%s%s", i > 0 ? "\n" : "", fault);
    }
  gtk_label_set_text (self->faults, words->str);
  gtk_widget_set_visible (GTK_WIDGET (self->faults), faults->len > 0);
}

/* What a worker needs to answer. */
typedef struct
{
  SherdLayout *layout;
  guint64 seed;
} Question;

static void
question_free (Question *question)
{
  sherd_layout_free (question->layout);
  g_free (question);
}

/* "share of malachite: can be told", and the remedy below it. */
static void
append_answer (GString *markup, const SherdLayout *layout, const SherdDesign *design, guint number, guint64 seed)
{
  const SherdRepair repair = sherd_repair_find (layout, design, number, seed);
  g_autofree char *answer = sherd_design_describe (layout, &design->verdicts[number]);
  g_autofree char *remedy = sherd_repair_describe (layout, &repair);
  g_autofree char *text =
    g_markup_printf_escaped ("<b>%s</b> %s", sherd_layout_get_factor (layout, number)->name, answer);
  g_autofree char *advice = remedy != NULL ? g_markup_printf_escaped ("\n<i>%s</i>", remedy) : g_strdup ("");

  g_string_append_printf (markup, "%s%s%s", markup->len > 0 ? "\n\n" : "", text, advice);
}

/* On a worker: a remedy takes a fifth of a second to find on a large layout. */
static void
answer (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Question *question = data;
  g_autoptr (SherdDesign) design = sherd_design_new (question->layout, TRUE);
  g_autoptr (GString) markup = g_string_new (NULL);

  for (guint i = 0; i < design->n_verdicts && !g_cancellable_is_cancelled (cancellable); i++)
    append_answer (markup, question->layout, design, i, question->seed);
  g_task_return_pointer (task, g_strdup (markup->str), g_free);
}

static void
answered_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  SherdLayoutPanel *self = SHERD_LAYOUT_PANEL (source);
  g_autofree char *markup = g_task_propagate_pointer (G_TASK (result), NULL);

  if (markup == NULL || self->answers == NULL)
    return;
  gtk_label_set_markup (self->answers, markup);
  gtk_widget_set_visible (self->answers_box, *markup != '\0');
}

static void
forget_answer (SherdLayoutPanel *self)
{
  g_clear_handle_id (&self->answer_source, g_source_remove);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static gboolean
ask_cb (gpointer user_data)
{
  SherdLayoutPanel *self = user_data;
  Question *question = g_new0 (Question, 1);
  g_autoptr (GTask) task = NULL;

  self->answer_source = 0;
  self->cancellable = g_cancellable_new ();
  question->layout = sherd_trial_layout_new (self->trial);
  question->seed = sherd_trial_get_seed (self->trial);
  task = g_task_new (self, self->cancellable, answered_cb, NULL);
  g_task_set_task_data (task, question, (GDestroyNotify)question_free);
  g_task_run_in_thread (task, answer);
  return G_SOURCE_REMOVE;
}

/**
 * sherd_layout_panel_show:
 * @self: the panel
 * @trial: (nullable): a trial
 * @piece: (nullable): the piece that is shown
 * @side: (nullable): its side that is shown
 *
 * Shows them as they are now.
 */
void
sherd_layout_panel_show (SherdLayoutPanel *self, SherdTrial *trial, SherdPiece *piece, SherdSide *side)
{
  forget_answer (self);
  g_set_object (&self->trial, trial);
  g_set_object (&self->piece, piece);
  g_set_object (&self->side, side);
  gtk_widget_set_visible (GTK_WIDGET (self), side != NULL);
  if (side == NULL)
    return;
  show_faults (self);
  gtk_widget_set_sensitive (self->fill_grid, g_list_model_get_n_items (sherd_side_get_zones (side)) > 0);
  self->answer_source = g_timeout_add (ANSWER_AFTER_MS, ask_cb, self);
}

/* As a zone's own field does: a code that is new makes the paint, which can be mixed later. */
static gboolean
find_or_add_paints (SherdLayoutPanel *self, GPtrArray *paints, GError **error)
{
  g_auto (GStrv) codes = g_strsplit (gtk_editable_get_text (GTK_EDITABLE (self->paints_entry)), ",", -1);

  for (guint i = 0; codes[i] != NULL; i++)
    {
      const char *code = g_strstrip (codes[i]);
      SherdPaint *paint = sherd_trial_find_paint_by_code (self->trial, code);

      if (*code == '\0')
        continue;
      if (paint == NULL)
        paint = sherd_trial_add_paint (self->trial, code, NULL, error);
      if (paint == NULL)
        return FALSE;
      g_ptr_array_add (paints, paint);
    }
  return TRUE;
}

static void
take_all_paints (SherdLayoutPanel *self, GPtrArray *paints)
{
  GListModel *all = sherd_trial_get_paints (self->trial);

  for (guint i = 0; i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (all, i);

      if (sherd_paint_get_kind (paint) == SHERD_PAINT_PAINT)
        g_ptr_array_add (paints, paint);
    }
}

static SherdFilling
wished_filling (SherdLayoutPanel *self, GPtrArray *paints)
{
  static const SherdFillOrder orders[] = { SHERD_FILL_IN_ORDER, SHERD_FILL_RANDOM, SHERD_FILL_IN_BLOCKS,
                                           SHERD_FILL_IN_BLOCKS, SHERD_FILL_IN_BLOCKS };
  static const SherdBlockKind blocks[] = { SHERD_BLOCK_ROW, SHERD_BLOCK_ROW, SHERD_BLOCK_ROW, SHERD_BLOCK_SIDE,
                                           SHERD_BLOCK_PIECE };
  const guint how = MIN (gtk_drop_down_get_selected (self->order_chooser), G_N_ELEMENTS (orders) - 1);

  return (SherdFilling){
    .piece = self->piece,
    .side = self->side,
    .paints = (SherdPaint *const *)paints->pdata,
    .n_paints = paints->len,
    .order = orders[how],
    .block = blocks[how],
    .n_replicates = (guint)gtk_spin_button_get_value_as_int (self->replicates_spin),
    .n_controls = (guint)gtk_spin_button_get_value_as_int (self->controls_spin),
    .keep_apart = gtk_check_button_get_active (self->apart_check),
    .seed = g_random_int (),
  };
}

static void
tell (SherdLayoutPanel *self, const char *words)
{
  gtk_label_set_text (self->remark, words);
  gtk_widget_set_visible (GTK_WIDGET (self->remark), *words != '\0');
}

static void
tell_filled (SherdLayoutPanel *self, const SherdFill *fill)
{
  g_autofree char *laid = g_strdup_printf (
    ngettext ("Each paint is laid %u time.", "Each paint is laid %u times.", fill->n_replicates), fill->n_replicates);
  g_autofree char *touching =
    fill->n_touching > 0
      ? g_strdup_printf (ngettext (" %u pair of neighbours carries the same paint all the same.",
                                   " %u pairs of neighbours carry the same paint all the same.", fill->n_touching),
                         fill->n_touching)
      : g_strdup ("");
  g_autofree char *words = g_strconcat (laid, touching, NULL);

  tell (self, words);
}

static gboolean
fill_side (SherdLayoutPanel *self, SherdFill *fill, GError **error)
{
  g_autoptr (GPtrArray) paints = g_ptr_array_new ();
  SherdFilling filling;

  if (!find_or_add_paints (self, paints, error))
    return FALSE;
  if (paints->len == 0)
    take_all_paints (self, paints);
  filling = wished_filling (self, paints);
  return sherd_trial_fill_zones (self->trial, &filling, fill, error);
}

static void
fill_cb (SherdLayoutPanel *self)
{
  g_autoptr (GError) error = NULL;
  g_auto (SherdFill) fill = { 0 };
  gboolean is_filled;

  if (self->side == NULL)
    return;
  sherd_trial_begin_edit (self->trial, _ ("Put paints in the zones"));
  is_filled = fill_side (self, &fill, &error);
  if (is_filled)
    sherd_trial_end_edit (self->trial);
  else
    sherd_trial_cancel_edit (self->trial);
  if (is_filled)
    tell_filled (self, &fill);
  else
    tell (self, error->message);
}

static void
sherd_layout_panel_dispose (GObject *object)
{
  SherdLayoutPanel *self = SHERD_LAYOUT_PANEL (object);

  forget_answer (self);
  self->answers = NULL;
  sherd_children_drop (GTK_WIDGET (self));
  g_clear_object (&self->trial);
  g_clear_object (&self->piece);
  g_clear_object (&self->side);
  G_OBJECT_CLASS (sherd_layout_panel_parent_class)->dispose (object);
}

static void
sherd_layout_panel_class_init (SherdLayoutPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_layout_panel_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/layout-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, faults);
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, fill_grid);
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, paints_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, order_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, replicates_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, controls_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, apart_check);
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, remark);
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, answers_box);
  gtk_widget_class_bind_template_child (widget_class, SherdLayoutPanel, answers);
  gtk_widget_class_bind_template_callback (widget_class, fill_cb);
}

static void
sherd_layout_panel_init (SherdLayoutPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
