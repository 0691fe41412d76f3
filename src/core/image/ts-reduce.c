/* ts-reduce.c: a smaller picture by area average
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-image-private.h"

#include <string.h>

#include "image/ts-reduce-private.h"

/* A rectangle of a picture on its way to a smaller one. */
typedef struct
{
  const TsImage *image;
  guint x, y, width, height;
  guint factor;
} Part;

static void
reduce_strip (const Part *part, guint top, guint n_rows, guint32 *sums, guint8 *out)
{
  const TsImage *image = part->image;
  guint channels = ts_pixel_format_get_channels (image->format);
  gsize size = ts_pixel_format_get_size (image->format);
  gsize n = (gsize) part->width * channels;
  const guint8 *pixels = g_bytes_get_data (image->pixels, NULL);

  memset (sums, 0, n * sizeof *sums);
  for (guint i = 0; i < n_rows; i++)
    {
      const guint8 *row = pixels + ((gsize) (top + i) * image->width + part->x) * size;

      if (size == 2 * channels)
        ts_reduce_add_row16 ((const guint16 *) (const void *) row, n, sums);
      else
        ts_reduce_add_row8 (row, n, sums);
    }
  if (size == 2 * channels)
    ts_reduce_average16 (sums, part->width, channels, part->factor, n_rows,
                         (guint16 *) (void *) out);
  else
    ts_reduce_average8 (sums, part->width, channels, part->factor, n_rows, out);
}

static GBytes *
reduce_pixels (const Part *part, guint width, guint height)
{
  gsize size = ts_pixel_format_get_size (part->image->format);
  g_autofree guint32 *sums =
    g_new (guint32, (gsize) part->width * ts_pixel_format_get_channels (part->image->format));
  gsize n = size * width * height;
  guint8 *out = g_malloc (n);

  for (guint y = 0; y < height; y++)
    reduce_strip (part, part->y + y * part->factor,
                  MIN (part->factor, part->height - y * part->factor), sums,
                  out + y * size * width);
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
  g_return_val_if_fail (self != NULL, NULL);
  g_return_val_if_fail (factor >= 1 && factor <= TS_REDUCE_MAX_FACTOR, NULL);

  if (factor == 1)
    return ts_image_ref ((TsImage *) self);
  return ts_image_reduce_part (self, 0, 0, self->width, self->height, factor);
}

/**
 * ts_image_reduce_part:
 * @self: a picture
 * @x: left edge of the rectangle
 * @y: its top edge
 * @width: pixels across, at least 1; the rectangle lies within the picture
 * @height: pixels down, at least 1
 * @factor: how many pixels become one, each way, 1 to 4096
 *
 * As ts_image_reduce(), of a part.
 *
 * Returns: (transfer full): the smaller picture of the rectangle; its profile, note, hash and full
 *   size are those of @self
 */
TsImage *
ts_image_reduce_part (const TsImage *self, guint x, guint y, guint width, guint height,
                      guint factor)
{
  const Part part = { self, x, y, width, height, factor };
  TsImage *small;

  g_return_val_if_fail (self != NULL, NULL);
  g_return_val_if_fail (factor >= 1 && factor <= TS_REDUCE_MAX_FACTOR, NULL);
  g_return_val_if_fail (width > 0 && height > 0, NULL);
  g_return_val_if_fail (x < self->width && width <= self->width - x, NULL);
  g_return_val_if_fail (y < self->height && height <= self->height - y, NULL);

  small = g_atomic_rc_box_new0 (TsImage);
  small->width = (width + factor - 1) / factor;
  small->height = (height + factor - 1) / factor;
  small->full_width = self->full_width;
  small->full_height = self->full_height;
  small->format = self->format;
  small->file_size = self->file_size;
  small->pixels = reduce_pixels (&part, small->width, small->height);
  small->profile = ts_profile_ref (self->profile);
  small->note = g_strdup (self->note);
  small->sha256 = g_strdup (self->sha256);
  return small;
}
