/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/writer.h"

#include <math.h>

#include "trial/format.h"
#include "trial/part-private.h"

struct _SherdWriter
{
  GString *text;
  guint depth;
  gboolean empty; /* nothing yet in the innermost object or list */
};

static void write_node (SherdWriter *self, const char *member, JsonNode *node);

/**
 * sherd_writer_new:
 *
 * Returns: (transfer full): a writer of an empty text
 */
SherdWriter *
sherd_writer_new (void)
{
  SherdWriter *self = g_new0 (SherdWriter, 1);

  self->text = g_string_new (NULL);
  self->empty = TRUE;
  return self;
}

/**
 * sherd_writer_new_item:
 * @depth: of the list it will be an item of, see sherd_writer_get_depth ()
 *
 * For what does not change any more and is written often: it is written once and put into lists by sherd_writer_item
 * ().
 *
 * Returns: (transfer full): a writer of one item
 */
SherdWriter *
sherd_writer_new_item (guint depth)
{
  SherdWriter *self = sherd_writer_new ();

  self->depth = depth;
  return self;
}

/**
 * sherd_writer_finish_item:
 * @self: (transfer full): a writer of one item
 *
 * Returns: (transfer full): its text, with the line's beginning before it
 */
char *
sherd_writer_finish_item (SherdWriter *self)
{
  char *item = g_string_free (self->text, FALSE);

  g_free (self);
  return item;
}

/**
 * sherd_writer_item:
 * @self: a writer within a list
 * @item: from sherd_writer_finish_item (), of the same depth
 */
void
sherd_writer_item (SherdWriter *self, const char *item)
{
  if (!self->empty)
    g_string_append_c (self->text, ',');
  g_string_append (self->text, item);
  self->empty = FALSE;
}

/**
 * sherd_writer_get_depth:
 * @self: a writer
 *
 * Returns: how many objects and lists are open
 */
guint
sherd_writer_get_depth (SherdWriter *self)
{
  return self->depth;
}

/**
 * sherd_writer_finish:
 * @self: (transfer full): a writer whose objects and lists are all ended
 * @length: (out) (optional): bytes
 *
 * Returns: (transfer full): the text, with a line's end behind it
 */
char *
sherd_writer_finish (SherdWriter *self, gsize *length)
{
  GString *text = self->text;

  g_free (self);
  g_string_append_c (text, '\n');
  if (length != NULL)
    *length = text->len;
  return g_string_free (text, FALSE);
}

static void
new_line (SherdWriter *self)
{
  g_string_append_c (self->text, '\n');
  for (guint i = 0; i < self->depth; i++)
    g_string_append (self->text, "  ");
}

/* What JSON must escape (RFC 8259, section 7), and nothing else. */
static gboolean
needs_escape (char c)
{
  return c == '"' || c == '\\' || (guchar)c < 0x20;
}

static void
append_escaped (GString *out, char c)
{
  switch (c)
    {
    case '"':
    case '\\':
      g_string_append_c (out, '\\');
      g_string_append_c (out, c);
      break;
    case '\n':
      g_string_append (out, "\\n");
      break;
    case '\t':
      g_string_append (out, "\\t");
      break;
    default:
      g_string_append_printf (out, "\\u%04x", (guint)c);
    }
}

static void
append_text (GString *out, const char *text)
{
  g_string_append_c (out, '"');
  while (*text != '\0')
    {
      const char *end = text;

      while (*end != '\0' && !needs_escape (*end))
        end++;
      g_string_append_len (out, text, end - text);
      if (*end != '\0')
        append_escaped (out, *end++);
      text = end;
    }
  g_string_append_c (out, '"');
}

/* Everything before a value: comma, line, indent, name. */
static void
begin_value (SherdWriter *self, const char *member)
{
  if (!self->empty)
    g_string_append_c (self->text, ',');
  if (self->depth > 0)
    new_line (self);
  self->empty = FALSE;
  if (member != NULL)
    {
      append_text (self->text, member);
      g_string_append (self->text, ": ");
    }
}

