/* ts-curve-prior.h: how wavy a curve may be before anything was measured
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-band-matrix.h"

G_BEGIN_DECLS

#define TS_PRIOR_ORDERS 3
#define TS_PRIOR_AMPLITUDES 7
#define TS_PRIORS (TS_PRIOR_ORDERS * TS_PRIOR_AMPLITUDES)

/* Normal coefficients about one centre. */
typedef struct
{
  TsBand precision;
  double log_det; /* of the precision */
} TsCurvePrior;

/* @order counts from 1 on, @amplitude from 0 on. */
void ts_curve_prior_init (TsCurvePrior *self,
                          guint         segments,
                          guint         order,
                          guint         amplitude);

G_END_DECLS
