/* ts-correction-private.h: what a correction holds, for the files that fit one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "correction/ts-chart.h"

G_BEGIN_DECLS

#define TS_CORRECTION_MAX_TERMS 13
#define TS_TONE_BENDS           3

/* y = gain (x exp (sum of bend[k] (v^(k+1) - 1)) - offset), v = x as sRGB encodes it. It undoes what
 * the camera's contrast curve left beside the file's own curve: white stays, and towards black it
 * becomes a straight line again. The offset is flare. */
typedef struct
{
  double gain;
  double bend[TS_TONE_BENDS];
  double offset;
} TsTone;

/* Linear RGB through the tone curves to terms, times matrix: XYZ. */
typedef struct
{
  TsTone tone[3]; /* of each channel; a chart's are the same but for the gain */
  guint  n_terms; /* 3, 6 or 13 */
  double matrix[3][TS_CORRECTION_MAX_TERMS];
} TsCorrectionModel;

/* Whose photograph it was worked out from. */
typedef enum
{
  TS_SHARED_NOT,      /* this one */
  TS_SHARED_BY_CARD,  /* another, with a grey card in both */
  TS_SHARED_AS_IT_IS  /* another of the same settings */
} TsShared;

struct _TsCorrection
{
  TsCorrectionKind  kind;
  TsCorrectionModel model;
  TsShared          shared;
  guint             n_cards;
  double            leave_one_out;
  guint             n_known;
  TsLab             known[TS_CHART_PATCHES];
};

/* To be filled by the caller. */
TsCorrection *ts_correction_new_kind   (TsCorrectionKind         kind);

TsTone        ts_tone_straight         (void);
gboolean      ts_tone_rises            (const TsTone            *self);
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
