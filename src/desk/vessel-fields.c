/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/vessel-fields.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "desk/children.h"
#include "shape/profile-text.h"
#include "shape/reshape.h"
#include "trial/form-edits.h"
#include "trial/piece-surface.h"
#include "trial/zone-shape-edits.h"

/* Our choice: so much of the wall stays bare at either end until the potter says otherwise. */
#define BARE_MM 8.0

struct _SherdVesselFields
{
  GtkWidget parent_instance;

  GtkSpinButton *rim_spin;
  GtkSpinButton *foot_spin;
  GtkSpinButton *tall_spin;
  GtkSpinButton *wall_spin;
  GtkSpinButton *floor_spin;
  GtkTextView *profile_text;
  GtkLabel *profile_problem;
  GtkWidget *ring_grid;
  GtkSpinButton *rings_spin;
  GtkSpinButton *sectors_spin;
  GtkSpinButton *from_spin;
  GtkSpinButton *to_spin;
  GtkSpinButton *azimuth0_spin;
  GtkSpinButton *azimuth1_spin;
  GtkSpinButton *gap_spin;

  SherdTrial *trial;
  SherdPiece *piece;
  SherdSide *side;
  SherdSide *ring_side; /* the side for which the ring fields were set; never dereferenced */
  gboolean refreshing;
};

G_DEFINE_FINAL_TYPE (SherdVesselFields, sherd_vessel_fields, GTK_TYPE_WIDGET)

static guint refused_signal;

static void
tell (SherdVesselFields *self, GError *error)
{
  if (error != NULL)
    g_signal_emit (self, refused_signal, 0, error->message);
}

static void
show_size (SherdVesselFields *self)
{
  const SherdForm *form = sherd_piece_get_form (self->piece);
  const SherdVesselSize size = sherd_vessel_size_of (form->outside, form->n_outside);

  gtk_spin_button_set_value (self->rim_spin, size.rim_diameter_mm);
  gtk_spin_button_set_value (self->foot_spin, size.foot_diameter_mm);
  gtk_spin_button_set_value (self->tall_spin, size.height_mm);
  gtk_spin_button_set_value (self->wall_spin, sherd_piece_get_thickness_mm (self->piece));
  gtk_spin_button_set_value (self->floor_spin, form->floor_mm);
}

static char *
dup_typed_profile (SherdVesselFields *self)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (self->profile_text);
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

static gboolean
profile_is_typed (SherdVesselFields *self)
{
  const SherdForm *form = sherd_piece_get_form (self->piece);
  g_autofree char *text = dup_typed_profile (self);
  g_autoptr (GArray) points = sherd_profile_points_from_text (text, NULL);
  g_autoptr (SherdForm) typed = sherd_form_copy (form);

  if (points == NULL)
    return FALSE;
  sherd_form_set_outside (typed, (const SherdProfilePoint *)(gpointer)points->data, points->len);
  return sherd_form_equal (typed, form);
}

/* Text that says the same already is left alone, with the cursor in it. */
static void
show_profile (SherdVesselFields *self)
{
  const SherdForm *form = sherd_piece_get_form (self->piece);
  g_autofree char *text = sherd_profile_points_to_text (form->outside, form->n_outside);

  if (!profile_is_typed (self))
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (self->profile_text), text, -1);
  gtk_widget_set_visible (GTK_WIDGET (self->profile_problem), FALSE);
}

/* When another side is shown, the fields say where rings can lie. */
static void
show_rings (SherdVesselFields *self)
{
  g_autoptr (SherdPieceSurface) surface = NULL;
  double length_mm;

  if (self->side == self->ring_side || self->side == NULL)
    return;
  self->ring_side = self->side;
  surface = sherd_piece_surface_new (self->piece, sherd_side_get_name (self->side), NULL);
  if (surface == NULL)
    return;
  length_mm = sherd_profile_length_mm (sherd_piece_surface_get (surface)->profile);
  gtk_spin_button_set_value (self->from_spin, MIN (BARE_MM, length_mm / 4.0));
  gtk_spin_button_set_value (self->to_spin, MAX (length_mm - 3.0 * BARE_MM, length_mm / 2.0));
}

/**
 * sherd_vessel_fields_show:
 * @self: the fields
 * @trial: the trial
 * @piece: (nullable): one of its pieces
 * @side: (nullable): one of its sides
 *
 * Shows a vessel as it is now; hides itself for other pieces.
 */
