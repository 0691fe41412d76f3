/* ts-correction-private.h: what a correction holds, for the files that fit one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-chart.h"

G_BEGIN_DECLS

#define TS_CORRECTION_MAX_TERMS 6

/* One tone curve for the three channels, log y = b l + c l^2 + d l^3 with l = log x, straight beyond
 * l[0] and l[1]. It undoes what the camera's contrast curve left beside the file's own curve. */
typedef struct
{
  double b, c, d;
  double l[2];     /* ends of the fitted stretch */
  double slope[2]; /* of the straight lines beyond them */
} TsTone;

/* Linear RGB times gain, through the tone curve, to terms, times matrix: XYZ. */
typedef struct
{
  double gain[3];
  TsTone tone;
  guint  n_terms; /* 3: r g b; 6: also sqrt rg, gb, rb (Finlayson, Mackiewicz and Hurlbert 2015) */
  double matrix[3][TS_CORRECTION_MAX_TERMS];
} TsCorrectionModel;

void          ts_tone_set_straight     (TsTone                  *self,
                                        double                   exponent);
double        ts_tone_apply            (const TsTone            *self,
                                        double                   x);
TsRgb         ts_correction_model_tone (const TsCorrectionModel *self,
                                        TsRgb                    rgb);
void          ts_correction_terms      (TsRgb                    rgb,
                                        guint                    n_terms,
                                        double                   terms[TS_CORRECTION_MAX_TERMS]);
TsXyz         ts_correction_model_apply (const TsCorrectionModel *self,
                                         TsRgb                    rgb);

/* @known: the reference colours of the @n_known patches the fit rests on. */
TsCorrection *ts_correction_new_chart  (const TsCorrectionModel *model,
                                        double                   leave_one_out,
                                        const TsLab             *known,
                                        guint                    n_known);

G_END_DECLS
