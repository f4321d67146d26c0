/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/chooser.h"

static guint
count_same (GtkStringList *list, const char *const *words)
{
  guint n_same = 0;

  while (words[n_same] != NULL && g_strcmp0 (gtk_string_list_get_string (list, n_same), words[n_same]) == 0)
    n_same++;
  return n_same;
}

/**
 * sherd_chooser_fill:
 * @chooser: a drop-down
 * @words: (array zero-terminated=1): what it offers
 * @selected: which one it shows
 *
 * Words that it offers already are left alone: a drop-down whose list is replaced while it tells of a choice never
 * comes to rest (GTK 4.8).
 */
void
sherd_chooser_fill (GtkDropDown *chooser, const char *const *words, guint selected)
{
  GListModel *model = gtk_drop_down_get_model (chooser);

  if (GTK_IS_STRING_LIST (model))
    {
      GtkStringList *list = GTK_STRING_LIST (model);
      const guint n_same = count_same (list, words);
      const guint n_gone = g_list_model_get_n_items (model) - n_same;

      if (n_gone > 0 || words[n_same] != NULL)
        gtk_string_list_splice (list, n_same, n_gone, words + n_same);
    }
  else
    {
      g_autoptr (GtkStringList) list = gtk_string_list_new (words);

      gtk_drop_down_set_model (chooser, G_LIST_MODEL (list));
    }
  if (gtk_drop_down_get_selected (chooser) != selected)
    gtk_drop_down_set_selected (chooser, selected);
}
