/* test-curve-parts.c: the algebra below the fit, held to plain versions of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "curve/ts-curve-basis.h"
#include "curve/ts-curve-ensemble.h"
#include "curve/ts-curve-prior.h"
#include "curve/ts-curve-shape.h"
#include "curve/ts-curve-steep.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>

#define N 17

static void
fill_random (TsBand *band, GRand *random)
{
  ts_band_init (band, N);
  for (guint i = 0; i < N; i++)
    for (guint j = 0; j < TS_BAND_WIDTH && i + j < N; j++)
      band->row[i][j] =
        j == 0 ? g_rand_double_range (random, 4, 9) : g_rand_double_range (random, -1, 1);
}

static gsl_matrix *
make_dense (const TsBand *band)
{
  gsl_matrix *dense = gsl_matrix_calloc (N, N);

  for (guint i = 0; i < N; i++)
    for (guint j = 0; j < TS_BAND_WIDTH && i + j < N; j++)
      {
        gsl_matrix_set (dense, i, i + j, band->row[i][j]);
        gsl_matrix_set (dense, i + j, i, band->row[i][j]);
      }
  return dense;
}

/* Against GSL's dense Cholesky decomposition. */
static void
test_band (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (5);

  for (guint round = 0; round < 50; round++)
    {
      TsBand band, decomposed, inverse;
      gsl_matrix *dense;
      gsl_vector *right = gsl_vector_alloc (N), *solution = gsl_vector_alloc (N);
      double x[N], log_det = 0.0;

      fill_random (&band, random);
      dense = make_dense (&band);
      for (guint i = 0; i < N; i++)
        gsl_vector_set (right, i, x[i] = g_rand_double_range (random, -5, 5));
      decomposed = band;
      assert_true (ts_band_decompose (&decomposed));
      ts_band_solve (&decomposed, x);
      ts_band_invert (&decomposed, &inverse);
      gsl_linalg_cholesky_decomp1 (dense);
      gsl_linalg_cholesky_solve (dense, right, solution);
      for (guint i = 0; i < N; i++)
        {
          assert_near (x[i], gsl_vector_get (solution, i), 1e-12);
          log_det += 2.0 * log (gsl_matrix_get (dense, i, i));
        }
      assert_near (ts_band_log_det (&decomposed), log_det, 1e-11);
      gsl_linalg_cholesky_invert (dense);
      for (guint i = 0; i < N; i++)
        for (guint j = 0; j < TS_BAND_WIDTH && i + j < N; j++)
          assert_near (inverse.row[i][j], gsl_matrix_get (dense, i, i + j), 1e-12);
      gsl_matrix_free (dense);
      gsl_vector_free (right);
      gsl_vector_free (solution);
    }
}

static void
test_not_definite (void **state)
{
  TsBand band;

  ts_band_init (&band, 3);
  band.row[0][0] = band.row[1][0] = band.row[2][0] = 1.0;
  band.row[0][1] = 2.0;
  assert_false (ts_band_decompose (&band));
  ts_band_init (&band, 1);
  band.row[0][0] = NAN;
  assert_false (ts_band_decompose (&band));
}

/* The splines sum to 1, give back a straight line, and their slopes are those of differences. */
static void
test_basis (void **state)
{
  double line[TS_BAND_MAX];

  for (guint segments = 1; segments <= 40; segments += 13)
    {
      for (guint i = 0; i < segments + 3; i++)
        line[i] = 3.0 + 2.0 * ((double) i - 1.0) / segments;
      for (guint i = 0; i <= 97; i++)
        {
          double x = i / 97.0;
          TsBasis basis = ts_basis_at (segments, x), slope = ts_basis_slope (segments, x);
          double sum = 0.0;

          for (guint u = 0; u < TS_BASIS_ORDER; u++)
            {
              assert_true (basis.weight[u] >= 0.0);
              sum += basis.weight[u];
            }
          assert_near (sum, 1.0, 1e-14);
          assert_near (ts_basis_sum (&basis, line), 3.0 + 2.0 * x, 1e-12);
          assert_near (ts_basis_sum (&slope, line), 2.0, 1e-11);
        }
    }
}

