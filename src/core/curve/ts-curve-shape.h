/* ts-curve-shape.h: the most likely curve that falls, or falls and then rises
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-curve-model.h"

G_BEGIN_DECLS

/* Coefficients fall up to number @turn and rise from there on. */
typedef struct
{
  guint    turn;
  gboolean tied[TS_BAND_MAX]; /* to the next one */
} TsCurveTies;

/* Starts from the ties as they stand. Returns twice the negative log likelihood, to a constant. */
double ts_curve_shape_solve (const TsBand  *precision,
                             const double  *right,
                             TsCurveTies   *ties,
                             double        *coefficients);
/* Minimum over all turns; @form is filled with the value at each. */
guint  ts_curve_shape_scan  (const TsBand  *precision,
                             const double  *right,
                             double        *form);
/* Turns that a rise may have: it needs some coefficients on either side. */
#define TS_TURN_FIRST 2
#define TS_TURN_LAST(n) ((n) - 3)

/* Fits the shape to a model that was fitted without one. @turn: n - 1 for falling, 0 for rising; or
 * %NULL to look for the best. Returns the turn. */
guint  ts_curve_shape_fit   (TsCurveModel       *model,
                             const TsCurveData  *data,
                             const guint        *turn);

G_END_DECLS
