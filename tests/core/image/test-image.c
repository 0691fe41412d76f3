/* test-image.c: a picture as a value: rectangles, clipping, reduction, unread formats
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "image/ts-image-private.h"
#include "image/ts-reduce-private.h"
#include "ts-test.h"

#include <string.h>

#define WIDTH 13
#define HEIGHT 7
#define ROUNDS 300

static TsImage *
make_image (guint width, guint height, TsPixelFormat format, GRand *rand)
{
  gsize n = (gsize) width * height * ts_pixel_format_get_size (format);
  g_autofree guint8 *data = g_malloc (n);
  g_autoptr (GBytes) bytes = NULL;

  for (gsize i = 0; i < n; i++)
    data[i] = (guint8) g_rand_int_range (rand, 0, 256);
  bytes = g_bytes_new (data, n);
  return ts_image_new_from_pixels (bytes, width, height, format, NULL);
}

/* A rectangle is what its pixels are one by one. */
static void
test_rectangle (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  for (TsPixelFormat format = 0; format < TS_N_PIXEL_FORMATS; format++)
    {
      g_autoptr (TsImage) image = make_image (WIDTH, HEIGHT, format, rand);
      TsXyz all[5 * 4], one;
      guint8 clipped[5 * 4], one_clipped;
      guint32 words[6 * 4], word;

      ts_image_read_xyz (image, 3, 2, 5, 4, all, clipped);
      memset (words, 0xaa, sizeof words);
      ts_image_read_screen (image, 3, 2, 5, 4, words, 6);
      for (guint i = 0; i < 20; i++)
        {
          ts_image_read_xyz (image, 3 + i % 5, 2 + i / 5, 1, 1, &one, &one_clipped);
          assert_memory_equal (&one, &all[i], sizeof one);
          assert_int_equal (one_clipped, clipped[i]);
          ts_image_read_screen (image, 3 + i % 5, 2 + i / 5, 1, 1, &word, 1);
          assert_int_equal (word, words[i / 5 * 6 + i % 5]);
        }
      assert_int_equal (words[5], 0xaaaaaaaa); /* between the rows nothing is touched */
      ts_image_read_xyz (image, WIDTH, HEIGHT, 0, 0, NULL, NULL);
    }
}

typedef struct
{
  const char *name;
  TsPixelFormat format;
  guint16 samples[4];
  gboolean clipped;
} ClipCase;

static const ClipCase clip_cases[] = {
  { "grey inside", TS_PIXEL_GREY8, { 1 }, FALSE },
  { "grey black", TS_PIXEL_GREY8, { 0 }, TRUE },
  { "grey white", TS_PIXEL_GREY8, { 255 }, TRUE },
  { "deep grey inside", TS_PIXEL_GREY16, { 255 }, FALSE },
  { "deep grey white", TS_PIXEL_GREY16, { 65535 }, TRUE },
  { "rgb inside", TS_PIXEL_RGB8, { 1, 128, 254 }, FALSE },
  { "rgb one channel full", TS_PIXEL_RGB8, { 255, 128, 254 }, TRUE },
  { "rgb one channel empty", TS_PIXEL_RGB8, { 3, 128, 0 }, TRUE },
  { "deep rgb inside", TS_PIXEL_RGB16, { 1, 256, 65534 }, FALSE },
  { "deep rgb full", TS_PIXEL_RGB16, { 1, 256, 65535 }, TRUE },
  { "deep rgb empty", TS_PIXEL_RGB16, { 0, 256, 65534 }, TRUE },
  { "ink without cyan", TS_PIXEL_CMYK8, { 0, 10, 20, 0 }, FALSE },
  { "bare paper", TS_PIXEL_CMYK8, { 0, 0, 0, 0 }, TRUE },
  { "full black", TS_PIXEL_CMYK8, { 0, 0, 0, 255 }, TRUE },
};

