/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/reader.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/error.h"
#include "trial/json-text.h"

/* One level of the walk. After a failure object and array are NULL. */
typedef struct
{
  JsonObject *object;
  JsonArray *array;
  GHashTable *asked; /* member names of the object that were asked for */
  gsize path_length; /* of the path to the level above */
} Frame;

struct _SherdReader
{
  const char *text;
  gsize length;
  JsonNode *root;
  GArray *frames;
  GString *path;
  GError *error;
  int error_code;
};

static void
clear_frame (gpointer data)
{
  Frame *frame = data;

  g_clear_pointer (&frame->asked, g_hash_table_unref);
}

static Frame *
top (SherdReader *self)
{
  return &g_array_index (self->frames, Frame, self->frames->len - 1);
}

static void
push (SherdReader *self, JsonObject *object, JsonArray *array, gsize path_length)
{
  const Frame frame = {
    .object = object,
    .array = array,
    .asked = object != NULL ? g_hash_table_new (g_str_hash, g_str_equal) : NULL,
    .path_length = path_length,
  };

  g_array_append_val (self->frames, frame);
}

static void
pop (SherdReader *self)
{
  g_string_truncate (self->path, top (self)->path_length);
  g_array_set_size (self->frames, self->frames->len - 1);
}

static gsize
extend_path (SherdReader *self, const char *member)
{
  const gsize before = self->path->len;

  if (before > 0)
    g_string_append_c (self->path, '.');
  g_string_append (self->path, member);
  return before;
}

/* A file of quite another kind, a table or a letter, chosen by mistake: its first letter says so. */
static gboolean
is_other_text (const char *text, gsize length)
{
  return length > 0 && g_ascii_isalpha (text[0]);
}

static SherdReader *
no_trial (GError **error)
{
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_CONTENT,
                       _ ("line 1: this is no trial, which would begin with “{”."));
  return NULL;
}

/**
 * sherd_reader_new:
 * @text: (array length=length): the bytes of a file; they must outlive the reader
 * @length: how many
 * @error: place for an error
 *
 * Checks the text, parses it and stands at the root object.
 *
 * Returns: (transfer full): a reader; NULL with SHERD_TRIAL_ERROR_SYNTAX or SHERD_TRIAL_ERROR_CONTENT
 */
SherdReader *
sherd_reader_new (const char *text, gsize length, GError **error)
{
  const gsize bom = sherd_json_skip_bom (text, length);
  g_autoptr (SherdReader) self = NULL;
  g_autoptr (JsonParser) parser = NULL;

  if (is_other_text (text + bom, length - bom))
    return no_trial (error);
  if (!sherd_json_check (text, length, error))
    return NULL;
  parser = json_parser_new_immutable ();
  if (!json_parser_load_from_data (parser, text + bom, (gssize)(length - bom), error))
    return NULL;
  if (!JSON_NODE_HOLDS_OBJECT (json_parser_get_root (parser)))
    return no_trial (error);

  self = g_new0 (SherdReader, 1);
  self->text = text;
  self->length = length;
  self->root = json_parser_steal_root (parser);
  self->path = g_string_new (NULL);
  self->error_code = SHERD_TRIAL_ERROR_CONTENT;
  self->frames = g_array_new (FALSE, FALSE, sizeof (Frame));
  g_array_set_clear_func (self->frames, clear_frame);
  push (self, json_node_get_object (self->root), NULL, 0);
  return g_steal_pointer (&self);
}

/**
 * sherd_reader_free:
 * @self: (transfer full): a reader
 */
void
sherd_reader_free (SherdReader *self)
{
  g_clear_pointer (&self->frames, g_array_unref);
  g_clear_pointer (&self->root, json_node_unref);
  if (self->path != NULL)
    g_string_free (self->path, TRUE);
  g_clear_error (&self->error);
  g_free (self);
}

/**
 * sherd_reader_is_sound:
 * @self: a reader
 *
 * Returns: whether nothing has been wrong so far
 */
gboolean
sherd_reader_is_sound (SherdReader *self)
{
  return self->error == NULL;
}

/**
 * sherd_reader_set_error_code:
 * @self: a reader
 * @code: a SherdTrialError for the next failure
 */
