/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When a paint can be expected to melt, from equilibrium data: a lower bound for what a short fire does, not a
 * prediction. */
#include "config.h"

#include "chem/melt.h"

#include <math.h>
#include <string.h>

/* Our choice: less liquid than this share of the moles neither binds nor glazes; below the second it is remarked. */
#define ENOUGH_LIQUID_FRAC 0.10
#define MUCH_LIQUID_FRAC 0.30

/* From these shares of the moles alumina and boron count, and other oxides put the mix outside a system (our choice).
 */
#define SOME_FRAC 0.01
#define MUCH_OTHER_FRAC 0.25

/* Our choice: a doubt of composition that is wider than the gaps between the published points. */
#define WIDE_PLACE_FRAC 0.05

/* Sulphide roasts through lanarkite, PbO·PbSO4: galena and silica melt hotter than litharge and silica of the same
 * composition (Di Febo et al. 2018, J. Am. Ceram. Soc. 101:2119), by 50 to 100 °C (from memory). */
#define SULPHUR_LEAST_C 50.0
#define SULPHUR_MOST_C 100.0

/* Before the main oxidation of galena, its first peak at 730 ± 15 °C, hardly any lead is free (J. Therm. Anal. Calorim.
 * 2006, doi 10.1007/s10973-005-6785-6). */
#define SULPHIDE_OXIDISES_C (730.0 - 15.0)

/* Heat work: rates follow exp (-E / RT). No single E is right for sintering and glass spread; 200 to 600 kJ/mol is
 * allowed for (common practice, no source), the lowest of which gives time the most weight. */
#define LEAST_ACTIVATION_J_MOL 200e3
#define GAS_CONSTANT_J_MOL_K 8.314462618
#define KELVIN 273.15
#define AN_HOUR_MIN 60.0

/* Our choices: a firing beyond them counts as not given. */
#define HOTTEST_C 2000.0
#define LONGEST_MIN 1e5

/* Where no time is known: a common outdoor peak (common practice, no source). */
#define USUAL_MINUTES 10.0

#define LEAD_SYSTEM "PbO-SiO2"

typedef struct
{
  const SherdMixFacts *facts;
  const GPtrArray *systems;
  SherdMeltOutlook *outlook;
  double sum_mol;
  double tied_frac;   /* of the lead, that sulphur can hold as sulphate */
  double most_liquid; /* share of the moles, in the best of the systems */
} Work;

static double
mol_frac (const Work *work, SherdOxide oxide)
{
  return work->facts->fired.mol[oxide] / work->sum_mol;
}

/* One sulphur holds one lead as PbSO4 at most. */
static double
lead_tied_by_sulphur (const SherdMixFacts *facts)
{
  const SherdAtoms dioxide = { .count = { [SHERD_SULPHUR] = 1, [SHERD_OXYGEN] = 2 } };
  const double sulphur_mol = facts->sulphur_dioxide_frac.value / sherd_atoms_molar_mass (&dioxide).value;
  const double lead_mol = facts->fired.mol[SHERD_OXIDE_PBO];

  return lead_mol > 0.0 ? MIN (1.0, sulphur_mol / lead_mol) : 0.0;
}

/* Begin: from the lowest point that some of the mix can reach to the temperature at which the whole must have liquid.
 */

static void
lower_begin (SherdMeltOutlook *outlook, double low_c, double high_c)
{
  if (!outlook->has_begin)
    outlook->begin_c = (SherdBounds){ INFINITY, INFINITY };
  outlook->has_begin = TRUE;
  outlook->begin_c.low = MIN (outlook->begin_c.low, low_c);
  outlook->begin_c.high = MIN (outlook->begin_c.high, high_c);
}

static gboolean
is_one_oxide_of_several (const SherdPhaseSystem *system, const SherdPhasePoint *point)
{
  return system->n_oxides > 1 && point->is_placed &&
         (point->mol_frac[0] >= 1.0 || point->mol_frac[1] >= 1.0 || point->mol_frac[2] >= 1.0);
}

/* @most: (inout): liquid that the system can make of the mix. Grains that touch pass through every composition between
 * them, so every point of the system counts for the earliest beginning. */
