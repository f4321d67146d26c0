/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Our choices: beyond them a slip of the pen is likelier than a plan. */
#define MOST_BATCH_G 1e6
#define MOST_AREA_CM2 1e6
#define MOST_COAT_MM 10.0
#define MOST_COATS 100
#define MOST_RESERVE_FRAC 10.0
#define MOST_READABILITY_G 1000.0

static gboolean
lies (double value, double above, double up_to)
{
  return value > above && value <= up_to;
}

static gboolean
check_area (const SherdMixFacts *facts, const SherdBatchRequest *request, GError **error)
{
  if (!lies (request->area_cm2, 0.0, MOST_AREA_CM2))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("The area to be painted is above zero, in cm²."));
  if (!lies (request->coat_mm, 0.0, MOST_COAT_MM))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s",
                         _ ("A dry coat is above 0 and up to 10 mm thick; 0.05 mm is usual."));
  if (!lies (request->coats, 0.0, MOST_COATS))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("There are 1 to 100 coats."));
  if (!(request->reserve_frac >= 0.0 && request->reserve_frac <= MOST_RESERVE_FRAC))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("The reserve lies between 0 % and 1000 %."));
  if (!(request->packing_frac.value >= 0.0 && request->packing_frac.value <= 1.0 && request->packing_frac.u >= 0.0))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s",
                         _ ("The packing of the dry coat lies between 0 % and 100 %."));
  if (!facts->has_density)
    return sherd_refuse (error, SHERD_CHEM_ERROR_DENSITY, "%s",
                         _ ("A batch for an area needs the density of every material. Enter what is missing."));
  return TRUE;
}

static gboolean
check_request (const SherdMixFacts *facts, const SherdBatchRequest *request, GError **error)
{
  if (!(request->readability_g >= 0.0 && request->readability_g <= MOST_READABILITY_G))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("The scale reads to 0.001 g, 0.01 g, 0.1 g …"));
  if (request->way == SHERD_BATCH_BY_TOTAL && !lies (request->total_g, 0.0, MOST_BATCH_G))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("A batch is above zero grams."));
  if (request->way == SHERD_BATCH_BY_AT_HAND && request->part >= facts->shares->len)
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("Choose the ingredient of which so much is at hand."));
  if (request->way == SHERD_BATCH_BY_AT_HAND && !lies (request->at_hand_g, 0.0, MOST_BATCH_G))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("What is at hand is above zero grams."));
  return request->way != SHERD_BATCH_BY_AREA || check_area (facts, request, error);
}

static double
relative (SherdValue value)
{
  return value.value != 0.0 ? value.u / value.value : 0.0;
}

static SherdValue
with_relative_doubt (double value, double relative_u)
{
  return (SherdValue){ value, fabs (value * relative_u) };
}

static SherdValue
share_of (const SherdMixFacts *facts, guint part)
{
  return g_array_index (facts->shares, SherdMixShare, part).mass_frac;
}

static SherdValue
packing_of (const SherdBatchRequest *request)
{
  if (request->packing_frac.value > 0.0)
    return request->packing_frac;
  return (SherdValue){ (SHERD_COAT_PACKING_LEAST + SHERD_COAT_PACKING_MOST) / 2.0,
                       sherd_doubt_of_limits ((SHERD_COAT_PACKING_MOST - SHERD_COAT_PACKING_LEAST) / 2.0) };
}

/* Area × thickness × coats × density of the dry film, and the reserve. */
static SherdValue
total_for_area (const SherdMixFacts *facts, const SherdBatchRequest *request)
{
  const SherdValue packing = packing_of (request);
  const double coat_ml = request->area_cm2 * (request->coat_mm / 10.0) * request->coats;

  return with_relative_doubt (coat_ml * packing.value * facts->particle_g_ml.value * (1.0 + request->reserve_frac),
                              hypot (relative (packing), relative (facts->particle_g_ml)));
}

static SherdValue
total_of (const SherdMixFacts *facts, const SherdBatchRequest *request)
{
  if (request->way == SHERD_BATCH_BY_TOTAL)
    return (SherdValue){ request->total_g, 0.0 };
  if (request->way == SHERD_BATCH_BY_AT_HAND)
    return with_relative_doubt (request->at_hand_g / share_of (facts, request->part).value,
                                relative (share_of (facts, request->part)));
  return total_for_area (facts, request);
}

