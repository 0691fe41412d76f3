/* ts-curve-band.c: how far the curve and its marked places may be off
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-band.h"

#include <math.h>
#include <stdlib.h>

#define CELLS TS_CURVE_BAND_SEGMENTS
/* A turn is possible while twice its log likelihood is no more than this below the best one's. */
#define TURN_REACH 8.0
/* Half the stretch whose fall is measured, in cells: 0.08 of the run in all. */
#define HALF_STRETCH (CELLS / 25)
/* Curves that are drawn to see where their marked places lie. */
#define DRAWS 200
#define SEED 20107
/* A fall is even where the place of its steepest stretch is known to no better than this. */
#define EVEN 0.5

static double
variance_at (const TsBand *covariance, const TsBasis *basis)
{
  double sum = 0.0;

  for (guint u = 0; u < TS_BASIS_ORDER; u++)
    {
      const double *row = covariance->row[basis->first + u];

      sum += basis->weight[u] * basis->weight[u] * row[0];
      for (guint v = u + 1; v < TS_BASIS_ORDER; v++)
        sum += 2.0 * basis->weight[u] * basis->weight[v] * row[v - u];
    }
  return sum;
}

/* The height of a form is not known for sure either. */
static void
add_height (const TsCurveModel *model, const TsBand *decomposed, TsBand *covariance)
{
  double moved[TS_BAND_MAX];

  ts_curve_model_follow (model, decomposed, moved);
  for (guint i = 0; i < covariance->n; i++)
    for (guint j = 0; j < TS_BAND_WIDTH && i + j < covariance->n; j++)
      covariance->row[i][j] += model->height_variance * moved[i] * moved[i + j];
}

/* Variance of the average: of each fit before its shape, and between the shaped ones. */
static void
sum_variances (const TsCurve *curve, const TsCurveEnsemble *ensemble, const TsCurveData *data,
               double *variance)
{
  for (guint k = 0; k < ensemble->n; k++)
    {
      TsBand precision, covariance;
      double right[TS_BAND_MAX];

      if (!(ensemble->weight[k] > 0.0))
        continue;
      ts_curve_model_precision (&ensemble->free[k], data, &precision, right);
      ts_band_decompose (&precision);
      ts_band_invert (&precision, &covariance);
      if (ensemble->free[k].form != NULL)
        add_height (&ensemble->free[k], &precision, &covariance);
      for (guint i = 0; i <= CELLS; i++)
        {
          TsBasis basis = ts_basis_at (curve->segments, (double) i / CELLS);
          double off = ts_basis_sum (&basis, ensemble->shaped[k].coefficients) -
                       ts_basis_sum (&basis, curve->L);

          variance[i] += ensemble->weight[k] * (variance_at (&covariance, &basis) + off * off);
        }
    }
}

/* Where the curve cannot rise, no place can be higher than the band of one before it. */
static void
narrow (TsCurve *curve, guint turn)
{
  for (guint i = 1; i <= turn; i++)
    curve->high[i] = MIN (curve->high[i], curve->high[i - 1]);
  for (guint i = turn; i-- > 0;)
    curve->low[i] = MAX (curve->low[i], curve->low[i + 1]);
  for (guint i = CELLS; i-- > turn;)
    curve->high[i] = MIN (curve->high[i], curve->high[i + 1]);
  for (guint i = turn + 1; i <= CELLS; i++)
    curve->low[i] = MAX (curve->low[i], curve->low[i - 1]);
}

void
ts_curve_band_fill (TsCurve *curve, const TsCurveEnsemble *ensemble, const TsCurveData *data,
                    double reach)
{
  double variance[CELLS + 1] = { 0.0 };

  sum_variances (curve, ensemble, data, variance);
  for (guint i = 0; i <= CELLS; i++)
    {
      double L = ts_curve_get_lightness (curve, (double) i / CELLS);

      curve->low[i] = L - reach * sqrt (variance[i]);
      curve->high[i] = L + reach * sqrt (variance[i]);
    }
  if (curve->shape != TS_CURVE_FREE)
    narrow (curve, (guint) lround (curve->core.value * CELLS));
  for (guint i = 0; i <= CELLS; i++)
    {
      double L = ts_curve_get_lightness (curve, (double) i / CELLS);

      curve->low[i] = MAX (MIN (curve->low[i], L), 0.0);
      curve->high[i] = MAX (curve->high[i], L);
    }
}