void
sherd_reader_set_error_code (SherdReader *self, int code)
{
  self->error_code = code;
}

/**
 * sherd_reader_fail:
 * @self: a reader
 * @member: (nullable): the member that is wrong; NULL for the object the reader stands in
 * @format: what is wrong and what to do
 * @...: for @format
 *
 * Remembers the first thing that is wrong, with its line and path.
 */
void
sherd_reader_fail (SherdReader *self, const char *member, const char *format, ...)
{
  g_autofree char *problem = NULL;
  const gsize path_length = self->path->len;
  va_list arguments;
  guint line;

  if (self->error != NULL)
    return;
  va_start (arguments, format);
  problem = g_strdup_vprintf (format, arguments);
  va_end (arguments);

  if (member != NULL)
    extend_path (self, member);
  line = sherd_json_find_line (self->text, self->length, self->path->str);
  if (self->path->len > 0)
    g_set_error (&self->error, SHERD_TRIAL_ERROR, self->error_code, _ ("line %u, %s: %s"), line, self->path->str,
                 problem);
  else
    g_set_error (&self->error, SHERD_TRIAL_ERROR, self->error_code, _ ("line %u: %s"), line, problem);
  g_string_truncate (self->path, path_length);
}

/**
 * sherd_reader_finish:
 * @self: a reader
 * @error: place for an error
 *
 * Returns: FALSE when something was wrong
 */
gboolean
sherd_reader_finish (SherdReader *self, GError **error)
{
  if (self->error == NULL)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&self->error));
  return FALSE;
}

/* (nullable): the member, which counts as known from now on */
static JsonNode *
ask (SherdReader *self, const char *member)
{
  Frame *frame = top (self);

  if (self->error != NULL || frame->object == NULL)
    return NULL;
  g_hash_table_add (frame->asked, (gpointer)g_intern_string (member));
  return json_object_get_member (frame->object, member);
}

static JsonNode *
ask_needed (SherdReader *self, const char *member, SherdNeed need)
{
  JsonNode *node = ask (self, member);

  if (node == NULL && need == SHERD_REQUIRED)
    sherd_reader_fail (self, member, _ ("this member is missing."));
  return node;
}

/**
 * sherd_reader_has:
 * @self: a reader
 * @member: name of a member
 *
 * Returns: whether the object the reader stands in has it
 */
gboolean
sherd_reader_has (SherdReader *self, const char *member)
{
  return ask (self, member) != NULL;
}

/**
 * sherd_reader_enter:
 * @self: a reader
 * @member: an object that must be there
 */
void
sherd_reader_enter (SherdReader *self, const char *member)
{
  JsonNode *node = ask_needed (self, member, SHERD_REQUIRED);

  if (node != NULL && !JSON_NODE_HOLDS_OBJECT (node))
    sherd_reader_fail (self, member, _ ("an object in braces is expected here."));
  push (self, sherd_reader_is_sound (self) && node != NULL ? json_node_get_object (node) : NULL, NULL,
        extend_path (self, member));
}

/**
 * sherd_reader_leave:
 * @self: a reader inside an object
 *
 * Goes back out of the object or list item.
 *
 * Returns: (transfer full) (nullable): its members that nobody asked for
 */
JsonObject *
sherd_reader_leave (SherdReader *self)
{
  Frame *frame = top (self);
  g_autoptr (JsonObject) unknown = NULL;

  if (self->error == NULL && frame->object != NULL)
    {
      g_autoptr (GList) members = json_object_get_members (frame->object);

      for (GList *link = members; link != NULL; link = link->next)
        {
          if (g_hash_table_contains (frame->asked, link->data))
            continue;
          if (unknown == NULL)
            unknown = json_object_new ();
          json_object_set_member (unknown, link->data, json_object_dup_member (frame->object, link->data));
        }
    }
  pop (self);
  return g_steal_pointer (&unknown);
}

/**
 * sherd_reader_enter_list:
 * @self: a reader
 * @member: a list of objects; absent is the same as empty
 * @max: the most items
 *
 * Returns: how many items it has
 */
