/* ts-decode-png.c: pictures in PNG (ISO/IEC 15948, and its third edition), through libpng
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-decode-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include <png.h>

#include "base/ts-error.h"
#include "image/ts-cicp-private.h"
#include "image/ts-exif-private.h"

/* Deflate (RFC 1951) packs at most 258 bytes into two bits. */
#define BYTES_A_BYTE 1032
#define PASSES 7

typedef struct
{
  png_structp png;
  png_infop info;
  TsDecode *decode; /* borrowed */
  GError *error;
  guint8 *row;
  char *refused_colour; /* what libpng said against a chunk that gives colours their meaning */
  gboolean ended;
  guint y;
} Reader;

static void G_GNUC_NORETURN
on_error (png_structp png, png_const_charp message)
{
  Reader *self = png_get_error_ptr (png);
  const char *what = self->decode->source->what;

  if (self->error == NULL && self->ended)
    g_set_error (&self->error, TS_ERROR, TS_ERROR_FORMAT,
                 _ ("%s: the PNG file ends early, after row %u of %u; copy it again"), what,
                 self->y, (guint) png_get_image_height (png, self->info));
  else if (self->error == NULL)
    g_set_error (&self->error, TS_ERROR, TS_ERROR_FORMAT,
                 _ ("%s: the PNG data are damaged (%s); export or copy the picture again"), what,
                 message);
  png_longjmp (png, 1);
}

static void
on_warning (png_structp png, png_const_charp message)
{
  static const char *const chunks[] = { "iCCP", "sRGB", "gAMA", "cHRM" };
  Reader *self = png_get_error_ptr (png);

  for (gsize i = 0; i < G_N_ELEMENTS (chunks); i++)
    if (self->refused_colour == NULL && g_str_has_prefix (message, chunks[i]))
      self->refused_colour = g_utf8_make_valid (message, -1); /* it may quote the file */
}

static void
on_read (png_structp png, png_bytep data, size_t n)
{
  Reader *self = png_get_io_ptr (png);
  gsize copied;

  if (!ts_source_read (self->decode->source, data, n, &copied, &self->error))
    png_error (png, _ ("the file cannot be read"));
  if (copied < n)
    {
      self->ended = TRUE;
      png_error (png, _ ("the file ends early"));
    }
}

static TsPixelFormat
choose_format (const Reader *self)
{
  gboolean colour = (png_get_color_type (self->png, self->info) & PNG_COLOR_MASK_COLOR) != 0;
  gboolean deep = png_get_bit_depth (self->png, self->info) == 16;

  if (colour)
    return deep ? TS_PIXEL_RGB16 : TS_PIXEL_RGB8;
  return deep ? TS_PIXEL_GREY16 : TS_PIXEL_GREY8;
}

static guint
read_orientation (Reader *self)
{
  png_uint_32 n = 0;
  png_bytep data = NULL;

  if (png_get_eXIf_1 (self->png, self->info, &n, &data) == 0)
    return TS_EXIF_UPRIGHT;
  return ts_exif_get_orientation (data, n);
}

/* FALSE where the file has no such chunk. */
static gboolean
take_cicp (Reader *self)
{
  png_unknown_chunkp chunks = NULL;
  int n = png_get_unknown_chunks (self->png, self->info, &chunks);

  for (int i = 0; i < n; i++)
    if (memcmp (chunks[i].name, "cICP", 4) == 0)
      {
        g_autoptr (GError) local_error = NULL;
        TsProfile *profile =
          ts_cicp_get_profile (chunks[i].data, chunks[i].size, self->decode->format, &local_error);

        ts_decode_take_profile (self->decode, profile, local_error);
        return TRUE;
      }
  return FALSE;
}

/* FALSE where the file has no such chunk. */
static gboolean
take_icc (Reader *self)
{
  png_charp name;
  int method;
  png_bytep icc;
  png_uint_32 n;

  if (png_get_iCCP (self->png, self->info, &name, &method, &icc, &n) == 0)
    return FALSE;
  ts_decode_take_icc (self->decode, icc, n);
  return TRUE;
}

