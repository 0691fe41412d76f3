/* test-chart.c: the 24-patch chart: its values, how it is found, what is refused
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "base/ts-error.h"
#include "base/ts-file.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-chart.h"
#include "correction/ts-sample.h"

#define WIDTH 360
#define HEIGHT 300
#define PITCH 40

typedef guint8 Pixels[HEIGHT][WIDTH][3];

static TsImage *
make_image (Pixels pixels)
{
  g_autoptr (GBytes) bytes = g_bytes_new (pixels, sizeof (Pixels));
  g_autoptr (TsProfile) profile = ts_profile_new_assumed (TS_PIXEL_RGB8);

  return ts_image_new_from_pixels (bytes, WIDTH, HEIGHT, TS_PIXEL_RGB8, profile);
}

static TsChartReference
later (void)
{
  TsChartReference reference = { 0 };
  g_autoptr (GError) error = NULL;

  ts_chart_reference_get ("later", &reference, &error);
  assert_no_error (error);
  return reference;
}

static void
fill (Pixels pixels, int x, int y, int size, const guint8 rgb[3])
{
  for (int j = 0; j < size; j++)
    for (int i = 0; i < size; i++)
      memcpy (pixels[y + j][x + i], rgb, 3);
}

/* The chart as a camera with a cast would show it, darker, lying (6 columns) or standing, turned
 * and mirrored: bit 0 swaps columns, bit 1 rows. */
static void
draw_chart (Pixels pixels, gboolean standing, int way)
{
  TsChartReference reference = later ();

  memset (pixels, 20, sizeof (Pixels));
  for (int i = 0; i < TS_CHART_PATCHES; i++)
    {
      TsRgb rgb = ts_rgb_from_xyz (ts_xyz_from_lab (reference.lab[i]));
      TsRgb cast = { 0.75 * rgb.r + 0.05 * rgb.g, 0.6 * rgb.g + 0.02 * rgb.b,
                     0.4 * rgb.b + 0.03 * rgb.g };
      const double linear[3] = { cast.r, cast.g, cast.b };
      int column = way & 1 ? 5 - i % 6 : i % 6, row = way & 2 ? 3 - i / 6 : i / 6;
      guint8 seen[3];

      for (int c = 0; c < 3; c++)
        seen[c] = (guint8) floor (255.0 * ts_srgb_encode (CLAMP (linear[c], 0.001, 0.99)) + 0.5);
      fill (pixels, 20 + PITCH * (standing ? row : column), 20 + PITCH * (standing ? column : row),
            35, seen);
    }
}

/* Centres of the corner patches, clockwise, beginning at the one named: the painter may err. */
static void
set_corners (double corners[4][2], gboolean standing, int first)
{
  double right = 37.5 + PITCH * (standing ? 3 : 5), bottom = 37.5 + PITCH * (standing ? 5 : 3);
  const double places[4][2] = {
    { 37.5, 37.5 }, { right, 37.5 }, { right, bottom }, { 37.5, bottom }
  };

  for (int k = 0; k < 4; k++)
    memcpy (corners[k], places[(first + k) % 4], sizeof corners[k]);
}

/* The values inside the program, those of data/charts and the published table are the same. */
static void
test_references (void **state)
{
  static const char *const names[] = { "earlier", "later" };
  g_autoptr (TsCsv) table = ts_test_table ("published/chart24_lab_d50.csv");
  g_autoptr (GError) error = NULL;
  TsChartReference built_in, loaded;

  for (int k = 0; k < 2; k++)
    {
      g_autofree char *file = g_strdup_printf ("data/charts/%s.txt", names[k]);
      g_autofree char *path = ts_test_source (file);

      assert_true (ts_chart_reference_get (names[k], &built_in, &error));
      assert_true (ts_chart_reference_load (path, &loaded, &error));
      for (guint i = 0; i < TS_CHART_PATCHES; i++)
        {
          const double *got = &built_in.lab[i].L, *read = &loaded.lab[i].L;

          for (int c = 0; c < 3; c++)
            {
              g_autofree char *column = g_strdup_printf ("%c%d", "Lab"[c], k + 1);

              assert_near (got[c], ts_test_cell (table, i, column), 0.0);
              assert_near (read[c], got[c], 0.0);
            }
        }
    }
  assert_false (ts_chart_reference_get ("another", &built_in, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_NOT_FOUND));
}

static gboolean
load_text (const char *fields, guint n, const char *row, TsChartReference *reference,
           GError **error)
{
  g_autoptr (GString) text = g_string_new ("CGATS.17\nBEGIN_DATA_FORMAT\n");
  char *folder = ts_test_make_folder ();
  g_autofree char *path = g_build_filename (folder, "x.txt", NULL);
  gboolean loaded;

  g_string_append_printf (text, "%s\nEND_DATA_FORMAT\nBEGIN_DATA\n", fields);
  for (guint i = 0; i < n; i++)
    g_string_append_printf (text, "%s\n", row);
  g_string_append (text, "END_DATA\n");
  assert_true (ts_file_save (path, text->str, text->len, TS_FILE_SAVE_PLAIN, NULL));
  loaded = ts_chart_reference_load (path, reference, error);
  ts_test_remove_folder (folder);
  return loaded;
}

