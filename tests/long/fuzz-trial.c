/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text is a trial that can be written and read again, or ends in an error with a message. */
#include "config.h"

#include "trial/file.h"

int LLVMFuzzerTestOneInput (const guint8 *data, size_t size);

static void
write_and_read_again (SherdTrial *trial)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) again = NULL;
  gsize length;
  g_autofree char *text = sherd_trial_dup_text (trial, &length);
  g_autofree char *second = NULL;

  again = sherd_trial_new_from_text (text, length, "fuzz", &error);
  g_assert_no_error (error);
  g_assert_nonnull (again);
  second = sherd_trial_dup_text (again, NULL);
  g_assert_cmpstr (second, ==, text);
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_trial_new_from_text ((const char *)data, size, "fuzz", &error);

  if (trial != NULL)
    write_and_read_again (trial);
  else
    g_assert_true (error != NULL && error->message[0] != '\0');
  return 0;
}
