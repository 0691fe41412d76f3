/* ts-image.c: a picture's pixels, upright, in the file's own encoding
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-image-private.h"

#include "image/ts-decode-private.h"

static TsImage *
open_path (const char *path, guint64 max_pixels, GCancellable *cancellable, TsProgressFunc progress,
           gpointer progress_data, GError **error)
{
  g_autoptr (TsSource) source = ts_source_open (path, TS_DECODE_MAX_BYTES, error);

  if (source == NULL)
    return NULL;
  return ts_decode (source, max_pixels, FALSE, cancellable, progress, progress_data, error);
}

/**
 * ts_image_open:
 * @path: (type filename): a regular file in PNG or JPEG
 * @cancellable: (nullable): stops the run between rows
 * @progress: (nullable) (scope call): told how far it is, on this thread
 * @progress_data: for @progress
 * @error: return location for an error, or %NULL
 *
 * Reads a whole picture: the file once from front to back, through a small window, so that memory
 * stays near the decoded size (a progressive JPEG needs about a byte more for each sample
 * meanwhile). Pictures up to 300 megapixels are read.
 *
 * Returns: (transfer full) (nullable): the picture, or %NULL with %TS_ERROR_IO, _FORMAT,
 *   _UNSUPPORTED, _TOO_LARGE or %G_IO_ERROR_CANCELLED set
 */
TsImage *
ts_image_open (const char *path, GCancellable *cancellable, TsProgressFunc progress,
               gpointer progress_data, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  return open_path (path, 0, cancellable, progress, progress_data, error);
}

/**
 * ts_image_open_reduced:
 * @path: (type filename): a regular file in PNG or JPEG
 * @max_pixels: how many pixels are enough for the view, at least 1
 * @cancellable: (nullable): stops the run between rows
 * @progress: (nullable) (scope call): told how far it is, on this thread
 * @progress_data: for @progress
 * @error: return location for an error, or %NULL
 *
 * Reads a picture for a first view. A JPEG comes at 1/1, 1/2, 1/4 or 1/8 of its size, each side
 * rounded up: the largest that has at most @max_pixels, or 1/8. The average of a block is taken in
 * the file's own encoding. A PNG comes whole, as ts_image_open() gives it.
 *
 * Returns: (transfer full) (nullable): the picture, or %NULL with an error as of ts_image_open()
 */