static gboolean
range_of_system (const Work *work, const SherdPhaseSystem *system, SherdBounds *range_c, double *most)
{
  *range_c = (SherdBounds){ INFINITY, 0.0 };
  for (guint i = 0; i < system->points->len; i++)
    {
      const SherdPhasePoint *point = &g_array_index (system->points, SherdPhasePoint, i);
      const double liquid = sherd_phase_most_liquid_frac (system, point, &work->facts->fired);

      if (liquid < ENOUGH_LIQUID_FRAC || point->kind == SHERD_PHASE_LIQUIDUS || is_one_oxide_of_several (system, point))
        continue;
      *most = MAX (*most, liquid);
      range_c->low = MIN (range_c->low, point->temperature_c - point->limit_c);
      range_c->high = MAX (range_c->high, point->temperature_c + point->limit_c);
    }
  if (system->has_liquidus && isfinite (range_c->low))
    {
      const double first = work->facts->fired.mol[system->oxides[0]],
                   second = work->facts->fired.mol[system->oxides[1]];
      double limit_c;

      range_c->high = sherd_phase_solidus_c (system, first / (first + second), &limit_c);
      range_c->high += limit_c;
    }
  return isfinite (range_c->low);
}

static gboolean
has_all (const Work *work, const SherdPhaseSystem *system)
{
  for (guint i = 0; i < system->n_oxides; i++)
    if (mol_frac (work, system->oxides[i]) < SOME_FRAC)
      return FALSE;
  return TRUE;
}

/* An oxide alone, and the lowest liquid ever met in a system, bound the beginning from below only: the oxide is rarely
 * free, and that liquid's composition is not known. */
static void
find_begin (Work *work)
{
  for (guint i = 0; i < work->systems->len; i++)
    {
      const SherdPhaseSystem *system = g_ptr_array_index (work->systems, i);
      SherdBounds range_c;
      double most = 0.0;

      if (!has_all (work, system) || !range_of_system (work, system, &range_c, &most))
        continue;
      work->most_liquid = MAX (work->most_liquid, most);
      lower_begin (work->outlook, range_c.low, system->n_oxides == 1 || system->is_bound ? INFINITY : range_c.high);
    }
  if (work->outlook->has_begin && !isfinite (work->outlook->begin_c.high))
    work->outlook->has_begin = FALSE;
}

/* Lead without silica melts alone at the latest, and takes silica from the body at the earliest. */
static void
look_for_silica (Work *work, const SherdPhaseSystem *lead_silica)
{
  const SherdPhasePoint *lead = &g_array_index (lead_silica->points, SherdPhasePoint, 0);
  double lowest_c = INFINITY;

  if (mol_frac (work, SHERD_OXIDE_PBO) < ENOUGH_LIQUID_FRAC || mol_frac (work, SHERD_OXIDE_SIO2) >= SOME_FRAC)
    return;
  work->outlook->reasons |= SHERD_MELT_NO_SILICA;
  for (guint i = 0; i < lead_silica->points->len; i++)
    lowest_c = MIN (lowest_c, g_array_index (lead_silica->points, SherdPhasePoint, i).temperature_c);
  lower_begin (work->outlook, lowest_c, lead->temperature_c + lead->limit_c);
  work->most_liquid = MAX (work->most_liquid, mol_frac (work, SHERD_OXIDE_PBO));
}

/* Complete: the liquidus of the system, under every reading of the oxides that are not in it. */

enum
{
  COUNT_ALUMINIUM = 1 << 0, /* as silicon, whose place it takes in the glass */
  COUNT_FLUXES = 1 << 1,    /* as lead */
  COUNT_COLOURS = 1 << 2,   /* copper, manganese, cobalt, as lead */
  N_READINGS = 1 << 3
};

static double
place_of (const SherdOxides *oxides, guint reading)
{
  double lead = oxides->mol[SHERD_OXIDE_PBO], silica = oxides->mol[SHERD_OXIDE_SIO2];

  if (reading & COUNT_ALUMINIUM)
    silica += 2.0 * oxides->mol[SHERD_OXIDE_AL2O3];
  for (guint oxide = 0; oxide < SHERD_N_OXIDES && (reading & COUNT_FLUXES); oxide++)
    lead += sherd_oxide_is_flux (oxide) && oxide != SHERD_OXIDE_PBO ? oxides->mol[oxide] : 0.0;
  if (reading & COUNT_COLOURS)
    lead += oxides->mol[SHERD_OXIDE_CUO] + 2.0 * oxides->mol[SHERD_OXIDE_MN2O3] + 3.0 * oxides->mol[SHERD_OXIDE_CO3O4];
  return lead / (lead + silica);
}

static SherdOxides
moved_oxides (const SherdOxides *oxides, const SherdOxides *change, double times)
{
  SherdOxides moved;

  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    moved.mol[oxide] = MAX (0.0, oxides->mol[oxide] + times * change->mol[oxide]);
  return moved;
}

