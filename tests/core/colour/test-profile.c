/* test-profile.c: profiles whose answers are known, and pixels that come without one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-linalg.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "colour/ts-profile.h"

#include "colour/icc.h"
#include "ts-test.h"

#define N_PIXELS 1000 /* more than are converted at a time */
/* A table rounds linear light to 16 bits, and so does lcms2 when it reads between two entries. */
#define TABLE_ROUNDING (1.0 / 65535.0)

static TsProfile *
new_profile (GBytes *icc, TsPixelFormat format)
{
  g_autoptr (GError) error = NULL;
  TsProfile *profile = ts_profile_new_from_icc (icc, format, &error);

  g_bytes_unref (icc);
  assert_no_error (error);
  assert_true (ts_profile_is_from_file (profile));
  return profile;
}

/* The largest dE2000 between what @profile makes of @pixels and @want; colours that are farther off
 * than
 * @rounding in none of X, Y and Z count as right. */
static double
worst_error (const TsProfile *profile, const void *pixels, const TsXyz *want, double rounding)
{
  TsXyz got[N_PIXELS];
  double worst = 0.0;

  ts_profile_to_xyz (profile, pixels, N_PIXELS, got);
  for (int i = 0; i < N_PIXELS; i++)
    {
      double error = ts_delta_e_2000 (ts_lab_from_xyz (got[i]), ts_lab_from_xyz (want[i]));
      gboolean rounded = fabs (got[i].X - want[i].X) <= rounding &&
                         fabs (got[i].Y - want[i].Y) <= rounding &&
                         fabs (got[i].Z - want[i].Z) <= rounding;

      if (!rounded && !(error <= worst))
        worst = error;
    }
  return worst;
}

static void
fill_random (guint8 *bytes, gsize n, guint32 seed)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (seed);
  guint count[256] = { 0 };

  for (gsize i = 0; i < n; i++)
    {
      bytes[i] = (guint8) g_rand_int_range (random, 0, 256);
      count[bytes[i]]++;
    }
  for (int i = 0; i < 256; i++)
    assert_true (count[i] > 0); /* every value was tried */
}

static void
test_srgb (void **state)
{
  guint16 pixels[N_PIXELS * 3];
  TsXyz want[N_PIXELS];

  fill_random ((guint8 *) pixels, sizeof pixels, 1);
  for (int i = 0; i < N_PIXELS; i++)
    want[i] = ts_xyz_from_rgb ((TsRgb){ ts_srgb_decode (pixels[3 * i] / 65535.0),
                                        ts_srgb_decode (pixels[3 * i + 1] / 65535.0),
                                        ts_srgb_decode (pixels[3 * i + 2] / 65535.0) });
  for (double version = 2.1; version < 5.0; version += 2.2)
    {
      g_autoptr (TsProfile) profile = new_profile (icc_srgb (version), TS_PIXEL_RGB16);
      /* Version 2 has tables only. */
      double rounding = version < 4.0 ? TABLE_ROUNDING : 0.0;

      assert_near (worst_error (profile, pixels, want, rounding), 0.0, 0.01);
      assert_non_null (strstr (ts_profile_get_name (profile), "sRGB"));
    }
}

/* XYZ under D50 from the primaries and white of icc_romm() by plain algebra; its white is moved to
 * the D50 of profiles by the Bradford matrix of ICC.1 Annex E. */
