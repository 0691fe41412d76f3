/* ts-decode-formats.c: what kind of file the first bytes announce
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-decode-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-error.h"

typedef struct
{
  guint8 offset;
  guint8 n;
  const char *magic;
} Magic;

typedef struct
{
  Magic first;
  Magic second; /* also needed where n > 0 */
  const char *name;
  const char *mend;
} Unread;

#define SAVE_STILL N_ ("save it as PNG or as JPEG of high quality")
#define SAVE_DEEP N_ ("save it as PNG, with 16 bits if it has more than 8")
#define SAVE_OR_DEVELOP                                                                            \
  N_ ("save it as PNG, with 16 bits if it has more than 8, or develop it to one")
#define DEVELOP N_ ("develop it to a 16-bit PNG or a JPEG")
#define EXPORT_PAGE N_ ("export it as PNG at the size you work from")
#define TAKE_FRAME N_ ("save one frame of it as PNG")

/* The first bytes as each format's own specification gives them. The more particular row stands
 * before the more general one. */
/* clang-format off */
static const Unread unread[] = {
  { { 0, 4, "II*\0" },        { 8, 2, "CR" },   N_ ("a camera raw file (CR2)"),  DEVELOP },
  { { 0, 4, "II*\0" },        { 0 },            N_ ("a TIFF picture or a camera raw file"),
    SAVE_OR_DEVELOP },
  { { 0, 4, "MM\0*" },        { 0 },            N_ ("a TIFF picture or a camera raw file"),
    SAVE_OR_DEVELOP },
  { { 0, 4, "II+\0" },        { 0 },            N_ ("a BigTIFF picture"),        SAVE_DEEP },
  { { 0, 4, "MM\0+" },        { 0 },            N_ ("a BigTIFF picture"),        SAVE_DEEP },
  { { 0, 4, "IIU\0" },        { 0 },            N_ ("a camera raw file (RW2)"),  DEVELOP },
  { { 0, 3, "IIR" },          { 0 },            N_ ("a camera raw file (ORF)"),  DEVELOP },
  { { 0, 4, "MMOR" },         { 0 },            N_ ("a camera raw file (ORF)"),  DEVELOP },
  { { 0, 8, "FUJIFILM" },     { 0 },            N_ ("a camera raw file (RAF)"),  DEVELOP },
  { { 0, 4, "FOVb" },         { 0 },            N_ ("a camera raw file (X3F)"),  DEVELOP },
  { { 0, 4, "\0MRM" },        { 0 },            N_ ("a camera raw file (MRW)"),  DEVELOP },
  { { 6, 8, "HEAPCCDR" },     { 0 },            N_ ("a camera raw file (CRW)"),  DEVELOP },
  { { 4, 4, "ftyp" },         { 8, 3, "crx" },  N_ ("a camera raw file (CR3)"),  DEVELOP },
  { { 4, 4, "ftyp" },         { 8, 3, "hei" },  N_ ("a HEIC picture"),           SAVE_STILL },
  { { 4, 4, "ftyp" },         { 8, 3, "hev" },  N_ ("a HEIC sequence"),          TAKE_FRAME },
  { { 4, 4, "ftyp" },         { 8, 3, "avi" },  N_ ("an AVIF picture"),          SAVE_STILL },
  { { 4, 4, "ftyp" },         { 8, 3, "mif" },  N_ ("a HEIF picture"),           SAVE_STILL },
  { { 4, 4, "ftyp" },         { 8, 3, "msf" },  N_ ("a HEIF sequence"),          TAKE_FRAME },
  { { 4, 4, "ftyp" },         { 0 },            N_ ("a video"),                  TAKE_FRAME },
  { { 0, 4, "RIFF" },         { 8, 4, "WEBP" }, N_ ("a WebP picture"),           SAVE_STILL },
  { { 0, 4, "GIF8" },         { 0 },            N_ ("a GIF picture"),            N_ ("save it as PNG") },
  { { 0, 2, "BM" },           { 6, 4, "\0\0\0\0" }, N_ ("a BMP picture"),        N_ ("save it as PNG") },
  { { 0, 4, "8BPS" },         { 0 },            N_ ("a layered PSD picture"),    SAVE_DEEP },
  { { 0, 9, "gimp xcf " },    { 0 },            N_ ("a layered XCF picture"),    SAVE_DEEP },
  { { 0, 2, "PK" },           { 0 },            N_ ("a ZIP archive or a layered picture"),
    N_ ("unpack it, or export the picture as PNG") },
  { { 0, 5, "%PDF-" },        { 0 },            N_ ("a PDF document"),           EXPORT_PAGE },
  { { 0, 4, "%!PS" },         { 0 },            N_ ("a PostScript document"),    EXPORT_PAGE },
  { { 0, 2, "\xff\x0a" },     { 0 },            N_ ("a JPEG XL picture"),        SAVE_STILL },
  { { 4, 4, "JXL " },         { 0 },            N_ ("a JPEG XL picture"),        SAVE_STILL },
  { { 4, 4, "jP  " },         { 0 },            N_ ("a JPEG 2000 picture"),      SAVE_STILL },
  { { 0, 4, "\xff\x4f\xff\x51" }, { 0 },        N_ ("a JPEG 2000 picture"),      SAVE_STILL },
  { { 0, 4, "\x76\x2f\x31\x01" }, { 0 },        N_ ("an OpenEXR picture"),
    N_ ("save it as 16-bit PNG in sRGB") },
  { { 0, 3, "#?R" },          { 0 },            N_ ("a Radiance HDR picture"),
    N_ ("save it as 16-bit PNG in sRGB") },
  { { 0, 4, "\x8aMNG" },      { 0 },            N_ ("an MNG animation"),         TAKE_FRAME },
  { { 0, 4, "\x8bJNG" },      { 0 },            N_ ("a JNG picture"),            SAVE_STILL },
  { { 0, 4, "\0\0\1\0" },     { 0 },            N_ ("an icon file (ICO)"),       N_ ("save it as PNG") },
  { { 0, 4, "DDS " },         { 0 },            N_ ("a DDS texture"),            N_ ("save it as PNG") },
  { { 0, 4, "qoif" },         { 0 },            N_ ("a QOI picture"),            N_ ("save it as PNG") },
  { { 0, 8, "farbfeld" },     { 0 },            N_ ("a farbfeld picture"),       SAVE_DEEP },
  { { 0, 8, "AT&TFORM" },     { 0 },            N_ ("a DjVu document"),          EXPORT_PAGE },
  { { 36, 4, "acsp" },        { 0 },            N_ ("an ICC colour profile, not a picture"),
    N_ ("choose the picture it belongs to") },
};
/* clang-format on */

