/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text is a table of materials that can be mixed, and a table of low-melting systems by which an outlook is finite,
 * or ends in an error with a message. */
#include "config.h"

#include "chem/melt.h"
#include "chem/substance-table.h"

#include <math.h>

int LLVMFuzzerInitialize (int *argc, char ***argv);
int LLVMFuzzerTestOneInput (const guint8 *data, size_t size);

/* Our choice: more cost time and show nothing new. */
#define MOST_PARTS 8u

static SherdMixFacts *
mix_all (const SherdSubstanceTable *table)
{
  g_autoptr (SherdMix) mix = sherd_mix_new (SHERD_MIX_BY_VOLUME);
  g_autoptr (GError) error = NULL;
  SherdMixFacts *facts;

  for (guint i = 0; i < MIN (table->substances->len, MOST_PARTS); i++)
    sherd_mix_add (mix, g_ptr_array_index (table->substances, i), 1.0 + i);
  facts = sherd_mix_facts_new (mix, NULL, &error);
  g_assert_no_error (error);
  return facts;
}

static void
check_outlook (const SherdMixFacts *facts, const GPtrArray *systems)
{
  const SherdMeltHeat heat = { TRUE, { 800.0, 25.0 }, 15.0 };
  SherdMeltOutlook outlook;

  sherd_melt_outlook (facts, &heat, systems, &outlook);
  g_assert_true (!outlook.has_begin || (isfinite (outlook.begin_c.low) && outlook.begin_c.low <= outlook.begin_c.high));
  g_assert_true (!outlook.has_complete ||
                 (isfinite (outlook.complete_c.high) && outlook.complete_c.low <= outlook.complete_c.high));
}

static void
read_materials (const char *text, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdSubstanceTable) table = sherd_substance_table_new (text, (gssize)size, &error);
  g_autoptr (GPtrArray) systems = sherd_phase_systems_new_built_in ();
  g_autoptr (SherdMixFacts) facts = NULL;

  g_assert_nonnull (systems);
  if (table == NULL)
    {
      g_assert_true (error != NULL && error->message[0] != '\0');
      return;
    }
  if (table->substances->len == 0)
    return;
  facts = mix_all (table);
  check_outlook (facts, systems);
}

static void
read_systems (const char *text, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) systems = sherd_phase_systems_new (text, (gssize)size, &error);
  g_autoptr (SherdSubstance) lead = sherd_substance_new (NULL, NULL, SHERD_SUBSTANCE_FLUX);
  g_autoptr (SherdSubstance) silica = sherd_substance_new (NULL, NULL, SHERD_SUBSTANCE_FILLER);
  g_autoptr (SherdMix) mix = sherd_mix_new (SHERD_MIX_BY_MASS);
  g_autoptr (SherdMixFacts) facts = NULL;

  if (systems == NULL)
    {
      g_assert_true (error != NULL && error->message[0] != '\0');
      return;
    }
  sherd_substance_set_formula (lead, "PbO", NULL, NULL);
  sherd_substance_set_formula (silica, "SiO2", NULL, NULL);
  sherd_mix_add (mix, lead, 7.0);
  sherd_mix_add (mix, silica, 3.0);
  facts = sherd_mix_facts_new (mix, NULL, NULL);
  check_outlook (facts, systems);
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
  read_materials ((const char *)data, size);
  read_systems ((const char *)data, size);
  return 0;
}
