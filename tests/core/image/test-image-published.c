/* test-image-published.c: colours of picture files against formulas and another converter
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Wanted: tests/fixtures/images/colours.csv, made by make-images.py beside it from IEC 61966-2-1,
 * the PNG specification's gamma and primaries, and linear Bradford adaptation ("formula"), or by
 * Little CMS's calculator transicc, relative colorimetric ("transicc").
 */
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "image/ts-image.h"
#include "ts-test.h"

/* CIEDE2000. The samples are the same on both sides, so only the arithmetic differs. */
#define TOLERANCE_8 0.05
#define TOLERANCE_16 0.02
#define TOLERANCE_SCREEN 1.0

typedef struct
{
  TsCsv *table;
  guint first; /* of the rows of one file */
  guint n;
} File;

static const char *
cell (const TsCsv *table, guint row, const char *column)
{
  return ts_csv_get_cell (table, row, ts_csv_find_column (table, column));
}

static double
difference_at (const TsImage *image, const TsCsv *table, guint row)
{
  TsLab wanted = { ts_test_cell (table, row, "L"), ts_test_cell (table, row, "a"),
                   ts_test_cell (table, row, "b") };
  TsXyz xyz;

  ts_image_read_xyz (image, (guint) ts_test_cell (table, row, "x"),
                     (guint) ts_test_cell (table, row, "y"), 1, 1, &xyz, NULL);
  return ts_delta_e_2000 (ts_lab_from_xyz (xyz), wanted);
}

static void
test_colours (void **state)
{
  const File *file = *state;
  g_autofree char *name =
    g_build_filename ("images", cell (file->table, file->first, "file"), NULL);
  g_autofree char *path = ts_test_fixture (name);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsImage) image = ts_image_open (path, NULL, NULL, NULL, &error);
  double worst = 0.0;

  assert_no_error (error);
  for (guint row = file->first; row < file->first + file->n; row++)
    {
      double difference = difference_at (image, file->table, row);
      gboolean deep = ts_test_cell (file->table, row, "bits") > 8;

      assert_near (difference, 0.0, deep ? TOLERANCE_16 : TOLERANCE_8);
      worst = MAX (worst, difference);
    }
  print_message ("%s: at most dE %.4f\n", name, worst);
}

/* A screen word holds the same colour, but for its 8 bits and the converter's whole numbers. */
static void
test_screen (void **state)
{
  const File *file = *state;
  g_autofree char *name =
    g_build_filename ("images", cell (file->table, file->first, "file"), NULL);
  g_autofree char *path = ts_test_fixture (name);
  g_autoptr (TsImage) image = ts_image_open (path, NULL, NULL, NULL, NULL);

  for (guint row = file->first; row < file->first + file->n; row++)
    {
      TsLab lab = { ts_test_cell (file->table, row, "L"), ts_test_cell (file->table, row, "a"),
                    ts_test_cell (file->table, row, "b") };
      guint8 srgb[3];
      guint32 word;

      if (!ts_lab_to_srgb8 (lab, srgb))
        continue; /* beyond the screen: how it is held at the edge is the converter's choice */
      ts_image_read_screen (image, (guint) ts_test_cell (file->table, row, "x"),
                            (guint) ts_test_cell (file->table, row, "y"), 1, 1, &word, 1);
      for (guint c = 0; c < 3; c++)
        srgb[c] = (guint8) (word >> (16 - 8 * c));
      assert_near (ts_delta_e_2000 (ts_lab_from_srgb8 (srgb), lab), 0.0, TOLERANCE_SCREEN);
      assert_int_equal (word >> 24, 0);
    }
}

int
main (void)
{
  g_autoptr (TsCsv) table = ts_test_table ("images/colours.csv");
  guint n_rows = ts_csv_get_n_rows (table);
  g_autofree struct CMUnitTest *tests = g_new0 (struct CMUnitTest, 2 * (n_rows + 1));
  g_autofree File *files = g_new0 (File, n_rows + 1);
  guint n = 0;

  for (guint row = 0; row < n_rows; row++)
    {
      const char *name = cell (table, row, "file");

      if (n > 0 && g_str_equal (tests[2 * n - 2].name, name))
        {
          files[n - 1].n++;
          continue;
        }
      files[n] = (File){ table, row, 1 };
      tests[2 * n] = (struct CMUnitTest){ name, test_colours, NULL, NULL, &files[n] };
      tests[2 * n + 1] = (struct CMUnitTest){ name, test_screen, NULL, NULL, &files[n] };
      n++;
    }
  if (n < 60)
    return 1;
  return _cmocka_run_group_tests ("image/published", tests, 2 * n, NULL, NULL);
}
