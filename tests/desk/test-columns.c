/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two children of 200 px and a gap of 10: beside one another from 410 px on. */
#include "config.h"

#include "desk/columns.h"
#include "window-support.h"

typedef struct
{
  GtkWidget *window;
  GtkWidget *first;
  GtkWidget *second;
} Pair;

static Pair
show_pair (int width_px)
{
  GtkWidget *columns = g_object_new (SHERD_TYPE_COLUMNS, "spacing", 10, NULL);
  Pair pair = { NULL, gtk_label_new ("one"), gtk_label_new ("two") };

  gtk_widget_set_size_request (pair.first, 200, 30);
  gtk_widget_set_size_request (pair.second, 200, 50);
  gtk_widget_set_parent (pair.first, columns);
  gtk_widget_set_parent (pair.second, columns);
  pair.window = sherd_test_window (columns, width_px, 200);
  return pair;
}

static graphene_rect_t
place_of (GtkWidget *child)
{
  graphene_rect_t place;

  g_assert_true (gtk_widget_compute_bounds (child, gtk_widget_get_parent (child), &place));
  return place;
}

static void
test_wide_enough_they_stand_beside_one_another (void)
{
  Pair pair = show_pair (430);
  const graphene_rect_t first = place_of (pair.first), second = place_of (pair.second);

  g_assert_cmpfloat (first.size.width, ==, 210.0);
  g_assert_cmpfloat (second.origin.x, ==, 220.0);
  g_assert_cmpfloat (second.origin.y, ==, 0.0);
  gtk_window_destroy (GTK_WINDOW (pair.window));
}

static void
test_too_narrow_they_stand_below_one_another (void)
{
  Pair pair = show_pair (400);
  const graphene_rect_t first = place_of (pair.first), second = place_of (pair.second);

  g_assert_cmpfloat (first.size.width, ==, 400.0);
  g_assert_cmpfloat (second.origin.x, ==, 0.0);
  g_assert_cmpfloat (second.origin.y, ==, 40.0);
  gtk_window_destroy (GTK_WINDOW (pair.window));
}

static void
test_a_hidden_child_takes_no_place (void)
{
  Pair pair = show_pair (430);

  gtk_widget_set_visible (pair.first, FALSE);
  sherd_test_spin (50);
  g_assert_cmpfloat (place_of (pair.second).origin.x, ==, 0.0);
  g_assert_cmpfloat (place_of (pair.second).size.width, ==, 430.0);
  gtk_window_destroy (GTK_WINDOW (pair.window));
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  g_test_add_func ("/desk/columns/wide enough they stand beside one another",
                   test_wide_enough_they_stand_beside_one_another);
  g_test_add_func ("/desk/columns/too narrow they stand below one another",
                   test_too_narrow_they_stand_below_one_another);
  g_test_add_func ("/desk/columns/a hidden child takes no place", test_a_hidden_child_takes_no_place);
  return g_test_run ();
}
