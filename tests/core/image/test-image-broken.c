/* test-image-broken.c: cut, flipped, absurd and hostile files; stopping; memory
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "image/ts-image-private.h"
#include "jpeg-writer.h"
#include "ts-test.h"

#include <string.h>
#include <sys/stat.h>

#define CUT_EVERY 64
#define FLIP_ROUNDS 5

typedef void (*FileFunc) (const char *name, GBytes *bytes);

/* Calls @function for each picture of the fixtures. */
static void
for_each_file (FileFunc function)
{
  g_autoptr (TsCsv) table = ts_test_table ("images/pixels.csv");
  int column = ts_csv_find_column (table, "file");

  for (guint row = 0; row < ts_csv_get_n_rows (table); row++)
    {
      const char *name = ts_csv_get_cell (table, row, column);
      g_autofree char *inner = g_build_filename ("images", name, NULL);
      g_autofree char *path = ts_test_fixture (inner);
      char *data = NULL;
      gsize n;
      g_autoptr (GBytes) bytes = NULL;

      assert_true (g_file_get_contents (path, &data, &n, NULL));
      bytes = g_bytes_new_take (data, n);
      function (name, bytes);
    }
}

static void
assert_sound_error (const GError *error)
{
  assert_non_null (error);
  assert_ptr_equal ((gpointer) (gsize) error->domain, (gpointer) (gsize) TS_ERROR);
  assert_true (g_utf8_validate (error->message, -1, NULL));
  assert_non_null (strchr (error->message, ';')); /* what mends it */
}

static TsImage *
decode (GBytes *bytes, GError **error)
{
  return ts_image_new_from_bytes (bytes, "it", NULL, NULL, NULL, error);
}

/* What is missing is never made up: a cut file is refused, or gives every pixel of the whole one.
 */
static void
check_cut (const char *name, GBytes *whole, const TsImage *wanted, gsize n)
{
  g_autoptr (GBytes) part = g_bytes_new_from_bytes (whole, 0, n);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsImage) image = decode (part, &error);

  if (image == NULL)
    {
      assert_sound_error (error);
      if (error->code != TS_ERROR_FORMAT && n > 3)
        fail_msg ("%s cut at %u: %s", name, (guint) n, error->message);
    }
  else if (g_str_has_suffix (name, "-after.png") && strstr (image->note, "end of the PNG") != NULL)
    return; /* which way up it is stood in the part that is lost; that is said */
  else if (!g_bytes_equal (image->pixels, wanted->pixels))
    fail_msg ("%s cut at %u gives other pixels", name, (guint) n);
}

static void
cut_file (const char *name, GBytes *whole)
{
  g_autoptr (TsImage) wanted = decode (whole, NULL);
  gsize size = g_bytes_get_size (whole);

  for (gsize n = 0; n < size; n += CUT_EVERY)
    check_cut (name, whole, wanted, n);
  for (gsize n = size - MIN (size, 14); n < size; n++)
    check_cut (name, whole, wanted, n);
}

static void
test_cut (void **state)
{
  for_each_file (cut_file);
}

static void
flip_file (const char *name, GBytes *whole)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (g_str_hash (name));
  gsize n = g_bytes_get_size (whole);

  for (guint round = 0; round < FLIP_ROUNDS; round++)
    {
      guint8 *data = g_memdup2 (g_bytes_get_data (whole, NULL), n);
      g_autoptr (GBytes) bad = g_bytes_new_take (data, n);
      g_autoptr (GError) error = NULL;
      g_autoptr (TsImage) image = NULL;

      for (gint32 flips = g_rand_int_range (rand, 1, 6); flips > 0; flips--)
        data[g_rand_int_range (rand, 0, (gint32) n)] ^=
          (guint8) (1 << g_rand_int_range (rand, 0, 8));
      image = decode (bad, &error);
      if (image == NULL)
        assert_sound_error (error);
      else
        {
          TsXyz xyz;

          ts_image_read_xyz (image, image->width - 1, image->height - 1, 1, 1, &xyz, NULL);
          assert_true (isfinite (xyz.X) && isfinite (xyz.Y) && isfinite (xyz.Z));
        }
    }
}

static void
test_flipped (void **state)
{
  for_each_file (flip_file);
}

