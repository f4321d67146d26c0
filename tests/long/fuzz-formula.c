/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text is a formula and an analysis with finite, balanced masses, or ends in an error that points into the text. */
#include "config.h"

#include "chem/yield.h"

#include <math.h>
#include <string.h>

int LLVMFuzzerInitialize (int *argc, char ***argv);
int LLVMFuzzerTestOneInput (const guint8 *data, size_t size);

/* Sums of up to a million atoms of each element, each rounded to 1e-16. */
#define ROUNDING 1e-9

static void
check_balance (const SherdSubstance *substance)
{
  double weights[SHERD_N_ATOMIC_NUMBERS];
  g_autofree double *scores = g_new0 (double, sherd_substance_count_scores (substance));
  SherdGram gram;
  double in_g, out_g;

  sherd_element_weights (weights);
  sherd_substance_fire_gram (substance, weights, scores, &gram);
  in_g = 1.0 + gram.firing.oxygen_taken_mol * weights[SHERD_OXYGEN];
  out_g = sherd_oxides_mass_g (&gram.firing.oxides, weights) + sherd_atoms_mass_g (&gram.firing.leaving, weights) +
          gram.ignition_frac;
  g_assert_true (fabs (in_g - out_g) <= ROUNDING * in_g);
}

static void
check_yield (const SherdSubstance *substance)
{
  SherdYield yield;

  check_balance (substance);
  g_assert_true (sherd_substance_get_yield (substance, &yield, NULL));
  g_assert_true (isfinite (yield.lost_frac.value) && isfinite (yield.lost_frac.u));
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    g_assert_true (yield.oxide_frac[oxide].value >= 0.0 && isfinite (yield.oxide_frac[oxide].u));
}

static void
check_error (const GError *error, const SherdTextPlace *place, size_t size)
{
  g_assert_true (error != NULL && error->message[0] != '\0');
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
  g_assert_cmpuint (place->byte, <=, size);
  g_assert_cmpuint (place->character, <=, place->byte);
}

static void
read_formula (const char *text, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdSubstance) substance = sherd_substance_new (NULL, NULL, SHERD_SUBSTANCE_COLOURANT);
  SherdTextPlace place;
  g_autoptr (SherdFormula) formula = sherd_formula_new (text, (gssize)size, &place, &error);

  if (formula == NULL)
    {
      check_error (error, &place, size);
      return;
    }
  g_assert_true (isfinite (sherd_formula_molar_mass (formula).u) && sherd_formula_molar_mass (formula).value > 0.0);
  if (sherd_substance_set_formula (substance, text, NULL, NULL))
    check_yield (substance);
}

static void
read_analysis (const char *text, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdSubstance) substance = sherd_substance_new (NULL, NULL, SHERD_SUBSTANCE_COLOURANT);
  g_autofree char *again = NULL;
  SherdTextPlace place;

  if (!sherd_substance_set_analysis (substance, text, &place, &error))
    {
      check_error (error, &place, size);
      return;
    }
  check_yield (substance);
  again = sherd_substance_dup_analysis (substance);
  g_assert_true (sherd_substance_set_analysis (substance, again, NULL, NULL));
}

int
LLVMFuzzerInitialize (int *argc, char ***argv)
{
  g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
  return 0;
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  g_autofree char *text = g_strndup ((const char *)data, size);

  read_formula (text, strlen (text));
  read_analysis (text, strlen (text));
  return 0;
}
