/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/piece-station.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "desk/children.h"
#include "desk/chooser.h"
#include "desk/dialogs.h"
#include "desk/layout-panel.h"
#include "desk/new-piece.h"
#include "desk/paint-names.h"
#include "desk/side-view.h"
#include "desk/vessel-fields.h"
#include "desk/vessel-view.h"
#include "trial/edits.h"
#include "trial/form-edits.h"
#include "trial/format.h"
#include "trial/narrow-zones.h"

/* Half of the last digit that the fields of the grid show. */
#define FIELD_HAIR_MM 0.0051

struct _SherdPieceStation
{
  GtkWidget parent_instance;

  GtkStack *stack;
  SherdSideView *side_view;
  SherdVesselView *vessel_view;
  GtkDropDown *piece_chooser;
  GtkEntry *name_entry;
  GtkWidget *width_label;
  GtkWidget *height_label;
  GtkWidget *thickness_label;
  GtkSpinButton *width_spin;
  GtkSpinButton *height_spin;
  GtkSpinButton *thickness_spin;
  GtkDropDown *state_chooser;
  GtkDropDown *painted_chooser;
  GtkDropDown *side_chooser;
  GtkDropDown *burnish_chooser;
  SherdVesselFields *vessel_fields;
  SherdLayoutPanel *layout_panel;
  GtkWidget *row_grid;
  GtkEntry *ground_entry;
  GtkSpinButton *rows_spin;
  GtkSpinButton *columns_spin;
  GtkSpinButton *edge_x_spin;
  GtkSpinButton *edge_y_spin;
  GtkSpinButton *gap_x_spin;
  GtkSpinButton *gap_y_spin;
  GtkWidget *lay_button;
  GtkWidget *zone_bar;
  GtkLabel *narrow_label;
  GtkLabel *zone_heading;
  GtkEntry *zone_paint_entry;
  GtkSpinButton *coats_spin;
  SherdPaintNames *paint_names;

  SherdTrial *trial;
  char *piece_id; /* what is shown; ids survive undo and redo */
  char *side_name;
  char *zone_id;
  char *grid_side_id; /* the side whose grid the fields were filled from */
  SherdGrid shown_grid;
  gboolean refreshing;
};

G_DEFINE_FINAL_TYPE (SherdPieceStation, sherd_piece_station, GTK_TYPE_WIDGET)

static void refresh (SherdPieceStation *self);

static SherdPiece *
shown_piece (SherdPieceStation *self)
{
  return self->piece_id != NULL ? sherd_trial_find_piece (self->trial, self->piece_id) : NULL;
}

/* (nullable): the chosen one, or the first; a piece of a file may have no side */
static SherdSide *
shown_side (SherdPieceStation *self)
{
  SherdPiece *piece = shown_piece (self);
  SherdSide *chosen =
    piece != NULL && self->side_name != NULL ? sherd_piece_find_side_by_name (piece, self->side_name) : NULL;
  g_autoptr (SherdSide) first = NULL;

  if (chosen != NULL || piece == NULL)
    return chosen;
  first = g_list_model_get_item (sherd_piece_get_sides (piece), 0);
  return first;
}

static SherdZone *
shown_zone (SherdPieceStation *self)
{
  SherdSide *side = shown_side (self);

  return side != NULL && self->zone_id != NULL ? sherd_side_find_zone (side, self->zone_id) : NULL;
}

/* What the trial refused is told, and the fields show again what the trial holds. */
static void
tell_if_refused (SherdPieceStation *self, gboolean done, GError *error)
{
  if (done)
    return;
  sherd_dialog_error (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), _ ("That was not changed"), error);
  refresh (self);
}

static void
choose_first_piece_if_gone (SherdPieceStation *self)
{
  GListModel *pieces = sherd_trial_get_pieces (self->trial);
  g_autoptr (SherdPiece) first = NULL;

  if (shown_piece (self) != NULL)
    return;
  first = g_list_model_get_item (pieces, 0);
  g_free (self->piece_id);
  self->piece_id = first != NULL ? g_strdup (sherd_part_get_id (SHERD_PART (first))) : NULL;
}