guint
sherd_reader_enter_list (SherdReader *self, const char *member, guint max)
{
  JsonNode *node = ask (self, member);
  JsonArray *array = NULL;

  if (node != NULL && !JSON_NODE_HOLDS_ARRAY (node))
    sherd_reader_fail (self, member, _ ("a list in square brackets is expected here."));
  else if (node != NULL && json_array_get_length (json_node_get_array (node)) > max)
    sherd_reader_fail (self, member, _ ("the list has more than %u items."), max);
  else if (node != NULL)
    array = json_node_get_array (node);
  push (self, NULL, array, extend_path (self, member));
  return array != NULL ? json_array_get_length (array) : 0;
}

/**
 * sherd_reader_enter_item:
 * @self: a reader inside a list
 * @index: which item; it must be an object
 */
void
sherd_reader_enter_item (SherdReader *self, guint index)
{
  JsonArray *array = top (self)->array;
  const gsize path_length = self->path->len;
  JsonObject *object = NULL;

  g_string_append_printf (self->path, "[%u]", index);
  if (self->error == NULL && array != NULL)
    {
      if (JSON_NODE_HOLDS_OBJECT (json_array_get_element (array, index)))
        object = json_array_get_object_element (array, index);
      else
        sherd_reader_fail (self, NULL, _ ("an object in braces is expected here."));
    }
  push (self, object, NULL, path_length);
}

/**
 * sherd_reader_leave_list:
 * @self: a reader inside a list
 */
void
sherd_reader_leave_list (SherdReader *self)
{
  pop (self);
}

static gboolean
node_is_text (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING;
}

static gboolean
node_is_number (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) &&
         (json_node_get_value_type (node) == G_TYPE_INT64 || json_node_get_value_type (node) == G_TYPE_DOUBLE);
}

/**
 * sherd_reader_text:
 * @self: a reader
 * @member: name of a text
 * @need: whether it must be there
 *
 * Returns: (nullable) (transfer none): the text, NULL when absent
 */
const char *
sherd_reader_text (SherdReader *self, const char *member, SherdNeed need)
{
  JsonNode *node = ask_needed (self, member, need);

  if (node == NULL)
    return NULL;
  if (!node_is_text (node))
    {
      sherd_reader_fail (self, member, _ ("a text in quotes is expected here."));
      return NULL;
    }
  return json_node_get_string (node);
}

static double
number_from (SherdReader *self, const char *member, JsonNode *node, double min, double max)
{
  double number;

  if (!node_is_number (node))
    {
      sherd_reader_fail (self, member, _ ("a number is expected here."));
      return min;
    }
  number = json_node_get_double (node);
  if (!isfinite (number) || number < min || number > max)
    {
      sherd_reader_fail (self, member, _ ("the number %g is out of range; it must be from %g to %g."), number, min,
                         max);
      return min;
    }
  return number;
}

/**
 * sherd_reader_number:
 * @self: a reader
 * @member: name of a number
 * @min: the least it may be
 * @max: the most it may be
 * @need: whether it must be there
 *
 * Returns: the number; @min when absent or wrong
 */
double
sherd_reader_number (SherdReader *self, const char *member, double min, double max, SherdNeed need)
{
  JsonNode *node = ask_needed (self, member, need);

  return node != NULL ? number_from (self, member, node, min, max) : min;
}

/**
 * sherd_reader_number_or_null:
 * @self: a reader
 * @member: name of a number that must be there
 *
 * Returns: the number; NaN for null, which stands for not measured
 */
double
sherd_reader_number_or_null (SherdReader *self, const char *member)
{
  JsonNode *node = ask_needed (self, member, SHERD_REQUIRED);

  if (node == NULL || JSON_NODE_HOLDS_NULL (node))
    return NAN;
  return number_from (self, member, node, -G_MAXDOUBLE, G_MAXDOUBLE);
}

/**
 * sherd_reader_flag:
 * @self: a reader
 * @member: name of a flag
 * @need: whether it must be there
 *
 * Returns: the flag; FALSE when absent
 */
gboolean
sherd_reader_flag (SherdReader *self, const char *member, SherdNeed need)
{
  JsonNode *node = ask_needed (self, member, need);

  if (node == NULL)
    return FALSE;
  if (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_BOOLEAN)
    return json_node_get_boolean (node);
  sherd_reader_fail (self, member, _ ("true or false is expected here."));
  return FALSE;
}

