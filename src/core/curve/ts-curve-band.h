/* ts-curve-band.h: how far the curve and its marked places may be off
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-curve-ensemble.h"

G_BEGIN_DECLS

/* @reach: half the width of the band in standard deviations. Needs the ends of the fall. */
void ts_curve_band_fill       (TsCurve               *curve,
                               const TsCurveEnsemble *ensemble,
                               const TsCurveData     *data,
                               double                 reach);
void ts_curve_band_find_places (TsCurve               *curve,
                                const TsCurveEnsemble *ensemble,
                                const TsCurveData     *data);

G_END_DECLS
