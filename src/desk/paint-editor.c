/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/paint-editor.h"

#include <glib/gi18n-lib.h>

#include "desk/children.h"
#include "desk/ingredient-row.h"
#include "desk/number-entry.h"
#include "desk/recipe-changes.h"
#include "desk/text-entry.h"
#include "trial/edits.h"
#include "trial/mixing-card.h"
#include "trial/recipe-words.h"

struct _SherdPaintEditor
{
  GtkWidget parent_instance;

  SherdTextEntry *code_entry;
  SherdTextEntry *name_entry;
  GtkDropDown *kind_chooser;
  GtkDropDown *basis_chooser;
  GtkBox *rows;
  GtkBox *add_box;
  SherdMaterialPicker *add_picker;
  GtkLabel *recipe_message;
  GtkBox *binder_box;
  SherdMaterialPicker *binder_picker;
  GtkWidget *no_binder_button;
  SherdNumberEntry *binder_entry;
  SherdNumberEntry *water_entry;
  SherdTextEntry *note_entry;

  SherdTrial *trial;
  SherdPaint *paint;
  gboolean is_showing;
};

G_DEFINE_FINAL_TYPE (SherdPaintEditor, sherd_paint_editor, GTK_TYPE_WIDGET)

static gboolean
may_change (SherdPaintEditor *self)
{
  return !self->is_showing && self->paint != NULL;
}

/* What has no field of its own to stand at: a paint that would hold itself, say. */
static void
tell (SherdPaintEditor *self, gboolean done, const GError *error)
{
  gtk_label_set_text (self->recipe_message, error != NULL ? error->message : "");
  gtk_widget_set_visible (GTK_WIDGET (self->recipe_message), !done);
}

static void
left_cb (SherdPaintEditor *self)
{
  if (self->trial != NULL)
    sherd_trial_seal_edit (self->trial);
}

/* Words. */

static void
code_edited_cb (SherdPaintEditor *self, const char *code)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *key = g_strconcat ("code ", sherd_part_get_id (SHERD_PART (self->paint)), NULL);

  sherd_trial_begin_continued_edit (self->trial, _ ("Change code of a paint"), key);
  if (!sherd_trial_set_paint_code (self->trial, self->paint, code, &error))
    sherd_text_entry_refuse (self->code_entry, error->message);
  sherd_trial_end_edit (self->trial);
}

static void
name_edited_cb (SherdPaintEditor *self, const char *name)
{
  g_autofree char *key = g_strconcat ("name ", sherd_part_get_id (SHERD_PART (self->paint)), NULL);
  g_autofree char *label = g_strdup_printf (_ ("Rename paint %s"), sherd_paint_get_code (self->paint));

  sherd_trial_begin_continued_edit (self->trial, label, key);
  sherd_trial_set_paint_name (self->trial, self->paint, name);
  sherd_trial_end_edit (self->trial);
}

static void
note_edited_cb (SherdPaintEditor *self, const char *note)
{
  g_autofree char *key = g_strconcat ("note ", sherd_part_get_id (SHERD_PART (self->paint)), NULL);
  g_autofree char *label = g_strdup_printf (_ ("Note on paint %s"), sherd_paint_get_code (self->paint));

  sherd_trial_begin_continued_edit (self->trial, label, key);
  sherd_trial_set_paint_note (self->trial, self->paint, note);
  sherd_trial_end_edit (self->trial);
}

static void
kind_cb (SherdPaintEditor *self)
{
  const SherdPaintKind kind = (SherdPaintKind)gtk_drop_down_get_selected (self->kind_chooser);

  if (may_change (self) && kind != sherd_paint_get_kind (self->paint))
    sherd_trial_set_paint_kind (self->trial, self->paint, kind);
}

static void
basis_cb (SherdPaintEditor *self)
{
  const SherdBasis basis = (SherdBasis)gtk_drop_down_get_selected (self->basis_chooser);
  g_autoptr (GError) error = NULL;

  if (may_change (self) && basis != sherd_paint_get_recipe (self->paint)->basis)
    tell (self, sherd_recipe_set_basis (self->trial, self->paint, basis, &error), error);
}

