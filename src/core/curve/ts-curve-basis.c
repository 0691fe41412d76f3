/* ts-curve-basis.c: uniform cubic B-splines on 0 to 1
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "curve/ts-curve-basis.h"

/* The segment that @position lies in; @share is how far along it, 0..1. */
static guint
find_segment (guint segments, double position, double *share)
{
  double place = position > 0.0 ? (position < 1.0 ? position * segments : segments) : 0.0;
  guint segment = MIN ((guint) place, segments - 1);

  *share = place - segment;
  return segment;
}

/**
 * ts_basis_at:
 * @segments: number of segments, at least 1
 * @position: held within 0 to 1
 *
 * Returns: the four splines that are not 0 there; their weights sum to 1
 */
TsBasis
ts_basis_at (guint segments, double position)
{
  double t, s;
  TsBasis basis = { .first = find_segment (segments, position, &t) };

  s = 1.0 - t;
  basis.weight[0] = s * s * s / 6.0;
  basis.weight[1] = (4.0 - 3.0 * t * t * (2.0 - t)) / 6.0;
  basis.weight[2] = (4.0 - 3.0 * s * s * (2.0 - s)) / 6.0;
  basis.weight[3] = t * t * t / 6.0;
  return basis;
}

/**
 * ts_basis_slope:
 * @segments: number of segments, at least 1
 * @position: held within 0 to 1
 *
 * Returns: the first derivatives of the same four splines; they sum to 0
 */
TsBasis
ts_basis_slope (guint segments, double position)
{
  double t, s;
  TsBasis basis = { .first = find_segment (segments, position, &t) };

  s = 1.0 - t;
  basis.weight[0] = -0.5 * s * s * segments;
  basis.weight[1] = (1.5 * t - 2.0) * t * segments;
  basis.weight[2] = (2.0 - 1.5 * s) * s * segments;
  basis.weight[3] = 0.5 * t * t * segments;
  return basis;
}

/**
 * ts_basis_get_place:
 * @self: the splines at a place
 *
 * Returns: that place, 0 to the number of segments: the splines reproduce a straight line
 */
double
ts_basis_get_place (const TsBasis *self)
{
  double sum = self->first - 1.0;

  for (guint i = 0; i < TS_BASIS_ORDER; i++)
    sum += i * self->weight[i];
  return sum;
}

/**
 * ts_basis_sum:
 * @self: the splines at a place
 * @coefficients: (array): one for each spline
 *
 * Returns: the curve, or its slope, at that place
 */
double
ts_basis_sum (const TsBasis *self, const double *coefficients)
{
  double sum = 0.0;

  for (guint i = 0; i < TS_BASIS_ORDER; i++)
    sum += self->weight[i] * coefficients[self->first + i];
  return sum;
}
