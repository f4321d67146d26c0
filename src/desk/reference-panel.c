/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/reference-panel.h"

#include <glib/gi18n-lib.h>

#include "desk/children.h"
#include "desk/dialogs.h"
#include "desk/number-entry.h"
#include "trial/chart-file.h"
#include "trial/edits.h"
#include "trial/number.h"

/* A grey card has corners and no size that matters. */
#define CARD_MM 100.0

/* Until the potter says otherwise: a card that reflects 18 %, as most do (common practice, no source);
 * L* = 116 × 0.18^(1/3) − 16. */
#define CARD_L 49.5

struct _SherdReferencePanel
{
  GtkWidget parent_instance;

  GtkDropDown *reference_chooser;
  GtkWidget *card_box;
  SherdNumberEntry *card_entry;
  GtkWidget *chart_box;
  GtkLabel *chart_label;
  GtkWidget *same_chart_button;
  GtkSpinButton *grid_rows_spin;
  GtkSpinButton *grid_columns_spin;
  GtkDropDown *marks_on_chooser;

  SherdTrial *trial;           /* (nullable) */
  SherdPhotograph *photograph; /* (nullable) */
  GFile *chart_file;           /* (nullable): whose values were chosen last, in this trial */
  gboolean refreshing;
};

G_DEFINE_FINAL_TYPE (SherdReferencePanel, sherd_reference_panel, GTK_TYPE_WIDGET)

static guint marks_on_changed_signal;

static SherdReference *
shown_reference (SherdReferencePanel *self)
{
  return sherd_photograph_get_reference (self->photograph);
}

static SherdReferenceKind
shown_kind (SherdReferencePanel *self)
{
  return sherd_reference_get_kind (shown_reference (self));
}

/* FALSE while fields are being filled, and when there is nothing to edit. */
static gboolean
may_edit (SherdReferencePanel *self)
{
  return !self->refreshing && self->photograph != NULL;
}

static GtkWindow *
window_of (SherdReferencePanel *self)
{
  return GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
}

/* (transfer none) (nullable): another photograph with a chart that the one shown does not have yet */
static SherdPhotograph *
other_with_chart (SherdReferencePanel *self)
{
  GListModel *photographs = sherd_trial_get_photographs (self->trial);

  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);
      SherdReference *reference = sherd_photograph_get_reference (photograph);

      if (photograph != self->photograph && sherd_reference_get_kind (reference) == SHERD_REFERENCE_CHART &&
          !sherd_reference_equal (reference, shown_reference (self)))
        return photograph;
    }
  return NULL;
}

static void
show_kind (SherdReferencePanel *self, SherdReferenceKind kind)
{
  gtk_widget_set_visible (self->card_box, kind == SHERD_REFERENCE_GREY_CARD);
  gtk_widget_set_visible (self->chart_box, kind == SHERD_REFERENCE_CHART);
}

static double
card_l (SherdReferencePanel *self)
{
  gsize n_patches;
  const SherdReferencePatch *patches = sherd_reference_get_patches (shown_reference (self), &n_patches);

  return shown_kind (self) == SHERD_REFERENCE_GREY_CARD && n_patches > 0 ? patches[0].lab.l : CARD_L;
}

/* How its patches lie; they go row by row. */
static void
show_grid (SherdReferencePanel *self)
{
  gsize n_patches;
  const SherdReferencePatch *patches = sherd_reference_get_patches (shown_reference (self), &n_patches);
  guint n_columns = 0;

  if (shown_kind (self) != SHERD_REFERENCE_CHART)
    return;
  while (n_columns < n_patches && patches[n_columns].rectangle_mm.y_mm == patches[0].rectangle_mm.y_mm)
    n_columns++;
  gtk_spin_button_set_value (self->grid_columns_spin, n_columns);
  gtk_spin_button_set_value (self->grid_rows_spin, (double)n_patches / n_columns);
}

static void
show_chart (SherdReferencePanel *self)
{
  gsize n_patches;
  g_autofree char *text = NULL;

  show_grid (self);
  sherd_reference_get_patches (shown_reference (self), &n_patches);
  text = shown_kind (self) == SHERD_REFERENCE_CHART
           ? g_strdup_printf (_ ("%s: %u patches. Pick its corners too, beginning at its first patch."),
                              sherd_reference_get_description (shown_reference (self)), (guint)n_patches)
           : g_strdup (_ ("Choose the text file with the values of its patches."));
  gtk_label_set_text (self->chart_label, text);
  gtk_widget_set_visible (self->same_chart_button, other_with_chart (self) != NULL);
}

