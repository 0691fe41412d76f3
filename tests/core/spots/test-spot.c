/* test-spot.c: discs of a picture, and runs of them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "spots/ts-run.h"

#define WIDTH 60
#define HEIGHT 40

typedef guint8 Pixels[HEIGHT][WIDTH][3];

static TsImage *
make_image (Pixels pixels)
{
  g_autoptr (GBytes) bytes = g_bytes_new (pixels, sizeof (Pixels));
  g_autoptr (TsProfile) profile = ts_profile_new_assumed (TS_PIXEL_RGB8);

  return ts_image_new_from_pixels (bytes, WIDTH, HEIGHT, TS_PIXEL_RGB8, profile);
}

static void
fill (Pixels pixels, guint8 r, guint8 g, guint8 b)
{
  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      memcpy (pixels[y][x], (guint8[]){ r, g, b }, 3);
}

static TsSpot
measure (TsImage *image, double x, double y, double radius)
{
  g_autoptr (TsCorrection) none = ts_correction_new_none ();
  g_autoptr (GError) error = NULL;
  TsSpot spot = { 0 };

  ts_spot_measure (image, none, x, y, radius, &spot, &error);
  assert_no_error (error);
  return spot;
}

static void
test_flat (void **state)
{
  Pixels pixels;
  g_autoptr (TsImage) image = NULL;
  TsLab want = ts_lab_from_srgb8 ((guint8[]){ 180, 90, 60 });
  TsSpot spot;

  fill (pixels, 180, 90, 60);
  image = make_image (pixels);
  spot = measure (image, 20.5, 20.5, 5.0);
  /* 81 lattice points lie within 5 of the origin (OEIS A000328). Equal pixels all stay. */
  assert_int_equal (spot.pixels, 81);
  assert_near (ts_delta_e_76 (spot.lab, want), 0.0, 0.05);
  assert_near (spot.spread, 0.0, 1e-9);
  assert_near (spot.clipped_share, 0.0, 0.0);
  assert_near (spot.standard_error, 0.05, 1e-12);
}

/* Half black, half white-ish in stripes: linear light says Y is the mean, not L* or the code value.
 */
static void
test_mean_is_in_linear_light (void **state)
{
  Pixels pixels;
  g_autoptr (TsImage) image = NULL;
  double low = ts_srgb_decode (60 / 255.0), high = ts_srgb_decode (200 / 255.0);

  fill (pixels, 60, 60, 60);
  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x += 2)
      memset (pixels[y][x], 200, 3);
  image = make_image (pixels);
  assert_near (ts_luminance_from_lightness (measure (image, 4.0, 4.0, 1.0).lab.L), (low + high) / 2,
               1e-3);
}

static void
test_trims (void **state)
{
  Pixels pixels;
  g_autoptr (TsImage) image = NULL;
  TsLab want = ts_lab_from_srgb8 ((guint8[]){ 100, 110, 120 });
  TsSpot spot;

  fill (pixels, 100, 110, 120);
  memset (pixels[20][20], 255, 3); /* a glint, clipped */
  memset (pixels[21][20], 0, 3);
  memset (pixels[22][20], 250, 3); /* nearly so: among the farthest tenth */
  memset (pixels[20][22], 5, 3);
  image = make_image (pixels);
  spot = measure (image, 20.5, 20.5, 5.0);
  assert_near (spot.clipped_share, 2.0 / 81.0, 1e-12);
  assert_int_equal (spot.pixels, 77);
  assert_near (ts_delta_e_76 (spot.lab, want), 0.0, 0.05);
}

static void
test_all_clipped (void **state)
{
  Pixels pixels;
  g_autoptr (TsImage) image = NULL;
  TsSpot spot;

  fill (pixels, 255, 255, 255);
  image = make_image (pixels);
  spot = measure (image, 10, 10, 3.0);
  assert_near (spot.clipped_share, 1.0, 0.0);
  assert_near (spot.lab.L, 100.0, 0.01);
  assert_true (spot.pixels > 20);
}

/* The smallest discs, and those that reach over the edge. */
static void
test_small_and_edge (void **state)
{
  Pixels pixels;
  g_autoptr (TsImage) image = NULL;
  static const double one[][2] = {
    { 10.5, 10.5 }, { 10.0, 10.0 }, { 0.0, 0.0 }, { 59.9, 39.9 }, { 10.9, 10.9 }
  };

  fill (pixels, 90, 90, 90);
  pixels[10][10][0] = 200;
  image = make_image (pixels);
  for (guint i = 0; i < G_N_ELEMENTS (one); i++)
    {
      TsSpot spot = measure (image, one[i][0], one[i][1], 0.5);

      assert_in_range (spot.pixels, 1, 4);
      assert_true (spot.standard_error >= 0.5);
    }
  assert_true (measure (image, 10.5, 10.5, 0.5).lab.a > 20.0);
  assert_int_equal (measure (image, 0.0, 0.0, 2.0).pixels, 3); /* 1.5, 1.5 lies 2.1 away */
}

