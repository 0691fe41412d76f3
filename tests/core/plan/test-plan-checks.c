/* test-plan-checks.c: where the light is, what touches, other lights and other eyes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "colour/ts-difference.h"
#include "plan/ts-surface-curve.h"
#include "plan/ts-surface-fall.h"
#include "plan/ts-surface-under.h"
#include "plan/ts-touching.h"

/* A surface of one hue that falls evenly between two L*. */
static TsSurface *
make_surface (const char *name, TsPoint lit, TsPoint shadow, TsLab light, TsLab dark)
{
  const TsPoint line[] = { lit, shadow };
  TsSurface *surface = ts_surface_new (name);
  TsRun *run = ts_run_new (0, line, 2, 2.0);

  for (guint i = 0; i < 15; i++)
    {
      double x = i / 14.0;
      TsSpot spot = { .position = x,
                      .lab = { light.L + x * (dark.L - light.L), light.a + x * (dark.a - light.a),
                               light.b + x * (dark.b - light.b) },
                      .radius = 2.0,
                      .standard_error = 0.3 };

      g_array_append_val (run->spots, spot);
    }
  g_ptr_array_add (surface->runs, run);
  return surface;
}

static void
add (TsPlan *plan, TsSurface *surface)
{
  g_ptr_array_add (plan->surfaces, surface);
}

/* Two lit from the upper left, one from the right. */
static TsPlan *
make_plan (void)
{
  TsPlan *plan = ts_plan_new ();

  g_ptr_array_add (plan->pictures, ts_picture_new ("/a.png", TS_ROLE_REFERENCE));
  add (plan, make_surface ("coat", (TsPoint){ 10, 10 }, (TsPoint){ 90, 60 }, (TsLab){ 78, 5, 30 },
                           (TsLab){ 22, 3, 12 }));
  add (plan, make_surface ("skin", (TsPoint){ 200, 10 }, (TsPoint){ 200, 80 },
                           (TsLab){ 80, 18, 20 }, (TsLab){ 30, 15, 15 }));
  add (plan, make_surface ("boots", (TsPoint){ 300, 10 }, (TsPoint){ 210, 10 }, (TsLab){ 40, 2, 3 },
                           (TsLab){ 10, 1, 0 }));
  return plan;
}

static void
test_fall (void **state)
{
  const TsPoint down = { 0, 1 };

  assert_int_equal (ts_check_fall ((TsPoint){ 0.9, 0.5 }, down), TS_FALL_AWAY);
  assert_int_equal (ts_check_fall ((TsPoint){ 1.0, 0.1 }, down), TS_FALL_ACROSS);
  assert_int_equal (ts_check_fall ((TsPoint){ -1.0, -0.1 }, down), TS_FALL_ACROSS);
  assert_int_equal (ts_check_fall ((TsPoint){ 0.9, -0.5 }, down), TS_FALL_AGAINST);
  assert_int_equal (ts_check_fall ((TsPoint){ 0, 0 }, down), TS_FALL_UNKNOWN);
  assert_int_equal (ts_check_fall (down, (TsPoint){ 0, 0 }), TS_FALL_UNKNOWN);
}

static void
test_lit_from_elsewhere (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  TsPicture *picture = ts_plan_get_picture (plan, 0);

  /* Without an arrow the others tell, where there are two of them at least. */
  assert_int_not_equal (ts_surface_get_fall (plan, 0), TS_FALL_AGAINST);
  assert_int_equal (ts_surface_get_fall (plan, 2), TS_FALL_AGAINST);
  assert_int_equal (ts_run_get_fall (plan, ts_surface_get_run (ts_plan_get_surface (plan, 2), 0)),
                    TS_FALL_UNKNOWN);
  picture->has_light = TRUE;
  picture->light_from = (TsPoint){ 300, 20 };
  picture->light_to = (TsPoint){ 250, 25 };
  assert_int_equal (ts_surface_get_fall (plan, 2), TS_FALL_AWAY);
  assert_int_equal (ts_surface_get_fall (plan, 1), TS_FALL_ACROSS);
  assert_int_equal (ts_surface_get_fall (plan, 0), TS_FALL_AGAINST);
  assert_int_equal (ts_run_get_fall (plan, ts_surface_get_run (ts_plan_get_surface (plan, 0), 0)),
                    TS_FALL_AGAINST);
  ts_plan_get_surface (plan, 0)->polished = TRUE;
  assert_int_equal (ts_surface_get_fall (plan, 0), TS_FALL_UNKNOWN);
  picture->has_light = FALSE;
  assert_int_equal (ts_surface_get_fall (plan, 2), TS_FALL_UNKNOWN);
}

