/* test-jpeg-store.c: coefficients put away and found again
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-image.h"
#include "image/ts-jpeg-store-private.h"
#include "ts-test.h"

#include <stdlib.h>
#include <string.h>

#define WIDTH 37
#define HEIGHT 24
#define MOST_ROWS 6
#define ROUNDS 3000
#define SIDE 203

/* Values about the ends of a byte, beyond them, and zeros. */
static JCOEF
pick (GRand *rand)
{
  static const JCOEF values[] = { 0,    0,   0,   1,    -1,    127,   128,   -128,
                                  -129, 255, 256, 2047, -2048, 32767, -32768 };

  return values[g_rand_int_range (rand, 0, g_rand_int_range (rand, 0, 8) == 0 ? 15 : 6)];
}

static void
change (GRand *rand, JBLOCK *kept, JBLOCK *blocks)
{
  for (guint i = 0; i < 5; i++)
    {
      guint x = (guint) g_rand_int_range (rand, 0, WIDTH),
            k = (guint) g_rand_int_range (rand, 0, 64);

      kept[x][k] = blocks[x][k] = pick (rand);
    }
}

/* Held to a plain array through the same steps. */
static void
test_steps (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  g_autofree JBLOCK *kept = g_new0 (JBLOCK, WIDTH * HEIGHT);
  TsJpegStore *store = ts_jpeg_store_new ();
  jvirt_barray_ptr array = ts_jpeg_store_request (store, WIDTH, HEIGHT, MOST_ROWS);

  for (guint round = 0; round < ROUNDS; round++)
    {
      guint n = (guint) g_rand_int_range (rand, 1, MOST_ROWS + 1);
      guint first = (guint) g_rand_int_range (rand, 0, (gint32) (HEIGHT - n + 1));
      gboolean writable = g_rand_boolean (rand);
      JBLOCKARRAY rows = ts_jpeg_store_access (array, first, n, writable);

      for (guint i = 0; i < n; i++)
        {
          JBLOCK *row = kept + (first + i) * WIDTH;

          assert_memory_equal (rows[i], row, WIDTH * sizeof *row);
          if (writable)
            change (rand, row, rows[i]);
        }
    }
  assert_null (ts_jpeg_store_access (array, HEIGHT, 1, FALSE));
  assert_null (ts_jpeg_store_access (array, 0, MOST_ROWS + 1, FALSE));
  ts_jpeg_store_free (store);
}

/* What was not released stays, to the first block of its row. */
static void
test_release (void **state)
{
  TsJpegStore *store = ts_jpeg_store_new ();
  jvirt_barray_ptr array = ts_jpeg_store_request (store, 1000, 12, 1);

  for (guint y = 0; y < 12; y++)
    for (guint x = 0; x < 1000; x++)
      ts_jpeg_store_access (array, y, 1, TRUE)[0][x][x % 64] = (JCOEF) (y + 1);
  ts_jpeg_store_access (array, 0, 1, FALSE);
  for (guint row = 0; row < 12; row++)
    {
      ts_jpeg_store_release (store, 0, row);
      for (guint y = row; y < 12; y++)
        for (guint x = 0; x < 1000; x++)
          assert_int_equal (ts_jpeg_store_access (array, y, 1, FALSE)[0][x][x % 64], y + 1);
    }
  ts_jpeg_store_free (store);
}

/* Noise in several scans, 4:2:0, so that many coefficients are large. */
static GBytes *
write_noise (int quality)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  struct jpeg_compress_struct cinfo;
  struct jpeg_error_mgr errors;
  unsigned char *data = NULL;
  unsigned long n = 0;
  guint8 row[SIDE * 3];
  JSAMPROW at = row;

  cinfo.err = jpeg_std_error (&errors);
  jpeg_create_compress (&cinfo);
  jpeg_mem_dest (&cinfo, &data, &n);
  cinfo.image_width = cinfo.image_height = SIDE;
  cinfo.input_components = 3;
  cinfo.in_color_space = JCS_RGB;
  jpeg_set_defaults (&cinfo);
  jpeg_set_quality (&cinfo, quality, TRUE);
  jpeg_simple_progression (&cinfo);
  jpeg_start_compress (&cinfo, TRUE);
  for (guint y = 0; y < SIDE; y++)
    {
      for (guint i = 0; i < SIDE * 3; i++)
        row[i] = g_rand_boolean (rand) ? 255 : 0;
      jpeg_write_scanlines (&cinfo, &at, 1);
    }
  jpeg_finish_compress (&cinfo);
  jpeg_destroy_compress (&cinfo);
  return g_bytes_new_with_free_func (data, n, free, data);
}

/* To the last bit as libjpeg with its own arrays. */
static void
test_picture (void **state)
{
  static const int qualities[] = { 20, 90, 100 };

  for (gsize i = 0; i < G_N_ELEMENTS (qualities); i++)
    {
      g_autoptr (GBytes) bytes = write_noise (qualities[i]);
      g_autoptr (TsImage) image = ts_image_new_from_bytes (bytes, "it", NULL, NULL, NULL, NULL);
      const guint8 *got = ts_image_peek_pixels (image);
      struct jpeg_decompress_struct cinfo;
      struct jpeg_error_mgr errors;
      guint8 row[SIDE * 3];
      JSAMPROW at = row;
      gsize n;
      const guint8 *data = g_bytes_get_data (bytes, &n);

      cinfo.err = jpeg_std_error (&errors);
      jpeg_create_decompress (&cinfo);
      jpeg_mem_src (&cinfo, data, n);
      jpeg_read_header (&cinfo, TRUE);
      jpeg_start_decompress (&cinfo);
      for (guint y = 0; y < SIDE; y++)
        {
          jpeg_read_scanlines (&cinfo, &at, 1);
          assert_memory_equal (row, got + (gsize) y * sizeof row, sizeof row);
        }
      jpeg_destroy_decompress (&cinfo);
    }
}

int
main (void)
{
  static const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_steps),
    cmocka_unit_test (test_release),
    cmocka_unit_test (test_picture),
  };

  return cmocka_run_group_tests_name ("image/jpeg-store", tests, NULL, NULL);
}
