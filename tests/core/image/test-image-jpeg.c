/* test-image-jpeg.c: the ways of writing the same JPEG, and the quick first view
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "image/ts-image-private.h"
#include "jpeg-writer.h"
#include "ts-test.h"

#include <stdlib.h>
#include <string.h>

#define SOF0 0xc0
#define SOS 0xda

static TsImage *
decode (GBytes *bytes)
{
  g_autoptr (GError) error = NULL;
  TsImage *image = ts_image_new_from_bytes (bytes, "it", NULL, NULL, NULL, &error);

  assert_no_error (error);
  return image;
}

/* Mean distance of the samples, in codes of 8 bits. */
static double
mean_distance (const guint8 *one, const guint8 *other, gsize n)
{
  double sum = 0.0;

  for (gsize i = 0; i < n; i++)
    sum += abs (one[i] - other[i]);
  return sum / (double) n;
}

/* The pattern is smooth, so every subsampling gives it back nearly. */
static void
test_subsampling (void **state)
{
  static const int factors[][2] = { { 1, 1 }, { 2, 1 }, { 1, 2 }, { 2, 2 },
                                    { 4, 1 }, { 1, 4 }, { 4, 2 }, { 2, 4 } };

  for (gsize i = 0; i < G_N_ELEMENTS (factors); i++)
    {
      JpegSpec spec = { 101, 75, 3, factors[i][0], factors[i][1], .quality = 97 };
      g_autofree guint8 *wanted = jpeg_pattern (&spec);
      g_autoptr (GBytes) bytes = jpeg_write (&spec);
      g_autoptr (TsImage) image = decode (bytes);
      gsize n;
      const guint8 *got = g_bytes_get_data (image->pixels, &n);

      assert_int_equal (n, 101 * 75 * 3);
      assert_true (mean_distance (got, wanted, n) < 2.0);
    }
}

typedef struct
{
  const char *name;
  JpegSpec spec;
} SameCase;

/* All code the same coefficients, so their pixels are the same to the bit. */
static const SameCase same_cases[] = {
  { "progressive", { 101, 75, 3, 2, 2, .progressive = TRUE } },
  { "restart markers", { 101, 75, 3, 2, 2, .restart_rows = 1 } },
  { "a scan a channel", { 101, 75, 3, 2, 2, .apart = TRUE } },
  { "190 scans", { 101, 75, 3, 2, 2, .many_scans = TRUE } },
  { "arithmetic", { 101, 75, 3, 2, 2, .arithmetic = TRUE } },
  { "arithmetic progressive", { 101, 75, 3, 2, 2, .arithmetic = TRUE, .progressive = TRUE } },
};

static void
test_same (void **state)
{
  const SameCase *c = *state;
  static const JpegSpec plain = { 101, 75, 3, 2, 2 };
  g_autoptr (GBytes) plain_bytes = jpeg_write (&plain);
  g_autoptr (GBytes) bytes = jpeg_write (&c->spec);
  g_autoptr (TsImage) wanted = decode (plain_bytes);
  g_autoptr (TsImage) got = decode (bytes);

  assert_false (g_bytes_equal (plain_bytes, bytes));
  assert_true (g_bytes_equal (wanted->pixels, got->pixels));
  assert_null (strstr (got->note, "damaged"));
}

/* Where marker @marker begins; the test fails where there is none from @from on. */
static gsize
find_marker (GBytes *bytes, guint8 marker, gsize from)
{
  gsize n;
  const guint8 *data = g_bytes_get_data (bytes, &n);

  for (gsize i = from; i + 1 < n; i++)
    if (data[i] == 0xff && data[i + 1] == marker)
      return i;
  fail_msg ("no marker %02x", marker);
  return 0;
}

static GBytes *
patch (GBytes *bytes, gsize at, guint8 value)
{
  gsize n;
  guint8 *data = g_memdup2 (g_bytes_get_data (bytes, &n), g_bytes_get_size (bytes));

  data[at] = value;
  return g_bytes_new_take (data, n);
}