static void
set_outline (TsSurface *surface, double x, double y, double side)
{
  const TsPoint corners[] = { { x, y }, { x + side, y }, { x + side, y + side }, { x, y + side } };

  ts_outline_free (surface->outline);
  surface->outline = ts_outline_new (0, corners, 4);
}

static GPtrArray *
make_results (const TsPlan *plan)
{
  GPtrArray *results = g_ptr_array_new_with_free_func ((GDestroyNotify) ts_surface_result_unref);

  for (guint i = 0; i < plan->surfaces->len; i++)
    g_ptr_array_add (results, ts_surface_result_new (plan, i, NULL, NULL));
  return results;
}

static void
test_touching (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autoptr (GPtrArray) results = make_results (plan);
  g_autoptr (GArray) none = ts_plan_check_touching (plan, results);
  g_autoptr (GArray) found = NULL, said = NULL;
  const TsTouching *pair;

  assert_int_equal (none->len, 0);
  set_outline (ts_plan_get_surface (plan, 0), 0, 0, 100);
  set_outline (ts_plan_get_surface (plan, 1), 104, 20, 80); /* 4 pixels off: drawn loosely */
  set_outline (ts_plan_get_surface (plan, 2), 300, 0, 60);
  found = ts_plan_check_touching (plan, results);
  assert_int_equal (found->len, 1);
  pair = &g_array_index (found, TsTouching, 0);
  assert_true (pair->one == 0 && pair->other == 1 && !pair->said);
  /* Bases halfway: skin at 55 over coat at 50, whatever their order. */
  assert_near (pair->contrast.delta_L, 5.0, 1.0);
  assert_true (pair->contrast.verdict != TS_VERDICT_TOO_WIDE);
  ts_plan_set_touch (plan, 0, 1, 0);
  ts_plan_set_touch (plan, 1, 2, 1);
  said = ts_plan_check_touching (plan, results);
  assert_int_equal (said->len, 1);
  pair = &g_array_index (said, TsTouching, 0);
  assert_true (pair->one == 1 && pair->other == 2 && pair->said);
  /* Far apart reads: surfaces need not blend. */
  assert_near (pair->contrast.delta_L, 30.0, 1.5);
  assert_int_equal (pair->contrast.verdict, TS_VERDICT_READS);
}

static void
test_one_within_the_other (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();

  set_outline (ts_plan_get_surface (plan, 0), 0, 0, 1000);
  set_outline (ts_plan_get_surface (plan, 1), 400, 400, 50);
  assert_true (ts_surfaces_meet (ts_plan_get_surface (plan, 0), ts_plan_get_surface (plan, 1)));
  ts_plan_get_surface (plan, 1)->outline->picture = 1;
  assert_false (ts_surfaces_meet (ts_plan_get_surface (plan, 0), ts_plan_get_surface (plan, 1)));
}

