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
#define ONE_STEEPEST 9.0
/* Orders of the differences that are held small beside a form, how many of the stiffer amplitudes,
 * and evidence by which it may be worse than the best without one and still be tried. Chosen on
 * simulated curves. */
#define FORM_ORDERS 2
#define FORM_AMPLITUDES 4
#define FORM_WORST 10.0
/* Fits whose ties are not known yet are kept while they are so many times as unlikely as a fit
 * that would be left out. Chosen on simulated curves. */
#define KEEP 1.3
/* Fits that differ by this share about one value do not agree on what is an outlier. Chosen on
 * simulated curves. */
#define DISAGREE 0.3
/* Priors on which the shapes are compared. */
#define COMPARED 2
/* Above so many values the robust rounds are run for one prior of each order. */
#define MANY 400
/* Differences that are held small where there is no shape to keep: of the second and third order.
 */
#define PLAIN_FIRST 2
#define PLAIN_PRIORS (2 * TS_PRIOR_AMPLITUDES)
/* Values below which no rise can be told. */
#define FEW 5
/* Evidence for a rise, twice the logarithm of the ratio of likelihoods: enough to show one. Chosen
 * on simulated curves. */
#define RISES 1.5
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

typedef struct
{
  double score;
  guint prior, form;
} Trial;

static int
compare_trials (const void *one, const void *other)
{
  double a = ((const Trial *) one)->score, b = ((const Trial *) other)->score;

  return (a > b) - (a < b);
}

/* Every form, with the shares and the noise of the best fit without one. */
static guint
try_forms (const TsCurveEnsemble *self, const TsCurveData *data, const TsCurveForm *forms,
           guint n_forms, Trial *trials)
{
  const TsCurveModel *best = &self->free[0];
  double scores[TS_FORMS_MOST];
  double without = ts_curve_model_try (best, data, best->prior, NULL, 0, NULL);
  guint count = 0;

  for (guint order = 0; order < FORM_ORDERS; order++)
    for (guint amplitude = 0; amplitude < FORM_AMPLITUDES; amplitude++)
      {
        guint prior = order * TS_PRIOR_AMPLITUDES + amplitude;

        ts_curve_model_try (best, data, &self->prior[prior], forms, n_forms, scores);
        for (guint k = 0; k < n_forms; k++)
          trials[count++] = (Trial){ scores[k] - without, prior, k };
      }
  qsort (trials, count, sizeof *trials, compare_trials);
  return count;
}

/* Surfaces have edges, and few spots show a terminator only to those that know what one is like: a
 * curve supple enough for either follows the noise everywhere else. Adds the likeliest forms. */