static void
refresh_piece_chooser (SherdPieceStation *self)
{
  GListModel *pieces = sherd_trial_get_pieces (self->trial);
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) names = NULL;
  guint shown = 0;

  for (guint i = 0; i < g_list_model_get_n_items (pieces); i++)
    {
      g_autoptr (SherdPiece) piece = g_list_model_get_item (pieces, i);

      g_strv_builder_add (builder, sherd_piece_get_name (piece));
      if (piece == shown_piece (self))
        shown = i;
    }
  names = g_strv_builder_end (builder);
  sherd_chooser_fill (self->piece_chooser, (const char *const *)names, shown);
}

static void
refresh_side_chooser (SherdPieceStation *self, SherdPiece *piece)
{
  GListModel *sides = sherd_piece_get_sides (piece);
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) names = NULL;
  guint shown = 0;

  for (guint i = 0; i < g_list_model_get_n_items (sides); i++)
    {
      g_autoptr (SherdSide) side = g_list_model_get_item (sides, i);
      g_autofree char *name = sherd_format_side (sherd_side_get_name (side));

      g_strv_builder_add (builder, name);
      if (side == shown_side (self))
        shown = i;
    }
  names = g_strv_builder_end (builder);
  sherd_chooser_fill (self->side_chooser, (const char *const *)names, shown);
}

static void
set_entry (GtkEntry *entry, const char *text)
{
  if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (entry)), text))
    gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

static void
show_grid_fields (SherdPieceStation *self, const SherdGrid *grid)
{
  self->shown_grid = *grid;
  gtk_spin_button_set_value (self->rows_spin, grid->n_rows);
  gtk_spin_button_set_value (self->columns_spin, grid->n_columns);
  gtk_spin_button_set_value (self->edge_x_spin, grid->left_mm);
  gtk_spin_button_set_value (self->edge_y_spin, grid->top_mm);
  gtk_spin_button_set_value (self->gap_x_spin, grid->gap_x_mm);
  gtk_spin_button_set_value (self->gap_y_spin, grid->gap_y_mm);
}

/* When another side is shown, the fields of the grid tell how its zones lie. */
static void
show_grid (SherdPieceStation *self, SherdPiece *piece, SherdSide *side)
{
  SherdGrid grid;

  if (g_strcmp0 (self->grid_side_id, sherd_part_get_id (SHERD_PART (side))) == 0)
    return;
  g_free (self->grid_side_id);
  self->grid_side_id = g_strdup (sherd_part_get_id (SHERD_PART (side)));
  if (sherd_side_find_grid (side, sherd_piece_get_width_mm (piece), sherd_piece_get_height_mm (piece), &grid))
    show_grid_fields (self, &grid);
}

/* Only what such a piece has. */
static void
show_fields_of_kind (SherdPieceStation *self, SherdPiece *piece)
{
  const gboolean has_width = sherd_piece_has_own_size (piece);
  const gboolean is_disc = sherd_piece_get_kind (piece) == SHERD_PIECE_DISC;

  gtk_widget_set_visible (self->width_label, has_width);
  gtk_widget_set_visible (GTK_WIDGET (self->width_spin), has_width);
  gtk_label_set_text (GTK_LABEL (self->width_label), is_disc ? _ ("Diameter, mm") : _ ("Width, mm"));
  gtk_widget_set_visible (self->height_label, has_width && !is_disc);
  gtk_widget_set_visible (GTK_WIDGET (self->height_spin), has_width && !is_disc);
  gtk_widget_set_visible (self->thickness_label, !sherd_piece_is_vessel (piece));
  gtk_widget_set_visible (GTK_WIDGET (self->thickness_spin), !sherd_piece_is_vessel (piece));
  gtk_widget_set_visible (self->row_grid, !sherd_piece_is_vessel (piece));
}

static void
refresh_side (SherdPieceStation *self, SherdPiece *piece, SherdSide *side)
{
  refresh_side_chooser (self, piece);
  gtk_drop_down_set_selected (self->burnish_chooser, sherd_side_get_burnish (side));
  if (!sherd_piece_is_vessel (piece))
    show_grid (self, piece, side);
}

/* The same in all views. */
static void
show_selection (SherdPieceStation *self)
{
  sherd_side_view_select (self->side_view, shown_zone (self));
  sherd_vessel_view_select (self->vessel_view, shown_zone (self));
}

/* Told where it is seen without scrolling, while the zones can still be laid wider. */
static void
show_narrow_zones (SherdPieceStation *self, SherdPiece *piece, SherdSide *side)
{
  g_autofree char *words = side != NULL ? sherd_narrow_zones_dup_words (piece, side) : NULL;

  gtk_label_set_text (self->narrow_label, words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (self->narrow_label), words != NULL);
}

