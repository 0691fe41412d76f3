/* ts-assumed.c: what the numbers of a picture mean where it does not say
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * RGB is sRGB, and grey is sRGB with three equal channels. CMYK is ink that takes its share from
 * each channel of sRGB and from what the other ink left: red = (1 - cyan) (1 - black), and so on
 * (common practice, no source). Real inks are duller; a picture in CMYK should bring its profile.
 */
#include "colour/ts-assumed.h"

#include <glib/gi18n.h>

#include "colour/ts-colour-convert.h"

/* Both divide by the full scale and round to nearest. */
static guint8
from_16_bits (guint16 sample)
{
  return (guint8) ((sample * 255u + 32767u) / 65535u);
}

static guint8
leave (guint8 ink, guint8 black)
{
  return (guint8) (((255u - ink) * (255u - black) + 127u) / 255u);
}

static gpointer
make_decode_table (gpointer unused)
{
  double *table = g_new (double, 256);

  for (int i = 0; i < 256; i++)
    table[i] = ts_srgb_decode (i / 255.0);
  return table;
}

static double
decode_8_bits (guint8 code)
{
  static GOnce once = G_ONCE_INIT;
  const double *table = g_once (&once, make_decode_table, NULL);

  return table[code];
}

static double
decode_16_bits (guint16 code)
{
  return ts_srgb_decode (code / 65535.0);
}

static double
decode_ink (guint8 ink, guint8 black)
{
  return ts_srgb_decode ((255 - ink) * (255 - black) / (255.0 * 255.0));
}

static TsRgb
linear_at (TsPixelFormat format, const void *pixels, gsize i)
{
  const guint8 *narrow = pixels;
  const guint16 *wide = pixels;
  TsRgb rgb = { 0.0 };

  switch (format)
    {
    case TS_PIXEL_GREY8:
      rgb.r = rgb.g = rgb.b = decode_8_bits (narrow[i]);
      break;
    case TS_PIXEL_GREY16:
      rgb.r = rgb.g = rgb.b = decode_16_bits (wide[i]);
      break;
    case TS_PIXEL_RGB8:
      narrow += 3 * i;
      rgb =
        (TsRgb){ decode_8_bits (narrow[0]), decode_8_bits (narrow[1]), decode_8_bits (narrow[2]) };
      break;
    case TS_PIXEL_RGB16:
      wide += 3 * i;
      rgb = (TsRgb){ decode_16_bits (wide[0]), decode_16_bits (wide[1]), decode_16_bits (wide[2]) };
      break;
    case TS_PIXEL_CMYK8:
      narrow += 4 * i;
      rgb = (TsRgb){ decode_ink (narrow[0], narrow[3]), decode_ink (narrow[1], narrow[3]),
                     decode_ink (narrow[2], narrow[3]) };
      break;
    case TS_N_PIXEL_FORMATS:
    default:
      g_assert_not_reached ();
    }
  return rgb;
}

/**
 * ts_assumed_get_name:
 * @format: how the pixels are stored
 *
 * Returns: (transfer none): what is assumed, in words
 */
const char *
ts_assumed_get_name (TsPixelFormat format)
{
  return format == TS_PIXEL_CMYK8 ? _ ("plain ink model") : "sRGB";
}

/**
 * ts_assumed_to_xyz:
 * @format: how the pixels are stored
 * @pixels: @n packed pixels
 * @n: how many
 * @xyz: (out caller-allocates) (array length=n): their colours, D50
 */
void
ts_assumed_to_xyz (TsPixelFormat format, const void *pixels, gsize n, TsXyz *xyz)
{
  for (gsize i = 0; i < n; i++)
    xyz[i] = ts_xyz_from_rgb (linear_at (format, pixels, i));
}

static inline guint32
word_of (guint8 red, guint8 green, guint8 blue)
{
  return (guint32) red << 16 | (guint32) green << 8 | blue;
}

/**
 * ts_assumed_to_screen:
 * @format: how the pixels are stored
 * @pixels: @n packed pixels
 * @n: how many
 * @words: (out caller-allocates) (array length=n): 0x00RRGGBB in sRGB
 */
void
ts_assumed_to_screen (TsPixelFormat format, const void *pixels, gsize n, guint32 *words)
{
  const guint8 *narrow = pixels;
  const guint16 *wide = pixels;

  switch (format)
    {
    case TS_PIXEL_GREY8:
      for (gsize i = 0; i < n; i++)
        words[i] = word_of (narrow[i], narrow[i], narrow[i]);
      break;
    case TS_PIXEL_GREY16:
      for (gsize i = 0; i < n; i++)
        {
          guint8 grey = from_16_bits (wide[i]);

          words[i] = word_of (grey, grey, grey);
        }
      break;
    case TS_PIXEL_RGB8:
      for (gsize i = 0; i < n; i++, narrow += 3)
        words[i] = word_of (narrow[0], narrow[1], narrow[2]);
      break;
    case TS_PIXEL_RGB16:
      for (gsize i = 0; i < n; i++, wide += 3)
        words[i] = word_of (from_16_bits (wide[0]), from_16_bits (wide[1]), from_16_bits (wide[2]));
      break;
    case TS_PIXEL_CMYK8:
      for (gsize i = 0; i < n; i++, narrow += 4)
        words[i] = word_of (leave (narrow[0], narrow[3]), leave (narrow[1], narrow[3]),
                            leave (narrow[2], narrow[3]));
      break;
    case TS_N_PIXEL_FORMATS:
    default:
      g_assert_not_reached ();
    }
}
