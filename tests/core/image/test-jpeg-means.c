/* test-jpeg-means.c: means of blocks, held to libjpeg's own coefficients and its scaled decoding
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "image/ts-image.h"
#include "image/ts-jpeg-means-private.h"
#include "jpeg-writer.h"
#include "ts-test.h"

#include <setjmp.h>
#include <stdlib.h>
#include <string.h>

#define DAMAGES 400

typedef struct
{
  guint width, height;
  int n, h, v; /* components; samples of the first for one of the others */
  int quality;
  guint restart; /* MCUs */
  gboolean optimised;
  gboolean noisy;
} Kind;

/* Noise takes long codes, escapes and last coefficients; flat areas take blocks that end at once.
 */
static void
fill_row (const Kind *kind, GRand *rand, guint y, guint8 *row)
{
  for (guint i = 0; i < kind->width * (guint) kind->n; i++)
    row[i] = kind->noisy && (i / 64 + y / 48) % 3 != 0 ? (guint8) g_rand_int_range (rand, 0, 256)
                                                       : (guint8) (i * 3 + y * 2);
}

static GBytes *
write_kind (const Kind *kind, guint32 seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  g_autofree guint8 *row = g_malloc (kind->width * (guint) kind->n);
  struct jpeg_compress_struct cinfo;
  struct jpeg_error_mgr errors;
  unsigned char *data = NULL;
  unsigned long n = 0;

  cinfo.err = jpeg_std_error (&errors);
  jpeg_create_compress (&cinfo);
  jpeg_mem_dest (&cinfo, &data, &n);
  cinfo.image_width = kind->width;
  cinfo.image_height = kind->height;
  cinfo.input_components = kind->n;
  cinfo.in_color_space = kind->n == 1 ? JCS_GRAYSCALE : JCS_RGB;
  jpeg_set_defaults (&cinfo);
  jpeg_set_quality (&cinfo, kind->quality, TRUE);
  cinfo.comp_info[0].h_samp_factor = kind->h;
  cinfo.comp_info[0].v_samp_factor = kind->v;
  cinfo.restart_interval = kind->restart;
  cinfo.optimize_coding = kind->optimised;
  jpeg_start_compress (&cinfo, TRUE);
  for (guint y = 0; y < kind->height; y++)
    {
      fill_row (kind, rand, y, row);
      jpeg_write_scanlines (&cinfo, &row, 1);
    }
  jpeg_finish_compress (&cinfo);
  jpeg_destroy_compress (&cinfo);
  return g_bytes_new_with_free_func (data, n, free, data);
}

static void
begin (struct jpeg_decompress_struct *cinfo, struct jpeg_error_mgr *errors, GBytes *bytes)
{
  gsize n;
  const guint8 *data = g_bytes_get_data (bytes, &n);

  cinfo->err = jpeg_std_error (errors);
  jpeg_create_decompress (cinfo);
  jpeg_mem_src (cinfo, data, n);
  jpeg_read_header (cinfo, TRUE);
  cinfo->out_color_space = cinfo->num_components == 1 ? JCS_GRAYSCALE : JCS_RGB;
}

static guint8 *
read_means (GBytes *bytes, guint *width, guint *height)
{
  struct jpeg_decompress_struct cinfo;
  struct jpeg_error_mgr errors;
  g_autoptr (TsJpegMeans) means = NULL;
  guint8 *pixels;

  begin (&cinfo, &errors, bytes);
  *width = (cinfo.image_width + 7) / 8;
  *height = (cinfo.image_height + 7) / 8;
  means = ts_jpeg_means_new (&cinfo);
  assert_non_null (means);
  for (guint i = 0; i < ts_jpeg_means_get_steps (means); i++)
    assert_true (ts_jpeg_means_read (means));
  pixels = g_malloc0 ((gsize) *width * *height * (gsize) cinfo.num_components);
  for (guint y = 0; y < *height; y++)
    ts_jpeg_means_get_row (means, y, pixels + (gsize) y * *width * (gsize) cinfo.num_components);
  jpeg_destroy_decompress (&cinfo);
  return pixels;
}

/* The sample that libjpeg's first coefficient of a block stands for. */
static double
mean_of (struct jpeg_decompress_struct *cinfo, jvirt_barray_ptr *coefficients, int i, guint x,
         guint y)
{
  jpeg_component_info *info = &cinfo->comp_info[i];
  guint column = x * (guint) info->h_samp_factor / (guint) cinfo->max_h_samp_factor;
  guint row = y * (guint) info->v_samp_factor / (guint) cinfo->max_v_samp_factor;
  JBLOCKARRAY blocks =
    cinfo->mem->access_virt_barray ((j_common_ptr) cinfo, coefficients[i], row, 1, FALSE);
  double mean = floor (blocks[0][column][0] * info->quant_table->quantval[0] / 8.0 + 0.5) + 128.0;

  return CLAMP (mean, 0.0, 255.0);
}