static void
test_clipped (void **state)
{
  const ClipCase *c = *state;
  guint size = ts_pixel_format_get_size (c->format);
  guint8 narrow[4];
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (TsImage) image = NULL;
  TsXyz xyz;
  guint8 clipped;

  for (guint i = 0; i < 4; i++)
    narrow[i] = (guint8) c->samples[i];
  if (c->format == TS_PIXEL_GREY16 || c->format == TS_PIXEL_RGB16)
    bytes = g_bytes_new (c->samples, size);
  else
    bytes = g_bytes_new (narrow, size);
  image = ts_image_new_from_pixels (bytes, 1, 1, c->format, NULL);
  ts_image_read_xyz (image, 0, 0, 1, 1, &xyz, &clipped);
  assert_int_equal (clipped, c->clipped);
}

/* sRGB's white is the D50 white, its black is black. */
static void
test_ends (void **state)
{
  static const guint8 pixels[] = { 255, 255, 255, 0, 0, 0 };
  g_autoptr (GBytes) bytes = g_bytes_new_static (pixels, sizeof pixels);
  g_autoptr (TsImage) image = ts_image_new_from_pixels (bytes, 2, 1, TS_PIXEL_RGB8, NULL);
  TsXyz xyz[2];
  guint32 words[2];

  ts_image_read_xyz (image, 0, 0, 2, 1, xyz, NULL);
  assert_near (ts_lab_from_xyz (xyz[0]).L, 100.0, 0.01);
  assert_near (ts_lab_from_xyz (xyz[0]).a, 0.0, 0.02);
  assert_near (ts_lab_from_xyz (xyz[0]).b, 0.0, 0.02);
  assert_near (xyz[1].Y, 0.0, 1e-9);
  ts_image_read_screen (image, 0, 0, 2, 1, words, 2);
  assert_int_equal (words[0], 0xffffff);
  assert_int_equal (words[1], 0);
  assert_null (ts_image_get_sha256 (image));
  assert_null (ts_image_get_note (image));
  assert_int_equal (ts_image_get_file_size (image), 0);
}

static guint
sample_at (const TsImage *image, guint x, guint y, guint c)
{
  guint channels = ts_pixel_format_get_channels (image->format);
  gsize i = ((gsize) y * image->width + x) * channels + c;
  const guint8 *data = g_bytes_get_data (image->pixels, NULL);

  if (ts_pixel_format_get_size (image->format) == 2 * channels)
    return ((const guint16 *) (const void *) data)[i];
  return data[i];
}

/* Plain and slow: the mean of what is there, to the nearest. */
static guint
reference_sample (const TsImage *image, guint factor, guint x, guint y, guint c)
{
  guint64 sum = 0, n = 0;

  for (guint i = y * factor; i < MIN (image->height, (y + 1) * factor); i++)
    for (guint j = x * factor; j < MIN (image->width, (x + 1) * factor); j++, n++)
      sum += sample_at (image, j, i, c);
  return (guint) ((2 * sum + n) / (2 * n));
}

static void
assert_reduced (const TsImage *image, const TsImage *reduced, guint factor)
{
  for (guint y = 0; y < reduced->height; y++)
    for (guint x = 0; x < reduced->width; x++)
      for (guint c = 0; c < ts_pixel_format_get_channels (image->format); c++)
        assert_int_equal (sample_at (reduced, x, y, c), reference_sample (image, factor, x, y, c));
}

static void
test_reduce (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint round = 0; round < ROUNDS; round++)
    {
      TsPixelFormat format = round % TS_N_PIXEL_FORMATS;
      guint factor = (guint) g_rand_int_range (rand, 2, 9);
      g_autoptr (TsImage) image = make_image ((guint) g_rand_int_range (rand, 1, 40),
                                              (guint) g_rand_int_range (rand, 1, 30), format, rand);
      g_autoptr (TsImage) reduced = ts_image_reduce (image, factor);

      assert_int_equal (reduced->width, (image->width + factor - 1) / factor);
      assert_int_equal (reduced->height, (image->height + factor - 1) / factor);
      assert_int_equal (ts_image_get_full_width (reduced), image->width);
      assert_int_equal (ts_image_get_format (reduced), format);
      assert_reduced (image, reduced, factor);
      g_hash_table_add (seen, g_compute_checksum_for_bytes (G_CHECKSUM_MD5, image->pixels));
    }
  assert_in_range (g_hash_table_size (seen), ROUNDS - 10, ROUNDS); /* the inputs really varied */
}