/* FALSE where the file has no such chunk. Without cHRM the primaries are sRGB's. */
static gboolean
take_gamma (Reader *self)
{
  double xy[4][2] = { { 0.3127, 0.3290 }, { 0.64, 0.33 }, { 0.30, 0.60 }, { 0.15, 0.06 } };
  double gamma;
  g_autoptr (GError) local_error = NULL;
  TsProfile *profile;

  if (png_get_gAMA (self->png, self->info, &gamma) == 0)
    return FALSE;
  png_get_cHRM (self->png, self->info, &xy[0][0], &xy[0][1], &xy[1][0], &xy[1][1], &xy[2][0],
                &xy[2][1], &xy[3][0], &xy[3][1]);
  profile = ts_profile_new_from_primaries ((const double (*)[2]) xy, 1.0 / gamma,
                                           self->decode->format, &local_error);
  ts_decode_take_profile (self->decode, profile, local_error);
  return TRUE;
}

/* In the order in which the chunks override each other (PNG third edition, 4.3). */
static void
take_profile (Reader *self)
{
  int intent;

  if (take_cicp (self) || take_icc (self))
    return;
  if (self->refused_colour != NULL)
    {
      g_autoptr (GError) refused = g_error_new (
        TS_ERROR, TS_ERROR_FORMAT,
        _ ("What the picture says about its colours is damaged (%s); save it with an sRGB "
           "profile"),
        self->refused_colour);

      ts_decode_take_profile (self->decode, NULL, refused);
    }
  else if (png_get_sRGB (self->png, self->info, &intent) != 0)
    ts_decode_take_profile (self->decode, ts_cicp_get_srgb (self->decode->format, NULL), NULL);
  else
    take_gamma (self);
}

static gboolean
read_header (Reader *self)
{
  guint width, height, bits;

  png_set_read_fn (self->png, self, on_read);
  png_set_user_limits (self->png, PNG_UINT_31_MAX, PNG_UINT_31_MAX); /* ours are looked at below */
  png_set_option (self->png, PNG_SKIP_sRGB_CHECK_PROFILE, PNG_OPTION_ON);
  png_set_keep_unknown_chunks (self->png, PNG_HANDLE_CHUNK_ALWAYS, (png_const_bytep) "cICP", 1);
  png_read_info (self->png, self->info);

  width = png_get_image_width (self->png, self->info);
  height = png_get_image_height (self->png, self->info);
  bits = png_get_bit_depth (self->png, self->info) * png_get_channels (self->png, self->info);
  return ts_decode_check_size (self->decode, width, height, BYTES_A_BYTE * 8.0 / bits,
                               &self->error) &&
         ts_decode_begin (self->decode, width, height, choose_format (self),
                          read_orientation (self), &self->error);
}

static void
set_up_rows (Reader *self)
{
  png_set_expand (self->png); /* palettes to RGB, few bits to 8, tRNS to alpha */
  if (G_BYTE_ORDER == G_LITTLE_ENDIAN)
    png_set_swap (self->png);
  png_read_update_info (self->png, self->info);
  self->row = g_malloc (png_get_rowbytes (self->png, self->info));
}

/* Lays @n pixels with alpha on white and packs them, in the file's own encoding. */
static void
flatten8 (guint8 *row, guint n, guint channels)
{
  guint8 *out = row;

  for (const guint8 *in = row; n > 0; n--, in += channels)
    for (guint c = 0; c + 1 < channels; c++)
      {
        guint alpha = in[channels - 1];

        *out++ = (guint8) ((in[c] * alpha + 255 * (255 - alpha) + 127) / 255);
      }
}

static void
flatten16 (guint16 *row, guint n, guint channels)
{
  guint16 *out = row;

  for (const guint16 *in = row; n > 0; n--, in += channels)
    for (guint c = 0; c + 1 < channels; c++)
      {
        guint64 alpha = in[channels - 1];

        *out++ = (guint16) ((in[c] * alpha + 65535 * (65535 - alpha) + 32767) / 65535);
      }
}

static void
put_pass_row (Reader *self, guint y, guint x, guint step, guint n)
{
  guint channels = png_get_channels (self->png, self->info);

  if (channels % 2 == 0)
    {
      if (png_get_bit_depth (self->png, self->info) == 16)
        flatten16 ((guint16 *) (void *) self->row, n, channels);
      else
        flatten8 (self->row, n, channels);
    }
  ts_decode_put_row (self->decode, self->row, y, x, step, n);
}

/* Without libpng's own handling of interlace a pass comes as rows of just its pixels, which go
 * straight where they belong: the picture never stands in memory twice. */
