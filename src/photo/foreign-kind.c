/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/foreign-kind.h"

#include <string.h>

#include <glib/gi18n-lib.h>

/* A kind of file that is not read: its first bytes, and what to tell the user, which completes the sentence “… is”. */
typedef struct
{
  gsize offset;
  const char *bytes;
  gsize n_bytes;
  const char *remedy;
} ForeignKind;

#define RAW                                                                                                            \
  N_ ("a camera raw file: develop it with a raw converter, with nothing made prettier, save a 16-bit PNG and open "    \
      "that.")
#define HEIF                                                                                                           \
  N_ ("a HEIF file: set the camera to save JPEG, or save this one as PNG at full size with an image program, and "     \
      "open that.")
#define MODERN N_ ("a picture of another kind: save it as PNG at full size with an image program and open that.")
#define SMALL N_ ("a picture for web pages: photograph the piece and open the camera's own file.")
#define DOCUMENT N_ ("a document: photograph the piece and open the camera's own file.")

#define SIGNATURE(offset, bytes, remedy)                                                                               \
  {                                                                                                                    \
    offset, bytes, sizeof bytes - 1, remedy                                                                            \
  }

/* Signatures from each format's own specification; the first that fits counts. */
static const ForeignKind foreign_kinds[] = {
  SIGNATURE (0, "IIU\0", RAW),
  SIGNATURE (0, "IIRO", RAW),
  SIGNATURE (0, "IIRS", RAW),
  SIGNATURE (0, "MMOR", RAW),
  SIGNATURE (0, "FUJIFILMCCD-RAW", RAW),
  SIGNATURE (0, "FOVb", RAW),
  SIGNATURE (4, "ftypcrx ", RAW),
  SIGNATURE (4, "ftyphei", HEIF),
  SIGNATURE (4, "ftyphev", HEIF),
  SIGNATURE (4, "ftypmif1", HEIF),
  SIGNATURE (4, "ftypmsf1", HEIF),
  SIGNATURE (4, "ftypavi", MODERN),
  SIGNATURE (4, "ftyp", N_ ("a film: photograph the piece and open the camera's own file.")),
  SIGNATURE (0, "\0\0\0\14JXL ", MODERN),
  SIGNATURE (0, "\xFF\x0A", MODERN),
  SIGNATURE (0, "\0\0\0\14jP  ", MODERN),
  SIGNATURE (0, "\xFF\x4F\xFF\x51", MODERN),
  SIGNATURE (0, "\x76\x2F\x31\x01", MODERN),
  SIGNATURE (0, "8BPS", MODERN),
  SIGNATURE (0, "BM", MODERN),
  SIGNATURE (8, "WEBP", SMALL),
  SIGNATURE (0, "GIF8", SMALL),
  SIGNATURE (0, "%PDF", DOCUMENT),
  SIGNATURE (0, "PK\3\4", N_ ("an archive: unpack it and open the photograph inside.")),
};

/* The tag by which a raw file says that it is one: DNG specification, DNGVersion, 50706. */
#define TAG_DNG_VERSION 50706

static guint32
get_number (const guint8 *data, gsize n_bytes, gboolean little_endian)
{
  guint32 number = 0;

  for (gsize i = 0; i < n_bytes; i++)
    number = number << 8 | data[little_endian ? n_bytes - 1 - i : i];
  return number;
}

/* Looks through the first directory of a TIFF file (TIFF 6.0, section 2) as far as the head of 8 bytes or more holds
 * it. */
static gboolean
is_digital_negative (const guint8 *head, gsize n_bytes)
{
  const gboolean little_endian = head[0] == 'I';
  gsize directory, n_entries;

  directory = get_number (head + 4, 4, little_endian);
  if (directory + 2 > n_bytes)
    return FALSE;
  n_entries = get_number (head + directory, 2, little_endian);
  for (gsize i = 0; i < n_entries && directory + 2 + 12 * i + 2 <= n_bytes; i++)
    if (get_number (head + directory + 2 + 12 * i, 2, little_endian) == TAG_DNG_VERSION)
      return TRUE;
  return FALSE;
}

static gboolean
has_tiff_head (const guint8 *head)
{
  return memcmp (head, "II*", 4) == 0 || memcmp (head, "MM\0*", 4) == 0;
}

/**
 * sherd_foreign_kind_is_raw:
 * @head: the first bytes of a file
 * @n_bytes: how many
 *
 * Tells camera raw files that begin as a TIFF does from other TIFF files, as far as @head shows.
 *
 * Returns: whether it is one of the former
 */
gboolean
sherd_foreign_kind_is_raw (const guint8 *head, gsize n_bytes)
{
  if (n_bytes < 12 || !has_tiff_head (head))
    return FALSE;
  return memcmp (head + 8, "CR\2", 3) == 0 || is_digital_negative (head, n_bytes);
}

/* UTF-8 without control characters. The head may end within a character. */
static gboolean
is_text (const guint8 *head, gsize n_bytes)
{
  const char *valid_end;

  g_utf8_validate ((const char *)head, (gssize)n_bytes, &valid_end);
  for (gsize i = 0; i < n_bytes; i++)
    if (head[i] < ' ' && !g_ascii_isspace (head[i]))
      return FALSE;
  return valid_end > (const char *)head && (const char *)head + n_bytes - valid_end < 4;
}

/**
 * sherd_foreign_kind_dup_remedy:
 * @head: the first bytes of a file that no reader recognises
 * @n_bytes: how many, at least 1
 *
 * Says what such a file is and what to do. The text goes on after “This program reads PNG, JPEG, …; “…” is”.
 *
 * Returns: (transfer full): translated text
 */
char *
sherd_foreign_kind_dup_remedy (const guint8 *head, gsize n_bytes)
{
  if (sherd_foreign_kind_is_raw (head, n_bytes))
    return g_strdup (_ (RAW));
  for (gsize i = 0; i < G_N_ELEMENTS (foreign_kinds); i++)
    {
      const ForeignKind *kind = &foreign_kinds[i];

      if (n_bytes < kind->offset + kind->n_bytes || memcmp (head + kind->offset, kind->bytes, kind->n_bytes) != 0)
        continue;
      return g_strdup (_ (kind->remedy));
    }
  if (is_text (head, n_bytes))
    return g_strdup (_ ("a text. Choose the photograph itself."));
  return g_strdup (_ ("none of these. Choose a photograph, or copy it from the camera again if it is damaged."));
}
