/* test-chart-solve.c: what the patches ask for, held to cameras whose answer is known
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-chart-linear.h"
#include "correction/ts-chart-solve.h"
#include "correction/ts-cholesky.h"
#include "correction/ts-usual.h"

typedef struct
{
  double contrast, flare;
  double column, row; /* log of the light's rise over one of each */
} Camera;

/* A camera that sees what the eye sees, through a matrix. */
static TsRgb
see (const Camera *self, TsXyz xyz, double light)
{
  TsRgb rgb = ts_rgb_from_xyz (xyz);
  double seen[3] = { 0.5 * (0.7 * rgb.r + 0.2 * rgb.g + 0.1 * rgb.b),
                     0.8 * (0.1 * rgb.r + 0.8 * rgb.g + 0.1 * rgb.b),
                     0.6 * (0.1 * rgb.r + 0.2 * rgb.g + 0.7 * rgb.b) };

  for (int c = 0; c < 3; c++)
    {
      double v = ts_srgb_encode (light * seen[c] + self->flare);

      seen[c] = ts_srgb_decode (v + self->contrast * (v * v * (3.0 - 2.0 * v) - v));
    }
  return (TsRgb){ seen[0], seen[1], seen[2] };
}

static TsFitPatches
take (const Camera *camera)
{
  TsFitPatches patches = { 0 };
  g_autoptr (GError) error = NULL;
  TsChartReference reference;

  ts_chart_reference_get ("earlier", &reference, &error);
  assert_no_error (error);
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      const double light[2] = { camera->column, camera->row };

      patches.lab[i] = reference.lab[i];
      patches.weight[i] = 1.0;
      patches.rgb[i] = see (camera, ts_xyz_from_lab (reference.lab[i]), ts_chart_light (light, i));
    }
  return patches;
}

/* The mean CIEDE2000 of paints that are not in the chart. */
static double
off_over_paints (const TsCorrectionModel *model, const Camera *camera)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (77);
  double sum = 0.0;

  for (int n = 0; n < 100; n++)
    {
      TsSpectrum paint = ts_usual_paint (random);
      TsXyz xyz = ts_spectrum_to_xyz (&paint, TS_LIGHT_D50);

      sum += ts_delta_e_2000 (
        ts_lab_from_xyz (ts_correction_model_apply (model, see (camera, xyz, 1.0))),
        ts_lab_from_xyz (xyz));
    }
  return sum / 100.0;
}

