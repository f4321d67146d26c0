/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The matrix from D65 to the ICC's D50 was computed in exact fractions from Bradford's cone responses (Lam 1985; ICC.1,
 * annex E) and the white x = 0.3127, y = 0.3290 of IEC 61966-2-1; that to illuminant C (x = 0.31006, y = 0.31616)
 * likewise in double precision. LittleCMS 2 (cmsAdaptToIlluminant) serves as an independent library. */

#include "config.h"

#include "colour/adaptation.h"

#include "oracle.h"

/* Rounding of a product of three matrices of ones and tens. */
#define EXACT 1e-12

static const SherdXyz white_d65 = { 0.9504559270516717, 1.0, 1.0890577507598784 };
static const SherdXyz white_c = { 0.980705971659919, 1.0, 1.1822494939271255 };

static void
test_from_d65_to_d50_is_the_exact_matrix (void)
{
  static const double exact[9] = { 1.0478860032225503,  0.0229187651747794, -0.0502160953117330,
                                   0.0295817824980033,  0.9904835184905486, -0.0170787077044827,
                                   -0.0092518808392088, 0.0150726074870313, 0.7516781336176034 };
  double matrix[3][3];

  sherd_adaptation_bradford (&white_d65, &sherd_white_d50, matrix);
  assert_near (&matrix[0][0], exact, 9, EXACT);
}

static void
test_from_d50_to_c_is_the_exact_matrix (void)
{
  static const double exact[9] = { 0.9648397759775829,  -0.0164379790151803, 0.0810345965298991,
                                   -0.0160778055148750, 0.9941572798418913,  0.0258757912905215,
                                   0.0172754113272904,  -0.0297327482346749, 1.4490547830767697 };
  double matrix[3][3];

  sherd_adaptation_bradford (&sherd_white_d50, &white_c, matrix);
  assert_near (&matrix[0][0], exact, 9, EXACT);
}

static void
test_a_colour_moves_as_in_littlecms (void)
{
  const SherdXyz colour = { 0.2, 0.3, 0.4 };
  const cmsCIEXYZ from = { white_d65.x, white_d65.y, white_d65.z };
  const cmsCIEXYZ theirs_in = { colour.x, colour.y, colour.z };
  double matrix[3][3];
  cmsCIEXYZ theirs;
  SherdXyz moved;

  sherd_adaptation_bradford (&white_d65, &sherd_white_d50, matrix);
  moved = sherd_adaptation_apply (matrix, &colour);
  g_assert_true (cmsAdaptToIlluminant (&theirs, &from, cmsD50_XYZ (), &theirs_in));
  assert_near (&moved.x, (const double[]){ theirs.X, theirs.Y, theirs.Z }, 3, 1e-10);
  assert_near (&moved.x, (const double[]){ 0.1963663921, 0.2962299289, 0.3033426595 }, 3, 1e-8);
}

static void
test_white_becomes_white (void)
{
  double matrix[3][3];
  SherdXyz white;

  sherd_adaptation_bradford (&white_c, &white_d65, matrix);
  white = sherd_adaptation_apply (matrix, &white_c);
  assert_near (&white.x, &white_d65.x, 3, EXACT);
}

static void
test_there_and_back_changes_nothing (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (22);
  double there[3][3], back[3][3];

  sherd_adaptation_bradford (&white_d65, &sherd_white_d50, there);
  sherd_adaptation_bradford (&sherd_white_d50, &white_d65, back);
  for (guint i = 0; i < 100; i++)
    {
      const SherdXyz colour = { g_rand_double (random), g_rand_double (random), g_rand_double (random) };
      const SherdXyz moved = sherd_adaptation_apply (there, &colour);
      const SherdXyz returned = sherd_adaptation_apply (back, &moved);

      assert_near (&returned.x, &colour.x, 3, EXACT);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/colour/adaptation/d65-to-d50-is-the-exact-matrix", test_from_d65_to_d50_is_the_exact_matrix);
  g_test_add_func ("/colour/adaptation/d50-to-c-is-the-exact-matrix", test_from_d50_to_c_is_the_exact_matrix);
  g_test_add_func ("/colour/adaptation/colour-moves-as-in-littlecms", test_a_colour_moves_as_in_littlecms);
  g_test_add_func ("/colour/adaptation/white-becomes-white", test_white_becomes_white);
  g_test_add_func ("/colour/adaptation/there-and-back", test_there_and_back_changes_nothing);
  return g_test_run ();
}
