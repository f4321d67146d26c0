/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks on the canvas: placing, dragging, keys, the magnifier. Numbers by hand: the view is set so that one widget px
 * is one photo px and the widget's middle is photo (1000, 700). */
#include "config.h"

#include "desk/photo-canvas-private.h"

#include <string.h>

#include "window-support.h"

#define WIDTH_PX 640
#define HEIGHT_PX 480
#define ROUNDING_PX 1e-9

typedef struct
{
  GtkWidget *window;
  SherdPhotoCanvas *canvas;
  GString *told; /* what the signals said, in words */
} Fixture;

/* Left of column 1000 one grey, right of it another. */
static void
paint_two_greys (guint x_px, guint y_px, guint8 rgb[3])
{
  memset (rgb, x_px < 1000 ? 119 : 255, 3);
}

static void
placed_cb (SherdPhotoCanvas *canvas, guint index, double x, double y, Fixture *fixture)
{
  g_string_append_printf (fixture->told, "placed %u at %.1f %.1f; ", index, x, y);
}

static void
moved_cb (SherdPhotoCanvas *canvas, guint index, double x, double y, gboolean finished, Fixture *fixture)
{
  g_string_append_printf (fixture->told, "%s %u to %.1f %.1f; ", finished ? "moved" : "moving", index, x, y);
}

static void
removed_cb (SherdPhotoCanvas *canvas, guint index, Fixture *fixture)
{
  g_string_append_printf (fixture->told, "removed %u; ", index);
}

static void
ended_cb (SherdPhotoCanvas *canvas, gboolean complete, Fixture *fixture)
{
  g_string_append (fixture->told, complete ? "ended complete; " : "ended; ");
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (2000, 1400, paint_two_greys);
  SherdPhotoCanvas *canvas = SHERD_PHOTO_CANVAS (sherd_photo_canvas_new ());

  fixture->canvas = canvas;
  fixture->told = g_string_new (NULL);
  sherd_photo_canvas_set_picture (canvas, picture);
  sherd_photo_canvas_add_mark (canvas, SHERD_PHOTO_MARK_PIECE, "Top left corner of the tile");
  sherd_photo_canvas_add_mark (canvas, SHERD_PHOTO_MARK_PIECE, "Top right corner of the tile");
  sherd_photo_canvas_add_mark (canvas, SHERD_PHOTO_MARK_REFERENCE, "First corner of the chart");
  g_signal_connect (canvas, "mark-placed", G_CALLBACK (placed_cb), fixture);
  g_signal_connect (canvas, "mark-moved", G_CALLBACK (moved_cb), fixture);
  g_signal_connect (canvas, "mark-removed", G_CALLBACK (removed_cb), fixture);
  g_signal_connect (canvas, "marking-ended", G_CALLBACK (ended_cb), fixture);
  fixture->window = sherd_test_window (GTK_WIDGET (canvas), WIDTH_PX, HEIGHT_PX);
  sherd_photo_canvas_set_view (canvas, 1.0, (SherdPoint){ 1000.0, 700.0 });
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  g_string_free (fixture->told, TRUE);
}

static void
assert_told (Fixture *fixture, const char *expected)
{
  g_assert_cmpstr (fixture->told->str, ==, expected);
  g_string_truncate (fixture->told, 0);
}

static void
assert_mark (SherdPhotoCanvas *canvas, guint index, double x, double y)
{
  SherdPoint photo_px;

  g_assert_true (sherd_photo_canvas_get_mark (canvas, index, &photo_px));
  g_assert_cmpfloat_with_epsilon (photo_px.x, x, ROUNDING_PX);
  g_assert_cmpfloat_with_epsilon (photo_px.y, y, ROUNDING_PX);
}