typedef struct
{
  const char *name;
  guint32 width, height;
  int code;
} SizeCase;

static const SizeCase size_cases[] = {
  { "png of no width", 0, 5, TS_ERROR_FORMAT },
  { "png of no height", 5, 0, TS_ERROR_FORMAT },
  { "png of all pixels", 0x7fffffff, 0x7fffffff, TS_ERROR_TOO_LARGE },
  { "png beyond the format", 0x80000000, 4, TS_ERROR_FORMAT },
  { "png too wide", 100001, 1, TS_ERROR_TOO_LARGE },
  { "png of 301 megapixels", 30100, 10000, TS_ERROR_TOO_LARGE },
  { "png of 300 megapixels in a few bytes", 30000, 10000, TS_ERROR_FORMAT },
};

static guint32
crc32_of (const guint8 *data, gsize n)
{
  guint32 crc = 0xffffffff;

  for (gsize i = 0; i < n; i++)
    {
      crc ^= data[i];
      for (guint bit = 0; bit < 8; bit++)
        crc = crc >> 1 ^ (crc & 1 ? 0xedb88320 : 0);
    }
  return crc ^ 0xffffffff;
}

/* The sizes of a sound file are overwritten, and the checksum of its header with them. */
static void
test_png_size (void **state)
{
  const SizeCase *c = *state;
  g_autofree char *path = ts_test_fixture ("images/rgb16.png");
  g_autofree char *data = NULL;
  gsize n;
  guint32 width = GUINT32_TO_BE (c->width), height = GUINT32_TO_BE (c->height), crc;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GError) error = NULL;

  assert_true (g_file_get_contents (path, &data, &n, NULL));
  memcpy (data + 16, &width, 4);
  memcpy (data + 20, &height, 4);
  crc = GUINT32_TO_BE (crc32_of ((const guint8 *) data + 12, 17));
  memcpy (data + 29, &crc, 4);
  bytes = g_bytes_new (data, n);
  assert_null (decode (bytes, &error));
  assert_sound_error (error);
  assert_int_equal (error->code, c->code);
}

static void
test_jpeg_size (void **state)
{
  static const JpegSpec spec = { 16, 16, 3 };
  static const guint16 sizes[][2] = { { 65500, 65500 }, { 65535, 1 }, { 10000, 30000 }, { 0, 16 } };
  static const int codes[] = { TS_ERROR_TOO_LARGE, TS_ERROR_FORMAT, TS_ERROR_FORMAT,
                               TS_ERROR_FORMAT };

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr (GBytes) sound = jpeg_write (&spec);
      gsize n = g_bytes_get_size (sound), at = 0;
      guint8 *data = g_memdup2 (g_bytes_get_data (sound, NULL), n);
      g_autoptr (GBytes) bytes = g_bytes_new_take (data, n);
      g_autoptr (GError) error = NULL;

      while (data[at] != 0xff || data[at + 1] != 0xc0)
        at++;
      data[at + 5] = (guint8) (sizes[i][1] >> 8);
      data[at + 6] = (guint8) sizes[i][1];
      data[at + 7] = (guint8) (sizes[i][0] >> 8);
      data[at + 8] = (guint8) sizes[i][0];
      assert_null (decode (bytes, &error));
      assert_sound_error (error);
      assert_int_equal (error->code, codes[i]);
    }
}

static void
assert_unreadable (const char *path, const char *word)
{
  g_autoptr (GError) error = NULL;

  assert_null (ts_image_open (path, NULL, NULL, NULL, &error));
  assert_sound_error (error);
  assert_int_equal (error->code, TS_ERROR_IO);
  assert_non_null (strstr (error->message, word));
}

static void
test_not_files (void **state)
{
  char *folder = ts_test_make_folder ();
  g_autofree char *pipe = g_build_filename (folder, "pipe.png", NULL);
  g_autofree char *missing = g_build_filename (folder, "missing.png", NULL);

  assert_int_equal (mkfifo (pipe, 0600), 0);
  assert_unreadable (pipe, "not a regular file"); /* and does not wait */
  assert_unreadable (folder, "folder");
  assert_unreadable (missing, "cannot be read");
  assert_unreadable ("/dev/zero", "not a regular file");
  ts_test_remove_folder (folder);
}

