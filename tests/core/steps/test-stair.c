/* test-stair.c: the tones cut from a curve
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "base/ts-error.h"
#include "colour/ts-difference.h"
#include "steps/ts-stair.h"

#define N_SPOTS 21

/* A coat from L* 78 to 18 that turns towards blue in its shadow; with @rise it comes up again after
 * four fifths. */
static TsCurve *
make_coat (double rise)
{
  TsCurveSample samples[N_SPOTS];
  g_autoptr (GError) error = NULL;
  TsCurve *curve;

  for (guint i = 0; i < N_SPOTS; i++)
    {
      double x = i / (N_SPOTS - 1.0);
      double L = 48.0 + 30.0 * cos (G_PI * MIN (x / 0.8, 1.0)) + rise * MAX (x - 0.8, 0.0) / 0.2;

      samples[i] = (TsCurveSample){ x, { L, 5.0 + 4.0 * x, 20.0 - 30.0 * x }, 0.3 };
    }
  curve = ts_curve_fit (samples, N_SPOTS, TS_CURVE_RULE_SURFACE, &error);
  assert_no_error (error);
  return curve;
}

static TsStair *
cut (TsCurve *curve, const TsStairSettings *settings)
{
  g_autoptr (GError) error = NULL;
  TsStair *stair = ts_stair_new (curve, settings, &error);

  assert_no_error (error);
  return stair;
}

static void
test_equal_lightness (void **state)
{
  g_autoptr (TsCurve) curve = make_coat (12.0);
  TsStairSettings settings;

  ts_stair_settings_init (&settings);
  for (guint n = 2; n <= TS_STAIR_MAX_STEPS; n++)
    {
      g_autoptr (TsStair) stair = NULL;
      double top, core, step;

      settings.n_steps = n;
      stair = cut (curve, &settings);
      top = ts_stair_get_step (stair, 0)->photo.L;
      core = ts_stair_get_step (stair, n - 1)->photo.L;
      step = (top - core) / (n - 1);
      assert_near (top, ts_curve_get_lightness (curve, 0.0), 1e-9);
      assert_near (
        core, ts_curve_get_lightness (curve, ts_curve_get_core_shadow (curve, NULL, NULL)), 1e-9);
      assert_true (step > 50.0 / (n - 1));
      for (guint i = 0; i < n; i++)
        {
          const TsStep *at = ts_stair_get_step (stair, i);

          assert_near (at->photo.L, top - i * step, 1e-9);
          assert_near (at->wanted.L, at->photo.L, 1e-9);
          assert_near (at->photo.L, ts_curve_get_lightness (curve, at->position), 1e-12);
        }
    }
}

/* Brass: dark ends, a light, a darker band within it. */
static TsCurve *
make_brass (void)
{
  TsCurveSample samples[41];
  g_autoptr (GError) error = NULL;
  TsCurve *curve;

  for (guint i = 0; i < G_N_ELEMENTS (samples); i++)
    {
      double x = i / 40.0;
      double L = 45.0 - 30.0 * cos (4.0 * G_PI * x) * (1.0 - 0.4 * x);

      samples[i] = (TsCurveSample){ x, { L, 8.0, 30.0 + 0.2 * L }, 0.3 };
    }
  curve = ts_curve_fit (samples, G_N_ELEMENTS (samples), TS_CURVE_RULE_POLISHED, &error);
  assert_no_error (error);
  return curve;
}

/* Tones go from light to dark whatever their places; each knows all of these, and its stretches and
 * those of the others share out the run. */