/* The doubt of shares and that of the total are taken as independent; what is at hand has none. */
static SherdBatchRow
plan_row (SherdValue total, SherdValue share, const SherdBatchRequest *request, gboolean at_hand)
{
  const double u = at_hand ? 0.0 : hypot (relative (total), relative (share));
  SherdBatchRow row = { .exact_g = with_relative_doubt (total.value * share.value, u), .share_frac = share.value };
  const double step = request->readability_g;

  row.weighed_g = step > 0.0 ? step * round (row.exact_g.value / step) : row.exact_g.value;
  return row;
}

static void
plan_rows (SherdBatch *batch, const SherdMixFacts *facts, const SherdBatchRequest *request)
{
  for (guint i = 0; i < facts->shares->len; i++)
    {
      const gboolean at_hand = request->way == SHERD_BATCH_BY_AT_HAND && request->part == i;
      const SherdBatchRow row = plan_row (batch->total_g, share_of (facts, i), request, at_hand);

      g_array_append_val (batch->rows, row);
      batch->weighed_total_g += row.weighed_g;
      if (row.weighed_g <= 0.0 && batch->rounded_away < 0)
        batch->rounded_away = (int)i;
    }
  for (guint i = 0; i < batch->rows->len; i++)
    {
      SherdBatchRow *row = &g_array_index (batch->rows, SherdBatchRow, i);

      row->share_after_frac = batch->weighed_total_g > 0.0 ? row->weighed_g / batch->weighed_total_g : 0.0;
      batch->largest_change_frac = MAX (batch->largest_change_frac, fabs (row->share_after_frac - row->share_frac));
    }
}

static void
plan_binder (SherdBatch *batch, const SherdMix *mix, const SherdBatchRequest *request)
{
  const double share = mix->binder != NULL ? mix->binder_pct / 100.0 : 0.0;

  batch->binder = plan_row (batch->total_g, (SherdValue){ share, 0.0 }, request, FALSE);
  batch->binder.share_after_frac =
    batch->weighed_total_g > 0.0 ? batch->binder.weighed_g / batch->weighed_total_g : 0.0;
}

/**
 * sherd_batch_new:
 * @mix: a mix
 * @facts: its facts
 * @request: how much of it
 * @error: SHERD_CHEM_ERROR_VALUE or _DENSITY
 *
 * Plans grams to weigh: so many in total, as many as what is at hand of one part allows, or as many as an area takes.
 *
 * Returns: (transfer full) (nullable): the batch
 */
SherdBatch *
sherd_batch_new (const SherdMix *mix, const SherdMixFacts *facts, const SherdBatchRequest *request, GError **error)
{
  SherdBatch *batch;

  g_return_val_if_fail (mix->parts->len == facts->shares->len, NULL);
  if (!check_request (facts, request, error))
    return NULL;
  batch = g_new0 (SherdBatch, 1);
  batch->rows = g_array_new (FALSE, FALSE, sizeof (SherdBatchRow));
  batch->rounded_away = -1;
  batch->total_g = total_of (facts, request);
  batch->water_g = with_relative_doubt (batch->total_g.value * mix->water_pct / 100.0, relative (batch->total_g));
  plan_rows (batch, facts, request);
  plan_binder (batch, mix, request);
  return batch;
}

void
sherd_batch_free (SherdBatch *batch)
{
  if (batch == NULL)
    return;
  g_array_unref (batch->rows);
  g_free (batch);
}

/**
 * sherd_batch_to_mix:
 * @batch: a batch of @mix
 * @mix: the mix it was planned from
 *
 * What is on the scale's pan after rounding, so that its facts can be compared with those planned. A part that was
 * rounded away is not in it.
 *
 * Returns: (transfer full): by mass, in grams; it borrows the same substances and mixes
 */
SherdMix *
sherd_batch_to_mix (const SherdBatch *batch, const SherdMix *mix)
{
  SherdMix *weighed = sherd_mix_new (SHERD_MIX_BY_MASS);

  for (guint i = 0; i < batch->rows->len; i++)
    {
      const SherdBatchRow *row = &g_array_index (batch->rows, SherdBatchRow, i);
      SherdMixPart part = g_array_index (mix->parts, SherdMixPart, i);

      part.parts = (SherdValue){ row->weighed_g, -1.0 };
      if (row->weighed_g > 0.0)
        g_array_append_val (weighed->parts, part);
    }
  sherd_mix_set_binder (weighed, mix->binder, MIN (100.0, 100.0 * batch->binder.share_after_frac));
  weighed->water_pct = mix->water_pct;
  return weighed;
}
