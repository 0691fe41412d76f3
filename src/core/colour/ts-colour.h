/* ts-colour.h: colours as plain values
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* CIE 1931 XYZ, D50, relative: the perfect reflector is TS_D50_X, 1, TS_D50_Z (ICC.1, PCS white). */
typedef struct
{
  double X, Y, Z;
} TsXyz;

/* CIELAB (ISO/CIE 11664-4), D50 white. L 0 to 100; a, b about -128 to 127. */
typedef struct
{
  double L, a, b;
} TsLab;

/* CIELAB in cylinder form: C >= 0, h in degrees from 0 to below 360. */
typedef struct
{
  double L, C, h;
} TsLch;

/* Linear light in sRGB's primaries (IEC 61966-2-1), D65; 1 is white, values may leave 0..1. */
typedef struct
{
  double r, g, b;
} TsRgb;

#define TS_D50_X 0.9642
#define TS_D50_Z 0.8249

G_END_DECLS