/* A stiff prior of each order takes curves of a lower degree for likelier than others. */
static void
test_prior (void **state)
{
  for (guint order = 1; order <= TS_PRIOR_ORDERS; order++)
    {
      TsCurvePrior stiff, supple;
      double plain[N], wavy[N];

      ts_curve_prior_init (&stiff, N - 3, order, 0);
      ts_curve_prior_init (&supple, N - 3, order, TS_PRIOR_AMPLITUDES - 1);
      for (guint i = 0; i < N; i++)
        {
          plain[i] = pow (i, order - 1.0);
          wavy[i] = i % 2 ? 20.0 : 0.0;
        }
      assert_true (ts_band_form (&stiff.precision, plain) * 100.0 <
                   ts_band_form (&stiff.precision, wavy) * ts_band_form (&supple.precision, plain) +
                     ts_band_form (&stiff.precision, wavy));
      assert_true (ts_band_form (&supple.precision, wavy) * 100.0 <
                   ts_band_form (&stiff.precision, wavy));
      assert_true (stiff.log_det > supple.log_det);
    }
}

/* Minus twice the logarithm of the density of @off under a normal distribution, by the dense matrix
 * of its covariances. */
static double
score_dense (gsl_matrix *covariance, const gsl_vector *off)
{
  gsl_vector *x = gsl_vector_alloc (off->size);
  double score = 0.0, square;

  gsl_linalg_cholesky_decomp1 (covariance);
  gsl_linalg_cholesky_solve (covariance, off, x);
  gsl_blas_ddot (off, x, &square);
  for (gsize i = 0; i < off->size; i++)
    score += 2.0 * log (gsl_matrix_get (covariance, i, i));
  gsl_vector_free (x);
  return score + square;
}

/* Of the coefficients, as the inverse of the precision and a height of @size L* times the form. */
static void
fill_covariance (const TsCurvePrior *prior, const TsCurveForm *form, double size,
                 gsl_matrix *covariance)
{
  guint n = prior->precision.n;

  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < n; j++)
      {
        guint apart = i < j ? j - i : i - j;

        gsl_matrix_set (covariance, i, j,
                        apart < TS_BAND_WIDTH ? prior->precision.row[MIN (i, j)][apart] : 0.0);
      }
  gsl_linalg_cholesky_decomp1 (covariance);
  gsl_linalg_cholesky_invert (covariance);
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < n; j++)
      *gsl_matrix_ptr (covariance, i, j) +=
        size * size * form->coefficients[i] * form->coefficients[j];
}

/* The values that a model expects have the covariances of its coefficients and their own. */
static double
score_values (const TsCurveData *data, const TsCurvePrior *prior, const TsCurveForm *form)
{
  gsl_matrix *of_c = gsl_matrix_alloc (data->segments + 3, data->segments + 3);
  gsl_matrix *of_y = gsl_matrix_calloc (data->n, data->n);
  gsl_vector *off = gsl_vector_alloc (data->n);
  double score;

  fill_covariance (prior, form, 60.0, of_c);
  for (gsize i = 0; i < data->n; i++)
    {
      gsl_vector_set (off, i, data->value[i] - data->centre);
      *gsl_matrix_ptr (of_y, i, i) += data->factor * data->variance[i];
      for (gsize j = 0; j < data->n; j++)
        for (guint u = 0; u < TS_BASIS_ORDER; u++)
          for (guint v = 0; v < TS_BASIS_ORDER; v++)
            *gsl_matrix_ptr (of_y, i, j) +=
              data->basis[i].weight[u] * data->basis[j].weight[v] *
              gsl_matrix_get (of_c, data->basis[i].first + u, data->basis[j].first + v);
    }
  score = score_dense (of_y, off);
  gsl_matrix_free (of_c);
  gsl_matrix_free (of_y);
  gsl_vector_free (off);
  return score + form->handicap;
}