/* Greys of even reflectance look the same under every light and to every eye. */
static void
test_greys_under (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autoptr (TsSurfaceResult) grey = NULL;

  g_ptr_array_set_size (plan->surfaces, 0);
  add (plan, make_surface ("grey", (TsPoint){ 0, 0 }, (TsPoint){ 9, 9 }, (TsLab){ 80, 0, 0 },
                           (TsLab){ 20, 0, 0 }));
  grey = ts_surface_result_new (plan, 0, NULL, NULL);
  for (TsUnder under = TS_UNDER_LED; under < TS_N_UNDERS; under++)
    {
      for (guint i = 0; i + 1 < ts_surface_result_get_n_steps (grey); i++)
        {
          TsContrast usual = ts_surface_result_get_contrast (grey, i);
          TsContrast there = ts_surface_result_get_contrast_under (grey, i, under);

          assert_near (there.delta_L, usual.delta_L, 0.05);
          assert_int_equal (there.verdict, usual.verdict);
        }
      assert_int_equal (ts_surface_result_count_lost (grey, under), 0);
    }
}

/* From an orange to a red that is a little darker: without red cones, red is darker still (Vienot
 * 1999), and the tungsten lamp lightens both. A step that red alone makes is lost to some eye. */
static void
test_reds_under (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autoptr (TsSurfaceResult) red = NULL;
  double usual, protan;

  g_ptr_array_set_size (plan->surfaces, 0);
  add (plan, make_surface ("red", (TsPoint){ 0, 0 }, (TsPoint){ 9, 9 }, (TsLab){ 60, 10, 40 },
                           (TsLab){ 40, 60, 40 }));
  ts_plan_get_surface (plan, 0)->stair.n_steps = 5;
  red = ts_surface_result_new (plan, 0, NULL, NULL);
  usual = ts_surface_result_get_contrast (red, 3).delta_L;
  protan = ts_surface_result_get_contrast_under (red, 3, TS_UNDER_PROTAN).delta_L;
  assert_true (protan > usual);
  assert_true (ts_surface_result_get_colour_under (red, 4, TS_UNDER_A).L >
               ts_surface_result_get_colour (red, 4).L + 2.0);
}

static guint
fewest (TsSurface *surface, const TsContrastSettings *settings)
{
  g_autoptr (TsCurve) curve = ts_surface_result_fit_curve (surface, NULL, NULL);

  return ts_surface_get_fewest_steps (surface, curve, settings);
}

/* 56 L* in steps of 14 at most are four of them: five tones. */
static void
test_fewest (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  TsSurface *coat = ts_plan_get_surface (plan, 0);
  TsContrastSettings settings = plan->contrast;

  coat->stair.has_range = TRUE;
  coat->stair.range_light = 77.0;
  coat->stair.range_dark = 22.0;
  assert_int_equal (fewest (coat, &settings), 5);
  settings.most_step = 8.0;
  assert_int_equal (fewest (coat, &settings), 8);
  /* No number does: 55 L* in at most 14 steps of less than 3. */
  settings.most_step = 3.0;
  settings.least_step = 1.0;
  assert_int_equal (fewest (coat, &settings), 2);
}

/* Common practice, no source: a larger figure is looked at from farther off, and painted in wider
 * bands; a bust of 75 mm as ever. */
static void
test_figure_scale (void **state)
{
  TsContrastSettings settings, usual;
  double before = 0.0;

  ts_contrast_settings_init (&settings);
  ts_contrast_settings_init (&usual);
  ts_contrast_settings_suit (&settings, 75.0);
  assert_near (settings.distance, usual.distance, 0.0);
  assert_near (settings.band, usual.band, 1e-9);
  for (double height = 20.0; height <= 300.0; height += 20.0)
    {
      ts_contrast_settings_suit (&settings, height);
      assert_true (settings.distance > before);
      before = settings.distance;
    }
  ts_contrast_settings_suit (&settings, 28.0);
  assert_near (settings.band, 0.7, 1e-9);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_fall),        cmocka_unit_test (test_lit_from_elsewhere),
    cmocka_unit_test (test_touching),    cmocka_unit_test (test_one_within_the_other),
    cmocka_unit_test (test_greys_under), cmocka_unit_test (test_reds_under),
    cmocka_unit_test (test_fewest),      cmocka_unit_test (test_figure_scale),
  };

  return cmocka_run_group_tests_name ("plan/checks", tests, NULL, NULL);
}
