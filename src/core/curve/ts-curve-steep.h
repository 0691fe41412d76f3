/* ts-curve-steep.h: the most likely curve whose fall has one steepest place
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-band-matrix.h"

G_BEGIN_DECLS

/* Coefficients fall up to number @turn, ever faster up to the step after number @steepest and ever
 * slower from there on; past the turn they rise in any way. Returns twice the negative log
 * likelihood, to the same constant as ts_curve_shape_solve(). */
double ts_curve_steep_solve (const TsBand *precision,
                             const double *right,
                             guint         turn,
                             guint         steepest,
                             double       *coefficients);
/* The likeliest place of the steepest step. */
guint  ts_curve_steep_find  (const TsBand *precision,
                             const double *right,
                             guint         turn);

G_END_DECLS
