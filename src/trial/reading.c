/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/reading-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "trial/code.h"

#define MAX_ID_BYTES 200u

/**
 * sherd_reading_new_name_set:
 *
 * Returns: (transfer full): an empty set of texts
 */
GHashTable *
sherd_reading_new_name_set (void)
{
  return g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

/**
 * sherd_reading_id:
 * @reading: at the object of a part
 * @part: gets its id
 * @ids: those of its kind so far
 */
void
sherd_reading_id (const SherdReading *reading, SherdPart *part, GHashTable *ids)
{
  const char *id = sherd_reader_text (reading->reader, "id", SHERD_REQUIRED);

  if (id == NULL)
    return;
  if (*id == '\0' || strlen (id) > MAX_ID_BYTES)
    sherd_reader_fail (reading->reader, "id", _ ("an id must have 1 to %u bytes."), MAX_ID_BYTES);
  else if (!g_hash_table_add (ids, g_strdup (id)))
    sherd_reader_fail (reading->reader, "id", _ ("the id “%s” is used twice."), id);
  else
    sherd_part_set_id (part, id);
}

/**
 * sherd_reading_code:
 * @reading: at the object of a part
 * @code: its code
 * @codes: those that it must differ from
 */
void
sherd_reading_code (const SherdReading *reading, const char *code, GHashTable *codes)
{
  g_autoptr (GError) problem = NULL;

  if (!sherd_reader_is_sound (reading->reader))
    return;
  if (!sherd_code_check (code, &problem))
    sherd_reader_fail (reading->reader, "code", "%s", problem->message);
  else if (!g_hash_table_add (codes, g_strdup (code)))
    sherd_reader_fail (reading->reader, "code", _ ("the code “%s” is used twice."), code);
}

/**
 * sherd_reading_leave_part:
 * @reading: at the object of a part
 * @part: the part, read
 * @list: gets the part
 */
void
sherd_reading_leave_part (const SherdReading *reading, gpointer part, GListModel *list)
{
  sherd_part_set_unknown (SHERD_PART (part), sherd_reader_leave (reading->reader));
  if (sherd_reader_is_sound (reading->reader))
    g_list_store_append (G_LIST_STORE (list), part);
}
