/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/history.h"

#include <string.h>

#include "trial/form.h"
#include "trial/marks.h"
#include "trial/material.h"
#include "trial/part-private.h"
#include "trial/zone.h"

/* One small change: a property of an object, or a splice of a list. */
typedef struct
{
  GObject *object;   /* the object or the list */
  gboolean is_owner; /* the object holds the history and is not held */
  GParamSpec *pspec; /* NULL for a splice */
  GValue before;
  GValue after;
  guint position;
  GPtrArray *removed;
  GPtrArray *added;
} Step;

typedef struct
{
  char *label;
  char *key; /* NULL once it is sealed or when it never joins */
  GPtrArray *steps;
} Edit;

struct _SherdHistory
{
  GObject *owner; /* holds the history, so its own steps must not hold it */
  GPtrArray *edits;
  guint n_done; /* edits before this are done, the rest can be redone */
  guint saved;  /* value of n_done that lies in the file, or NOWHERE */
  Edit *open;
  gboolean joins;   /* the open edit continues the last one */
  guint joined_at;  /* and had so many steps before */
  GArray *begun_at; /* guint: number of steps at each nested begin */
};

#define NOWHERE G_MAXUINT

static void
step_free (gpointer data)
{
  Step *step = data;

  if (step->pspec != NULL)
    {
      g_value_unset (&step->before);
      g_value_unset (&step->after);
      g_param_spec_unref (step->pspec);
    }
  g_clear_pointer (&step->removed, g_ptr_array_unref);
  g_clear_pointer (&step->added, g_ptr_array_unref);
  if (!step->is_owner)
    g_object_unref (step->object);
  g_free (step);
}

static void
step_replace (Step *step, guint n_removed, GPtrArray *added)
{
  g_list_store_splice (G_LIST_STORE (step->object), step->position, n_removed, added->pdata, added->len);
}

static void
step_redo (Step *step)
{
  if (step->pspec != NULL)
    g_object_set_property (step->object, step->pspec->name, &step->after);
  else
    step_replace (step, step->removed->len, step->added);
}

static void
step_undo (Step *step)
{
  if (step->pspec != NULL)
    g_object_set_property (step->object, step->pspec->name, &step->before);
  else
    step_replace (step, step->added->len, step->removed);
}

static Edit *
edit_new (const char *label, const char *key)
{
  Edit *edit = g_new0 (Edit, 1);

  edit->label = g_strdup (label);
  edit->key = g_strdup (key);
  edit->steps = g_ptr_array_new_with_free_func (step_free);
  return edit;
}

static void
edit_free (gpointer data)
{
  Edit *edit = data;

  g_free (edit->label);
  g_free (edit->key);
  g_ptr_array_unref (edit->steps);
  g_free (edit);
}

/* Takes back and drops the steps from @first on. */
static void
edit_take_back (Edit *edit, guint first)
{
  while (edit->steps->len > first)
    {
      step_undo (g_ptr_array_index (edit->steps, edit->steps->len - 1));
      g_ptr_array_set_size (edit->steps, (gint)edit->steps->len - 1);
    }
}

/**
 * sherd_history_new:
 * @owner: what holds the history and may itself be changed; not held
 *
 * Returns: (transfer full): a history with nothing in it, at the saved position
 */
SherdHistory *
sherd_history_new (gpointer owner)
{
  SherdHistory *self = g_new0 (SherdHistory, 1);

  self->owner = owner;
  self->edits = g_ptr_array_new_with_free_func (edit_free);
  self->begun_at = g_array_new (FALSE, FALSE, sizeof (guint));
  return self;
}

/**
 * sherd_history_free:
 * @self: (transfer full): a history
 */
void
sherd_history_free (SherdHistory *self)
{
  if (self->open != NULL && !self->joins)
    edit_free (self->open);
  g_ptr_array_unref (self->edits);
  g_array_unref (self->begun_at);
  g_free (self);
}

static Edit *
last_done (SherdHistory *self)
{
  return self->n_done > 0 ? g_ptr_array_index (self->edits, self->n_done - 1) : NULL;
}

/* A step may be added to the last edit only where nothing else remembers its present end: neither a redo nor the file.
 */
static gboolean
can_join (SherdHistory *self, const char *key)
{
  const Edit *last = last_done (self);

  return key != NULL && last != NULL && self->n_done == self->edits->len && self->saved != self->n_done &&
         g_strcmp0 (last->key, key) == 0;
}

/**
 * sherd_history_begin:
 * @self: a history
 * @label: what the user does, in words
 * @key: (nullable): action and object, to join the last edit of the same key
 *
 * Opens an edit, or goes one level deeper in the open one.
 */