static gboolean
read_pass (Reader *self, guint pass, guint64 *n_done)
{
  TsDecode *decode = self->decode;
  gboolean whole = pass == PASSES;
  guint columns = whole ? decode->width : PNG_PASS_COLS (decode->width, pass);
  guint rows = whole ? decode->height : PNG_PASS_ROWS (decode->height, pass);
  guint first = whole ? 0 : PNG_PASS_START_COL (pass);
  guint step = whole ? 1 : PNG_PASS_COL_OFFSET (pass);

  for (guint i = 0; columns > 0 && i < rows; i++)
    {
      self->y = whole ? i : PNG_ROW_FROM_PASS_ROW (i, pass);
      if (!ts_decode_advance (decode, (double) *n_done / ((double) decode->width * decode->height),
                              &self->error))
        return FALSE;
      png_read_row (self->png, self->row, NULL);
      put_pass_row (self, self->y, first, step, columns);
      *n_done += columns;
    }
  return TRUE;
}

static gboolean
read_rows (Reader *self)
{
  guint64 n_done = 0;

  set_up_rows (self);
  if (png_get_interlace_type (self->png, self->info) == PNG_INTERLACE_NONE)
    return read_pass (self, PASSES, &n_done);
  for (guint pass = 0; pass < PASSES; pass++)
    if (!read_pass (self, pass, &n_done))
      return FALSE;
  return TRUE;
}

static gboolean
read_pixels (Reader *self)
{
  if (!read_rows (self))
    return FALSE;
  take_profile (self); /* only now: building one takes longer than refusing a broken file */
  return TRUE;
}

static gboolean
read_end (Reader *self)
{
  png_read_end (self->png, self->info);
  return TRUE;
}

/* libpng leaves by longjmp (), so whatever @part owns stands in @self. */
static gboolean
guarded (Reader *self, gboolean (*part) (Reader *self))
{
  if (setjmp (png_jmpbuf (self->png)) != 0)
    return FALSE;
  return part (self);
}

/* What follows the pixels: the orientation may stand there. */
static gboolean
finish (Reader *self)
{
  guint orientation;

  if (!guarded (self, read_end))
    {
      if (self->error->domain != TS_ERROR || self->error->code != TS_ERROR_FORMAT)
        return FALSE;
      g_clear_error (&self->error);
      ts_decode_add_note (self->decode,
                          _ ("The end of the PNG file is damaged; all its pixels were read."));
      return TRUE;
    }
  orientation = read_orientation (self);
  return orientation == self->decode->orientation ||
         ts_decode_turn (self->decode, orientation, &self->error);
}

static gboolean
read_picture (Reader *self)
{
  if (!guarded (self, read_header) || !guarded (self, read_pixels) || !finish (self))
    return FALSE;
  if (png_get_channels (self->png, self->info) % 2 == 0)
    ts_decode_add_note (self->decode, _ ("Transparent parts are laid on white."));
  return TRUE;
}

/**
 * ts_decode_png:
 * @decode: a run whose source stands at the beginning of a PNG file
 * @error: return location for an error, or %NULL
 *
 * Reads every colour type and depth, interlaced or not. Fewer than 8 bits become 8, a palette RGB.
 * Transparent parts are laid on white, mixed in the file's own encoding as other programs show
 * them; so they read as clipped and stay out of measured means. A limit on the pixels is not
 * regarded: PNG has no shortcut to a smaller picture.
 *
 * Returns: %TRUE, or %FALSE with %TS_ERROR_FORMAT, _TOO_LARGE, _IO or %G_IO_ERROR_CANCELLED set
 */
gboolean
ts_decode_png (TsDecode *decode, GError **error)
{
  Reader self = { 0 };
  gboolean done;

  if (decode->preview)
    return ts_decode_refuse_preview (decode, error);
  self.decode = decode;
  self.png = png_create_read_struct (PNG_LIBPNG_VER_STRING, &self, on_error, on_warning);
  self.info = self.png != NULL ? png_create_info_struct (self.png) : NULL;
  if (self.info == NULL)
    {
      png_destroy_read_struct (&self.png, NULL, NULL);
      g_set_error (error, TS_ERROR, TS_ERROR_TOO_LARGE, _ ("%s: there is no memory to read it"),
                   decode->source->what);
      return FALSE;
    }

  done = read_picture (&self);
  png_destroy_read_struct (&self.png, &self.info, NULL);
  g_free (self.row);
  g_free (self.refused_colour);
  if (!done)
    g_propagate_error (error, self.error);
  return done;
}
