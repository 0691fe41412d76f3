/* test-profile-screen.c: pictures and colours as a monitor with a profile shows them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-profile-screen.h"

#include "colour/icc.h"
#include "ts-test.h"

#define N 2048

/* A monitor whose red lamp is green and whose green lamp is red: its answers are known. */
static GBytes *
swapped_monitor (void)
{
  const cmsCIExyY white = { 0.3127, 0.3290, 1.0 };
  const cmsCIExyYTRIPLE lamps = { { 0.30, 0.60, 1.0 }, { 0.64, 0.33, 1.0 }, { 0.15, 0.06, 1.0 } };
  double srgb[5] = { 2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045 }; /* IEC 61966-2-1 */
  cmsToneCurve *curve = cmsBuildParametricToneCurve (NULL, 4, srgb);
  cmsToneCurve *curves[3] = { curve, curve, curve };
  cmsHPROFILE profile = cmsCreateRGBProfile (&white, &lamps, curves);

  cmsFreeToneCurve (curve);
  return icc_take (profile, 4.3);
}

static guint8 *
random_bytes (gsize n)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  guint8 *bytes = g_malloc (n);

  for (gsize i = 0; i < n; i++)
    bytes[i] = (guint8) g_rand_int_range (rand, 0, 256);
  return bytes;
}

static int
most_apart (guint32 one, guint32 other)
{
  int most = 0;

  for (guint shift = 0; shift < 24; shift += 8)
    most = MAX (most, abs ((int) (one >> shift & 0xff) - (int) (other >> shift & 0xff)));
  return most;
}

static guint32
swap (guint32 word)
{
  return (word & 0xff) | (word >> 8 & 0xff) << 16 | (word >> 16 & 0xff) << 8;
}

/* Without a monitor the block is what ts_profile_to_screen() gives row by row. */
static void
test_srgb_screen (void **state)
{
  g_autoptr (GBytes) icc = icc_romm (2.4, 0);
  g_autoptr (TsProfile) own = ts_profile_new_from_icc (icc, TS_PIXEL_RGB8, NULL);
  g_autoptr (TsProfile) assumed = ts_profile_new_assumed (TS_PIXEL_RGB8);
  TsProfile *both[] = { own, assumed };
  g_autofree guint8 *pixels = random_bytes (3 * N);

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (TsProfileScreen) screen = ts_profile_screen_new (both[i], NULL, NULL);
      guint32 wanted[N], got[N / 16 * 20] = { 0 };
      guint32 word = 0x123456;

      ts_profile_to_screen (both[i], pixels, N, wanted);
      /* 16 columns of 20 words */
      ts_profile_screen_convert (screen, pixels, 16 * 3, 16, N / 16, got, 20);
      for (guint j = 0; j < N; j++)
        assert_int_equal (got[j / 16 * 20 + j % 16] & 0xffffff, wanted[j]);
      assert_int_equal (got[16], 0); /* between the rows nothing is touched */
      ts_profile_screen_adapt (screen, &word, 1);
      assert_int_equal (word, 0x123456);
    }
}

/* sRGB on it is sRGB with two channels swapped, within a code of rounding. */
static void
test_swapped_lamps (void **state)
{
  g_autoptr (GBytes) monitor = swapped_monitor ();
  g_autoptr (GBytes) srgb = icc_srgb (4.3);
  g_autoptr (TsProfile) own = ts_profile_new_from_icc (srgb, TS_PIXEL_RGB8, NULL);
  g_autoptr (TsProfile) assumed = ts_profile_new_assumed (TS_PIXEL_RGB8);
  TsProfile *both[] = { own, assumed };
  g_autofree guint8 *pixels = random_bytes (3 * N);

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (TsProfileScreen) screen = ts_profile_screen_new (both[i], monitor, NULL);
      guint32 plain[N], got[N];

      assert_non_null (screen);
      ts_profile_to_screen (both[i], pixels, N, plain);
      ts_profile_screen_convert (screen, pixels, 3 * N, N, 1, got, N);
      for (guint j = 0; j < N; j++)
        assert_true (most_apart (got[j], swap (plain[j])) <= 1);
      ts_profile_screen_adapt (screen, plain, N);
      for (guint j = 0; j < N; j++)
        assert_true (most_apart (plain[j], got[j]) <= 1);
    }
}

/* A picture and a screen of the same wide colours: the samples themselves, which sRGB would cut. */
static void
test_wide_monitor (void **state)
{
  g_autoptr (GBytes) romm = icc_romm (2.4, 0);
  g_autoptr (TsProfile) own = ts_profile_new_from_icc (romm, TS_PIXEL_RGB8, NULL);
  g_autoptr (TsProfileScreen) screen = ts_profile_screen_new (own, romm, NULL);
  g_autofree guint8 *pixels = random_bytes (3 * N);
  guint32 got[N];

  ts_profile_screen_convert (screen, pixels, 3 * N, N, 1, got, N);
  for (guint j = 0; j < N; j++)
    {
      guint32 wanted =
        (guint32) pixels[3 * j] << 16 | (guint32) pixels[3 * j + 1] << 8 | pixels[3 * j + 2];

      assert_true (most_apart (got[j], wanted) <= 1);
    }
}

static void
assert_refused (GBytes *monitor, const char *why)
{
  g_autoptr (TsProfile) assumed = ts_profile_new_assumed (TS_PIXEL_RGB8);
  g_autoptr (GError) error = NULL;
  g_autoptr (TsProfileScreen) screen = ts_profile_screen_new (assumed, monitor, &error);

  g_bytes_unref (monitor);
  assert_null (screen);
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_FORMAT));
  if (strstr (error->message, why) == NULL)
    fail_msg ("\"%s\" does not say \"%s\"", error->message, why);
}

static void
test_refused (void **state)
{
  g_autoptr (GBytes) srgb = icc_srgb (4.3);
  cmsHPROFILE dark = cmsCreate_sRGBProfile ();
  cmsCIEXYZ none = { 1e-4, 1e-4, 1e-4 };

  assert_refused (g_bytes_new_static (NULL, 0), "damaged");
  assert_refused (g_bytes_new_static ("no profile", 10), "damaged");
  assert_refused (g_bytes_new_from_bytes (srgb, 0, 200), "damaged");
  assert_refused (icc_grey (2.2), "not the profile of a screen");
  assert_refused (icc_plane (icc_inks, 4, 2.4), "not the profile of a screen");
  assert_refused (icc_plane (icc_lights, 3, 2.4), "how to show a colour"); /* a scanner's */
  g_assert_true (cmsWriteTag (dark, cmsSigRedColorantTag, &none) &&
                 cmsWriteTag (dark, cmsSigGreenColorantTag, &none) &&
                 cmsWriteTag (dark, cmsSigBlueColorantTag, &none));
  assert_refused (icc_take (dark, 4.3), "");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_srgb_screen),
    cmocka_unit_test (test_swapped_lamps),
    cmocka_unit_test (test_wide_monitor),
    cmocka_unit_test (test_refused),
  };

  return cmocka_run_group_tests_name ("colour/profile-screen", tests, NULL, NULL);
}