static SherdValue
place_with_doubt (const SherdMixFacts *facts, guint reading)
{
  SherdValue place = { place_of (&facts->fired, reading), 0.0 };

  for (guint i = 0; i < facts->fired_doubts->len; i++)
    {
      const SherdOxides *change = &g_array_index (facts->fired_doubts, SherdOxides, i);
      const SherdOxides more = moved_oxides (&facts->fired, change, 1.0);
      const SherdOxides less = moved_oxides (&facts->fired, change, -1.0);

      place.u = hypot (place.u, (place_of (&more, reading) - place_of (&less, reading)) / 2.0);
    }
  return place;
}

static void
widen (SherdBounds *range, double low, double high)
{
  range->low = MIN (range->low, low);
  range->high = MAX (range->high, high);
}

/* The liquidus over a range of compositions: its ends, and every published point between. */
static void
widen_by_liquidus (const SherdPhaseSystem *system, const SherdBounds *place, SherdBounds *complete_c)
{
  const double ends[] = { place->low, place->high };

  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      double limit_c;
      const double liquidus_c = sherd_phase_liquidus_c (system, ends[i], &limit_c);

      widen (complete_c, liquidus_c - limit_c, liquidus_c + limit_c);
    }
  for (guint i = 0; i < system->points->len; i++)
    {
      const SherdPhasePoint *point = &g_array_index (system->points, SherdPhasePoint, i);

      if (point->mol_frac[0] > place->low && point->mol_frac[0] < place->high)
        widen (complete_c, point->temperature_c - point->limit_c, point->temperature_c + point->limit_c);
    }
}

static void
find_place (const Work *work, const SherdPhaseSystem *system)
{
  SherdMeltOutlook *outlook = work->outlook;
  const SherdValue place = place_with_doubt (work->facts, 0);
  double limit_c;

  g_strlcpy (outlook->system, system->name, sizeof outlook->system);
  outlook->place_frac = place.value;
  outlook->place_range_frac =
    (SherdBounds){ MAX (0.0, place.value - 2.0 * place.u), MIN (1.0, place.value + 2.0 * place.u) };
  sherd_phase_liquidus_c (system, place.value, &limit_c);
  if (limit_c >= 20.0)
    outlook->reasons |= SHERD_MELT_ESTIMATED;
  if (2.0 * place.u > WIDE_PLACE_FRAC)
    outlook->reasons |= SHERD_MELT_COMPOSITION;
}

static void
find_complete (Work *work, const SherdPhaseSystem *system)
{
  SherdMeltOutlook *outlook = work->outlook;

  find_place (work, system);
  if (outlook->reasons & SHERD_MELT_TOO_MUCH_ALUMINA)
    return;
  outlook->has_complete = TRUE;
  outlook->complete_c = (SherdBounds){ INFINITY, -INFINITY };
  for (guint reading = 0; reading < N_READINGS; reading++)
    {
      const SherdValue place = place_with_doubt (work->facts, reading);
      const SherdBounds range = { MAX (0.0, place.value - 2.0 * place.u), MIN (1.0, place.value + 2.0 * place.u) };

      widen_by_liquidus (system, &range, &outlook->complete_c);
    }
  if (outlook->reasons & SHERD_MELT_BORATE)
    outlook->complete_c.low = MIN (outlook->complete_c.low, outlook->begin_c.high);
}

static gboolean
is_in_system (const Work *work, const SherdPhaseSystem *system)
{
  SherdBounds range_c;
  double most = 0.0;

  return has_all (work, system) && range_of_system (work, system, &range_c, &most);
}

/* What widens the ranges or shifts them. */

static double
flux_mol (const SherdMixFacts *facts)
{
  double mol = 0.0;

  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    mol += sherd_oxide_is_flux (oxide) ? facts->fired.mol[oxide] : 0.0;
  return mol;
}

/* One flux balances one Al2O3 in the glass's network; alumina beyond that stays a solid that no diagram here has. */
static void
look_at_composition (Work *work)
{
  SherdMeltOutlook *outlook = work->outlook;
  const double known =
    mol_frac (work, SHERD_OXIDE_PBO) + mol_frac (work, SHERD_OXIDE_SIO2) + mol_frac (work, SHERD_OXIDE_AL2O3);

  if (mol_frac (work, SHERD_OXIDE_AL2O3) > SOME_FRAC)
    outlook->reasons |= SHERD_MELT_ALUMINA;
  if (outlook->has_begin && work->facts->fired.mol[SHERD_OXIDE_AL2O3] > flux_mol (work->facts))
    outlook->reasons |= SHERD_MELT_TOO_MUCH_ALUMINA;
  if (mol_frac (work, SHERD_OXIDE_B2O3) > SOME_FRAC)
    outlook->reasons |= SHERD_MELT_BORATE;
  if (outlook->has_begin && 1.0 - known > MUCH_OTHER_FRAC)
    outlook->reasons |= SHERD_MELT_OUTSIDE_SYSTEM;
}