static void
test_reference_files (void **state)
{
  static const struct
  {
    const char *fields;
    guint n;
    const char *row;
    int code;
  } bad[] = {
    { "A B C", 24, "1 2 3", TS_ERROR_FORMAT },
    { "LAB_L LAB_A LAB_B", 23, "50 0 0", TS_ERROR_TOO_FEW },
    { "LAB_L LAB_A LAB_B", 24, "101 0 0", TS_ERROR_BAD_VALUE },
    { "LAB_L LAB_A LAB_B", 24, "50 x 0", TS_ERROR_BAD_VALUE },
  };
  g_autoptr (GError) error = NULL;
  TsChartReference reference;

  /* XYZ is written with Y = 100 for white (ISO 28178). */
  assert_true (load_text ("XYZ_X XYZ_Y XYZ_Z", 24, "96.42 100 82.49", &reference, &error));
  assert_near (reference.lab[7].L, 100.0, 1e-9);
  assert_near (hypot (reference.lab[7].a, reference.lab[7].b), 0.0, 1e-9);
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      assert_false (load_text (bad[i].fields, bad[i].n, bad[i].row, &reference, &error));
      assert_true (g_error_matches (error, TS_ERROR, bad[i].code));
      g_clear_error (&error);
    }
}

static void
assert_found (const TsImage *image, double corners[4][2])
{
  TsChartReference reference = later ();
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCorrection) correction = NULL;
  TsChartReading reading;

  correction = ts_chart_fit (image, (const double (*)[2]) corners, &reference, &reading, &error);
  assert_no_error (error);
  assert_int_equal (ts_correction_get_kind (correction), TS_CORRECTION_CHART);
  assert_in_range (reading.n_used, 20, 24);
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      TsLab lab = ts_lab_from_xyz (ts_correction_apply (correction, reading.patch[i].xyz));

      assert_true (reading.patch[i].residual < 3.0);
      assert_near (ts_delta_e_2000 (lab, reference.lab[i]), reading.patch[i].residual, 0.5);
      assert_true (reading.patch[i].used || reading.patch[i].why != NULL);
    }
  assert_true (reading.leave_one_out < 2.0);
  assert_true (ts_correction_get_error (correction, (TsLab){ 50, 0, 0 }) < 6.0);
  assert_true (ts_correction_get_error (correction, (TsLab){ 50, 100, -100 }) >
               ts_correction_get_error (correction, reference.lab[21]));
}

/* A reference that is one colour fits anything. */
static void
test_one_colour (void **state)
{
  static const double greys[] = { 0.0, 50.0, 100.0 };
  static Pixels pixels;
  g_autoptr (TsImage) image = NULL;
  double corners[4][2];

  draw_chart (pixels, FALSE, 0);
  image = make_image (pixels);
  set_corners (corners, FALSE, 0);
  for (guint k = 0; k < G_N_ELEMENTS (greys); k++)
    {
      TsChartReference reference;
      g_autoptr (GError) error = NULL;
      TsChartReading reading;

      for (guint i = 0; i < TS_CHART_PATCHES; i++)
        reference.lab[i] = (TsLab){ greys[k], 0.0, 0.0 };
      assert_null (
        ts_chart_fit (image, (const double (*)[2]) corners, &reference, &reading, &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_FORMAT));
      assert_non_null (strstr (error->message, "chart's file"));
    }
}

/* All ways round, and whichever corner the painter takes for the first. */
static void
test_every_way_round (void **state)
{
  static Pixels pixels;
  double corners[4][2];

  for (int standing = 0; standing < 2; standing++)
    for (int way = 0; way < 4; way++)
      {
        g_autoptr (TsImage) image = NULL;

        draw_chart (pixels, standing, way);
        image = make_image (pixels);
        set_corners (corners, standing, (way + standing) % 4);
        assert_found (image, corners);
      }
}

static void
assert_refused (const TsImage *image, double corners[4][2], int code)
{
  TsChartReference reference = later ();
  g_autoptr (GError) error = NULL;
  TsChartReading reading;

  assert_null (ts_chart_fit (image, (const double (*)[2]) corners, &reference, &reading, &error));
  if (!g_error_matches (error, TS_ERROR, code))
    fail_msg ("not code %d: %s", code, error->message);
}

