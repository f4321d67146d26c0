/* SPDX-License-Identifier: GPL-3.0-or-later */

/* First bytes as each format's own specification gives them (from memory). The words looked for are what a user must
 * learn: what it is, or what to do. */
#include "config.h"

#include <string.h>

#include <glib.h>

#include "photo/foreign-kind.h"

#define HEAD(bytes) bytes, sizeof bytes - 1

static const struct
{
  const char *name;
  const char *head;
  gsize n_bytes;
  const char *word;
} cases[] = {
  { "digital-negative", HEAD ("II*\0\10\0\0\0\1\0\x12\xC6\1\0\4\0\0\0"), "raw" },
  { "raw-with-tiff-head", HEAD ("II*\0\20\0\0\0CR\2\0"), "raw" },
  { "heif", HEAD ("\0\0\0\30ftypheic\0\0\0\0"), "HEIF" },
  { "heif-sequence", HEAD ("\0\0\0\30ftypmif1\0\0\0\0"), "HEIF" },
  { "film", HEAD ("\0\0\0\30ftypisom\0\0\0\0"), "film" },
  { "web", HEAD ("RIFF\1\2\3\4WEBPVP8 "), "web" },
  { "gif", HEAD ("GIF89a"), "web" },
  { "bitmap", HEAD ("BM\1\2\3\4"), "another kind" },
  { "document", HEAD ("%PDF-1.7\n"), "document" },
  { "archive", HEAD ("PK\3\4\0\0"), "unpack" },
  { "text", HEAD ("Dear reader, this is no picture.\n"), "text" },
  { "text-in-utf-8-cut-within-a-letter", HEAD ("Schwarze Scherbe, Gr\xC3\xB6\xC3"), "text" },
  { "noise", HEAD ("\1\2\3\4\5\6\7\10"), "none of these" },
  { "one-byte", HEAD ("\x89"), "none of these" },
};

static void
test_named (gconstpointer data)
{
  const guint i = GPOINTER_TO_UINT (data);
  g_autofree char *remedy = sherd_foreign_kind_dup_remedy ((const guint8 *)cases[i].head, cases[i].n_bytes);

  g_assert_nonnull (strstr (remedy, cases[i].word));
  g_assert_true (g_str_has_suffix (remedy, "."));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strconcat ("/photo/foreign-kind/named/", cases[i].name, NULL);

      g_test_add_data_func (path, GUINT_TO_POINTER (i), test_named);
    }
  return g_test_run ();
}
