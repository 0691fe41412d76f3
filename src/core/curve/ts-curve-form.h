/* ts-curve-form.h: steps and bends, the common ways in which light falls off
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-band-matrix.h"

G_BEGIN_DECLS

/* More than any spline has. */
#define TS_FORMS_MOST 256

typedef struct
{
  double coefficients[TS_BAND_MAX]; /* of a height of 1 */
  double handicap;                  /* of the score: each is one of many of its kind */
} TsCurveForm;

/* Returns how many there are. */
guint ts_curve_forms_fill (TsCurveForm *forms,
                           guint        segments);

G_END_DECLS