TsImage *
ts_image_open_reduced (const char *path, guint64 max_pixels, GCancellable *cancellable,
                       TsProgressFunc progress, gpointer progress_data, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_return_val_if_fail (max_pixels > 0, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  return open_path (path, max_pixels, cancellable, progress, progress_data, error);
}

/**
 * ts_image_open_preview:
 * @path: (type filename): a regular file in PNG or JPEG
 * @max_pixels: how many pixels are enough for the view, at least 1
 * @cancellable: (nullable): stops the run between rows
 * @error: return location for an error, or %NULL
 *
 * As ts_image_open_reduced(), to be run beside ts_image_open(): it is refused where it would cost
 * as much time or memory as the whole picture, which holds for PNG, for a JPEG in several scans
 * (progressive) and for one within @max_pixels. A JPEG from about 10 megapixels on comes at 1/8,
 * its chroma coarser where the file's is, in a third of the time of the whole. The file is not
 * hashed.
 *
 * Returns: (transfer full) (nullable): the smaller picture, or %NULL with %TS_ERROR_UNSUPPORTED or
 *   an error as of ts_image_open() set
 */
TsImage *
ts_image_open_preview (const char *path, guint64 max_pixels, GCancellable *cancellable,
                       GError **error)
{
  g_autoptr (TsSource) source = NULL;

  g_return_val_if_fail (path != NULL, NULL);
  g_return_val_if_fail (max_pixels > 0, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  source = ts_source_open (path, TS_DECODE_MAX_BYTES, error);
  if (source == NULL)
    return NULL;
  ts_source_skip_hash (source);
  return ts_decode (source, max_pixels, TRUE, cancellable, NULL, NULL, error);
}

/**
 * ts_image_new_from_bytes:
 * @bytes: a whole file in PNG or JPEG
 * @what: names it in errors, such as "the pasted picture"
 * @cancellable: (nullable): stops the run between rows
 * @progress: (nullable) (scope call): told how far it is, on this thread
 * @progress_data: for @progress
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the picture, or %NULL with an error as of ts_image_open()
 */
TsImage *
ts_image_new_from_bytes (GBytes *bytes, const char *what, GCancellable *cancellable,
                         TsProgressFunc progress, gpointer progress_data, GError **error)
{
  g_autoptr (TsSource) source = NULL;

  g_return_val_if_fail (bytes != NULL, NULL);
  g_return_val_if_fail (what != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  source = ts_source_new_from_bytes (bytes, what);
  return ts_decode (source, 0, FALSE, cancellable, progress, progress_data, error);
}

/**
 * ts_image_new_from_pixels:
 * @pixels: (transfer none): rows from the top, packed; 16-bit samples in the machine's byte order
 * @width: pixels across, at least 1
 * @height: pixels down, at least 1
 * @format: what a pixel is made of
 * @profile: (nullable): what it means, for @format; %NULL assumes what a file without one gets
 *
 * Returns: (transfer full): the picture; it keeps references to @pixels and @profile
 */
TsImage *
ts_image_new_from_pixels (GBytes *pixels, guint width, guint height, TsPixelFormat format,
                          TsProfile *profile)
{
  TsImage *self;

  g_return_val_if_fail (pixels != NULL, NULL);
  g_return_val_if_fail (width > 0 && height > 0, NULL);
  g_return_val_if_fail (format < TS_N_PIXEL_FORMATS, NULL);
  g_return_val_if_fail (g_bytes_get_size (pixels) / ts_pixel_format_get_size (format) ==
                          (guint64) width * height,
                        NULL);

  self = g_atomic_rc_box_new0 (TsImage);
  self->width = self->full_width = width;
  self->height = self->full_height = height;
  self->format = format;
  self->pixels = g_bytes_ref (pixels);
  self->profile = profile != NULL ? ts_profile_ref (profile) : ts_profile_new_assumed (format);
  return self;
}

/**
 * ts_image_ref:
 * @self: a picture
 *
 * Returns: (transfer full): @self
 */
TsImage *
ts_image_ref (TsImage *self)
{
  return g_atomic_rc_box_acquire (self);
}

static void
image_clear (gpointer data)
{
  TsImage *self = data;

  g_bytes_unref (self->pixels);
  ts_profile_unref (self->profile);
  g_free (self->note);
  g_free (self->sha256);
}

/**
 * ts_image_unref:
 * @self: (transfer full): a picture
 *
 * Gives up a reference; the last one frees the pixels.
 */
void
ts_image_unref (TsImage *self)
{
  g_atomic_rc_box_release_full (self, image_clear);
}

/**
 * ts_image_get_width:
 * @self: a picture
 *
 * Returns: pixels across, upright
 */
guint
ts_image_get_width (const TsImage *self)
{
  return self->width;
}

/**
 * ts_image_get_height:
 * @self: a picture
 *
 * Returns: pixels down, upright
 */
guint
ts_image_get_height (const TsImage *self)
{
  return self->height;
}

/**
 * ts_image_get_full_width:
 * @self: a picture
 *
 * Returns: pixels across, upright, before any reduction
 */
guint
ts_image_get_full_width (const TsImage *self)
{
  return self->full_width;
}

/**
 * ts_image_get_full_height:
 * @self: a picture
 *
 * Returns: pixels down, upright, before any reduction
 */
guint
ts_image_get_full_height (const TsImage *self)
{
  return self->full_height;
}

/**
 * ts_image_get_format:
 * @self: a picture
 *
 * Returns: what its stored pixels are made of
 */
TsPixelFormat
ts_image_get_format (const TsImage *self)
{
  return self->format;
}

/**
 * ts_image_peek_pixels:
 * @self: a picture
 *
 * Returns: (transfer none): its stored pixels, row by row, packed
 */
const void *
ts_image_peek_pixels (const TsImage *self)
{
  return g_bytes_get_data (self->pixels, NULL);
}

/**
 * ts_image_get_profile:
 * @self: a picture
 *
 * Returns: (transfer none): what its stored pixels mean
 */
TsProfile *
ts_image_get_profile (const TsImage *self)
{
  return self->profile;
}

/**
 * ts_image_get_note:
 * @self: a picture
 *
 * Returns: (transfer none) (nullable): sentences on how the file was read, or %NULL
 */
const char *
ts_image_get_note (const TsImage *self)
{
  return self->note;
}

/**
 * ts_image_get_sha256:
 * @self: a picture
 *
 * Returns: (transfer none) (nullable): SHA-256 of the file, lower-case hex; %NULL without a file
 */
const char *
ts_image_get_sha256 (const TsImage *self)
{
  return self->sha256;
}

/**
 * ts_image_get_file_size:
 * @self: a picture
 *
 * Returns: size of the file in bytes; 0 without a file
 */
guint64
ts_image_get_file_size (const TsImage *self)
{
  return self->file_size;
}

static gboolean
is_within (const TsImage *self, guint x, guint y, guint width, guint height)
{
  return x <= self->width && width <= self->width - x && y <= self->height &&
         height <= self->height - y;
}

static const guint8 *
pixel_at (const TsImage *self, guint x, guint y)
{
  const guint8 *pixels = g_bytes_get_data (self->pixels, NULL);

  return pixels + ((gsize) y * self->width + x) * ts_pixel_format_get_size (self->format);
}

static guint8
find_clipping8 (const guint8 *pixel, guint channels)
{
  guint8 clipping = 0;

  for (guint c = 0; c < channels; c++)
    clipping |= (guint8) ((pixel[c] == G_MAXUINT8 ? TS_CLIPPED_LIGHT : 0) |
                          (pixel[c] == 0 ? TS_CLIPPED_SHADOW : 0));
  return clipping;
}

static guint8
find_clipping16 (const guint16 *pixel, guint channels)
{
  guint8 clipping = 0;

  for (guint c = 0; c < channels; c++)
    clipping |= (guint8) ((pixel[c] == G_MAXUINT16 ? TS_CLIPPED_LIGHT : 0) |
                          (pixel[c] == 0 ? TS_CLIPPED_SHADOW : 0));
  return clipping;
}

/* A plain tint has no ink in some channel; only bare paper and full black are ends of the range. */
static guint8
find_clipping_ink (const guint8 *pixel)
{
  return (guint8) (((pixel[0] | pixel[1] | pixel[2] | pixel[3]) == 0 ? TS_CLIPPED_LIGHT : 0) |
                   (pixel[3] == G_MAXUINT8 ? TS_CLIPPED_SHADOW : 0));
}

static void
find_clipping (const TsImage *self, const guint8 *pixel, guint n, guint8 *clipping)
{
  guint channels = ts_pixel_format_get_channels (self->format);
  guint size = ts_pixel_format_get_size (self->format);

  for (guint i = 0; i < n; i++, pixel += size)
    if (self->format == TS_PIXEL_CMYK8)
      clipping[i] = find_clipping_ink (pixel);
    else if (size == channels)
      clipping[i] = find_clipping8 (pixel, channels);
    else
      clipping[i] = find_clipping16 ((const guint16 *) (const void *) pixel, channels);
}

/**
 * ts_image_read_clipping:
 * @self: a picture
 * @x: left edge of the rectangle
 * @y: its top edge
 * @width: pixels across; the rectangle lies within the picture
 * @height: pixels down
 * @clipping: (array length=width*height) (out caller-allocates): #TsClipping of each, row by row
 *
 * Looks at the file's own numbers, and converts nothing.
 */
void
ts_image_read_clipping (const TsImage *self, guint x, guint y, guint width, guint height,
                        guint8 *clipping)
{
  g_return_if_fail (self != NULL);
  g_return_if_fail (is_within (self, x, y, width, height));

  for (guint row = 0; row < height; row++)
    find_clipping (self, pixel_at (self, x, y + row), width, clipping + (gsize) row * width);
}

/**
 * ts_image_read_xyz:
 * @self: a picture
 * @x: left edge of the rectangle
 * @y: its top edge
 * @width: pixels across; the rectangle lies within the picture
 * @height: pixels down
 * @xyz: (array length=width*height) (out caller-allocates): XYZ, D50, row by row
 * @clipped: (array length=width*height) (out caller-allocates) (nullable): 1 where a channel is at
 *   an end of its range (of inks: bare paper, or full black), else 0
 *
 * Converts through the picture's profile, relative colorimetric.
 */
void
ts_image_read_xyz (const TsImage *self, guint x, guint y, guint width, guint height, TsXyz *xyz,
                   guint8 *clipped)
{
  g_return_if_fail (self != NULL);
  g_return_if_fail (is_within (self, x, y, width, height));

  for (guint row = 0; row < height; row++)
    {
      const guint8 *pixel = pixel_at (self, x, y + row);
      gsize first = (gsize) row * width;

      ts_profile_to_xyz (self->profile, pixel, width, xyz + first);
      if (clipped != NULL)
        {
          find_clipping (self, pixel, width, clipped + first);
          for (guint i = 0; i < width; i++)
            clipped[first + i] = clipped[first + i] != 0;
        }
    }
}

/**
 * ts_image_read_screen:
 * @self: a picture
 * @x: left edge of the rectangle
 * @y: its top edge
 * @width: pixels across; the rectangle lies within the picture
 * @height: pixels down
 * @words: (out caller-allocates): 0x00RRGGBB, sRGB
 * @stride: words from one row to the next, at least @width
 *
 * Converts for the screen.
 */
void
ts_image_read_screen (const TsImage *self, guint x, guint y, guint width, guint height,
                      guint32 *words, gsize stride)
{
  g_return_if_fail (self != NULL);
  g_return_if_fail (is_within (self, x, y, width, height));
  g_return_if_fail (stride >= width);

  for (guint row = 0; row < height; row++)
    ts_profile_to_screen (self->profile, pixel_at (self, x, y + row), width, words + row * stride);
}

/**
 * ts_image_read_through:
 * @self: a picture
 * @screen: the way from its profile to a screen
 * @x: left edge of the rectangle
 * @y: its top edge
 * @width: pixels across; the rectangle lies within the picture
 * @height: pixels down
 * @words: (out caller-allocates): words whose lower 24 bits are RRGGBB
 * @stride: words from one row to the next, at least @width
 *
 * Converts for a screen with a profile of its own.
 */
void
ts_image_read_through (const TsImage *self, const TsProfileScreen *screen, guint x, guint y,
                       guint width, guint height, guint32 *words, gsize stride)
{
  g_return_if_fail (self != NULL && screen != NULL);
  g_return_if_fail (is_within (self, x, y, width, height));
  g_return_if_fail (stride >= width);

  if (width > 0 && height > 0)
    ts_profile_screen_convert (screen, pixel_at (self, x, y),
                               (gsize) self->width * ts_pixel_format_get_size (self->format), width,
                               height, words, stride);
}
