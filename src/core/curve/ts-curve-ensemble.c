/* ts-curve-ensemble.c: fits under many priors, averaged, and the shape they agree on
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-ensemble.h"
#include "curve/ts-curve-steep.h"

#include <math.h>
#include <stdlib.h>

/* A prior with less than this share of the best one's weight is left out. */
#define LEAST_WEIGHT 0.01
/* The family holds no prior that is quite true, so that the weights are evened out by this power of
 * the likelihood (Gruenwald's safe Bayes, from memory). Chosen on simulated curves. */
#define TEMPER 0.6
/* How much more common falls with one steepest place are, as evidence: twice a logarithm. Chosen on
 * simulated curves. */
#define ONE_STEEPEST 6.0
/* Priors on which the shapes are compared. */
#define COMPARED 2
/* Above so many values the robust rounds are run for one prior of each order. */
#define MANY 400
/* Differences that are held small where there is no shape to keep. */
#define PLAIN_ORDER 2
/* Values below which no rise can be told. */
#define FEW 5
/* Evidence for a rise, twice the logarithm of the ratio of likelihoods: enough to show one, and to
 * say that there may be one. */
#define RISES 4.0
#define MAY_RISE 2.0
#define LEAST_RISE 1.5 /* L* */
/* Evidence that a run was drawn from shadow to lit, and how much it then rises, L*. */
#define REVERSED 10.0
#define LEAST_REVERSED 5.0

/* Evidence that neither shape fits, and how much a curve without one must rise and fall, L*. */
#define WAVES 12.0
#define LEAST_WAVE 8.0
#define WAVE_CELLS 50
/* Reflected light stays below this share of the lit side (common practice, no source): a rise that
 * is nearer to the fall is a second light. */
#define EVEN_LIGHTS 0.6

static int
compare_scores (const void *one, const void *other)
{
  double a = ((const TsCurveModel *) one)->score, b = ((const TsCurveModel *) other)->score;

  return (a > b) - (a < b);
}

static void
fit_priors (TsCurveEnsemble *self, const TsCurveData *data)
{
  for (guint order = 0; order < TS_PRIOR_ORDERS; order++)
    {
      guint first = order * TS_PRIOR_AMPLITUDES;
      guint middle = first + TS_PRIOR_AMPLITUDES / 2;

      for (guint i = first; i < first + TS_PRIOR_AMPLITUDES; i++)
        {
          ts_curve_prior_init (&self->prior[i], data->segments, order + 1, i - first);
          ts_curve_model_init (&self->free[i], data, &self->prior[i]);
        }
      if (data->n > MANY)
        ts_curve_model_fit (&self->free[middle], data, NULL);
      for (guint i = first; i < first + TS_PRIOR_AMPLITUDES; i++)
        if (data->n <= MANY || i != middle)
          ts_curve_model_fit (&self->free[i], data,
                              data->n > MANY ? self->free[middle].share : NULL);
    }
  qsort (self->free, TS_PRIORS, sizeof *self->free, compare_scores);
  self->n_free = TS_PRIORS;
  ts_curve_ensemble_fit_edges (self, data);
  qsort (self->free, self->n_free, sizeof *self->free, compare_scores);
}

/* Weights from scores; @models are all there are, or the best of them. */
static void
weigh (const TsCurveModel *models, guint n, double *weight)
{
  double least = G_MAXDOUBLE, sum = 0.0;

  for (guint i = 0; i < n; i++)
    least = MIN (least, models[i].score);
  for (guint i = 0; i < n; i++)
    {
      weight[i] = exp (-0.5 * TEMPER * (models[i].score - least));
      if (weight[i] < LEAST_WEIGHT)
        weight[i] = 0.0;
      sum += weight[i];
    }
  for (guint i = 0; i < n; i++)
    weight[i] /= sum;
}

static void
keep_best (TsCurveEnsemble *self)
{
  double limit = self->free[0].score - 2.0 * log (LEAST_WEIGHT) / TEMPER;

  for (self->n = 1;
       self->n < TS_ENSEMBLE_MOST && self->n < self->n_free && self->free[self->n].score < limit;)
    self->n++;
}

/* How much the curve falls to its turn, and rises after it, L*. */
static void
measure_heights (const TsCurveModel *model, const TsCurveData *data, guint turn, double *fall,
                 double *rise)
{
  TsBasis lit = ts_basis_at (data->segments, 0.0), shadow = ts_basis_at (data->segments, 1.0);
  double least = model->coefficients[turn];

  *fall = ts_basis_sum (&lit, model->coefficients) - least;
  *rise = ts_basis_sum (&shadow, model->coefficients) - least;
}

/* Minus twice the log likelihood of one shape over the best priors; its heights, and the turn of
 * @self, are those under the first of them. */
