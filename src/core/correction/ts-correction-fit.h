/* ts-correction-fit.h: fitting a correction to the patches of a chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-correction-private.h"

G_BEGIN_DECLS

typedef enum
{
  TS_TONE_NONE,
  TS_TONE_POWER, /* y = a x^c */
  TS_TONE_CUBIC, /* log y = a + b l + c l^2 + d l^3, l = log x */
  TS_N_TONES
} TsToneKind;

/* The chain that is fitted as a whole. */
typedef struct
{
  TsToneKind tone;
  guint      n_terms;
  gboolean   uneven; /* whether a gradient of the light over the chart is taken out of the patches */
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
                                          const TsFitPatches  *patches,
                                          TsToneKind           kind);
gboolean ts_correction_fit               (TsCorrectionModel   *model,
                                          const TsFitPatches  *patches,
                                          TsFitForm            form,
                                          double               light[2]);
double   ts_correction_fit_residual      (const TsCorrectionModel *model,
                                          const TsFitPatches  *patches,
                                          const double         light[2],
                                          guint                index);
gboolean ts_correction_fit_leave_one_out (const TsFitPatches  *patches,
                                          TsFitForm            form,
                                          double               errors[TS_CHART_PATCHES]);
gboolean ts_correction_fit_robust        (TsFitPatches        *patches,
                                          TsFitForm            form,
                                          double               residuals[TS_CHART_PATCHES]);
guint    ts_fit_patches_count            (const TsFitPatches  *self);
double   ts_fit_patches_median           (const TsFitPatches  *self,
                                          const double         values[TS_CHART_PATCHES]);

G_END_DECLS