static void
test_not_the_chart (void **state)
{
  static Pixels pixels;
  g_autoptr (GRand) random = g_rand_new_with_seed (7);
  g_autoptr (TsImage) image = NULL, other = NULL;
  double corners[4][2];

  draw_chart (pixels, FALSE, 0);
  image = make_image (pixels);
  set_corners (corners, FALSE, 0);
  /* One column to the left of the right corners. */
  corners[1][0] -= PITCH;
  corners[2][0] -= PITCH;
  assert_refused (image, corners, TS_ERROR_FORMAT);
  /* Crossed, all in one place, over the edge, not a number, tiny. */
  set_corners (corners, FALSE, 0);
  for (int c = 0; c < 2; c++)
    {
      double swap = corners[0][c];

      corners[0][c] = corners[1][c];
      corners[1][c] = swap;
    }
  assert_refused (image, corners, TS_ERROR_BAD_VALUE);
  memset (corners, 0, sizeof corners);
  assert_refused (image, corners, TS_ERROR_BAD_VALUE);
  set_corners (corners, FALSE, 0);
  corners[0][0] = -30.0;
  assert_refused (image, corners, TS_ERROR_BAD_VALUE);
  corners[0][0] = (double) NAN;
  assert_refused (image, corners, TS_ERROR_BAD_VALUE);
  set_corners (corners, FALSE, 0);
  for (int k = 0; k < 4; k++)
    for (int c = 0; c < 2; c++)
      corners[k][c] = 100.0 + corners[k][c] / 20.0;
  assert_refused (image, corners, TS_ERROR_TOO_FEW);
  /* Colours by chance where the patches would be. */
  for (int y = 0; y + PITCH <= HEIGHT; y += PITCH)
    for (int x = 0; x + PITCH <= WIDTH; x += PITCH)
      fill (pixels, x, y, PITCH,
            (guint8[]){ (guint8) g_rand_int_range (random, 5, 250),
                        (guint8) g_rand_int_range (random, 5, 250),
                        (guint8) g_rand_int_range (random, 5, 250) });
  other = make_image (pixels);
  set_corners (corners, FALSE, 0);
  assert_refused (other, corners, TS_ERROR_FORMAT);
}

/* A clipped patch and two dirty ones are left out by name and the rest still fits. */
static void
test_left_out_by_name (void **state)
{
  static Pixels pixels;
  TsChartReference reference = later ();
  g_autoptr (TsImage) image = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCorrection) correction = NULL;
  TsChartReading reading;
  double corners[4][2];

  draw_chart (pixels, FALSE, 0);
  fill (pixels, 20, 20 + 3 * PITCH, 35, (guint8[]){ 255, 255, 240 });             /* 19, white */
  fill (pixels, 20 + PITCH, 20, 35, (guint8[]){ 90, 110, 70 });                   /* 2 */
  fill (pixels, 20 + 3 * PITCH, 20 + 2 * PITCH, 35, (guint8[]){ 120, 120, 120 }); /* 16 */
  image = make_image (pixels);
  set_corners (corners, FALSE, 0);
  correction = ts_chart_fit (image, (const double (*)[2]) corners, &reference, &reading, &error);
  assert_no_error (error);
  assert_int_equal (reading.n_used, 21);
  assert_string_equal (reading.patch[18].why, "clipped");
  assert_non_null (reading.patch[1].why);
  assert_non_null (reading.patch[15].why);
  assert_true (reading.patch[1].residual > 6.0 && reading.patch[15].residual > 6.0);
  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    if (reading.patch[i].used)
      assert_true (reading.patch[i].residual < 3.0);
}

static void
test_all_clipped (void **state)
{
  static Pixels pixels;
  g_autoptr (TsImage) image = NULL;
  double corners[4][2];

  memset (pixels, 255, sizeof pixels);
  image = make_image (pixels);
  set_corners (corners, FALSE, 0);
  assert_refused (image, corners, TS_ERROR_TOO_FEW);
}

/* The median and the farthest tenth, held to a plain sort. */
static void
test_trim (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (8);

  for (gsize n = 1; n < 300; n += 7)
    {
      g_autofree TsXyz *xyz = g_new (TsXyz, n);
      g_autofree guint8 *clipped = g_new0 (guint8, n);
      gsize outliers = n / 10;
      double sum = 0.0;
      TsSample sample;

      for (gsize i = 0; i < n; i++)
        {
          double Y = i < outliers ? 0.9 : g_rand_double_range (random, 0.2, 0.21);

          xyz[i] = (TsXyz){ TS_D50_X * Y, Y, TS_D50_Z * Y };
          sum += i < outliers ? 0.0 : Y;
        }
      sample = ts_sample_trim (xyz, clipped, n);
      assert_int_equal (sample.n_kept, n - outliers);
      assert_near (sample.mean.Y, sum / (double) (n - outliers), 1e-12);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_references),    cmocka_unit_test (test_reference_files),
    cmocka_unit_test (test_one_colour),    cmocka_unit_test (test_every_way_round),
    cmocka_unit_test (test_not_the_chart), cmocka_unit_test (test_left_out_by_name),
    cmocka_unit_test (test_all_clipped),   cmocka_unit_test (test_trim),
  };

  return cmocka_run_group_tests_name ("correction/chart", tests, NULL, NULL);
}