static void
test_refuses (void **state)
{
  static const double bad[][3] = { { -0.1, 5, 2 },         { 60, 5, 2 },
                                   { 5, 40, 2 },           { 5, -1, 2 },
                                   { 5, 5, 0.4 },          { 5, 5, 1001 },
                                   { (double) NAN, 5, 2 }, { 5, (double) NAN, 2 },
                                   { 5, 5, (double) NAN } };
  Pixels pixels;
  g_autoptr (TsImage) image = NULL;
  g_autoptr (TsCorrection) none = ts_correction_new_none ();

  fill (pixels, 90, 90, 90);
  image = make_image (pixels);
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;
      TsSpot spot = { .pixels = 77 };

      assert_false (ts_spot_measure (image, none, bad[i][0], bad[i][1], bad[i][2], &spot, &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
      assert_int_equal (spot.pixels, 77);
    }
}

/* Over many noisy discs the mean errs as the standard error says, for noise as a mosaic sensor
 * leaves it: independent samples, three of four pixels interpolated (here: one sample for 2 x 2).
 */
static void
test_standard_error_holds (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (6);
  g_autoptr (TsImage) image = NULL;
  Pixels pixels;
  double squares = 0.0, claimed = 0.0, mean = 0.0;
  int n = 0;

  for (int round = 0; round < 20; round++)
    {
      g_clear_pointer (&image, ts_image_unref);
      for (int y = 0; y < HEIGHT; y += 2)
        for (int x = 0; x < WIDTH; x += 2)
          {
            int value = 120;

            for (int k = 0; k < 12; k++)
              value += g_rand_int_range (random, -5, 6);
            for (int k = 0; k < 4; k++)
              memset (pixels[y + k / 2][x + k % 2], value, 3);
          }
      image = make_image (pixels);
      for (int y = 7; y < HEIGHT - 6; y += 13)
        for (int x = 7; x < WIDTH - 6; x += 13)
          {
            TsSpot spot = measure (image, x, y, 6.0);

            mean += spot.lab.L;
            squares += spot.lab.L * spot.lab.L;
            claimed += spot.standard_error * spot.standard_error;
            n++;
          }
    }
  mean /= n;
  squares = squares / n - mean * mean;
  claimed /= n;
  assert_true (sqrt (squares) > 0.2);
  assert_near (sqrt (squares / claimed), 1.0, 0.25);
}

static void
test_run (void **state)
{
  const TsPoint line[] = { { 5.5, 5.5 }, { 35.5, 5.5 }, { 35.5, 35.5 } };
  const TsPoint dot[] = { { 5, 5 }, { 5, 5 } };
  Pixels pixels;
  g_autoptr (TsImage) image = NULL;
  g_autoptr (TsCorrection) none = ts_correction_new_none ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) spots = NULL;
  TsPoint places[5];
  double positions[5];

  assert_near (ts_run_get_length (line, 3), 60.0, 1e-12);
  assert_near (ts_run_get_length (line, 1), 0.0, 0.0);
  ts_run_place_spots (line, 3, places, positions, 5);
  for (guint i = 0; i < 5; i++)
    {
      assert_near (positions[i], i / 4.0, 1e-15);
      assert_near (places[i].x, ((double[]){ 5.5, 20.5, 35.5, 35.5, 35.5 })[i], 1e-12);
      assert_near (places[i].y, ((double[]){ 5.5, 5.5, 5.5, 20.5, 35.5 })[i], 1e-12);
      assert_near (ts_run_get_position (line, 3, places[i]), positions[i], 1e-12);
    }
  assert_near (ts_run_get_position (line, 3, (TsPoint){ 0, 0 }), 0.0, 0.0);
  assert_near (ts_run_get_position (line, 3, (TsPoint){ 99, 99 }), 1.0, 0.0);
  assert_near (ts_run_get_position (dot, 2, (TsPoint){ 9, 9 }), 0.0, 0.0);

  fill (pixels, 90, 90, 90);
  for (int x = 0; x < WIDTH; x++)
    memset (pixels[5][x], 200 - 2 * x, 3);
  image = make_image (pixels);
  spots = ts_run_measure (image, none, line, 2, 4, 0.5, &error);
  assert_no_error (error);
  assert_int_equal (spots->len, 4);
  for (guint i = 1; i < 4; i++)
    assert_true (g_array_index (spots, TsSpot, i).lab.L <
                 g_array_index (spots, TsSpot, i - 1).lab.L);
  assert_near (g_array_index (spots, TsSpot, 1).position, 1.0 / 3.0, 1e-15);

  assert_null (ts_run_measure (image, none, line, 1, 4, 0.5, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_FEW));
  g_clear_error (&error);
  assert_null (ts_run_measure (image, none, dot, 2, 4, 0.5, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_FEW));
  g_clear_error (&error);
  assert_null (ts_run_measure (image, none, line, 2, 1, 0.5, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
}

static void
test_suggestions (void **state)
{
  for (double length = 0.0; length < 5000.0; length += 7.0)
    {
      guint n = ts_run_suggest_spots (length);
      double radius = ts_run_suggest_radius (length, 0.0);

      assert_in_range (n, 5, 13);
      assert_true (radius >= 0.5 && radius <= 12.0);
      if (length > 10.0)
        assert_true (2.0 * radius * (n - 1) < length);
    }
  /* As the painter likes them, as long as they do not touch. */
  assert_near (ts_run_suggest_radius (5000.0, 40.0), 40.0, 0.0);
  assert_near (ts_run_suggest_radius (5000.0, 2.0), 2.0, 0.0);
  assert_near (ts_run_suggest_radius (120.0, 40.0), ts_run_suggest_radius (120.0, 0.0), 0.0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_flat),
    cmocka_unit_test (test_mean_is_in_linear_light),
    cmocka_unit_test (test_trims),
    cmocka_unit_test (test_all_clipped),
    cmocka_unit_test (test_small_and_edge),
    cmocka_unit_test (test_refuses),
    cmocka_unit_test (test_standard_error_holds),
    cmocka_unit_test (test_run),
    cmocka_unit_test (test_suggestions),
  };

  return cmocka_run_group_tests_name ("spots", tests, NULL, NULL);
}
