/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/error.h"

G_BEGIN_DECLS

/* Where in a text something is wrong. */
typedef struct
{
  gsize byte;      /* from 0 */
  gsize character; /* from 0; a “·” is one character of two bytes */
} SherdTextPlace;

/* A text that is being read, and where its refusal goes. */
typedef struct
{
  const char *text;      /* UTF-8 */
  const char *what;      /* what it is, for users */
  SherdChemError code;   /* of every refusal */
  SherdTextPlace *place; /* (nullable) */
  GError **error;
} SherdTextReading;

gboolean sherd_refuse (GError **error, SherdChemError code, const char *format, ...) G_GNUC_PRINTF (3, 4);
gboolean sherd_refuse_at (const SherdTextReading *reading, const char *where, const char *format, ...)
  G_GNUC_PRINTF (3, 4);

G_END_DECLS
