/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/material-list.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "desk/children.h"
#include "chem/substance.h"

/* Words that colours are made of: “red-brown” has two of them. */
static const char *const colour_words[] = { N_ ("black"), N_ ("white"),  N_ ("grey"),  N_ ("red"),
                                            N_ ("brown"), N_ ("yellow"), N_ ("green"), N_ ("blue") };

struct _SherdMaterialList
{
  GtkWidget parent_instance;

  GtkSearchEntry *search_entry;
  GtkDropDown *kind_chooser;
  GtkDropDown *colour_chooser;
  GtkDropDown *hazard_chooser;
  GtkStack *stack;
  GtkListView *view;

  GtkFilterListModel *found;
  GtkSortListModel *ranked; /* the same, by how well they answer the search */
  GtkSingleSelection *selection;
  gboolean is_filling;
};

enum
{
  CHOSEN,
  SELECTED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (SherdMaterialList, sherd_material_list, GTK_TYPE_WIDGET)

/* (nullable): NULL while “any” is chosen */
static const char *
chosen_word (GtkDropDown *chooser)
{
  GtkStringObject *word = gtk_drop_down_get_selected_item (chooser);

  return word != NULL && gtk_drop_down_get_selected (chooser) > 0 ? gtk_string_object_get_string (word) : NULL;
}

/* 0 while “any” is chosen */
static SherdHazards
chosen_hazard (SherdMaterialList *self)
{
  const char *name = chosen_word (self->hazard_chooser);

  for (guint bit = 0; name != NULL && bit < SHERD_N_HAZARDS; bit++)
    if (g_str_equal (sherd_hazard_get_name ((SherdHazards)(1u << bit)), name))
      return (SherdHazards)(1u << bit);
  return 0;
}

static gboolean
matches (gpointer item, gpointer user_data)
{
  SherdMaterialList *self = user_data;

  return sherd_material_choice_matches (item, gtk_editable_get_text (GTK_EDITABLE (self->search_entry)),
                                        (int)gtk_drop_down_get_selected (self->kind_chooser) - 1,
                                        chosen_word (self->colour_chooser), chosen_hazard (self));
}

/* What is called so comes before what only has the word somewhere, as the place where it was found; else the order
 * stays. */
static int
compare_ranks (gconstpointer a, gconstpointer b, gpointer user_data)
{
  SherdMaterialList *self = user_data;
  const char *search = gtk_editable_get_text (GTK_EDITABLE (self->search_entry));

  return (int)sherd_material_choice_is_called ((gpointer)b, search) -
         (int)sherd_material_choice_is_called ((gpointer)a, search);
}

static void
filter_cb (SherdMaterialList *self)
{
  if (self->is_filling)
    return;
  gtk_sorter_changed (gtk_sort_list_model_get_sorter (self->ranked), GTK_SORTER_CHANGE_DIFFERENT);
  gtk_filter_changed (gtk_filter_list_model_get_filter (self->found), GTK_FILTER_CHANGE_DIFFERENT);
  gtk_stack_set_visible_child_name (self->stack,
                                    g_list_model_get_n_items (G_LIST_MODEL (self->found)) > 0 ? "list" : "none");
  /* Where a click chooses, Enter takes the topmost; elsewhere what is shown stays shown. */
  if (gtk_list_view_get_single_click_activate (self->view))
    gtk_single_selection_set_selected (self->selection, 0);
}

static void
choose (SherdMaterialList *self, guint position)
{
  g_autoptr (SherdMaterialChoice) choice = g_list_model_get_item (G_LIST_MODEL (self->ranked), position);

  if (choice != NULL)
    g_signal_emit (self, signals[CHOSEN], 0, choice);
}

static void
activate_cb (SherdMaterialList *self, guint position)
{
  choose (self, position);
}

/* Enter takes what the arrow keys went to, at first the topmost. */
static void
search_activate_cb (SherdMaterialList *self)
{
  const guint selected = gtk_single_selection_get_selected (self->selection);

  choose (self, selected != GTK_INVALID_LIST_POSITION ? selected : 0);
}

static void
move_selection (SherdMaterialList *self, int by)
{
  const int n_found = (int)g_list_model_get_n_items (G_LIST_MODEL (self->found));
  const guint selected = gtk_single_selection_get_selected (self->selection);
  const int to = selected == GTK_INVALID_LIST_POSITION ? 0 : CLAMP ((int)selected + by, 0, n_found - 1);

  if (n_found == 0)
    return;
  gtk_single_selection_set_selected (self->selection, (guint)to);
  /* GtkListView has no call for scrolling to a row before 4.12. */
  gtk_widget_activate_action (GTK_WIDGET (self->view), "list.scroll-to-item", "u", (guint)to);
}

/* The arrow keys move in the list while the focus stays in the search. */
static gboolean
search_key_cb (SherdMaterialList *self, guint key)
{
  if (key != GDK_KEY_Down && key != GDK_KEY_Up)
    return FALSE;
  move_selection (self, key == GDK_KEY_Down ? 1 : -1);
  return TRUE;
}

/* Escape closes the list that came up over something, and empties the search of one that stays. */
static void
stop_search_cb (SherdMaterialList *self)
{
  GtkWidget *popover = gtk_widget_get_ancestor (GTK_WIDGET (self), GTK_TYPE_POPOVER);

  if (popover != NULL)
    gtk_popover_popdown (GTK_POPOVER (popover));
  else
    gtk_editable_set_text (GTK_EDITABLE (self->search_entry), "");
}

static void
selected_cb (SherdMaterialList *self)
{
  SherdMaterialChoice *choice = gtk_single_selection_get_selected_item (self->selection);

  if (!self->is_filling && choice != NULL)
    g_signal_emit (self, signals[SELECTED], 0, choice);
}

static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *name = gtk_label_new (NULL);
  GtkWidget *about = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (name), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (about), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (about), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (about, "dim-label");
  gtk_widget_add_css_class (about, "small");
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), about);
  gtk_list_item_set_child (item, box);
}

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  SherdMaterialChoice *choice = gtk_list_item_get_item (item);
  GtkWidget *name = gtk_widget_get_first_child (gtk_list_item_get_child (item));
  GtkWidget *about = gtk_widget_get_next_sibling (name);

  gtk_label_set_text (GTK_LABEL (name), sherd_material_choice_get_name (choice));
  gtk_label_set_text (GTK_LABEL (about), sherd_material_choice_get_about (choice));
  gtk_widget_set_tooltip_text (gtk_list_item_get_child (item), sherd_material_choice_get_about (choice));
}

