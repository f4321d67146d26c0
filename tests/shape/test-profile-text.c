/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Texts written by hand. */

#include "config.h"

#include "shape/profile-text.h"

#include <string.h>

static const SherdProfilePoint TRUTH[] = { { 30, 0, TRUE }, { 45.5, 20.25, FALSE }, { 50, 60, FALSE } };

static const char *const GOOD[] = {
  "30,0,corner\n45.5,20.25\n50,60\n",
  "r_mm,z_mm,corner\n30,0,1\n45.5,20.25,\n50,60,0\n",
  "\xef\xbb\xbfradius;height;corner\r\n30;0;corner\r\n45,5;20,25;\r\n50;60;\r\n",
  "# a bowl\n\n30\t0\tcorner\n45.5\t20.25\n50\t60",
  "diameter,height\n60,0,Corner\n91,20.25\n100,60\n",
};

static void
assert_truth (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) points = sherd_profile_points_from_text (text, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (points->len, ==, G_N_ELEMENTS (TRUTH));
  for (guint i = 0; i < points->len; i++)
    {
      const SherdProfilePoint *point = &g_array_index (points, SherdProfilePoint, i);

      g_assert_cmpfloat (point->r_mm, ==, TRUTH[i].r_mm);
      g_assert_cmpfloat (point->z_mm, ==, TRUTH[i].z_mm);
      g_assert_cmpint (point->corner, ==, TRUTH[i].corner);
    }
}

static void
test_reads_what_spreadsheets_write (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (GOOD); i++)
    assert_truth (GOOD[i]);
}

static void
test_reads_what_it_wrote (void)
{
  g_autofree char *text = sherd_profile_points_to_text (TRUTH, G_N_ELEMENTS (TRUTH));

  assert_truth (text);
}

typedef struct
{
  const char *text;
  const char *words;
} Refusal;

static const Refusal REFUSALS[] = {
  { "", "line 1" },
  { "r,z\n30,0\n40,high\n", "line 3: “high”" },
  { "30,0\n\n40,5,6,7\n", "line 3" },
  { "30,0\n40\n", "line 2" },
  { "30,0\n40,5,round\n", "line 2: “round”" },
  { "r,z\n30,0\n# note\n-4,5\n", "line 4" },
  { "r,z\nr,z\n30,0\n", "line 2" },
  { "30,0\n40,1e999\n", "line 2" },
};

static void
test_names_the_line_that_is_wrong (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (REFUSALS); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (sherd_profile_points_from_text (REFUSALS[i].text, &error));
      g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_TEXT);
      g_assert_nonnull (strstr (error->message, REFUSALS[i].words));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/profile-text/reads-what-spreadsheets-write", test_reads_what_spreadsheets_write);
  g_test_add_func ("/shape/profile-text/reads-what-it-wrote", test_reads_what_it_wrote);
  g_test_add_func ("/shape/profile-text/names-the-line-that-is-wrong", test_names_the_line_that_is_wrong);
  return g_test_run ();
}