static void
click (SherdPhotoCanvas *canvas, double x_photo_px, double y_photo_px)
{
  const SherdPoint at = sherd_photo_canvas_photo_to_widget (canvas, (SherdPoint){ x_photo_px, y_photo_px });

  sherd_photo_canvas_point (canvas, at, TRUE);
  sherd_photo_canvas_press (canvas, at, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_release (canvas);
}

static void
test_clicks_place_marks_in_order (Fixture *fixture, gconstpointer data)
{
  g_assert_true (sherd_photo_canvas_begin_marking (fixture->canvas));
  g_assert_cmpint (sherd_photo_canvas_get_next_mark (fixture->canvas), ==, 0);
  g_assert_true (strstr (gtk_label_get_text (GTK_LABEL (fixture->canvas->hint)), "Top left corner of the tile") !=
                 NULL);
  click (fixture->canvas, 900.0, 650.0);
  assert_told (fixture, "placed 0 at 900.0 650.0; ");
  g_assert_true (strstr (gtk_label_get_text (GTK_LABEL (fixture->canvas->hint)), "Top right corner of the tile") !=
                 NULL);
  click (fixture->canvas, 1100.0, 650.0);
  click (fixture->canvas, 1000.0, 800.0);
  assert_told (fixture, "placed 1 at 1100.0 650.0; placed 2 at 1000.0 800.0; ended complete; ");
  g_assert_false (sherd_photo_canvas_get_marking (fixture->canvas));
  g_assert_false (sherd_photo_canvas_begin_marking (fixture->canvas)); /* none is missing */
}

static void
test_a_mark_follows_until_it_is_let_go (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_begin_marking (fixture->canvas);
  sherd_photo_canvas_press (fixture->canvas, (SherdPoint){ 320.0, 240.0 }, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_drag (fixture->canvas, (SherdPoint){ 330.0, 245.0 }, 0);
  sherd_photo_canvas_release (fixture->canvas);
  assert_told (fixture, "moving 0 to 1010.0 705.0; placed 0 at 1010.0 705.0; ");
}

static void
test_placing_near_the_edge_does_not_move_the_picture (Fixture *fixture, gconstpointer data)
{
  SherdPoint centre_px;

  sherd_photo_canvas_begin_marking (fixture->canvas);
  click (fixture->canvas, 690.0, 470.0); /* 10 px from the canvas's corner */
  assert_told (fixture, "placed 0 at 690.0 470.0; ");
  centre_px = sherd_photo_canvas_get_centre (fixture->canvas);
  g_assert_cmpfloat (centre_px.x, ==, 1000.0);
  g_assert_cmpfloat (centre_px.y, ==, 700.0);
}

static void
test_dragging_moves_a_mark_by_what_was_dragged (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_mark (fixture->canvas, 1, (SherdPoint){ 950.25, 690.5 });
  assert_told (fixture, ""); /* set by the program: nothing to tell */
  /* Taken 4 px beside it: it must not jump to the pointer. */
  sherd_photo_canvas_press (fixture->canvas, (SherdPoint){ 274.0, 230.0 }, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_drag (fixture->canvas, (SherdPoint){ 284.0, 230.0 }, 0);
  assert_mark (fixture->canvas, 1, 960.25, 690.5);
  sherd_photo_canvas_drag (fixture->canvas, (SherdPoint){ 304.0, 210.0 }, GDK_SHIFT_MASK); /* a tenth of the way */
  sherd_photo_canvas_release (fixture->canvas);
  assert_mark (fixture->canvas, 1, 962.25, 688.5);
  assert_told (fixture, "moving 1 to 960.2 690.5; moving 1 to 962.2 688.5; moved 1 to 962.2 688.5; ");
}

static void
test_the_nearest_mark_within_reach_is_taken (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 1000.0, 700.0 });
  sherd_photo_canvas_set_mark (fixture->canvas, 1, (SherdPoint){ 1012.0, 700.0 });
  g_assert_cmpint (sherd_photo_canvas_find_mark (fixture->canvas, (SherdPoint){ 325.0, 240.0 }), ==, 0);
  g_assert_cmpint (sherd_photo_canvas_find_mark (fixture->canvas, (SherdPoint){ 327.0, 240.0 }), ==, 1);
  g_assert_cmpint (sherd_photo_canvas_find_mark (fixture->canvas, (SherdPoint){ 360.0, 240.0 }), ==, -1);
}

static void
test_a_mark_stays_in_the_photograph (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_view (fixture->canvas, 1.0, (SherdPoint){ 0.0, 0.0 });
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 5.0, 5.0 });
  sherd_photo_canvas_press (fixture->canvas, (SherdPoint){ 325.0, 245.0 }, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_drag (fixture->canvas, (SherdPoint){ 200.0, 260.0 }, 0);
  sherd_photo_canvas_release (fixture->canvas);
  assert_mark (fixture->canvas, 0, 0.0, 20.0);
}

