/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/material-editor.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "desk/built-ins.h"
#include "desk/children.h"
#include "desk/columns.h"
#include "desk/material-facts-view.h"
#include "desk/number-entry.h"
#include "desk/text-entry.h"
#include "trial/edits.h"

#include "trial/material-substance.h"

typedef enum
{
  FIELD_TEXT,
  FIELD_NUMBER,
  FIELD_KIND,
  FIELD_REST,
  FIELD_ANALYSIS,
  FIELD_HAZARDS
} FieldKind;

/* One line of the form; a heading has no offset. */
typedef struct
{
  const char *label;
  const char *unit; /* of a number, or what an empty text says */
  FieldKind kind;
  glong offset;
} Field;

#define HEADING(label)                                                                                                 \
  {                                                                                                                    \
    label, NULL, FIELD_TEXT, -1                                                                                        \
  }
#define FIELD(label, unit, kind, member)                                                                               \
  {                                                                                                                    \
    label, unit, kind, G_STRUCT_OFFSET (SherdMaterialRecord, member)                                                   \
  }

static const Field fields[] = {
  FIELD (N_ ("Name"), NULL, FIELD_TEXT, name),
  FIELD (N_ ("Kind"), NULL, FIELD_KIND, kind),
  FIELD (N_ ("Formula"), N_ ("Cu2CO3(OH)2"), FIELD_TEXT, formula),
  FIELD (N_ ("Analysis"), N_ ("SiO2 54; Al2O3 30; LOI 10.8"), FIELD_ANALYSIS, analysis),
  FIELD (N_ ("Colour"), N_ ("as it is"), FIELD_TEXT, colour),
  FIELD (N_ ("Colour, fired"), N_ ("in air"), FIELD_TEXT, fired_colour),
  FIELD (N_ ("Hazards"), N_ ("lead, silica dust"), FIELD_HAZARDS, hazards),
  HEADING (N_ ("What it weighs")),
  FIELD (N_ ("Grains"), N_ ("g/cm³"), FIELD_NUMBER, particle_density_g_cm3),
  FIELD (N_ ("Loose powder"), N_ ("g/cm³"), FIELD_NUMBER, bulk_density_g_cm3),
  FIELD (N_ ("Level spoon"), N_ ("g"), FIELD_NUMBER, spoon_g),
  FIELD (N_ ("The spoon holds"), N_ ("ml"), FIELD_NUMBER, spoon_ml),
  HEADING (N_ ("This lot of it")),
  FIELD (N_ ("Purity"), N_ ("%"), FIELD_NUMBER, purity_pct),
  FIELD (N_ ("Doubt of purity"), N_ ("± %"), FIELD_NUMBER, purity_doubt_pct),
  FIELD (N_ ("The rest is"), NULL, FIELD_REST, rest),
  FIELD (N_ ("From"), N_ ("where it was found or bought"), FIELD_TEXT, place),
  FIELD (N_ ("Lot"), NULL, FIELD_TEXT, lot),
  FIELD (N_ ("Ground for"), N_ ("min"), FIELD_NUMBER, grinding_min),
  FIELD (N_ ("Sieved to"), N_ ("µm"), FIELD_NUMBER, sieve_um),
  FIELD (N_ ("Washed"), N_ ("how"), FIELD_TEXT, washing),
  FIELD (N_ ("Price"), N_ ("per kg"), FIELD_NUMBER, price_per_kg),
  FIELD (N_ ("Currency"), NULL, FIELD_TEXT, currency),
  FIELD (N_ ("In stock"), N_ ("g"), FIELD_NUMBER, stock_g),
  FIELD (N_ ("Note"), NULL, FIELD_TEXT, note),
};

#define N_FIELDS G_N_ELEMENTS (fields)

struct _SherdMaterialEditor
{
  GtkWidget parent_instance;

  GtkWidget *built_in_box;
  GtkGrid *grid;
  GtkWidget *own_box;
  GtkLabel *message_label;
  SherdMaterialFactsView *facts_view;
  GtkWidget *inputs[N_FIELDS];

  SherdTrial *trial;
  char *id;
  gboolean is_showing;
};

static guint created_signal;

G_DEFINE_FINAL_TYPE (SherdMaterialEditor, sherd_material_editor, GTK_TYPE_WIDGET)

static SherdMaterial *
own_material (SherdMaterialEditor *self)
{
  return self->id != NULL ? sherd_trial_find_material (self->trial, self->id) : NULL;
}

/* (nullable): what is shown, the trial's or the built-in one */
static const SherdMaterialRecord *
shown_record (SherdMaterialEditor *self)
{
  SherdMaterial *own = self->trial != NULL ? own_material (self) : NULL;

  if (own != NULL)
    return sherd_material_get_record (own);
  return self->id != NULL ? sherd_built_ins_find (self->id) : NULL;
}