/* The places of all turns that are nearly as likely as the best. */
static void
find_core_range (TsCurve *curve, const TsCurveEnsemble *ensemble, const TsCurveData *data)
{
  guint n = data->segments + 3;
  double form[TS_BAND_MAX], right[TS_BAND_MAX], coefficients[TS_BAND_MAX], falling, least;
  TsCurveTies ties = { .turn = n - 1 };
  TsBand precision;

  ts_curve_model_precision (&ensemble->shaped[0], data, &precision, right);
  falling = ts_curve_shape_solve (&precision, right, &ties, coefficients);
  least = MIN (form[ts_curve_shape_scan (&precision, right, form)], falling);
  curve->core.low = curve->core.high = curve->core.value;
  for (guint turn = TS_TURN_FIRST; turn <= TS_TURN_LAST (n); turn++)
    if (form[turn] < least + TURN_REACH)
      {
        curve->core.low = MIN (curve->core.low, (turn - 1.75) / data->segments);
        curve->core.high = MAX (curve->core.high, (turn - 0.25) / data->segments);
      }
  if (falling < least + TURN_REACH)
    curve->core.high = 1.0;
  curve->core.high = MIN (curve->core.high, 1.0);
}

static double
find_steepest (const double *L)
{
  double most = -G_MAXDOUBLE;
  guint best = HALF_STRETCH;

  for (guint i = HALF_STRETCH; i + HALF_STRETCH <= CELLS; i++)
    if (L[i - HALF_STRETCH] - L[i + HALF_STRETCH] > most)
      {
        most = L[i - HALF_STRETCH] - L[i + HALF_STRETCH];
        best = i;
      }
  return (double) best / CELLS;
}

static double
find_darkest (const double *L)
{
  guint best = 0;

  for (guint i = 1; i <= CELLS; i++)
    if (L[i] < L[best])
      best = i;
  return (double) best / CELLS;
}

static double
find_lightest (const double *L)
{
  guint best = 0;

  for (guint i = 1; i <= CELLS; i++)
    if (L[i] > L[best])
      best = i;
  return (double) best / CELLS;
}

static void
evaluate (const TsBasis *grid, const double *coefficients, double *L)
{
  for (guint i = 0; i <= CELLS; i++)
    L[i] = ts_basis_sum (&grid[i], coefficients);
}

/* Box and Muller (1958). */
static double
draw_normal (GRand *random)
{
  double size = sqrt (-2.0 * log (1.0 - g_rand_double (random)));

  return size * cos (2.0 * G_PI * g_rand_double (random));
}

static int
compare_doubles (const void *one, const void *other)
{
  double a = *(const double *) one, b = *(const double *) other;

  return (a > b) - (a < b);
}

static void
take_range (double *drawn, TsCurvePlace *place)
{
  qsort (drawn, DRAWS, sizeof *drawn, compare_doubles);
  place->low = MIN (drawn[DRAWS / 40], place->value);
  place->high = MAX (drawn[DRAWS - 1 - DRAWS / 40], place->value);
}

/* One curve from those that the fits before their shape leave possible, of each fit in proportion
 * to its weight. */
static void
draw_curve (const TsCurveEnsemble *ensemble, const TsBand *decomposed, GRand *random, double *x)
{
  double left = g_rand_double (random);
  guint k = 0;

  while (k + 1 < ensemble->n && left > ensemble->weight[k])
    left -= ensemble->weight[k++];
  for (guint i = 0; i < decomposed[k].n; i++)
    x[i] = draw_normal (random);
  ts_band_solve_half (&decomposed[k], x);
  for (guint i = 0; i < decomposed[k].n; i++)
    x[i] += ensemble->free[k].coefficients[i];
}

void
ts_curve_band_find_places (TsCurve *curve, const TsCurveEnsemble *ensemble, const TsCurveData *data)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (SEED);
  double steepest[DRAWS], darkest[DRAWS], lightest[DRAWS], L[CELLS + 1], x[TS_BAND_MAX];
  TsBasis grid[CELLS + 1];
  TsBand decomposed[TS_ENSEMBLE_MOST];

  for (guint i = 0; i <= CELLS; i++)
    grid[i] = ts_basis_at (curve->segments, (double) i / CELLS);
  for (guint k = 0; k < ensemble->n; k++)
    {
      ts_curve_model_precision (&ensemble->free[k], data, &decomposed[k], x);
      ts_band_decompose (&decomposed[k]);
    }
  for (guint draw = 0; draw < DRAWS; draw++)
    {
      draw_curve (ensemble, decomposed, random, x);
      evaluate (grid, x, L);
      steepest[draw] = find_steepest (L);
      darkest[draw] = find_darkest (L);
      lightest[draw] = find_lightest (L);
    }
  evaluate (grid, curve->L, L);
  curve->terminator.value = find_steepest (L);
  take_range (steepest, &curve->terminator);
  curve->has_terminator = curve->terminator.high - curve->terminator.low <= EVEN;
  take_range (lightest, &curve->highlight);
  if (curve->shape == TS_CURVE_FREE)
    take_range (darkest, &curve->core);
  else
    find_core_range (curve, ensemble, data);
}