void
sherd_history_begin (SherdHistory *self, const char *label, const char *key)
{
  guint n_steps = 0;

  if (self->open == NULL)
    {
      self->joins = can_join (self, key);
      if (!self->joins)
        sherd_history_seal (self);
      self->open = self->joins ? last_done (self) : edit_new (label, key);
      self->joined_at = self->open->steps->len;
    }
  n_steps = self->open->steps->len;
  g_array_append_val (self->begun_at, n_steps);
}

static gboolean
values_equal (GParamSpec *pspec, const GValue *first, const GValue *second)
{
  if (pspec->value_type == SHERD_TYPE_MARKS)
    return sherd_marks_equal (g_value_get_boxed (first), g_value_get_boxed (second));
  if (pspec->value_type == SHERD_TYPE_OUTLINE)
    return sherd_outline_equal (g_value_get_boxed (first), g_value_get_boxed (second));
  if (pspec->value_type == SHERD_TYPE_FORM)
    return sherd_form_equal (g_value_get_boxed (first), g_value_get_boxed (second));
  if (pspec->value_type == SHERD_TYPE_RECIPE)
    return sherd_recipe_equal (g_value_get_boxed (first), g_value_get_boxed (second));
  if (pspec->value_type == SHERD_TYPE_REVISIONS)
    return sherd_revisions_equal (g_value_get_boxed (first), g_value_get_boxed (second));
  if (pspec->value_type == SHERD_TYPE_ANALYSIS)
    return sherd_analysis_equal (g_value_get_boxed (first), g_value_get_boxed (second));
  if (pspec->value_type == G_TYPE_STRV)
    return g_strv_equal (g_value_get_boxed (first), g_value_get_boxed (second));
  /* GLib takes NAN for equal to everything. */
  if (pspec->value_type == G_TYPE_DOUBLE)
    return sherd_part_same_number (g_value_get_double (first), g_value_get_double (second));
  return g_param_values_cmp (pspec, first, second) == 0;
}

/**
 * sherd_history_set:
 * @self: a history with an open edit
 * @object: what changes
 * @pspec: its property
 * @value: the new value, of the property's type
 *
 * Sets the property and remembers both values.
 */
void
sherd_history_set (SherdHistory *self, GObject *object, GParamSpec *pspec, const GValue *value)
{
  g_auto (GValue) before = G_VALUE_INIT;
  Step *step;

  g_value_init (&before, pspec->value_type);
  g_object_get_property (object, pspec->name, &before);
  if (values_equal (pspec, &before, value))
    return;
  step = g_new0 (Step, 1);
  step->is_owner = object == self->owner;
  step->object = step->is_owner ? object : g_object_ref (object);
  step->pspec = g_param_spec_ref (pspec);
  g_value_init (&step->before, pspec->value_type);
  g_value_copy (&before, &step->before);
  g_value_init (&step->after, pspec->value_type);
  g_value_copy (value, &step->after);
  g_ptr_array_add (self->open->steps, step);
  step_redo (step);
}

static GPtrArray *
items_between (GListModel *list, guint position, guint n_items)
{
  GPtrArray *items = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < n_items; i++)
    g_ptr_array_add (items, g_list_model_get_item (list, position + i));
  return items;
}

/**
 * sherd_history_splice:
 * @self: a history with an open edit
 * @list: a list
 * @position: where
 * @n_removed: how many go
 * @added: (array length=n_added): what comes
 * @n_added: how many
 *
 * Changes the list and remembers what went and what came.
 */
void
sherd_history_splice (SherdHistory *self,
                      GListStore *list,
                      guint position,
                      guint n_removed,
                      gpointer *added,
                      guint n_added)
{
  Step *step;

  if (n_removed == 0 && n_added == 0)
    return;
  step = g_new0 (Step, 1);
  step->object = g_object_ref (G_OBJECT (list));
  step->position = position;
  step->removed = items_between (G_LIST_MODEL (list), position, n_removed);
  step->added = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < n_added; i++)
    g_ptr_array_add (step->added, g_object_ref (added[i]));
  g_ptr_array_add (self->open->steps, step);
  step_redo (step);
}

/* A new edit ends what could have been redone; if the file holds a state from there, no undo leads to it any more. */
static void
push_open (SherdHistory *self)
{
  if (self->edits->len > self->n_done)
    {
      g_ptr_array_set_size (self->edits, (gint)self->n_done);
      if (self->saved != NOWHERE && self->saved > self->n_done)
        self->saved = NOWHERE;
    }
  g_ptr_array_add (self->edits, self->open);
  self->n_done++;
}

/* The step before @index that set the same property; none when a list was changed between, whose items it may touch. */
static Step *
earlier_step (Edit *edit, guint index)
{
  const Step *step = g_ptr_array_index (edit->steps, index);

  for (guint i = index; i > 0; i--)
    {
      Step *earlier = g_ptr_array_index (edit->steps, i - 1);

      if (earlier->pspec == NULL)
        return NULL;
      if (earlier->object == step->object && earlier->pspec == step->pspec)
        return earlier;
    }
  return NULL;
}

