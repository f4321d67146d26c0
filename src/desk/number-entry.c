/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/number-entry.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "desk/children.h"
#include "desk/refusal.h"
#include "trial/number.h"

struct _SherdNumberEntry
{
  GtkWidget parent_instance;

  GtkEntry *entry;
  GtkLabel *unit_label;
  GtkLabel *message_label;

  double value; /* what the model holds, as far as it told */
  gboolean may_be_empty;
  gboolean is_showing;
};

enum
{
  PROP_0,
  PROP_LABEL,
  PROP_UNIT,
  PROP_MAY_BE_EMPTY,
  N_PROPERTIES
};

enum
{
  EDITED,
  ACTIVATED,
  LEFT,
  N_SIGNALS
};

static GParamSpec *properties[N_PROPERTIES];
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (SherdNumberEntry, sherd_number_entry, GTK_TYPE_WIDGET)

static gboolean
is_same (double one, double two)
{
  return one == two || (isnan (one) && isnan (two));
}

static gboolean
is_blank (const char *text)
{
  g_autofree char *stripped = g_strstrip (g_strdup (text));

  return *stripped == '\0';
}

/* FALSE with the reason when the text is no number. */
static gboolean
read_text (SherdNumberEntry *self, double *value, GError **error)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->entry));

  if (!self->may_be_empty || !is_blank (text))
    return sherd_number_parse (text, value, error);
  *value = NAN;
  return TRUE;
}

static void
changed_cb (SherdNumberEntry *self)
{
  g_autoptr (GError) error = NULL;
  double value;

  if (self->is_showing)
    return;
  if (!read_text (self, &value, &error))
    {
      sherd_number_entry_refuse (self, error->message);
      return;
    }
  sherd_number_entry_refuse (self, NULL);
  g_signal_emit (self, signals[EDITED], 0, value);
}

static void
activate_cb (SherdNumberEntry *self)
{
  g_signal_emit (self, signals[ACTIVATED], 0);
}

static void
leave_cb (SherdNumberEntry *self)
{
  g_signal_emit (self, signals[LEFT], 0);
}

/* The text in the field stands for @value already, however it is spelt: "2.50", "1/3". */
static gboolean
says (SherdNumberEntry *self, double value)
{
  double said;

  return read_text (self, &said, NULL) && is_same (said, value);
}

/**
 * sherd_number_entry_show:
 * @self: a field
 * @value: what the model holds; NaN for nothing
 *
 * Leaves a text alone that says the same, and one that is refused as long as the model's value stays what it was.
 */
void
sherd_number_entry_show (SherdNumberEntry *self, double value)
{
  const gboolean is_known = is_same (self->value, value);
  g_autofree char *text = sherd_number_text (value);

  self->value = value;
  if (says (self, value))
    {
      sherd_number_entry_refuse (self, NULL);
      return;
    }
  if (is_known && sherd_number_entry_is_refused (self))
    return;
  self->is_showing = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  self->is_showing = FALSE;
  sherd_number_entry_refuse (self, NULL);
}

/**
 * sherd_number_entry_refuse:
 * @self: a field
 * @reason: (nullable): why what stands in it is not taken, and what to do; NULL when it is
 */
void
sherd_number_entry_refuse (SherdNumberEntry *self, const char *reason)
{
  sherd_refusal_show (GTK_WIDGET (self->entry), self->message_label, reason);
}

/**
 * sherd_number_entry_is_refused:
 * @self: a field
 *
 * Returns: what stands in it was not taken
 */
gboolean
sherd_number_entry_is_refused (SherdNumberEntry *self)
{
  return gtk_widget_get_visible (GTK_WIDGET (self->message_label));
}

/**
 * sherd_number_entry_get_text:
 * @self: a field
 *
 * Returns: what stands in it, as typed
 */
const char *
sherd_number_entry_get_text (SherdNumberEntry *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->entry));
}

/**
 * sherd_number_entry_new:
 * @label: what a screen reader calls it
 * @unit: (nullable): shown behind it
 *
 * Returns: (transfer floating): an empty field
 */
GtkWidget *
sherd_number_entry_new (const char *label, const char *unit)
{
  return g_object_new (SHERD_TYPE_NUMBER_ENTRY, "label", label, "unit", unit, NULL);
}

static void
sherd_number_entry_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_MAY_BE_EMPTY)
    g_value_set_boolean (value, SHERD_NUMBER_ENTRY (object)->may_be_empty);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
set_unit (SherdNumberEntry *self, const char *unit)
{
  gtk_label_set_text (self->unit_label, unit != NULL ? unit : "");
  gtk_widget_set_visible (GTK_WIDGET (self->unit_label), unit != NULL);
}

static void
sherd_number_entry_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdNumberEntry *self = SHERD_NUMBER_ENTRY (object);

  switch (id)
    {
    case PROP_LABEL:
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                      g_value_get_string (value), -1);
      break;
    case PROP_UNIT:
      set_unit (self, g_value_get_string (value));
      break;
    case PROP_MAY_BE_EMPTY:
      self->may_be_empty = g_value_get_boolean (value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static gboolean
sherd_number_entry_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (SHERD_NUMBER_ENTRY (widget)->entry));
}

static void
sherd_number_entry_dispose (GObject *object)
{
  sherd_children_drop (GTK_WIDGET (object));
  G_OBJECT_CLASS (sherd_number_entry_parent_class)->dispose (object);
}

static void
add_properties (GObjectClass *object_class)
{
  const GParamFlags write_only = G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS;

  properties[PROP_LABEL] = g_param_spec_string ("label", NULL, NULL, NULL, write_only);
  properties[PROP_UNIT] = g_param_spec_string ("unit", NULL, NULL, NULL, write_only);
  properties[PROP_MAY_BE_EMPTY] =
    g_param_spec_boolean ("may-be-empty", NULL, NULL, FALSE, G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
add_signals (GType type)
{
  signals[EDITED] =
    g_signal_new ("edited", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_DOUBLE);
  signals[ACTIVATED] = g_signal_new ("activated", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[LEFT] = g_signal_new ("left", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sherd_number_entry_class_init (SherdNumberEntryClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_number_entry_get_property;
  object_class->set_property = sherd_number_entry_set_property;
  object_class->dispose = sherd_number_entry_dispose;
  widget_class->grab_focus = sherd_number_entry_grab_focus;
  add_properties (object_class);
  add_signals (SHERD_TYPE_NUMBER_ENTRY);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/number-entry.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdNumberEntry, entry);
  gtk_widget_class_bind_template_child (widget_class, SherdNumberEntry, unit_label);
  gtk_widget_class_bind_template_child (widget_class, SherdNumberEntry, message_label);
  gtk_widget_class_bind_template_callback (widget_class, changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, leave_cb);
}

static void
sherd_number_entry_init (SherdNumberEntry *self)
{
  self->value = NAN;
  gtk_widget_init_template (GTK_WIDGET (self));
}
