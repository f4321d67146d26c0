/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/formula.h"

G_BEGIN_DECLS

/* The oxides that are left after firing in air, in the order in which a molar formula is written: fluxes, what stands
 * between, glass formers, then the rest. The oxidation state is that of 600 to 900 °C; oxide.c says more. */
typedef enum
{
  SHERD_OXIDE_LI2O,
  SHERD_OXIDE_NA2O,
  SHERD_OXIDE_K2O,
  SHERD_OXIDE_MGO,
  SHERD_OXIDE_CAO,
  SHERD_OXIDE_SRO,
  SHERD_OXIDE_BAO,
  SHERD_OXIDE_ZNO,
  SHERD_OXIDE_PBO,
  SHERD_OXIDE_B2O3,
  SHERD_OXIDE_AL2O3,
  SHERD_OXIDE_SIO2,
  SHERD_OXIDE_P2O5,
  SHERD_OXIDE_TIO2,
  SHERD_OXIDE_ZRO2,
  SHERD_OXIDE_SNO2,
  SHERD_OXIDE_FE2O3,
  SHERD_OXIDE_MN2O3,
  SHERD_OXIDE_CUO,
  SHERD_OXIDE_CO3O4,
  SHERD_OXIDE_NIO,
  SHERD_OXIDE_CR2O3,
  SHERD_OXIDE_V2O5,
  SHERD_OXIDE_SB2O4,
  SHERD_OXIDE_BI2O3,
  SHERD_OXIDE_CDO,
  SHERD_OXIDE_MOO3,
  SHERD_OXIDE_WO3,
  SHERD_OXIDE_CEO2,
  SHERD_OXIDE_U3O8,
  SHERD_N_OXIDES
} SherdOxide;

/* Moles of each oxide. */
typedef struct
{
  double mol[SHERD_N_OXIDES];
} SherdOxides;

/* What the fire does to some atoms: in + oxygen taken = oxides + what leaves. */
typedef struct
{
  SherdOxides oxides;
  double oxygen_taken_mol; /* atoms of oxygen that the oxides take from the air */
  SherdAtoms leaving;      /* carbon, hydrogen, sulphur … and the oxygen that the oxides do not need */
} SherdFiring;

const char *sherd_oxide_get_formula (SherdOxide oxide);
void sherd_oxide_get_atoms (SherdOxide oxide, SherdAtoms *atoms);
SherdValue sherd_oxide_molar_mass (SherdOxide oxide);
gboolean sherd_oxide_is_flux (SherdOxide oxide);

gboolean sherd_oxides_check_fate (const SherdAtoms *atoms, GError **error);
void sherd_oxides_fire (const SherdAtoms *atoms, SherdFiring *firing);
void sherd_firing_add (SherdFiring *firing, const SherdFiring *other, double times);
double sherd_oxide_mass_g (SherdOxide oxide, const double weights[SHERD_N_ATOMIC_NUMBERS]);
double sherd_oxides_mass_g (const SherdOxides *oxides, const double weights[SHERD_N_ATOMIC_NUMBERS]);

G_END_DECLS
