/* ts-chart-prior.h: how far cameras are off in the chart and in paints, before a picture is seen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-spectrum.h"
#include "correction/ts-chart.h"

G_BEGIN_DECLS

#define TS_PRIOR_ROWS   (3 * TS_CHART_PATCHES)
#define TS_PRIOR_PAINTS 240

/* Means and covariances over usual cameras and lights of what the best linear correction leaves, in
 * XYZ; row 3 i + c is X, Y or Z of patch or paint i. What it leaves of the patches tells, through
 * these, what it leaves of paints that are not in the picture. */
typedef struct
{
  TsLab  chart[TS_CHART_PATCHES];
  double mean[TS_PRIOR_ROWS];
  double covariance[TS_PRIOR_ROWS][TS_PRIOR_ROWS];
  TsXyz  paint[TS_PRIOR_PAINTS];
  double paint_mean[3 * TS_PRIOR_PAINTS];
  double paint_covariance[3 * TS_PRIOR_PAINTS][TS_PRIOR_ROWS];
} TsChartPrior;

extern const TsSpectrum ts_chart_spectra[TS_CHART_PATCHES];

/* Free with g_free(). */
TsChartPrior *ts_chart_prior_new (void);

G_END_DECLS