static void
test_arrow_keys_nudge (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 1000.0, 700.0 });
  sherd_photo_canvas_focus_mark (fixture->canvas, 0);
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Right, 0);
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Right, 0); /* held down: still one step of undo */
  sherd_photo_canvas_key_up (fixture->canvas, GDK_KEY_Right);
  assert_told (fixture, "moving 0 to 1001.0 700.0; moving 0 to 1002.0 700.0; moved 0 to 1002.0 700.0; ");
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Up, GDK_SHIFT_MASK);
  sherd_photo_canvas_key_up (fixture->canvas, GDK_KEY_Up);
  assert_mark (fixture->canvas, 0, 1002.0, 690.0);
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Left, GDK_CONTROL_MASK);
  sherd_photo_canvas_key_up (fixture->canvas, GDK_KEY_Left);
  assert_mark (fixture->canvas, 0, 1001.9, 690.0);
}

static void
test_a_nudge_is_finished_when_the_focus_leaves (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 1000.0, 700.0 });
  sherd_photo_canvas_set_mark (fixture->canvas, 1, (SherdPoint){ 1100.0, 700.0 });
  sherd_photo_canvas_focus_mark (fixture->canvas, 0);
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Down, 0);
  sherd_photo_canvas_focus_mark (fixture->canvas, 1); /* the key's release will never be seen */
  assert_told (fixture, "moving 0 to 1000.0 701.0; moved 0 to 1000.0 701.0; ");
}

static void
test_delete_removes_the_mark_in_focus (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 1000.0, 700.0 });
  g_assert_false (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Delete, 0)); /* nothing in focus */
  sherd_photo_canvas_focus_mark (fixture->canvas, 0);
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Delete, 0));
  assert_told (fixture, "removed 0; ");
  g_assert_false (sherd_photo_canvas_get_mark (fixture->canvas, 0, NULL));
  g_assert_cmpint (sherd_photo_canvas_get_next_mark (fixture->canvas), ==, 0);
  g_assert_true (gtk_widget_has_focus (GTK_WIDGET (fixture->canvas)));
}

static void
test_escape_puts_back_then_ends (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 1000.0, 700.0 });
  sherd_photo_canvas_begin_marking (fixture->canvas);
  sherd_photo_canvas_press (fixture->canvas, (SherdPoint){ 320.0, 240.0 }, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_drag (fixture->canvas, (SherdPoint){ 380.0, 240.0 }, 0);
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Escape, 0));
  assert_told (fixture, "moving 0 to 1060.0 700.0; moved 0 to 1000.0 700.0; ");
  g_assert_true (sherd_photo_canvas_get_marking (fixture->canvas));
  sherd_photo_canvas_press (fixture->canvas, (SherdPoint){ 500.0, 240.0 }, GDK_BUTTON_PRIMARY);
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Escape, 0)); /* a mark half placed */
  g_assert_false (sherd_photo_canvas_get_mark (fixture->canvas, 1, NULL));
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Escape, 0));
  assert_told (fixture, "ended; ");
  g_assert_false (gtk_widget_get_visible (fixture->canvas->loupe));
}