static void
test_polished (void **state)
{
  static const TsSpacing spacings[] = { TS_SPACING_LIGHTNESS, TS_SPACING_DIFFERENCE };
  g_autoptr (TsCurve) curve = make_brass ();
  TsStairSettings settings;

  for (guint k = 0; k < G_N_ELEMENTS (spacings); k++)
    {
      g_autoptr (TsStair) stair = NULL;
      double covered = 0.0;

      ts_stair_settings_init (&settings);
      settings.n_steps = 6;
      settings.spacing = spacings[k];
      stair = cut (curve, &settings);
      for (guint i = 0; i < 6; i++)
        {
          double places[TS_CURVE_MAX_PLACES], L = ts_stair_get_step (stair, i)->photo.L;
          TsCurveStretch part[TS_CURVE_MAX_STRETCHES];
          guint n_places = ts_stair_find_places (stair, i, places);
          guint n_parts = ts_stair_find_stretches (stair, i, part);

          assert_true (i == 0 || L < ts_stair_get_step (stair, i - 1)->photo.L);
          for (guint j = 0; j < n_places; j++)
            assert_near (ts_curve_get_lightness (curve, places[j]), L, 1e-6);
          for (guint j = 0; j < n_parts; j++)
            covered += part[j].to - part[j].from;
          if (i > 0 && i < 5)
            assert_in_range (n_places, 2, 4);
          if (k == 1 && i > 0 && i < 5)
            assert_near (ts_delta_e_2000 (ts_stair_get_step (stair, i)->wanted,
                                          ts_stair_get_step (stair, i + 1)->wanted),
                         ts_delta_e_2000 (ts_stair_get_step (stair, 0)->wanted,
                                          ts_stair_get_step (stair, 1)->wanted),
                         1e-6);
        }
      assert_near (covered, 1.0, 1e-9);
    }
}

static void
test_equal_difference (void **state)
{
  g_autoptr (TsCurve) curve = make_coat (0.0);
  TsStairSettings settings;

  ts_stair_settings_init (&settings);
  settings.spacing = TS_SPACING_DIFFERENCE;
  settings.has_range = TRUE;
  settings.range_light = 92.0;
  settings.range_dark = 12.0;
  for (guint n = 2; n <= TS_STAIR_MAX_STEPS; n++)
    {
      g_autoptr (TsStair) stair = NULL;
      double first, in_lightness = 0.0;

      settings.n_steps = n;
      stair = cut (curve, &settings);
      first = ts_delta_e_2000 (ts_stair_get_step (stair, 0)->wanted,
                               ts_stair_get_step (stair, 1)->wanted);
      for (guint i = 0; i + 1 < n; i++)
        {
          TsLab lit = ts_stair_get_step (stair, i)->wanted;
          TsLab shadow = ts_stair_get_step (stair, i + 1)->wanted;

          assert_near (ts_delta_e_2000 (lit, shadow), first, 1e-7);
          in_lightness = MAX (in_lightness, fabs (lit.L - shadow.L - 80.0 / (n - 1)));
        }
      /* CIEDE2000 is not L*: the steps are other ones. */
      if (n > 2)
        assert_true (in_lightness > 0.2);
    }
}

static void
test_lift (void **state)
{
  g_autoptr (TsCurve) curve = make_coat (12.0);
  g_autoptr (TsStair) stair = NULL;
  TsStairSettings settings;

  ts_stair_settings_init (&settings);
  settings.n_steps = 9;
  settings.has_range = TRUE;
  settings.range_light = 92.0;
  settings.range_dark = 18.0;
  settings.has_light = settings.has_shadow = TRUE;
  settings.light = (TsLab){ 96.0, -2.0, 30.0 };
  settings.shadow = (TsLab){ 20.0, 10.0, -30.0 };
  settings.light_amount = 0.4;
  settings.shadow_amount = 0.5;
  stair = cut (curve, &settings);
  assert_near (ts_stair_get_step (stair, 0)->wanted.L, 92.0, 1e-9);
  assert_near (ts_stair_get_step (stair, 8)->wanted.L, 18.0, 1e-9);
  for (guint i = 1; i < 9; i++)
    assert_near (ts_stair_get_step (stair, i - 1)->wanted.L -
                   ts_stair_get_step (stair, i)->wanted.L,
                 74.0 / 8, 1e-9);
}

