/* ts-curve-shape.c: the most likely curve that falls, or falls and then rises
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-shape.h"

#include <math.h>
#include <string.h>

/* Coefficients that are equal, and forces that are none: L*, and L* per variance. */
#define EPSILON 1e-9
/* Rounds in which all ties that are wrong change at once without a gain. */
#define PATIENCE 3
#define MOST_ROUNDS 500
/* Rounds in which shares and shape are made to agree. */
#define SHAPE_ROUNDS 3
/* Turns are looked for at this distance first; they move little once shares and shape agree. */
#define STRIDE 3
#define NEAR 3

/* Tied coefficients are one: the group of each, and the number of groups. */
static guint
find_groups (const TsCurveTies *ties, guint n, guint *group)
{
  guint count = 0;

  for (guint i = 0; i < n; i++)
    {
      group[i] = count;
      if (!ties->tied[i])
        count++;
    }
  return ties->tied[n - 1] ? count + 1 : count;
}

static void
pool (const TsBand *full, const guint *group, guint n_groups, TsBand *pooled)
{
  ts_band_init (pooled, n_groups);
  for (guint i = 0; i < full->n; i++)
    {
      pooled->row[group[i]][0] += full->row[i][0];
      for (guint j = 1; j < TS_BAND_WIDTH && i + j < full->n; j++)
        {
          guint apart = group[i + j] - group[i];

          pooled->row[group[i]][apart] += (apart == 0 ? 2.0 : 1.0) * full->row[i][j];
        }
    }
}

static void
solve_tied (const TsBand *precision, const double *right, const TsCurveTies *ties,
            double *coefficients)
{
  guint group[TS_BAND_MAX];
  double x[TS_BAND_MAX] = { 0.0 };
  TsBand pooled;

  pool (precision, group, find_groups (ties, precision->n, group), &pooled);
  for (guint i = 0; i < precision->n; i++)
    x[group[i]] += right[i];
  ts_band_decompose (&pooled);
  ts_band_solve (&pooled, x);
  for (guint i = 0; i < precision->n; i++)
    coefficients[i] = x[group[i]];
}

/* Which ties are wrong: pairs that go the wrong way, and tied ones that are held against what would
 * go the right way. Returns how many, and the last of them. */
static guint
find_wrong (const TsBand *precision, const double *right, const TsCurveTies *ties,
            const double *coefficients, gboolean *wrong, guint *last)
{
  double force[TS_BAND_MAX], sum = 0.0;
  guint count = 0;

  ts_band_multiply (precision, coefficients, force);
  for (guint i = 0; i + 1 < precision->n; i++)
    {
      double sign = i < ties->turn ? 1.0 : -1.0;

      sum += force[i] - right[i];
      wrong[i] = ties->tied[i] ? sign * sum < -EPSILON
                               : sign * (coefficients[i] - coefficients[i + 1]) < -EPSILON;
      if (wrong[i])
        {
          count++;
          *last = i;
        }
    }
  return count;
}

/* Block pivoting (Portugal, Júdice and Vicente 1994, from memory): all wrong ties change at once
 * while that helps, else only the last one, which cannot go on for ever. Every round costs no more
 * than a banded solution, since tied neighbours keep the band. */
double
ts_curve_shape_solve (const TsBand *precision, const double *right, TsCurveTies *ties,
                      double *coefficients)
{
  guint least = G_MAXUINT, patience = PATIENCE;
  double form;

  ties->tied[precision->n - 1] = FALSE;
  for (guint round = 0; round < MOST_ROUNDS; round++)
    {
      gboolean wrong[TS_BAND_MAX] = { FALSE };
      guint last = 0, count;

      solve_tied (precision, right, ties, coefficients);
      count = find_wrong (precision, right, ties, coefficients, wrong, &last);
      if (count == 0)
        break;
      if (count < least)
        {
          least = count;
          patience = PATIENCE;
        }
      else if (patience > 0)
        patience--;
      else
        memset (wrong, 0, last * sizeof *wrong);
      for (guint i = 0; i + 1 < precision->n; i++)
        ties->tied[i] = ties->tied[i] != wrong[i];
    }
  form = ts_band_form (precision, coefficients);
  for (guint i = 0; i < precision->n; i++)
    form -= 2.0 * right[i] * coefficients[i];
  return form;
}

