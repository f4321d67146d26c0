/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/paint-list.h"

#include <glib/gi18n-lib.h>

#include "desk/swatch.h"
#include "trial/format.h"
#include "trial/paint-colour.h"
#include "trial/paint-facts.h"
#include "trial/paint-use.h"

#define SWATCH_WIDTH_PX 22
#define SWATCH_HEIGHT_PX 34

struct _SherdPaintList
{
  GtkWidget parent_instance;

  GtkListBox *box;

  SherdTrial *trial;
  gboolean is_showing;
};

static guint selected_signal;

G_DEFINE_FINAL_TYPE (SherdPaintList, sherd_paint_list, GTK_TYPE_WIDGET)

static GtkWidget *
line_new (const char *css_class)
{
  GtkWidget *line = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (line), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (line), PANGO_ELLIPSIZE_END);
  if (css_class != NULL)
    gtk_widget_add_css_class (line, css_class);
  return line;
}

/* The swatch, then name, hazards and places below one another. */
static GtkWidget *
row_new (void)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *across = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *swatch = sherd_swatch_new ();
  GtkWidget *small;

  gtk_widget_set_size_request (swatch, SWATCH_WIDTH_PX, SWATCH_HEIGHT_PX);
  gtk_widget_set_valign (swatch, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (lines, TRUE);
  gtk_box_append (GTK_BOX (lines), line_new (NULL));
  for (guint i = 0; i < 2; i++)
    {
      small = line_new ("dim-label");
      gtk_widget_add_css_class (small, "small");
      gtk_box_append (GTK_BOX (lines), small);
    }
  gtk_box_append (GTK_BOX (across), swatch);
  gtk_box_append (GTK_BOX (across), lines);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), across);
  return row;
}

/* “Tile 1: A1, A2; Bowl: B3” */
static char *
dup_places (SherdTrial *trial, SherdPaint *paint)
{
  g_autoptr (GArray) zones = sherd_trial_list_painted_zones (trial, paint);
  g_autoptr (GString) places = g_string_new (NULL);
  SherdPiece *piece = NULL;

  for (guint i = 0; i < zones->len; i++)
    {
      const SherdPaintedZone *painted = &g_array_index (zones, SherdPaintedZone, i);

      if (painted->piece == piece)
        g_string_append (places, ", ");
      else
        g_string_append_printf (places, "%s%s: ", piece != NULL ? "; " : "", sherd_piece_get_name (painted->piece));
      g_string_append (places, sherd_zone_get_code (painted->zone));
      piece = painted->piece;
    }
  return zones->len > 0 ? g_string_free (g_steal_pointer (&places), FALSE) : g_strdup (_ ("on no piece yet"));
}

static void
show_colour (SherdPaintList *self, SherdPaint *paint, SherdSwatch *swatch)
{
  SherdLab lab;
  guint n_zones;
  const char *stage;
  const gboolean is_measured = sherd_trial_get_paint_colour (self->trial, paint, &lab, &n_zones, &stage);

  sherd_swatch_set_colour (swatch, is_measured ? &lab : NULL);
  if (is_measured)
    {
      g_autofree char *stage_words = sherd_format_stage (stage);
      g_autofree char *words =
        g_strdup_printf (ngettext ("%s, measured in %u zone", "%s, mean of %u zones", n_zones), stage_words, n_zones);

      gtk_widget_set_tooltip_text (GTK_WIDGET (swatch), words);
    }
  else
    gtk_widget_set_tooltip_text (GTK_WIDGET (swatch), _ ("not measured yet"));
}

static void
show_row (SherdPaintList *self, GtkWidget *row, SherdPaint *paint)
{
  GtkWidget *swatch = gtk_widget_get_first_child (gtk_list_box_row_get_child (GTK_LIST_BOX_ROW (row)));
  GtkWidget *name = gtk_widget_get_first_child (gtk_widget_get_next_sibling (swatch));
  GtkWidget *hazards = gtk_widget_get_next_sibling (name);
  GtkWidget *places = gtk_widget_get_next_sibling (hazards);
  g_autofree char *name_text = sherd_format_paint (paint);
  g_autofree char *hazards_text = sherd_hazards_dup_names (sherd_trial_get_paint_hazards (self->trial, paint));
  g_autofree char *places_text = dup_places (self->trial, paint);

  g_object_set_data_full (G_OBJECT (row), "paint", g_object_ref (paint), g_object_unref);
  gtk_label_set_text (GTK_LABEL (name), name_text);
  gtk_label_set_text (GTK_LABEL (hazards), hazards_text);
  gtk_widget_set_visible (hazards, *hazards_text != '\0');
  gtk_label_set_text (GTK_LABEL (places), places_text);
  gtk_widget_set_tooltip_text (places, places_text);
  show_colour (self, paint, SHERD_SWATCH (swatch));
}

static void
selected_cb (SherdPaintList *self, GtkListBoxRow *row)
{
  if (!self->is_showing && row != NULL)
    g_signal_emit (self, selected_signal, 0, g_object_get_data (G_OBJECT (row), "paint"));
}

static void
show_rows (SherdPaintList *self, GListModel *paints, SherdPaint *selected)
{
  const int n_paints = (int)g_list_model_get_n_items (paints);
  GtkListBoxRow *extra;

  for (int i = 0; i < n_paints; i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, (guint)i);

      if (gtk_list_box_get_row_at_index (self->box, i) == NULL)
        gtk_list_box_append (self->box, row_new ());
      show_row (self, GTK_WIDGET (gtk_list_box_get_row_at_index (self->box, i)), paint);
      if (paint == selected)
        gtk_list_box_select_row (self->box, gtk_list_box_get_row_at_index (self->box, i));
    }
  while ((extra = gtk_list_box_get_row_at_index (self->box, n_paints)) != NULL)
    gtk_list_box_remove (self->box, GTK_WIDGET (extra));
}

/**
 * sherd_paint_list_show:
 * @self: a list
 * @trial: a trial
 * @selected: (nullable): the paint that is shown beside the list
 *
 * Shows the trial's paints as they are now; sends no signal.
 */
void
sherd_paint_list_show (SherdPaintList *self, SherdTrial *trial, SherdPaint *selected)
{
  g_set_object (&self->trial, trial);
  self->is_showing = TRUE;
  show_rows (self, sherd_trial_get_paints (trial), selected);
  self->is_showing = FALSE;
}

static void
sherd_paint_list_dispose (GObject *object)
{
  SherdPaintList *self = SHERD_PAINT_LIST (object);

  if (self->box != NULL)
    gtk_widget_unparent (GTK_WIDGET (self->box));
  self->box = NULL;
  g_clear_object (&self->trial);
  G_OBJECT_CLASS (sherd_paint_list_parent_class)->dispose (object);
}

static void
sherd_paint_list_class_init (SherdPaintListClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sherd_paint_list_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  selected_signal = g_signal_new ("selected", SHERD_TYPE_PAINT_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, SHERD_TYPE_PAINT);
}

static void
sherd_paint_list_init (SherdPaintList *self)
{
  self->box = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_widget_add_css_class (GTK_WIDGET (self->box), "navigation-sidebar");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->box), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Paints"), -1);
  gtk_widget_set_parent (GTK_WIDGET (self->box), GTK_WIDGET (self));
  g_signal_connect_object (self->box, "row-selected", G_CALLBACK (selected_cb), self, G_CONNECT_SWAPPED);
}
