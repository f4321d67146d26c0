/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-outline.h"

#include <glib/gi18n-lib.h>

/* The outline of a zone or a patch in a photograph. It can have the focus and tells assistive technology about itself;
 * the canvas draws all outlines in one go, so that a thousand of them pan as smoothly as ten. */
struct _SherdPhotoOutline
{
  GtkWidget parent_instance;

  SherdOutline *shape_photo_px;
  graphene_rect_t bounds_photo_px;
  char *code;
  char *note;
  SherdPhotoOutlineState state;
  gboolean selected;
  PangoLayout *label;
};

enum
{
  ACTIVATE,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (SherdPhotoOutline, sherd_photo_outline, GTK_TYPE_WIDGET)

static void
activate_action (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  g_signal_emit (widget, signals[ACTIVATE], 0);
}

static void
sherd_photo_outline_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  g_clear_object (&SHERD_PHOTO_OUTLINE (widget)->label);
  GTK_WIDGET_CLASS (sherd_photo_outline_parent_class)->css_changed (widget, change);
}

static void
sherd_photo_outline_finalize (GObject *object)
{
  SherdPhotoOutline *self = SHERD_PHOTO_OUTLINE (object);

  g_clear_pointer (&self->shape_photo_px, sherd_outline_free);
  g_clear_object (&self->label);
  g_free (self->code);
  g_free (self->note);
  G_OBJECT_CLASS (sherd_photo_outline_parent_class)->finalize (object);
}

static void
sherd_photo_outline_class_init (SherdPhotoOutlineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sherd_photo_outline_finalize;
  widget_class->css_changed = sherd_photo_outline_css_changed;
  gtk_widget_class_set_css_name (widget_class, "photo-outline");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_BUTTON);
  gtk_widget_class_install_action (widget_class, "outline.activate", NULL, activate_action);

  /**
   * SherdPhotoOutline::activate:
   *
   * The outline was chosen by assistive technology.
   */
  signals[ACTIVATE] =
    g_signal_new ("activate", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sherd_photo_outline_init (SherdPhotoOutline *self)
{
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
}

/**
 * sherd_photo_outline_new:
 * @outline_photo_px: the outline, px of the upright photograph
 * @code: short code shown in it
 *
 * Returns: (transfer floating): the outline
 */
GtkWidget *
sherd_photo_outline_new (const SherdOutline *outline_photo_px, const char *code)
{
  SherdPhotoOutline *self = g_object_new (SHERD_TYPE_PHOTO_OUTLINE, NULL);

  self->code = g_strdup (code);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, code,
                                  GTK_ACCESSIBLE_PROPERTY_ROLE_DESCRIPTION, _ ("outline"), -1);
  sherd_photo_outline_set_shape (self, outline_photo_px);
  return GTK_WIDGET (self);
}

static void
find_bounds (const SherdOutline *shape, graphene_rect_t *bounds)
{
  for (gsize i = 0; i < shape->n_points; i++)
    {
      const graphene_point_t point = GRAPHENE_POINT_INIT ((float)shape->points[i].x, (float)shape->points[i].y);

      if (i == 0)
        *bounds = GRAPHENE_RECT_INIT (point.x, point.y, 0.0f, 0.0f);
      else
        graphene_rect_expand (bounds, &point, bounds);
    }
}

/**
 * sherd_photo_outline_set_shape:
 * @self: the outline
 * @outline_photo_px: its new shape, px of the upright photograph; copied
 */
void
sherd_photo_outline_set_shape (SherdPhotoOutline *self, const SherdOutline *outline_photo_px)
{
  g_return_if_fail (SHERD_IS_PHOTO_OUTLINE (self));
  g_clear_pointer (&self->shape_photo_px, sherd_outline_free);
  self->shape_photo_px = sherd_outline_copy (outline_photo_px);
  find_bounds (outline_photo_px, &self->bounds_photo_px);
}

static const char *
name_state (SherdPhotoOutlineState state)
{
  switch (state)
    {
    case SHERD_PHOTO_OUTLINE_NOT_MEASURED:
      return _ ("not measured");
    case SHERD_PHOTO_OUTLINE_FLAGGED:
      return _ ("flagged");
    case SHERD_PHOTO_OUTLINE_NORMAL:
    default:
      return "";
    }
}

/**
 * sherd_photo_outline_set_state:
 * @self: the outline
 * @state: its new state
 * @note: (nullable): why, in words, translated: “glare on 62 % of it”
 */
void
sherd_photo_outline_set_state (SherdPhotoOutline *self, SherdPhotoOutlineState state, const char *note)
{
  g_return_if_fail (SHERD_IS_PHOTO_OUTLINE (self));
  self->state = state;
  g_free (self->note);
  self->note = g_strdup (note);
  g_clear_object (&self->label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  note ? note : name_state (state), -1);
}

void
sherd_photo_outline_set_selected (SherdPhotoOutline *self, gboolean selected)
{
  g_return_if_fail (SHERD_IS_PHOTO_OUTLINE (self));
  self->selected = selected;
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_SELECTED, selected, -1);
}

const SherdOutline *
sherd_photo_outline_get_shape (SherdPhotoOutline *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_OUTLINE (self), NULL);
  return self->shape_photo_px;
}

SherdPhotoOutlineState
sherd_photo_outline_get_state (SherdPhotoOutline *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_OUTLINE (self), SHERD_PHOTO_OUTLINE_NORMAL);
  return self->state;
}

gboolean
sherd_photo_outline_get_selected (SherdPhotoOutline *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_OUTLINE (self), FALSE);
  return self->selected;
}

const char *
sherd_photo_outline_get_note (SherdPhotoOutline *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_OUTLINE (self), NULL);
  return self->note;
}

/**
 * sherd_photo_outline_get_bounds:
 * @self: the outline
 *
 * Returns: (transfer none): the smallest upright rectangle around it, px of the upright photograph
 */
const graphene_rect_t *
sherd_photo_outline_get_bounds (SherdPhotoOutline *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_OUTLINE (self), NULL);
  return &self->bounds_photo_px;
}

/**
 * sherd_photo_outline_get_label:
 * @self: the outline
 *
 * Returns: (transfer none): the code, with “!” when flagged and “–” when not measured
 */
PangoLayout *
sherd_photo_outline_get_label (SherdPhotoOutline *self)
{
  static const char *const suffix[] = { "", " –", " !" };
  g_autofree char *text = NULL;

  g_return_val_if_fail (SHERD_IS_PHOTO_OUTLINE (self), NULL);
  if (!self->label)
    {
      text = g_strconcat (self->code, suffix[self->state], NULL);
      self->label = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
    }
  return self->label;
}