/* Forms are scored by updates of rank one; the dense matrices say the same of all of them. */
static void
test_forms (void **state)
{
  enum
  {
    SEGMENTS = 20,
    SPOTS = 9,
  };
  gboolean trusted[SPOTS] = { FALSE };
  TsBasis basis[SPOTS];
  double value[SPOTS], variance[SPOTS], scores[TS_FORMS_MOST];
  g_autofree TsCurveForm *forms = g_new (TsCurveForm, TS_FORMS_MOST);
  guint n = ts_curve_forms_fill (forms, SEGMENTS);
  TsCurveData data = {
    SEGMENTS, SPOTS, basis, value, variance, 50.0, 6.0, 1.5, trusted, TRUE, FALSE
  };

  for (guint i = 0; i < SPOTS; i++)
    {
      basis[i] = ts_basis_at (SEGMENTS, i / (SPOTS - 1.0));
      value[i] = i < 4 ? 80.0 - i : 30.0 - i * i / 10.0;
      variance[i] = 1.0 + i % 3;
    }
  for (guint order = 1; order <= 2; order++)
    {
      TsCurvePrior prior;
      TsCurveModel model;

      ts_curve_prior_init (&prior, SEGMENTS, order, 2);
      ts_curve_model_init (&model, &data, &prior, NULL);
      ts_curve_model_gather (&model, &data);
      ts_curve_model_try (&model, &data, &prior, forms, n, scores);
      for (guint k = 1; k < n; k++)
        assert_near (
          scores[k] - scores[0],
          score_values (&data, &prior, &forms[k]) - score_values (&data, &prior, &forms[0]), 1e-5);
      ts_curve_model_clear (&model);
    }
}

/* The conditions of Karush, Kuhn and Tucker: pairs go the right way, forces hold only what is tied,
 * and none pulls where it should push. */
static void
assert_optimal (const TsBand *precision, const double *right, const TsCurveTies *ties,
                const double *coefficients)
{
  double force[TS_BAND_MAX], sum = 0.0;

  ts_band_multiply (precision, coefficients, force);
  for (guint i = 0; i < precision->n; i++)
    {
      double sign = i < ties->turn ? 1.0 : -1.0;

      sum += force[i] - right[i];
      if (i + 1 == precision->n)
        assert_near (sum, 0.0, 1e-8);
      else
        {
          assert_true (sign * (coefficients[i] - coefficients[i + 1]) >= -1e-8);
          assert_true (sign * sum >= -1e-8);
          if (!ties->tied[i])
            assert_near (sum, 0.0, 1e-8);
        }
    }
}

static void
test_shape (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (11);
  guint tied = 0, rounds = 0;

  for (guint round = 0; round < 300; round++)
    {
      TsBand precision;
      TsCurveTies ties = { .turn = (guint) g_rand_int_range (random, 0, N) };
      double right[TS_BAND_MAX], coefficients[TS_BAND_MAX], form;

      fill_random (&precision, random);
      for (guint i = 0; i < N; i++)
        {
          ties.tied[i] = g_rand_boolean (random);
          right[i] = g_rand_double_range (random, -20, 60);
        }
      form = ts_curve_shape_solve (&precision, right, &ties, coefficients);
      assert_optimal (&precision, right, &ties, coefficients);
      for (guint i = 0; i < N; i++)
        form += 2.0 * right[i] * coefficients[i];
      assert_near (form, ts_band_form (&precision, coefficients), 1e-6);
      for (guint i = 0; i + 1 < N; i++, rounds++)
        tied += ties.tied[i];
    }
  /* Some are tied and some are not, so both sides were tried. */
  assert_in_range (tied, rounds / 10, rounds * 9 / 10);
}

