/* ts-curve.h: how lightness falls along a surface, from lit to shadow
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

typedef struct
{
  double position;       /* 0 = lit end, 1 = shadow end */
  TsLab  lab;            /* D50 */
  double standard_error; /* of L*; 0 where not known */
} TsCurveSample;

typedef enum
{
  TS_CURVE_FALLING,
  TS_CURVE_FALLING_THEN_RISING,
  TS_CURVE_FREE /* polished: no rule of shape */
} TsCurveShape;

/* Why a sample does not belong to the curve, most likely. */
typedef enum
{
  TS_OUTLIER_NONE,    /* it belongs to it */
  TS_OUTLIER_CLIPPED, /* too light or too dark for the camera */
  TS_OUTLIER_GLINT,   /* lighter, and no colour of its own */
  TS_OUTLIER_DIRT,    /* darker, alone */
  TS_OUTLIER_SURFACE  /* another surface: another hue, or several dark ones side by side */
} TsOutlierReason;

/* What the fit may choose from. */
typedef enum
{
  TS_CURVE_RULE_SURFACE, /* falling, or falling then rising where the data support it */
  TS_CURVE_RULE_POLISHED /* free */
} TsCurveRule;

/* Part of the run, @from before @to. */
typedef struct
{
  double from, to;
} TsCurveStretch;

#define TS_CURVE_MAX_PLACES 42
#define TS_CURVE_MAX_STRETCHES (TS_CURVE_MAX_PLACES + 1)

/* A fitted curve. It never changes; threads may share it. */
typedef struct _TsCurve TsCurve;

/* Samples in any order, at least 1; samples may come from several runs. */
TsCurve      *ts_curve_fit                 (const TsCurveSample  *samples,
                                            gsize                 n_samples,
                                            TsCurveRule           rule,
                                            GError              **error);
/* TRUE where the curve was fitted to just these: it need not be fitted again. */
gboolean      ts_curve_is_of               (const TsCurve        *self,
                                            const TsCurveSample  *samples,
                                            gsize                 n_samples,
                                            TsCurveRule           rule);
TsCurve      *ts_curve_ref                 (TsCurve              *self);
void          ts_curve_unref               (TsCurve              *self);
TsCurveShape  ts_curve_get_shape           (const TsCurve        *self);
double        ts_curve_get_lightness       (const TsCurve        *self,
                                            double                position);
/* L*, and a*, b* by the same smoother without a rule of shape. */
TsLab         ts_curve_get_colour          (const TsCurve        *self,
                                            double                position);
/* 95 % band of the curve. */
void          ts_curve_get_band            (const TsCurve        *self,
                                            double                position,
                                            double               *low,
                                            double               *high);
/* Half the band's width in the middle of the run: "within about L* 2". */
double        ts_curve_get_error           (const TsCurve        *self);
/* Where the curve is lightest, and the 95 % range of that place (both nullable). */
double        ts_curve_get_highlight       (const TsCurve        *self,
                                            double               *low,
                                            double               *high);
/* Where the curve is darkest, and the 95 % range of that place (both nullable). */
double        ts_curve_get_core_shadow     (const TsCurve        *self,
                                            double               *low,
                                            double               *high);
/* The steepest fall; FALSE where the fall is too even to have one. */
gboolean      ts_curve_get_terminator      (const TsCurve        *self,
                                            double               *position,
                                            double               *low,
                                            double               *high);
/* The first place from the lit end on where the curve has fallen to @lightness; held at the ends of
 * the fall for values beyond them. */
double        ts_curve_find_lightness      (const TsCurve        *self,
                                            double                lightness);
/* Every place with that lightness, in the order of the run; at least one. */
guint         ts_curve_find_places         (const TsCurve        *self,
                                            double                lightness,
                                            double               *places);
/* Every stretch of the run whose lightness is from @dark to @light. */
guint         ts_curve_find_stretches      (const TsCurve        *self,
                                            double                dark,
                                            double                light,
                                            TsCurveStretch       *stretches);
gsize         ts_curve_get_n_samples       (const TsCurve        *self);
/* In the order they were given. */
gboolean      ts_curve_sample_is_outlier   (const TsCurve        *self,
                                            gsize                 index);
/* @clipped_share: of the sample's pixels, 0 to 1, or 0 where it is not known. */
TsOutlierReason ts_curve_get_outlier_reason (const TsCurve       *self,
                                             gsize                index,
                                             double               clipped_share);
/* Observed minus fitted L*. */
double        ts_curve_get_residual        (const TsCurve        *self,
                                            gsize                 index);
/* TRUE where the run seems to be drawn from shadow to lit; the curve is then not sound. */
gboolean      ts_curve_is_reversed         (const TsCurve        *self);
/* TRUE where no falling shape fits, but a free one does: propose that the surface is polished. */
gboolean      ts_curve_seems_polished      (const TsCurve        *self);
/* Standard deviation of the spots about the curve, L*. */
double        ts_curve_get_noise           (const TsCurve        *self);
/* FALSE where the spots do not follow one curve; the stair is then not to be trusted. */
gboolean      ts_curve_is_sound            (const TsCurve        *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsCurve, ts_curve_unref)

G_END_DECLS
