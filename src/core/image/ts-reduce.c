/* ts-reduce.c: a smaller picture by area average
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-image-private.h"

#include <string.h>

#include "image/ts-reduce-private.h"

static void
reduce_strip (const TsImage *self, const guint8 *rows, guint n_rows, guint factor, guint32 *sums,
              guint8 *out)
{
  guint channels = ts_pixel_format_get_channels (self->format);
  gsize n = (gsize) self->width * channels;
  gboolean deep = ts_pixel_format_get_size (self->format) == 2 * channels;

  memset (sums, 0, n * sizeof *sums);
  if (deep)
    {
      const guint16 *row = (const guint16 *) (const void *) rows;

      for (guint i = 0; i < n_rows; i++)
        ts_reduce_add_row16 (row + i * n, n, sums);
      ts_reduce_average16 (sums, self->width, channels, factor, n_rows, (guint16 *) (void *) out);
    }
  else
    {
      for (guint i = 0; i < n_rows; i++)
        ts_reduce_add_row8 (rows + i * n, n, sums);
      ts_reduce_average8 (sums, self->width, channels, factor, n_rows, out);
    }
}

static GBytes *
reduce_pixels (const TsImage *self, guint factor, guint width, guint height)
{
  gsize size = ts_pixel_format_get_size (self->format);
  const guint8 *in = g_bytes_get_data (self->pixels, NULL);
  g_autofree guint32 *sums =
    g_new (guint32, (gsize) self->width * ts_pixel_format_get_channels (self->format));
  gsize n = size * width * height;
  guint8 *out = g_malloc (n);

  for (guint y = 0; y < height; y++)
    {
      guint first = y * factor;

      reduce_strip (self, in + first * size * self->width, MIN (factor, self->height - first),
                    factor, sums, out + y * size * width);
    }
  return g_bytes_new_take (out, n);
}

/**
 * ts_image_reduce:
 * @self: a picture
 * @factor: how many pixels become one, each way, 1 to 4096; 1 gives @self again
 *
 * Averages in the file's own encoding, as screens and other programs scale; for light that has been
 * mixed physically use ts_image_read_xyz() and average there. The last column and row average what
 * is there. Time linear in the pixels of @self.
 *
 * Returns: (transfer full): the smaller picture, with the profile, note, hash and full size of
 * @self
 */
TsImage *
ts_image_reduce (const TsImage *self, guint factor)
{
  TsImage *small;

  g_return_val_if_fail (self != NULL, NULL);
  g_return_val_if_fail (factor >= 1 && factor <= TS_REDUCE_MAX_FACTOR, NULL);

  if (factor == 1)
    return ts_image_ref ((TsImage *) self);

  small = g_atomic_rc_box_new0 (TsImage);
  small->width = (self->width + factor - 1) / factor;
  small->height = (self->height + factor - 1) / factor;
  small->full_width = self->full_width;
  small->full_height = self->full_height;
  small->format = self->format;
  small->file_size = self->file_size;
  small->pixels = reduce_pixels (self, factor, small->width, small->height);
  small->profile = ts_profile_ref (self->profile);
  small->note = g_strdup (self->note);
  small->sha256 = g_strdup (self->sha256);
  return small;
}