/* JFIF 1.02. */
static void
assert_pixel (const guint8 *pixel, const double *means, int n)
{
  double Y = means[0], Cb = means[1] - 128.0, Cr = means[2] - 128.0;

  if (n == 1)
    {
      assert_int_equal (pixel[0], (int) Y);
      return;
    }
  assert_near (pixel[0], CLAMP (Y + 1.402 * Cr, 0.0, 255.0), 1.0);
  assert_near (pixel[1], CLAMP (Y - 0.34414 * Cb - 0.71414 * Cr, 0.0, 255.0), 1.0);
  assert_near (pixel[2], CLAMP (Y + 1.772 * Cb, 0.0, 255.0), 1.0);
}

static void
assert_coefficients (GBytes *bytes, const guint8 *pixels, guint width, guint height)
{
  struct jpeg_decompress_struct cinfo;
  struct jpeg_error_mgr errors;
  jvirt_barray_ptr *coefficients;

  begin (&cinfo, &errors, bytes);
  coefficients = jpeg_read_coefficients (&cinfo);
  for (guint y = 0; y < height; y++)
    for (guint x = 0; x < width; x++)
      {
        double means[3] = { 0.0 };

        for (int i = 0; i < cinfo.num_components; i++)
          means[i] = mean_of (&cinfo, coefficients, i, x, y);
        assert_pixel (pixels + (y * width + x) * (guint) cinfo.num_components, means,
                      cinfo.num_components);
      }
  jpeg_destroy_decompress (&cinfo);
}

/* Without subsampling libjpeg's 1/8 is the same to the last bit. */
static void
assert_scaled (GBytes *bytes, const guint8 *pixels, guint width, guint height)
{
  struct jpeg_decompress_struct cinfo;
  struct jpeg_error_mgr errors;
  g_autofree guint8 *row = NULL;
  gsize n;

  begin (&cinfo, &errors, bytes);
  cinfo.scale_num = 1;
  cinfo.scale_denom = 8;
  jpeg_start_decompress (&cinfo);
  assert_int_equal (cinfo.output_width, width);
  assert_int_equal (cinfo.output_height, height);
  n = (gsize) width * (gsize) cinfo.num_components;
  row = g_malloc (n);
  for (guint y = 0; y < height; y++)
    {
      jpeg_read_scanlines (&cinfo, &row, 1);
      assert_memory_equal (row, pixels + y * n, n);
    }
  jpeg_destroy_decompress (&cinfo);
}

static void
check (const Kind *kind, guint32 seed)
{
  g_autoptr (GBytes) bytes = write_kind (kind, seed);
  guint width, height;
  g_autofree guint8 *pixels = read_means (bytes, &width, &height);

  assert_coefficients (bytes, pixels, width, height);
  if (kind->h == 1 && kind->v == 1)
    assert_scaled (bytes, pixels, width, height);
}

static void
test_kinds (void **state)
{
  static const int shares[][2] = { { 1, 1 }, { 2, 1 }, { 1, 2 }, { 2, 2 },
                                   { 4, 1 }, { 1, 4 }, { 4, 2 }, { 2, 4 } };
  static const guint sizes[][2] = { { 1, 1 }, { 8, 8 }, { 17, 9 }, { 163, 131 }, { 333, 64 } };
  static const int qualities[] = { 5, 75, 100 };
  static const guint restarts[] = { 0, 1, 3, 11 };

  for (guint i = 0; i < G_N_ELEMENTS (shares) * G_N_ELEMENTS (sizes) * 12; i++)
    {
      guint size = i / 12 % G_N_ELEMENTS (sizes), share = i / 12 / G_N_ELEMENTS (sizes);
      Kind kind = { sizes[size][0],      sizes[size][1],   3,
                    shares[share][0],    shares[share][1], qualities[i % 3],
                    restarts[i / 3 % 4], i % 2 == 0,       size != 4 };

      check (&kind, i);
      if (share < 4)
        {
          kind.n = 1;
          check (&kind, i);
        }
    }
}

static void
leave (j_common_ptr cinfo)
{
  longjmp (*(jmp_buf *) cinfo->client_data, 1);
}

static void
say_nothing (j_common_ptr cinfo, int level)
{
}

