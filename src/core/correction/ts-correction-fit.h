/* ts-correction-fit.h: fitting a correction to the patches of a chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-correction-private.h"

G_BEGIN_DECLS

/* The chain that is fitted as a whole. */
typedef struct
{
  gboolean bent; /* whether a tone curve is drawn through the grey row */
  guint    n_terms;
} TsFitForm;

/* The patches in the chart's order. A weight of 0 leaves one out. */
typedef struct
{
  TsRgb  rgb[TS_CHART_PATCHES]; /* linear sRGB as the picture has it */
  TsLab  lab[TS_CHART_PATCHES]; /* reference */
  double weight[TS_CHART_PATCHES];
} TsFitPatches;

void     ts_fit_patches_collect          (TsFitPatches        *self,
                                          const TsChartPatch   patches[TS_CHART_PATCHES],
                                          const TsChartReference *reference);
gboolean ts_tone_fit                     (TsCorrectionModel   *model,
                                          const TsFitPatches  *patches);
gboolean ts_correction_fit               (TsCorrectionModel   *model,
                                          const TsFitPatches  *patches,
                                          TsFitForm            form);
double   ts_correction_fit_residual      (const TsCorrectionModel *model,
                                          const TsFitPatches  *patches,
                                          guint                index);
gboolean ts_correction_fit_leave_one_out (const TsFitPatches  *patches,
                                          TsFitForm            form,
                                          double               errors[TS_CHART_PATCHES]);
gboolean ts_correction_fit_robust        (TsFitPatches        *patches,
                                          TsFitForm            form,
                                          double               residuals[TS_CHART_PATCHES]);
double   ts_chart_light                  (const double         light[2],
                                          guint                index);
guint    ts_fit_patches_count            (const TsFitPatches  *self);
double   ts_fit_patches_median           (const TsFitPatches  *self,
                                          const double         values[TS_CHART_PATCHES]);

G_END_DECLS