/* The largest sums do not run over. */
static void
test_reduce_full (void **state)
{
  guint side = TS_REDUCE_MAX_FACTOR;
  gsize n = (gsize) 2 * side * 4;
  g_autofree guint16 *data = g_new (guint16, n);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (TsImage) image = NULL;
  g_autoptr (TsImage) reduced = NULL;
  g_autofree guint32 *sums = g_new0 (guint32, side);

  memset (data, 0xff, n * sizeof *data);
  bytes = g_bytes_new (data, n * sizeof *data);
  image = ts_image_new_from_pixels (bytes, side, 8, TS_PIXEL_GREY16, NULL);
  reduced = ts_image_reduce (image, side);
  assert_int_equal (sample_at (reduced, 0, 0, 0), 65535);

  for (guint i = 0; i < side; i++)
    ts_reduce_add_row16 (data, side, sums);
  ts_reduce_average16 (sums, side, 1, side, side, data);
  assert_int_equal (data[0], 65535);
}

static void
test_reduce_full8 (void **state)
{
  static const guint factors[] = { 128, 256, 257, 512, TS_REDUCE_MAX_FACTOR };
  gsize n = TS_REDUCE_MAX_FACTOR;
  g_autofree guint32 *sums = g_new (guint32, n);

  for (guint k = 0; k < G_N_ELEMENTS (factors); k++)
    {
      guint8 white = 0;

      for (gsize i = 0; i < n; i++)
        sums[i] = 255 * factors[k];
      ts_reduce_average8 (sums, factors[k], 1, factors[k], factors[k], &white);
      assert_int_equal (white, 255);
    }
}

static void
test_references (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (13);
  TsImage *image = make_image (2, 2, TS_PIXEL_RGB8, rand);
  TsImage *same = ts_image_reduce (image, 1);

  assert_ptr_equal (same, image);
  ts_image_unref (image);
  assert_int_equal (ts_image_get_width (same), 2);
  ts_image_unref (same);
}

typedef struct
{
  const char *name;
  const char *bytes;
  guint n;
  int code;
  const char *word; /* in the message */
} FormatCase;

#define CASE(name, bytes, code, word)                                                              \
  {                                                                                                \
    name, bytes, sizeof bytes - 1, code, word                                                      \
  }

