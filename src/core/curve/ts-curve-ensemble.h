/* ts-curve-ensemble.h: fits under many priors, averaged, and the shape they agree on
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-curve-private.h"
#include "curve/ts-curve-shape.h"

G_BEGIN_DECLS

#define TS_ENSEMBLE_MOST 20
/* Fits with a form that are tried in full. */
#define TS_ENSEMBLE_FORMS 12
#define TS_ENSEMBLE_ALL (TS_PRIORS + TS_ENSEMBLE_FORMS)

/* The models of the most likely priors, the best one first. */
typedef struct
{
  TsCurvePrior prior[TS_PRIORS];
  TsCurveForm  form[TS_ENSEMBLE_FORMS];
  TsCurveModel free[TS_ENSEMBLE_ALL];          /* before any rule of shape */
  TsCurveModel shaped[TS_ENSEMBLE_MOST];
  double       weight[TS_ENSEMBLE_MOST]; /* they sum to 1 */
  guint        n, n_free;
  guint        turn;
  TsCurveShape shape;
  gboolean     reversed, seems_polished;
  double       coefficients[TS_BAND_MAX];
} TsCurveEnsemble;

TsCurveEnsemble *ts_curve_ensemble_fit  (const TsCurveData     *data,
                                         TsCurveRule            rule);
void             ts_curve_ensemble_fit_plain (const TsCurveData  *data,
                                              double             *coefficients);
void             ts_curve_ensemble_free (TsCurveEnsemble       *self);
/* Means over the ensemble. */
double           ts_curve_ensemble_share   (const TsCurveEnsemble *self,
                                            gsize                  index);
double           ts_curve_ensemble_factor  (const TsCurveEnsemble *self);
/* Degrees of freedom that are left for the error. */
double           ts_curve_ensemble_degrees (const TsCurveEnsemble *self,
                                            const TsCurveData     *data);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsCurveEnsemble, ts_curve_ensemble_free)

G_END_DECLS