static void
assert_refused (GBytes *bytes, int code, const char *word)
{
  g_autoptr (GError) error = NULL;
  TsImage *image = ts_image_new_from_bytes (bytes, "it", NULL, NULL, NULL, &error);

  assert_null (image);
  if (!g_error_matches (error, TS_ERROR, code) || strstr (error->message, word) == NULL)
    fail_msg ("%s (%d)", error->message, error->code);
}

static void
test_unread_kinds (void **state)
{
  static const JpegSpec rgb = { 16, 16, 3 }, two = { 16, 16, 2 },
                        five = { 16, 16, 5, .apart = TRUE };
  g_autoptr (GBytes) plain = jpeg_write (&rgb);
  gsize sof = find_marker (plain, SOF0, 0);
  g_autoptr (GBytes) deep = patch (plain, sof + 4, 12);
  g_autoptr (GBytes) lossless = patch (plain, sof + 1, 0xc3);
  g_autoptr (GBytes) pair = jpeg_write (&two);
  g_autoptr (GBytes) many = jpeg_write (&five);

  assert_refused (deep, TS_ERROR_UNSUPPORTED, "12 bits");
  assert_refused (lossless, TS_ERROR_UNSUPPORTED, "lossless");
  assert_refused (pair, TS_ERROR_UNSUPPORTED, "2 channels");
  assert_refused (many, TS_ERROR_UNSUPPORTED, "5 channels");
}

/* The last scan again and again costs little to send and much to read. */
static void
test_scan_bomb (void **state)
{
  static const JpegSpec spec = { 256, 256, 1, .progressive = TRUE };
  g_autoptr (GBytes) bytes = jpeg_write (&spec);
  gsize n, last = 0;
  const guint8 *data = g_bytes_get_data (bytes, &n);
  g_autoptr (GByteArray) bomb = g_byte_array_new ();
  g_autoptr (GBytes) bomb_bytes = NULL;

  for (gsize i = 0; i + 1 < n; i++)
    if (data[i] == 0xff && data[i + 1] == SOS)
      last = i;
  g_byte_array_append (bomb, data, (guint) n - 2);
  for (guint i = 0; i < 300; i++)
    g_byte_array_append (bomb, data + last, (guint) (n - 2 - last));
  g_byte_array_append (bomb, data + n - 2, 2);
  bomb_bytes = g_bytes_new (bomb->data, bomb->len);
  assert_refused (bomb_bytes, TS_ERROR_FORMAT, "scans");
}

/* A channel that never came would be shown as grey. */
static void
test_missing_scan (void **state)
{
  static const JpegSpec spec = { 64, 64, 3, .apart = TRUE };
  g_autoptr (GBytes) bytes = jpeg_write (&spec);
  gsize first = find_marker (bytes, SOS, 0);
  gsize second = find_marker (bytes, SOS, first + 2);
  gsize third = find_marker (bytes, SOS, second + 2);
  g_autoptr (GByteArray) part = g_byte_array_new ();
  g_autoptr (GBytes) part_bytes = NULL;

  g_byte_array_append (part, g_bytes_get_data (bytes, NULL), (guint) third);
  g_byte_array_append (part, (const guint8 *) "\xff\xd9", 2);
  part_bytes = g_bytes_new (part->data, part->len);
  assert_refused (part_bytes, TS_ERROR_FORMAT, "before the picture is complete");
}

static void
test_damage_is_told (void **state)
{
  static const JpegSpec spec = { 128, 128, 3 };
  g_autoptr (GBytes) bytes = jpeg_write (&spec);
  gsize n = g_bytes_get_size (bytes), start = find_marker (bytes, SOS, 0) + 14;
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  guint told = 0;

  for (guint round = 0; round < 100; round++)
    {
      gsize at = (gsize) g_rand_int_range (rand, (gint32) start, (gint32) n - 2);
      g_autoptr (GBytes) bad = patch (bytes, at, (guint8) g_rand_int_range (rand, 0, 255));
      g_autoptr (TsImage) image = ts_image_new_from_bytes (bad, "it", NULL, NULL, NULL, NULL);

      told += image != NULL && strstr (image->note, "damaged") != NULL;
    }
  /* JPEG has no checksum: some changes are sound data. Most are not. */
  assert_in_range (told, 50, 100);
}

