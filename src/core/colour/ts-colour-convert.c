/* ts-colour-convert.c: from one way of writing a colour to another
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "colour/ts-colour-convert.h"

#include "base/ts-linalg.h"

#include <math.h>

/* ISO/CIE 11664-4, as the exact fractions behind 0.008856 and 903.3. */
#define CIE_EPSILON (216.0 / 24389.0)
#define CIE_KAPPA (24389.0 / 27.0)

/* Solved in exact fractions from the primaries and white of IEC 61966-2-1 and the Bradford matrix
 * of ICC.1 Annex E; each row of the first sums to the D50 white. */
static const TsMat3 xyz_from_linear_srgb = { {
  { 0.43604125161605101, 0.38511291079815541, 0.14304583758579356 },
  { 0.22248454022947745, 0.71690507860845731, 0.060610381162065262 },
  { 0.013920187471375392, 0.097067238697124011, 0.71391257383150064 },
} };
static const TsMat3 linear_srgb_from_xyz = { {
  { 3.1341863642368191, -1.6172089589982748, -0.49069406400638393 },
  { -0.97874850419069437, 1.9161300967735873, 0.03343339915999554 },
  { 0.071963927802246738, -0.22899387345320327, 1.4057537328964445 },
} };

static double
lab_curve (double t)
{
  return t > CIE_EPSILON ? cbrt (t) : (CIE_KAPPA * t + 16.0) / 116.0;
}

static double
lab_curve_inverse (double f)
{
  double cube = f * f * f;

  return cube > CIE_EPSILON ? cube : (116.0 * f - 16.0) / CIE_KAPPA;
}

/**
 * ts_lab_from_xyz:
 * @xyz: a colour, D50, 1 for the perfect reflector; values below 0 follow the straight part of the
 * curve
 *
 * Source: ISO/CIE 11664-4.
 *
 * Returns: CIELAB under D50
 */
TsLab
ts_lab_from_xyz (TsXyz xyz)
{
  double x = lab_curve (xyz.X / TS_D50_X);
  double y = lab_curve (xyz.Y);
  double z = lab_curve (xyz.Z / TS_D50_Z);

  return (TsLab){ 116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z) };
}

/**
 * ts_xyz_from_lab:
 * @lab: CIELAB under D50
 *
 * The exact inverse of ts_lab_from_xyz().
 *
 * Returns: XYZ, D50, 1 for the perfect reflector
 */
TsXyz
ts_xyz_from_lab (TsLab lab)
{
  double y = (lab.L + 16.0) / 116.0;

  return (TsXyz){ TS_D50_X * lab_curve_inverse (y + lab.a / 500.0), lab_curve_inverse (y),
                  TS_D50_Z * lab_curve_inverse (y - lab.b / 200.0) };
}

/**
 * ts_lch_from_lab:
 * @lab: a CIELAB colour
 *
 * Returns: the same as lightness, chroma and hue, the hue from 0 to below 360 degrees and 0 for a
 * grey
 */
TsLch
ts_lch_from_lab (TsLab lab)
{
  double hue = atan2 (lab.b, lab.a) * (180.0 / G_PI);

  if (hue < 0.0)
    hue += 360.0;
  if (hue >= 360.0) /* a hue a hair below 0 rounds up to a whole turn */
    hue = 0.0;
  return (TsLch){ lab.L, hypot (lab.a, lab.b), hue };
}

/**
 * ts_lab_from_lch:
 * @lch: lightness, chroma and hue in degrees, any turn
 *
 * Returns: the same as CIELAB
 */
TsLab
ts_lab_from_lch (TsLch lch)
{
  double hue = lch.h * (G_PI / 180.0);

  return (TsLab){ lch.L, lch.C * cos (hue), lch.C * sin (hue) };
}

/**
 * ts_xyz_from_rgb:
 * @rgb: linear light in sRGB's primaries, 1 is white, any range
 *
 * Source: IEC 61966-2-1; Bradford adaptation from D65 to D50 as in ICC.1 Annex E.
 *
 * Returns: XYZ, D50; white gives the D50 white
 */
TsXyz
ts_xyz_from_rgb (TsRgb rgb)
{
  TsVec3 xyz = ts_mat3_apply (&xyz_from_linear_srgb, (TsVec3){ { rgb.r, rgb.g, rgb.b } });

  return (TsXyz){ xyz.v[0], xyz.v[1], xyz.v[2] };
}

/**
 * ts_rgb_from_xyz:
 * @xyz: a colour, D50
 *
 * The inverse of ts_xyz_from_rgb().
 *
 * Returns: linear light in sRGB's primaries, outside 0..1 for a colour that sRGB cannot show
 */
TsRgb
ts_rgb_from_xyz (TsXyz xyz)
{
  TsVec3 rgb = ts_mat3_apply (&linear_srgb_from_xyz, (TsVec3){ { xyz.X, xyz.Y, xyz.Z } });

  return (TsRgb){ rgb.v[0], rgb.v[1], rgb.v[2] };
}