/* Ingredients. */

static GListModel *
get_ingredients (gpointer user_data)
{
  SherdPaintEditor *self = user_data;

  return sherd_material_choices_new (self->trial, self->paint, TRUE);
}

static GListModel *
get_binders (gpointer user_data)
{
  SherdPaintEditor *self = user_data;

  return sherd_material_choices_new_binders (self->trial);
}

static guint
position_of (SherdIngredientRow *row)
{
  guint position = 0;

  for (GtkWidget *before = gtk_widget_get_prev_sibling (GTK_WIDGET (row)); before != NULL;
       before = gtk_widget_get_prev_sibling (before))
    position++;
  return position;
}

static void
parts_edited_cb (SherdPaintEditor *self, double parts, const char *text, SherdIngredientRow *row)
{
  g_autoptr (GError) error = NULL;

  if (!sherd_recipe_type_parts (self->trial, self->paint, position_of (row), parts, text, &error))
    sherd_ingredient_row_refuse (row, error->message);
}

static void
picked_cb (SherdPaintEditor *self, SherdMaterialChoice *choice, SherdIngredientRow *row)
{
  g_autoptr (GError) error = NULL;

  tell (self, sherd_recipe_replace_choice (self->trial, self->paint, position_of (row), choice, &error), error);
}

/* The row itself goes, so that what was typed in the others stays with them. */
static void
removed_cb (SherdPaintEditor *self, SherdIngredientRow *row)
{
  const guint position = position_of (row);
  g_autoptr (GError) error = NULL;

  gtk_widget_grab_focus (GTK_WIDGET (self->add_picker));
  gtk_box_remove (self->rows, GTK_WIDGET (row));
  tell (self, sherd_recipe_remove_row (self->trial, self->paint, position, &error), error);
}

static void
next_cb (SherdPaintEditor *self)
{
  sherd_material_picker_open (self->add_picker);
}

static void
add_cb (SherdPaintEditor *self, SherdMaterialChoice *choice)
{
  g_autoptr (GError) error = NULL;
  const gboolean done = sherd_recipe_add_choice (self->trial, self->paint, choice, &error);

  tell (self, done, error);
  if (done)
    gtk_widget_grab_focus (gtk_widget_get_last_child (GTK_WIDGET (self->rows)));
}

