/* ts-profile.h: what the numbers in a picture file mean as colours
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

typedef enum
{
  TS_PIXEL_GREY8,
  TS_PIXEL_GREY16,
  TS_PIXEL_RGB8,
  TS_PIXEL_RGB16,
  TS_PIXEL_CMYK8, /* 0 = no ink, 255 = full */
  TS_N_PIXEL_FORMATS
} TsPixelFormat;

/* A profile bound to one pixel format. It never changes; any thread may convert with it. Pixels are
 * packed, 16-bit samples in the machine's byte order. Relative colorimetric, D50, through lcms2. */
typedef struct _TsProfile TsProfile;

TsProfile  *ts_profile_new_from_icc        (GBytes           *icc,
                                            TsPixelFormat     format,
                                            GError          **error);
/* What is assumed without a profile: sRGB, or its curve on a grey, or a plain ink model for CMYK. */
TsProfile  *ts_profile_new_assumed         (TsPixelFormat     format);
/* Chromaticities x, y of white, red, green, blue and the exponent that decodes the samples. */
TsProfile  *ts_profile_new_from_primaries  (const double      xy[4][2],
                                            double            gamma,
                                            TsPixelFormat     format,
                                            GError          **error);
TsProfile  *ts_profile_ref                 (TsProfile        *self);
void        ts_profile_unref               (TsProfile        *self);
const char *ts_profile_get_name            (const TsProfile  *self);
TsPixelFormat ts_profile_get_format        (const TsProfile  *self);
/* FALSE where the profile was assumed and not found in the file. */
gboolean    ts_profile_is_from_file        (const TsProfile  *self);
guint       ts_pixel_format_get_size       (TsPixelFormat     format);
guint       ts_pixel_format_get_channels   (TsPixelFormat     format);

void        ts_profile_to_xyz              (const TsProfile  *self,
                                            const void       *pixels,
                                            gsize             n,
                                            TsXyz            *xyz);
/* For the screen: 0x00RRGGBB words (cairo's RGB24), sRGB. */
void        ts_profile_to_screen           (const TsProfile  *self,
                                            const void       *pixels,
                                            gsize             n,
                                            guint32          *words);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsProfile, ts_profile_unref)

G_END_DECLS
