/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Against the abridged standard atomic weights of Prohaska et al. 2022, Table 1, and the interval of each element whose
 * weight varies in nature (same table), which the abridged value ± its uncertainty must hold. */

#include "config.h"

#include "chem/element.h"

#include <math.h>
#include <string.h>

static void
test_weights_are_those_of_the_table (void)
{
  g_assert_cmpfloat (sherd_element_find ("Pb", 2)->weight, ==, 207.2);
  g_assert_cmpfloat (sherd_element_find ("Pb", 2)->half_width, ==, 1.1);
  g_assert_cmpfloat (sherd_element_find ("U", 1)->weight, ==, 238.03);
  g_assert_cmpuint (sherd_element_find ("Cu", 2)->number, ==, 29);
  g_assert_cmpfloat_with_epsilon (sherd_element_molar_mass (SHERD_LEAD).u, 1.1 / sqrt (3.0), 1e-12);
}

static void
test_natural_variation_lies_within_the_uncertainty (void)
{
  static const struct
  {
    const char *symbol;
    double least, most;
  } intervals[] = {
    { "H", 1.00784, 1.00811 },   { "Li", 6.938, 6.997 },      { "B", 10.806, 10.821 },  { "C", 12.0096, 12.0116 },
    { "N", 14.00643, 14.00728 }, { "O", 15.99903, 15.99977 }, { "Mg", 24.304, 24.307 }, { "Si", 28.084, 28.086 },
    { "S", 32.059, 32.076 },     { "Cl", 35.446, 35.457 },    { "Br", 79.901, 79.907 }, { "Pb", 206.14, 207.94 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (intervals); i++)
    {
      const SherdElement *element = sherd_element_find (intervals[i].symbol, strlen (intervals[i].symbol));

      g_assert_cmpfloat (element->weight - element->half_width, <=, intervals[i].least + 1e-9);
      g_assert_cmpfloat (element->weight + element->half_width, >=, intervals[i].most - 1e-9);
    }
}

static void
test_elements_without_a_standard_weight_are_not_known (void)
{
  g_assert_null (sherd_element_find ("Tc", 2));
  g_assert_null (sherd_element_find ("Ra", 2));
  g_assert_null (sherd_element_find ("pb", 2));
  g_assert_null (sherd_element_find ("", 0));
  g_assert_null (sherd_element_get (0));
  g_assert_null (sherd_element_get (SHERD_N_ATOMIC_NUMBERS));
}

static void
test_every_element_finds_itself_and_weighs_more_than_the_last_but_one (void)
{
  double before = 0.0, before_that = 0.0;

  for (guint number = 1; number < SHERD_N_ATOMIC_NUMBERS; number++)
    {
      const SherdElement *element = sherd_element_get (number);

      if (element == NULL)
        continue;
      g_assert_true (sherd_element_find (element->symbol, strlen (element->symbol)) == element);
      g_assert_cmpuint (element->number, ==, number);
      g_assert_cmpfloat (element->weight, >, before_that); /* argon, cobalt, tellurium are heavier than their next */
      before_that = before;
      before = element->weight;
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/element/weights-are-those-of-the-table", test_weights_are_those_of_the_table);
  g_test_add_func ("/chem/element/natural-variation-lies-within-the-uncertainty",
                   test_natural_variation_lies_within_the_uncertainty);
  g_test_add_func ("/chem/element/elements-without-a-standard-weight-are-not-known",
                   test_elements_without_a_standard_weight_are_not_known);
  g_test_add_func ("/chem/element/every-element-finds-itself-and-weighs-more-than-the-last-but-one",
                   test_every_element_finds_itself_and_weighs_more_than_the_last_but_one);
  return g_test_run ();
}