static GtkWidget *
row_new (SherdPaintEditor *self)
{
  GtkWidget *row = sherd_ingredient_row_new (get_ingredients, self);

  /* The row comes behind the signal's own arguments, so it is the last one; the editor is the first. */
  g_signal_connect_object (row, "parts-edited", G_CALLBACK (parts_edited_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (row, "picked", G_CALLBACK (picked_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (row, "removed", G_CALLBACK (removed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (row, "activated", G_CALLBACK (next_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (row, "left", G_CALLBACK (left_cb), self, G_CONNECT_SWAPPED);
  return row;
}

static void
show_row (SherdPaintEditor *self, GtkWidget *row, const SherdIngredient *ingredient)
{
  g_autofree char *name = sherd_ingredient_dup_name (self->trial, ingredient);

  sherd_ingredient_row_show (SHERD_INGREDIENT_ROW (row), name, ingredient->parts);
}

static void
show_rows (SherdPaintEditor *self, const SherdRecipe *recipe)
{
  GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (self->rows));

  for (guint i = 0; i < recipe->n_ingredients; i++, row = gtk_widget_get_next_sibling (row))
    {
      if (row == NULL)
        {
          row = row_new (self);
          gtk_box_append (self->rows, row);
        }
      show_row (self, row, &recipe->ingredients[i]);
    }
  while (row != NULL)
    {
      GtkWidget *next = gtk_widget_get_next_sibling (row);

      gtk_box_remove (self->rows, row);
      row = next;
    }
}

/* Binder and water. */

static void
binder_picked_cb (SherdPaintEditor *self, SherdMaterialChoice *choice)
{
  g_autoptr (GError) error = NULL;

  tell (self, sherd_recipe_choose_binder (self->trial, self->paint, choice, &error), error);
  gtk_widget_grab_focus (GTK_WIDGET (self->binder_entry));
}

static void
no_binder_cb (SherdPaintEditor *self)
{
  g_autoptr (GError) error = NULL;

  tell (self, sherd_recipe_choose_binder (self->trial, self->paint, NULL, &error), error);
}

static void
binder_edited_cb (SherdPaintEditor *self, double pct)
{
  g_autoptr (GError) error = NULL;

  if (!sherd_recipe_type_binder_pct (self->trial, self->paint, pct, &error))
    sherd_number_entry_refuse (self->binder_entry, error->message);
}

static void
water_edited_cb (SherdPaintEditor *self, double pct)
{
  g_autoptr (GError) error = NULL;

  if (!sherd_recipe_type_water_pct (self->trial, self->paint, pct, &error))
    sherd_number_entry_refuse (self->water_entry, error->message);
}

static void
show_binder (SherdPaintEditor *self, const SherdRecipe *recipe)
{
  SherdMaterial *binder = recipe->binder_id != NULL ? sherd_trial_find_material (self->trial, recipe->binder_id) : NULL;
  const char *name = binder != NULL ? sherd_material_get_name (binder) : _ ("None");
  g_autofree char *label = g_strdup_printf (_ ("Binder: %s; choose another"), name);

  sherd_material_picker_show (self->binder_picker, name, label);
  gtk_widget_set_visible (self->no_binder_button, binder != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->binder_entry), binder != NULL);
  sherd_number_entry_show (self->binder_entry, recipe->binder_pct);
  sherd_number_entry_show (self->water_entry, recipe->water_pct);
}

/* What was refused belonged to another paint. */
static void
forget_refusals (SherdPaintEditor *self)
{
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (GTK_WIDGET (self->rows))) != NULL)
    gtk_box_remove (self->rows, row);
  tell (self, TRUE, NULL);
  sherd_text_entry_refuse (self->code_entry, NULL);
  sherd_number_entry_refuse (self->binder_entry, NULL);
  sherd_number_entry_refuse (self->water_entry, NULL);
}

/**
 * sherd_paint_editor_show:
 * @self: an editor
 * @trial: the trial
 * @paint: (nullable): one of its paints; NULL for none
 *
 * Shows a paint, or what has become of it. Fields that say so already are left alone.
 */
void
sherd_paint_editor_show (SherdPaintEditor *self, SherdTrial *trial, SherdPaint *paint)
{
  const SherdRecipe *recipe = paint != NULL ? sherd_paint_get_recipe (paint) : NULL;
  const gboolean is_other = paint != self->paint;

  g_set_object (&self->trial, trial);
  g_set_object (&self->paint, paint);
  if (paint == NULL)
    return;
  self->is_showing = TRUE;
  if (is_other)
    forget_refusals (self);
  sherd_text_entry_show (self->code_entry, sherd_paint_get_code (paint));
  sherd_text_entry_show (self->name_entry, sherd_paint_get_name (paint));
  sherd_text_entry_show (self->note_entry, sherd_paint_get_note (paint));
  gtk_drop_down_set_selected (self->kind_chooser, sherd_paint_get_kind (paint));
  gtk_drop_down_set_selected (self->basis_chooser, recipe->basis);
  show_rows (self, recipe);
  show_binder (self, recipe);
  self->is_showing = FALSE;
}

/* What is said of one ingredient, a line each; (nullable) for nothing. */
static char *
dup_remarks (SherdPaintFacts *facts, int row)
{
  g_autoptr (GString) lines = g_string_new (NULL);

  for (guint i = 0; i < facts->remarks->len; i++)
    {
      const SherdRemark *remark = &g_array_index (facts->remarks, SherdRemark, i);

      if (remark->row == row)
        g_string_append_printf (lines, "%s%s", lines->len > 0 ? "\n" : "", remark->words);
    }
  return g_string_free (g_steal_pointer (&lines), FALSE);
}

static char *
dup_weighed (SherdPaintFacts *facts, guint position, double readability_g)
{
  g_autofree char *grams = NULL;

  if (facts->batch == NULL || position >= facts->batch->rows->len)
    return g_strdup ("");
  grams =
    sherd_mixing_card_dup_grams (g_array_index (facts->batch->rows, SherdBatchRow, position).weighed_g, readability_g);
  return g_strdup_printf (_ ("%s g"), grams);
}

/**
 * sherd_paint_editor_show_facts:
 * @self: an editor
 * @facts: what follows from the paint that is shown
 * @readability_g: of the scale
 *
 * Puts grams beside the ingredients and remarks below them.
 */
void
sherd_paint_editor_show_facts (SherdPaintEditor *self, SherdPaintFacts *facts, double readability_g)
{
  guint position = 0;

  for (GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (self->rows)); row != NULL;
       row = gtk_widget_get_next_sibling (row), position++)
    {
      g_autofree char *grams = dup_weighed (facts, position, readability_g);
      g_autofree char *remarks = dup_remarks (facts, (int)position);

      sherd_ingredient_row_show_facts (SHERD_INGREDIENT_ROW (row), grams, remarks);
    }
}

/**
 * sherd_paint_editor_start:
 * @self: an editor
 *
 * Gives the code the focus, to be typed over.
 */
void
sherd_paint_editor_start (SherdPaintEditor *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->code_entry));
}

static void
sherd_paint_editor_dispose (GObject *object)
{
  SherdPaintEditor *self = SHERD_PAINT_EDITOR (object);

  sherd_children_drop (GTK_WIDGET (self));
  g_clear_object (&self->paint);
  g_clear_object (&self->trial);
  G_OBJECT_CLASS (sherd_paint_editor_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, code_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, name_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, kind_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, basis_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, rows);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, add_box);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, recipe_message);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, binder_box);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, no_binder_button);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, binder_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, water_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintEditor, note_entry);
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_callback (widget_class, code_edited_cb);
  gtk_widget_class_bind_template_callback (widget_class, name_edited_cb);
  gtk_widget_class_bind_template_callback (widget_class, note_edited_cb);
  gtk_widget_class_bind_template_callback (widget_class, kind_cb);
  gtk_widget_class_bind_template_callback (widget_class, basis_cb);
  gtk_widget_class_bind_template_callback (widget_class, no_binder_cb);
  gtk_widget_class_bind_template_callback (widget_class, binder_edited_cb);
  gtk_widget_class_bind_template_callback (widget_class, water_edited_cb);
  gtk_widget_class_bind_template_callback (widget_class, left_cb);
}

static void
sherd_paint_editor_class_init (SherdPaintEditorClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_paint_editor_dispose;
  g_type_ensure (SHERD_TYPE_NUMBER_ENTRY);
  g_type_ensure (SHERD_TYPE_TEXT_ENTRY);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/paint-editor.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
}

static void
sherd_paint_editor_init (SherdPaintEditor *self)
{
  self->is_showing = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->add_picker = SHERD_MATERIAL_PICKER (sherd_material_picker_new (_ ("Add an ingredient"), get_ingredients, self));
  gtk_box_append (self->add_box, GTK_WIDGET (self->add_picker));
  g_signal_connect_object (self->add_picker, "picked", G_CALLBACK (add_cb), self, G_CONNECT_SWAPPED);
  self->binder_picker = SHERD_MATERIAL_PICKER (sherd_material_picker_new (_ ("None"), get_binders, self));
  gtk_widget_set_hexpand (GTK_WIDGET (self->binder_picker), TRUE);
  gtk_box_prepend (self->binder_box, GTK_WIDGET (self->binder_picker));
  g_signal_connect_object (self->binder_picker, "picked", G_CALLBACK (binder_picked_cb), self, G_CONNECT_SWAPPED);
  self->is_showing = FALSE;
}
