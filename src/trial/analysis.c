/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/analysis.h"

#include "trial/part-private.h"

/* Not G_DEFINE_BOXED_TYPE: it is no ISO C. */
GType
sherd_analysis_get_type (void)
{
  static gsize type = 0;

  if (g_once_init_enter (&type))
    g_once_init_leave (&type, g_boxed_type_register_static (g_intern_static_string ("SherdAnalysis"),
                                                            (GBoxedCopyFunc)sherd_analysis_copy,
                                                            (GBoxedFreeFunc)sherd_analysis_free));
  return type;
}

/**
 * sherd_analysis_new:
 *
 * Returns: (transfer full): an analysis that has found nothing
 */
SherdAnalysis *
sherd_analysis_new (void)
{
  return g_new0 (SherdAnalysis, 1);
}

/**
 * sherd_analysis_add:
 * @analysis: an analysis being made
 * @oxide: formula of the oxide
 * @pct: its share by mass, per cent
 * @doubt_pct: standard uncertainty of it, per cent of the whole; NAN where none was given
 * @unknown: (nullable) (transfer full): members of the file that this program does not know
 */
void
sherd_analysis_add (SherdAnalysis *analysis, const char *oxide, double pct, double doubt_pct, JsonObject *unknown)
{
  analysis->oxides = g_renew (SherdOxideShare, analysis->oxides, analysis->n_oxides + 1);
  analysis->oxides[analysis->n_oxides++] =
    (SherdOxideShare){ .oxide = g_strdup (oxide), .pct = pct, .doubt_pct = doubt_pct, .unknown = unknown };
}

/**
 * sherd_analysis_copy:
 * @analysis: an analysis
 *
 * Returns: (transfer full): the same analysis
 */
SherdAnalysis *
sherd_analysis_copy (const SherdAnalysis *analysis)
{
  SherdAnalysis *copy = sherd_analysis_new ();

  for (gsize i = 0; i < analysis->n_oxides; i++)
    {
      const SherdOxideShare *share = &analysis->oxides[i];

      sherd_analysis_add (copy, share->oxide, share->pct, share->doubt_pct,
                          share->unknown != NULL ? json_object_ref (share->unknown) : NULL);
    }
  return copy;
}

/**
 * sherd_analysis_free:
 * @analysis: (transfer full): an analysis
 */
void
sherd_analysis_free (SherdAnalysis *analysis)
{
  for (gsize i = 0; i < analysis->n_oxides; i++)
    {
      g_free (analysis->oxides[i].oxide);
      g_clear_pointer (&analysis->oxides[i].unknown, json_object_unref);
    }
  g_free (analysis->oxides);
  g_free (analysis);
}

/**
 * sherd_analysis_equal:
 * @first: (nullable): an analysis
 * @second: (nullable): another
 *
 * Returns: whether both say the same oxides in the same order
 */
gboolean
sherd_analysis_equal (const SherdAnalysis *first, const SherdAnalysis *second)
{
  if (first == NULL || second == NULL)
    return first == second;
  if (first->n_oxides != second->n_oxides)
    return FALSE;
  for (gsize i = 0; i < first->n_oxides; i++)
    if (!g_str_equal (first->oxides[i].oxide, second->oxides[i].oxide) ||
        first->oxides[i].pct != second->oxides[i].pct ||
        !sherd_part_same_number (first->oxides[i].doubt_pct, second->oxides[i].doubt_pct))
      return FALSE;
  return TRUE;
}