static void
test_enter_places_in_the_middle (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_begin_marking (fixture->canvas);
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Right, 0); /* aim: 64 px to the right */
  g_assert_true (gtk_widget_get_visible (fixture->canvas->loupe));
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Return, 0));
  assert_told (fixture, "placed 0 at 1064.0 700.0; ");
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Left, 0); /* it has the focus: nudge */
  assert_mark (fixture->canvas, 0, 1063.0, 700.0);
}

static void
test_tab_goes_canvas_marks_outlines (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (900.0, 600.0, 50.0, 50.0);
  SherdPhotoCanvas *canvas = fixture->canvas;

  sherd_photo_canvas_add_outline (canvas, outline, "A");
  sherd_photo_canvas_add_outline (canvas, outline, "B");
  sherd_photo_canvas_set_mark (canvas, 0, (SherdPoint){ 1000.0, 700.0 });
  sherd_photo_canvas_set_mark (canvas, 2, (SherdPoint){ 1050.0, 700.0 });
  gtk_widget_grab_focus (GTK_WIDGET (canvas));
  g_assert_true (gtk_widget_child_focus (GTK_WIDGET (canvas), GTK_DIR_TAB_FORWARD));
  g_assert_cmpint (sherd_photo_canvas_get_focused_mark (canvas), ==, 0);
  gtk_widget_child_focus (GTK_WIDGET (canvas), GTK_DIR_TAB_FORWARD); /* the second is not placed */
  g_assert_cmpint (sherd_photo_canvas_get_focused_mark (canvas), ==, 2);
  gtk_widget_child_focus (GTK_WIDGET (canvas), GTK_DIR_TAB_FORWARD);
  g_assert_cmpint (sherd_photo_canvas_get_focused_outline (canvas), ==, 0);
  g_assert_false (gtk_widget_child_focus (GTK_WIDGET (canvas), GTK_DIR_TAB_FORWARD)); /* and out */
  gtk_widget_child_focus (GTK_WIDGET (canvas), GTK_DIR_TAB_BACKWARD);
  g_assert_cmpint (sherd_photo_canvas_get_focused_mark (canvas), ==, 2);
}

static void
test_focus_brings_a_mark_into_view (Fixture *fixture, gconstpointer data)
{
  SherdPoint at;

  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 1800.0, 100.0 });
  sherd_photo_canvas_focus_mark (fixture->canvas, 0);
  at = sherd_photo_canvas_photo_to_widget (fixture->canvas, (SherdPoint){ 1800.0, 100.0 });
  g_assert_cmpfloat (at.x, <=, WIDTH_PX);
  g_assert_cmpfloat (at.y, >=, 0.0);
}

/* Magnifier */

static void
test_magnifier_tells_place_and_colour (Fixture *fixture, gconstpointer data)
{
  SherdPhotoLoupe *loupe = SHERD_PHOTO_LOUPE (fixture->canvas->loupe);

  sherd_photo_canvas_point (fixture->canvas, (SherdPoint){ 220.0, 240.0 }, TRUE);
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (loupe))); /* nothing is being placed */
  sherd_photo_canvas_begin_marking (fixture->canvas);
  sherd_photo_canvas_point (fixture->canvas, (SherdPoint){ 220.0, 240.0 }, TRUE);
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (loupe)));
  /* Code 119 is L* 50.0: Y = ((119/255 + 0.055) / 1.055)^2.4 = 0.1845, L* = 116 · 0.1845^(1/3) − 16 = 50.03. */
  g_assert_cmpstr (sherd_photo_loupe_get_caption (loupe), ==, "900.0, 700.0\nL* 50.0, a* 0.0, b* 0.0");
  sherd_photo_canvas_point (fixture->canvas, (SherdPoint){ 420.0, 240.0 }, TRUE);
  g_assert_cmpstr (sherd_photo_loupe_get_caption (loupe), ==, "1100.0, 700.0\nL* 100.0, a* 0.0, b* 0.0");
  sherd_photo_canvas_point (fixture->canvas, (SherdPoint){ 420.0, 240.0 }, FALSE);
  g_assert_false (gtk_widget_get_visible (GTK_WIDGET (loupe)));
}