static void
tell (SherdMaterialEditor *self, gboolean done, const GError *error)
{
  gtk_label_set_text (self->message_label, error != NULL ? error->message : "");
  gtk_widget_set_visible (GTK_WIDGET (self->message_label), !done);
}

/* Writing into a copy of the record. */

static char **
text_at (SherdMaterialRecord *record, const Field *field)
{
  return (char **)G_STRUCT_MEMBER_P (record, field->offset);
}

static double *
number_at (SherdMaterialRecord *record, const Field *field)
{
  return (double *)G_STRUCT_MEMBER_P (record, field->offset);
}

static const Field *
field_of (SherdMaterialEditor *self, gpointer input)
{
  for (guint i = 0; i < N_FIELDS; i++)
    if (self->inputs[i] == input)
      return &fields[i];
  return NULL;
}

/* The hazard of a name in the user's language, as the trial writes it; other words as they are. */
static const char *
hazard_word (const char *word)
{
  g_autofree char *folded = g_utf8_casefold (word, -1);

  for (guint bit = 0; bit < SHERD_N_HAZARDS; bit++)
    {
      g_autofree char *name = g_utf8_casefold (sherd_hazard_get_name ((SherdHazards)(1u << bit)), -1);

      if (g_str_equal (folded, name))
        return sherd_hazard_get_id ((SherdHazards)(1u << bit));
    }
  return word;
}

/* Words between commas. */
static void
set_hazards (SherdMaterialRecord *record, const char *text)
{
  g_autoptr (GStrvBuilder) hazards = g_strv_builder_new ();
  g_auto (GStrv) words = g_strsplit (text, ",", -1);

  for (guint i = 0; words[i] != NULL; i++)
    if (*g_strstrip (words[i]) != '\0')
      g_strv_builder_add (hazards, hazard_word (words[i]));
  g_strfreev (record->hazards);
  record->hazards = g_strv_builder_end (hazards);
}

static gboolean
write_text (SherdMaterialRecord *record, const Field *field, const char *text, GError **error)
{
  if (field->kind == FIELD_ANALYSIS)
    return sherd_material_record_set_analysis_text (record, text, NULL, error);
  if (field->kind == FIELD_HAZARDS)
    set_hazards (record, text);
  else
    {
      g_free (*text_at (record, field));
      *text_at (record, field) = g_strdup (text);
    }
  return TRUE;
}

static void
text_edited_cb (SherdMaterialEditor *self, const char *text, SherdTextEntry *entry)
{
  g_auto (SherdMaterialRecord) record;
  g_autoptr (GError) error = NULL;

  sherd_material_record_copy (&record, sherd_material_get_record (own_material (self)));
  if (!write_text (&record, field_of (self, entry), text, &error) ||
      !sherd_trial_set_material (self->trial, own_material (self), &record, TRUE, &error))
    sherd_text_entry_refuse (entry, error->message);
}

static void
number_edited_cb (SherdMaterialEditor *self, double value, SherdNumberEntry *entry)
{
  g_auto (SherdMaterialRecord) record;
  g_autoptr (GError) error = NULL;

  sherd_material_record_copy (&record, sherd_material_get_record (own_material (self)));
  *number_at (&record, field_of (self, entry)) = value;
  if (!sherd_trial_set_material (self->trial, own_material (self), &record, TRUE, &error))
    sherd_number_entry_refuse (entry, error->message);
}

static void
choice_cb (SherdMaterialEditor *self, GParamSpec *pspec, GtkDropDown *chooser)
{
  const Field *field = field_of (self, chooser);
  const int choice = (int)gtk_drop_down_get_selected (chooser);
  g_auto (SherdMaterialRecord) record;
  g_autoptr (GError) error = NULL;

  sherd_material_record_init (&record);
  if (self->is_showing || own_material (self) == NULL)
    return;
  sherd_material_record_clear (&record);
  sherd_material_record_copy (&record, sherd_material_get_record (own_material (self)));
  *(int *)G_STRUCT_MEMBER_P (&record, field->offset) = choice;
  tell (self, sherd_trial_set_material (self->trial, own_material (self), &record, FALSE, &error), error);
}

static void
left_cb (SherdMaterialEditor *self)
{
  if (self->trial != NULL)
    sherd_trial_seal_edit (self->trial);
}

/* Showing. */

static char *
dup_hazards (const SherdMaterialRecord *record)
{
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = 0; record->hazards[i] != NULL; i++)
    {
      const SherdHazards hazard = sherd_hazard_from_id (record->hazards[i]);

      g_string_append_printf (words, "%s%s", i > 0 ? ", " : "",
                              hazard != 0 ? sherd_hazard_get_name (hazard) : record->hazards[i]);
    }
  return g_string_free (g_steal_pointer (&words), FALSE);
}

