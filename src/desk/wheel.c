/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/wheel.h"

static void
stop_turning (GtkWidget *spin)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (spin);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_SCROLL (controller))
        gtk_event_controller_set_propagation_phase (controller, GTK_PHASE_NONE);
    }
}

/**
 * sherd_wheel_leave_numbers:
 * @widget: a station, or any widget with spin buttons in it
 *
 * Lets the mouse wheel scroll the panel wherever the pointer is. GTK turns the number of a spin button that the pointer
 * happens to be over: whoever scrolls down would change the size of a piece without seeing it.
 */
void
sherd_wheel_leave_numbers (GtkWidget *widget)
{
  if (GTK_IS_SPIN_BUTTON (widget))
    stop_turning (widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    sherd_wheel_leave_numbers (child);
}