/**
 * sherd_reader_whole:
 * @self: a reader
 * @member: name of a whole number; 3.0 is one too, as JSON has no kinds of number
 * @min: the least it may be
 * @max: the most it may be
 * @need: whether it must be there
 *
 * Returns: the number; @min when absent or wrong
 */
gint64
sherd_reader_whole (SherdReader *self, const char *member, gint64 min, gint64 max, SherdNeed need)
{
  JsonNode *node = ask_needed (self, member, need);
  double number;

  if (node == NULL)
    return min;
  number = number_from (self, member, node, (double)min, (double)max);
  if (!sherd_reader_is_sound (self))
    return min;
  if (number != floor (number))
    {
      sherd_reader_fail (self, member, _ ("a whole number is expected here."));
      return min;
    }
  return CLAMP (json_node_get_int (node), min, max);
}

static void
numbers_from (SherdReader *self, const char *member, JsonNode *node, double min, double max, double *numbers, guint n)
{
  JsonArray *array = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (array == NULL || json_array_get_length (array) != n)
    {
      sherd_reader_fail (self, member, _ ("a list of %u numbers is expected here."), n);
      return;
    }
  for (guint i = 0; i < n && sherd_reader_is_sound (self); i++)
    {
      g_autofree char *item = g_strdup_printf ("%s[%u]", member, i);

      numbers[i] = number_from (self, item, json_array_get_element (array, i), min, max);
    }
}

/**
 * sherd_reader_numbers:
 * @self: a reader
 * @member: name of a list of numbers
 * @min: the least each may be
 * @max: the most each may be
 * @numbers: (out) (array length=n): set when all is well
 * @n: how many there must be
 * @absent: (out) (nullable): when given, the list may be missing or null, which is told here
 */
void
sherd_reader_numbers (SherdReader *self,
                      const char *member,
                      double min,
                      double max,
                      double *numbers,
                      guint n,
                      gboolean *absent)
{
  JsonNode *node = ask_needed (self, member, absent != NULL ? SHERD_OPTIONAL : SHERD_REQUIRED);

  if (absent != NULL)
    *absent = node == NULL || JSON_NODE_HOLDS_NULL (node);
  if (node != NULL && !(absent != NULL && *absent))
    numbers_from (self, member, node, min, max, numbers, n);
}

/**
 * sherd_reader_tuples:
 * @self: a reader
 * @member: name of a list of lists of numbers; may be absent
 * @n: how many numbers each has, 3 at most
 * @min: the least each number may be
 * @max: the most each number may be
 * @max_items: the most items
 *
 * Returns: (transfer full) (nullable): all numbers, one item after the other, as doubles; NULL when absent or wrong
 */
GArray *
sherd_reader_tuples (SherdReader *self, const char *member, guint n, double min, double max, guint max_items)
{
  JsonNode *node = ask (self, member);
  g_autoptr (GArray) tuples = NULL;
  JsonArray *array;

  if (node == NULL)
    return NULL;
  array = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;
  if (array == NULL || json_array_get_length (array) > max_items)
    {
      sherd_reader_fail (self, member, _ ("a list of at most %u lists of %u numbers is expected here."), max_items, n);
      return NULL;
    }
  tuples = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < json_array_get_length (array) && sherd_reader_is_sound (self); i++)
    {
      g_autofree char *item = g_strdup_printf ("%s[%u]", member, i);
      double numbers[3] = { 0.0 };

      numbers_from (self, item, json_array_get_element (array, i), min, max, numbers, n);
      g_array_append_vals (tuples, numbers, n);
    }
  return sherd_reader_is_sound (self) ? g_steal_pointer (&tuples) : NULL;
}

/**
 * sherd_reader_texts:
 * @self: a reader
 * @member: name of a list of texts; may be absent
 * @max: the most items
 *
 * Returns: (transfer full): the texts
 */