/* Falls faster up to the steepest step, slower after it, and past the turn it rises. */
static void
assert_steep (const double *c, guint turn, guint steepest)
{
  for (guint i = 0; i + 1 < N; i++)
    {
      double step = c[i + 1] - c[i], next = i + 2 < N ? c[i + 2] - c[i + 1] : 0.0;

      assert_true (i < turn ? step <= 1e-8 : step >= -1e-8);
      if (i + 1 < turn && i < steepest)
        assert_true (next <= step + 1e-8);
      if (i + 1 < turn && i >= steepest)
        assert_true (next >= step - 1e-8);
    }
}

static double
form_of (const TsBand *precision, const double *right, const double *c)
{
  double form = ts_band_form (precision, c);

  for (guint i = 0; i < N; i++)
    form -= 2.0 * right[i] * c[i];
  return form;
}

/* Another curve of the same kind, from steps drawn at random and sorted. */
static void
draw_steep (double *c, guint turn, guint steepest, GRand *random)
{
  double step[N];

  for (guint i = 0; i + 1 < N; i++)
    step[i] = g_rand_double (random);
  for (guint i = steepest; i > 0; i--)
    step[i - 1] = step[i] * step[i - 1];
  for (guint i = steepest + 1; i < turn; i++)
    step[i] *= step[i - 1];
  c[0] = g_rand_double_range (random, -5, 5);
  for (guint i = 0; i + 1 < N; i++)
    c[i + 1] = c[i] + (i < turn ? -step[i] : step[i]);
}

/* A cone's best point: no other curve of the kind added to it is better, nor is more or less of
 * itself. */
static void
test_steep (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (13);
  guint straight = 0;

  for (guint round = 0; round < 200; round++)
    {
      TsBand precision;
      guint turn = (guint) g_rand_int_range (random, 3, N);
      guint steepest = (guint) g_rand_int_range (random, 0, (gint) turn);
      double right[TS_BAND_MAX], c[TS_BAND_MAX], other[N], best, more, less;

      fill_random (&precision, random);
      for (guint i = 0; i < N; i++)
        right[i] = g_rand_double_range (random, -20, 60) + 60.0 - 6.0 * i;
      best = ts_curve_steep_solve (&precision, right, turn, steepest, c);
      assert_steep (c, turn, steepest);
      assert_near (best, form_of (&precision, right, c), 1e-6);
      for (guint i = 0; i < 20; i++)
        {
          draw_steep (other, turn, steepest, random);
          assert_steep (other, turn, steepest);
          for (guint j = 0; j < N; j++)
            other[j] = c[j] + 0.01 * other[j];
          assert_true (form_of (&precision, right, other) >= best - 1e-7);
        }
      for (guint j = 0; j < N; j++)
        other[j] = 1.001 * c[j];
      more = form_of (&precision, right, other);
      for (guint j = 0; j < N; j++)
        other[j] = 0.999 * c[j];
      less = form_of (&precision, right, other);
      assert_near (more, less, 1e-6 * (1.0 + fabs (best)));
      for (guint i = 1; i + 1 < N; i++)
        straight += fabs (c[i + 1] - 2.0 * c[i] + c[i - 1]) < 1e-8;
      assert_true (ts_curve_steep_find (&precision, right, turn) < turn);
    }
  assert_in_range (straight, 200, 200 * (N - 2) - 200);
}

/* Where all coefficients are tied, the marginal likelihood is that of one number, their mean: its
 * prior and its data are plain sums. */