/* Means of as many rows of MCUs as there are; -1 where the header is not one. */
static int
read_damaged (const guint8 *data, gsize n)
{
  struct jpeg_decompress_struct cinfo = { 0 };
  struct jpeg_error_mgr errors;
  TsJpegMeans *volatile means = NULL;
  volatile int rows = -1;
  jmp_buf jump;

  cinfo.err = jpeg_std_error (&errors);
  errors.error_exit = leave;
  errors.emit_message = say_nothing;
  cinfo.client_data = &jump;
  if (setjmp (jump) == 0)
    {
      jpeg_create_decompress (&cinfo);
      jpeg_mem_src (&cinfo, data, n);
      jpeg_read_header (&cinfo, TRUE);
      means = ts_jpeg_means_new (&cinfo);
      for (rows = 0; means != NULL && rows < (int) ts_jpeg_means_get_steps (means); rows++)
        if (!ts_jpeg_means_read (means))
          break;
    }
  g_clear_pointer ((TsJpegMeans **) &means, ts_jpeg_means_free);
  jpeg_destroy_decompress (&cinfo);
  return rows;
}

/* A file that ends early is found out; whatever the bytes are, nothing else is touched. */
static void
test_damage (void **state)
{
  const Kind kind = { 163, 131, 3, 2, 2, 90, 5, TRUE, TRUE };
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  g_autoptr (GBytes) bytes = write_kind (&kind, 1);
  gsize n = g_bytes_get_size (bytes);
  int whole = read_damaged (g_bytes_get_data (bytes, NULL), n);
  guint found = 0;

  assert_int_equal (whole, 9);
  assert_in_range (read_damaged (g_bytes_get_data (bytes, NULL), n * 9 / 10), 6, 8);
  for (guint i = 0; i < DAMAGES; i++)
    {
      g_autofree guint8 *data = g_memdup2 (g_bytes_get_data (bytes, NULL), n);

      for (guint k = 0; k <= i % 4; k++)
        data[g_rand_int_range (rand, 2, (gint32) n)] = (guint8) g_rand_int_range (rand, 0, 256);
      found += read_damaged (data, n) < whole;
    }
  assert_in_range (found, DAMAGES / 4, DAMAGES);
}

/* What goes another way: several scans, arithmetic coding, inks. */
static void
test_others (void **state)
{
  static const JpegSpec others[] = {
    { 64, 64, 3, 1, 1, .progressive = TRUE },
    { 64, 64, 3, 1, 1, .arithmetic = TRUE },
    { 64, 64, 3, 1, 1, .apart = TRUE },
    { 64, 64, 4, 1, 1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (others); i++)
    {
      g_autoptr (GBytes) bytes = jpeg_write (&others[i]);
      struct jpeg_decompress_struct cinfo;
      struct jpeg_error_mgr errors;

      begin (&cinfo, &errors, bytes);
      assert_null (ts_jpeg_means_new (&cinfo));
      jpeg_destroy_decompress (&cinfo);
    }
}

/* The first view of a big picture on its side. Its chroma is not coarser and its sides are whole
 * blocks, so it is the average of the whole but for what both round. */
static void
test_preview (void **state)
{
  const JpegSpec spec = { 3968, 2528, 3, 1, 1, .orientation = 6 };
  g_autoptr (GBytes) bytes = jpeg_write (&spec);
  char *folder = ts_test_make_folder ();
  g_autofree char *path = g_build_filename (folder, "it.jpg", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsImage) preview = NULL;
  g_autoptr (TsImage) whole = NULL;
  g_autoptr (TsImage) wanted = NULL;
  const guint8 *a, *b;
  double sum = 0.0;
  gsize n;

  assert_true (g_file_set_contents (path, g_bytes_get_data (bytes, NULL),
                                    (gssize) g_bytes_get_size (bytes), NULL));
  preview = ts_image_open_preview (path, 2000000, NULL, &error);
  assert_no_error (error);
  whole = ts_image_open (path, NULL, NULL, NULL, &error);
  assert_no_error (error);
  wanted = ts_image_reduce (whole, 8);
  assert_int_equal (ts_image_get_width (preview), 316);
  assert_int_equal (ts_image_get_height (preview), 496);
  assert_int_equal (ts_image_get_full_width (preview), 2528);
  assert_int_equal (ts_image_get_full_height (preview), 3968);
  a = ts_image_peek_pixels (preview);
  b = ts_image_peek_pixels (wanted);
  n = (gsize) 316 * 496 * 3;
  for (gsize i = 0; i < n; i++)
    sum += abs (a[i] - b[i]);
  assert_true (sum / (double) n < 2.0);
  ts_test_remove_folder (folder);
}

int
main (void)
{
  static const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_kinds),
    cmocka_unit_test (test_damage),
    cmocka_unit_test (test_others),
    cmocka_unit_test (test_preview),
  };

  return cmocka_run_group_tests_name ("image/jpeg-means", tests, NULL, NULL);
}