static void
refresh_shape (SherdPieceStation *self, SherdPiece *piece)
{
  SherdSide *side = shown_side (self);

  set_entry (self->name_entry, sherd_piece_get_name (piece));
  show_fields_of_kind (self, piece);
  sherd_vessel_fields_show (self->vessel_fields, self->trial, piece, side);
  sherd_layout_panel_show (self->layout_panel, self->trial, piece, side);
  gtk_drop_down_set_selected (self->painted_chooser, sherd_piece_get_painted_state (piece));
  gtk_widget_set_sensitive (GTK_WIDGET (self->burnish_chooser), side != NULL);
  gtk_spin_button_set_value (self->width_spin, sherd_piece_get_width_mm (piece));
  gtk_spin_button_set_value (self->height_spin, sherd_piece_get_height_mm (piece));
  gtk_spin_button_set_value (self->thickness_spin, sherd_piece_get_thickness_mm (piece));
  gtk_drop_down_set_selected (self->state_chooser, sherd_piece_get_state (piece));
  set_entry (self->ground_entry, side != NULL ? sherd_side_get_ground (side) : "");
  gtk_widget_set_sensitive (GTK_WIDGET (self->ground_entry), side != NULL);
  gtk_widget_set_sensitive (self->lay_button, side != NULL);
  if (side != NULL)
    refresh_side (self, piece, side);
  sherd_side_view_show (self->side_view, piece, side);
  sherd_vessel_view_show (self->vessel_view, piece);
  show_narrow_zones (self, piece, side);
  show_selection (self);
}

static void
refresh_zone (SherdPieceStation *self)
{
  SherdZone *zone = shown_zone (self);
  SherdPaint *paint = zone != NULL ? sherd_zone_get_paint (zone) : NULL;
  g_autofree char *heading =
    zone != NULL ? g_strdup_printf (_ ("Zone %s"), sherd_zone_get_code (zone)) : g_strdup (_ ("No zone chosen"));

  gtk_label_set_text (self->zone_heading, heading);
  gtk_widget_set_sensitive (self->zone_bar, zone != NULL);
  if (zone == NULL)
    return;
  set_entry (self->zone_paint_entry, paint != NULL ? sherd_paint_get_code (paint) : "");
  gtk_spin_button_set_value (self->coats_spin, sherd_zone_get_coats (zone));
}

static void
refresh (SherdPieceStation *self)
{
  SherdPiece *piece;

  if (self->trial == NULL || self->refreshing)
    return;
  self->refreshing = TRUE;
  choose_first_piece_if_gone (self);
  piece = shown_piece (self);
  gtk_stack_set_visible_child_name (self->stack, piece != NULL ? "piece" : "empty");
  if (piece != NULL)
    {
      refresh_piece_chooser (self);
      refresh_shape (self, piece);
      refresh_zone (self);
      sherd_paint_names_show (self->paint_names, self->trial);
    }
  else
    {
      sherd_side_view_show (self->side_view, NULL, NULL);
      sherd_layout_panel_show (self->layout_panel, NULL, NULL, NULL);
    }
  self->refreshing = FALSE;
}

static void
show_piece (SherdPieceStation *self, SherdPiece *piece, const char *side_name)
{
  g_free (self->piece_id);
  self->piece_id = g_strdup (sherd_part_get_id (SHERD_PART (piece)));
  g_free (self->side_name);
  self->side_name = g_strdup (side_name);
  refresh (self);
}

static void
add_piece (SherdPieceStation *self, const char *word)
{
  g_autoptr (GError) error = NULL;
  const char *side_name = NULL;
  SherdPiece *piece = sherd_new_piece_add (self->trial, word, &side_name, &error);

  if (piece != NULL)
    show_piece (self, piece, side_name);
  tell_if_refused (self, piece != NULL, error);
}

static void
add_tile_cb (SherdPieceStation *self)
{
  add_piece (self, "tile");
}

static void
add_piece_cb (GtkWidget *widget, const char *action, GVariant *target)
{
  add_piece (SHERD_PIECE_STATION (widget), g_variant_get_string (target, NULL));
}

static void
refused_cb (SherdPieceStation *self, const char *message)
{
  g_autoptr (GError) error = g_error_new_literal (SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, message);

  tell_if_refused (self, FALSE, error);
}

