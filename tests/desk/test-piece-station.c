/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Piece station with vessels: what is added, what its fields change, what all views show of it. Expected values are
 * what was typed. */
#include "config.h"

#include <math.h>

#include "desk/piece-station.h"
#include "desk/vessel-view.h"
#include "trial/edits.h"
#include "trial/form-edits.h"
#include "trial/zone-shape-edits.h"
#include "window-support.h"

typedef struct
{
  SherdTrial *trial;
  GtkWidget *station;
  GtkWidget *window;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->trial = sherd_trial_new ();
  fixture->station = g_object_new (SHERD_TYPE_PIECE_STATION, NULL);
  sherd_piece_station_set_trial (SHERD_PIECE_STATION (fixture->station), fixture->trial);
  fixture->window = sherd_test_window (fixture->station, 1100, 800);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  sherd_piece_station_set_trial (SHERD_PIECE_STATION (fixture->station), NULL);
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  g_clear_object (&fixture->trial);
  sherd_test_spin (50);
}

/* The @n-th widget below that has the type and is to be seen; NULL when there is none. */
static GtkWidget *
find_shown (GtkWidget *widget, const char *type_name, guint *n)
{
  if (!gtk_widget_get_visible (widget))
    return NULL;
  if (g_str_equal (G_OBJECT_TYPE_NAME (widget), type_name) && (*n)-- == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_shown (child, type_name, n);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static GtkWidget *
find_first (Fixture *fixture, const char *type_name)
{
  guint n = 0;

  return find_shown (fixture->station, type_name, &n);
}

static GtkSpinButton *
nth_spin (Fixture *fixture, guint n)
{
  GtkWidget *fields = find_first (fixture, "SherdVesselFields");

  g_assert_nonnull (fields);
  return GTK_SPIN_BUTTON (find_shown (fields, "GtkSpinButton", &n));
}

static SherdPiece *
add (Fixture *fixture, const char *word)
{
  GListModel *pieces = sherd_trial_get_pieces (fixture->trial);
  g_autoptr (SherdPiece) piece = NULL;

  gtk_widget_activate_action (fixture->station, "piece.add", "s", word);
  sherd_test_spin (50);
  piece = g_list_model_get_item (pieces, g_list_model_get_n_items (pieces) - 1);
  g_assert_nonnull (piece);
  return piece;
}

static void
test_each_kind_can_be_added (Fixture *fixture, gconstpointer data)
{
  static const char *const words[] = { "tile", "disc", "bowl", "dish", "plate", "cup", "cylinder", "jar" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      SherdPiece *piece = add (fixture, words[i]);

      g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_pieces (fixture->trial)), ==, i + 1);
      g_assert_cmpint (sherd_piece_is_vessel (piece), ==, i >= 2);
    }
}

static void
test_a_vessel_has_its_own_fields_and_picture (Fixture *fixture, gconstpointer data)
{
  add (fixture, "tile");
  g_assert_null (find_first (fixture, "SherdVesselFields"));
  g_assert_null (find_first (fixture, "SherdVesselView"));
  add (fixture, "jar");
  g_assert_nonnull (find_first (fixture, "SherdVesselFields"));
  g_assert_nonnull (find_first (fixture, "SherdVesselView"));
}

static void
test_a_wider_rim_is_typed (Fixture *fixture, gconstpointer data)
{
  SherdPiece *bowl = add (fixture, "bowl");
  const SherdForm *form;

  gtk_spin_button_set_value (nth_spin (fixture, 0), 172.0);
  form = sherd_piece_get_form (bowl);
  g_assert_cmpfloat_with_epsilon (2.0 * form->outside[form->n_outside - 1].r_mm, 172.0, 1e-9);
  sherd_trial_undo (fixture->trial);
  form = sherd_piece_get_form (bowl);
  g_assert_cmpfloat (2.0 * form->outside[form->n_outside - 1].r_mm, !=, 172.0);
}