static double
score_shape (TsCurveEnsemble *self, const TsCurveData *data, gboolean rising, double *fall,
             double *rise)
{
  guint last = data->segments + 2;
  double first = 0.0, likely = 0.0;

  for (guint i = 0; i < MIN (self->n, COMPARED); i++)
    {
      TsCurveModel shaped;
      guint turn;

      ts_curve_model_copy (&shaped, &self->free[i], data);
      turn = ts_curve_shape_fit (&shaped, data, rising ? NULL : &last);
      if (i == 0)
        {
          first = shaped.score;
          self->turn = turn;
          measure_heights (&shaped, data, turn, fall, rise);
        }
      likely += exp (-0.5 * (shaped.score - first));
      ts_curve_model_clear (&shaped);
    }
  return first - 2.0 * log (likely);
}

/* How far @L rises to a light between two darker places, or falls again after it: the less of both,
 * at the place where it is most. A single shadow has no such place. */
static double
find_wave (const double *L)
{
  double most = 0.0;

  for (guint i = 1; i < WAVE_CELLS; i++)
    {
      double before = L[i], after = L[i];

      for (guint j = 0; j <= WAVE_CELLS; j++)
        if (j < i)
          before = MIN (before, L[j]);
        else
          after = MIN (after, L[j]);
      most = MAX (most, MIN (L[i] - before, L[i] - after));
    }
  return most;
}

/* Whether the curve without a shape, which is as likely as can be, is much more likely than either
 * shape, the run read either way round, and waves as no single shadow does. */
static gboolean
waves (const TsCurveEnsemble *self, const TsCurveData *data, double shaped)
{
  double L[WAVE_CELLS + 1], free = 0.0;

  for (guint i = 0; i < MIN (self->n, COMPARED); i++)
    free += exp (-0.5 * (self->free[i].score - self->free[0].score));
  if (shaped - (self->free[0].score - 2.0 * log (free)) < WAVES)
    return FALSE;
  for (guint i = 0; i <= WAVE_CELLS; i++)
    {
      TsBasis basis = ts_basis_at (data->segments, (double) i / WAVE_CELLS);

      L[i] = ts_basis_sum (&basis, self->free[0].coefficients);
    }
  return find_wave (L) >= LEAST_WAVE;
}

/* Compares the shapes; one that rises more than it falls is a run drawn the wrong way round. */
static void
choose_shape (TsCurveEnsemble *self, const TsCurveData *data)
{
  double fall, rise;
  double falling = score_shape (self, data, FALSE, &fall, &rise);
  double evidence = falling - score_shape (self, data, TRUE, &fall, &rise);

  self->seems_polished = waves (self, data, falling - MAX (evidence, 0.0)) ||
                         (evidence >= WAVES && MIN (fall, rise) >= LEAST_WAVE &&
                          MIN (fall, rise) >= EVEN_LIGHTS * MAX (fall, rise));
  self->reversed =
    !self->seems_polished && evidence >= REVERSED && rise > fall && rise >= LEAST_REVERSED;
  if (!(rise >= LEAST_RISE && rise <= fall) || data->n < FEW)
    evidence = 0.0;
  self->may_rise = evidence >= MAY_RISE;
  self->shape = evidence >= RISES ? TS_CURVE_FALLING_THEN_RISING : TS_CURVE_FALLING;
  if (self->shape == TS_CURVE_FALLING)
    self->turn = data->segments + 2;
}

/* Rounding must not leave a curve that falls a place where it rises. */
static void
hold_shape (TsCurveEnsemble *self, guint n)
{
  double *c = self->coefficients;

  for (guint i = 0; i < n; i++)
    c[i] = MAX (c[i], 0.0);
  for (guint i = 1; i <= self->turn; i++)
    c[i] = MIN (c[i], c[i - 1]);
  for (guint i = self->turn + 1; i < n; i++)
    c[i] = MAX (c[i], c[i - 1]);
}

/* Minus twice the logarithm of the likelihood of @coefficients, to a constant. */
static double
get_form (const TsBand *precision, const double *right, const double *coefficients)
{
  double form = ts_band_form (precision, coefficients);

  for (guint i = 0; i < precision->n; i++)
    form -= 2.0 * right[i] * coefficients[i];
  return form;
}

/* Most falls have one steepest place, the terminator, and no ledges. Each fit becomes the mean of
 * itself and of its neighbour of that kind, by their likelihoods. */
static void
steepen (TsCurveEnsemble *self, const TsCurveData *data)
{
  guint steepest = 0;

  for (guint k = 0; k < self->n; k++)
    {
      TsCurveModel *model = &self->shaped[k];
      double right[TS_BAND_MAX], steep[TS_BAND_MAX], worse, share;
      TsBand precision;

      if (!(self->weight[k] > 0.0))
        continue;
      ts_curve_model_gather (model, data);
      ts_curve_model_precision (model, data, &precision, right);
      if (k == 0)
        steepest = ts_curve_steep_find (&precision, right, self->turn);
      worse = ts_curve_steep_solve (&precision, right, self->turn, steepest, steep) -
              get_form (&precision, right, model->coefficients);
      share = 1.0 / (1.0 + exp (0.5 * (worse - ONE_STEEPEST)));
      for (guint i = 0; i < precision.n; i++)
        model->coefficients[i] += share * (steep[i] - model->coefficients[i]);
    }
}