static void
side_chosen_cb (SherdPieceStation *self)
{
  g_autoptr (SherdSide) side = NULL;

  if (self->refreshing || self->trial == NULL || shown_piece (self) == NULL)
    return;
  side =
    g_list_model_get_item (sherd_piece_get_sides (shown_piece (self)), gtk_drop_down_get_selected (self->side_chooser));
  if (side == NULL || side == shown_side (self))
    return;
  g_free (self->side_name);
  self->side_name = g_strdup (sherd_side_get_name (side));
  refresh (self);
}

static void
painted_cb (SherdPieceStation *self)
{
  const SherdClayState state = (SherdClayState)gtk_drop_down_get_selected (self->painted_chooser);

  if (!self->refreshing && self->trial != NULL && shown_piece (self) != NULL &&
      state != sherd_piece_get_painted_state (shown_piece (self)))
    sherd_trial_set_painted_state (self->trial, shown_piece (self), state);
}

static void
burnish_cb (SherdPieceStation *self)
{
  const SherdBurnish burnish = (SherdBurnish)gtk_drop_down_get_selected (self->burnish_chooser);

  if (!self->refreshing && self->trial != NULL && shown_side (self) != NULL &&
      burnish != sherd_side_get_burnish (shown_side (self)))
    sherd_trial_set_burnish (self->trial, shown_side (self), burnish);
}

static void
remove_tile_cb (SherdPieceStation *self)
{
  sherd_trial_remove_piece (self->trial, shown_piece (self));
}

static void
piece_chosen_cb (SherdPieceStation *self)
{
  g_autoptr (SherdPiece) piece = NULL;

  if (self->refreshing || self->trial == NULL)
    return;
  piece =
    g_list_model_get_item (sherd_trial_get_pieces (self->trial), gtk_drop_down_get_selected (self->piece_chooser));
  if (piece == NULL || piece == shown_piece (self))
    return;
  g_free (self->piece_id);
  self->piece_id = g_strdup (sherd_part_get_id (SHERD_PART (piece)));
  refresh (self);
}

/* Entries take effect on Enter and when the focus leaves. */
static gboolean
entry_is_done (SherdPieceStation *self, GtkEntry *entry, const char *before)
{
  return !self->refreshing && self->trial != NULL && shown_piece (self) != NULL &&
         !g_str_equal (gtk_editable_get_text (GTK_EDITABLE (entry)), before);
}

static void
name_cb (SherdPieceStation *self)
{
  g_autoptr (GError) error = NULL;

  if (shown_piece (self) == NULL || !entry_is_done (self, self->name_entry, sherd_piece_get_name (shown_piece (self))))
    return;
  tell_if_refused (self,
                   sherd_trial_set_piece_name (self->trial, shown_piece (self),
                                               gtk_editable_get_text (GTK_EDITABLE (self->name_entry)), &error),
                   error);
}

static void
size_cb (SherdPieceStation *self)
{
  g_autoptr (GError) error = NULL;
  gboolean is_disc;

  if (self->refreshing || shown_piece (self) == NULL)
    return;
  is_disc = sherd_piece_get_kind (shown_piece (self)) == SHERD_PIECE_DISC;
  tell_if_refused (
    self,
    sherd_trial_set_tile_size (self->trial, shown_piece (self), gtk_spin_button_get_value (self->width_spin),
                               gtk_spin_button_get_value (is_disc ? self->width_spin : self->height_spin),
                               gtk_spin_button_get_value (self->thickness_spin), TRUE, &error),
    error);
}

/* Turning a spin button is one step of undo until the focus leaves it. */
static void
spin_left_cb (SherdPieceStation *self)
{
  if (self->trial != NULL)
    sherd_trial_seal_edit (self->trial);
}

static void
state_cb (SherdPieceStation *self)
{
  SherdClayState state = (SherdClayState)gtk_drop_down_get_selected (self->state_chooser);

  if (!self->refreshing && self->trial != NULL && shown_piece (self) != NULL &&
      state != sherd_piece_get_state (shown_piece (self)))
    sherd_trial_set_piece_state (self->trial, shown_piece (self), state);
}