static void
refresh (SherdReferencePanel *self)
{
  self->refreshing = TRUE;
  gtk_drop_down_set_selected (self->reference_chooser, shown_kind (self));
  show_kind (self, shown_kind (self));
  sherd_number_entry_show (self->card_entry, card_l (self));
  show_chart (self);
  self->refreshing = FALSE;
}

/**
 * sherd_reference_panel_show:
 * @self: the panel
 * @trial: (nullable): the trial
 * @photograph: (nullable): one of its photographs
 *
 * Shows what the photograph has as it is now.
 */
void
sherd_reference_panel_show (SherdReferencePanel *self, SherdTrial *trial, SherdPhotograph *photograph)
{
  if (g_set_object (&self->trial, trial))
    g_clear_object (&self->chart_file);
  g_set_object (&self->photograph, photograph);
  if (photograph != NULL)
    refresh (self);
}

/**
 * sherd_reference_panel_get_marks_on:
 * @self: the panel
 *
 * Returns: what the chart's marks are picked on
 */
SherdMarksOn
sherd_reference_panel_get_marks_on (SherdReferencePanel *self)
{
  return (SherdMarksOn)gtk_drop_down_get_selected (self->marks_on_chooser);
}

static gboolean
read_card (SherdReferencePanel *self, double *l)
{
  const char *text = sherd_number_entry_get_text (self->card_entry);
  g_autofree char *reason = NULL;

  if (sherd_number_parse (text, l, NULL) && *l > 0.0 && *l <= 100.0)
    return TRUE;
  reason = g_strdup_printf (
    _ ("“%s” is not the lightness of a card. L* lies between 0 and 100; an 18 %% card has 49.5."), text);
  sherd_number_entry_refuse (self->card_entry, reason);
  return FALSE;
}

static void
take_card (SherdReferencePanel *self)
{
  SherdLab lab = { 0 };
  g_autoptr (SherdReference) card = NULL;
  g_autoptr (GError) error = NULL;

  if (!read_card (self, &lab.l) || (shown_kind (self) == SHERD_REFERENCE_GREY_CARD && lab.l == card_l (self)))
    return;
  card = sherd_reference_new_grey_card (_ ("Grey card"), CARD_MM, CARD_MM, &lab, &error);
  if (card != NULL)
    sherd_trial_set_reference (self->trial, self->photograph, card);
  else
    sherd_number_entry_refuse (self->card_entry, error->message);
}

static void
card_cb (SherdReferencePanel *self)
{
  if (may_edit (self) && gtk_drop_down_get_selected (self->reference_chooser) == SHERD_REFERENCE_GREY_CARD)
    take_card (self);
}

/* A chart comes only with the file of its values; until then the photograph keeps what it has. */
static void
reference_cb (SherdReferencePanel *self)
{
  const SherdReferenceKind kind = (SherdReferenceKind)gtk_drop_down_get_selected (self->reference_chooser);
  g_autoptr (SherdReference) none = NULL;

  if (!may_edit (self))
    return;
  show_kind (self, kind);
  if (kind == shown_kind (self))
    return;
  if (kind == SHERD_REFERENCE_GREY_CARD)
    take_card (self);
  else if (kind == SHERD_REFERENCE_NONE)
    {
      none = sherd_reference_new_none ();
      sherd_trial_set_reference (self->trial, self->photograph, none);
    }
}

static guint
typed_rows (SherdReferencePanel *self)
{
  return (guint)gtk_spin_button_get_value_as_int (self->grid_rows_spin);
}

static guint
typed_columns (SherdReferencePanel *self)
{
  return (guint)gtk_spin_button_get_value_as_int (self->grid_columns_spin);
}

/* The chart's own names tell its rows and columns, unless it is one of those that only number their patches. */
static SherdReference *
read_chart (SherdReferencePanel *self, GFile *file, GError **error)
{
  g_autoptr (SherdChart) chart = sherd_chart_file_load (file, error);
  guint n_rows = typed_rows (self);
  guint n_columns = typed_columns (self);
  SherdChartLayout layout;

  if (chart == NULL)
    return NULL;
  sherd_chart_layout_guess (chart, &n_rows, &n_columns);
  sherd_chart_layout_init_plain (&layout, n_rows, n_columns);
  return sherd_reference_new_chart (chart, &layout, error);
}