/* Lead that no sulphur holds melts first, if there is enough of it. */
static void
roast (Work *work)
{
  SherdMeltOutlook *outlook = work->outlook;
  const double tied = work->tied_frac;
  const gboolean enough_free = (1.0 - tied) * work->most_liquid >= ENOUGH_LIQUID_FRAC;

  if (tied * mol_frac (work, SHERD_OXIDE_PBO) < SOME_FRAC || !outlook->has_begin)
    return;
  outlook->reasons |= SHERD_MELT_SULPHUR;
  if (!enough_free)
    outlook->begin_c.low = MAX (outlook->begin_c.low + tied * SULPHUR_LEAST_C, SULPHIDE_OXIDISES_C);
  outlook->begin_c.high = MAX (outlook->begin_c.high + tied * SULPHUR_MOST_C, outlook->begin_c.low);
  if (outlook->has_complete)
    {
      outlook->complete_c.low += tied * SULPHUR_LEAST_C;
      outlook->complete_c.high += tied * SULPHUR_MOST_C;
    }
}

/* A frit is a glass already: it softens and flows, whatever crystals would do. */
static void
soften (Work *work)
{
  SherdMeltOutlook *outlook = work->outlook;

  for (guint i = 0; i < work->facts->contents->len; i++)
    {
      const SherdMixContent *content = &g_array_index (work->facts->contents, SherdMixContent, i);
      const SherdSubstance *glass = content->substance;

      if (glass->softens_c.high <= 0.0 || content->mass_frac.value < ENOUGH_LIQUID_FRAC)
        continue;
      outlook->reasons |= SHERD_MELT_GLASS;
      lower_begin (outlook, glass->softens_c.low, glass->softens_c.high);
      work->most_liquid = MAX (work->most_liquid, content->mass_frac.value);
      if (outlook->has_complete)
        outlook->complete_c.low = MIN (outlook->complete_c.low, glass->flows_c.low);
    }
}

static void
put_in_order (Work *work)
{
  SherdMeltOutlook *outlook = work->outlook;

  if (!outlook->has_begin)
    {
      outlook->reasons |= SHERD_MELT_NO_FLUX;
      outlook->has_complete = FALSE;
      return;
    }
  outlook->begin_c.low = MIN (outlook->begin_c.low, outlook->begin_c.high);
  if (outlook->has_complete)
    {
      outlook->complete_c.low = MAX (outlook->complete_c.low, outlook->begin_c.low);
      outlook->complete_c.high = MAX (outlook->complete_c.high, outlook->begin_c.high);
    }
  else
    outlook->reasons |= SHERD_MELT_NO_LIQUIDUS;
  if (work->most_liquid < MUCH_LIQUID_FRAC)
    outlook->reasons |= SHERD_MELT_LITTLE_LIQUID;
}

/* The temperature at which one hour does as much as @minutes at @peak_c: 1/T₁ = 1/T + (R/E) ln (60 / minutes). */
static double
one_hour_equivalent_c (double peak_c, double minutes)
{
  const double inverse =
    1.0 / (peak_c + KELVIN) + GAS_CONSTANT_J_MOL_K / LEAST_ACTIVATION_J_MOL * log (AN_HOUR_MIN / minutes);

  return inverse > 0.0 ? 1.0 / inverse - KELVIN : peak_c;
}

static gboolean
is_possible (const SherdMeltHeat *heat)
{
  return heat->is_known && heat->peak_c.value > 0.0 && heat->peak_c.value < HOTTEST_C && heat->peak_c.u >= 0.0 &&
         heat->peak_c.u < heat->peak_c.value && !(heat->minutes > LONGEST_MIN);
}

static void
take_heat (const SherdMeltHeat *heat, SherdMeltOutlook *outlook)
{
  const gboolean time_known = heat->minutes > 0.0;
  const double minutes = time_known ? heat->minutes : USUAL_MINUTES;
  const double coldest_c = heat->peak_c.value - 2.0 * heat->peak_c.u;

  outlook->heat_c.low = MIN (coldest_c, one_hour_equivalent_c (coldest_c, minutes));
  outlook->heat_c.high = heat->peak_c.value + 2.0 * heat->peak_c.u;
  if (!time_known)
    outlook->reasons |= SHERD_MELT_TIME_ASSUMED;
  else if (minutes < AN_HOUR_MIN)
    outlook->reasons |= SHERD_MELT_SHORT_TIME;
}