/* While dragging, the newest value of a property takes the place of the one before. */
static void
fold_steps (Edit *edit, guint first)
{
  guint i = first;

  while (i < edit->steps->len)
    {
      Step *step = g_ptr_array_index (edit->steps, i);
      Step *earlier = step->pspec != NULL ? earlier_step (edit, i) : NULL;

      if (earlier == NULL)
        {
          i++;
          continue;
        }
      g_value_copy (&step->after, &earlier->after);
      g_ptr_array_remove_index (edit->steps, i);
    }
}

static void
close_open (SherdHistory *self)
{
  if (self->joins)
    fold_steps (self->open, self->joined_at);
  else if (self->open->steps->len > 0)
    push_open (self);
  else
    edit_free (self->open);
  self->open = NULL;
  self->joins = FALSE;
}

/**
 * sherd_history_end:
 * @self: a history with an open edit
 *
 * Returns: TRUE when this closed the outermost edit
 */
gboolean
sherd_history_end (SherdHistory *self)
{
  g_array_set_size (self->begun_at, self->begun_at->len - 1);
  if (self->begun_at->len > 0)
    return FALSE;
  close_open (self);
  return TRUE;
}

/**
 * sherd_history_cancel:
 * @self: a history with an open edit
 *
 * Takes back what happened since the innermost begin.
 *
 * Returns: TRUE when this closed the outermost edit
 */
gboolean
sherd_history_cancel (SherdHistory *self)
{
  edit_take_back (self->open, g_array_index (self->begun_at, guint, self->begun_at->len - 1));
  return sherd_history_end (self);
}

/**
 * sherd_history_is_open:
 * @self: a history
 *
 * Returns: whether an edit has begun and not ended
 */
gboolean
sherd_history_is_open (SherdHistory *self)
{
  return self->open != NULL;
}

/**
 * sherd_history_seal:
 * @self: a history
 *
 * The last edit takes no more steps.
 */
void
sherd_history_seal (SherdHistory *self)
{
  Edit *last = last_done (self);

  if (last != NULL)
    g_clear_pointer (&last->key, g_free);
}

/**
 * sherd_history_can_undo:
 * @self: a history
 *
 * Returns: whether there is an edit to undo
 */
gboolean
sherd_history_can_undo (SherdHistory *self)
{
  return self->open == NULL && self->n_done > 0;
}

/**
 * sherd_history_can_redo:
 * @self: a history
 *
 * Returns: whether there is an edit to redo
 */
gboolean
sherd_history_can_redo (SherdHistory *self)
{
  return self->open == NULL && self->n_done < self->edits->len;
}

/**
 * sherd_history_undo:
 * @self: a history that can undo
 *
 * Goes one edit back.
 */
void
sherd_history_undo (SherdHistory *self)
{
  Edit *edit = last_done (self);

  g_return_if_fail (sherd_history_can_undo (self));
  sherd_history_seal (self);
  for (guint i = edit->steps->len; i > 0; i--)
    step_undo (g_ptr_array_index (edit->steps, i - 1));
  self->n_done--;
}

/**
 * sherd_history_redo:
 * @self: a history that can redo
 *
 * Goes one edit forth.
 */
void
sherd_history_redo (SherdHistory *self)
{
  Edit *edit;

  g_return_if_fail (sherd_history_can_redo (self));
  edit = g_ptr_array_index (self->edits, self->n_done);
  for (guint i = 0; i < edit->steps->len; i++)
    step_redo (g_ptr_array_index (edit->steps, i));
  self->n_done++;
}

/**
 * sherd_history_get_undo_label:
 * @self: a history
 *
 * Returns: (nullable): the words of the edit that undo would take back
 */
const char *
sherd_history_get_undo_label (SherdHistory *self)
{
  return self->n_done > 0 ? last_done (self)->label : NULL;
}

/**
 * sherd_history_get_redo_label:
 * @self: a history
 *
 * Returns: (nullable): the words of the edit that redo would make again
 */
const char *
sherd_history_get_redo_label (SherdHistory *self)
{
  if (self->n_done >= self->edits->len)
    return NULL;
  return ((Edit *)g_ptr_array_index (self->edits, self->n_done))->label;
}

/**
 * sherd_history_mark_saved:
 * @self: a history
 *
 * The present position lies in the file.
 */
void
sherd_history_mark_saved (SherdHistory *self)
{
  sherd_history_seal (self);
  self->saved = self->n_done;
}

/**
 * sherd_history_forget_saved:
 * @self: a history
 *
 * No position lies in the file.
 */
void
sherd_history_forget_saved (SherdHistory *self)
{
  self->saved = NOWHERE;
}

/**
 * sherd_history_is_saved:
 * @self: a history
 *
 * Returns: whether the present position lies in the file
 */
gboolean
sherd_history_is_saved (SherdHistory *self)
{
  return self->saved == self->n_done;
}