/**
 * ts_srgb_encode:
 * @linear: linear light, 1 is white
 *
 * Source: IEC 61966-2-1.
 *
 * Returns: the encoded value, 1 for white; below 0 the negative of what -@linear gives
 */
double
ts_srgb_encode (double linear)
{
  double size = fabs (linear);
  double encoded = size <= 0.0031308 ? 12.92 * size : 1.055 * pow (size, 1.0 / 2.4) - 0.055;

  return copysign (encoded, linear);
}

/**
 * ts_srgb_decode:
 * @encoded: a value on the sRGB curve, 1 is white
 *
 * Source: IEC 61966-2-1.
 *
 * Returns: linear light; below 0 the negative of what -@encoded gives
 */
double
ts_srgb_decode (double encoded)
{
  double size = fabs (encoded);
  double linear = size <= 0.04045 ? size / 12.92 : pow ((size + 0.055) / 1.055, 2.4);

  return copysign (linear, encoded);
}

/* The code nearest to @linear; TRUE where no holding at the edge was needed. */
static gboolean
encode_code (double linear, guint8 *code)
{
  double scaled = 255.0 * ts_srgb_encode (linear);
  gboolean inside = scaled >= -0.5 && scaled < 255.5;

  /* Asked this way round, NaN becomes 0. */
  *code = scaled > 0.0 ? (guint8) (MIN (scaled, 255.0) + 0.5) : 0;
  return inside;
}

/**
 * ts_lab_to_srgb8:
 * @lab: CIELAB under D50
 * @srgb: (out caller-allocates) (array fixed-size=3): red, green and blue
 *
 * Each channel that leaves 0..255 is held at the edge, which shifts the hue of strong colours.
 *
 * Returns: %TRUE where the colour can be shown, %FALSE where a channel was held
 */
gboolean
ts_lab_to_srgb8 (TsLab lab, guint8 srgb[3])
{
  TsRgb rgb = ts_rgb_from_xyz (ts_xyz_from_lab (lab));
  gboolean red = encode_code (rgb.r, &srgb[0]);
  gboolean green = encode_code (rgb.g, &srgb[1]);
  gboolean blue = encode_code (rgb.b, &srgb[2]);

  return red && green && blue;
}

/**
 * ts_lab_from_srgb8:
 * @srgb: (array fixed-size=3): red, green and blue
 *
 * Returns: CIELAB under D50
 */
TsLab
ts_lab_from_srgb8 (const guint8 srgb[3])
{
  TsRgb rgb = { ts_srgb_decode (srgb[0] / 255.0), ts_srgb_decode (srgb[1] / 255.0),
                ts_srgb_decode (srgb[2] / 255.0) };

  return ts_lab_from_xyz (ts_xyz_from_rgb (rgb));
}

/**
 * ts_lightness_from_luminance:
 * @Y: luminance factor, 1 for the perfect reflector
 *
 * Returns: CIE L*, 100 for the perfect reflector
 */
double
ts_lightness_from_luminance (double Y)
{
  return 116.0 * lab_curve (Y) - 16.0;
}

/**
 * ts_luminance_from_lightness:
 * @L: CIE L*
 *
 * Returns: luminance factor, 1 for the perfect reflector
 */
double
ts_luminance_from_lightness (double L)
{
  return lab_curve_inverse ((L + 16.0) / 116.0);
}

/* ASTM D1535: luminance factor in per cent of the perfect reflector. */
static double
munsell_luminance (double value)
{
  return value * (1.1914 + value * (-0.22533 +
                                    value * (0.23352 + value * (-0.020484 + value * 0.00081939))));
}

static double
munsell_luminance_slope (double value)
{
  return 1.1914 +
         value * (2.0 * -0.22533 +
                  value * (3.0 * 0.23352 + value * (4.0 * -0.020484 + value * 5.0 * 0.00081939)));
}

/**
 * ts_munsell_value_from_lightness:
 * @L: CIE L*; below 0 counts as 0 and above 100 as 100
 *
 * Solves the quintic of ASTM D1535 to the last digits.
 *
 * Returns: Munsell value, 0 to 10
 */
double
ts_munsell_value_from_lightness (double L)
{
  double wanted = 100.0 * ts_luminance_from_lightness (CLAMP (L, 0.0, 100.0));
  double value = CLAMP (L, 0.0, 100.0) / 10.0;

  /* A tenth of the lightness is near enough to the root, and the curve there near enough to a
   * straight line, for four of Newton's steps; two more cost nothing. */
  for (int i = 0; i < 6; i++)
    value -= (munsell_luminance (value) - wanted) / munsell_luminance_slope (value);
  return CLAMP (value, 0.0, 10.0);
}

/**
 * ts_lightness_from_munsell_value:
 * @value: Munsell value; below 0 counts as 0 and above 10 as 10
 *
 * Source: the quintic of ASTM D1535.
 *
 * Returns: CIE L*, 0 to 100
 */
double
ts_lightness_from_munsell_value (double value)
{
  return ts_lightness_from_luminance (munsell_luminance (CLAMP (value, 0.0, 10.0)) / 100.0);
}
