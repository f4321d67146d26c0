/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/doubt.h"

G_BEGIN_DECLS

/* Atomic numbers of the elements that the room speaks of by name. */
enum
{
  SHERD_HYDROGEN = 1,
  SHERD_CARBON = 6,
  SHERD_OXYGEN = 8,
  SHERD_SILICON = 14,
  SHERD_SULPHUR = 16,
  SHERD_LEAD = 82,
  SHERD_N_ATOMIC_NUMBERS = 93 /* up to uranium */
};

typedef struct
{
  guint number;       /* atomic number */
  const char *symbol; /* NULL where there is no standard atomic weight */
  const char *name;   /* English */
  double weight;      /* standard atomic weight, g/mol */
  double half_width;  /* within which normal materials lie, g/mol */
} SherdElement;

/* Atoms of each element, by atomic number. */
typedef struct
{
  double count[SHERD_N_ATOMIC_NUMBERS];
} SherdAtoms;

const SherdElement *sherd_element_get (guint number);
const SherdElement *sherd_element_find (const char *symbol, gsize length);
SherdValue sherd_element_molar_mass (guint number);

void sherd_element_weights (double weights[SHERD_N_ATOMIC_NUMBERS]);

void sherd_atoms_add (SherdAtoms *atoms, const SherdAtoms *others, double times);
double sherd_atoms_mass_g (const SherdAtoms *atoms, const double weights[SHERD_N_ATOMIC_NUMBERS]);
SherdValue sherd_atoms_molar_mass (const SherdAtoms *atoms);

G_END_DECLS
