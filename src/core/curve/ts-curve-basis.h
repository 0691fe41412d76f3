/* ts-curve-basis.h: uniform cubic B-splines on 0 to 1
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TS_BASIS_ORDER 4

/* The splines over @segments equal segments are segments + 3; the knots run on past both ends. At
 * each place four of them are not 0: @weight from spline @first on. */
typedef struct
{
  guint  first;
  double weight[TS_BASIS_ORDER];
} TsBasis;

TsBasis ts_basis_at    (guint         segments,
                        double        position);
/* First derivative by position. */
TsBasis ts_basis_slope (guint         segments,
                        double        position);
/* The place that the splines are of, counted in segments. */
double  ts_basis_get_place (const TsBasis *self);
double  ts_basis_sum   (const TsBasis *self,
                        const double  *coefficients);

G_END_DECLS
