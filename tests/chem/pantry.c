/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "pantry.h"

SherdSubstance *
pantry_new (const char *formula, SherdSubstanceKind kind, double particle_g_ml)
{
  g_autoptr (GError) error = NULL;
  SherdSubstance *substance = sherd_substance_new (formula, formula, kind);

  sherd_substance_set_formula (substance, formula, NULL, &error);
  g_assert_no_error (error);
  substance->particle_g_ml.value = particle_g_ml;
  return substance;
}

SherdSubstance *
pantry_new_from_analysis (const char *text, SherdSubstanceKind kind, double particle_g_ml)
{
  g_autoptr (GError) error = NULL;
  SherdSubstance *substance = sherd_substance_new (NULL, text, kind);

  sherd_substance_set_analysis (substance, text, NULL, &error);
  g_assert_no_error (error);
  substance->particle_g_ml.value = particle_g_ml;
  return substance;
}