static void
test_magnifier_shows_the_edge_where_it_is (Fixture *fixture, gconstpointer data)
{
  graphene_point_t middle, corner;
  GdkTexture *drawn;
  guint8 left[3], right[3];

  sherd_photo_canvas_begin_marking (fixture->canvas);
  sherd_photo_canvas_point (fixture->canvas, (SherdPoint){ 320.0, 240.0 }, TRUE); /* photo 1000, on the edge */
  sherd_test_spin (250);
  drawn = sherd_test_render (GTK_WIDGET (fixture->canvas));
  g_assert_true (gtk_widget_compute_point (fixture->canvas->loupe, GTK_WIDGET (fixture->canvas),
                                           &GRAPHENE_POINT_INIT (0.0f, 0.0f), &corner));
  middle.x = corner.x + (float)gtk_widget_get_width (fixture->canvas->loupe) / 2.0f;
  /* Off the cross hairs; the disc's ring is 40 px away. */
  sherd_test_get_code (drawn, (int)middle.x - 5, (int)corner.y + 60, left);
  sherd_test_get_code (drawn, (int)middle.x + 5, (int)corner.y + 60, right);
  g_assert_cmpuint (left[0], ==, 119);
  g_assert_cmpuint (right[0], ==, 255);
  g_object_unref (drawn);
}

static void
test_magnifier_stays_on_the_canvas_and_off_the_place (Fixture *fixture, gconstpointer data)
{
  static const SherdPoint places[] = {
    { 20.0, 20.0 }, { 620.0, 20.0 }, { 620.0, 460.0 }, { 20.0, 460.0 }, { 320.0, 240.0 }
  };
  GtkWidget *loupe = fixture->canvas->loupe;

  sherd_photo_canvas_begin_marking (fixture->canvas);
  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    {
      const graphene_point_t place = GRAPHENE_POINT_INIT ((float)places[i].x, (float)places[i].y);
      const graphene_rect_t all = GRAPHENE_RECT_INIT (0.0f, 0.0f, WIDTH_PX, HEIGHT_PX);
      graphene_rect_t bounds;

      sherd_photo_canvas_point (fixture->canvas, places[i], TRUE);
      sherd_test_spin (50);
      g_assert_true (gtk_widget_compute_bounds (loupe, GTK_WIDGET (fixture->canvas), &bounds));
      g_assert_true (graphene_rect_contains_rect (&all, &bounds));
      g_assert_false (graphene_rect_contains_point (&bounds, &place));
    }
}

/* What a reader hears, and does. */
static void
test_marks_are_named_for_readers (Fixture *fixture, gconstpointer data)
{
  GtkAccessible *mark = g_ptr_array_index (fixture->canvas->marks, 0);

  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 812.0, 403.0 });
  sherd_test_assert_property (mark, GTK_ACCESSIBLE_PROPERTY_LABEL, "Top left corner of the tile, at 812.0, 403.0");
  sherd_photo_canvas_focus_mark (fixture->canvas, 0);
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Right, 0);
  sherd_test_assert_property (mark, GTK_ACCESSIBLE_PROPERTY_LABEL, "Top left corner of the tile, at 813.0, 403.0");
}

static void
test_assistive_technology_can_move_a_mark (Fixture *fixture, gconstpointer data)
{
  GtkWidget *mark = g_ptr_array_index (fixture->canvas->marks, 0);

  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 812.0, 403.0 });
  gtk_widget_activate_action (mark, "mark.left", NULL);
  gtk_widget_activate_action (mark, "mark.down", NULL);
  gtk_widget_activate_action (mark, "mark.nudge", "(dd)", 0.5, -10.0);
  assert_told (fixture, "moved 0 to 811.0 403.0; moved 0 to 811.0 404.0; moved 0 to 811.5 394.0; ");
  gtk_widget_activate_action (mark, "mark.remove", NULL);
  assert_told (fixture, "removed 0; ");
}