static void
begin_bracket (SherdWriter *self, const char *member, char bracket)
{
  begin_value (self, member);
  g_string_append_c (self->text, bracket);
  self->depth++;
  self->empty = TRUE;
}

static void
end_bracket (SherdWriter *self, char bracket)
{
  self->depth--;
  if (!self->empty)
    new_line (self);
  g_string_append_c (self->text, bracket);
  self->empty = FALSE;
}

/**
 * sherd_writer_begin_object:
 * @self: a writer
 * @member: (nullable): its name, NULL for the root and for items of a list
 */
void
sherd_writer_begin_object (SherdWriter *self, const char *member)
{
  begin_bracket (self, member, '{');
}

/**
 * sherd_writer_end_object:
 * @self: a writer within an object
 */
void
sherd_writer_end_object (SherdWriter *self)
{
  end_bracket (self, '}');
}

/**
 * sherd_writer_begin_list:
 * @self: a writer
 * @member: its name
 */
void
sherd_writer_begin_list (SherdWriter *self, const char *member)
{
  begin_bracket (self, member, '[');
}

/**
 * sherd_writer_end_list:
 * @self: a writer within a list
 */
void
sherd_writer_end_list (SherdWriter *self)
{
  end_bracket (self, ']');
}

/**
 * sherd_writer_text:
 * @self: a writer
 * @member: (nullable): its name
 * @text: UTF-8
 */
void
sherd_writer_text (SherdWriter *self, const char *member, const char *text)
{
  begin_value (self, member);
  append_text (self->text, text);
}

static void
append_number (GString *out, double number)
{
  g_autofree char *digits = sherd_format_exact (number);

  g_string_append (out, digits);
}

/**
 * sherd_writer_number:
 * @self: a writer
 * @member: (nullable): its name
 * @number: a number; JSON has no NaN and no infinity, they become null
 */
void
sherd_writer_number (SherdWriter *self, const char *member, double number)
{
  begin_value (self, member);
  if (isfinite (number))
    append_number (self->text, number);
  else
    g_string_append (self->text, "null");
}

/**
 * sherd_writer_whole:
 * @self: a writer
 * @member: (nullable): its name
 * @number: a whole number
 */
void
sherd_writer_whole (SherdWriter *self, const char *member, gint64 number)
{
  begin_value (self, member);
  g_string_append_printf (self->text, "%" G_GINT64_FORMAT, number);
}

/**
 * sherd_writer_flag:
 * @self: a writer
 * @member: (nullable): its name
 * @flag: true or false
 */
void
sherd_writer_flag (SherdWriter *self, const char *member, gboolean flag)
{
  begin_value (self, member);
  g_string_append (self->text, flag ? "true" : "false");
}

static gboolean
all_finite (const double *numbers, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (!isfinite (numbers[i]))
      return FALSE;
  return TRUE;
}

/**
 * sherd_writer_numbers:
 * @self: a writer
 * @member: (nullable): its name
 * @numbers: (array length=n): when one of them is not finite, null stands for all
 * @n: how many
 */
void
sherd_writer_numbers (SherdWriter *self, const char *member, const double *numbers, gsize n)
{
  begin_value (self, member);
  if (!all_finite (numbers, n))
    {
      g_string_append (self->text, "null");
      return;
    }
  g_string_append_c (self->text, '[');
  for (gsize i = 0; i < n; i++)
    {
      if (i > 0)
        g_string_append (self->text, ", ");
      append_number (self->text, numbers[i]);
    }
  g_string_append_c (self->text, ']');
}

static gboolean
is_at_default (GParamSpec *pspec, const GValue *value)
{
  /* GLib takes NAN for equal to everything. */
  if (G_IS_PARAM_SPEC_DOUBLE (pspec))
    return sherd_part_same_number (g_value_get_double (value), G_PARAM_SPEC_DOUBLE (pspec)->default_value);
  return g_param_value_defaults (pspec, value);
}

