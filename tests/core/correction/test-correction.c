/* test-correction.c: corrections without a chart
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"
#include "correction/ts-correction-private.h"

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

static void
test_tone (void **state)
{
  TsTone tone;
  double last = -1.0;

  ts_tone_set_straight (&tone, 1.0);
  for (double x = -0.5; x < 3.0; x += 0.01)
    assert_near (ts_tone_apply (&tone, x), x, 1e-12);
  ts_tone_set_straight (&tone, 1.3);
  assert_near (ts_tone_apply (&tone, 0.5), pow (0.5, 1.3), 1e-12);
  assert_near (ts_tone_apply (&tone, 0.0), 0.0, 0.0);

  /* A bent one has no steps and always rises, beyond the ends of its stretch too. */
  tone = (TsTone){ .b = 1.1, .c = 0.1, .d = 0.02, .l = { -4.0, 0.1 }, .slope = { 1.0, 1.1 } };
  for (double x = -0.1; x < 4.0; x += 0.0005)
    {
      double y = ts_tone_apply (&tone, x);

      assert_true (y > last && (last < -0.9 || y - last < 0.01));
      last = y;
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_none),
    cmocka_unit_test (test_card),
    cmocka_unit_test (test_card_refused),
    cmocka_unit_test (test_tone),
  };

  return cmocka_run_group_tests_name ("correction", tests, NULL, NULL);
}
