/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/material-choice.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "desk/built-ins.h"
#include "trial/format.h"
#include "trial/material-substance.h"
#include "trial/paint-facts.h"

struct _SherdMaterialChoice
{
  GObject parent_instance;

  SherdChoiceSource source;
  char *id;
  char *name;
  SherdMaterialRecord record; /* of a paint: empty */
  SherdHazards hazards;
  char *about;
  char *searched; /* all words, folded */
};

G_DEFINE_FINAL_TYPE (SherdMaterialChoice, sherd_material_choice, G_TYPE_OBJECT)

static void
append_words (GString *about, const char *words)
{
  if (words != NULL && *words != '\0')
    g_string_append_printf (about, "%s%s", about->len > 0 ? " · " : "", words);
}

/* What hurts comes early: a long line loses its end in the list. */
static char *
dup_about (const SherdMaterialRecord *record, SherdHazards hazard_flags)
{
  g_autoptr (GString) about = g_string_new (NULL);
  g_autofree char *hazards = sherd_hazards_dup_names (hazard_flags);

  append_words (about, sherd_substance_kind_get_name ((SherdSubstanceKind)record->kind));
  append_words (about, hazards);
  append_words (about, record->formula);
  append_words (about, record->fired_colour);
  return g_string_free (g_steal_pointer (&about), FALSE);
}

/* As words are compared: whatever their case, and however accents are written. */
static char *
dup_folded (const char *words)
{
  g_autofree char *plain = g_utf8_normalize (words, -1, G_NORMALIZE_ALL);

  return g_utf8_casefold (plain != NULL ? plain : "", -1);
}

static char *
dup_searched (SherdMaterialChoice *self)
{
  g_autofree char *words =
    g_strjoin (" ", self->name, self->about, self->record.colour, self->record.place, self->record.note, NULL);

  return dup_folded (words);
}

static SherdMaterialChoice *
choice_new (SherdChoiceSource source, const char *id, const char *name)
{
  SherdMaterialChoice *self = g_object_new (SHERD_TYPE_MATERIAL_CHOICE, NULL);

  self->source = source;
  self->id = g_strdup (id);
  self->name = g_strdup (name);
  return self;
}

/* What cannot be reckoned with has those alone that are stated. */
static SherdHazards
hazards_of (const SherdMaterialRecord *record, const char *id)
{
  g_autoptr (SherdSubstance) substance = sherd_material_record_dup_substance (record, id, NULL);

  return substance != NULL ? sherd_substance_get_hazards (substance)
                           : sherd_material_record_get_stated_hazards (record);
}

static void
append_material (GListStore *choices, SherdChoiceSource source, const char *id, const SherdMaterialRecord *record)
{
  g_autoptr (SherdMaterialChoice) choice = choice_new (source, id, record->name);

  sherd_material_record_clear (&choice->record);
  sherd_material_record_copy (&choice->record, record);
  choice->hazards = hazards_of (record, id);
  choice->about = dup_about (record, choice->hazards);
  choice->searched = dup_searched (choice);
  g_list_store_append (choices, choice);
}

static void
append_paint (GListStore *choices, SherdPaint *paint)
{
  g_autofree char *name = sherd_format_paint (paint);
  g_autoptr (SherdMaterialChoice) choice =
    choice_new (SHERD_CHOICE_PAINT, sherd_part_get_id (SHERD_PART (paint)), name);

  choice->about =
    g_strdup (sherd_paint_get_kind (paint) == SHERD_PAINT_SLIP ? _ ("Slip of this trial") : _ ("Paint of this trial"));
  choice->searched = dup_searched (choice);
  g_list_store_append (choices, choice);
}

static void
append_own (GListStore *choices, SherdTrial *trial)
{
  GListModel *materials = sherd_trial_get_materials (trial);

  for (guint i = 0; i < g_list_model_get_n_items (materials); i++)
    {
      g_autoptr (SherdMaterial) material = g_list_model_get_item (materials, i);

      append_material (choices, SHERD_CHOICE_OWN, sherd_part_get_id (SHERD_PART (material)),
                       sherd_material_get_record (material));
    }
}

static void
append_paints (GListStore *choices, SherdTrial *trial, SherdPaint *except)
{
  GListModel *paints = sherd_trial_get_paints (trial);

  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      if (paint != except)
        append_paint (choices, paint);
    }
}

/* The trial has it under the same name: the pure one as it stands in the table. */
static gboolean
is_taken (SherdTrial *trial, const SherdMaterialRecord *record)
{
  SherdMaterial *material = sherd_trial_find_material_by_name (trial, record->name);

  return material != NULL && g_str_equal (sherd_material_get_record (material)->origin, record->origin);
}

/* Whoever searches "flux" and takes the first must not take lead by that: what has it comes after all others. */
static void
append_built_in (GListStore *choices, SherdTrial *trial, gboolean with_lead)
{
  GPtrArray *materials = sherd_built_ins ();

  for (guint i = 0; i < materials->len; i++)
    {
      const SherdMaterialRecord *record = g_ptr_array_index (materials, i);
      const gboolean has_lead = (hazards_of (record, record->origin) & SHERD_HAZARD_LEAD) != 0;

      if (has_lead == with_lead && !is_taken (trial, record))
        append_material (choices, SHERD_CHOICE_BUILT_IN, record->origin, record);
    }
}

/**
 * sherd_material_choices_new:
 * @trial: a trial
 * @mixed_into: (nullable): the paint that something is chosen for; it is not offered itself
 * @with_paints: whether other paints may be chosen too
 *
 * Returns: (transfer full): the trial's own materials, its paints, then the built-in table, what has lead
 * in it last
 */