static void
test_known_cameras (void **state)
{
  static const struct
  {
    Camera camera;
    double most;
  } cases[] = {
    { { 0.0, 0.0, 0.0, 0.0 }, 0.3 },      { { 0.3, 0.0, 0.0, 0.0 }, 0.8 },
    { { 0.6, 0.0, 0.0, 0.0 }, 1.4 },      { { 0.0, 0.0, 0.02, -0.03 }, 0.6 },
    { { 0.3, 0.003, -0.02, 0.01 }, 1.0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TsFitPatches patches = take (&cases[i].camera);
      double residuals[TS_CHART_PATCHES], errors[TS_CHART_PATCHES], off;
      TsCorrectionModel model;

      assert_true (ts_chart_solve (&patches, &model, residuals, errors));
      off = off_over_paints (&model, &cases[i].camera);
      print_message ("contrast %.1f, flare %.3f: off by %.2f\n", cases[i].camera.contrast,
                     cases[i].camera.flare, off);
      assert_true (off <= cases[i].most);
      for (guint k = 0; k < TS_CHART_PATCHES; k++)
        assert_true (errors[k] > residuals[k] - 0.1 && residuals[k] < 3.0);
    }
}

/* A straight camera is taken for one, a bent one is not; the light's gradient comes out. */
static void
test_linear (void **state)
{
  g_autofree TsChartPrior *prior = ts_chart_prior_new ();
  const Camera straight = { 0.0, 0.0, 0.02, -0.03 }, bent = { 0.3, 0.0, 0.02, -0.03 };
  TsFitPatches patches = take (&straight);
  TsChartLinear plain, curved;

  assert_true (ts_chart_linear_fit (&plain, &patches, prior, FALSE, NULL));
  assert_true (ts_chart_linear_fit (&curved, &patches, prior, TRUE, NULL));
  assert_true (plain.evidence > curved.evidence);
  assert_near (plain.light[0], 0.02, 0.004);
  assert_near (plain.light[1], -0.03, 0.006);

  patches = take (&bent);
  assert_true (ts_chart_linear_fit (&plain, &patches, prior, FALSE, NULL));
  assert_true (ts_chart_linear_fit (&curved, &patches, prior, TRUE, NULL));
  assert_true (curved.evidence > plain.evidence);
  assert_near (curved.light[0], 0.02, 0.004);
}

/* A patch that is wrong is far off when it is left out, and one of no weight changes nothing. */
static void
test_left_out (void **state)
{
  const Camera camera = { 0.0, 0.0, 0.0, 0.0 };
  TsFitPatches patches = take (&camera);
  double residuals[TS_CHART_PATCHES], errors[TS_CHART_PATCHES];
  TsCorrectionModel model;

  patches.rgb[7].r *= 1.5;
  assert_true (ts_chart_solve (&patches, &model, residuals, errors));
  assert_true (errors[7] > 5.0);
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    assert_true (errors[i] <= errors[7]);
  patches.weight[7] = 0.0;
  assert_true (ts_chart_solve (&patches, &model, residuals, errors));
  assert_near (errors[7], 0.0, 0.0);
  assert_true (off_over_paints (&model, &camera) < 0.3);
}

static void
test_few_patches (void **state)
{
  const Camera camera = { 0.3, 0.0, 0.0, 0.0 };

  for (guint n = 5; n <= 15; n += 5)
    {
      TsFitPatches patches = take (&camera);
      double residuals[TS_CHART_PATCHES], errors[TS_CHART_PATCHES];
      TsCorrectionModel model;

      for (guint i = 0; i < TS_CHART_PATCHES; i++)
        patches.weight[i] = i * 7 % TS_CHART_PATCHES < n ? 1.0 : 0.0;
      assert_int_equal (ts_fit_patches_count (&patches), n);
      assert_true (ts_chart_solve (&patches, &model, residuals, errors));
      assert_true (off_over_paints (&model, &camera) < 3.0);
      for (guint i = 0; i < TS_CHART_PATCHES; i++)
        patches.weight[i] = 0.0;
      assert_false (ts_chart_solve (&patches, &model, residuals, errors));
    }
}

/* A chart of other colours in the same places: fitted by its own patches. */
static void
test_other_chart (void **state)
{
  const Camera straight = { 0.0, 0.0, 0.0, 0.0 }, bent = { 0.4, 0.0, 0.0, 0.0 };
  const Camera *cameras[] = { &straight, &bent };

  for (guint k = 0; k < G_N_ELEMENTS (cameras); k++)
    {
      TsFitPatches patches = take (cameras[k]);
      double residuals[TS_CHART_PATCHES], errors[TS_CHART_PATCHES];
      TsCorrectionModel model;

      for (guint i = 0; i < 18; i++)
        {
          patches.lab[i].a = -0.7 * patches.lab[i].a;
          patches.lab[i].L = 0.9 * patches.lab[i].L;
          patches.rgb[i] = see (cameras[k], ts_xyz_from_lab (patches.lab[i]), 1.0);
        }
      assert_true (ts_chart_solve (&patches, &model, residuals, errors));
      assert_int_equal (model.n_terms, 6);
      assert_true (off_over_paints (&model, cameras[k]) < (k == 0 ? 0.1 : 2.5));
    }
}

/* Symmetric, positive, small; paints that paints can be; always the same. */
static void
test_prior (void **state)
{
  g_autofree TsChartPrior *prior = ts_chart_prior_new ();
  g_autofree TsChartPrior *again = ts_chart_prior_new ();
  double lightest = 0.0, darkest = 100.0, strongest = 0.0;

  assert_memory_equal (prior, again, sizeof *prior);
  for (guint i = 0; i < TS_PRIOR_ROWS; i++)
    {
      assert_true (prior->covariance[i][i] > 0.0 && sqrt (prior->covariance[i][i]) < 0.1);
      for (guint k = 0; k < TS_PRIOR_ROWS; k++)
        assert_near (prior->covariance[i][k], prior->covariance[k][i], 1e-12);
    }
  /* A grey says the same to every camera; a strong colour does not. */
  for (guint c = 0; c < 3; c++)
    assert_true (prior->covariance[3 * 21 + c][3 * 21 + c] <
                 0.1 * prior->covariance[3 * 17 + c][3 * 17 + c]);
  for (guint i = 0; i < TS_PRIOR_PAINTS; i++)
    {
      TsLch lch = ts_lch_from_lab (ts_lab_from_xyz (prior->paint[i]));

      assert_true (lch.L > 0.0 && lch.L < 100.0);
      lightest = MAX (lightest, lch.L);
      darkest = MIN (darkest, lch.L);
      strongest = MAX (strongest, lch.C);
    }
  assert_true (lightest > 80.0 && darkest < 15.0 && strongest > 70.0);
}

static void
test_cholesky (void **state)
{
  double a[9] = { 4.0, 2.0, 1.0, 2.0, 5.0, 3.0, 1.0, 3.0, 6.0 }, whole[9], b[3] = { 1.0, 2.0, 3.0 };
  double singular[4] = { 1.0, 2.0, 2.0, 4.0 }, none[1] = { (double) NAN };

  for (int i = 0; i < 9; i++)
    whole[i] = a[i];
  assert_true (ts_cholesky_factor (a, 3));
  ts_cholesky_forward (a, 3, b);
  ts_cholesky_backward (a, 3, b);
  for (int i = 0; i < 3; i++)
    assert_near (whole[3 * i] * b[0] + whole[3 * i + 1] * b[1] + whole[3 * i + 2] * b[2], i + 1.0,
                 1e-14);
  assert_false (ts_cholesky_factor (singular, 2));
  assert_false (ts_cholesky_factor (none, 1));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_known_cameras), cmocka_unit_test (test_linear),
    cmocka_unit_test (test_left_out),      cmocka_unit_test (test_few_patches),
    cmocka_unit_test (test_other_chart),   cmocka_unit_test (test_prior),
    cmocka_unit_test (test_cholesky),
  };

  return cmocka_run_group_tests_name ("correction/chart-solve", tests, NULL, NULL);
}