static void
test_the_next_mark_can_be_placed_without_a_pointer (Fixture *fixture, gconstpointer data)
{
  GtkWidget *canvas = GTK_WIDGET (fixture->canvas);

  gtk_widget_activate_action (canvas, "mark.place", NULL);
  gtk_widget_activate_action (canvas, "mark.place-at", "(dd)", 12.5, 34.0);
  assert_told (fixture, "placed 0 at 1000.0 700.0; placed 1 at 12.5 34.0; ");
}

static void
test_clearing_forgets_everything (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 1000.0, 700.0 });
  sherd_photo_canvas_focus_mark (fixture->canvas, 0);
  sherd_photo_canvas_begin_marking (fixture->canvas);
  sherd_photo_canvas_press (fixture->canvas, (SherdPoint){ 500.0, 240.0 }, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_clear_marks (fixture->canvas);
  g_assert_cmpuint (sherd_photo_canvas_get_n_marks (fixture->canvas), ==, 0);
  g_assert_false (sherd_photo_canvas_get_marking (fixture->canvas));
  sherd_photo_canvas_release (fixture->canvas);
  sherd_test_spin (50);
}

static void
add (const char *name, void (*test) (Fixture *, gconstpointer))
{
  g_autofree char *path = g_strconcat ("/desk/photo-marks/", name, NULL);

  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

/* Dark above and left of (1010, 705), light elsewhere: the corner lies 10 px right of the widget's middle, 5 below. */
static void
paint_dark_quarter (guint x_px, guint y_px, guint8 rgb[3])
{
  memset (rgb, x_px < 1010 && y_px < 705 ? 60 : 200, 3);
}

static void
show_corner (Fixture *fixture)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (2000, 1400, paint_dark_quarter);

  sherd_photo_canvas_set_picture (fixture->canvas, picture);
  sherd_photo_canvas_set_view (fixture->canvas, 1.0, (SherdPoint){ 1000.0, 700.0 });
}

static void
assert_mark_at (Fixture *fixture, guint index, double x, double y, double tolerance_px)
{
  SherdPoint photo_px;

  g_assert_true (sherd_photo_canvas_get_mark (fixture->canvas, index, &photo_px));
  g_assert_cmpfloat_with_epsilon (photo_px.x, x, tolerance_px);
  g_assert_cmpfloat_with_epsilon (photo_px.y, y, tolerance_px);
}

static void
click_at (Fixture *fixture, double x, double y)
{
  sherd_photo_canvas_press (fixture->canvas, (SherdPoint){ x, y }, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_release (fixture->canvas);
}

/* Clicked 4 px beside the corner: taken there with the switch off, on the corner with it on, free again with Alt. */
static void
test_marks_snap_to_the_corner_next_to_them (Fixture *fixture, gconstpointer data)
{
  show_corner (fixture);
  sherd_photo_canvas_begin_marking (fixture->canvas);
  click_at (fixture, WIDTH_PX / 2 + 13, HEIGHT_PX / 2 + 8);
  assert_mark_at (fixture, 0, 1013, 708, ROUNDING_PX);
  sherd_photo_canvas_unset_mark (fixture->canvas, 0);
  sherd_photo_canvas_set_snap (fixture->canvas, SHERD_PHOTO_MARK_PIECE, TRUE);
  click_at (fixture, WIDTH_PX / 2 + 13, HEIGHT_PX / 2 + 8);
  assert_mark_at (fixture, 0, 1010, 705, 0.2);
  sherd_photo_canvas_unset_mark (fixture->canvas, 0);
  fixture->canvas->free_hand = TRUE;
  click_at (fixture, WIDTH_PX / 2 + 13, HEIGHT_PX / 2 + 8);
  fixture->canvas->free_hand = FALSE;
  assert_mark_at (fixture, 0, 1013, 708, ROUNDING_PX);
}

static void
test_marks_of_another_kind_do_not_snap (Fixture *fixture, gconstpointer data)
{
  show_corner (fixture);
  sherd_photo_canvas_set_snap (fixture->canvas, SHERD_PHOTO_MARK_PIECE, TRUE);
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 900, 600 });
  sherd_photo_canvas_set_mark (fixture->canvas, 1, (SherdPoint){ 1100, 600 });
  sherd_photo_canvas_begin_marking (fixture->canvas);
  click_at (fixture, WIDTH_PX / 2 + 13, HEIGHT_PX / 2 + 8);
  assert_mark_at (fixture, 2, 1013, 708, ROUNDING_PX);
}

