/* ts-curve-prior.c: how wavy a curve may be before anything was measured
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-prior.h"

#include <math.h>

/* How far from its centre a curve may lie as a whole, L*. */
#define WHOLE 60.0

/* Differences of each order, and the least and the greatest amplitude, L*: what the first, second
 * and third derivative of a curve over the whole run may amount to. Chosen on simulated curves. */
static const double differences[TS_PRIOR_ORDERS][TS_PRIOR_ORDERS + 1] = {
  { -1.0, 1.0 },
  { 1.0, -2.0, 1.0 },
  { -1.0, 3.0, -3.0, 1.0 },
};
static const double amplitudes[TS_PRIOR_ORDERS][2] = {
  { 1.0, 160.0 },
  { 2.5, 1500.0 },
  { 20.0, 15000.0 },
};

/**
 * ts_curve_prior_init:
 * @self: (out): to be filled
 * @segments: of the spline
 * @order: of the differences that are held small, 1 to TS_PRIOR_ORDERS
 * @amplitude: 0 to TS_PRIOR_AMPLITUDES - 1, from stiff to supple
 *
 * Penalised splines (Eilers and Marx 1996), with a weak hold on the whole so that the prior is a
 * proper one.
 */
void
ts_curve_prior_init (TsCurvePrior *self, guint segments, guint order, guint amplitude)
{
  const double *d = differences[order - 1];
  const double *range = amplitudes[order - 1];
  guint n = segments + 3;
  double size = range[0] * pow (range[1] / range[0], amplitude / (TS_PRIOR_AMPLITUDES - 1.0)) *
                pow (segments, 0.5 - order);
  TsBand decomposed;

  ts_band_init (&self->precision, n);
  for (guint i = 0; i + order < n; i++)
    for (guint u = 0; u <= order; u++)
      for (guint v = u; v <= order; v++)
        self->precision.row[i + u][v - u] += d[u] * d[v] / (size * size);
  for (guint i = 0; i < n; i++)
    self->precision.row[i][0] += 1.0 / (WHOLE * WHOLE * n);
  decomposed = self->precision;
  ts_band_decompose (&decomposed);
  self->log_det = ts_band_log_det (&decomposed);
}
