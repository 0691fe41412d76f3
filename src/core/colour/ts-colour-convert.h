/* ts-colour-convert.h: from one way of writing a colour to another
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

TsLab    ts_lab_from_xyz                  (TsXyz   xyz);
TsXyz    ts_xyz_from_lab                  (TsLab   lab);
TsLch    ts_lch_from_lab                  (TsLab   lab);
TsLab    ts_lab_from_lch                  (TsLch   lch);
/* Bradford adaptation between sRGB's D65 and the D50 of XYZ here, both ways. */
TsXyz    ts_xyz_from_rgb                  (TsRgb   rgb);
TsRgb    ts_rgb_from_xyz                  (TsXyz   xyz);
/* The sRGB curve, carried on as an odd function below 0. */
double   ts_srgb_encode                   (double  linear);
double   ts_srgb_decode                   (double  encoded);
/* Nearest displayable 8-bit sRGB; FALSE where the colour lies outside and was held at the edge. */
gboolean ts_lab_to_srgb8                  (TsLab   lab,
                                           guint8  srgb[3]);
TsLab    ts_lab_from_srgb8                (const guint8 srgb[3]);
double   ts_lightness_from_luminance      (double  Y);
double   ts_luminance_from_lightness      (double  L);
/* Munsell value 0 to 10 (ASTM D1535 quintic), from and to CIE L*. */
double   ts_munsell_value_from_lightness  (double  L);
double   ts_lightness_from_munsell_value  (double  value);

G_END_DECLS