static void
add_word (GPtrArray *words, const char *word)
{
  if (*word != '\0' && !g_ptr_array_find_with_equal_func (words, word, g_str_equal, NULL))
    g_ptr_array_add (words, g_strdup (word));
}

/* A colour is offered when a material has it, raw or fired. */
static void
add_colours (GPtrArray *colours, const SherdMaterialRecord *record)
{
  for (guint i = 0; i < G_N_ELEMENTS (colour_words); i++)
    if (strstr (record->colour, _ (colour_words[i])) != NULL ||
        strstr (record->fired_colour, _ (colour_words[i])) != NULL)
      add_word (colours, _ (colour_words[i]));
}

static void
add_hazards (GPtrArray *names, SherdHazards hazards)
{
  for (guint bit = 0; bit < SHERD_N_HAZARDS; bit++)
    if ((hazards & (1u << bit)) != 0)
      add_word (names, sherd_hazard_get_name ((SherdHazards)(1u << bit)));
}

static int
compare_words (gconstpointer first, gconstpointer second)
{
  return g_utf8_collate (*(const char *const *)first, *(const char *const *)second);
}

static void
fill_chooser (GtkDropDown *chooser, const char *any, GPtrArray *words)
{
  g_autofree char *chosen = g_strdup (chosen_word (chooser));
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  guint selected = 0;

  g_ptr_array_sort (words, compare_words);
  gtk_string_list_append (list, any);
  for (guint i = 0; i < words->len; i++)
    {
      gtk_string_list_append (list, g_ptr_array_index (words, i));
      if (g_strcmp0 (chosen, g_ptr_array_index (words, i)) == 0)
        selected = i + 1;
    }
  gtk_drop_down_set_model (chooser, G_LIST_MODEL (list));
  gtk_drop_down_set_selected (chooser, selected);
}

/* What there is to filter by is what the materials have. */
static void
fill_choosers (SherdMaterialList *self, GListModel *choices)
{
  g_autoptr (GPtrArray) colours = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) hazards = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < g_list_model_get_n_items (choices); i++)
    {
      g_autoptr (SherdMaterialChoice) choice = g_list_model_get_item (choices, i);
      const SherdMaterialRecord *record = sherd_material_choice_get_record (choice);

      if (record == NULL)
        continue;
      add_colours (colours, record);
      add_hazards (hazards, sherd_material_choice_get_hazards (choice));
    }
  fill_chooser (self->colour_chooser, _ ("Any colour"), colours);
  fill_chooser (self->hazard_chooser, _ ("Any hazard"), hazards);
}