static void
test_rings_are_laid_and_painted_side_by_side (Fixture *fixture, gconstpointer data)
{
  SherdPiece *dish = add (fixture, "dish");
  SherdSide *inside = sherd_piece_find_side_by_name (dish, "inside");
  GtkWidget *button = NULL;
  guint n = 0;

  gtk_spin_button_set_value (nth_spin (fixture, 5), 2.0);
  gtk_spin_button_set_value (nth_spin (fixture, 6), 7.0);
  /* The last button of the fields lays them out. */
  for (guint i = 0;; i++)
    {
      GtkWidget *next;

      n = i;
      next = find_shown (find_first (fixture, "SherdVesselFields"), "GtkButton", &n);
      if (next == NULL)
        break;
      button = next;
    }
  g_signal_emit_by_name (button, "clicked");
  g_assert_cmpuint (g_list_model_get_n_items (sherd_side_get_zones (inside)), ==, 14);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_side_get_zones (sherd_piece_find_side_by_name (dish, "outside"))),
                    ==, 0);
}

static gboolean
says_that_paint_can_be_told (gpointer data)
{
  Fixture *fixture = data;
  GtkWidget *panel = find_first (fixture, "SherdLayoutPanel");

  for (guint i = 0;; i++)
    {
      guint n = i;
      GtkWidget *label = find_shown (panel, "GtkLabel", &n);

      if (label == NULL)
        return FALSE;
      if (strstr (gtk_label_get_text (GTK_LABEL (label)), "paint can be told") != NULL)
        return TRUE;
    }
}

/* Two paints, six times each on twelve zones in random order, leave nothing to be confounded with. */
static void
test_filling_a_side_is_told_what_it_can_tell (Fixture *fixture, gconstpointer data)
{
  SherdPiece *tile = add (fixture, "tile");
  SherdSide *face = sherd_piece_find_side_by_name (tile, "face");
  GListModel *zones = sherd_side_get_zones (face);
  SherdPaint *black = sherd_trial_add_paint (fixture->trial, "HB", NULL, NULL);
  SherdPaint *red = sherd_trial_add_paint (fixture->trial, "RO", NULL, NULL);
  guint n_black = 0, n_red = 0, n = 0;

  for (guint i = 0; i < 2; i++)
    {
      n = 0;
      g_signal_emit_by_name (find_shown (find_first (fixture, "SherdLayoutPanel"), "GtkEntry", &n), "activate");
    }
  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      n_black += sherd_zone_get_paint (zone) == black;
      n_red += sherd_zone_get_paint (zone) == red;
    }
  g_assert_cmpuint (n_black, ==, 6);
  g_assert_cmpuint (n_red, ==, 6);
  g_assert_true (sherd_test_wait (says_that_paint_can_be_told, fixture));
}

static guint
fill_with (Fixture *fixture, const char *codes)
{
  guint n = 0;
  GtkWidget *entry = find_shown (find_first (fixture, "SherdLayoutPanel"), "GtkEntry", &n);

  gtk_editable_set_text (GTK_EDITABLE (entry), codes);
  g_signal_emit_by_name (entry, "activate");
  return g_list_model_get_n_items (sherd_trial_get_paints (fixture->trial));
}

/* One step of undo takes zones and paints back. */
static void
test_a_code_that_is_new_makes_its_paint (Fixture *fixture, gconstpointer data)
{
  add (fixture, "tile");
  g_assert_cmpuint (fill_with (fixture, "HB, RO,K1"), ==, 3);
  g_assert_nonnull (sherd_trial_find_paint_by_code (fixture->trial, "RO"));
  sherd_trial_undo (fixture->trial);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (fixture->trial)), ==, 0);
}

/* More paints than the twelve zones of the tile, and a code that cannot be scratched: nothing is left half-way. */
static void
test_a_filling_that_cannot_be_leaves_no_paints (Fixture *fixture, gconstpointer data)
{
  add (fixture, "tile");
  g_assert_cmpuint (fill_with (fixture, "A,B,C,D,E,F,G,H,I,J,K,L,M"), ==, 0);
  g_assert_cmpuint (fill_with (fixture, "A,a code of far too many words to be one at all"), ==, 0);
}

/* How many columns, or rows, differ somewhere from the corner at the top left; the caption at the bottom is left out.
 */
