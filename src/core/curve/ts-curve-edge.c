/* ts-curve-edge.c: fits that are smooth but for one place
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-ensemble.h"

#include <math.h>
#include <stdlib.h>

/* Orders of the differences of which one may be large: a jump, or a bend. */
#define EDGE_ORDERS 2
/* How supple the rest of the curve may be: the stiffer amplitudes. */
#define EDGE_AMPLITUDES 4
/* Segments below which the spots are too far apart to show an edge. */
#define FEW_SEGMENTS 12
/* Evidence by which an edge may be worse than the best without one and still be tried. */
#define WORST 10.0

typedef struct
{
  double score;
  guint order, amplitude, place;
} Edge;

static int
compare_edges (const void *one, const void *other)
{
  double a = ((const Edge *) one)->score, b = ((const Edge *) other)->score;

  return (a > b) - (a < b);
}

/* An edge at an unknown place is as likely beforehand as none: each place has its part of that. */
static double
get_handicap (const TsCurveData *data)
{
  return 2.0 * log (data->segments + 3.0);
}

/* Every place, with the shares and the noise of the best fit without an edge. */
static guint
try_edges (const TsCurveModel *best, const TsCurveData *data, Edge *edges)
{
  double without = ts_curve_model_try (best, data, best->prior);
  guint count = 0;

  for (guint order = 1; order <= EDGE_ORDERS; order++)
    for (guint amplitude = 0; amplitude < EDGE_AMPLITUDES; amplitude++)
      for (guint place = 0; place + order < data->segments + 3; place++)
        {
          TsCurvePrior prior;
          double score;

          ts_curve_prior_init_edge (&prior, data->segments, order, amplitude, place);
          score = ts_curve_model_try (best, data, &prior) - without + get_handicap (data);
          edges[count++] = (Edge){ score, order, amplitude, place };
        }
  qsort (edges, count, sizeof *edges, compare_edges);
  return count;
}

void
ts_curve_ensemble_fit_edges (TsCurveEnsemble *self, const TsCurveData *data)
{
  Edge edges[EDGE_ORDERS * EDGE_AMPLITUDES * TS_BAND_MAX];
  const TsCurveModel *best = &self->free[0];
  guint count = data->segments < FEW_SEGMENTS ? 0 : try_edges (best, data, edges);

  for (guint i = 0; i < MIN (count, TS_ENSEMBLE_EDGES) && edges[i].score < WORST; i++)
    {
      TsCurvePrior *prior = &self->prior[self->n_free];
      TsCurveModel *model = &self->free[self->n_free++];

      ts_curve_prior_init_edge (prior, data->segments, edges[i].order, edges[i].amplitude,
                                edges[i].place);
      ts_curve_model_init (model, data, prior);
      model->handicap = get_handicap (data);
      model->factor = best->factor;
      model->stray = best->stray;
      ts_curve_model_fit (model, data, best->share);
    }
}
