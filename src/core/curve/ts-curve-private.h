/* ts-curve-private.h: what a fitted curve is made of, for the fit that makes it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "curve/ts-curve.h"

G_BEGIN_DECLS

/* Segments of the longest spline, and of the band, whose edges are straight between its places. */
#define TS_CURVE_MAX_SEGMENTS 40
#define TS_CURVE_MAX_SPLINES (TS_CURVE_MAX_SEGMENTS + 3)
#define TS_CURVE_BAND_SEGMENTS 200

typedef struct
{
  double value, low, high;
} TsCurvePlace;

struct _TsCurve
{
  TsCurveShape shape;
  guint segments;
  double L[TS_CURVE_MAX_SPLINES], a[TS_CURVE_MAX_SPLINES], b[TS_CURVE_MAX_SPLINES];
  double low[TS_CURVE_BAND_SEGMENTS + 1], high[TS_CURVE_BAND_SEGMENTS + 1];

  /* Lightest and darkest place of the fall, and the steepest of it. */
  TsCurvePlace highlight, core, terminator;
  gboolean has_terminator, reversed, seems_polished, sound;
  double noise;

  /* Owned. */
  gsize n_samples;
  TsCurveRule rule;
  TsCurveSample *sample;
  double *residual;
  gboolean *outlier;
  TsOutlierReason *reason;
};

/* A curve for @n_samples, all else 0. */
TsCurve *ts_curve_new         (gsize     n_samples);
/* Finds the ends of the fall once shape, segments and L are there. */
void     ts_curve_find_ends   (TsCurve  *self);

G_END_DECLS