typedef struct
{
  const char *name;
  int orientation;
  gboolean progressive;
  guint64 max_pixels;
  guint factor; /* wanted */
} ReducedCase;

/* Of a turned picture the blocks that are not full lie on the other side, so its sides are whole.
 */
#define FULL_WIDTH 1203
#define FULL_HEIGHT 901
#define WHOLE_WIDTH 1200
#define WHOLE_HEIGHT 896

static const ReducedCase reduced_cases[] = {
  { "enough for all", 1, FALSE, FULL_WIDTH *FULL_HEIGHT, 1 },
  { "one too few", 1, FALSE, FULL_WIDTH *FULL_HEIGHT - 1, 2 },
  { "half", 1, FALSE, 300000, 2 },
  { "quarter", 1, FALSE, 100000, 4 },
  { "eighth", 1, FALSE, 20000, 8 },
  { "no smaller than an eighth", 1, FALSE, 1, 8 },
  { "progressive quarter", 1, TRUE, 100000, 4 },
  { "half on its side", 6, FALSE, 300000, 2 },
  { "eighth on its head", 3, TRUE, 20000, 8 },
};

static void
test_reduced (void **state)
{
  const ReducedCase *c = *state;
  guint width = c->orientation > 1 ? WHOLE_WIDTH : FULL_WIDTH;
  guint height = c->orientation > 1 ? WHOLE_HEIGHT : FULL_HEIGHT;
  JpegSpec spec = {
    width, height, 3, 2, 2, .orientation = c->orientation, .progressive = c->progressive
  };
  gboolean aside = c->orientation >= 5;
  g_autoptr (GBytes) bytes = jpeg_write (&spec);
  char *folder = ts_test_make_folder ();
  g_autofree char *path = g_build_filename (folder, "it.jpg", NULL);
  g_autoptr (TsImage) full = decode (bytes);
  g_autoptr (TsImage) wanted = ts_image_reduce (full, c->factor);
  g_autoptr (TsImage) got = NULL;
  g_autoptr (GError) error = NULL;
  gsize n = g_bytes_get_size (bytes);

  assert_true (g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) n, NULL));
  got = ts_image_open_reduced (path, c->max_pixels, NULL, NULL, NULL, &error);
  assert_no_error (error);
  assert_int_equal (ts_image_get_full_width (got), aside ? height : width);
  assert_int_equal (ts_image_get_full_height (got), aside ? width : height);
  assert_int_equal (ts_image_get_width (got), ts_image_get_width (wanted));
  assert_int_equal (ts_image_get_height (got), ts_image_get_height (wanted));
  assert_string_equal (ts_image_get_sha256 (got), ts_image_get_sha256 (full));
  assert_true (mean_distance (g_bytes_get_data (got->pixels, NULL),
                              g_bytes_get_data (wanted->pixels, NULL),
                              g_bytes_get_size (wanted->pixels)) < 2.0);
  ts_test_remove_folder (folder);
}

int
main (void)
{
  static const struct CMUnitTest plain[] = {
    cmocka_unit_test (test_subsampling),    cmocka_unit_test (test_unread_kinds),
    cmocka_unit_test (test_scan_bomb),      cmocka_unit_test (test_missing_scan),
    cmocka_unit_test (test_damage_is_told),
  };
  struct CMUnitTest
    tests[G_N_ELEMENTS (plain) + G_N_ELEMENTS (same_cases) + G_N_ELEMENTS (reduced_cases)] = { 0 };
  struct CMUnitTest *next = tests + G_N_ELEMENTS (plain);

  memcpy (tests, plain, sizeof plain);
  for (gsize i = 0; i < G_N_ELEMENTS (same_cases); i++, next++)
    *next =
      (struct CMUnitTest){ same_cases[i].name, test_same, NULL, NULL, (void *) &same_cases[i] };
  for (gsize i = 0; i < G_N_ELEMENTS (reduced_cases); i++, next++)
    *next = (struct CMUnitTest){ reduced_cases[i].name, test_reduced, NULL, NULL,
                                 (void *) &reduced_cases[i] };
  return cmocka_run_group_tests_name ("image/jpeg", tests, NULL, NULL);
}