/**
 * sherd_writer_property:
 * @self: a writer
 * @object: what is written
 * @property: text, number, flag or enum among its properties
 * @need: SHERD_OPTIONAL leaves it out while it is at its default
 */
void
sherd_writer_property (SherdWriter *self, gpointer object, const char *property, SherdNeed need)
{
  GParamSpec *pspec = g_object_class_find_property (G_OBJECT_GET_CLASS (object), property);
  g_autofree char *member = g_strdelimit (g_strdup (property), "-", '_');
  g_auto (GValue) value = G_VALUE_INIT;

  g_value_init (&value, pspec->value_type);
  g_object_get_property (object, property, &value);
  if (need == SHERD_OPTIONAL && is_at_default (pspec, &value))
    return;
  if (G_VALUE_HOLDS_STRING (&value))
    sherd_writer_text (self, member, g_value_get_string (&value));
  else if (G_VALUE_HOLDS_DOUBLE (&value))
    sherd_writer_number (self, member, g_value_get_double (&value));
  else if (G_VALUE_HOLDS_UINT (&value))
    sherd_writer_whole (self, member, g_value_get_uint (&value));
  else if (G_VALUE_HOLDS_UINT64 (&value))
    sherd_writer_whole (self, member, (gint64)g_value_get_uint64 (&value));
  else if (G_VALUE_HOLDS_BOOLEAN (&value))
    sherd_writer_flag (self, member, g_value_get_boolean (&value));
  else if (G_VALUE_HOLDS_ENUM (&value))
    sherd_writer_text (self, member,
                       g_enum_get_value (G_PARAM_SPEC_ENUM (pspec)->enum_class, g_value_get_enum (&value))->value_nick);
  else
    g_return_if_reached ();
}

/**
 * sherd_writer_properties:
 * @self: a writer
 * @object: what is written
 * @members: ended by one without a property
 *
 * sherd_writer_property () for each of them.
 */
void
sherd_writer_properties (SherdWriter *self, gpointer object, const SherdMember *members)
{
  for (; members->property != NULL; members++)
    sherd_writer_property (self, object, members->property, members->need);
}

static void
write_scalar (SherdWriter *self, const char *member, JsonNode *node)
{
  const GType type = json_node_get_value_type (node);

  if (type == G_TYPE_STRING)
    sherd_writer_text (self, member, json_node_get_string (node));
  else if (type == G_TYPE_INT64)
    sherd_writer_whole (self, member, json_node_get_int (node));
  else if (type == G_TYPE_BOOLEAN)
    sherd_writer_flag (self, member, json_node_get_boolean (node));
  else
    sherd_writer_number (self, member, json_node_get_double (node));
}

static void
write_array (SherdWriter *self, const char *member, JsonArray *array)
{
  sherd_writer_begin_list (self, member);
  for (guint i = 0; i < json_array_get_length (array); i++)
    write_node (self, NULL, json_array_get_element (array, i));
  sherd_writer_end_list (self);
}

static void
write_node (SherdWriter *self, const char *member, JsonNode *node)
{
  switch (json_node_get_node_type (node))
    {
    case JSON_NODE_OBJECT:
      sherd_writer_begin_object (self, member);
      sherd_writer_unknown (self, json_node_get_object (node));
      sherd_writer_end_object (self);
      break;
    case JSON_NODE_ARRAY:
      write_array (self, member, json_node_get_array (node));
      break;
    case JSON_NODE_VALUE:
      write_scalar (self, member, node);
      break;
    case JSON_NODE_NULL:
    default:
      begin_value (self, member);
      g_string_append (self->text, "null");
    }
}

/**
 * sherd_writer_unknown:
 * @self: a writer within an object
 * @unknown: (nullable): members that this program does not know, written as they were read
 */
void
sherd_writer_unknown (SherdWriter *self, JsonObject *unknown)
{
  JsonObjectIter iter;
  const char *member;
  JsonNode *node;

  if (unknown == NULL)
    return;
  json_object_iter_init_ordered (&iter, unknown);
  while (json_object_iter_next_ordered (&iter, &member, &node))
    write_node (self, member, node);
}