static void
test_light_and_shadow (void **state)
{
  g_autoptr (TsCurve) curve = make_coat (0.0);
  g_autoptr (TsStair) stair = NULL;
  TsStairSettings settings;
  const TsStep *first, *middle, *last;

  ts_stair_settings_init (&settings);
  settings.has_light = settings.has_shadow = TRUE;
  settings.light = (TsLab){ 96.0, -2.0, 30.0 };
  settings.shadow = (TsLab){ 10.0, 10.0, -30.0 };
  settings.light_amount = 0.25;
  settings.shadow_amount = 1.0;
  stair = cut (curve, &settings);
  first = ts_stair_get_step (stair, 0);
  middle = ts_stair_get_step (stair, 3);
  last = ts_stair_get_step (stair, 6);
  assert_near (first->wanted.L, 0.75 * first->photo.L + 0.25 * 96.0, 1e-9);
  assert_near (first->wanted.a, 0.75 * first->photo.a + 0.25 * -2.0, 1e-9);
  assert_near (first->wanted.b, 0.75 * first->photo.b + 0.25 * 30.0, 1e-9);
  assert_near (last->wanted.L, 10.0, 1e-9);
  assert_near (last->wanted.a, 10.0, 1e-9);
  assert_near (last->wanted.b, -30.0, 1e-9);
  assert_near (middle->wanted.a, middle->photo.a, 1e-9);
  assert_near (middle->wanted.b, middle->photo.b, 1e-9);
}

static void
test_by_hand (void **state)
{
  g_autoptr (TsCurve) curve = make_coat (0.0);
  g_autoptr (TsStair) stair = NULL;
  TsStairSettings settings;

  ts_stair_settings_init (&settings);
  settings.spacing = TS_SPACING_BY_HAND;
  settings.n_steps = 4;
  settings.position[1] = 0.3;
  settings.position[2] = 0.5;
  settings.position[3] = 0.7;
  settings.shift[1] = 3.0;
  settings.shift[2] = 50.0;
  stair = cut (curve, &settings);
  for (guint i = 0; i < 4; i++)
    assert_near (ts_stair_get_step (stair, i)->position, settings.position[i], 0.0);
  assert_near (ts_stair_get_step (stair, 1)->wanted.L, ts_stair_get_step (stair, 1)->photo.L + 3.0,
               1e-9);
  assert_near (ts_stair_get_wanted (stair, 0.3).L, ts_stair_get_step (stair, 1)->photo.L, 1e-9);
  /* Stops at its neighbour. */
  assert_near (ts_stair_get_step (stair, 2)->wanted.L, ts_stair_get_step (stair, 1)->wanted.L, 0.0);
  assert_near (ts_stair_get_step (stair, 3)->wanted.L, ts_stair_get_step (stair, 3)->photo.L, 1e-9);
}

static void
test_roles (void **state)
{
  g_autoptr (TsCurve) falling = make_coat (0.0), rising = make_coat (20.0);
  g_autoptr (TsStair) plain = NULL, deep = NULL, named = NULL;
  TsStairSettings settings;

  ts_stair_settings_init (&settings);
  settings.n_steps = 5;
  plain = cut (falling, &settings);
  assert_string_equal (ts_stair_get_role (plain, 0), "highlight");
  assert_null (ts_stair_get_role (plain, 1));
  assert_string_equal (ts_stair_get_role (plain, 2), "base");
  assert_string_equal (ts_stair_get_role (plain, 4), "deepest");
  deep = cut (rising, &settings);
  assert_string_equal (ts_stair_get_role (deep, 4), "core shadow");
  settings.base = 2;
  named = cut (rising, &settings);
  assert_string_equal (ts_stair_get_role (named, 1), "base");
  assert_null (ts_stair_get_role (named, 2));
}

/* An even number of steps has two that are as near to the halftone; the last bits of the curve must
 * not choose between them, or a plan opened again would have another base. */