static TsMat3
romm_matrix (void)
{
  static const TsMat3 bradford = { {
    { 0.8951, 0.2664, -0.1614 },
    { -0.7502, 1.7135, 0.0367 },
    { 0.0389, -0.0685, 1.0296 },
  } };
  static const double x[3] = { 0.7347, 0.1596, 0.0366 }, y[3] = { 0.2653, 0.8404, 0.0001 };
  TsVec3 white = { { 0.3457 / 0.3585, 1.0, (1.0 - 0.3457 - 0.3585) / 0.3585 } };
  TsVec3 pcs = { { TS_D50_X, 1.0, TS_D50_Z } };
  TsMat3 columns, inverse, back, gain = { 0 };
  TsVec3 size, from, to;

  for (int c = 0; c < 3; c++)
    {
      columns.m[0][c] = x[c];
      columns.m[1][c] = y[c];
      columns.m[2][c] = 1.0 - x[c] - y[c];
    }
  assert_true (ts_mat3_invert (&columns, &inverse));
  size = ts_mat3_apply (&inverse, white);
  for (int r = 0; r < 3; r++)
    for (int c = 0; c < 3; c++)
      columns.m[r][c] *= size.v[c];
  from = ts_mat3_apply (&bradford, white);
  to = ts_mat3_apply (&bradford, pcs);
  for (int i = 0; i < 3; i++)
    gain.m[i][i] = to.v[i] / from.v[i];
  assert_true (ts_mat3_invert (&bradford, &back));
  gain = ts_mat3_multiply (&gain, &bradford);
  gain = ts_mat3_multiply (&back, &gain);
  return ts_mat3_multiply (&gain, &columns);
}

static void
fill_romm (const guint16 *pixels, double gamma, TsXyz *want)
{
  TsMat3 matrix = romm_matrix ();

  for (int i = 0; i < N_PIXELS; i++)
    {
      TsVec3 light = { { pow (pixels[3 * i] / 65535.0, gamma),
                         pow (pixels[3 * i + 1] / 65535.0, gamma),
                         pow (pixels[3 * i + 2] / 65535.0, gamma) } };
      TsVec3 xyz = ts_mat3_apply (&matrix, light);

      want[i] = (TsXyz){ xyz.v[0], xyz.v[1], xyz.v[2] };
    }
}

/* A matrix and curves, the curve as a number and as a table; dE 0.01 but for colours so dark that
 * the 16 bits of the table show. */
static void
test_romm (void **state)
{
  g_autoptr (TsProfile) number = new_profile (icc_romm (4.3, 0), TS_PIXEL_RGB16);
  g_autoptr (TsProfile) table = new_profile (icc_romm (2.4, 4096), TS_PIXEL_RGB16);
  guint16 pixels[N_PIXELS * 3];
  TsXyz want[N_PIXELS];

  fill_random ((guint8 *) pixels, sizeof pixels, 2);
  fill_romm (pixels, 1.8, want);
  assert_near (worst_error (number, pixels, want, 0.0), 0.0, 0.01);
  assert_near (worst_error (table, pixels, want, TABLE_ROUNDING), 0.0, 0.01);
}

static void
test_grey (void **state)
{
  const double gamma = 563.0 / 256.0; /* version 2 stores it as a number of 256ths */
  g_autoptr (TsProfile) deep = new_profile (icc_grey (gamma), TS_PIXEL_GREY16);
  g_autoptr (TsProfile) plain = new_profile (icc_grey (gamma), TS_PIXEL_GREY8);
  guint16 wide[N_PIXELS];
  guint8 narrow[N_PIXELS];
  TsXyz want[N_PIXELS];

  fill_random ((guint8 *) wide, sizeof wide, 3);
  for (int i = 0; i < N_PIXELS; i++)
    {
      double Y = pow (wide[i] / 65535.0, gamma);

      want[i] = (TsXyz){ TS_D50_X * Y, Y, TS_D50_Z * Y };
    }
  assert_near (worst_error (deep, wide, want, 0.0), 0.0, 0.01);
  for (int i = 0; i < N_PIXELS; i++)
    {
      double Y = pow ((i & 255) / 255.0, gamma);

      narrow[i] = (guint8) i;
      want[i] = (TsXyz){ TS_D50_X * Y, Y, TS_D50_Z * Y };
    }
  assert_near (worst_error (plain, narrow, want, 0.0), 0.0, 0.01);
}

/* Tables: the relative colorimetric one is taken, black is not stretched to black, and inks count
 * up. */