/* The first bytes as each format's own specification gives them. */
static const FormatCase format_cases[] = {
  CASE ("nothing", "", TS_ERROR_FORMAT, "empty"),
  CASE ("tiff little", "II*\0\10\0\0\0aaaaaaaaaa", TS_ERROR_UNSUPPORTED, "TIFF"),
  CASE ("tiff big", "MM\0*\0\0\0\10aaaaaaaaaa", TS_ERROR_UNSUPPORTED, "TIFF"),
  CASE ("raw in tiff", "II*\0\20\0\0\0CR\2\0aaaa", TS_ERROR_UNSUPPORTED, "camera raw"),
  CASE ("raw in box", "\0\0\0\30ftypcrx aaaa", TS_ERROR_UNSUPPORTED, "camera raw"),
  CASE ("webp", "RIFF\20\0\0\0WEBPVP8 ", TS_ERROR_UNSUPPORTED, "WebP"),
  CASE ("heic", "\0\0\0\30ftypheic\0\0\0\0", TS_ERROR_UNSUPPORTED, "HEIC"),
  CASE ("avif", "\0\0\0\30ftypavif\0\0\0\0", TS_ERROR_UNSUPPORTED, "AVIF"),
  CASE ("video", "\0\0\0\30ftypisom\0\0\0\0", TS_ERROR_UNSUPPORTED, "video"),
  CASE ("gif", "GIF89a\1\0\1\0", TS_ERROR_UNSUPPORTED, "GIF"),
  CASE ("bmp", "BM\66\0\0\0\0\0\0\0\66\0\0\0", TS_ERROR_UNSUPPORTED, "BMP"),
  CASE ("psd", "8BPS\0\1\0\0\0\0\0\0\0\3", TS_ERROR_UNSUPPORTED, "PSD"),
  CASE ("svg", "<?xml version=\"1.0\"?>\n<svg xmlns=", TS_ERROR_UNSUPPORTED, "SVG"),
  CASE ("pdf", "%PDF-1.7\n", TS_ERROR_UNSUPPORTED, "PDF"),
  CASE ("jpeg xl", "\xff\x0a\x7f\x90\x0b\x08\x06\x01", TS_ERROR_UNSUPPORTED, "JPEG XL"),
  CASE ("jpeg xl in box", "\0\0\0\x0cJXL \r\n\x87\n", TS_ERROR_UNSUPPORTED, "JPEG XL"),
  CASE ("jpeg 2000", "\0\0\0\x0cjP  \r\n\x87\n", TS_ERROR_UNSUPPORTED, "JPEG 2000"),
  CASE ("openexr", "\x76\x2f\x31\x01\2\0\0\0", TS_ERROR_UNSUPPORTED, "OpenEXR"),
  CASE ("netpbm", "P6\n2 2\n255\n............", TS_ERROR_UNSUPPORTED, "PNM"),
  CASE ("zip", "PK\3\4\24\0\0\0", TS_ERROR_UNSUPPORTED, "ZIP"),
  CASE ("icon", "\0\0\1\0\1\0\20\20", TS_ERROR_UNSUPPORTED, "icon"),
  CASE ("text", "a letter to nobody", TS_ERROR_UNSUPPORTED, "PNG"),
  CASE ("png in text mode", "\x89PNG\n\x1a\n\0\0\0\rIHDR", TS_ERROR_FORMAT, "text mode"),
  CASE ("png alone", "\x89PNG\r\n\x1a\n", TS_ERROR_FORMAT, "ends early"),
  CASE ("jpeg alone", "\xff\xd8\xff", TS_ERROR_FORMAT, "ends within"),
  CASE ("one byte", "\xff", TS_ERROR_UNSUPPORTED, "PNG"),
};

static void
test_format (void **state)
{
  const FormatCase *c = *state;
  g_autoptr (GBytes) bytes = g_bytes_new_static (c->bytes, c->n);
  g_autoptr (GError) error = NULL;
  TsImage *image = ts_image_new_from_bytes (bytes, "the thing", NULL, NULL, NULL, &error);

  assert_null (image);
  assert_true (g_error_matches (error, TS_ERROR, c->code));
  assert_true (g_str_has_prefix (error->message, "the thing: "));
  assert_non_null (strchr (error->message, ';')); /* what mends it */
  if (strstr (error->message, c->word) == NULL)
    fail_msg ("\"%s\" lacks \"%s\"", error->message, c->word);
}

int
main (void)
{
  static const struct CMUnitTest plain[] = {
    cmocka_unit_test (test_rectangle),    cmocka_unit_test (test_ends),
    cmocka_unit_test (test_reduce),       cmocka_unit_test (test_reduce_full),
    cmocka_unit_test (test_reduce_full8), cmocka_unit_test (test_references),
  };
  struct CMUnitTest
    tests[G_N_ELEMENTS (plain) + G_N_ELEMENTS (clip_cases) + G_N_ELEMENTS (format_cases)] = { 0 };
  struct CMUnitTest *next = tests + G_N_ELEMENTS (plain);

  memcpy (tests, plain, sizeof plain);
  for (gsize i = 0; i < G_N_ELEMENTS (clip_cases); i++, next++)
    *next =
      (struct CMUnitTest){ clip_cases[i].name, test_clipped, NULL, NULL, (void *) &clip_cases[i] };
  for (gsize i = 0; i < G_N_ELEMENTS (format_cases); i++, next++)
    *next = (struct CMUnitTest){ format_cases[i].name, test_format, NULL, NULL,
                                 (void *) &format_cases[i] };
  return cmocka_run_group_tests_name ("image", tests, NULL, NULL);
}
