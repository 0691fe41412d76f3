/* ts-curve-model.c: measured values, and a curve through them under one prior
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-model.h"

#include <math.h>
#include <string.h>

/* Before anything was measured, one value in so many is an outlier, as sure as if that many had
 * been looked at. */
#define STRAY_ONE_IN 10.0
/* An outlier is as likely so many times farther off again as it is so many times nearer, from this
 * many expected deviations up to the whole scale of lightness: nothing is known of its size. */
#define STRAY_NEAR 3.0
#define STRAY_FAR 100.0
/* Rounds with the weights of Student's t of so many degrees, then with shares. */
#define HEAVY_ROUNDS 3
#define HEAVY_DEGREES 3.0
#define SHARE_ROUNDS 6
#define SETTLED 0.01
/* The variances are never less than this times what was stated. */
#define LEAST_FACTOR 0.09
/* How high a form may be, L*: a common fall. */
#define HEIGHT 60.0

void
ts_curve_data_clear (TsCurveData *self)
{
  g_clear_pointer (&self->basis, g_free);
  g_clear_pointer (&self->value, g_free);
  g_clear_pointer (&self->variance, g_free);
  g_clear_pointer (&self->trusted, g_free);
}

void
ts_curve_model_init (TsCurveModel *self, const TsCurveData *data, const TsCurvePrior *prior,
                     const TsCurveForm *form)
{
  *self = (TsCurveModel){
    .prior = prior, .form = form, .factor = data->factor, .stray = 1.0 / STRAY_ONE_IN
  };
  self->share = g_new (double, data->n);
  for (gsize i = 0; i < data->n; i++)
    self->share[i] = 1.0;
}

void
ts_curve_model_clear (TsCurveModel *self)
{
  g_clear_pointer (&self->share, g_free);
}

/* @self must be cleared or never filled. */
void
ts_curve_model_copy (TsCurveModel *self, const TsCurveModel *from, const TsCurveData *data)
{
  *self = *from;
  self->share = g_memdup2 (from->share, data->n * sizeof *from->share);
}

double
ts_curve_model_residual (const TsCurveModel *self, const TsCurveData *data, gsize index)
{
  return data->value[index] - ts_basis_sum (&data->basis[index], self->coefficients);
}

/* Density of outliers, per L*, at @residual from the curve. */
static double
stray_density (const TsCurveData *data, gsize index, double residual)
{
  double near = STRAY_NEAR * sqrt (data->factor * data->variance[index]);

  near = MIN (near, 0.5 * STRAY_FAR);
  return 0.5 / (fmax (fabs (residual), near) * (1.0 + log (STRAY_FAR / near)));
}

double
ts_curve_model_belief (const TsCurveModel *self, const TsCurveData *data, gsize index,
                       double residual)
{
  double scale = self->factor * data->variance[index];
  double belongs =
    (1.0 - self->stray) * exp (-0.5 * residual * residual / scale) / sqrt (2.0 * G_PI * scale);

  return belongs / (belongs + self->stray * stray_density (data, index, residual));
}

double
ts_curve_model_sum_shares (const TsCurveModel *self, const TsCurveData *data)
{
  double sum = 0.0;

  for (gsize i = 0; i < data->n; i++)
    sum += self->share[i];
  return sum;
}

/* Sums the normal equations, each value weighted by its share. */
void
ts_curve_model_gather (TsCurveModel *self, const TsCurveData *data)
{
  ts_band_init (&self->normal, data->segments + 3);
  memset (self->right, 0, sizeof self->right);
  for (gsize i = 0; i < data->n; i++)
    {
      const TsBasis *basis = &data->basis[i];
      double weight = self->share[i] / data->variance[i];

      for (guint u = 0; u < TS_BASIS_ORDER; u++)
        {
          double part = weight * basis->weight[u];

          self->right[basis->first + u] += part * data->value[i];
          for (guint v = u; v < TS_BASIS_ORDER; v++)
            self->normal.row[basis->first + u][v - u] += part * basis->weight[v];
        }
    }
}

/* What the prior expects of the coefficients. */
static void
fill_expected (const TsCurveModel *self, const TsCurveData *data, double *expected)
{
  for (guint i = 0; i < data->segments + 3; i++)
    expected[i] = data->centre + (self->form ? self->height * self->form->coefficients[i] : 0.0);
}