static void
test_base_of_an_even_number (void **state)
{
  TsStairSettings settings;

  ts_stair_settings_init (&settings);
  for (guint n = 4; n <= 8; n += 2)
    for (int i = 0; i < 8; i++)
      {
        g_autoptr (TsCurve) curve = make_coat (0.0005 * i);
        g_autoptr (TsStair) stair = NULL;

        settings.n_steps = n;
        stair = cut (curve, &settings);
        assert_string_equal (ts_stair_get_role (stair, n / 2 - 1), "base");
      }
}

static void
test_even_surface (void **state)
{
  TsCurveSample sample = { 0.5, { 50.0, 10.0, 10.0 }, 0.5 };
  g_autoptr (TsCurve) curve = ts_curve_fit (&sample, 1, TS_CURVE_RULE_SURFACE, NULL);
  TsStairSettings settings;

  ts_stair_settings_init (&settings);
  settings.has_range = TRUE;
  settings.range_light = 80.0;
  settings.range_dark = 20.0;
  for (TsSpacing spacing = TS_SPACING_LIGHTNESS; spacing <= TS_SPACING_DIFFERENCE; spacing++)
    {
      g_autoptr (TsStair) stair = NULL;

      settings.spacing = spacing;
      stair = cut (curve, &settings);
      assert_near (ts_stair_get_step (stair, 0)->wanted.L, 80.0, 1e-9);
      assert_near (ts_stair_get_step (stair, 3)->wanted.L, 50.0, 2.0);
      assert_near (ts_stair_get_step (stair, 6)->wanted.L, 20.0, 1e-9);
    }
}

typedef struct
{
  const char *name;
  TsStairSettings settings;
} Refusal;

#define PLAIN .n_steps = 5, .spacing = TS_SPACING_LIGHTNESS

static const Refusal refusals[] = {
  { "one step", { .n_steps = 1 } },
  { "too many steps", { .n_steps = TS_STAIR_MAX_STEPS + 1 } },
  { "no number as place",
    { .n_steps = 2, .spacing = TS_SPACING_BY_HAND, .position = { 0.0, NAN } } },
  { "place off the run",
    { .n_steps = 2, .spacing = TS_SPACING_BY_HAND, .position = { 0.0, 1.1 } } },
  { "no number as shift", { .n_steps = 2, .spacing = TS_SPACING_BY_HAND, .shift = { NAN } } },
  { "range upside down", { PLAIN, .has_range = TRUE, .range_light = 20, .range_dark = 80 } },
  { "no number as range", { PLAIN, .has_range = TRUE, .range_light = NAN, .range_dark = 8 } },
  { "range beyond white", { PLAIN, .has_range = TRUE, .range_light = 120, .range_dark = 8 } },
  { "amount over one", { PLAIN, .has_light = TRUE, .light = { 90, 0, 0 }, .light_amount = 1.5 } },
  { "no number as colour", { PLAIN, .has_shadow = TRUE, .shadow = { 9, NAN, 0 } } },
  { "light darker than shadow",
    { PLAIN, .has_light = TRUE, .light = { 2, 0, 0 }, .light_amount = 1 } },
  { "base that is not there", { PLAIN, .base = 6 } },
};

static void
test_refusals (void **state)
{
  g_autoptr (TsCurve) curve = make_coat (0.0);

  for (guint i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TsStair) stair = ts_stair_new (curve, &refusals[i].settings, &error);

      if (stair != NULL || !g_error_matches (error, TS_ERROR, TS_ERROR_BAD_VALUE))
        fail_msg ("%s was not refused", refusals[i].name);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_equal_lightness),
    cmocka_unit_test (test_equal_difference),
    cmocka_unit_test (test_lift),
    cmocka_unit_test (test_light_and_shadow),
    cmocka_unit_test (test_by_hand),
    cmocka_unit_test (test_roles),
    cmocka_unit_test (test_base_of_an_even_number),
    cmocka_unit_test (test_polished),
    cmocka_unit_test (test_even_surface),
    cmocka_unit_test (test_refusals),
  };

  return cmocka_run_group_tests_name ("steps/stair", tests, NULL, NULL);
}
