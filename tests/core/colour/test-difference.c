/* test-difference.c: colour differences against the published pairs, another library, and each
 * other
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "colour/ts-difference.h"

#include "colour/rows.h"

static TsLab
lab_of_row (const Row *row, const char *L, const char *a, const char *b)
{
  return (TsLab){ row_number (row, L), row_number (row, a), row_number (row, b) };
}

/* Sharma, Wu and Dalal (2005): to the four decimals that they print, both ways round. */
static void
test_published_row (void **state)
{
  const Row *row = *state;
  TsLab one = lab_of_row (row, "L1", "a1", "b1");
  TsLab other = lab_of_row (row, "L2", "a2", "b2");

  assert_near (ts_delta_e_2000 (one, other), row_number (row, "dE00"), 5e-5);
  assert_near (ts_delta_e_2000 (other, one), row_number (row, "dE00"), 5e-5);
}

static void
test_library_row (void **state)
{
  const Row *row = *state;
  TsLab one = lab_of_row (row, "L1", "a1", "b1");
  TsLab other = lab_of_row (row, "L2", "a2", "b2");

  assert_near (ts_delta_e_2000 (one, other), row_number (row, "dE00"), 1e-9);
  assert_near (ts_delta_e_2000 (other, one), row_number (row, "dE00"), 1e-9);
}

static void
test_delta_e_76 (void **state)
{
  assert_near (ts_delta_e_76 ((TsLab){ 50, 10, -20 }, (TsLab){ 52, 13, -14 }), 7.0, 1e-14);
}

static TsLab
random_lab (GRand *random)
{
  /* Every tenth a grey. */
  double chroma = g_rand_int_range (random, 0, 10) == 0 ? 0.0 : 100.0;

  return (TsLab){ g_rand_double_range (random, 0, 100),
                  g_rand_double_range (random, -1, 1) * chroma,
                  g_rand_double_range (random, -1, 1) * chroma };
}

static void
test_metric (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (3);
  double least = (double) INFINITY, most = 0.0;

  for (int i = 0; i < 20000; i++)
    {
      TsLab lab = random_lab (random);
      double step[3], metric[3][3];
      double square = 0.0;
      TsLab near;
      double want;

      for (int j = 0; j < 3; j++)
        step[j] = g_rand_double_range (random, -1e-4, 1e-4);
      near = (TsLab){ lab.L + step[0], lab.a + step[1], lab.b + step[2] };
      want = ts_delta_e_2000 (lab, near);
      ts_delta_e_2000_metric (lab, metric);
      for (int j = 0; j < 3; j++)
        for (int k = 0; k < 3; k++)
          {
            assert_near (metric[j][k], metric[k][j], 0.0);
            square += step[j] * metric[j][k] * step[k];
          }
      assert_near (sqrt (square), want, 2e-5 * want);
      least = MIN (least, want);
      most = MAX (most, want);
    }
  assert_true (most > 5.0 * least); /* the steps and places really varied */
}

/* Never negative, symmetric to the last digits, 0 for equal colours. */
static void
test_symmetry (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (4);

  for (int i = 0; i < 20000; i++)
    {
      TsLab one = random_lab (random), other = random_lab (random);
      double there = ts_delta_e_2000 (one, other);

      assert_true (there > 0.0);
      assert_near (ts_delta_e_2000 (other, one), there, 1e-12 * there);
      assert_near (ts_delta_e_2000 (one, one), 0.0, 0.0);
    }
}

/* Hues exactly opposite, whatever the angle, are 180 degrees apart and not more: the mean hue is
 * the upper one less 90 degrees. Two colours of the same lightness and chroma C' then differ by 2
 * C' / SH (the formulas of Sharma, Wu and Dalal). */
static void
test_opposite_hues (void **state)
{
  for (int degrees = 0; degrees < 180; degrees++)
    {
      double turn = degrees * G_PI / 180.0;
      TsLab one = { 50.0, 3.0 * cos (turn), 3.0 * sin (turn) };
      TsLab other = { 50.0, -one.a, -one.b };
      double share = sqrt (pow (3.0, 7) / (pow (3.0, 7) + pow (25.0, 7)));
      double a = (1.0 + 0.5 * (1.0 - share)) * one.a;
      double C = hypot (a, one.b);
      double h = atan2 (one.b, a) + G_PI / 2.0;
      double T = 1.0 - 0.17 * cos (h - G_PI / 6.0) + 0.24 * cos (2.0 * h) +
                 0.32 * cos (3.0 * h + 6.0 * G_PI / 180.0) -
                 0.20 * cos (4.0 * h - 63.0 * G_PI / 180.0);
      double want = 2.0 * C / (1.0 + 0.015 * C * T);

      assert_near (ts_delta_e_2000 (one, other), want, 1e-12);
      assert_near (ts_delta_e_2000 (other, one), want, 1e-12);
    }
}

static void
test_nan (void **state)
{
  assert_true (isnan (ts_delta_e_2000 ((TsLab){ (double) NAN, 0, 0 }, (TsLab){ 50, 0, 0 })));
  assert_true (isnan (ts_delta_e_2000 ((TsLab){ 50, (double) NAN, 1 }, (TsLab){ 50, 0, 0 })));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_delta_e_76), cmocka_unit_test (test_metric),
    cmocka_unit_test (test_symmetry),   cmocka_unit_test (test_opposite_hues),
    cmocka_unit_test (test_nan),
  };
  int failed = cmocka_run_group_tests_name ("colour/difference", tests, NULL, NULL);

  failed += run_rows ("published/ciede2000_pairs.csv", test_published_row);
  failed += run_rows ("colour/ciede2000_skimage.csv", test_library_row);
  return failed;
}