/* Looks at every @stride-th turn from @from to @to, each from the ties of the one before. */
static guint
scan (const TsBand *precision, const double *right, guint from, guint to, guint stride,
      double *form)
{
  TsCurveTies ties = { 0 };
  double coefficients[TS_BAND_MAX], least = G_MAXDOUBLE;
  guint best = from;

  for (guint turn = from; turn <= to; turn += stride)
    {
      ties.turn = turn;
      form[turn] = ts_curve_shape_solve (precision, right, &ties, coefficients);
      if (form[turn] < least)
        {
          least = form[turn];
          best = turn;
        }
    }
  return best;
}

guint
ts_curve_shape_scan (const TsBand *precision, const double *right, double *form)
{
  return scan (precision, right, TS_TURN_FIRST, TS_TURN_LAST (precision->n), 1, form);
}

/* The best turn: first at some distance from each other, then near the best of these. */
static guint
find_turn (const TsBand *precision, const double *right)
{
  double form[TS_BAND_MAX];
  guint last = TS_TURN_LAST (precision->n);
  guint best = scan (precision, right, TS_TURN_FIRST, last, STRIDE, form);

  return scan (precision, right, MAX (best, TS_TURN_FIRST + STRIDE - 1) - (STRIDE - 1),
               MIN (best + STRIDE - 1, last), 1, form);
}

static guint
refine_turn (const TsBand *precision, const double *right, guint turn)
{
  double form[TS_BAND_MAX];

  return scan (precision, right, MAX (turn, TS_TURN_FIRST + NEAR) - NEAR,
               MIN (turn + NEAR, TS_TURN_LAST (precision->n)), 1, form);
}

static double
pooled_freedom (const TsBand *precision, const TsCurveModel *model, const TsCurveTies *ties)
{
  guint group[TS_BAND_MAX], n_groups = find_groups (ties, precision->n, group);
  TsBand pooled, inverse, normal;

  pool (precision, group, n_groups, &pooled);
  pool (&model->normal, group, n_groups, &normal);
  ts_band_decompose (&pooled);
  ts_band_invert (&pooled, &inverse);
  return ts_band_product_trace (&inverse, &normal) / model->factor;
}

/* Minus twice the logarithm of how much more the data narrow the coefficients down than the prior
 * did. */
static double
get_narrowing (const TsBand *precision, const TsBand *prior)
{
  TsBand after = *precision, before = *prior;

  ts_band_decompose (&after);
  ts_band_decompose (&before);
  return ts_band_log_det (&after) - ts_band_log_det (&before);
}

/* Tied coefficients are one, and cost the marginal likelihood no more than one: a supple prior
 * whose curve is held straight by its shape is as good as a stiff one. */
static double
score_ties (const TsBand *precision, const TsBand *prior, const TsCurveTies *ties)
{
  guint group[TS_BAND_MAX], n_groups = find_groups (ties, precision->n, group);
  TsBand pooled, pooled_prior;

  pool (precision, group, n_groups, &pooled);
  pool (prior, group, n_groups, &pooled_prior);
  return get_narrowing (&pooled, &pooled_prior) - get_narrowing (precision, prior);
}

guint
ts_curve_shape_fit (TsCurveModel *model, const TsCurveData *data, const guint *turn)
{
  TsBand precision;
  TsCurveTies ties = { 0 };
  double right[TS_BAND_MAX];

  ts_curve_model_gather (model, data);
  ts_curve_model_precision (model, data, &precision, right);
  ties.turn = turn != NULL ? *turn : find_turn (&precision, right);
  for (guint round = 0; round < SHAPE_ROUNDS; round++)
    {
      ts_curve_shape_solve (&precision, right, &ties, model->coefficients);
      model->freedom = pooled_freedom (&precision, model, &ties);
      ts_curve_model_judge (model, data);
      ts_curve_model_gather (model, data);
      ts_curve_model_precision (model, data, &precision, right);
    }
  if (turn == NULL)
    ties.turn = refine_turn (&precision, right, ties.turn);
  ts_curve_shape_solve (&precision, right, &ties, model->coefficients);
  ts_curve_model_score (model, data);
  model->tied = score_ties (&precision, &model->prior->precision, &ties);
  return ties.turn;
}
