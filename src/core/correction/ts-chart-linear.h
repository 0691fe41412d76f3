/* ts-chart-linear.h: tone curve, uneven light and linear matrix of a picture of the chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-chart-prior.h"
#include "correction/ts-correction-fit.h"

G_BEGIN_DECLS

typedef struct
{
  gboolean bent;                 /* whether a tone curve is undone */
  TsTone   tone;
  double   light[2];             /* log of the light's rise over one column and one row */
  double   matrix[3][3];         /* [channel][X, Y, Z] */
  double   evidence;             /* log, up to what all fits to the same patches share */
  double   weight[TS_PRIOR_ROWS]; /* so that a covariance with the patches times it is an expected error */
} TsChartLinear;

gboolean ts_chart_linear_fit    (TsChartLinear       *self,
                                 const TsFitPatches  *patches,
                                 const TsChartPrior  *prior,
                                 gboolean             bent,
                                 const TsChartLinear *start);
/* What the picture shows of a paint that is not in it, in light of the tone curve undone. */
gboolean ts_chart_linear_expect (const TsChartLinear *self,
                                 const TsChartPrior  *prior,
                                 TsRgb                paint[TS_PRIOR_PAINTS]);

G_END_DECLS
