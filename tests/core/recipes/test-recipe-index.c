/* test-recipe-index.c: the bounds and loops that the index rests on
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <string.h>

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "paint/ts-mix.h"
#include "recipes/ts-lab-box.h"
#include "recipes/ts-recipe-index-private.h"
#include "ts-test.h"

#define ROUNDS 200000

/* Targets everywhere, many of them near the grey axis or in the blue where CIEDE2000 is crooked. */
static TsLab
random_target (GRand *rand, guint round)
{
  TsLab lab = { g_rand_double_range (rand, 0.0, 100.0), g_rand_double_range (rand, -90.0, 90.0),
                g_rand_double_range (rand, -90.0, 90.0) };

  if (round % 3 == 0)
    lab.a /= 30.0, lab.b /= 30.0;
  if (round % 5 == 0)
    lab.a = g_rand_double_range (rand, 0.0, 30.0),
    lab.b = g_rand_double_range (rand, -110.0, -30.0);
  return lab;
}

/* From specks to boxes across half the space, near the target and far, some about the grey axis. */
static TsLabBox
random_box (GRand *rand, guint round, TsLab target)
{
  const double middle[3] = { target.L, target.a, target.b };
  double size = pow (10.0, g_rand_double_range (rand, -2.0, 1.6));
  double away = pow (10.0, g_rand_double_range (rand, -1.0, 1.9));
  TsLabBox box;

  for (guint c = 0; c < 3; c++)
    {
      double at = middle[c] + away * g_rand_double_range (rand, -1.0, 1.0);
      double half = size * g_rand_double (rand);

      if (round % 7 == 0 && c > 0)
        at = g_rand_double_range (rand, -1.0, 1.0);
      box.low[c] = at - half;
      box.high[c] = at + half;
    }
  return box;
}

static TsLab
random_within (GRand *rand, guint round, const TsLabBox *box)
{
  double lab[3];

  for (guint c = 0; c < 3; c++)
    {
      double t = round % 4 == 0 ? (double) g_rand_int_range (rand, 0, 2) : g_rand_double (rand);

      lab[c] = box->low[c] + t * (box->high[c] - box->low[c]);
    }
  return (TsLab){ lab[0], lab[1], lab[2] };
}

static void
test_box_bound_holds (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  guint positive = 0;

  for (guint round = 0; round < ROUNDS; round++)
    {
      TsLab target = random_target (rand, round);
      TsLabBox box = random_box (rand, round, target);
      TsLab lab = random_within (rand, round, &box);
      double bound = ts_lab_box_least_delta_e (&box, target);

      if (!(bound <= ts_delta_e_2000 (lab, target)))
        fail_msg ("round %u: the bound %g lies above %g", round, bound,
                  ts_delta_e_2000 (lab, target));
      positive += bound > 0.0 ? 1 : 0;
    }
  assert_in_range (positive, ROUNDS / 4, ROUNDS - 1);
}

/* A speck's bound is the difference itself: it is not merely 0. */
static void
test_box_bound_is_tight (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);
  guint loose = 0;

  for (guint round = 0; round < 20000; round++)
    {
      TsLab target = random_target (rand, round);
      TsLab lab = random_target (rand, round + 1);
      TsLabBox box = { { lab.L - 1e-4, lab.a - 1e-4, lab.b - 1e-4 },
                       { lab.L + 1e-4, lab.a + 1e-4, lab.b + 1e-4 } };
      double delta_e = ts_delta_e_2000 (lab, target);

      loose += ts_lab_box_least_delta_e (&box, target) < 0.99 * delta_e - 0.01 ? 1 : 0;
    }
  /* Hues that are all but opposite stay open both ways round. */
  assert_in_range (loose, 0, 200);
}

static void
test_narrowing_loses_nothing (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  guint near = 0;

  for (guint round = 0; round < 200; round++)
    {
      TsLab target = random_target (rand, round);
      double radius = pow (10.0, g_rand_double_range (rand, -1.0, 1.2));
      TsLabBox box = { { -20.0, -250.0, -250.0 }, { 120.0, 250.0, 250.0 } };

      ts_lab_box_narrow (&box, target, radius);
      for (guint i = 0; i < 300; i++)
        {
          double spread = radius * g_rand_double_range (rand, 0.0, 4.0);
          TsLab lab = { target.L + spread * g_rand_double_range (rand, -1.0, 1.0),
                        target.a + spread * g_rand_double_range (rand, -1.0, 1.0),
                        target.b + spread * g_rand_double_range (rand, -1.0, 1.0) };

          if (lab.L < -20.0 || lab.L > 120.0 || ts_delta_e_2000 (lab, target) > radius)
            continue;
          near++;
          assert_true (lab.L >= box.low[0] && lab.L <= box.high[0]);
          assert_true (lab.a >= box.low[1] && lab.a <= box.high[1]);
          assert_true (lab.b >= box.low[2] && lab.b <= box.high[2]);
        }
      assert_true (radius > 3.0 || box.high[1] - box.low[1] < 80.0 + 20.0 * radius);
    }
  assert_true (near > 5000);
}

typedef struct
{
  TsIndexOptics optics;
  float K[TS_BANDS * 2 * TS_PACK], S[TS_BANDS * 2 * TS_PACK];
  float mix_K[TS_BANDS], mix_S[TS_BANDS];
  float lab[3][2 * TS_PACK];
} Loop;

