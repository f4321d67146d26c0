/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which oxide each element ends in when it is fired in air, to 600 to 900 °C:
 *
 *   iron       Fe2O3   goethite has lost its water by 300 °C, magnetite is oxidised by 600 °C
 *   manganese  Mn2O3   from MnO2 at 570 ± 5 °C; above 990 ± 5 °C it is Mn3O4, 0.9662 of the mass (Trans. Japan Inst.
 *                      Metals 22 (1981) 253, both in air)
 *   copper     CuO     carbonates are CuO by 375 °C (Thermochim. Acta 390 (2002) 133); Cu2O above 1030 °C, from memory
 *   cobalt     Co3O4   CoO above 900 to 950 °C, from memory
 *   lead       PbO     Pb3O4 is PbO by 550 to 605 °C; with all sulphur gone, which melt.c looks at
 *   antimony   Sb2O4, uranium U3O8, cerium CeO2: from memory
 *
 * In smoke iron and copper keep less oxygen; that is not computed here. Hydrogen, carbon, nitrogen, sulphur, halogens,
 * arsenic, selenium, tellurium and mercury are counted as leaving, though some fluorine, chlorine and arsenic can stay.
 */
#include "config.h"

#include "chem/oxide.h"

#include <glib/gi18n-lib.h>

typedef struct
{
  const char *formula;
  guint element;
  guint n_atoms;
  guint n_oxygen;
  gboolean is_flux; /* counts in Seger's rule */
} OxideRow;

static const OxideRow rows[SHERD_N_OXIDES] = {
  [SHERD_OXIDE_LI2O] = { "Li2O", 3, 2, 1, TRUE },     [SHERD_OXIDE_NA2O] = { "Na2O", 11, 2, 1, TRUE },
  [SHERD_OXIDE_K2O] = { "K2O", 19, 2, 1, TRUE },      [SHERD_OXIDE_MGO] = { "MgO", 12, 1, 1, TRUE },
  [SHERD_OXIDE_CAO] = { "CaO", 20, 1, 1, TRUE },      [SHERD_OXIDE_SRO] = { "SrO", 38, 1, 1, TRUE },
  [SHERD_OXIDE_BAO] = { "BaO", 56, 1, 1, TRUE },      [SHERD_OXIDE_ZNO] = { "ZnO", 30, 1, 1, TRUE },
  [SHERD_OXIDE_PBO] = { "PbO", 82, 1, 1, TRUE },      [SHERD_OXIDE_B2O3] = { "B2O3", 5, 2, 3, FALSE },
  [SHERD_OXIDE_AL2O3] = { "Al2O3", 13, 2, 3, FALSE }, [SHERD_OXIDE_SIO2] = { "SiO2", 14, 1, 2, FALSE },
  [SHERD_OXIDE_P2O5] = { "P2O5", 15, 2, 5, FALSE },   [SHERD_OXIDE_TIO2] = { "TiO2", 22, 1, 2, FALSE },
  [SHERD_OXIDE_ZRO2] = { "ZrO2", 40, 1, 2, FALSE },   [SHERD_OXIDE_SNO2] = { "SnO2", 50, 1, 2, FALSE },
  [SHERD_OXIDE_FE2O3] = { "Fe2O3", 26, 2, 3, FALSE }, [SHERD_OXIDE_MN2O3] = { "Mn2O3", 25, 2, 3, FALSE },
  [SHERD_OXIDE_CUO] = { "CuO", 29, 1, 1, FALSE },     [SHERD_OXIDE_CO3O4] = { "Co3O4", 27, 3, 4, FALSE },
  [SHERD_OXIDE_NIO] = { "NiO", 28, 1, 1, FALSE },     [SHERD_OXIDE_CR2O3] = { "Cr2O3", 24, 2, 3, FALSE },
  [SHERD_OXIDE_V2O5] = { "V2O5", 23, 2, 5, FALSE },   [SHERD_OXIDE_SB2O4] = { "Sb2O4", 51, 2, 4, FALSE },
  [SHERD_OXIDE_BI2O3] = { "Bi2O3", 83, 2, 3, FALSE }, [SHERD_OXIDE_CDO] = { "CdO", 48, 1, 1, FALSE },
  [SHERD_OXIDE_MOO3] = { "MoO3", 42, 1, 3, FALSE },   [SHERD_OXIDE_WO3] = { "WO3", 74, 1, 3, FALSE },
  [SHERD_OXIDE_CEO2] = { "CeO2", 58, 1, 2, FALSE },   [SHERD_OXIDE_U3O8] = { "U3O8", 92, 3, 8, FALSE },
};

/* H, C, N, O, F, S, Cl, As, Se, Br, Te, I, Hg */
static const guint leaving[] = { 1, 6, 7, 8, 9, 16, 17, 33, 34, 35, 52, 53, 80 };

/* Returns: as it is written, “Fe2O3” */
const char *
sherd_oxide_get_formula (SherdOxide oxide)
{
  g_return_val_if_fail (oxide < SHERD_N_OXIDES, "");
  return rows[oxide].formula;
}

