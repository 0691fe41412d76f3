/* ts-curve-outlier.h: samples that do not belong to their curve, and why
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-curve-ensemble.h"

G_BEGIN_DECLS

gboolean ts_curve_trust_between    (TsCurveData           *data,
                                    const TsCurveSample   *samples,
                                    const TsCurveEnsemble *ensemble);
/* Also says how large the noise is, and whether the curve is sound. */
void     ts_curve_name_outliers    (TsCurve               *curve,
                                    const TsCurveEnsemble *ensemble,
                                    const TsCurveData     *data,
                                    const TsCurveSample   *samples);
/* Needs the colours of the curve. */
void     ts_curve_explain_outliers (TsCurve               *curve,
                                    const TsCurveSample   *samples);

G_END_DECLS