static SherdBounds
how_much_over (const SherdBounds *heat_c, const SherdBounds *needed_c)
{
  return (SherdBounds){ heat_c->low - needed_c->high, heat_c->high - needed_c->low };
}

static SherdMeltVerdict
judge (const SherdMeltOutlook *outlook)
{
  const SherdBounds *heat_c = &outlook->heat_c;

  if (!outlook->has_begin)
    return SHERD_MELT_UNKNOWN;
  if (heat_c->high < outlook->begin_c.low)
    return SHERD_MELT_NONE;
  if (heat_c->high < outlook->begin_c.high)
    return SHERD_MELT_LIKELY_DULL;
  if (outlook->has_complete && heat_c->low >= outlook->complete_c.high)
    return SHERD_MELT_COMPLETE;
  if (outlook->has_complete && heat_c->high < outlook->complete_c.low)
    return SHERD_MELT_PARTLY;
  return SHERD_MELT_MAYBE;
}

/* How many steps each reason takes from being fairly sure. */
static SherdMeltSureness
find_sureness (const SherdMeltOutlook *outlook)
{
  static const SherdMeltReasons one_step = SHERD_MELT_SULPHUR | SHERD_MELT_BORATE | SHERD_MELT_ESTIMATED |
                                           SHERD_MELT_COMPOSITION | SHERD_MELT_GLASS | SHERD_MELT_NO_LIQUIDUS |
                                           SHERD_MELT_LITTLE_LIQUID | SHERD_MELT_TOO_MUCH_ALUMINA;
  static const SherdMeltReasons two_steps = SHERD_MELT_NO_SILICA | SHERD_MELT_OUTSIDE_SYSTEM;
  guint steps = 0;

  if (!outlook->has_begin)
    return SHERD_MELT_CANNOT_SAY;
  for (guint i = 0; i < SHERD_N_MELT_REASONS; i++)
    {
      const guint reason = outlook->reasons & (1u << i);

      steps += (reason & one_step ? 1 : 0) + (reason & two_steps ? 2 : 0);
    }
  return MIN (steps, SHERD_MELT_GUESS);
}

static void
find_ranges (Work *work)
{
  const SherdPhaseSystem *lead_silica = sherd_phase_systems_find (work->systems, LEAD_SYSTEM);

  if (lead_silica != NULL && !lead_silica->has_liquidus)
    lead_silica = NULL;
  find_begin (work);
  if (lead_silica != NULL)
    look_for_silica (work, lead_silica);
  look_at_composition (work);
  if (lead_silica != NULL && is_in_system (work, lead_silica))
    find_complete (work, lead_silica);
  roast (work);
  soften (work);
  put_in_order (work);
}

/**
 * sherd_melt_outlook:
 * @facts: of a mix
 * @heat: the planned or logged firing, if there is one; an impossible one counts as none
 * @systems: the published systems
 * @outlook: (out caller-allocates): when it can be expected to melt
 *
 * From equilibrium data: the beginning is the range from the lowest point that touching grains can reach to the solidus
 * of the whole; completeness is the liquidus under every reading of what is not in the system (alumina counted as
 * silica or not, other fluxes and colouring oxides counted as lead or not), widened by the doubt of the composition and
 * of the points. Sulphur, frits and time widen them further. What is not known is said in @reasons.
 */
void
sherd_melt_outlook (const SherdMixFacts *facts,
                    const SherdMeltHeat *heat,
                    const GPtrArray *systems,
                    SherdMeltOutlook *outlook)
{
  Work work = { .facts = facts, .systems = systems, .outlook = outlook, .tied_frac = lead_tied_by_sulphur (facts) };

  *outlook = (SherdMeltOutlook){ .look = sherd_melt_look (facts) };
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    work.sum_mol += facts->fired.mol[oxide];
  if (facts->oxides->len == 0)
    outlook->reasons |= SHERD_MELT_NOTHING_LEFT;
  else
    find_ranges (&work);
  outlook->sureness = find_sureness (outlook);
  if (!is_possible (heat))
    return;
  take_heat (heat, outlook);
  if (outlook->has_begin)
    outlook->over_begin_c = how_much_over (&outlook->heat_c, &outlook->begin_c);
  if (outlook->has_complete)
    outlook->over_complete_c = how_much_over (&outlook->heat_c, &outlook->complete_c);
  outlook->verdict = judge (outlook);
}