static void
check_plane (const IccPlane plane, guint channels, TsPixelFormat format, double version)
{
  g_autoptr (TsProfile) profile = new_profile (icc_plane (plane, channels, version), format);
  guint8 pixels[N_PIXELS * 4];
  TsXyz want[N_PIXELS];

  fill_random (pixels, sizeof pixels, 4);
  memset (pixels, 0, channels);
  memset (pixels + channels, 255, channels);
  for (int i = 0; i < N_PIXELS; i++)
    {
      TsLab lab = { plane[0][0], plane[0][1], plane[0][2] };

      for (guint c = 0; c < channels; c++)
        {
          double level = pixels[i * channels + c] / 255.0;

          lab.L += plane[c + 1][0] * level;
          lab.a += plane[c + 1][1] * level;
          lab.b += plane[c + 1][2] * level;
        }
      want[i] = ts_xyz_from_lab (lab);
    }
  assert_near (worst_error (profile, pixels, want, 0.0), 0.0, 0.01);
}

static void
test_tables (void **state)
{
  check_plane (icc_inks, 4, TS_PIXEL_CMYK8, 2.4);
  check_plane (icc_inks, 4, TS_PIXEL_CMYK8, 4.3);
  check_plane (icc_lights, 3, TS_PIXEL_RGB8, 2.4);
  check_plane (icc_lights, 3, TS_PIXEL_RGB8, 4.3);
}

static void
test_primaries (void **state)
{
  static const double xy[4][2] = {
    { 0.3457, 0.3585 }, { 0.7347, 0.2653 }, { 0.1596, 0.8404 }, { 0.0366, 0.0001 }
  };
  guint16 pixels[N_PIXELS * 3];
  TsXyz want[N_PIXELS];

  fill_random ((guint8 *) pixels, sizeof pixels, 5);
  for (double gamma = 1.0; gamma < 3.0; gamma += 0.6)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TsProfile) profile =
        ts_profile_new_from_primaries (xy, gamma, TS_PIXEL_RGB16, &error);

      assert_no_error (error);
      fill_romm (pixels, gamma, want);
      assert_near (worst_error (profile, pixels, want, 0.0), 0.0, 0.01);
    }
}

