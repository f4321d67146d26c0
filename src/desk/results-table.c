/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/results-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "desk/swatch.h"
#include "trial/comparison.h"
#include "trial/format.h"
#include "trial/results.h"

/* Our choice: so much of a paint's name or a remark is always there to be read. */
#define LEAST_WORDS_CHARS 12

/* One column: how it is called, what its cells say, what it sorts by. */
typedef struct
{
  const char *title;
  char *(*dup_text) (SherdZoneShift *row);
  double (*number) (SherdZoneShift *row);                 /* NULL: sorts by the text */
  const SherdZoneColour *(*colour) (SherdZoneShift *row); /* not NULL: a swatch instead of text */
  gboolean expands;
} Column;

static char *
dup_code (SherdZoneShift *row)
{
  return g_strdup (sherd_zone_get_code (sherd_zone_shift_get_zone (row)));
}

static char *
dup_paint (SherdZoneShift *row)
{
  return sherd_format_paint (sherd_zone_get_paint (sherd_zone_shift_get_zone (row)));
}

static char *
dup_before (SherdZoneShift *row)
{
  return sherd_format_zone_colour (sherd_zone_shift_get_before (row));
}

static char *
dup_after (SherdZoneShift *row)
{
  return sherd_format_zone_colour (sherd_zone_shift_get_after (row));
}

static char *
dup_shift (SherdZoneShift *row)
{
  return sherd_format_shift (sherd_zone_shift_get_shift (row));
}

static double
lightness (const SherdZoneColour *zone)
{
  return sherd_zone_colour_is_measured (zone) ? zone->lab.l : -INFINITY;
}

static double
before_lightness (SherdZoneShift *row)
{
  return lightness (sherd_zone_shift_get_before (row));
}

static double
after_lightness (SherdZoneShift *row)
{
  return lightness (sherd_zone_shift_get_after (row));
}

static double
shift_size (SherdZoneShift *row)
{
  const SherdShift *shift = sherd_zone_shift_get_shift (row);

  return shift->measured ? shift->difference.de00 : -INFINITY;
}

static const Column columns[] = {
  { N_ ("Zone"), dup_code, NULL, NULL, FALSE },
  { N_ ("Paint"), dup_paint, NULL, NULL, TRUE },
  { N_ ("Before"), dup_before, before_lightness, sherd_zone_shift_get_before, FALSE },
  { N_ ("After"), dup_after, after_lightness, sherd_zone_shift_get_after, FALSE },
  { N_ ("L* a* b* before"), dup_before, before_lightness, NULL, FALSE },
  { N_ ("L* a* b* after"), dup_after, after_lightness, NULL, FALSE },
  { N_ ("ΔE00 ± U"), dup_shift, shift_size, NULL, FALSE },
  { N_ ("Verdict and remarks"), sherd_results_dup_remarks, NULL, NULL, TRUE },
};

/* Words may be cut, for they stand in the tooltip too; a number that is cut is another number: the table scrolls. */
static void
setup_text_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  const Column *column = user_data;
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  if (column->expands)
    {
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_label_set_width_chars (GTK_LABEL (label), LEAST_WORDS_CHARS);
    }
  gtk_widget_add_css_class (label, "numeric");
  gtk_list_item_set_child (item, label);
}

static void
bind_text_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  const Column *column = user_data;
  g_autofree char *text = column->dup_text (gtk_list_item_get_item (item));
  GtkWidget *label = gtk_list_item_get_child (item);

  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, text);
}

static void
setup_swatch_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  GtkWidget *swatch = sherd_swatch_new ();

  gtk_widget_set_size_request (swatch, 40, 22);
  gtk_widget_set_halign (swatch, GTK_ALIGN_START);
  gtk_list_item_set_child (item, swatch);
}

static void
bind_swatch_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  const Column *column = user_data;
  const SherdZoneColour *zone = column->colour (gtk_list_item_get_item (item));

  sherd_swatch_set_colour (SHERD_SWATCH (gtk_list_item_get_child (item)),
                           sherd_zone_colour_is_measured (zone) ? &zone->lab : NULL);
}

static int
compare_rows (gconstpointer first, gconstpointer second, gpointer user_data)
{
  const Column *column = user_data;
  SherdZoneShift *one = (SherdZoneShift *)first;
  SherdZoneShift *two = (SherdZoneShift *)second;
  g_autofree char *one_text = NULL;
  g_autofree char *two_text = NULL;

  if (column->number != NULL)
    return (column->number (one) > column->number (two)) - (column->number (one) < column->number (two));
  one_text = column->dup_text (one);
  two_text = column->dup_text (two);
  return g_utf8_collate (one_text, two_text);
}

static void
add_column (GtkColumnView *view, const Column *column)
{
  g_autoptr (GtkColumnViewColumn) added = NULL;
  g_autoptr (GtkSorter) sorter = GTK_SORTER (gtk_custom_sorter_new (compare_rows, (gpointer)column, NULL));
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (column->colour != NULL ? setup_swatch_cb : setup_text_cb),
                    (gpointer)column);
  g_signal_connect (factory, "bind", G_CALLBACK (column->colour != NULL ? bind_swatch_cb : bind_text_cb),
                    (gpointer)column);
  added = gtk_column_view_column_new (_ (column->title), factory);
  gtk_column_view_column_set_sorter (added, sorter);
  gtk_column_view_column_set_resizable (added, TRUE);
  gtk_column_view_column_set_expand (added, column->expands);
  gtk_column_view_append_column (view, added);
}

/**
 * sherd_results_table_add_columns:
 * @view: a column view whose rows are #SherdZoneShift
 *
 * Adds the columns; a click on a heading sorts by it, colours by their lightness.
 */
void
sherd_results_table_add_columns (GtkColumnView *view)
{
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    add_column (view, &columns[i]);
}