static void
fit_forms (TsCurveEnsemble *self, const TsCurveData *data)
{
  g_autofree TsCurveForm *forms = g_new (TsCurveForm, TS_FORMS_MOST);
  g_autofree Trial *trials = g_new (Trial, FORM_ORDERS * FORM_AMPLITUDES * TS_FORMS_MOST);
  guint n_forms = ts_curve_forms_fill (forms, data->segments);
  guint count = try_forms (self, data, forms, n_forms, trials);

  for (guint i = 0; i < MIN (count, TS_ENSEMBLE_FORMS) && trials[i].score < FORM_WORST; i++)
    {
      TsCurveModel *model = &self->free[self->n_free++];

      self->form[i] = forms[trials[i].form];
      ts_curve_model_init (model, data, &self->prior[trials[i].prior], &self->form[i]);
      model->factor = self->free[0].factor;
      model->stray = self->free[0].stray;
      ts_curve_model_fit (model, data, self->free[0].share);
    }
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
          ts_curve_model_init (&self->free[i], data, &self->prior[i], NULL);
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
  fit_forms (self, data);
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
  double limit = self->free[0].score - 2.0 * KEEP * log (LEAST_WEIGHT) / TEMPER;

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
find_wave (const double *L, gsize n)
{
  double most = 0.0;

  for (gsize i = 1; i + 1 < n; i++)
    {
      double before = L[i], after = L[i];

      for (gsize j = 0; j < n; j++)
        if (j < i)
          before = MIN (before, L[j]);
        else
          after = MIN (after, L[j]);
      most = MAX (most, MIN (L[i] - before, L[i] - after));
    }
  return most;
}

static int
compare_places (const void *one, const void *other)
{
  const double *a = one, *b = other;

  return (*a > *b) - (*a < *b);
}

/* The same of the values themselves, each the middle one of three neighbours: a wave that is made
 * of single values is texture, or dirt. */
static double
find_wave_of_values (const TsCurveData *data)
{
  typedef struct
  {
    double place, value;
  } Value;
  g_autofree Value *values = g_new (Value, data->n);
  g_autofree double *L = g_new (double, data->n);

  for (gsize i = 0; i < data->n; i++)
    values[i] = (Value){ ts_basis_get_place (&data->basis[i]), data->value[i] };
  qsort (values, data->n, sizeof *values, compare_places);
  for (gsize i = 0; i < data->n; i++)
    {
      double a = values[i > 0 ? i - 1 : 0].value, b = values[i].value;
      double c = values[MIN (i + 1, data->n - 1)].value;

      L[i] = MAX (MIN (a, b), MIN (MAX (a, b), c));
    }
  return find_wave (L, data->n);
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
  return find_wave (L, WAVE_CELLS + 1) >= LEAST_WAVE && find_wave_of_values (data) >= LEAST_WAVE;
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
  if (self->shape != TS_CURVE_FREE)
    steepen (self, data);
  for (guint k = 0; k < self->n; k++)
    for (guint i = 0; i < data->segments + 3; i++)
      self->coefficients[i] += self->weight[k] * self->shaped[k].coefficients[i];
}

static double
get_shaped_score (const TsCurveEnsemble *self, guint k)
{
  return self->shaped[k].score + self->shaped[k].tied;
}

static gboolean
agree (const TsCurveModel *one, const TsCurveModel *other, const TsCurveData *data)
{
  for (gsize i = 0; i < data->n; i++)
    if (fabs (one->share[i] - other->share[i]) >= DISAGREE)
      return FALSE;
  return TRUE;
}

/* Fit @k once more, from what fit @best says of the outliers; kept where it is likelier so. */
static void
fit_again (TsCurveEnsemble *self, const TsCurveData *data, guint k, guint best)
{
  TsCurveModel free, shaped;

  ts_curve_model_copy (&free, &self->free[k], data);
  free.factor = self->shaped[best].factor;
  free.stray = self->shaped[best].stray;
  ts_curve_model_fit (&free, data, self->shaped[best].share);
  ts_curve_model_copy (&shaped, &free, data);
  ts_curve_shape_fit (&shaped, data, &self->turn);
  if (shaped.score + shaped.tied < get_shaped_score (self, k))
    {
      TsCurveModel last = self->free[k];

      self->free[k] = free;
      free = last;
      last = self->shaped[k];
      self->shaped[k] = shaped;
      shaped = last;
    }
  ts_curve_model_clear (&free);
  ts_curve_model_clear (&shaped);
}

/* A supple fit may have followed what the best one knows for an outlier. */
static void
share_outliers (TsCurveEnsemble *self, const TsCurveData *data)
{
  guint best = 0;

  for (guint k = 1; k < self->n; k++)
    if (get_shaped_score (self, k) < get_shaped_score (self, best))
      best = k;
  for (guint k = 0; k < self->n; k++)
    if (!agree (&self->shaped[k], &self->shaped[best], data))
      fit_again (self, data, k, best);
}

/**
 * ts_curve_ensemble_fit_plain:
 * @data: what is to be fitted, without outliers
 * @coefficients: (out) (array): of the curve
 *
 * The same smoother, without a rule of shape, forms and differences of the first order.
 */
void
ts_curve_ensemble_fit_plain (const TsCurveData *data, double *coefficients)
{
  TsCurvePrior prior[PLAIN_PRIORS];
  TsCurveModel model[PLAIN_PRIORS];
  double weight[PLAIN_PRIORS];

  for (guint i = 0; i < PLAIN_PRIORS; i++)
    {
      ts_curve_prior_init (&prior[i], data->segments, PLAIN_FIRST + i / TS_PRIOR_AMPLITUDES,
                           i % TS_PRIOR_AMPLITUDES);
      ts_curve_model_init (&model[i], data, &prior[i], NULL);
      ts_curve_model_fit (&model[i], data, NULL);
    }
  weigh (model, PLAIN_PRIORS, weight);
  for (guint i = 0; i < data->segments + 3; i++)
    coefficients[i] = 0.0;
  for (guint k = 0; k < PLAIN_PRIORS; k++)
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
  if (rule == TS_CURVE_RULE_SURFACE && data->robust)
    share_outliers (self, data);
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
