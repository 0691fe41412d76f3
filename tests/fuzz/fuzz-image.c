/* fuzz-image.c: any bytes as a picture file
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "fuzz.h"

#include "image/ts-image.h"

#define SIDE 16

/* Bytes give a picture whose colours are finite, or an error with a message. */
int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static (data, size);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsImage) image = ts_image_new_from_bytes (bytes, "it", NULL, NULL, NULL, &error);
  TsXyz xyz[SIDE * SIDE];
  guint8 clipped[SIDE * SIDE];
  guint32 words[SIDE * SIDE];
  guint width, height;

  g_assert ((image == NULL) == (error != NULL));
  if (image == NULL)
    return 0;

  width = MIN (SIDE, ts_image_get_width (image));
  height = MIN (SIDE, ts_image_get_height (image));
  ts_image_read_xyz (image, 0, 0, width, height, xyz, clipped);
  ts_image_read_screen (image, 0, 0, width, height, words, SIDE);
  for (guint i = 0; i < width * height; i++)
    g_assert (isfinite (xyz[i].X) && isfinite (xyz[i].Y) && isfinite (xyz[i].Z));
  ts_image_unref (ts_image_reduce (image, 2));
  return 0;
}