static void
fill_loop (Loop *loop, GRand *rand)
{
  const double (*weights)[3] = ts_light_get_weights (TS_LIGHT_D50);
  static const double white[3] = { TS_D50_X, 1.0, TS_D50_Z };

  loop->optics = (TsIndexOptics){ .base = { 0.04f, 0.04f, 0.04f }, .out = 0.4f };
  for (guint b = 0; b < TS_BANDS; b++)
    {
      for (guint c = 0; c < 3; c++)
        loop->optics.weight[b][c] = (float) (0.96 * 0.4 * weights[b][c] / white[c]);
      loop->mix_K[b] = (float) exp (g_rand_double_range (rand, -9.0, 2.0));
      loop->mix_S[b] = (float) exp (g_rand_double_range (rand, -4.0, 2.0));
      for (guint i = 0; i < 2 * TS_PACK; i++)
        {
          loop->K[b * 2 * TS_PACK + i] = (float) exp (g_rand_double_range (rand, -9.0, 2.0));
          loop->S[b * 2 * TS_PACK + i] = (float) exp (g_rand_double_range (rand, -4.0, 2.0));
        }
    }
}

static void
run_loop (Loop *loop, gboolean wide)
{
  float *const lab[3] = { loop->lab[0], loop->lab[1], loop->lab[2] };

  ts_index_kernel_add (&loop->optics, loop->mix_K, loop->mix_S, loop->K, loop->S, 2 * TS_PACK,
                       2 * TS_PACK, lab, wide);
}

/* The same in double precision with the plain formulas. */
static TsLab
plain_colour (const Loop *loop, guint i)
{
  TsSpectrum K, S, R;

  for (guint b = 0; b < TS_BANDS; b++)
    {
      K.band[b] = (double) loop->mix_K[b] + (double) loop->K[b * 2 * TS_PACK + i];
      S.band[b] = (double) loop->mix_S[b] + (double) loop->S[b * 2 * TS_PACK + i];
    }
  ts_mix_get_masstone (&K, &S, (TsSurfaceReflection){ 0.04, 0.6 }, &R);
  return ts_spectrum_to_lab (&R, TS_LIGHT_D50);
}

/* The most that a kernel is off, L*, a*, b*. */
static double
find_error (gboolean wide)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  double most = 0.0;
  Loop loop;

  for (guint round = 0; round < 400; round++)
    {
      fill_loop (&loop, rand);
      run_loop (&loop, wide);
      for (guint i = 0; i < 2 * TS_PACK; i++)
        {
          TsLab lab = plain_colour (&loop, i);

          most = MAX (most, fabs ((double) loop.lab[0][i] - lab.L));
          most = MAX (most, fabs ((double) loop.lab[1][i] - lab.a));
          most = MAX (most, fabs ((double) loop.lab[2][i] - lab.b));
        }
    }
  return most;
}

/* Boxes are widened by the margin: within it no mix is lost, whichever kernel a machine has. */
static void
test_kernels_err_little (void **state)
{
  for (guint wide = 0; wide <= (ts_index_kernel_has_avx2 () ? 1U : 0U); wide++)
    {
      double most = find_error (wide == 1);

      print_message ("%s loops are off by %.6f at most\n", wide == 1 ? "wide" : "plain", most);
      assert_true (most > 0.0);
      assert_true (most < 0.25 * (double) TS_INDEX_MARGIN);
    }
}

static void
test_kernels_pack_alike (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  Loop plain;

  if (!ts_index_kernel_has_avx2 ())
    skip ();
  for (guint round = 0; round < 400; round++)
    {
      guint8 plain_bytes[TS_PACK], wide_bytes[TS_PACK];

      fill_loop (&plain, rand);
      run_loop (&plain, FALSE);
      ts_index_kernel_pack (plain.lab[1], 90.0f, 1.35f, plain_bytes, TS_PACK, FALSE);
      ts_index_kernel_pack (plain.lab[1], 90.0f, 1.35f, wide_bytes, TS_PACK, TRUE);
      assert_memory_equal (plain_bytes, wide_bytes, sizeof plain_bytes);
    }
}

static void
test_find (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);

  for (guint round = 0; round < 300; round++)
    {
      guint n = (guint) g_rand_int_range (rand, 1, 700);
      g_autofree guint8 *boxes = g_malloc (6 * n);
      g_autofree guint *hits = g_new (guint, n);
      guint8 low[3], high[3];
      guint expected = 0;
      guint found;

      for (guint i = 0; i < 3 * n; i++)
        {
          boxes[i] = (guint8) g_rand_int_range (rand, 0, 200);
          boxes[i + 3 * n] = (guint8) (boxes[i] + g_rand_int_range (rand, 0, 56));
        }
      for (guint c = 0; c < 3; c++)
        {
          low[c] = (guint8) g_rand_int_range (rand, 0, 200);
          high[c] = (guint8) (low[c] + g_rand_int_range (rand, 0, 56));
        }
      found = ts_index_kernel_find (boxes, n, n, low, high, hits,
                                    round % 2 == 0 && ts_index_kernel_has_avx2 ());
      for (guint i = 0; i < n; i++)
        {
          gboolean overlaps = TRUE;

          for (guint c = 0; c < 3; c++)
            overlaps &= boxes[c * n + i] <= high[c] && boxes[(c + 3) * n + i] >= low[c];
          if (overlaps)
            assert_int_equal (hits[expected++], i);
        }
      assert_int_equal (found, expected);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_box_bound_holds),         cmocka_unit_test (test_box_bound_is_tight),
    cmocka_unit_test (test_narrowing_loses_nothing), cmocka_unit_test (test_kernels_err_little),
    cmocka_unit_test (test_kernels_pack_alike),      cmocka_unit_test (test_find),
  };

  return cmocka_run_group_tests_name ("recipes/index", tests, NULL, NULL);
}