static void
test_ties_cost_no_more_than_one (void **state)
{
  enum
  {
    SEGMENTS = 12,
    SPOTS = 15,
  };
  gboolean trusted[SPOTS] = { FALSE };
  TsBasis basis[SPOTS];
  double value[SPOTS], variance[SPOTS], right[TS_BAND_MAX], ones[TS_BAND_MAX];
  double expected;
  guint falling = SEGMENTS + 2;
  TsCurveData data = {
    SEGMENTS, SPOTS, basis, value, variance, 50.0, 6.0, 1.0, trusted, TRUE, FALSE
  };
  TsCurvePrior prior;
  TsCurveModel model;
  TsBand precision;

  for (guint i = 0; i < SPOTS; i++)
    {
      basis[i] = ts_basis_at (SEGMENTS, i / (SPOTS - 1.0));
      value[i] = 40.0 + 2.0 * i;
      variance[i] = 1.0;
    }
  for (guint i = 0; i < TS_BAND_MAX; i++)
    ones[i] = 1.0;
  ts_curve_prior_init (&prior, SEGMENTS, 2, 3);
  ts_curve_model_init (&model, &data, &prior, NULL);
  ts_curve_model_fit (&model, &data, NULL);
  assert_near (model.tied, 0.0, 0.0);
  ts_curve_shape_fit (&model, &data, &falling);
  for (guint i = 0; i + 1 < SEGMENTS + 3; i++)
    assert_near (model.coefficients[i], model.coefficients[i + 1], 1e-9);
  ts_curve_model_precision (&model, &data, &precision, right);
  expected = log (ts_band_form (&precision, ones) / ts_band_form (&prior.precision, ones));
  ts_band_decompose (&precision);
  expected -= ts_band_log_det (&precision) - prior.log_det;
  assert_near (model.tied, expected, 1e-6);
  assert_true (model.tied < -1.0);
  ts_curve_model_clear (&model);
}

/* Fits that keep a shape are averaged by the marginal likelihood of the coefficients that their
 * ties leave free: every logarithm of a weight is the same multiple of that score. */
static void
test_ties_weigh (void **state)
{
  enum
  {
    SEGMENTS = 20,
    SPOTS = 15,
  };
  gboolean trusted[SPOTS] = { FALSE };
  TsBasis basis[SPOTS];
  double value[SPOTS], variance[SPOTS], score[TS_ENSEMBLE_MOST], least_tied = 0.0, most_tied = -1e9;
  TsCurveData data = { SEGMENTS, SPOTS, basis, value, variance, 50.0, 6.0, 1.0, trusted, TRUE };
  g_autoptr (TsCurveEnsemble) fits = NULL;
  guint worst = 0;

  for (guint i = 0; i < SPOTS; i++)
    {
      basis[i] = ts_basis_at (SEGMENTS, i / (SPOTS - 1.0));
      value[i] = (i < 7 ? 70.0 : 40.0) + (i % 3 - 1.0);
      variance[i] = 1.0;
    }
  fits = ts_curve_ensemble_fit (&data, TS_CURVE_RULE_SURFACE);
  for (guint k = 0; k < fits->n; k++)
    {
      TsCurveModel again;

      ts_curve_model_copy (&again, &fits->free[k], &data);
      ts_curve_shape_fit (&again, &data, &fits->turn);
      score[k] = again.score + again.tied;
      ts_curve_model_clear (&again);
      if (!(fits->weight[k] > 0.0))
        continue;
      least_tied = MIN (least_tied, again.tied);
      most_tied = MAX (most_tied, again.tied);
      if (fits->weight[k] < fits->weight[worst] || !(fits->weight[worst] > 0.0))
        worst = k;
    }
  assert_true (most_tied - least_tied > 2.0);
  for (guint k = 0; k < fits->n; k++)
    for (guint j = 0; j < fits->n; j++)
      if (fits->weight[k] > 0.0 && fits->weight[j] > 0.0)
        assert_near (log (fits->weight[k] / fits->weight[j]) * (score[worst] - score[j]),
                     log (fits->weight[worst] / fits->weight[j]) * (score[k] - score[j]), 1e-6);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_band),
    cmocka_unit_test (test_not_definite),
    cmocka_unit_test (test_basis),
    cmocka_unit_test (test_prior),
    cmocka_unit_test (test_forms),
    cmocka_unit_test (test_shape),
    cmocka_unit_test (test_steep),
    cmocka_unit_test (test_ties_weigh),
    cmocka_unit_test (test_ties_cost_no_more_than_one),
  };

  return cmocka_run_group_tests_name ("curve/parts", tests, NULL, NULL);
}
