/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/columns.h"

#include "desk/children.h"

struct _SherdColumns
{
  GtkWidget parent_instance;

  int spacing_px;
};

enum
{
  PROP_0,
  PROP_SPACING,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_FINAL_TYPE (SherdColumns, sherd_columns, GTK_TYPE_WIDGET)

static GtkWidget *
next_shown (GtkWidget *child)
{
  while (child != NULL && !gtk_widget_should_layout (child))
    child = gtk_widget_get_next_sibling (child);
  return child;
}

static GtkWidget *
first_child (SherdColumns *self)
{
  return next_shown (gtk_widget_get_first_child (GTK_WIDGET (self)));
}

static GtkWidget *
next_child (GtkWidget *child)
{
  return next_shown (gtk_widget_get_next_sibling (child));
}

static int
narrowest (GtkWidget *child)
{
  int minimum;

  gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  return minimum;
}

static int
height_for (GtkWidget *child, int width)
{
  int minimum;

  gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, width, &minimum, NULL, NULL, NULL);
  return minimum;
}

/* Width that all need beside one another, and how many they are. */
static int
sum_of_widths (SherdColumns *self, int *n_children)
{
  int sum = 0;

  *n_children = 0;
  for (GtkWidget *child = first_child (self); child != NULL; child = next_child (child), ++*n_children)
    sum += narrowest (child) + (*n_children > 0 ? self->spacing_px : 0);
  return sum;
}

static void
measure_width (SherdColumns *self, int *minimum, int *natural)
{
  int sum = 0, widest = 0, n_children = 0;

  for (GtkWidget *child = first_child (self); child != NULL; child = next_child (child), n_children++)
    {
      int child_minimum, child_natural;

      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &child_minimum, &child_natural, NULL, NULL);
      widest = MAX (widest, child_minimum);
      sum += child_natural + (n_children > 0 ? self->spacing_px : 0);
    }
  *minimum = widest;
  *natural = MAX (widest, sum);
}

/* Places the children within @width, or only says how high they get. */
static int
place_below (SherdColumns *self, int width, gboolean place)
{
  int y = 0;

  for (GtkWidget *child = first_child (self); child != NULL; child = next_child (child))
    {
      const int height = height_for (child, width);

      y += y > 0 ? self->spacing_px : 0;
      if (place)
        gtk_widget_size_allocate (child, &(GtkAllocation){ 0, y, width, height }, -1);
      y += height;
    }
  return y;
}

/* All get the same share of what is left over. */
static int
place_beside (SherdColumns *self, int spare, int n_children, int height, gboolean place)
{
  int x = 0, highest = 0;

  for (GtkWidget *child = first_child (self); child != NULL; child = next_child (child))
    {
      const int share = spare / MAX (n_children, 1);
      const int width = narrowest (child) + share;

      spare -= share;
      n_children--;
      if (place)
        gtk_widget_size_allocate (child, &(GtkAllocation){ x, 0, width, height }, -1);
      else
        highest = MAX (highest, height_for (child, width));
      x += width + self->spacing_px;
    }
  return highest;
}

static int
place_children (SherdColumns *self, int width, int height, gboolean place)
{
  int n_children;
  const int beside = sum_of_widths (self, &n_children);

  if (n_children == 0)
    return 0;
  return width >= beside ? place_beside (self, width - beside, n_children, height, place)
                         : place_below (self, width, place);
}

static void
sherd_columns_measure (GtkWidget *widget,
                       GtkOrientation orientation,
                       int for_size,
                       int *minimum,
                       int *natural,
                       int *minimum_baseline,
                       int *natural_baseline)
{
  SherdColumns *self = SHERD_COLUMNS (widget);
  int width = for_size;

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      measure_width (self, minimum, natural);
      return;
    }
  if (width < 0)
    measure_width (self, &(int){ 0 }, &width);
  *minimum = *natural = place_children (self, width, -1, FALSE);
}

static void
sherd_columns_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  place_children (SHERD_COLUMNS (widget), width, height, TRUE);
}

static GtkSizeRequestMode
sherd_columns_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
sherd_columns_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_SPACING)
    g_value_set_int (value, SHERD_COLUMNS (object)->spacing_px);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sherd_columns_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id != PROP_SPACING)
    {
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
      return;
    }
  SHERD_COLUMNS (object)->spacing_px = g_value_get_int (value);
  gtk_widget_queue_resize (GTK_WIDGET (object));
}

static void
sherd_columns_dispose (GObject *object)
{
  sherd_children_drop (GTK_WIDGET (object));
  G_OBJECT_CLASS (sherd_columns_parent_class)->dispose (object);
}

static void
sherd_columns_class_init (SherdColumnsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_columns_get_property;
  object_class->set_property = sherd_columns_set_property;
  object_class->dispose = sherd_columns_dispose;
  widget_class->measure = sherd_columns_measure;
  widget_class->size_allocate = sherd_columns_size_allocate;
  widget_class->get_request_mode = sherd_columns_get_request_mode;
  properties[PROP_SPACING] =
    g_param_spec_int ("spacing", NULL, NULL, 0, G_MAXINT, 18, G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_columns_init (SherdColumns *self)
{
  self->spacing_px = 18;
}
