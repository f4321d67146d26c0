/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/text-entry.h"

#include "desk/children.h"
#include "desk/refusal.h"

struct _SherdTextEntry
{
  GtkWidget parent_instance;

  GtkEntry *entry;
  GtkLabel *message_label;

  char *text; /* what the model holds, as far as it told */
  gboolean is_showing;
};

enum
{
  PROP_0,
  PROP_LABEL,
  PROP_PLACEHOLDER,
  PROP_WIDTH_CHARS,
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

G_DEFINE_FINAL_TYPE (SherdTextEntry, sherd_text_entry, GTK_TYPE_WIDGET)

static void
changed_cb (SherdTextEntry *self)
{
  if (self->is_showing)
    return;
  sherd_text_entry_refuse (self, NULL);
  g_signal_emit (self, signals[EDITED], 0, gtk_editable_get_text (GTK_EDITABLE (self->entry)));
}

static void
activate_cb (SherdTextEntry *self)
{
  g_signal_emit (self, signals[ACTIVATED], 0);
}

static void
leave_cb (SherdTextEntry *self)
{
  g_signal_emit (self, signals[LEFT], 0);
}

/**
 * sherd_text_entry_show:
 * @self: a field
 * @text: what the model holds
 *
 * Leaves the cursor alone when the field says so already.
 */
void
sherd_text_entry_show (SherdTextEntry *self, const char *text)
{
  const gboolean is_known = g_strcmp0 (self->text, text) == 0;
  const gboolean is_said = g_str_equal (gtk_editable_get_text (GTK_EDITABLE (self->entry)), text);

  g_free (self->text);
  self->text = g_strdup (text);
  if (is_known && !is_said && gtk_widget_get_visible (GTK_WIDGET (self->message_label)))
    return;
  if (!is_said)
    {
      self->is_showing = TRUE;
      gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
      self->is_showing = FALSE;
    }
  sherd_text_entry_refuse (self, NULL);
}

/**
 * sherd_text_entry_refuse:
 * @self: a field
 * @reason: (nullable): why the text is not taken, and what to do; NULL when it is
 */
void
sherd_text_entry_refuse (SherdTextEntry *self, const char *reason)
{
  sherd_refusal_show (GTK_WIDGET (self->entry), self->message_label, reason);
}

static void
sherd_text_entry_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdTextEntry *self = SHERD_TEXT_ENTRY (object);

  switch (id)
    {
    case PROP_LABEL:
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                      g_value_get_string (value), -1);
      break;
    case PROP_PLACEHOLDER:
      gtk_entry_set_placeholder_text (self->entry, g_value_get_string (value));
      break;
    case PROP_WIDTH_CHARS:
      gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), g_value_get_int (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

/* With all of it selected, so that typing replaces it. */
static gboolean
sherd_text_entry_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (SHERD_TEXT_ENTRY (widget)->entry));
}

static void
sherd_text_entry_dispose (GObject *object)
{
  sherd_children_drop (GTK_WIDGET (object));
  g_clear_pointer (&SHERD_TEXT_ENTRY (object)->text, g_free);
  G_OBJECT_CLASS (sherd_text_entry_parent_class)->dispose (object);
}

static void
add_signals (GType type)
{
  const GSignalFlags last = G_SIGNAL_RUN_LAST;

  signals[EDITED] = g_signal_new ("edited", type, last, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[ACTIVATED] = g_signal_new ("activated", type, last, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[LEFT] = g_signal_new ("left", type, last, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sherd_text_entry_class_init (SherdTextEntryClass *klass)
{
  const GParamFlags write_only = G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS;
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->set_property = sherd_text_entry_set_property;
  G_OBJECT_CLASS (klass)->dispose = sherd_text_entry_dispose;
  widget_class->grab_focus = sherd_text_entry_grab_focus;
  properties[PROP_LABEL] = g_param_spec_string ("label", NULL, NULL, NULL, write_only);
  properties[PROP_PLACEHOLDER] = g_param_spec_string ("placeholder", NULL, NULL, NULL, write_only);
  properties[PROP_WIDTH_CHARS] = g_param_spec_int ("width-chars", NULL, NULL, -1, G_MAXINT, -1, write_only);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPERTIES, properties);
  add_signals (SHERD_TYPE_TEXT_ENTRY);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/text-entry.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdTextEntry, entry);
  gtk_widget_class_bind_template_child (widget_class, SherdTextEntry, message_label);
  gtk_widget_class_bind_template_callback (widget_class, changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, leave_cb);
}

static void
sherd_text_entry_init (SherdTextEntry *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
