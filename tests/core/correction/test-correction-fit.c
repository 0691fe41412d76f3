/* test-correction-fit.c: tone curve, terms and uneven light, each held to an answer that is known
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "colour/ts-colour-convert.h"
#include "correction/ts-correction-fit.h"

/* The chart's own colours under sRGB's primaries, each channel through a power. */
static TsFitPatches
make_patches (double exponent)
{
  TsFitPatches patches = { 0 };
  TsChartReference reference;

  assert_true (ts_chart_reference_get ("earlier", &reference, NULL));
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      TsRgb rgb = ts_rgb_from_xyz (ts_xyz_from_lab (reference.lab[i]));

      patches.lab[i] = reference.lab[i];
      patches.weight[i] = 1.0;
      /* A matrix first, so that every channel is above 0. */
      patches.rgb[i] = (TsRgb){ 0.5 * pow (0.7 * rgb.r + 0.2 * rgb.g + 0.1 * rgb.b, exponent),
                                0.8 * pow (0.1 * rgb.r + 0.8 * rgb.g + 0.1 * rgb.b, exponent),
                                0.6 * pow (0.1 * rgb.r + 0.2 * rgb.g + 0.7 * rgb.b, exponent) };
    }
  return patches;
}

static double
cost_of (const TsCorrectionModel *model, const TsFitPatches *patches, const double light[2])
{
  double cost = 0.0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double e = ts_correction_fit_residual (model, patches, light, i);

      cost += patches->weight[i] * e * e;
    }
  return cost;
}

static void
test_exact_answers (void **state)
{
  static const double exponents[] = { 1.0, 1.0 / 1.3, 1.25 };

  for (guint k = 0; k < G_N_ELEMENTS (exponents); k++)
    {
      TsFitForm form = { .tone = exponents[k] == 1.0 ? TS_TONE_NONE : TS_TONE_POWER, .n_terms = 3 };
      TsFitPatches patches = make_patches (exponents[k]);
      TsCorrectionModel model;
      double light[2];

      assert_true (ts_correction_fit (&model, &patches, form, light));
      assert_near (model.tone[0].b, 1.0 / exponents[k], 0.01);
      assert_near (cost_of (&model, &patches, light), 0.0, exponents[k] == 1.0 ? 1e-6 : 1.0);
    }
}

/* No coefficient of the matrix can be moved for a sum of squared CIEDE2000 that is 1 % smaller; the
 * metric at the reference is not quite CIEDE2000. Least squares in XYZ alone leaves 3 %. */
static void
test_least_delta_e (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (9);
  TsFitPatches patches = make_patches (1.0);

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double factor = g_rand_double_range (random, 0.85, 1.15);

      patches.rgb[i].r *= factor;
      patches.rgb[i].b *= g_rand_double_range (random, 0.9, 1.1);
    }
  for (guint n_terms = 3; n_terms <= 6; n_terms += 3)
    {
      TsFitForm form = { .tone = TS_TONE_NONE, .n_terms = n_terms };
      TsCorrectionModel model;
      double light[2], least;

      assert_true (ts_correction_fit (&model, &patches, form, light));
      least = cost_of (&model, &patches, light);
      assert_true (least > 10.0);
      for (int c = 0; c < 3; c++)
        for (guint t = 0; t < n_terms; t++)
          for (int sign = -1; sign <= 1; sign += 2)
            {
              TsCorrectionModel moved = model;

              moved.matrix[c][t] += sign * 0.004;
              assert_true (cost_of (&moved, &patches, light) > 0.99 * least);
            }
    }
}

static void
test_uneven_light (void **state)
{
  TsFitForm form = { .tone = TS_TONE_NONE, .n_terms = 3, .uneven = TRUE };
  TsFitPatches patches = make_patches (1.0);
  TsCorrectionModel model;
  double light[2];

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double factor = exp (0.02 * (i % 6) - 0.03 * (i / 6));

      patches.rgb[i].r *= factor;
      patches.rgb[i].g *= factor;
      patches.rgb[i].b *= factor;
    }
  assert_true (ts_correction_fit (&model, &patches, form, light));
  assert_near (light[0], 0.02, 0.003);
  assert_near (light[1], -0.03, 0.003);
}

static void
test_leave_one_out (void **state)
{
  TsFitForm form = { .tone = TS_TONE_NONE, .n_terms = 3 };
  TsFitPatches patches = make_patches (1.0);
  double errors[TS_CHART_PATCHES];

  patches.weight[4] = 0.0;
  patches.rgb[7].r *= 1.5;
  assert_true (ts_correction_fit_leave_one_out (&patches, form, errors));
  assert_near (errors[4], 0.0, 0.0);
  assert_true (errors[7] > 5.0);
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    assert_true (errors[i] <= errors[7]);
}

static void
test_too_little (void **state)
{
  TsFitForm form = { .tone = TS_TONE_NONE, .n_terms = 6 };
  TsFitPatches patches = make_patches (1.0);
  TsCorrectionModel model;
  double light[2];

  for (guint i = 5; i < TS_CHART_PATCHES; i++)
    patches.weight[i] = 0.0;
  assert_false (ts_correction_fit (&model, &patches, form, light));
  form.n_terms = 3;
  form.tone = TS_TONE_CUBIC; /* no greys */
  assert_false (ts_correction_fit (&model, &patches, form, light));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_exact_answers), cmocka_unit_test (test_least_delta_e),
    cmocka_unit_test (test_uneven_light),  cmocka_unit_test (test_leave_one_out),
    cmocka_unit_test (test_too_little),
  };

  return cmocka_run_group_tests_name ("correction/fit", tests, NULL, NULL);
}