/* The precision of the coefficients, and the right side that goes with it. */
void
ts_curve_model_precision (const TsCurveModel *self, const TsCurveData *data, TsBand *precision,
                          double *right)
{
  double expected[TS_BAND_MAX];

  fill_expected (self, data, expected);
  ts_band_multiply (&self->prior->precision, expected, right);
  *precision = self->prior->precision;
  for (guint i = 0; i < precision->n; i++)
    {
      right[i] += self->right[i] / self->factor;
      for (guint j = 0; j < TS_BAND_WIDTH; j++)
        precision->row[i][j] += self->normal.row[i][j] / self->factor;
    }
}

/* @pull: the form, weighed by the prior; @moved: how the curve follows it. */
static void
follow (const TsCurvePrior *prior, const TsCurveForm *form, const TsBand *decomposed, double *pull,
        double *moved)
{
  ts_band_multiply (&prior->precision, form->coefficients, pull);
  memcpy (moved, pull, decomposed->n * sizeof *moved);
  ts_band_solve (decomposed, moved);
}

void
ts_curve_model_follow (const TsCurveModel *self, const TsBand *decomposed, double *moved)
{
  double pull[TS_BAND_MAX];

  follow (self->prior, self->form, decomposed, pull, moved);
}

/* The likeliest height of a form whatever the curve does, and its variance. @level: the
 * coefficients without the form; @moved is filled. */
static double
find_height (const TsCurveData *data, const TsCurvePrior *prior, const TsCurveForm *form,
             const TsBand *decomposed, const double *level, double *moved, double *variance)
{
  double pull[TS_BAND_MAX], known = 1.0 / (HEIGHT * HEIGHT), sum = 0.0;

  follow (prior, form, decomposed, pull, moved);
  for (guint i = 0; i < decomposed->n; i++)
    {
      known += pull[i] * (form->coefficients[i] - moved[i]);
      sum += pull[i] * (level[i] - data->centre);
    }
  *variance = 1.0 / known;
  return sum / known;
}

/* What a form costs, as evidence, for one of so many that may have any height. */
static double
score_form (const TsCurveForm *form, double variance)
{
  return form->handicap + log (HEIGHT * HEIGHT / variance);
}

/* Adds the form to a curve that was found without it. */
static void
add_form (TsCurveModel *self, const TsCurveData *data, const TsBand *decomposed)
{
  double moved[TS_BAND_MAX];

  self->height = find_height (data, self->prior, self->form, decomposed, self->coefficients, moved,
                              &self->height_variance);
  for (guint i = 0; i < decomposed->n; i++)
    self->coefficients[i] += self->height * moved[i];
  self->freedom += self->height_variance * ts_band_form (&self->normal, moved) / self->factor;
}

/* The most likely coefficients, and the freedom they take up. */
static void
solve_free (TsCurveModel *self, const TsCurveData *data)
{
  TsBand precision, inverse;

  self->height = 0.0;
  ts_curve_model_gather (self, data);
  ts_curve_model_precision (self, data, &precision, self->coefficients);
  ts_band_decompose (&precision);
  ts_band_solve (&precision, self->coefficients);
  ts_band_invert (&precision, &inverse);
  self->freedom = ts_band_product_trace (&inverse, &self->normal) / self->factor;
  if (self->form != NULL)
    add_form (self, data, &precision);
}

static int
compare_doubles (const void *one, const void *other)
{
  double a = *(const double *) one, b = *(const double *) other;

  return (a > b) - (a < b);
}

/* The factor from the median residual, blended with what is expected; then the weights. */
static void
weigh_heavy (TsCurveModel *self, const TsCurveData *data, double *size)
{
  double spread;

  for (gsize i = 0; i < data->n; i++)
    size[i] = fabs (ts_curve_model_residual (self, data, i)) / sqrt (data->variance[i]);
  for (gsize i = 0; i < data->n; i++)
    self->share[i] = size[i];
  qsort (size, data->n, sizeof *size, compare_doubles);
  /* The median of the sizes of normal numbers is 0.6745 of their deviation. */
  spread = 0.5 * (size[data->n / 2] + size[(data->n - 1) / 2]) / 0.6745;
  self->factor =
    (data->degrees * data->factor + data->n * spread * spread) / (data->degrees + data->n);
  self->factor = fmax (self->factor, LEAST_FACTOR);
  for (gsize i = 0; i < data->n; i++)
    self->share[i] =
      (HEAVY_DEGREES + 1.0) / (HEAVY_DEGREES + self->share[i] * self->share[i] / self->factor);
}

