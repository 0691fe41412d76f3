/* test-image-files.c: every kind of picture file, pixel by pixel
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * tests/fixtures/images/make-images.py wrote the files and the table: PNG byte by byte from pixels
 * it knows, JPEG by another program, which also read it back.
 */
#include "image/ts-image-private.h"
#include "ts-test.h"

#include <string.h>

typedef struct
{
  TsCsv *table;
  guint row;
} Row;

static const char *
cell (const Row *row, const char *column)
{
  return ts_csv_get_cell (row->table, row->row, ts_csv_find_column (row->table, column));
}

static TsImage *
open_row (const Row *row)
{
  g_autofree char *name = g_build_filename ("images", cell (row, "file"), NULL);
  g_autofree char *path = ts_test_fixture (name);
  g_autoptr (GError) error = NULL;
  TsImage *image = ts_image_open (path, NULL, NULL, NULL, &error);

  assert_no_error (error);
  return image;
}

/* SHA-256 of the pixels, 16-bit samples low byte first. */
static char *
dup_pixels_sha256 (const TsImage *image)
{
  gsize n;
  const guint8 *data = g_bytes_get_data (image->pixels, &n);
  g_autofree guint8 *copy = g_memdup2 (data, n);

  if (image->format == TS_PIXEL_GREY16 || image->format == TS_PIXEL_RGB16)
    for (gsize i = 0; i < n / 2; i++)
      {
        guint16 sample = GUINT16_TO_LE (((const guint16 *) (const void *) data)[i]);

        memcpy (copy + 2 * i, &sample, sizeof sample);
      }
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, copy, n);
}

static void
test_pixels (void **state)
{
  static const char *const formats[] = { "grey8", "grey16", "rgb8", "rgb16", "cmyk8" };
  const Row *row = *state;
  g_autoptr (TsImage) image = open_row (row);
  g_autofree char *sha256 = dup_pixels_sha256 (image);

  assert_int_equal (ts_image_get_width (image), ts_test_cell (row->table, row->row, "width"));
  assert_int_equal (ts_image_get_height (image), ts_test_cell (row->table, row->row, "height"));
  assert_int_equal (ts_image_get_full_width (image), ts_image_get_width (image));
  assert_string_equal (formats[ts_image_get_format (image)], cell (row, "format"));
  assert_string_equal (sha256, cell (row, "sha256"));
}

static void
test_note (void **state)
{
  const Row *row = *state;
  g_autoptr (TsImage) image = open_row (row);
  const char *note = ts_image_get_note (image);
  const char *wanted = cell (row, "note");

  if (*wanted == '\0' && ts_profile_is_from_file (ts_image_get_profile (image)))
    assert_null (note);
  else
    {
      assert_non_null (note);
      assert_non_null (strstr (note, wanted));
      assert_true (g_utf8_validate (note, -1, NULL));
    }
  /* What was not found in the file is always said. */
  if (!ts_profile_is_from_file (ts_image_get_profile (image)))
    assert_non_null (strstr (note, "assumed"));
}

/* The file's own hash and size, against GLib's over the bytes as they lie. */
static void
test_hash (void **state)
{
  const Row *row = *state;
  g_autoptr (TsImage) image = open_row (row);
  g_autofree char *name = g_build_filename ("images", cell (row, "file"), NULL);
  g_autofree char *path = ts_test_fixture (name);
  g_autofree char *data = NULL;
  g_autofree char *sha256 = NULL;
  gsize n;

  assert_true (g_file_get_contents (path, &data, &n, NULL));
  sha256 = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) data, n);
  assert_string_equal (ts_image_get_sha256 (image), sha256);
  assert_int_equal (ts_image_get_file_size (image), n);
}

/* The same through memory. */
static void
test_bytes (void **state)
{
  const Row *row = *state;
  g_autoptr (TsImage) image = open_row (row);
  g_autofree char *name = g_build_filename ("images", cell (row, "file"), NULL);
  g_autofree char *path = ts_test_fixture (name);
  g_autoptr (GMappedFile) file = g_mapped_file_new (path, FALSE, NULL);
  g_autoptr (GBytes) bytes = g_mapped_file_get_bytes (file);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsImage) again =
    ts_image_new_from_bytes (bytes, "the pasted picture", NULL, NULL, NULL, &error);

  assert_no_error (error);
  assert_true (g_bytes_equal (again->pixels, image->pixels));
  assert_string_equal (ts_image_get_sha256 (again), ts_image_get_sha256 (image));
  assert_int_equal (g_strcmp0 (ts_image_get_note (again), ts_image_get_note (image)), 0);
}

int
main (void)
{
  static const struct
  {
    const char *word;
    CMUnitTestFunction function;
  } checks[] = {
    { "pixels", test_pixels }, { "note", test_note }, { "hash", test_hash }, { "bytes", test_bytes }
  };
  g_autoptr (TsCsv) table = ts_test_table ("images/pixels.csv");
  guint n_rows = ts_csv_get_n_rows (table);
  guint n_tests = n_rows * G_N_ELEMENTS (checks);
  g_autofree struct CMUnitTest *tests = g_new0 (struct CMUnitTest, n_tests);
  g_autofree Row *rows = g_new0 (Row, n_rows);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < n_tests; i++)
    {
      Row *row = &rows[i / G_N_ELEMENTS (checks)];
      gsize check = i % G_N_ELEMENTS (checks);

      row->table = table;
      row->row = i / G_N_ELEMENTS (checks);
      tests[i].name = g_strdup_printf ("%s: %s", cell (row, "file"), checks[check].word);
      g_ptr_array_add (names, (char *) tests[i].name);
      tests[i].test_func = checks[check].function;
      tests[i].initial_state = row;
    }
  if (n_rows < 60)
    return 1;
  return _cmocka_run_group_tests ("image/files", tests, n_tests, NULL, NULL);
}
