/* ts-difference.c: how far apart two colours are
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "colour/ts-difference.h"

#include <math.h>

/* The names in this file are those of Sharma, Wu and Dalal (2005), The CIEDE2000 color-difference
 * formula, Color Research & Application 30(1), 21-30. */

typedef struct
{
  double SL, SC, SH, RT;
} Weights;

static double
radians (double degrees)
{
  return degrees * (G_PI / 180.0);
}

static double
seventh_power (double x)
{
  double cube = x * x * x;

  return cube * cube * x;
}

/* sqrt (C^7 / (C^7 + 25^7)) */
static double
chroma_share (double C)
{
  double power = seventh_power (C);

  return sqrt (power / (power + 6103515625.0));
}

/* From 0 to below 360 degrees; 0 for a grey. */
static double
hue_angle (double a, double b)
{
  double hue = atan2 (b, a) * (180.0 / G_PI);

  return hue < 0.0 ? hue + 360.0 : hue;
}

/* @L, @C, @h: the means of both colours, the hue in degrees from 0 to below 360. */
static Weights
weights_at (double L, double C, double h)
{
  double T = 1.0 - 0.17 * cos (radians (h - 30.0)) + 0.24 * cos (radians (2.0 * h)) +
             0.32 * cos (radians (3.0 * h + 6.0)) - 0.20 * cos (radians (4.0 * h - 63.0));
  double turn = 30.0 * exp (-((h - 275.0) / 25.0) * ((h - 275.0) / 25.0));
  double off_middle = (L - 50.0) * (L - 50.0);

  return (Weights){
    .SL = 1.0 + 0.015 * off_middle / sqrt (20.0 + off_middle),
    .SC = 1.0 + 0.045 * C,
    .SH = 1.0 + 0.015 * C * T,
    .RT = -2.0 * chroma_share (C) * sin (radians (2.0 * turn)),
  };
}

/* Mean of two hues the short way round, and the signed way from @h1 to @h2. */
static double
mean_hue (double h1, double h2, gboolean opposite, double *difference)
{
  double way = h2 - h1;
  double mean = (h1 + h2) / 2.0;

  if (fabs (way) > 180.0 && !opposite)
    {
      way += way > 0.0 ? -360.0 : 360.0;
      mean += mean < 180.0 ? 180.0 : -180.0;
    }
  *difference = way;
  return mean;
}

/**
 * ts_delta_e_2000:
 * @one: a CIELAB colour
 * @other: another
 *
 * Source: ISO/CIE 11664-6, all parametric weights 1. Symmetric.
 *
 * Returns: the CIEDE2000 difference, 0 or more
 */
double
ts_delta_e_2000 (TsLab one, TsLab other)
{
  double G = 0.5 * (1.0 - chroma_share ((hypot (one.a, one.b) + hypot (other.a, other.b)) / 2.0));
  double a1 = (1.0 + G) * one.a, a2 = (1.0 + G) * other.a;
  double C1 = hypot (a1, one.b), C2 = hypot (a2, other.b);
  double h1 = hue_angle (a1, one.b), h2 = hue_angle (a2, other.b);
  gboolean grey = C1 * C2 == 0.0;
  /* Hues that are exactly opposite differ by 180 degrees and not by more, which the rounding of two
   * arc tangents cannot tell; the products can (pairs 10 and 14 of the published table). */
  gboolean opposite = a1 * other.b == a2 * one.b;
  double dh = 0.0;
  double h = grey ? h1 + h2 : mean_hue (h1, h2, opposite, &dh);
  Weights w = weights_at ((one.L + other.L) / 2.0, (C1 + C2) / 2.0, h);
  double L = (other.L - one.L) / w.SL;
  double C = (C2 - C1) / w.SC;
  double H = 2.0 * sqrt (C1 * C2) * sin (radians (dh / 2.0)) / w.SH;

  double square = L * L + C * C + H * H + w.RT * C * H;

  /* RT is never so strong that the sum could be negative but by rounding. */
  return square < 0.0 ? 0.0 : sqrt (square);
}

/**
 * ts_delta_e_76:
 * @one: a CIELAB colour
 * @other: another
 *
 * Returns: the distance in CIELAB (ISO/CIE 11664-4)
 */
double
ts_delta_e_76 (TsLab one, TsLab other)
{
  return hypot (hypot (one.L - other.L, one.a - other.a), one.b - other.b);
}

/**
 * ts_delta_e_2000_metric:
 * @lab: a CIELAB colour
 * @metric: (out): the matrix in L, a, b
 *
 * The limit of the squared CIEDE2000 difference for a small step d from @lab: d' @metric d. For a
 * small step both colours share G and the weights, so that the formula becomes this quadratic form.
 */
void
ts_delta_e_2000_metric (TsLab lab, double metric[3][3])
{
  double stretch = 1.0 + 0.5 * (1.0 - chroma_share (hypot (lab.a, lab.b)));
  double a = stretch * lab.a;
  double C = hypot (a, lab.b);
  Weights w = weights_at (lab.L, C, hue_angle (a, lab.b));
  /* Towards more chroma; at a grey any direction does, since all weigh the same there. */
  double ca = C > 0.0 ? a / C : 1.0;
  double cb = C > 0.0 ? lab.b / C : 0.0;
  /* The step in chroma and in hue, each as its coefficients of da and db. */
  double chroma[2] = { ca * stretch / w.SC, cb / w.SC };
  double hue[2] = { -cb * stretch / w.SH, ca / w.SH };

  metric[0][0] = 1.0 / (w.SL * w.SL);
  for (int i = 0; i < 2; i++)
    {
      metric[0][i + 1] = metric[i + 1][0] = 0.0;
      for (int j = 0; j < 2; j++)
        metric[i + 1][j + 1] = chroma[i] * chroma[j] + hue[i] * hue[j] +
                               0.5 * w.RT * (chroma[i] * hue[j] + hue[i] * chroma[j]);
    }
}
