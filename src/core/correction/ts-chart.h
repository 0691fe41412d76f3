/* ts-chart.h: a 24-patch colour chart: its reference colours, and how a picture shows it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-correction.h"
#include "image/ts-image.h"

G_BEGIN_DECLS

#define TS_CHART_COLUMNS 6
#define TS_CHART_ROWS    4
#define TS_CHART_PATCHES 24

/* Reference colours, CIELAB D50, in the chart's own order: row by row from patch 1. */
typedef struct
{
  TsLab lab[TS_CHART_PATCHES];
} TsChartReference;

/* One patch as the picture shows it. */
typedef struct
{
  TsXyz    xyz;           /* mean over the inner area, as the picture has it */
  double   clipped_share; /* 0..1 */
  double   x[4], y[4];    /* corners of the measured area, upright pixels, clockwise */
  gboolean used;          /* FALSE: left out, @why says the word */
  const char *why;        /* static, or %NULL */
  double   residual;      /* CIEDE2000 after the correction */
} TsChartPatch;

typedef struct
{
  TsChartPatch patch[TS_CHART_PATCHES];
  guint        n_used;
  double       leave_one_out;        /* root mean square CIEDE2000 of what was kept */
  double       leave_one_out_linear; /* the same for a plain linear 3x3 */
  double       leave_one_out_root;   /* and for the root-polynomial, which is kept but for few patches of
                                      * a chart with colours of its own */
} TsChartReading;

/* The published values that come with the program, by name: "earlier" or "later" make. */
gboolean      ts_chart_reference_get      (const char              *name,
                                           TsChartReference        *reference,
                                           GError                 **error);
/* From CGATS text (ISO 28178) with LAB_L LAB_A LAB_B or XYZ_X XYZ_Y XYZ_Z, 24 sets. */
gboolean      ts_chart_reference_load     (const char              *path,
                                           TsChartReference        *reference,
                                           GError                 **error);
/* Measures the patches between four centres of corner patches, @corners x, y clockwise from patch 1
 * as the painter gave them, and fits the correction; the chart's turn is found from the patches.
 * Fails with TS_ERROR_FORMAT where this does not look like the chart. */
TsCorrection *ts_chart_fit                (const TsImage           *image,
                                           const double             corners[4][2],
                                           const TsChartReference  *reference,
                                           TsChartReading          *reading,
                                           GError                 **error);

G_END_DECLS