/**
 * sherd_oxide_get_atoms:
 * @oxide: an oxide
 * @atoms: (out caller-allocates): those of its formula
 */
void
sherd_oxide_get_atoms (SherdOxide oxide, SherdAtoms *atoms)
{
  *atoms = (SherdAtoms){ { 0 } };
  g_return_if_fail (oxide < SHERD_N_OXIDES);
  atoms->count[rows[oxide].element] = rows[oxide].n_atoms;
  atoms->count[SHERD_OXYGEN] = rows[oxide].n_oxygen;
}

/* Returns: g/mol */
SherdValue
sherd_oxide_molar_mass (SherdOxide oxide)
{
  SherdAtoms atoms;

  sherd_oxide_get_atoms (oxide, &atoms);
  return sherd_atoms_molar_mass (&atoms);
}

/**
 * sherd_oxide_is_flux:
 * @oxide: an oxide
 *
 * Returns: whether it counts among the fluxes that Seger's rule brings to one: Li2O, Na2O, K2O, MgO, CaO, SrO, BaO,
 * ZnO, PbO. Colouring oxides and B2O3 are given against the same unity but not counted in it (common practice, no
 * source).
 */
gboolean
sherd_oxide_is_flux (SherdOxide oxide)
{
  return oxide < SHERD_N_OXIDES && rows[oxide].is_flux;
}

static gboolean
is_leaving (guint element)
{
  for (guint i = 0; i < G_N_ELEMENTS (leaving); i++)
    if (leaving[i] == element)
      return TRUE;
  return FALSE;
}

static gboolean
has_oxide (guint element)
{
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    if (rows[oxide].element == element)
      return TRUE;
  return FALSE;
}

/**
 * sherd_oxides_check_fate:
 * @atoms: any
 * @error: SHERD_CHEM_ERROR_FATE, naming the element
 *
 * Returns: whether it is known of every element what becomes of it in the fire
 */
gboolean
sherd_oxides_check_fate (const SherdAtoms *atoms, GError **error)
{
  for (guint i = 1; i < SHERD_N_ATOMIC_NUMBERS; i++)
    if (atoms->count[i] != 0.0 && !is_leaving (i) && !has_oxide (i))
      return sherd_refuse (
        error, SHERD_CHEM_ERROR_FATE,
        _ ("What becomes of the element %s in the fire is not in the program’s table. Enter an analysis "
           "without it."),
        sherd_element_get (i)->symbol);
  return TRUE;
}

/**
 * sherd_oxides_fire:
 * @atoms: in moles, of elements whose fate is known
 * @firing: (out caller-allocates): in moles
 *
 * Fires in air until nothing changes any more. The oxides take the oxygen that comes with the atoms first; what they do
 * not need leaves, what they lack comes from the air. (Oxygen that the air gives to gases is not counted: 1 mol PbS
 * takes 1 mol O into PbO and loses 1 mol S.)
 */
void
sherd_oxides_fire (const SherdAtoms *atoms, SherdFiring *firing)
{
  double needed_mol = 0.0;

  *firing = (SherdFiring){ .leaving = *atoms };
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    {
      const OxideRow *row = &rows[oxide];

      firing->oxides.mol[oxide] = atoms->count[row->element] / row->n_atoms;
      firing->leaving.count[row->element] = 0.0;
      needed_mol += firing->oxides.mol[oxide] * row->n_oxygen;
    }
  firing->oxygen_taken_mol = MAX (0.0, needed_mol - atoms->count[SHERD_OXYGEN]);
  firing->leaving.count[SHERD_OXYGEN] = MAX (0.0, atoms->count[SHERD_OXYGEN] - needed_mol);
}

/**
 * sherd_firing_add:
 * @firing: is added to
 * @other: what is added
 * @times: how often
 */
void
sherd_firing_add (SherdFiring *firing, const SherdFiring *other, double times)
{
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    firing->oxides.mol[oxide] += times * other->oxides.mol[oxide];
  firing->oxygen_taken_mol += times * other->oxygen_taken_mol;
  sherd_atoms_add (&firing->leaving, &other->leaving, times);
}

/**
 * sherd_oxide_mass_g:
 * @oxide: an oxide
 * @weights: g/mol, by atomic number
 *
 * Returns: the mass of one mole
 */
double
sherd_oxide_mass_g (SherdOxide oxide, const double weights[SHERD_N_ATOMIC_NUMBERS])
{
  const OxideRow *row = &rows[oxide];

  return row->n_atoms * weights[row->element] + row->n_oxygen * weights[SHERD_OXYGEN];
}

/* Returns: the mass of all of them */
double
sherd_oxides_mass_g (const SherdOxides *oxides, const double weights[SHERD_N_ATOMIC_NUMBERS])
{
  double mass_g = 0.0;

  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    mass_g += oxides->mol[oxide] * sherd_oxide_mass_g (oxide, weights);
  return mass_g;
}
