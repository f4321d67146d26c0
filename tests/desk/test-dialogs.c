/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a file is saved as, when a name was typed. */
#include "config.h"

#include "desk/dialogs.h"

static void
assert_tidy (const char *typed, const char *expected)
{
  g_autofree char *tidy = sherd_dialog_tidy_name (typed, ".pdf");

  g_assert_cmpstr (tidy, ==, expected);
}

static void
test_an_ending_stands_once (void)
{
  assert_tidy ("mine.pdf.pdf", "mine.pdf");
  assert_tidy ("file:///trials/mine.pdf.pdf.pdf", "file:///trials/mine.pdf");
  assert_tidy ("mine.pdf", "mine.pdf");
  assert_tidy (".pdf.pdf", ".pdf");
}

static void
test_a_name_without_ending_gets_one (void)
{
  assert_tidy ("mine", "mine.pdf");
  assert_tidy ("/trials.d/mine", "/trials.d/mine.pdf");
}

static void
test_another_ending_is_kept (void)
{
  assert_tidy ("mine.txt", "mine.txt");
  assert_tidy ("mine.pdf.txt", "mine.pdf.txt");
  assert_tidy ("minepdf.pd", "minepdf.pd");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/desk/dialogs/an ending stands once", test_an_ending_stands_once);
  g_test_add_func ("/desk/dialogs/a name without ending gets one", test_a_name_without_ending_gets_one);
  g_test_add_func ("/desk/dialogs/another ending is kept", test_another_ending_is_kept);
  return g_test_run ();
}
