/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/children.h"

/**
 * sherd_children_drop:
 * @widget: a widget
 *
 * Takes out all its children. GTK asks this of every widget that is not a container of its own when it is disposed of.
 */
void
sherd_children_drop (GtkWidget *widget)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (widget)) != NULL)
    gtk_widget_unparent (child);
}
