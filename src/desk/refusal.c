/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/refusal.h"

/**
 * sherd_refusal_show:
 * @entry: what was typed in
 * @label: below it
 * @reason: (nullable): why the text is not taken, and what to do; NULL when it is
 */
void
sherd_refusal_show (GtkWidget *entry, GtkLabel *label, const char *reason)
{
  gtk_label_set_text (label, reason != NULL ? reason : "");
  gtk_widget_set_visible (GTK_WIDGET (label), reason != NULL);
  if (reason != NULL)
    gtk_widget_add_css_class (entry, "refused");
  else
    gtk_widget_remove_css_class (entry, "refused");
  gtk_accessible_update_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID,
                               reason != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  reason != NULL ? reason : "", -1);
}
