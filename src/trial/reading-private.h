/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/reader.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* What the parts of reading a trial share. */
typedef struct
{
  SherdReader *reader;
  SherdTrial *trial;
  GHashTable *zone_ids; /* of the whole trial */
} SherdReading;

/* Our choice: a generous bound that no real trial reaches; the file's size is bounded as well. */
#define SHERD_READING_MAX_ITEMS 100000u

/* (transfer full): an empty set of texts */
GHashTable *sherd_reading_new_name_set (void);
void sherd_reading_id (const SherdReading *reading, SherdPart *part, GHashTable *ids);
void sherd_reading_code (const SherdReading *reading, const char *code, GHashTable *codes);
void sherd_reading_leave_part (const SherdReading *reading, gpointer part, GListModel *list);

void sherd_reading_materials (const SherdReading *reading);
void sherd_reading_paints (const SherdReading *reading);
void sherd_reading_pieces (const SherdReading *reading);

G_END_DECLS