/* How sure each value is to belong to the curve, then the factor from those that do. */
void
ts_curve_model_judge (TsCurveModel *self, const TsCurveData *data)
{
  double sum = 0.0, squares = 0.0;

  for (gsize i = 0; i < data->n; i++)
    {
      double r = ts_curve_model_residual (self, data, i);
      double square = r * r / data->variance[i];

      if (data->robust)
        self->share[i] = data->trusted[i] ? 1.0 : ts_curve_model_belief (self, data, i, r);
      sum += self->share[i];
      squares += self->share[i] * square;
    }
  self->factor =
    (data->degrees * data->factor + squares) / (data->degrees + fmax (sum - self->freedom, 0.0));
  self->factor = fmax (self->factor, LEAST_FACTOR);
  self->stray = (1.0 + data->n - sum) / (STRAY_ONE_IN + data->n);
}

double
ts_curve_model_try (const TsCurveModel *self, const TsCurveData *data, const TsCurvePrior *prior,
                    const TsCurveForm *forms, guint n_forms, double *scores)
{
  TsCurveModel other = *self;
  double right[TS_BAND_MAX], x[TS_BAND_MAX], moved[TS_BAND_MAX], score;
  TsBand precision;

  other.prior = prior;
  other.form = NULL;
  ts_curve_model_precision (&other, data, &precision, right);
  memcpy (x, right, sizeof x);
  ts_band_decompose (&precision);
  ts_band_solve (&precision, x);
  score = ts_band_log_det (&precision) - prior->log_det;
  for (guint i = 0; i < precision.n; i++)
    score -= right[i] * x[i];
  fill_expected (&other, data, right);
  score += ts_band_form (&prior->precision, right);
  for (guint k = 0; k < n_forms; k++)
    {
      double variance;
      double height = find_height (data, prior, &forms[k], &precision, x, moved, &variance);

      scores[k] = score + score_form (&forms[k], variance) - height * height / variance;
    }
  return score;
}

static double
entropy (double share)
{
  return share > 0.0 ? share * log (share) : 0.0;
}

/* Minus twice the logarithm of the marginal likelihood, by Laplace's approximation about the
 * coefficients as they stand (Wood 2011), with the shares as a variational bound. */
void
ts_curve_model_score (TsCurveModel *self, const TsCurveData *data)
{
  TsBand precision;
  double right[TS_BAND_MAX], off[TS_BAND_MAX];
  double score = 0.0;

  for (gsize i = 0; i < data->n; i++)
    {
      double r = ts_curve_model_residual (self, data, i);
      double p = self->share[i], scale = self->factor * data->variance[i];

      score += p * (log (2.0 * G_PI * scale) + r * r / scale);
      if (data->robust)
        score += 2.0 * (entropy (p) + entropy (1.0 - p) - p * log (1.0 - self->stray) -
                        (1.0 - p) * log (self->stray * stray_density (data, i, r)));
    }
  if (data->robust)
    score -= 2.0 * (log (self->stray) + (STRAY_ONE_IN - 1.0) * log (1.0 - self->stray));
  if (self->form != NULL)
    score += score_form (self->form, self->height_variance) +
             self->height * self->height / (HEIGHT * HEIGHT);
  fill_expected (self, data, off);
  for (guint i = 0; i < self->normal.n; i++)
    off[i] = self->coefficients[i] - off[i];
  ts_curve_model_precision (self, data, &precision, right);
  ts_band_decompose (&precision);
  self->score = score + ts_band_form (&self->prior->precision, off) + ts_band_log_det (&precision) -
                self->prior->log_det +
                data->degrees * (log (self->factor) + data->factor / self->factor);
}

/**
 * ts_curve_model_fit:
 * @self: a model
 * @data: what it is fitted to
 * @from: (nullable): shares to start from; %NULL finds them from nothing
 *
 * Fits without a rule of shape: heavy-tailed rounds that outliers cannot mislead, then rounds of
 * expectation and maximisation that tell the outliers from the rest.
 */
void
ts_curve_model_fit (TsCurveModel *self, const TsCurveData *data, const double *from)
{
  if (from != NULL)
    memcpy (self->share, from, data->n * sizeof *from);
  else if (data->robust)
    {
      g_autofree double *size = g_new (double, data->n);

      for (guint round = 0; round < HEAVY_ROUNDS; round++)
        {
          solve_free (self, data);
          weigh_heavy (self, data, size);
        }
    }
  for (guint round = 0; round < SHARE_ROUNDS; round++)
    {
      double before = self->factor;

      solve_free (self, data);
      ts_curve_model_judge (self, data);
      if (fabs (self->factor - before) < SETTLED * before)
        break;
    }
  solve_free (self, data);
  ts_curve_model_score (self, data);
}