static void
test_grey_gamma (void **state)
{
  static const double xy[4][2] = {
    { 0.3127, 0.329 }, { 0.64, 0.33 }, { 0.3, 0.6 }, { 0.15, 0.06 }
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (TsProfile) profile = ts_profile_new_from_primaries (xy, 2.2, TS_PIXEL_GREY8, &error);
  guint8 grey = 128;
  TsXyz xyz;

  assert_no_error (error);
  ts_profile_to_xyz (profile, &grey, 1, &xyz);
  assert_near (xyz.X, TS_D50_X * pow (128 / 255.0, 2.2), 1e-5);
  assert_near (xyz.Y, pow (128 / 255.0, 2.2), 1e-5);
  assert_near (xyz.Z, TS_D50_Z * pow (128 / 255.0, 2.2), 1e-5);
}

static void
test_assumed (void **state)
{
  static const guint8 grey8[] = { 119 };
  static const guint16 grey16[] = { 119 * 257 };
  static const guint8 rgb8[] = { 200, 150, 120 };
  static const guint16 rgb16[] = { 200 * 257, 150 * 257, 120 * 257 };
  static const guint8 cmyk8[] = { 255 - 200, 255 - 150, 255 - 120, 0 };
  static const void *const pixels[TS_N_PIXEL_FORMATS] = { grey8, grey16, rgb8, rgb16, cmyk8 };

  for (int format = 0; format < TS_N_PIXEL_FORMATS; format++)
    {
      g_autoptr (TsProfile) profile = ts_profile_new_assumed (format);
      gboolean grey = format <= TS_PIXEL_GREY16;
      guint8 code[3] = { grey ? 119 : 200, grey ? 119 : 150, grey ? 119 : 120 };
      TsLab want = ts_lab_from_srgb8 (code);
      TsXyz xyz;
      guint32 word;

      assert_false (ts_profile_is_from_file (profile));
      assert_true (strlen (ts_profile_get_name (profile)) > 0);
      ts_profile_to_xyz (profile, pixels[format], 1, &xyz);
      ts_profile_to_screen (profile, pixels[format], 1, &word);
      assert_near (ts_delta_e_2000 (ts_lab_from_xyz (xyz), want), 0.0, 1e-9);
      assert_int_equal (word, (guint32) code[0] << 16 | (guint32) code[1] << 8 | code[2]);
    }
}

static void
test_assumed_inks (void **state)
{
  /* clang-format off */
  static const guint8 inks[] = {
    0, 0, 0, 0,
    0, 0, 0, 255,
    255, 255, 255, 0,
    255, 0, 0, 0,
    0, 0, 0, 128,
    10, 0, 0, 15,
  };
  /* clang-format on */
  static const guint32 want[] = { 0xffffff, 0x000000, 0x000000, 0x00ffff, 0x7f7f7f, 0xe7f0f0 };
  g_autoptr (TsProfile) profile = ts_profile_new_assumed (TS_PIXEL_CMYK8);
  guint32 words[6];

  ts_profile_to_screen (profile, inks, 6, words);
  assert_memory_equal (words, want, sizeof want);
}

/* The screen's words agree with the colours, in all formats that a profile may come in. */
static void
check_screen (TsProfile *profile, TsPixelFormat format, int codes)
{
  guint8 pixels[N_PIXELS * 8];
  guint32 words[N_PIXELS];
  TsXyz xyz[N_PIXELS];

  fill_random (pixels, sizeof pixels, 6);
  ts_profile_to_screen (profile, pixels, N_PIXELS, words);
  ts_profile_to_xyz (profile, pixels, N_PIXELS, xyz);
  for (int i = 0; i < N_PIXELS; i++)
    {
      guint8 want[3];

      ts_lab_to_srgb8 (ts_lab_from_xyz (xyz[i]), want);
      assert_int_equal (words[i] >> 24, 0);
      for (int c = 0; c < 3; c++)
        assert_true (abs ((int) (words[i] >> (16 - 8 * c) & 255) - want[c]) <= codes);
    }
}

static void
test_screen (void **state)
{
  g_autoptr (TsProfile) srgb8 = new_profile (icc_srgb (2.1), TS_PIXEL_RGB8);
  g_autoptr (TsProfile) srgb16 = new_profile (icc_srgb (4.3), TS_PIXEL_RGB16);
  g_autoptr (TsProfile) romm = new_profile (icc_romm (4.3, 0), TS_PIXEL_RGB8);
  g_autoptr (TsProfile) grey8 = new_profile (icc_grey (2.2), TS_PIXEL_GREY8);
  g_autoptr (TsProfile) grey16 = new_profile (icc_grey (2.2), TS_PIXEL_GREY16);

  check_screen (srgb8, TS_PIXEL_RGB8, 1);
  check_screen (srgb16, TS_PIXEL_RGB16, 1);
  check_screen (romm, TS_PIXEL_RGB8, 1);
  check_screen (grey8, TS_PIXEL_GREY8, 1);
  check_screen (grey16, TS_PIXEL_GREY16, 1);
}

/* Black that is not quite black stays so on the screen too. */
static void
test_screen_black (void **state)
{
  g_autoptr (TsProfile) lights = new_profile (icc_plane (icc_lights, 3, 2.4), TS_PIXEL_RGB8);
  static const guint8 black[3] = { 0 };
  guint32 word;

  ts_profile_to_screen (lights, black, 1, &word);
  assert_int_equal (word, 0x111111); /* L* 5 */
}

/* Tables are joined for the screen; the difference stays below what the eye sees side by side. */
static void
test_screen_of_inks (void **state)
{
  g_autoptr (TsProfile) inks = new_profile (icc_plane (icc_inks, 4, 2.4), TS_PIXEL_CMYK8);
  guint8 pixels[N_PIXELS * 4];
  guint32 words[N_PIXELS];
  TsXyz xyz[N_PIXELS];
  double sum = 0.0;

  fill_random (pixels, sizeof pixels, 7);
  ts_profile_to_screen (inks, pixels, N_PIXELS, words);
  ts_profile_to_xyz (inks, pixels, N_PIXELS, xyz);
  for (int i = 0; i < N_PIXELS; i++)
    {
      guint8 got[3] = { (guint8) (words[i] >> 16), (guint8) (words[i] >> 8), (guint8) words[i] };
      guint8 want[3];
      double error;

      ts_lab_to_srgb8 (ts_lab_from_xyz (xyz[i]), want);
      error = ts_delta_e_2000 (ts_lab_from_srgb8 (got), ts_lab_from_srgb8 (want));
      assert_near (error, 0.0, 3.0);
      sum += error;
    }
  assert_near (sum / N_PIXELS, 0.0, 0.3);
}

/* What a thread makes of the pixels, ten times. */
static gpointer
convert_again (gpointer data)
{
  TsProfile *profile = data;
  guint8 pixels[N_PIXELS * 3];
  TsXyz first[N_PIXELS], again[N_PIXELS];
  guint32 words[N_PIXELS], words_again[N_PIXELS];
  gboolean same = TRUE;

  for (gsize i = 0; i < sizeof pixels; i++)
    pixels[i] = (guint8) (i * 7 + i / 256);
  ts_profile_to_xyz (profile, pixels, N_PIXELS, first);
  ts_profile_to_screen (profile, pixels, N_PIXELS, words);
  for (int i = 0; i < 10; i++)
    {
      ts_profile_to_xyz (profile, pixels, N_PIXELS, again);
      ts_profile_to_screen (profile, pixels, N_PIXELS, words_again);
      same = same && memcmp (first, again, sizeof first) == 0 &&
             memcmp (words, words_again, sizeof words) == 0;
    }
  return GINT_TO_POINTER (same);
}

static void
test_threads (void **state)
{
  g_autoptr (TsProfile) profile = new_profile (icc_romm (2.4, 1024), TS_PIXEL_RGB8);
  GThread *threads[4];

  for (int i = 0; i < 4; i++)
    threads[i] = g_thread_new ("convert", convert_again, profile);
  for (int i = 0; i < 4; i++)
    assert_true (GPOINTER_TO_INT (g_thread_join (threads[i])));
}

/* Many pixels at once are the same as one by one, and none at all is fine. */
static void
test_counts (void **state)
{
  g_autoptr (TsProfile) profile = new_profile (icc_srgb (4.3), TS_PIXEL_RGB8);
  g_autoptr (TsProfile) held = ts_profile_ref (profile);
  guint8 pixels[N_PIXELS * 3];
  TsXyz all[N_PIXELS], one;

  fill_random (pixels, sizeof pixels, 8);
  ts_profile_to_xyz (held, pixels, N_PIXELS, all);
  for (int i = 0; i < N_PIXELS; i++)
    {
      ts_profile_to_xyz (held, pixels + 3 * i, 1, &one);
      assert_memory_equal (&one, &all[i], sizeof one);
    }
  ts_profile_to_xyz (held, NULL, 0, NULL);
  ts_profile_to_screen (held, NULL, 0, NULL);
}

static void
test_formats (void **state)
{
  static const guint sizes[TS_N_PIXEL_FORMATS] = { 1, 2, 3, 6, 4 };
  static const guint channels[TS_N_PIXEL_FORMATS] = { 1, 1, 3, 3, 4 };

  for (int format = 0; format < TS_N_PIXEL_FORMATS; format++)
    {
      assert_int_equal (ts_pixel_format_get_size (format), sizes[format]);
      assert_int_equal (ts_pixel_format_get_channels (format), channels[format]);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_srgb),         cmocka_unit_test (test_romm),
    cmocka_unit_test (test_grey),         cmocka_unit_test (test_tables),
    cmocka_unit_test (test_primaries),    cmocka_unit_test (test_grey_gamma),
    cmocka_unit_test (test_assumed),      cmocka_unit_test (test_assumed_inks),
    cmocka_unit_test (test_screen),       cmocka_unit_test (test_screen_of_inks),
    cmocka_unit_test (test_screen_black), cmocka_unit_test (test_threads),
    cmocka_unit_test (test_counts),       cmocka_unit_test (test_formats),
  };

  return cmocka_run_group_tests_name ("colour/profile", tests, NULL, NULL);
}
