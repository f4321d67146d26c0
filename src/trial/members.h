/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/reader.h"

G_BEGIN_DECLS

/* What the trial file holds, member by member, for reader and writer alike; data/trial.schema.json says the same in
 * words.
 */
#define SHERD_TRIAL_FORMAT "sherdboard-trial"
#define SHERD_TRIAL_FORMAT_VERSION 1

extern const SherdMember sherd_trial_members[];
extern const SherdMember sherd_paint_members[];
extern const SherdMember sherd_piece_members[];
/* Of a tile or disc; other pieces take their size from their form. */
extern const SherdMember sherd_piece_size_members[];
extern const SherdMember sherd_side_members[];
extern const SherdMember sherd_zone_rectangle_members[];
extern const SherdMember sherd_zone_range_members[];
extern const SherdMember sherd_zone_members[];
extern const SherdMember sherd_photograph_members[];
extern const SherdMember sherd_measurement_members[];

/* A field of a plain struct of a measurement. */
typedef enum
{
  SHERD_FIELD_NUMBER,  /* double */
  SHERD_FIELD_NUMBERS, /* n doubles, row after row; null stands for not measured */
  SHERD_FIELD_COUNT,   /* guint */
  SHERD_FIELD_FLAG     /* gboolean */
} SherdFieldKind;

typedef struct
{
  const char *name; /* NULL ends a list of them */
  SherdFieldKind kind;
  gsize offset;
  guint n;
} SherdField;

extern const SherdField sherd_photo_measurement_fields[];
extern const SherdField sherd_correction_fields[];
extern const SherdField sherd_patch_error_fields[];
extern const SherdField sherd_zone_colour_fields[];

/* The words for an enum or for bits, ended by NULL. */
extern const char *const sherd_correction_model_words[];
extern const char *const sherd_zone_flag_words[];

G_END_DECLS
