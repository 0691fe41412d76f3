/* test-correction.c: corrections without a chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-correction-private.h"
#include "correction/ts-light-guess.h"

static void
test_none (void **state)
{
  g_autoptr (TsCorrection) none = ts_correction_new_none ();
  TsXyz out = ts_correction_apply (none, (TsXyz){ 0.2, 0.3, 0.4 });

  assert_int_equal (ts_correction_get_kind (none), TS_CORRECTION_NONE);
  assert_near (out.X, 0.2, 0.0);
  assert_near (out.Y, 0.3, 0.0);
  assert_near (out.Z, 0.4, 0.0);
  assert_true (ts_correction_get_error (none, (TsLab){ 50, 0, 0 }) >= 10.0);
}

/* A card seen in a cast comes out neutral at its own lightness, and greys with it. */
static void
test_card (void **state)
{
  static const double lightness[] = { 49.5, 96.0, 20.0 };
  static const double casts[][3] = { { 1, 1, 1 }, { 1.8, 1.0, 0.4 }, { 0.5, 0.9, 1.6 } };

  for (guint i = 0; i < 3; i++)
    for (guint k = 0; k < 3; k++)
      {
        g_autoptr (GError) error = NULL;
        g_autoptr (TsCorrection) card = NULL;

        for (double L = lightness[i]; L > 1.0; L *= 0.7)
          {
            double Y = 0.6 * ts_luminance_from_lightness (L);
            TsXyz seen =
              ts_xyz_from_rgb ((TsRgb){ casts[k][0] * Y, casts[k][1] * Y, casts[k][2] * Y });
            TsLab lab;

            if (card == NULL)
              card = ts_correction_new_card (seen, lightness[i], &error);
            assert_no_error (error);
            lab = ts_lab_from_xyz (ts_correction_apply (card, seen));
            assert_near (ts_delta_e_76 (lab, (TsLab){ L, 0, 0 }), 0.0, 0.02);
          }
        assert_int_equal (ts_correction_get_kind (card), TS_CORRECTION_CARD);
        assert_true (ts_correction_get_error (card, (TsLab){ 50, 50, 0 }) >
                     ts_correction_get_error (card, (TsLab){ 50, 0, 0 }));
      }
}