static int
extent (GdkTexture *texture, gboolean of_rows)
{
  const int width = gdk_texture_get_width (texture), height = gdk_texture_get_height (texture);
  const int n_lines = of_rows ? height - 24 : width, n_across = of_rows ? width : height - 24;
  g_autofree guint32 *pixels = g_new (guint32, (gsize)width * (gsize)height);
  int n = 0;

  gdk_texture_download (texture, (guchar *)pixels, (gsize)width * 4);
  for (int line = 0; line < n_lines; line++)
    for (int k = 0; k < n_across; k++)
      if (pixels[of_rows ? line * width + k : k * width + line] != pixels[0])
        {
          n++;
          break;
        }
  return n;
}

/* 100 mm wide and high, seen from 30° above: 100 : 100 cos 30° + 100 sin 30° from afar, a little less from near by. */
static void
test_a_cylinder_is_drawn_as_wide_as_it_is (Fixture *fixture, gconstpointer data)
{
  const SherdProfilePoint wall[] = { { 50, 0, TRUE }, { 50, 100, FALSE } };
  SherdPiece *cylinder = add (fixture, "cylinder");
  g_autoptr (SherdForm) form = sherd_form_copy (sherd_piece_get_form (cylinder));
  GtkWidget *view = g_object_new (SHERD_TYPE_VESSEL_VIEW, NULL);
  GtkWidget *window = sherd_test_window (view, 400, 300);
  g_autoptr (GdkTexture) texture = NULL;

  sherd_form_set_outside (form, wall, G_N_ELEMENTS (wall));
  g_assert_true (sherd_trial_set_form (fixture->trial, cylinder, 5, form, FALSE, NULL));
  sherd_vessel_view_show (SHERD_VESSEL_VIEW (view), cylinder);
  sherd_test_spin (50);
  texture = sherd_test_render (view);
  g_assert_cmpfloat_with_epsilon ((double)extent (texture, FALSE) / extent (texture, TRUE),
                                  1.0 / (cos (G_PI / 6.0) + sin (G_PI / 6.0)), 0.08);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* What is looked for in the picture of a vessel. */
typedef struct
{
  SherdVesselView *view;
  SherdZone *zone;
} Sight;

static SherdZone *
find_in_the_middle (SherdVesselView *view)
{
  return sherd_vessel_view_find_zone (view, gtk_widget_get_width (GTK_WIDGET (view)) / 2.0,
                                      gtk_widget_get_height (GTK_WIDGET (view)) / 2.0);
}

/* Once the view has its place in the window. */
static gboolean
is_in_the_middle (gpointer data)
{
  const Sight *sight = data;

  return find_in_the_middle (sight->view) == sight->zone;
}

/* A ring of four zones on a cylinder, one of them round the zero mark. Seen from there, it hides the one behind. */
static void
test_a_zone_is_chosen_in_the_picture (Fixture *fixture, gconstpointer data)
{
  const SherdProfilePoint wall[] = { { 50, 0, TRUE }, { 50, 100, FALSE } };
  const SherdRingGrid grid = { .n_rings = 1, .n_sectors = 4, .whole = { -45, 315, 5, 95 }, .gap_mm = 2 };
  SherdPiece *cylinder = add (fixture, "cylinder");
  SherdSide *outside = sherd_piece_find_side_by_name (cylinder, "outside");
  g_autoptr (SherdForm) form = sherd_form_copy (sherd_piece_get_form (cylinder));
  SherdVesselView *view = SHERD_VESSEL_VIEW (find_first (fixture, "SherdVesselView"));
  g_autoptr (SherdZone) front = NULL;
  Sight sight = { view, NULL };

  sherd_form_set_outside (form, wall, G_N_ELEMENTS (wall));
  g_assert_true (sherd_trial_set_form (fixture->trial, cylinder, 5, form, FALSE, NULL));
  g_assert_true (sherd_trial_set_ring_grid (fixture->trial, cylinder, outside, &grid, NULL));
  front = g_list_model_get_item (sherd_side_get_zones (outside), 0);
  sight.zone = front;
  g_assert_true (sherd_test_wait (is_in_the_middle, &sight));
  g_assert_null (sherd_vessel_view_find_zone (view, gtk_widget_get_width (GTK_WIDGET (view)) / 2.0, 1.0));
}

/* The station shows the inside of a dish first; a zone of the outside brings that side with it. */
static void
test_a_zone_chosen_in_the_picture_turns_to_its_side (Fixture *fixture, gconstpointer data)
{
  const SherdRingGrid grid = { .n_rings = 1, .n_sectors = 4, .whole = { 0, 360, 5, 25 }, .gap_mm = 2 };
  SherdPiece *dish = add (fixture, "dish");
  SherdSide *outside = sherd_piece_find_side_by_name (dish, "outside");
  g_autoptr (SherdZone) zone = NULL;

  g_assert_true (sherd_trial_set_ring_grid (fixture->trial, dish, outside, &grid, NULL));
  zone = g_list_model_get_item (sherd_side_get_zones (outside), 2);
  g_signal_emit_by_name (find_first (fixture, "SherdVesselView"), "zone-selected", zone);
  fill_with (fixture, "HB");
  g_assert_nonnull (sherd_zone_get_paint (zone));
}

/* What is typed after a click must be seen, in a window that is lower than the panel is long. */
static void
test_the_field_of_a_chosen_zone_is_in_sight (Fixture *fixture, gconstpointer data)
{
  const SherdRingGrid grid = { .n_rings = 1, .n_sectors = 4, .whole = { 0, 360, 5, 25 }, .gap_mm = 2 };
  SherdPiece *dish = add (fixture, "dish");
  SherdSide *inside = sherd_piece_find_side_by_name (dish, "inside");
  g_autoptr (SherdZone) zone = NULL;
  graphene_rect_t bounds;
  GtkWidget *focus;

  g_assert_true (sherd_trial_set_ring_grid (fixture->trial, dish, inside, &grid, NULL));
  zone = g_list_model_get_item (sherd_side_get_zones (inside), 2);
  g_signal_emit_by_name (find_first (fixture, "SherdVesselView"), "zone-selected", zone);
  sherd_test_spin (100);
  focus = gtk_window_get_focus (GTK_WINDOW (fixture->window));
  g_assert_true (GTK_IS_TEXT (focus));
  g_assert_true (gtk_widget_compute_bounds (focus, fixture->station, &bounds));
  g_assert_cmpfloat (bounds.origin.y, >=, 0.0);
  g_assert_cmpfloat (bounds.origin.y + bounds.size.height, <=, gtk_widget_get_height (fixture->station));
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;

#define TEST(name, function) g_test_add ("/desk/piece-station/" name, Fixture, NULL, set_up, function, tear_down)
  TEST ("each-kind-can-be-added", test_each_kind_can_be_added);
  TEST ("a-vessel-has-its-own-fields-and-picture", test_a_vessel_has_its_own_fields_and_picture);
  TEST ("a-wider-rim-is-typed", test_a_wider_rim_is_typed);
  TEST ("rings-are-laid-and-painted-side-by-side", test_rings_are_laid_and_painted_side_by_side);
  TEST ("filling-a-side-is-told-what-it-can-tell", test_filling_a_side_is_told_what_it_can_tell);
  TEST ("a-new-code-makes-its-paint", test_a_code_that_is_new_makes_its_paint);
  TEST ("a-refused-filling-leaves-no-paints", test_a_filling_that_cannot_be_leaves_no_paints);
  TEST ("a-cylinder-is-drawn-as-wide-as-it-is", test_a_cylinder_is_drawn_as_wide_as_it_is);
  TEST ("a-zone-is-chosen-in-the-picture", test_a_zone_is_chosen_in_the_picture);
  TEST ("the-field-of-a-chosen-zone-is-in-sight", test_the_field_of_a_chosen_zone_is_in_sight);
  TEST ("a-zone-chosen-in-the-picture-turns-to-its-side", test_a_zone_chosen_in_the_picture_turns_to_its_side);
#undef TEST
  return g_test_run ();
}