static void
ground_cb (SherdPieceStation *self)
{
  if (shown_side (self) != NULL && entry_is_done (self, self->ground_entry, sherd_side_get_ground (shown_side (self))))
    sherd_trial_set_side_ground (self->trial, shown_side (self),
                                 gtk_editable_get_text (GTK_EDITABLE (self->ground_entry)));
}

/* @exact_mm where the field still shows @shown_mm: the zones may lie finer than the field tells, and not the same on
 * both edges.
 */
static double
take_field (GtkSpinButton *field, double shown_mm, double exact_mm)
{
  const double typed_mm = gtk_spin_button_get_value (field);

  return fabs (typed_mm - shown_mm) < FIELD_HAIR_MM ? exact_mm : typed_mm;
}

static void
lay_grid_cb (SherdPieceStation *self)
{
  const SherdGrid *shown = &self->shown_grid;
  const SherdGrid grid = {
    .n_rows = (guint)gtk_spin_button_get_value_as_int (self->rows_spin),
    .n_columns = (guint)gtk_spin_button_get_value_as_int (self->columns_spin),
    .left_mm = take_field (self->edge_x_spin, shown->left_mm, shown->left_mm),
    .top_mm = take_field (self->edge_y_spin, shown->top_mm, shown->top_mm),
    .right_mm = take_field (self->edge_x_spin, shown->left_mm, shown->right_mm),
    .bottom_mm = take_field (self->edge_y_spin, shown->top_mm, shown->bottom_mm),
    .gap_x_mm = take_field (self->gap_x_spin, shown->gap_x_mm, shown->gap_x_mm),
    .gap_y_mm = take_field (self->gap_y_spin, shown->gap_y_mm, shown->gap_y_mm),
  };
  g_autoptr (GError) error = NULL;

  if (shown_side (self) == NULL)
    return;
  tell_if_refused (self, sherd_trial_set_zone_grid (self->trial, shown_piece (self), shown_side (self), &grid, &error),
                   error);
}

static void
zone_selected_cb (SherdPieceStation *self, SherdZone *zone)
{
  g_free (self->zone_id);
  self->zone_id = g_strdup (sherd_part_get_id (SHERD_PART (zone)));
  show_selection (self);
  self->refreshing = TRUE;
  refresh_zone (self);
  self->refreshing = FALSE;
  gtk_widget_grab_focus (GTK_WIDGET (self->zone_paint_entry));
}

/* The picture in space shows both sides: the side of the zone is turned to. */
static void
zone_in_space_cb (SherdPieceStation *self, SherdZone *zone)
{
  GListModel *sides = sherd_piece_get_sides (shown_piece (self));

  for (guint i = 0; i < g_list_model_get_n_items (sides); i++)
    {
      g_autoptr (SherdSide) side = g_list_model_get_item (sides, i);

      if (sherd_side_find_zone (side, sherd_part_get_id (SHERD_PART (zone))) == zone)
        show_piece (self, shown_piece (self), sherd_side_get_name (side));
    }
  zone_selected_cb (self, zone);
}

/* Click a zone, type its code, Enter, the next code, Enter, …: the fastest way to fill a tile. */
static void
select_next_zone (SherdPieceStation *self)
{
  GListModel *zones = sherd_side_get_zones (shown_side (self));
  guint n_zones = g_list_model_get_n_items (zones);

  for (guint i = 0; i + 1 < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      g_autoptr (SherdZone) next = g_list_model_get_item (zones, i + 1);

      if (zone == shown_zone (self))
        {
          zone_selected_cb (self, next);
          return;
        }
    }
}

static void
zone_paint_cb (SherdPieceStation *self)
{
  SherdZone *zone = shown_zone (self);
  SherdPaint *paint = zone != NULL ? sherd_zone_get_paint (zone) : NULL;
  g_autoptr (GError) error = NULL;

  if (zone == NULL || !entry_is_done (self, self->zone_paint_entry, paint != NULL ? sherd_paint_get_code (paint) : ""))
    return;
  tell_if_refused (self,
                   sherd_trial_set_zones_paint (self->trial, &zone, 1,
                                                gtk_editable_get_text (GTK_EDITABLE (self->zone_paint_entry)), &error),
                   error);
}

static void
zone_paint_done_cb (SherdPieceStation *self)
{
  zone_paint_cb (self);
  select_next_zone (self);
}