static char *
dup_field_text (const SherdMaterialRecord *record, const Field *field)
{
  if (field->kind == FIELD_ANALYSIS)
    return sherd_material_record_dup_analysis_text (record);
  if (field->kind == FIELD_HAZARDS)
    return dup_hazards (record);
  return g_strdup (*text_at ((SherdMaterialRecord *)record, field));
}

static void
show_field (SherdMaterialEditor *self, guint i, const SherdMaterialRecord *record)
{
  const Field *field = &fields[i];
  GtkWidget *input = self->inputs[i];
  g_autofree char *text = NULL;

  switch (field->kind)
    {
    case FIELD_NUMBER:
      sherd_number_entry_show (SHERD_NUMBER_ENTRY (input), *number_at ((SherdMaterialRecord *)record, field));
      break;
    case FIELD_KIND:
    case FIELD_REST:
      gtk_drop_down_set_selected (GTK_DROP_DOWN (input), *(const guint *)G_STRUCT_MEMBER_P (record, field->offset));
      break;
    case FIELD_TEXT:
    case FIELD_ANALYSIS:
    case FIELD_HAZARDS:
    default:
      text = dup_field_text (record, field);
      sherd_text_entry_show (SHERD_TEXT_ENTRY (input), text);
    }
}

static void
forget_refusals (SherdMaterialEditor *self)
{
  tell (self, TRUE, NULL);
  for (guint i = 0; i < N_FIELDS; i++)
    if (SHERD_IS_NUMBER_ENTRY (self->inputs[i]))
      sherd_number_entry_refuse (SHERD_NUMBER_ENTRY (self->inputs[i]), NULL);
    else if (SHERD_IS_TEXT_ENTRY (self->inputs[i]))
      sherd_text_entry_refuse (SHERD_TEXT_ENTRY (self->inputs[i]), NULL);
}

/**
 * sherd_material_editor_show:
 * @self: an editor
 * @trial: the trial
 * @id: (nullable): of a material of the trial, or of the built-in table
 *
 * Shows a material, or what has become of it; nothing when there is none of that id.
 */
void
sherd_material_editor_show (SherdMaterialEditor *self, SherdTrial *trial, const char *id)
{
  const gboolean is_other = g_strcmp0 (id, self->id) != 0;
  const SherdMaterialRecord *record;
  char *shown = g_strdup (id);

  g_set_object (&self->trial, trial);
  g_free (self->id);
  self->id = shown;
  if (is_other)
    forget_refusals (self);
  record = shown_record (self);
  if (record == NULL)
    return;
  self->is_showing = TRUE;
  for (guint i = 0; i < N_FIELDS; i++)
    if (self->inputs[i] != NULL)
      show_field (self, i, record);
  self->is_showing = FALSE;
  gtk_widget_set_visible (self->built_in_box, own_material (self) == NULL);
  gtk_widget_set_visible (self->own_box, own_material (self) != NULL);
  gtk_widget_set_sensitive (GTK_WIDGET (self->grid), own_material (self) != NULL);
  sherd_material_facts_view_show (self->facts_view, record);
}

/**
 * sherd_material_editor_has_material:
 * @self: an editor
 *
 * Returns: whether there is something to show
 */
gboolean
sherd_material_editor_has_material (SherdMaterialEditor *self)
{
  return shown_record (self) != NULL;
}

static void
tell_created (SherdMaterialEditor *self, SherdMaterial *material)
{
  g_signal_emit (self, created_signal, 0, sherd_part_get_id (SHERD_PART (material)));
  gtk_widget_grab_focus (self->inputs[0]);
}

/**
 * sherd_material_editor_create:
 * @self: an editor
 *
 * A new material comes into the trial, to be named.
 */
void
sherd_material_editor_create (SherdMaterialEditor *self)
{
  g_autofree char *name = sherd_trial_dup_free_material_name (self->trial, _ ("New material"));
  g_auto (SherdMaterialRecord) record;
  g_autoptr (GError) error = NULL;
  SherdMaterial *material;

  sherd_material_record_init (&record);
  g_free (record.name);
  record.name = g_steal_pointer (&name);
  material = sherd_trial_add_material (self->trial, &record, &error);
  if (material != NULL)
    tell_created (self, material);
  else
    tell (self, FALSE, error);
}

static void
take_cb (SherdMaterialEditor *self)
{
  g_autoptr (GError) error = NULL;
  SherdMaterial *material = sherd_trial_add_material (self->trial, shown_record (self), &error);

  if (material != NULL)
    tell_created (self, material);
  else
    tell (self, FALSE, error);
}

