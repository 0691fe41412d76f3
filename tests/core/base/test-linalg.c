/* test-linalg.c: vectors of three and 3x3 matrices
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "base/ts-linalg.h"

#define ROUNDS 200

static TsMat3
random_matrix (GRand *random)
{
  TsMat3 out;

  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      out.m[i][j] = g_rand_double_range (random, -2.0, 2.0);
  return out;
}

static void
assert_matrix_near (const TsMat3 *got, const TsMat3 *want, double tolerance)
{
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      assert_near (got->m[i][j], want->m[i][j], tolerance);
}

static void
test_apply_and_multiply (void **state)
{
  TsMat3 left = { { { 1, 2, 3 }, { 4, 5, 6 }, { 7, 8, 10 } } };
  TsMat3 right = { { { 0, 1, 0 }, { 2, 0, 0 }, { 0, 0, 3 } } };
  TsMat3 want = { { { 4, 1, 9 }, { 10, 4, 18 }, { 16, 7, 30 } } }; /* by hand */
  TsMat3 product = ts_mat3_multiply (&left, &right);
  TsVec3 v = ts_mat3_apply (&left, (TsVec3){ { 1, 0, -1 } });

  assert_matrix_near (&product, &want, 0.0);
  assert_near (v.v[0], -2.0, 0.0);
  assert_near (v.v[1], -2.0, 0.0);
  assert_near (v.v[2], -3.0, 0.0);
}

/* The matrix of sRGB to XYZ (IEC 61966-2-1, 1999) and the inverse printed in the same standard. */
static void
test_published_inverse (void **state)
{
  TsMat3 forward = {
    { { 0.4124, 0.3576, 0.1805 }, { 0.2126, 0.7152, 0.0722 }, { 0.0193, 0.1192, 0.9505 } }
  };
  TsMat3 want = {
    { { 3.2406, -1.5372, -0.4986 }, { -0.9689, 1.8758, 0.0415 }, { 0.0557, -0.2040, 1.0570 } }
  };
  TsMat3 inverse;

  assert_true (ts_mat3_invert (&forward, &inverse));
  assert_matrix_near (&inverse, &want, 1e-4);
}

static void
test_inverse_gives_identity (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (1);
  TsMat3 identity = ts_mat3_identity ();
  int inverted = 0;

  for (int i = 0; i < ROUNDS; i++)
    {
      TsMat3 a = random_matrix (random), inverse, product;
      double scale = pow (10.0, g_rand_double_range (random, -90.0, 90.0));

      for (int j = 0; j < 9; j++)
        a.m[j / 3][j % 3] *= scale;
      if (!ts_mat3_invert (&a, &inverse))
        continue;
      product = ts_mat3_multiply (&a, &inverse);
      assert_matrix_near (&product, &identity, 1e-9);
      inverted++;
    }
  assert_in_range (inverted, ROUNDS - 5, ROUNDS);
}

static void
test_refuses_singular (void **state)
{
  TsMat3 rank_two = { { { 1, 2, 3 }, { 4, 5, 6 }, { 7, 8, 9 } } };
  TsMat3 zero = { 0 };
  TsMat3 bad = ts_mat3_identity ();
  TsMat3 inverse = ts_mat3_identity ();

  bad.m[1][2] = (double) NAN;
  assert_false (ts_mat3_invert (&rank_two, &inverse));
  assert_false (ts_mat3_invert (&zero, &inverse));
  assert_false (ts_mat3_invert (&bad, &inverse));
  bad.m[1][2] = (double) INFINITY;
  assert_false (ts_mat3_invert (&bad, &inverse));
  assert_near (inverse.m[0][0], 1.0, 0.0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_apply_and_multiply),
    cmocka_unit_test (test_published_inverse),
    cmocka_unit_test (test_inverse_gives_identity),
    cmocka_unit_test (test_refuses_singular),
  };

  return cmocka_run_group_tests_name ("base/linalg", tests, NULL, NULL);
}
