/* test-contrast.c: verdicts on neighbours, and on the finished figure
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "checks/ts-check-finished.h"
#include "colour/ts-difference.h"

typedef struct
{
  const char *name;
  double lit, shadow, error;
  TsVerdict verdict;
} Verdict;

/* Limits of 4 and 14 L*: common practice, no source. */
static const Verdict verdicts[] = {
  { "equal", 50, 50, 0, TS_VERDICT_TOO_CLOSE },
  { "just too close", 50, 46.01, 0, TS_VERDICT_TOO_CLOSE },
  { "least that reads", 50, 46, 0, TS_VERDICT_READS },
  { "least, with an error", 50, 46, 0.5, TS_VERDICT_MAY_READ },
  { "reads at the edge", 50, 43, 3, TS_VERDICT_READS },
  { "just not at the edge", 50, 43, 3.01, TS_VERDICT_MAY_READ },
  { "widest that blends", 60, 46, 0, TS_VERDICT_READS },
  { "too wide", 60, 45.9, 0, TS_VERDICT_TOO_WIDE },
  { "too wide whatever the error", 60, 45, 12, TS_VERDICT_TOO_WIDE },
  { "rising", 46, 56, 0, TS_VERDICT_TOO_CLOSE },
  { "black on black", 0, 0, 0, TS_VERDICT_TOO_CLOSE },
};

static void
test_verdicts (void **state)
{
  TsContrastSettings settings;

  ts_contrast_settings_init (&settings);
  for (guint i = 0; i < G_N_ELEMENTS (verdicts); i++)
    {
      const Verdict *v = &verdicts[i];
      TsContrast got = ts_contrast_check ((TsLab){ v->lit, 3, 4 }, (TsLab){ v->shadow, 1, -2 },
                                          v->error, &settings);

      if (got.verdict != v->verdict)
        fail_msg ("%s: %s, wanted %s", v->name, ts_verdict_to_id (got.verdict),
                  ts_verdict_to_id (v->verdict));
      assert_near (got.delta_L, v->lit - v->shadow, 1e-12);
      assert_near (got.delta_e,
                   ts_delta_e_2000 ((TsLab){ v->lit, 3, 4 }, (TsLab){ v->shadow, 1, -2 }), 1e-12);
      assert_near (got.error, v->error, 0.0);
    }
}

/* From far enough away, or on a band narrow enough, no step reads. */
static void
test_distance (void **state)
{
  TsContrastSettings settings;
  TsLab lit = { 50, 0, 0 }, shadow = { 43, 0, 0 };
  double last = G_MAXDOUBLE;

  ts_contrast_settings_init (&settings);
  for (settings.distance = 300; settings.distance < 30000; settings.distance *= 2)
    {
      double now = ts_contrast_check (lit, shadow, 0, &settings).visibility;

      assert_true (now > 0.0 && now < last);
      last = now;
    }
  assert_int_equal (ts_contrast_check (lit, shadow, 0, &settings).verdict, TS_VERDICT_TOO_CLOSE);
  settings.distance = 600;
  assert_int_equal (ts_contrast_check (lit, shadow, 0, &settings).verdict, TS_VERDICT_READS);
  settings.band = 0.05;
  assert_int_equal (ts_contrast_check (lit, shadow, 0, &settings).verdict, TS_VERDICT_TOO_CLOSE);
}

static TsCurve *
make_line (double lit, double shadow)
{
  TsCurveSample samples[15];

  for (guint i = 0; i < 15; i++)
    samples[i] = (TsCurveSample){ i / 14.0, { lit + (shadow - lit) * i / 14.0, 5, 5 }, 0.2 };
  return ts_curve_fit (samples, 15, TS_CURVE_RULE_SURFACE, NULL);
}

static void
test_finished (void **state)
{
  g_autoptr (TsCurve) photo = make_line (75.0, 25.0);
  g_autoptr (TsCurve) flat = make_line (55.0, 40.0);
  g_autoptr (TsStair) stair = NULL;
  TsStairSettings settings;
  TsContrastSettings contrast;
  TsFinished result;

  ts_stair_settings_init (&settings);
  ts_contrast_settings_init (&contrast);
  settings.n_steps = 6;
  stair = ts_stair_new (photo, &settings, NULL);

  ts_finished_check (stair, photo, 1.0, &contrast, &result);
  assert_int_equal (result.n_steps, 6);
  for (guint i = 0; i < 6; i++)
    assert_int_equal (result.step[i].verdict, TS_FINISH_AS_PLANNED);
  for (guint i = 0; i < 5; i++)
    assert_false (result.merged[i]);
  assert_near (result.range_achieved, result.range_planned, 1e-9);

  ts_finished_check (stair, flat, 1.0, &contrast, &result);
  assert_int_equal (result.step[0].verdict, TS_FINISH_TOO_DARK);
  assert_int_equal (result.step[5].verdict, TS_FINISH_TOO_LIGHT);
  for (guint i = 0; i < 5; i++)
    assert_true (result.merged[i]);
  assert_near (result.range_planned, 50.0, 0.5);
  assert_near (result.range_achieved, 15.0, 0.5);
  assert_near (result.step[0].delta_L, -20.0, 0.5);
  assert_true (result.error >= 1.0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_verdicts),
    cmocka_unit_test (test_distance),
    cmocka_unit_test (test_finished),
  };

  return cmocka_run_group_tests_name ("checks/contrast", tests, NULL, NULL);
}