static void
stop (double done, gpointer user_data)
{
  if (done > 0.0)
    g_cancellable_cancel (user_data);
}

static void
test_stopped_before (void **state)
{
  static const JpegSpec spec = { 64, 64, 3 };
  g_autoptr (GBytes) bytes = jpeg_write (&spec);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  assert_null (ts_image_new_from_bytes (bytes, "it", cancellable, NULL, NULL, &error));
  assert_true (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}

/* In the middle of the rows, and in the middle of the scans. */
static void
test_stopped_within (void **state)
{
  for (guint progressive = 0; progressive < 2; progressive++)
    {
      JpegSpec spec = { 4000, 3000, 3, .progressive = progressive == 1 };
      g_autoptr (GBytes) bytes = jpeg_write (&spec);
      g_autoptr (GCancellable) cancellable = g_cancellable_new ();
      g_autoptr (GError) error = NULL;

      assert_null (ts_image_new_from_bytes (bytes, "it", cancellable, stop, cancellable, &error));
      assert_true (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
    }
}

static void
watch (double done, gpointer user_data)
{
  GArray *seen = user_data;

  g_array_append_val (seen, done);
}

static void
test_progress (void **state)
{
  static const JpegSpec spec = { 4000, 3000, 3, .progressive = TRUE };
  g_autoptr (GBytes) bytes = jpeg_write (&spec);
  g_autoptr (GArray) seen = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (TsImage) image = ts_image_new_from_bytes (bytes, "it", NULL, watch, seen, NULL);

  assert_non_null (image);
  assert_true (seen->len >= 3);
  for (guint i = 1; i < seen->len; i++)
    assert_true (g_array_index (seen, double, i) >= g_array_index (seen, double, i - 1));
  assert_near (g_array_index (seen, double, seen->len - 1), 1.0, 0.0);
}

/* kB of the most this process ever held; 0 where it cannot be told. */
static gsize
peak_memory (void)
{
  g_autofree char *text = NULL;
  const char *line;

#if defined(__SANITIZE_ADDRESS__)
  return 0; /* what is freed is kept */
#endif
  if (!g_file_get_contents ("/proc/self/status", &text, NULL, NULL))
    return 0;
  line = strstr (text, "VmHWM:");
  return line != NULL ? (gsize) g_ascii_strtoull (line + 6, NULL, 10) : 0;
}

/* Runs first, before anything larger. A portrait, so that rows are turned on the way. Writing the
 * file takes the room of one picture already. */
static void
test_memory (void **state)
{
  static const JpegSpec spec = { 3000, 2000, 3, 2, 2, .orientation = 6 };
  gsize decoded = 3000 * 2000 * 3 / 1024, before, more;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (TsImage) first = NULL;
  g_autoptr (TsImage) second = NULL;

  if (peak_memory () == 0)
    skip ();
  bytes = jpeg_write (&spec);
  before = peak_memory ();
  first = decode (bytes, NULL);
  second = decode (bytes, NULL);
  more = peak_memory () - before;
  assert_non_null (first);
  assert_non_null (second);
  print_message ("%zu kB for the second picture of %zu kB\n", more, decoded);
  assert_in_range (more, decoded / 2, decoded + 4096);
}

int
main (void)
{
  static const struct CMUnitTest plain[] = {
    cmocka_unit_test (test_memory),         cmocka_unit_test (test_cut),
    cmocka_unit_test (test_flipped),        cmocka_unit_test (test_jpeg_size),
    cmocka_unit_test (test_not_files),      cmocka_unit_test (test_stopped_before),
    cmocka_unit_test (test_stopped_within), cmocka_unit_test (test_progress),
  };
  struct CMUnitTest tests[G_N_ELEMENTS (plain) + G_N_ELEMENTS (size_cases)] = { 0 };

  memcpy (tests, plain, sizeof plain);
  for (gsize i = 0; i < G_N_ELEMENTS (size_cases); i++)
    tests[G_N_ELEMENTS (plain) + i] =
      (struct CMUnitTest){ size_cases[i].name, test_png_size, NULL, NULL, (void *) &size_cases[i] };
  return cmocka_run_group_tests_name ("image/broken", tests, NULL, NULL);
}
