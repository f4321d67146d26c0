/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is typed and what the field makes of it; values by hand. */
#include "config.h"

#include <math.h>

#include "desk/number-entry.h"
#include "window-support.h"

typedef struct
{
  SherdNumberEntry *field;
  GtkEditable *entry;
  GtkWidget *window;
  double edited; /* what the last signal told, or −1 */
} Fixture;

static void
edited_cb (Fixture *fixture, double value)
{
  fixture->edited = value;
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->field = SHERD_NUMBER_ENTRY (sherd_number_entry_new ("Parts", NULL));
  fixture->window = sherd_test_window (GTK_WIDGET (fixture->field), 300, 100);
  fixture->entry =
    GTK_EDITABLE (gtk_widget_get_template_child (GTK_WIDGET (fixture->field), SHERD_TYPE_NUMBER_ENTRY, "entry"));
  fixture->edited = -1.0;
  g_signal_connect_swapped (fixture->field, "edited", G_CALLBACK (edited_cb), fixture);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
}

static void
test_typing_tells_every_number_at_once (Fixture *fixture, gconstpointer data)
{
  gtk_editable_set_text (fixture->entry, "2");
  g_assert_cmpfloat (fixture->edited, ==, 2.0);
  gtk_editable_set_text (fixture->entry, "2.5");
  g_assert_cmpfloat (fixture->edited, ==, 2.5);
  gtk_editable_set_text (fixture->entry, "1/3");
  g_assert_cmpfloat (fixture->edited, ==, 1.0 / 3.0);
  g_assert_false (sherd_number_entry_is_refused (fixture->field));
}

static void
test_what_is_no_number_stays_with_the_reason (Fixture *fixture, gconstpointer data)
{
  sherd_number_entry_show (fixture->field, 2.0);
  gtk_editable_set_text (fixture->entry, "two");
  g_assert_true (sherd_number_entry_is_refused (fixture->field));
  g_assert_cmpfloat (fixture->edited, ==, -1.0);
  sherd_number_entry_show (fixture->field, 2.0); /* something else was edited */
  g_assert_cmpstr (gtk_editable_get_text (fixture->entry), ==, "two");
  g_assert_true (sherd_number_entry_is_refused (fixture->field));
}

static void
test_another_value_of_the_model_takes_its_place (Fixture *fixture, gconstpointer data)
{
  sherd_number_entry_show (fixture->field, 2.0);
  gtk_editable_set_text (fixture->entry, "two");
  sherd_number_entry_show (fixture->field, 3.0); /* undo */
  g_assert_cmpstr (gtk_editable_get_text (fixture->entry), ==, "3");
  g_assert_false (sherd_number_entry_is_refused (fixture->field));
  g_assert_cmpfloat (fixture->edited, ==, -1.0); /* showing is no editing */
}

static void
test_a_number_stays_spelt_as_it_was_typed (Fixture *fixture, gconstpointer data)
{
  gtk_editable_set_text (fixture->entry, "2.50");
  sherd_number_entry_show (fixture->field, 2.5);
  g_assert_cmpstr (gtk_editable_get_text (fixture->entry), ==, "2.50");
}

static void
test_a_refusal_of_the_model_stands_at_the_field (Fixture *fixture, gconstpointer data)
{
  gtk_editable_set_text (fixture->entry, "0");
  sherd_number_entry_refuse (fixture->field, "Parts are more than 0.");
  g_assert_true (sherd_number_entry_is_refused (fixture->field));
  sherd_test_assert_property (fixture->entry, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "Parts are more than 0.");
  sherd_number_entry_show (fixture->field, NAN);
  g_assert_cmpstr (gtk_editable_get_text (fixture->entry), ==, "0");
}

static void
test_empty_is_a_value_only_where_it_may_be (Fixture *fixture, gconstpointer data)
{
  gtk_editable_set_text (fixture->entry, "4");
  gtk_editable_set_text (fixture->entry, "");
  g_assert_true (sherd_number_entry_is_refused (fixture->field));
  g_assert_cmpfloat (fixture->edited, ==, 4.0);
  g_object_set (fixture->field, "may-be-empty", TRUE, NULL);
  gtk_editable_set_text (fixture->entry, " ");
  g_assert_false (sherd_number_entry_is_refused (fixture->field));
  g_assert_true (isnan (fixture->edited));
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, tear_down)

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  ADD ("/desk/number-entry/typing tells every number at once", test_typing_tells_every_number_at_once);
  ADD ("/desk/number-entry/what is no number stays with the reason", test_what_is_no_number_stays_with_the_reason);
  ADD ("/desk/number-entry/another value of the model takes its place",
       test_another_value_of_the_model_takes_its_place);
  ADD ("/desk/number-entry/a number stays spelt as it was typed", test_a_number_stays_spelt_as_it_was_typed);
  ADD ("/desk/number-entry/a refusal of the model stands at the field",
       test_a_refusal_of_the_model_stands_at_the_field);
  ADD ("/desk/number-entry/empty is a value only where it may be", test_empty_is_a_value_only_where_it_may_be);
  return g_test_run ();
}