/* Shapes are compared without regard to ties, since those of a falling curve would make a rise look
 * like noise; among curves of one shape they count. */
static void
average (TsCurveEnsemble *self, const TsCurveData *data)
{
  for (guint k = 0; k < self->n; k++)
    self->shaped[k].score += self->shaped[k].tied;
  weigh (self->shaped, self->n, self->weight);
  if (self->shape != TS_CURVE_FREE && data->robust)
    steepen (self, data);
  for (guint k = 0; k < self->n; k++)
    for (guint i = 0; i < data->segments + 3; i++)
      self->coefficients[i] += self->weight[k] * self->shaped[k].coefficients[i];
}

/**
 * ts_curve_ensemble_fit_plain:
 * @data: what is to be fitted, without outliers
 * @coefficients: (out) (array): of the curve
 *
 * The same smoother, without a rule of shape and with differences of one order only.
 */
void
ts_curve_ensemble_fit_plain (const TsCurveData *data, double *coefficients)
{
  TsCurvePrior prior[TS_PRIOR_AMPLITUDES];
  TsCurveModel model[TS_PRIOR_AMPLITUDES];
  double weight[TS_PRIOR_AMPLITUDES];

  for (guint i = 0; i < TS_PRIOR_AMPLITUDES; i++)
    {
      ts_curve_prior_init (&prior[i], data->segments, PLAIN_ORDER, i);
      ts_curve_model_init (&model[i], data, &prior[i]);
      ts_curve_model_fit (&model[i], data, NULL);
    }
  weigh (model, TS_PRIOR_AMPLITUDES, weight);
  for (guint i = 0; i < data->segments + 3; i++)
    coefficients[i] = 0.0;
  for (guint k = 0; k < TS_PRIOR_AMPLITUDES; k++)
    {
      for (guint i = 0; i < data->segments + 3; i++)
        coefficients[i] += weight[k] * model[k].coefficients[i];
      ts_curve_model_clear (&model[k]);
    }
}

/**
 * ts_curve_ensemble_fit:
 * @data: what is to be fitted
 * @rule: the shapes that are allowed
 *
 * One penalty picked from the data knows too little of its own doubt; the average over a family,
 * weighted by marginal likelihood, is nearer to the truth and has an honest band.
 *
 * Returns: (transfer full): the fits
 */
TsCurveEnsemble *
ts_curve_ensemble_fit (const TsCurveData *data, TsCurveRule rule)
{
  TsCurveEnsemble *self = g_new0 (TsCurveEnsemble, 1);

  fit_priors (self, data);
  keep_best (self);
  self->shape = TS_CURVE_FREE;
  if (rule == TS_CURVE_RULE_SURFACE)
    choose_shape (self, data);
  for (guint k = 0; k < self->n; k++)
    {
      ts_curve_model_copy (&self->shaped[k], &self->free[k], data);
      if (rule == TS_CURVE_RULE_SURFACE)
        ts_curve_shape_fit (&self->shaped[k], data, &self->turn);
    }
  average (self, data);
  if (rule == TS_CURVE_RULE_SURFACE)
    hold_shape (self, data->segments + 3);
  return self;
}

void
ts_curve_ensemble_free (TsCurveEnsemble *self)
{
  for (guint i = 0; i < self->n_free; i++)
    ts_curve_model_clear (&self->free[i]);
  for (guint i = 0; i < TS_ENSEMBLE_MOST; i++)
    ts_curve_model_clear (&self->shaped[i]);
  g_free (self);
}

double
ts_curve_ensemble_share (const TsCurveEnsemble *self, gsize index)
{
  double share = 0.0;

  for (guint k = 0; k < self->n; k++)
    share += self->weight[k] * self->shaped[k].share[index];
  return share;
}

double
ts_curve_ensemble_factor (const TsCurveEnsemble *self)
{
  double factor = 0.0;

  for (guint k = 0; k < self->n; k++)
    factor += self->weight[k] * self->shaped[k].factor;
  return factor;
}

double
ts_curve_ensemble_degrees (const TsCurveEnsemble *self, const TsCurveData *data)
{
  double degrees = data->degrees;

  for (guint k = 0; k < self->n; k++)
    degrees +=
      self->weight[k] * (ts_curve_model_sum_shares (&self->free[k], data) - self->free[k].freedom);
  return MAX (degrees, 1.0);
}