static void
test_a_key_snaps_the_mark_in_hand (Fixture *fixture, gconstpointer data)
{
  show_corner (fixture);
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 1006, 701 });
  sherd_photo_canvas_focus_mark (fixture->canvas, 0);
  g_assert_false (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_s, GDK_CONTROL_MASK));
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_s, 0));
  assert_mark_at (fixture, 0, 1010, 705, 0.2);
  g_assert_nonnull (strstr (fixture->told->str, "moved 0 to"));
  /* Where there is no corner it stays, and the hint says so. */
  g_string_truncate (fixture->told, 0);
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 800, 900 });
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_s, 0));
  assert_mark_at (fixture, 0, 800, 900, ROUNDING_PX);
  g_assert_cmpstr (fixture->told->str, ==, "");
  g_assert_true (gtk_widget_get_visible (fixture->canvas->hint));
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  add ("clicks-place-marks-in-order", test_clicks_place_marks_in_order);
  add ("a-mark-follows-until-it-is-let-go", test_a_mark_follows_until_it_is_let_go);
  add ("placing-near-the-edge-does-not-move-the-picture", test_placing_near_the_edge_does_not_move_the_picture);
  add ("dragging-moves-a-mark-by-what-was-dragged", test_dragging_moves_a_mark_by_what_was_dragged);
  add ("the-nearest-mark-within-reach-is-taken", test_the_nearest_mark_within_reach_is_taken);
  add ("a-mark-stays-in-the-photograph", test_a_mark_stays_in_the_photograph);
  add ("arrow-keys-nudge", test_arrow_keys_nudge);
  add ("a-nudge-is-finished-when-the-focus-leaves", test_a_nudge_is_finished_when_the_focus_leaves);
  add ("delete-removes-the-mark-in-focus", test_delete_removes_the_mark_in_focus);
  add ("escape-puts-back-then-ends", test_escape_puts_back_then_ends);
  add ("enter-places-in-the-middle", test_enter_places_in_the_middle);
  add ("tab-goes-canvas-marks-outlines", test_tab_goes_canvas_marks_outlines);
  add ("focus-brings-a-mark-into-view", test_focus_brings_a_mark_into_view);
  add ("magnifier-tells-place-and-colour", test_magnifier_tells_place_and_colour);
  add ("magnifier-shows-the-edge-where-it-is", test_magnifier_shows_the_edge_where_it_is);
  add ("magnifier-stays-on-the-canvas-and-off-the-place", test_magnifier_stays_on_the_canvas_and_off_the_place);
  add ("marks-are-named-for-readers", test_marks_are_named_for_readers);
  add ("assistive-technology-can-move-a-mark", test_assistive_technology_can_move_a_mark);
  add ("the-next-mark-can-be-placed-without-a-pointer", test_the_next_mark_can_be_placed_without_a_pointer);
  add ("clearing-forgets-everything", test_clearing_forgets_everything);
  add ("marks-snap-to-the-corner-next-to-them", test_marks_snap_to_the_corner_next_to_them);
  add ("marks-of-another-kind-do-not-snap", test_marks_of_another_kind_do_not_snap);
  add ("a-key-snaps-the-mark-in-hand", test_a_key_snaps_the_mark_in_hand);
  return g_test_run ();
}
