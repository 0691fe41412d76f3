/* test-correction-fit.c: tone curve and terms fitted to patches alone, held to answers that are
 * known
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "colour/ts-colour-convert.h"
#include "correction/ts-correction-fit.h"

/* A camera that sees what the eye sees, through a matrix first so that every channel is above 0,
 * with a contrast curve of strength @contrast on the encoded channels. */
static TsFitPatches
make_patches (double contrast)
{
  TsFitPatches patches = { 0 };
  TsChartReference reference;

  assert_true (ts_chart_reference_get ("earlier", &reference, NULL));
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      TsRgb rgb = ts_rgb_from_xyz (ts_xyz_from_lab (reference.lab[i]));
      double seen[3] = { 0.5 * (0.7 * rgb.r + 0.2 * rgb.g + 0.1 * rgb.b),
                         0.8 * (0.1 * rgb.r + 0.8 * rgb.g + 0.1 * rgb.b),
                         0.6 * (0.1 * rgb.r + 0.2 * rgb.g + 0.7 * rgb.b) };

      for (int c = 0; c < 3; c++)
        {
          double v = ts_srgb_encode (seen[c]);

          seen[c] = ts_srgb_decode (v + contrast * (v * v * (3.0 - 2.0 * v) - v));
        }
      patches.lab[i] = reference.lab[i];
      patches.weight[i] = 1.0;
      patches.rgb[i] = (TsRgb){ seen[0], seen[1], seen[2] };
    }
  return patches;
}

static double
cost_of (const TsCorrectionModel *model, const TsFitPatches *patches)
{
  double cost = 0.0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double e = ts_correction_fit_residual (model, patches, i);

      cost += patches->weight[i] * e * e;
    }
  return cost;
}

static void
test_exact_answers (void **state)
{
  static const double contrasts[] = { 0.0, 0.3, 0.6 };

  for (guint k = 0; k < G_N_ELEMENTS (contrasts); k++)
    {
      TsFitForm form = { .bent = contrasts[k] > 0.0, .n_terms = 3 };
      TsFitPatches patches = make_patches (contrasts[k]);
      TsCorrectionModel model;
      double straight;

      assert_true (ts_correction_fit (&model, &patches, form));
      if (!form.bent)
        {
          assert_near (cost_of (&model, &patches), 0.0, 1e-6);
          continue;
        }
      straight = cost_of (&model, &patches);
      form.bent = FALSE;
      assert_true (ts_correction_fit (&model, &patches, form));
      assert_true (straight < 0.3 * cost_of (&model, &patches));
    }
}

/* No coefficient of the matrix can be moved for a sum of squared CIEDE2000 that is 1 % smaller; the
 * metric at the reference is not quite CIEDE2000. Least squares in XYZ alone leaves 3 %. */
static void
test_least_delta_e (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (9);
  TsFitPatches patches = make_patches (0.0);

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      double factor = g_rand_double_range (random, 0.85, 1.15);

      patches.rgb[i].r *= factor;
      patches.rgb[i].b *= g_rand_double_range (random, 0.9, 1.1);
    }
  for (guint n_terms = 3; n_terms <= 6; n_terms += 3)
    {
      TsFitForm form = { .n_terms = n_terms };
      TsCorrectionModel model;
      double least;

      assert_true (ts_correction_fit (&model, &patches, form));
      least = cost_of (&model, &patches);
      assert_true (least > 10.0);
      for (int c = 0; c < 3; c++)
        for (guint t = 0; t < n_terms; t++)
          for (int sign = -1; sign <= 1; sign += 2)
            {
              TsCorrectionModel moved = model;

              moved.matrix[c][t] += sign * 0.004;
              assert_true (cost_of (&moved, &patches) > 0.99 * least);
            }
    }
}

static void
test_leave_one_out (void **state)
{
  TsFitForm form = { .n_terms = 3 };
  TsFitPatches patches = make_patches (0.0);
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
  TsFitForm form = { .n_terms = 6 };
  TsFitPatches patches = make_patches (0.0);
  TsCorrectionModel model;

  for (guint i = 5; i < TS_CHART_PATCHES; i++)
    patches.weight[i] = 0.0;
  assert_false (ts_correction_fit (&model, &patches, form));
  form.n_terms = 3;
  form.bent = TRUE; /* no greys */
  assert_false (ts_correction_fit (&model, &patches, form));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_exact_answers),
    cmocka_unit_test (test_least_delta_e),
    cmocka_unit_test (test_leave_one_out),
    cmocka_unit_test (test_too_little),
  };

  return cmocka_run_group_tests_name ("correction/fit", tests, NULL, NULL);
}