static void
duplicate_cb (SherdMaterialEditor *self)
{
  tell_created (self, sherd_trial_duplicate_material (self->trial, own_material (self)));
}

static void
remove_cb (SherdMaterialEditor *self)
{
  g_autoptr (GError) error = NULL;

  tell (self, sherd_trial_remove_material (self->trial, own_material (self), &error), error);
}

/* The form. */

static GtkWidget *
text_input_new (SherdMaterialEditor *self, const Field *field)
{
  GtkWidget *input = g_object_new (SHERD_TYPE_TEXT_ENTRY, "label", _ (field->label), "placeholder",
                                   field->unit != NULL ? _ (field->unit) : NULL, NULL);

  g_signal_connect_object (input, "edited", G_CALLBACK (text_edited_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (input, "left", G_CALLBACK (left_cb), self, G_CONNECT_SWAPPED);
  return input;
}

static GtkWidget *
number_input_new (SherdMaterialEditor *self, const Field *field)
{
  g_autofree char *label = g_strdup_printf ("%s, %s", _ (field->label), _ (field->unit));
  GtkWidget *input = sherd_number_entry_new (label, _ (field->unit));

  g_object_set (input, "may-be-empty", TRUE, NULL);
  g_signal_connect_object (input, "edited", G_CALLBACK (number_edited_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (input, "left", G_CALLBACK (left_cb), self, G_CONNECT_SWAPPED);
  return input;
}

static GtkWidget *
choice_input_new (SherdMaterialEditor *self, const Field *field)
{
  const int n_choices = field->kind == FIELD_KIND ? SHERD_MATERIAL_BINDER + 1 : SHERD_REST_LIME + 1;
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);
  GtkWidget *input;

  for (int i = 0; i < n_choices; i++)
    gtk_string_list_append (words, field->kind == FIELD_KIND ? sherd_substance_kind_get_name ((SherdSubstanceKind)i)
                                                             : sherd_rest_get_name ((SherdRest)i));
  input = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&words)), NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (input), GTK_ACCESSIBLE_PROPERTY_LABEL, _ (field->label), -1);
  g_signal_connect_object (input, "notify::selected", G_CALLBACK (choice_cb), self, G_CONNECT_SWAPPED);
  return input;
}

static GtkWidget *
input_new (SherdMaterialEditor *self, const Field *field)
{
  switch (field->kind)
    {
    case FIELD_NUMBER:
      return number_input_new (self, field);
    case FIELD_KIND:
    case FIELD_REST:
      return choice_input_new (self, field);
    case FIELD_TEXT:
    case FIELD_ANALYSIS:
    case FIELD_HAZARDS:
    default:
      return text_input_new (self, field);
    }
}

static void
add_field (SherdMaterialEditor *self, guint i)
{
  GtkWidget *label = gtk_label_new (_ (fields[i].label));
  const gboolean is_heading = fields[i].offset < 0;

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_grid_attach (self->grid, label, 0, (int)i, is_heading ? 2 : 1, 1);
  if (is_heading)
    {
      gtk_widget_add_css_class (label, "heading");
      gtk_widget_set_margin_top (label, 12);
      return;
    }
  self->inputs[i] = input_new (self, &fields[i]);
  gtk_widget_set_hexpand (self->inputs[i], TRUE);
  gtk_grid_attach (self->grid, self->inputs[i], 1, (int)i, 1, 1);
}

static void
sherd_material_editor_dispose (GObject *object)
{
  SherdMaterialEditor *self = SHERD_MATERIAL_EDITOR (object);

  sherd_children_drop (GTK_WIDGET (self));
  g_clear_object (&self->trial);
  g_clear_pointer (&self->id, g_free);
  G_OBJECT_CLASS (sherd_material_editor_parent_class)->dispose (object);
}

static void
sherd_material_editor_class_init (SherdMaterialEditorClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_material_editor_dispose;
  g_type_ensure (SHERD_TYPE_COLUMNS);
  g_type_ensure (SHERD_TYPE_MATERIAL_FACTS_VIEW);
  created_signal = g_signal_new ("created", SHERD_TYPE_MATERIAL_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/material-editor.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialEditor, built_in_box);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialEditor, grid);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialEditor, own_box);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialEditor, message_label);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialEditor, facts_view);
  gtk_widget_class_bind_template_callback (widget_class, take_cb);
  gtk_widget_class_bind_template_callback (widget_class, duplicate_cb);
  gtk_widget_class_bind_template_callback (widget_class, remove_cb);
}

static void
sherd_material_editor_init (SherdMaterialEditor *self)
{
  self->is_showing = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < N_FIELDS; i++)
    add_field (self, i);
  self->is_showing = FALSE;
}