/**
 * sherd_material_list_set_choices:
 * @self: a list
 * @choices: a GListModel of SherdMaterialChoice
 *
 * Shows other materials; search and filters stay.
 */
void
sherd_material_list_set_choices (SherdMaterialList *self, GListModel *choices)
{
  self->is_filling = TRUE;
  fill_choosers (self, choices);
  gtk_filter_list_model_set_model (self->found, choices);
  self->is_filling = FALSE;
  filter_cb (self);
}

/**
 * sherd_material_list_set_single_click:
 * @self: a list
 * @single_click: whether one click chooses
 */
void
sherd_material_list_set_single_click (SherdMaterialList *self, gboolean single_click)
{
  gtk_list_view_set_single_click_activate (self->view, single_click);
}

/**
 * sherd_material_list_start_search:
 * @self: a list
 *
 * Empties the search and gives it the focus, with the topmost material selected.
 */
void
sherd_material_list_start_search (SherdMaterialList *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search_entry), "");
  gtk_widget_grab_focus (GTK_WIDGET (self->search_entry));
  gtk_single_selection_set_selected (self->selection, 0);
}

/**
 * sherd_material_list_select:
 * @self: a list
 * @id: (nullable): of what is to be selected; NULL for nothing
 */
void
sherd_material_list_select (SherdMaterialList *self, const char *id)
{
  GListModel *found = G_LIST_MODEL (self->ranked);
  guint position = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; id != NULL && i < g_list_model_get_n_items (found); i++)
    {
      g_autoptr (SherdMaterialChoice) choice = g_list_model_get_item (found, i);

      if (g_str_equal (sherd_material_choice_get_id (choice), id))
        position = i;
    }
  self->is_filling = TRUE;
  gtk_single_selection_set_selected (self->selection, position);
  self->is_filling = FALSE;
}

static void
fill_kinds (SherdMaterialList *self)
{
  g_autoptr (GtkStringList) kinds = gtk_string_list_new (NULL);

  gtk_string_list_append (kinds, _ ("Any kind"));
  for (int kind = SHERD_MATERIAL_COLOURANT; kind <= SHERD_MATERIAL_BINDER; kind++)
    gtk_string_list_append (kinds, sherd_substance_kind_get_name ((SherdSubstanceKind)kind));
  gtk_drop_down_set_model (self->kind_chooser, G_LIST_MODEL (kinds));
}

static void
sherd_material_list_dispose (GObject *object)
{
  SherdMaterialList *self = SHERD_MATERIAL_LIST (object);

  if (self->view != NULL)
    gtk_list_view_set_model (self->view, NULL);
  g_clear_object (&self->selection);
  sherd_children_drop (GTK_WIDGET (self));
  G_OBJECT_CLASS (sherd_material_list_parent_class)->dispose (object);
}

static void
bind_template (GtkWidgetClass *widget_class)
{
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/material-list.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialList, search_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialList, kind_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialList, colour_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialList, hazard_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialList, stack);
  gtk_widget_class_bind_template_child (widget_class, SherdMaterialList, view);
  gtk_widget_class_bind_template_callback (widget_class, filter_cb);
  gtk_widget_class_bind_template_callback (widget_class, search_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, search_key_cb);
  gtk_widget_class_bind_template_callback (widget_class, stop_search_cb);
  gtk_widget_class_bind_template_callback (widget_class, activate_cb);
}

static void
sherd_material_list_class_init (SherdMaterialListClass *klass)
{
  const GType type = SHERD_TYPE_MATERIAL_LIST, choice = SHERD_TYPE_MATERIAL_CHOICE;

  G_OBJECT_CLASS (klass)->dispose = sherd_material_list_dispose;
  signals[CHOSEN] = g_signal_new ("chosen", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, choice);
  signals[SELECTED] = g_signal_new ("selected", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, choice);
  bind_template (GTK_WIDGET_CLASS (klass));
}

static void
sherd_material_list_init (SherdMaterialList *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  self->is_filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  fill_kinds (self);
  self->found = gtk_filter_list_model_new (NULL, GTK_FILTER (gtk_custom_filter_new (matches, self, NULL)));
  self->ranked = gtk_sort_list_model_new (G_LIST_MODEL (self->found),
                                          GTK_SORTER (gtk_custom_sorter_new (compare_ranks, self, NULL)));
  self->selection = gtk_single_selection_new (G_LIST_MODEL (self->ranked));
  g_signal_connect_object (self->selection, "notify::selected-item", G_CALLBACK (selected_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), NULL);
  gtk_list_view_set_factory (self->view, factory);
  gtk_list_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));
  g_object_unref (factory);
  self->is_filling = FALSE;
}