void
sherd_vessel_fields_show (SherdVesselFields *self, SherdTrial *trial, SherdPiece *piece, SherdSide *side)
{
  const gboolean is_vessel = piece != NULL && sherd_piece_is_vessel (piece);

  gtk_widget_set_visible (GTK_WIDGET (self), is_vessel);
  g_set_object (&self->trial, trial);
  g_clear_object (&self->piece);
  g_clear_object (&self->side);
  if (!is_vessel)
    return;
  self->piece = g_object_ref (piece);
  g_set_object (&self->side, side);
  self->refreshing = TRUE;
  show_size (self);
  show_profile (self);
  show_rings (self);
  gtk_widget_set_sensitive (self->ring_grid, side != NULL);
  self->refreshing = FALSE;
}

static void
size_cb (SherdVesselFields *self)
{
  const SherdVesselSize size = { gtk_spin_button_get_value (self->rim_spin),
                                 gtk_spin_button_get_value (self->foot_spin),
                                 gtk_spin_button_get_value (self->tall_spin) };
  g_autoptr (SherdForm) form = NULL;
  g_autoptr (GError) error = NULL;

  if (self->refreshing || self->piece == NULL)
    return;
  form = sherd_form_copy (sherd_piece_get_form (self->piece));
  form->floor_mm = gtk_spin_button_get_value (self->floor_spin);
  if (sherd_vessel_size_apply (&size, form->outside, form->n_outside, &error))
    sherd_trial_set_form (self->trial, self->piece, gtk_spin_button_get_value (self->wall_spin), form, TRUE, &error);
  tell (self, error);
}

/* A table that is not yet a profile is told below it and kept as typed. */
static void
profile_changed_cb (SherdVesselFields *self)
{
  g_autofree char *text = NULL;
  g_autoptr (GArray) points = NULL;
  g_autoptr (SherdForm) form = NULL;
  g_autoptr (GError) error = NULL;

  if (self->refreshing || self->piece == NULL)
    return;
  text = dup_typed_profile (self);
  points = sherd_profile_points_from_text (text, &error);
  if (points != NULL)
    {
      form = sherd_form_copy (sherd_piece_get_form (self->piece));
      sherd_form_set_outside (form, (const SherdProfilePoint *)(gpointer)points->data, points->len);
      sherd_trial_set_form (self->trial, self->piece, sherd_piece_get_thickness_mm (self->piece), form, TRUE, &error);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->profile_problem), error != NULL);
  gtk_label_set_text (self->profile_problem, error != NULL ? error->message : "");
}

static void
lay_cb (SherdVesselFields *self)
{
  const SherdRingGrid grid = {
    .n_rings = (guint)gtk_spin_button_get_value_as_int (self->rings_spin),
    .n_sectors = (guint)gtk_spin_button_get_value_as_int (self->sectors_spin),
    .whole = { gtk_spin_button_get_value (self->azimuth0_spin), gtk_spin_button_get_value (self->azimuth1_spin),
               gtk_spin_button_get_value (self->from_spin), gtk_spin_button_get_value (self->to_spin) },
    .gap_mm = gtk_spin_button_get_value (self->gap_spin),
  };
  g_autoptr (GError) error = NULL;

  if (self->side != NULL)
    sherd_trial_set_ring_grid (self->trial, self->piece, self->side, &grid, &error);
  tell (self, error);
}

static void
sherd_vessel_fields_dispose (GObject *object)
{
  SherdVesselFields *self = SHERD_VESSEL_FIELDS (object);

  self->refreshing = TRUE;
  sherd_children_drop (GTK_WIDGET (self));
  g_clear_object (&self->trial);
  g_clear_object (&self->piece);
  g_clear_object (&self->side);
  G_OBJECT_CLASS (sherd_vessel_fields_parent_class)->dispose (object);
}

static void
sherd_vessel_fields_class_init (SherdVesselFieldsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_vessel_fields_dispose;

  /**
   * SherdVesselFields::refused:
   * @message: what cannot be, and why
   */
  refused_signal = g_signal_new ("refused", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 1, G_TYPE_STRING);

  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/vessel-fields.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, rim_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, foot_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, tall_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, wall_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, floor_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, profile_text);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, profile_problem);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, ring_grid);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, rings_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, sectors_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, from_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, to_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, azimuth0_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, azimuth1_spin);
  gtk_widget_class_bind_template_child (widget_class, SherdVesselFields, gap_spin);
  gtk_widget_class_bind_template_callback (widget_class, size_cb);
  gtk_widget_class_bind_template_callback (widget_class, lay_cb);
}

static void
sherd_vessel_fields_init (SherdVesselFields *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_swapped (gtk_text_view_get_buffer (self->profile_text), "changed", G_CALLBACK (profile_changed_cb),
                            self);
}