static void
coats_cb (SherdPieceStation *self)
{
  SherdZone *zone = shown_zone (self);
  g_autoptr (GError) error = NULL;

  if (self->refreshing || zone == NULL)
    return;
  tell_if_refused (self,
                   sherd_trial_set_zone_coats (
                     self->trial, zone, (guint)gtk_spin_button_get_value_as_int (self->coats_spin), TRUE, &error),
                   error);
}

static void
remove_zone_cb (SherdPieceStation *self)
{
  if (shown_zone (self) != NULL)
    sherd_trial_remove_zone (self->trial, shown_side (self), shown_zone (self));
}

/**
 * sherd_piece_station_set_trial:
 * @self: the station
 * @trial: (nullable): what it shows and edits from now on
 */
void
sherd_piece_station_set_trial (SherdPieceStation *self, SherdTrial *trial)
{
  if (self->trial != NULL)
    g_signal_handlers_disconnect_by_data (self->trial, self);
  g_set_object (&self->trial, trial);
  g_clear_pointer (&self->piece_id, g_free);
  g_clear_pointer (&self->side_name, g_free);
  g_clear_pointer (&self->zone_id, g_free);
  g_clear_pointer (&self->grid_side_id, g_free);
  if (trial == NULL)
    {
      if (self->paint_names != NULL)
        sherd_paint_names_show (self->paint_names, NULL);
      if (self->layout_panel != NULL)
        sherd_layout_panel_show (self->layout_panel, NULL, NULL, NULL);
      return;
    }
  g_signal_connect_swapped (trial, "edited", G_CALLBACK (refresh), self);
  refresh (self);
}

static void
sherd_piece_station_dispose (GObject *object)
{
  SherdPieceStation *self = SHERD_PIECE_STATION (object);

  self->refreshing = TRUE;
  sherd_piece_station_set_trial (self, NULL);
  sherd_children_drop (GTK_WIDGET (self));
  G_OBJECT_CLASS (sherd_piece_station_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, stack);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, side_view);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, vessel_view);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, piece_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, name_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, width_label);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, height_label);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, thickness_label);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, painted_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, side_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, burnish_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, vessel_fields);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, layout_panel);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, row_grid);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, width_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, height_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, thickness_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, state_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, ground_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, rows_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, columns_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, edge_x_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, edge_y_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, gap_x_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, gap_y_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, lay_button);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, zone_bar);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, narrow_label);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, zone_heading);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, zone_paint_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, coats_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdPieceStation, paint_names);
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_callback (widget_class, add_tile_cb);
  gtk_widget_class_bind_template_callback (widget_class, refused_cb);
  gtk_widget_class_bind_template_callback (widget_class, side_chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, painted_cb);
  gtk_widget_class_bind_template_callback (widget_class, burnish_cb);
  gtk_widget_class_bind_template_callback (widget_class, remove_tile_cb);
  gtk_widget_class_bind_template_callback (widget_class, piece_chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, name_cb);
  gtk_widget_class_bind_template_callback (widget_class, size_cb);
  gtk_widget_class_bind_template_callback (widget_class, spin_left_cb);
  gtk_widget_class_bind_template_callback (widget_class, state_cb);
  gtk_widget_class_bind_template_callback (widget_class, ground_cb);
  gtk_widget_class_bind_template_callback (widget_class, lay_grid_cb);
  gtk_widget_class_bind_template_callback (widget_class, zone_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, zone_in_space_cb);
  gtk_widget_class_bind_template_callback (widget_class, zone_paint_cb);
  gtk_widget_class_bind_template_callback (widget_class, zone_paint_done_cb);
  gtk_widget_class_bind_template_callback (widget_class, coats_cb);
  gtk_widget_class_bind_template_callback (widget_class, remove_zone_cb);
}

static void
sherd_piece_station_class_init (SherdPieceStationClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_piece_station_dispose;
  g_type_ensure (SHERD_TYPE_PAINT_NAMES);
  g_type_ensure (SHERD_TYPE_SIDE_VIEW);
  g_type_ensure (SHERD_TYPE_LAYOUT_PANEL);
  g_type_ensure (SHERD_TYPE_VESSEL_FIELDS);
  g_type_ensure (SHERD_TYPE_VESSEL_VIEW);
  gtk_widget_class_install_action (widget_class, "piece.add", "s", add_piece_cb);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/piece-station.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
}

static void
sherd_piece_station_init (SherdPieceStation *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  show_grid_fields (self, &sherd_new_piece_grid);
}
