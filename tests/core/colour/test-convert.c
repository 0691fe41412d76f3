/* test-convert.c: conversions, where no table says what they give
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "colour/ts-colour-convert.h"

#include "ts-test.h"

static void
test_white (void **state)
{
  TsLab white = ts_lab_from_xyz ((TsXyz){ TS_D50_X, 1.0, TS_D50_Z });
  TsXyz rgb_white = ts_xyz_from_rgb ((TsRgb){ 1.0, 1.0, 1.0 });

  assert_near (white.L, 100.0, 1e-12);
  assert_near (white.a, 0.0, 1e-12);
  assert_near (white.b, 0.0, 1e-12);
  assert_near (rgb_white.X, TS_D50_X, 1e-15);
  assert_near (rgb_white.Y, 1.0, 1e-15);
  assert_near (rgb_white.Z, TS_D50_Z, 1e-15);
}

static void
test_lab_round_trip (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (1);
  guint below = 0;

  for (int i = 0; i < 10000; i++)
    {
      TsLab lab = { g_rand_double_range (random, -5, 105), g_rand_double_range (random, -128, 128),
                    g_rand_double_range (random, -128, 128) };
      TsXyz xyz = ts_xyz_from_lab (lab);
      TsLab back = ts_lab_from_xyz (xyz);
      TsLab turned = ts_lab_from_lch (ts_lch_from_lab (lab));

      below += xyz.X < 0.008 || xyz.Z < 0.008;
      assert_near (back.L, lab.L, 1e-10);
      assert_near (back.a, lab.a, 1e-10);
      assert_near (back.b, lab.b, 1e-10);
      assert_near (turned.a, lab.a, 1e-10);
      assert_near (turned.b, lab.b, 1e-10);
    }
  assert_in_range (below, 500, 9500); /* both parts of the curve were used */
}

static void
test_rgb_round_trip (void **state)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (2);

  for (int i = 0; i < 10000; i++)
    {
      TsRgb rgb = { g_rand_double_range (random, -1, 2), g_rand_double_range (random, -1, 2),
                    g_rand_double_range (random, -1, 2) };
      TsRgb back = ts_rgb_from_xyz (ts_xyz_from_rgb (rgb));

      assert_near (back.r, rgb.r, 1e-12);
      assert_near (back.g, rgb.g, 1e-12);
      assert_near (back.b, rgb.b, 1e-12);
      /* The two branches of the standard part by 4e-9 where they meet. */
      assert_near (ts_srgb_decode (ts_srgb_encode (rgb.r)), rgb.r, 1e-8);
    }
}

static void
test_srgb_is_odd (void **state)
{
  assert_near (ts_srgb_decode (-0.5), -ts_srgb_decode (0.5), 0.0);
  assert_near (ts_srgb_encode (-0.5), -ts_srgb_encode (0.5), 0.0);
  assert_near (ts_srgb_encode (-0.001), -0.01292, 1e-15);
}

static void
test_srgb8_round_trip (void **state)
{
  guint steps = 0;

  for (int r = 0; r < 256; r += 5)
    for (int g = 0; g < 256; g += 5)
      for (int b = 0; b < 256; b += 5)
        {
          guint8 code[3] = { (guint8) r, (guint8) g, (guint8) b }, back[3];

          assert_true (ts_lab_to_srgb8 (ts_lab_from_srgb8 (code), back));
          assert_memory_equal (back, code, 3);
          steps++;
        }
  assert_int_equal (steps, 52 * 52 * 52);
}

static void
test_srgb8_held (void **state)
{
  guint8 srgb[3];

  assert_false (ts_lab_to_srgb8 ((TsLab){ 50.0, -100.0, 0.0 }, srgb));
  assert_int_equal (srgb[0], 0);
  assert_false (ts_lab_to_srgb8 ((TsLab){ 120.0, 0.0, 0.0 }, srgb));
  assert_int_equal (srgb[0], 255);
  assert_int_equal (srgb[2], 255);
  assert_false (ts_lab_to_srgb8 ((TsLab){ (double) NAN, 0.0, 0.0 }, srgb));
  assert_int_equal (srgb[1], 0);
}

static void
test_hue_range (void **state)
{
  assert_near (ts_lch_from_lab ((TsLab){ 50.0, 0.0, 0.0 }).h, 0.0, 0.0);
  assert_near (ts_lch_from_lab ((TsLab){ 50.0, 0.0, -10.0 }).h, 270.0, 1e-12);
  assert_near (ts_lch_from_lab ((TsLab){ 50.0, -10.0, 0.0 }).h, 180.0, 1e-12);
  assert_near (ts_lch_from_lab ((TsLab){ 50.0, 10.0, -1e-300 }).h, 0.0, 0.0);
  assert_near (ts_lch_from_lab ((TsLab){ 50.0, 3.0, 4.0 }).C, 5.0, 1e-15);
}

static void
test_munsell_range (void **state)
{
  for (double value = 0.0; value <= 10.0; value += 0.01)
    assert_near (ts_munsell_value_from_lightness (ts_lightness_from_munsell_value (value)), value,
                 1e-10);
  assert_near (ts_munsell_value_from_lightness (-3.0), 0.0, 1e-12);
  assert_near (ts_munsell_value_from_lightness (120.0), 10.0, 1e-12);
  assert_near (ts_lightness_from_munsell_value (-1.0), 0.0, 1e-12);
  assert_near (ts_lightness_from_munsell_value (11.0), 100.0, 1e-9);
}

static void
test_luminance_round_trip (void **state)
{
  for (double L = -10.0; L <= 110.0; L += 0.37)
    assert_near (ts_lightness_from_luminance (ts_luminance_from_lightness (L)), L, 1e-11);
  assert_near (ts_luminance_from_lightness (49.5), 0.18, 0.0005); /* the 18 % grey card */
}

static void
test_nan_stays (void **state)
{
  assert_true (isnan (ts_lab_from_xyz ((TsXyz){ 0.5, (double) NAN, 0.5 }).L));
  assert_true (isnan (ts_xyz_from_lab ((TsLab){ 50.0, (double) NAN, 0.0 }).X));
  assert_true (isnan (ts_srgb_encode ((double) NAN)));
  assert_true (isnan (ts_munsell_value_from_lightness ((double) NAN)));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_white),
    cmocka_unit_test (test_lab_round_trip),
    cmocka_unit_test (test_rgb_round_trip),
    cmocka_unit_test (test_srgb_is_odd),
    cmocka_unit_test (test_srgb8_round_trip),
    cmocka_unit_test (test_srgb8_held),
    cmocka_unit_test (test_hue_range),
    cmocka_unit_test (test_munsell_range),
    cmocka_unit_test (test_luminance_round_trip),
    cmocka_unit_test (test_nan_stays),
  };

  return cmocka_run_group_tests_name ("colour/convert", tests, NULL, NULL);
}
