/* ts-curve-model.h: measured values, and a curve through them under one prior
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-curve-basis.h"
#include "curve/ts-curve-form.h"
#include "curve/ts-curve-prior.h"

G_BEGIN_DECLS

/* What is to be fitted. Arrays are owned. */
typedef struct
{
  guint    segments;
  gsize    n;
  TsBasis *basis;
  double  *value;
  double  *variance; /* of each value, to a common factor */
  double   centre;   /* of the prior */
  double   degrees;  /* how much is known of the factor beforehand, degrees of freedom */
  double   factor;   /* what it is expected to be */
  gboolean *trusted; /* not an outlier whatever the fit says */
  gboolean stated;   /* whether the variances are more than equal guesses */
  gboolean robust;   /* whether there are enough values to tell outliers */
} TsCurveData;

/* One fit. @share is owned. */
typedef struct
{
  const TsCurvePrior *prior;
  const TsCurveForm  *form; /* the curve is this, of any height, and what the prior allows; or NULL */
  double  height;           /* of the form, L* */
  double  height_variance;
  double *share;     /* how sure each value is to belong to the curve, 0..1 */
  double  factor;    /* of the variances */
  double  stray;     /* share of outliers */
  TsBand  normal;    /* of the values, without the factor */
  double  right[TS_BAND_MAX];
  double  coefficients[TS_BAND_MAX];
  double  freedom;   /* degrees of freedom that the curve takes up */
  double  score;     /* minus twice the logarithm of the marginal likelihood */
  double  tied;      /* to be added to the score where the ties of a shape are taken as given */
} TsCurveModel;

void   ts_curve_data_clear       (TsCurveData        *self);
void   ts_curve_model_init       (TsCurveModel       *self,
                                  const TsCurveData  *data,
                                  const TsCurvePrior *prior,
                                  const TsCurveForm  *form);
void   ts_curve_model_clear      (TsCurveModel       *self);
void   ts_curve_model_copy       (TsCurveModel       *self,
                                  const TsCurveModel *from,
                                  const TsCurveData  *data);
/* Without a rule of shape. @from: shares to start from, or %NULL. */
void   ts_curve_model_fit        (TsCurveModel       *self,
                                  const TsCurveData  *data,
                                  const double       *from);
/* The score of the same values under another prior, less a constant: shares and factor stay. Then
 * the same with each of the forms. */
double ts_curve_model_try        (const TsCurveModel *self,
                                  const TsCurveData  *data,
                                  const TsCurvePrior *prior,
                                  const TsCurveForm  *forms,
                                  guint               n_forms,
                                  double             *scores);
/* The steps of a fit, for one that keeps a shape. */
void   ts_curve_model_gather     (TsCurveModel       *self,
                                  const TsCurveData  *data);
void   ts_curve_model_precision  (const TsCurveModel *self,
                                  const TsCurveData  *data,
                                  TsBand             *precision,
                                  double             *right);
void   ts_curve_model_judge      (TsCurveModel       *self,
                                  const TsCurveData  *data);
void   ts_curve_model_score      (TsCurveModel       *self,
                                  const TsCurveData  *data);
/* How the curve moves with the height of its form, from the decomposed precision. */
void   ts_curve_model_follow     (const TsCurveModel *self,
                                  const TsBand       *decomposed,
                                  double             *moved);
/* How sure a value is to belong to the curve when it is @residual off. */
double ts_curve_model_belief     (const TsCurveModel *self,
                                  const TsCurveData  *data,
                                  gsize               index,
                                  double              residual);
/* Of the values that belong to the curve. */
double ts_curve_model_sum_shares (const TsCurveModel *self,
                                  const TsCurveData  *data);
double ts_curve_model_residual   (const TsCurveModel *self,
                                  const TsCurveData  *data,
                                  gsize               index);

G_END_DECLS