static void
test_card_refused (void **state)
{
  static const struct
  {
    TsRgb rgb;
    double lightness;
  } bad[] = {
    { { 0.2, 0.2, 0.2 }, 0.0 },
    { { 0.2, 0.2, 0.2 }, 101.0 },
    { { 0.2, 0.2, 0.2 }, (double) NAN },
    { { 0.0001, 0.0001, 0.0001 }, 49.5 },
    { { 0.2, 0.2, 0.0 }, 49.5 },
    { { 0.2, 0.2, -0.1 }, 49.5 },
    { { 0.9, 0.03, 0.03 }, 49.5 },
    { { (double) NAN, 0.2, 0.2 }, 49.5 },
    { { (double) INFINITY, 0.2, 0.2 }, 49.5 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;

      assert_null (ts_correction_new_card (ts_xyz_from_rgb (bad[i].rgb), bad[i].lightness, &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
    }
}

/* What a camera with a cast and a contrast curve makes of a grey. */
static TsXyz
see_grey (double L)
{
  double Y = ts_luminance_from_lightness (L);
  double seen[3] = { 0.95 * Y, 0.8 * Y, 0.5 * Y };

  for (int c = 0; c < 3; c++)
    {
      double v = ts_srgb_encode (seen[c]);

      seen[c] = ts_srgb_decode (v + 0.4 * (v * v * (3.0 - 2.0 * v) - v));
    }
  return ts_xyz_from_rgb ((TsRgb){ seen[0], seen[1], seen[2] });
}

/* The cards come out where they belong, and other greys beside them. */
static void
test_several_cards (void **state)
{
  for (guint n = 2; n <= 5; n++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TsCorrection) cards = NULL;
      TsNeutral neutral[5];

      for (guint i = 0; i < n; i++)
        {
          double L = 95.0 - 75.0 * i / (n - 1);

          neutral[i] = (TsNeutral){ see_grey (L), L };
        }
      cards = ts_correction_new_cards (neutral, n, &error);
      assert_no_error (error);
      assert_int_equal (ts_correction_get_kind (cards), TS_CORRECTION_CARD);
      assert_int_equal (ts_correction_get_n_cards (cards), n);
      for (double L = 15.0; L <= 100.0; L += 5.0)
        {
          TsLab lab = ts_lab_from_xyz (ts_correction_apply (cards, see_grey (L)));

          /* Two cards cannot tell a curve from a power. */
          assert_near (ts_delta_e_2000 (lab, (TsLab){ L, 0, 0 }), 0.0, n == 2 ? 5.0 : 1.2);
        }
    }
}

static void
test_several_refused (void **state)
{
  static const double bad[][2][2] = {
    /* L* in the picture, L* that is said */
    { { 20, 20 }, { 90, 20 } }, /* alike */
    { { 20, 90 }, { 90, 20 } }, /* the other way round */
    { { 60, 20 }, { 62, 90 } }, /* no camera is so flat */
    { { 20, 20 }, { 90, 120 } }, { { 20, 20 }, { 90, (double) NAN } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;
      TsNeutral neutral[2];

      for (int k = 0; k < 2; k++)
        neutral[k] = (TsNeutral){ ts_xyz_from_lab ((TsLab){ bad[i][k][0], 0, 0 }), bad[i][k][1] };
      assert_null (ts_correction_new_cards (neutral, 2, &error));
      assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
    }
}

/* Half the light and another white balance, made up for by a card in both. */
static void
test_shared (void **state)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TsCorrection) card =
    ts_correction_new_card (ts_xyz_from_lab ((TsLab){ 45, 4, 10 }), 49.5, &error);
  g_autoptr (TsCorrection) same = ts_correction_new_shared (card, NULL, NULL, &error);
  g_autoptr (TsCorrection) shared = NULL;
  TsXyz there = ts_xyz_from_rgb ((TsRgb){ 0.3, 0.2, 0.1 });
  TsXyz here = ts_xyz_from_rgb ((TsRgb){ 0.15, 0.11, 0.06 });
  TsXyz paint_there = ts_xyz_from_rgb ((TsRgb){ 0.1, 0.3, 0.4 });
  TsXyz paint_here = ts_xyz_from_rgb ((TsRgb){ 0.05, 0.3 * 0.55, 0.4 * 0.6 });
  TsXyz none = { 0.0, 0.0, 0.0 };
  TsXyz one, other;

  assert_false (ts_correction_get_shared (card));
  assert_true (ts_correction_get_shared (same));
  one = ts_correction_apply (card, paint_there);
  other = ts_correction_apply (same, paint_there);
  assert_memory_equal (&one, &other, sizeof one);

  shared = ts_correction_new_shared (card, &there, &here, &error);
  assert_no_error (error);
  other = ts_correction_apply (shared, paint_here);
  assert_near (one.X, other.X, 1e-12);
  assert_near (one.Y, other.Y, 1e-12);
  assert_near (one.Z, other.Z, 1e-12);

  assert_null (ts_correction_new_shared (card, &there, &none, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE));
}

/* A picture of many greys in a light of known colour; then all of one strong colour. */
static void
test_guess (void **state)
{
  static const struct
  {
    TsRgb light;
    TsCast cast;
  } lights[] = {
    { { 1.0, 1.0, 1.0 }, TS_CAST_NONE },      { { 1.0, 0.75, 0.45 }, TS_CAST_WARM },
    { { 0.6, 0.8, 1.0 }, TS_CAST_COOL },      { { 0.8, 1.0, 0.75 }, TS_CAST_GREENISH },
    { { 1.0, 0.75, 0.95 }, TS_CAST_PINKISH },
  };
  g_autoptr (TsProfile) profile = ts_profile_new_assumed (TS_PIXEL_RGB8);

  for (guint i = 0; i < G_N_ELEMENTS (lights); i++)
    {
      const TsRgb light = lights[i].light;
      guint8 *pixels = g_malloc (3 * 64 * 64);
      g_autoptr (GBytes) bytes = g_bytes_new_take (pixels, 3 * 64 * 64);
      g_autoptr (GError) error = NULL;
      g_autoptr (TsImage) image = NULL;
      g_autoptr (TsCorrection) correction = NULL;
      TsLightGuess guess;
      TsLab grey;

      for (guint k = 0; k < 64 * 64; k++)
        {
          double Y = 0.02 + 0.9 * (k * 37 % 100) / 100.0;

          pixels[3 * k] = (guint8) (255.0 * ts_srgb_encode (light.r * Y) + 0.5);
          pixels[3 * k + 1] = (guint8) (255.0 * ts_srgb_encode (light.g * Y) + 0.5);
          pixels[3 * k + 2] = (guint8) (255.0 * ts_srgb_encode (light.b * Y) + 0.5);
        }
      image = ts_image_new_from_pixels (bytes, 64, 64, TS_PIXEL_RGB8, profile);
      assert_true (ts_light_guess (image, &guess, &error));
      assert_int_equal (guess.cast, lights[i].cast);
      assert_non_null (strstr (ts_light_guess_words (&guess), "guess"));
      correction = ts_correction_new_guess (guess.light);
      assert_int_equal (ts_correction_get_kind (correction), TS_CORRECTION_GUESS);
      grey = ts_lab_from_xyz (ts_correction_apply (
        correction, ts_xyz_from_rgb ((TsRgb){ 0.3 * light.r, 0.3 * light.g, 0.3 * light.b })));
      assert_near (hypot (grey.a, grey.b), 0.0, 0.6);
    }
}

static void
test_guess_refused (void **state)
{
  g_autoptr (TsProfile) profile = ts_profile_new_assumed (TS_PIXEL_RGB8);
  g_autoptr (GBytes) bytes = g_bytes_new_take (g_malloc0 (3 * 64 * 64), 3 * 64 * 64);
  g_autoptr (TsImage) image = ts_image_new_from_pixels (bytes, 64, 64, TS_PIXEL_RGB8, profile);
  g_autoptr (GError) error = NULL;
  TsLightGuess guess;

  assert_false (ts_light_guess (image, &guess, &error));
  assert_true (g_error_matches (error, TS_ERROR, TS_ERROR_TOO_FEW));
}

/* No steps, always rising, beyond black and white too, and back to a straight line in the dark. */
static void
test_tone (void **state)
{
  TsTone tone = ts_tone_straight ();
  double last = -1.0;

  for (double x = -0.5; x < 3.0; x += 0.01)
    assert_near (ts_tone_apply (&tone, x), x, 1e-12);

  tone = (TsTone){ .gain = 0.9, .bend = { -1.2, -0.2, 0.8 }, .offset = 0.002 };
  assert_true (ts_tone_rises (&tone));
  assert_near (ts_tone_apply (&tone, 1.0), 0.9 * 0.998, 1e-12);
  assert_near (ts_tone_apply (&tone, 0.0), 0.9 * -0.002, 1e-12);
  for (double x = -0.1; x < 4.0; x += 0.0005)
    {
      double y = ts_tone_apply (&tone, x);

      assert_true (y > last && (last < -0.9 || y - last < 0.01));
      last = y;
    }
  tone.bend[0] = -9.0;
  assert_false (ts_tone_rises (&tone));
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_none),
    cmocka_unit_test (test_card),
    cmocka_unit_test (test_card_refused),
    cmocka_unit_test (test_several_cards),
    cmocka_unit_test (test_several_refused),
    cmocka_unit_test (test_shared),
    cmocka_unit_test (test_guess),
    cmocka_unit_test (test_guess_refused),
    cmocka_unit_test (test_tone),
  };

  return cmocka_run_group_tests_name ("correction", tests, NULL, NULL);
}