GStrv
sherd_reader_texts (SherdReader *self, const char *member, guint max)
{
  g_autoptr (GStrvBuilder) texts = g_strv_builder_new ();
  JsonNode *node = ask (self, member);
  JsonArray *array = node != NULL && JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (node != NULL && (array == NULL || json_array_get_length (array) > max))
    sherd_reader_fail (self, member, _ ("a list of at most %u texts is expected here."), max);
  for (guint i = 0; array != NULL && sherd_reader_is_sound (self) && i < json_array_get_length (array); i++)
    {
      g_autofree char *item = g_strdup_printf ("%s[%u]", member, i);

      if (node_is_text (json_array_get_element (array, i)))
        g_strv_builder_add (texts, json_array_get_string_element (array, i));
      else
        sherd_reader_fail (self, item, _ ("a text in quotes is expected here."));
    }
  return g_strv_builder_end (texts);
}

static char *
member_name (const char *property)
{
  return g_strdelimit (g_strdup (property), "-", '_');
}

static void
read_enum (SherdReader *self, const char *member, SherdNeed need, GParamSpec *pspec, GValue *value)
{
  GEnumClass *klass = G_PARAM_SPEC_ENUM (pspec)->enum_class;
  const char *nick = sherd_reader_text (self, member, need);
  const GEnumValue *found = nick != NULL ? g_enum_get_value_by_nick (klass, nick) : NULL;
  g_autoptr (GString) choices = g_string_new (NULL);

  if (found != NULL)
    g_value_set_enum (value, found->value);
  if (found != NULL || nick == NULL)
    return;
  for (guint i = 0; i < klass->n_values; i++)
    g_string_append_printf (choices, "%s“%s”", i > 0 ? ", " : "", klass->values[i].value_nick);
  sherd_reader_fail (self, member, _ ("“%s” is not one of %s."), nick, choices->str);
}

static void
read_value (SherdReader *self, const char *member, SherdNeed need, GParamSpec *pspec, GValue *value)
{
  if (G_IS_PARAM_SPEC_STRING (pspec))
    g_value_set_string (value, sherd_reader_text (self, member, need));
  else if (G_IS_PARAM_SPEC_DOUBLE (pspec))
    g_value_set_double (value, sherd_reader_number (self, member, G_PARAM_SPEC_DOUBLE (pspec)->minimum,
                                                    G_PARAM_SPEC_DOUBLE (pspec)->maximum, need));
  else if (G_IS_PARAM_SPEC_UINT (pspec))
    g_value_set_uint (value, (guint)sherd_reader_whole (self, member, G_PARAM_SPEC_UINT (pspec)->minimum,
                                                        G_PARAM_SPEC_UINT (pspec)->maximum, need));
  else if (G_IS_PARAM_SPEC_UINT64 (pspec))
    g_value_set_uint64 (value, (guint64)sherd_reader_whole (self, member, (gint64)G_PARAM_SPEC_UINT64 (pspec)->minimum,
                                                            (gint64)G_PARAM_SPEC_UINT64 (pspec)->maximum, need));
  else if (G_IS_PARAM_SPEC_BOOLEAN (pspec))
    g_value_set_boolean (value, sherd_reader_flag (self, member, need));
  else if (G_IS_PARAM_SPEC_ENUM (pspec))
    read_enum (self, member, need, pspec, value);
  else
    g_return_if_reached ();
}

/**
 * sherd_reader_property:
 * @self: a reader
 * @object: what is being filled
 * @property: text, number, flag or enum among its properties
 * @need: whether the member must be there
 *
 * Reads the member named like the property, with "_" for "-", and sets it. Type and range are those of the property, so
 * they are stated once. When absent, the property keeps its value.
 */
void
sherd_reader_property (SherdReader *self, gpointer object, const char *property, SherdNeed need)
{
  GParamSpec *pspec = g_object_class_find_property (G_OBJECT_GET_CLASS (object), property);
  g_autofree char *member = member_name (property);
  g_auto (GValue) value = G_VALUE_INIT;

  if (!sherd_reader_has (self, member) && need == SHERD_OPTIONAL)
    return;
  g_value_init (&value, pspec->value_type);
  read_value (self, member, need, pspec, &value);
  if (sherd_reader_is_sound (self))
    g_object_set_property (object, property, &value);
}

/**
 * sherd_reader_properties:
 * @self: a reader
 * @object: what is being filled
 * @members: ended by one without a property
 *
 * sherd_reader_property () for each of them.
 */
void
sherd_reader_properties (SherdReader *self, gpointer object, const SherdMember *members)
{
  for (; members->property != NULL; members++)
    sherd_reader_property (self, object, members->property, members->need);
}