static void
chart_chosen_cb (GFile *file, gpointer user_data)
{
  SherdReferencePanel *self = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdReference) reference = NULL;

  if (self->photograph == NULL)
    return;
  reference = read_chart (self, file, &error);
  if (reference == NULL)
    {
      sherd_dialog_error (window_of (self), _ ("The chart's values were not taken"), error);
      return;
    }
  g_set_object (&self->chart_file, file);
  sherd_trial_set_reference (self->trial, self->photograph, reference);
}

/* The chart chosen last is laid out anew as soon as rows and columns hold all of its patches. */
static void
grid_cb (SherdReferencePanel *self)
{
  g_autoptr (SherdChart) chart = NULL;
  g_autoptr (SherdReference) reference = NULL;
  SherdChartLayout layout;

  if (!may_edit (self) || self->chart_file == NULL || shown_kind (self) != SHERD_REFERENCE_CHART)
    return;
  chart = sherd_chart_file_load (self->chart_file, NULL);
  sherd_chart_layout_init_plain (&layout, typed_rows (self), typed_columns (self));
  reference = chart != NULL ? sherd_reference_new_chart (chart, &layout, NULL) : NULL;
  if (reference != NULL)
    sherd_trial_set_reference (self->trial, self->photograph, reference);
}

static void
choose_chart_cb (SherdReferencePanel *self)
{
  static const char *const suffixes[] = { "cgats", "cie", "it8", "txt", NULL };

  sherd_dialog_open (window_of (self), _ ("Reference values of the chart"), _ ("Chart values (CGATS.17)"), suffixes,
                     FALSE, chart_chosen_cb, self);
}

static void
same_chart_cb (SherdReferencePanel *self)
{
  SherdPhotograph *other = self->photograph != NULL ? other_with_chart (self) : NULL;

  if (other != NULL)
    sherd_trial_set_reference (self->trial, self->photograph, sherd_photograph_get_reference (other));
}

static void
marks_on_cb (SherdReferencePanel *self)
{
  g_signal_emit (self, marks_on_changed_signal, 0);
}

static void
sherd_reference_panel_dispose (GObject *object)
{
  SherdReferencePanel *self = SHERD_REFERENCE_PANEL (object);

  self->refreshing = TRUE;
  sherd_children_drop (GTK_WIDGET (self));
  g_clear_object (&self->trial);
  g_clear_object (&self->photograph);
  g_clear_object (&self->chart_file);
  G_OBJECT_CLASS (sherd_reference_panel_parent_class)->dispose (object);
}

static void
bind_template (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, SherdReferencePanel, reference_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdReferencePanel, card_box);
  gtk_widget_class_bind_template_child (widget_class, SherdReferencePanel, card_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdReferencePanel, chart_box);
  gtk_widget_class_bind_template_child (widget_class, SherdReferencePanel, chart_label);
  gtk_widget_class_bind_template_child (widget_class, SherdReferencePanel, same_chart_button);
  gtk_widget_class_bind_template_child (widget_class, SherdReferencePanel, grid_rows_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdReferencePanel, grid_columns_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdReferencePanel, marks_on_chooser);
  gtk_widget_class_bind_template_callback (widget_class, reference_cb);
  gtk_widget_class_bind_template_callback (widget_class, card_cb);
  gtk_widget_class_bind_template_callback (widget_class, choose_chart_cb);
  gtk_widget_class_bind_template_callback (widget_class, grid_cb);
  gtk_widget_class_bind_template_callback (widget_class, same_chart_cb);
  gtk_widget_class_bind_template_callback (widget_class, marks_on_cb);
}

static void
sherd_reference_panel_class_init (SherdReferencePanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_reference_panel_dispose;

  /**
   * SherdReferencePanel::marks-on-changed:
   */
  marks_on_changed_signal = g_signal_new ("marks-on-changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL,
                                          NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (SHERD_TYPE_NUMBER_ENTRY);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/reference-panel.ui");
  bind_template (widget_class);
}

static void
sherd_reference_panel_init (SherdReferencePanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
