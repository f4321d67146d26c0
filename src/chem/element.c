/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/element.h"

#include <math.h>
#include <string.h>

#include "chem/element-table.h"

/**
 * sherd_element_get:
 * @number: an atomic number
 *
 * Returns: (nullable) (transfer none): the element; NULL without standard atomic weight (technetium, radium …)
 */
const SherdElement *
sherd_element_get (guint number)
{
  if (number >= SHERD_N_ATOMIC_NUMBERS || sherd_element_table[number].symbol == NULL)
    return NULL;
  return &sherd_element_table[number];
}

/**
 * sherd_element_find:
 * @symbol: need not end with a zero
 * @length: its bytes
 *
 * Returns: (nullable) (transfer none): the element of that symbol, capitals as in “Pb”
 */
const SherdElement *
sherd_element_find (const char *symbol, gsize length)
{
  for (guint number = 1; number < SHERD_N_ATOMIC_NUMBERS; number++)
    {
      const SherdElement *element = sherd_element_get (number);

      if (element != NULL && strlen (element->symbol) == length && strncmp (element->symbol, symbol, length) == 0)
        return element;
    }
  return NULL;
}

/**
 * sherd_element_molar_mass:
 * @number: an atomic number that has a standard atomic weight
 *
 * Every weight between the limits is taken as equally likely: van der Veen, Meija, Possolo, Hibbert, Interpretation and
 * use of standard atomic weights (IUPAC Technical Report), Pure Appl. Chem. 93 (2021) 629, doi 10.1515/pac-2017-1002.
 *
 * Returns: g/mol
 */
SherdValue
sherd_element_molar_mass (guint number)
{
  const SherdElement *element = sherd_element_get (number);

  g_return_val_if_fail (element != NULL, ((SherdValue){ 0.0, 0.0 }));
  return (SherdValue){ element->weight, sherd_doubt_of_limits (element->half_width) };
}

/**
 * sherd_element_weights:
 * @weights: (out caller-allocates): g/mol, by atomic number; 0 where there is no standard atomic weight
 */
void
sherd_element_weights (double weights[SHERD_N_ATOMIC_NUMBERS])
{
  for (guint i = 0; i < SHERD_N_ATOMIC_NUMBERS; i++)
    weights[i] = sherd_element_table[i].weight;
}

/**
 * sherd_atoms_add:
 * @atoms: is added to
 * @others: what is added
 * @times: how often; may be negative
 */
void
sherd_atoms_add (SherdAtoms *atoms, const SherdAtoms *others, double times)
{
  for (guint i = 0; i < SHERD_N_ATOMIC_NUMBERS; i++)
    atoms->count[i] += times * others->count[i];
}

/**
 * sherd_atoms_mass_g:
 * @atoms: in moles
 * @weights: g/mol, by atomic number
 *
 * Returns: their mass
 */
double
sherd_atoms_mass_g (const SherdAtoms *atoms, const double weights[SHERD_N_ATOMIC_NUMBERS])
{
  double mass_g = 0.0;

  for (guint i = 0; i < SHERD_N_ATOMIC_NUMBERS; i++)
    mass_g += atoms->count[i] * weights[i];
  return mass_g;
}

/**
 * sherd_atoms_molar_mass:
 * @atoms: of elements with a standard atomic weight
 *
 * Returns: g/mol, with the uncertainty that the atomic weights leave
 */
SherdValue
sherd_atoms_molar_mass (const SherdAtoms *atoms)
{
  SherdValue sum = { 0.0, 0.0 };

  for (guint i = 0; i < SHERD_N_ATOMIC_NUMBERS; i++)
    if (atoms->count[i] != 0.0)
      {
        const SherdValue mass = sherd_element_molar_mass (i);

        sum.value += atoms->count[i] * mass.value;
        sum.u = hypot (sum.u, atoms->count[i] * mass.u);
      }
  return sum;
}