static gboolean
matches (const Magic *magic, const guint8 *data, gsize n)
{
  if (magic->n == 0)
    return TRUE;
  return n >= (gsize) magic->offset + magic->n &&
         memcmp (data + magic->offset, magic->magic, magic->n) == 0;
}

/* P1 to P7 and white space: the netpbm family. */
static gboolean
is_netpbm (const guint8 *data, gsize n)
{
  return n > 2 && data[0] == 'P' && data[1] >= '1' && data[1] <= '7' && g_ascii_isspace (data[2]);
}

static gboolean
is_svg (const guint8 *data, gsize n)
{
  return g_strstr_len ((const char *) data, (gssize) MIN (n, 4096), "<svg") != NULL;
}

static void
set_unread (GError **error, const char *what, const char *name, const char *mend)
{
  g_set_error (
    error, TS_ERROR, TS_ERROR_UNSUPPORTED,
    /* Translators: the name of a file, what kind of file it is ("a PDF document"), what helps
     * ("save it as PNG") */
    _ ("%s: is %s, which is not read; %s"), what, _ (name), _ (mend));
}

static void
name_unread (const guint8 *data, gsize n, const char *what, GError **error)
{
  for (gsize i = 0; i < G_N_ELEMENTS (unread); i++)
    if (matches (&unread[i].first, data, n) && matches (&unread[i].second, data, n))
      {
        set_unread (error, what, unread[i].name, unread[i].mend);
        return;
      }

  if (is_netpbm (data, n))
    set_unread (error, what, N_ ("a PNM picture"), SAVE_DEEP);
  else if (is_svg (data, n))
    set_unread (error, what, N_ ("an SVG drawing"), EXPORT_PAGE);
  else
    set_unread (error, what, N_ ("of an unknown kind"), SAVE_STILL);
}

/**
 * ts_decode_recognise:
 * @data: (array length=n): the first bytes of the file, a few kilobytes where it has them
 * @n: how many
 * @what: names the file in errors
 * @error: return location for an error, or %NULL
 *
 * Goes by the bytes, never by the file's name.
 *
 * Returns: the reader, or %NULL with %TS_ERROR_UNSUPPORTED set for a format that is not read and
 *   %TS_ERROR_FORMAT for an empty or mangled file
 */
TsDecodeFunc
ts_decode_recognise (const guint8 *data, gsize n, const char *what, GError **error)
{
  static const guint8 png[] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n' };

  if (n >= 3 && memcmp (data, "\xff\xd8\xff", 3) == 0)
    return ts_decode_jpeg;
  if (n >= sizeof png && memcmp (data, png, sizeof png) == 0)
    return ts_decode_png;

  if (n == 0)
    g_set_error (error, TS_ERROR, TS_ERROR_FORMAT, _ ("%s: the file is empty; copy it again"),
                 what);
  else if (n >= 4 && memcmp (data, png, 4) == 0)
    /* The signature is made to show this: PNG specification, 5.2. */
    g_set_error (
      error, TS_ERROR, TS_ERROR_FORMAT,
      _ ("%s: the PNG file was changed on the way, as a transfer in text mode does; copy "
         "it again"),
      what);
  else
    name_unread (data, n, what, error);
  return NULL;
}
