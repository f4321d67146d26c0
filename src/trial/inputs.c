/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/inputs.h"

#include <string.h>

/* Changes when something is added to what is hashed, so that older measurements count as stale. */
#define INPUTS_FORMAT "sherd-inputs-2"

static void
add_count (GChecksum *checksum, guint64 count)
{
  const guint64 bytes = GUINT64_TO_LE (count);

  g_checksum_update (checksum, (const guchar *)&bytes, sizeof bytes);
}

/* Bits instead of decimals: exact, and fast enough to be done after every edit. */
static void
add_number (GChecksum *checksum, double number)
{
  guint64 bits;

  memcpy (&bits, &number, sizeof bits);
  add_count (checksum, bits);
}

/* The length goes before, so that "ab" + "c" is not "a" + "bc". */
static void
add_text (GChecksum *checksum, const char *text)
{
  add_count (checksum, strlen (text));
  g_checksum_update (checksum, (const guchar *)text, -1);
}

static void
add_marks (GChecksum *checksum, const SherdMarks *marks)
{
  add_count (checksum, marks != NULL ? marks->n_marks : 0);
  for (gsize i = 0; marks != NULL && i < marks->n_marks; i++)
    {
      add_number (checksum, marks->marks[i].piece_mm.x);
      add_number (checksum, marks->marks[i].piece_mm.y);
      add_number (checksum, marks->marks[i].photo_px.x);
      add_number (checksum, marks->marks[i].photo_px.y);
    }
}

static void
add_zone (GChecksum *checksum, SherdZone *zone)
{
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);

  add_text (checksum, sherd_part_get_id (SHERD_PART (zone)));
  add_count (checksum, sherd_zone_is_bare (zone));
  add_count (checksum, outline->n_points);
  for (gsize i = 0; i < outline->n_points; i++)
    {
      add_number (checksum, outline->points[i].x);
      add_number (checksum, outline->points[i].y);
    }
}

static void
add_zones (GChecksum *checksum, SherdSide *side)
{
  GListModel *zones = sherd_side_get_zones (side);
  const guint n_zones = g_list_model_get_n_items (zones);

  add_count (checksum, n_zones);
  for (guint i = 0; i < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      add_zone (checksum, zone);
    }
}

static void
add_reference (GChecksum *checksum, SherdReference *reference)
{
  gsize n_patches;
  const SherdReferencePatch *patches = sherd_reference_get_patches (reference, &n_patches);

  add_count (checksum, sherd_reference_get_kind (reference));
  /* Such a reference was once placed by its invented size: what was measured with it then is stale. */
  if (sherd_reference_get_kind (reference) != SHERD_REFERENCE_NONE && !sherd_reference_is_sized (reference))
    add_count (checksum, G_MAXUINT);
  add_count (checksum, n_patches);
  for (gsize i = 0; i < n_patches; i++)
    {
      add_text (checksum, patches[i].name);
      add_number (checksum, patches[i].rectangle_mm.x_mm);
      add_number (checksum, patches[i].rectangle_mm.y_mm);
      add_number (checksum, patches[i].rectangle_mm.width_mm);
      add_number (checksum, patches[i].rectangle_mm.height_mm);
      add_number (checksum, patches[i].lab.l);
      add_number (checksum, patches[i].lab.a);
      add_number (checksum, patches[i].lab.b);
    }
}

/**
 * sherd_inputs_dup_sha256:
 * @photograph: a photograph of a trial
 *
 * Hash of everything that a measurement of it rests on: the picture's own hash, size of the face, marks, zones with
 * their shapes and whether they are bare, the reference, whether the piece was unfired. Names, codes and notes do not
 * count: renaming changes no colour.
 *
 * Returns: (transfer full): 64 hexadecimal digits
 */
char *
sherd_inputs_dup_sha256 (SherdPhotograph *photograph)
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  SherdPiece *piece = sherd_photograph_get_piece (photograph);

  add_text (checksum, INPUTS_FORMAT);
  add_text (checksum, sherd_photograph_get_sha256 (photograph));
  add_number (checksum, sherd_piece_get_width_mm (piece));
  add_number (checksum, sherd_piece_get_height_mm (piece));
  add_marks (checksum, sherd_photograph_get_marks (photograph));
  add_number (checksum, sherd_photograph_get_mark_sd_px (photograph));
  add_zones (checksum, sherd_photograph_get_side (photograph));
  add_reference (checksum, sherd_photograph_get_reference (photograph));
  add_marks (checksum, sherd_photograph_get_reference_marks (photograph));
  add_count (checksum, sherd_photograph_is_unfired (photograph));
  return g_strdup (g_checksum_get_string (checksum));
}