GListModel *
sherd_material_choices_new (SherdTrial *trial, SherdPaint *mixed_into, gboolean with_paints)
{
  g_autoptr (GListStore) choices = g_list_store_new (SHERD_TYPE_MATERIAL_CHOICE);

  append_own (choices, trial);
  if (with_paints)
    append_paints (choices, trial, mixed_into);
  append_built_in (choices, trial, FALSE);
  append_built_in (choices, trial, TRUE);
  return G_LIST_MODEL (g_steal_pointer (&choices));
}

static gboolean
is_binder (SherdMaterialChoice *self)
{
  return self->source != SHERD_CHOICE_PAINT && self->record.kind == SHERD_MATERIAL_BINDER;
}

/**
 * sherd_material_choices_new_binders:
 * @trial: a trial
 *
 * Returns: (transfer full): the trial's own binders, then those of the built-in table
 */
GListModel *
sherd_material_choices_new_binders (SherdTrial *trial)
{
  GListModel *choices = sherd_material_choices_new (trial, NULL, FALSE);

  for (guint i = g_list_model_get_n_items (choices); i-- > 0;)
    {
      g_autoptr (SherdMaterialChoice) choice = g_list_model_get_item (choices, i);

      if (!is_binder (choice))
        g_list_store_remove (G_LIST_STORE (choices), i);
    }
  return choices;
}

static gboolean
has_word (const char *words, const char *word)
{
  return words != NULL && strstr (words, word) != NULL;
}

static gboolean
has_every_word (const char *folded, const char *search)
{
  g_autofree char *wanted = dup_folded (search);
  g_auto (GStrv) words = g_strsplit_set (wanted, " \t", -1);

  for (guint i = 0; words[i] != NULL; i++)
    if (strstr (folded, words[i]) == NULL)
      return FALSE;
  return TRUE;
}

/**
 * sherd_material_choice_is_called:
 * @self: a choice
 * @search: words
 *
 * Returns: whether its name has every one of them
 */
gboolean
sherd_material_choice_is_called (SherdMaterialChoice *self, const char *search)
{
  g_autofree char *name = dup_folded (self->name);

  return has_every_word (name, search);
}

/**
 * sherd_material_choice_matches:
 * @self: a choice
 * @search: words, all of which must be found in what is known of it; may be empty
 * @kind: a SherdMaterialKind; −1 for any
 * @colour: (nullable): a word its colour, raw or fired, must have; NULL for any
 * @hazard: one that it must have; 0 for any
 *
 * Returns: whether it is shown
 */
gboolean
sherd_material_choice_matches (SherdMaterialChoice *self,
                               const char *search,
                               int kind,
                               const char *colour,
                               SherdHazards hazard)
{
  const gboolean is_paint = self->source == SHERD_CHOICE_PAINT;

  if (kind >= 0 && (is_paint || (int)self->record.kind != kind))
    return FALSE;
  if (colour != NULL && !has_word (self->record.colour, colour) && !has_word (self->record.fired_colour, colour))
    return FALSE;
  if ((self->hazards & hazard) != hazard)
    return FALSE;
  return has_every_word (self->searched, search);
}

/**
 * sherd_material_choice_get_source:
 * @self: a choice
 *
 * Returns: where it comes from
 */
SherdChoiceSource
sherd_material_choice_get_source (SherdMaterialChoice *self)
{
  return self->source;
}

/**
 * sherd_material_choice_get_id:
 * @self: a choice
 *
 * Returns: id of the material, of the entry in the built-in table, or of the paint
 */
const char *
sherd_material_choice_get_id (SherdMaterialChoice *self)
{
  return self->id;
}

/**
 * sherd_material_choice_get_name:
 * @self: a choice
 *
 * Returns: its name for people
 */
const char *
sherd_material_choice_get_name (SherdMaterialChoice *self)
{
  return self->name;
}

/**
 * sherd_material_choice_get_hazards:
 * @self: a choice
 *
 * Returns: what can hurt, as stated and as its elements have it; 0 for a paint
 */
SherdHazards
sherd_material_choice_get_hazards (SherdMaterialChoice *self)
{
  return self->hazards;
}

/**
 * sherd_material_choice_get_about:
 * @self: a choice
 *
 * Returns: what stands below the name: kind, hazards, formula, colour
 */
const char *
sherd_material_choice_get_about (SherdMaterialChoice *self)
{
  return self->about;
}

/**
 * sherd_material_choice_get_record:
 * @self: a choice
 *
 * Returns: (nullable): all that is known; NULL for a paint
 */
const SherdMaterialRecord *
sherd_material_choice_get_record (SherdMaterialChoice *self)
{
  return self->source != SHERD_CHOICE_PAINT ? &self->record : NULL;
}

static void
sherd_material_choice_finalize (GObject *object)
{
  SherdMaterialChoice *self = SHERD_MATERIAL_CHOICE (object);

  g_free (self->id);
  g_free (self->name);
  g_free (self->about);
  g_free (self->searched);
  sherd_material_record_clear (&self->record);
  G_OBJECT_CLASS (sherd_material_choice_parent_class)->finalize (object);
}

static void
sherd_material_choice_class_init (SherdMaterialChoiceClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sherd_material_choice_finalize;
}

static void
sherd_material_choice_init (SherdMaterialChoice *self)
{
  sherd_material_record_init (&self->record);
}
