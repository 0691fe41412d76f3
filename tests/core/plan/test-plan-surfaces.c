/* test-plan-surfaces.c: what counts surfaces and pictures stays right where they come, go and move
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include <string.h>

#include "plan/ts-plan.h"
#include "plan/ts-surface-result.h"

/* Belt, buckle, boots and coat; the buckle uses the belt's stair. */
static TsPlan *
make_plan (void)
{
  const char *const names[] = { "belt", "buckle", "boots", "coat" };
  const TsPoint line[] = { { 1, 1 }, { 9, 9 } };
  TsPlan *plan = ts_plan_new ();

  g_ptr_array_add (plan->pictures, ts_picture_new ("/a.png", TS_ROLE_REFERENCE));
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      TsSurface *surface = ts_surface_new (names[i]);
      TsRun *run = ts_run_new (0, line, 2, 2.0);

      for (guint j = 0; j < 9; j++)
        {
          TsSpot spot = { .position = j / 8.0,
                          .lab = { 80.0 - 5.0 * j - 3.0 * i, 0, 0 },
                          .radius = 2.0,
                          .standard_error = 0.3 };

          g_array_append_val (run->spots, spot);
        }
      g_ptr_array_add (surface->runs, run);
      g_ptr_array_add (plan->surfaces, surface);
    }
  ts_plan_get_surface (plan, 1)->stair_of = 0;
  g_ptr_array_add (plan->finish, ts_finish_run_new (2, ts_run_new (0, line, 2, 2.0)));
  ts_plan_set_touch (plan, 3, 0, TRUE);
  ts_plan_set_touch (plan, 2, 3, FALSE);
  return plan;
}

static void
test_remove (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();

  ts_plan_remove_surface (plan, 0);
  assert_int_equal (plan->surfaces->len, 3);
  assert_string_equal (ts_plan_get_surface (plan, 0)->name, "buckle");
  assert_int_equal (ts_plan_get_surface (plan, 0)->stair_of, -1);
  assert_int_equal (((TsFinishRun *) g_ptr_array_index (plan->finish, 0))->surface, 1);
  assert_int_equal (plan->touching->len, 1);
  assert_int_equal (ts_plan_get_touch (plan, 1, 2), 0);
}

static void
test_move (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();

  ts_plan_move_surface (plan, 0, 2);
  assert_string_equal (ts_plan_get_surface (plan, 2)->name, "belt");
  assert_string_equal (ts_plan_get_surface (plan, 0)->name, "buckle");
  assert_int_equal (ts_plan_get_surface (plan, 0)->stair_of, 2);
  assert_int_equal (((TsFinishRun *) g_ptr_array_index (plan->finish, 0))->surface, 1);
  assert_int_equal (ts_plan_get_touch (plan, 2, 3), 1);
  assert_int_equal (ts_plan_get_touch (plan, 3, 1), 0);
  assert_int_equal (ts_plan_get_touch (plan, 0, 1), -1);
  ts_plan_move_surface (plan, 2, 0);
  assert_int_equal (ts_plan_get_surface (plan, 1)->stair_of, 0);
  assert_int_equal (ts_plan_get_touch (plan, 0, 3), 1);
}

static void
test_stair_of_another (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autoptr (TsSurfaceResult) belt = ts_surface_result_new (plan, 0, NULL, NULL);
  g_autoptr (TsSurfaceResult) buckle = ts_surface_result_new (plan, 1, NULL, NULL);
  g_autoptr (TsSurfaceResult) own = NULL;

  for (guint i = 0; i < 7; i++)
    assert_near (ts_surface_result_get_colour (buckle, i).L,
                 ts_surface_result_get_colour (belt, i).L, 0.0);
  ts_plan_get_surface (plan, 1)->stair_of = -1;
  own = ts_surface_result_new (plan, 1, NULL, NULL);
  assert_near (ts_surface_result_get_colour (own, 0).L,
               ts_surface_result_get_colour (belt, 0).L - 3.0, 0.5);
  /* A chain of them ends with the first: no circle can arise. */
  ts_plan_get_surface (plan, 0)->stair_of = 2;
  ts_plan_get_surface (plan, 2)->stair_of = 0;
  assert_ptr_equal (ts_plan_get_stair_source (plan, 0), ts_plan_get_surface (plan, 0));
}

/* Its own distance and band go before the plan's. */
static void
test_own_distance (void **state)
{
  g_autoptr (TsPlan) plan = make_plan ();
  g_autoptr (TsSurfaceResult) far = NULL, near = NULL;

  far = ts_surface_result_new (plan, 0, NULL, NULL);
  ts_plan_get_surface (plan, 0)->distance = 200.0;
  ts_plan_get_surface (plan, 0)->band = 4.0;
  near = ts_surface_result_new (plan, 0, NULL, NULL);
  assert_near (ts_surface_result_get_settings (far).distance, 600.0, 0.0);
  assert_near (ts_surface_result_get_settings (near).distance, 200.0, 0.0);
  assert_true (ts_surface_result_get_contrast (near, 0).visibility >
               ts_surface_result_get_contrast (far, 0).visibility);
}

/* An outline alone gives a curve and a stair, and areas that sum to the whole. */
static void
test_outline_alone (void **state)
{
  const TsPoint corners[] = { { 0, 0 }, { 9, 0 }, { 9, 9 } };
  g_autoptr (TsPlan) plan = make_plan ();
  TsSurface *surface = ts_plan_get_surface (plan, 2);
  double sum = 0.0;

  g_ptr_array_set_size (surface->runs, 0);
  assert_false (ts_surface_is_measured (surface));
  surface->outline = ts_outline_new (0, corners, 3);
  for (guint i = 0; i < TS_OUTLINE_TONES; i++)
    {
      TsTone tone = { { 80.0 - i, 10.0, 20.0 }, 0.2 };

      g_array_append_val (surface->outline->tones, tone);
    }
  assert_true (ts_surface_is_measured (surface));
  for (TsSpacing spacing = TS_SPACING_LIGHTNESS; spacing < TS_SPACING_BY_HAND; spacing++)
    {
      g_autoptr (TsSurfaceResult) result = NULL;
      g_autoptr (GError) error = NULL;

      surface->stair.spacing = spacing;
      result = ts_surface_result_new (plan, 2, NULL, &error);
      assert_no_error (error);
      sum = 0.0;
      for (guint i = 0; i < 7; i++)
        {
          double area = ts_surface_result_get_area (result, i);

          sum += area;
          /* The lightness is even over the area: so are steps of equal area. */
          if (spacing == TS_SPACING_AREA)
            assert_near (area, 1.0 / 7.0, 0.02);
        }
      assert_near (sum, 1.0, 1e-9);
      if (spacing == TS_SPACING_AREA)
        assert_near (ts_surface_result_get_colour (result, 3).L, 50.5, 0.7);
    }
}

/* Two references and the finished figure: what lies on the one that goes goes with it, what lies on
 * the next counts one less. */
static void
test_remove_picture (void **state)
{
  const TsPoint corners[] = { { 0, 0 }, { 9, 0 }, { 9, 9 } };
  g_autoptr (TsPlan) plan = make_plan ();
  TsBriefLine *teal = ts_brief_line_new ("teal", (TsLab){ 50, -20, -5 }, 3.0);
  TsBriefLine *grey = ts_brief_line_copy (teal);

  g_ptr_array_add (plan->pictures, ts_picture_new ("/b.png", TS_ROLE_REFERENCE));
  g_ptr_array_add (plan->pictures, ts_picture_new ("/c.png", TS_ROLE_FINISHED));
  ts_surface_get_run (ts_plan_get_surface (plan, 1), 0)->picture = 1;
  ts_plan_get_surface (plan, 0)->outline = ts_outline_new (0, corners, 3);
  ts_plan_get_surface (plan, 1)->outline = ts_outline_new (1, corners, 3);
  ts_plan_get_surface (plan, 2)->finish_outline = ts_outline_new (2, corners, 3);
  ((TsFinishRun *) g_ptr_array_index (plan->finish, 0))->run->picture = 2;
  teal->radius = grey->radius = 4.0;
  grey->picture = 1;
  g_ptr_array_add (plan->brief, teal);
  g_ptr_array_add (plan->brief, grey);
  ts_plan_remove_picture (plan, 0);
  assert_int_equal (plan->pictures->len, 2);
  assert_int_equal (ts_plan_get_surface (plan, 0)->runs->len, 0);
  assert_null (ts_plan_get_surface (plan, 0)->outline);
  assert_int_equal (ts_surface_get_run (ts_plan_get_surface (plan, 1), 0)->picture, 0);
  assert_int_equal (ts_plan_get_surface (plan, 1)->outline->picture, 0);
  assert_int_equal (((TsFinishRun *) g_ptr_array_index (plan->finish, 0))->run->picture, 1);
  assert_int_equal (ts_plan_get_surface (plan, 2)->finish_outline->picture, 1);
  assert_near (teal->radius, 0.0, 0.0);
  assert_near (teal->lab.a, -20.0, 0.0);
  assert_int_equal (grey->picture, 0);
  assert_near (grey->radius, 4.0, 0.0);
  ts_plan_remove_picture (plan, 1);
  assert_int_equal (plan->finish->len, 0);
  assert_null (ts_plan_get_surface (plan, 2)->finish_outline);
  assert_int_equal (ts_plan_get_surface (plan, 1)->runs->len, 1);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_remove),           cmocka_unit_test (test_move),
    cmocka_unit_test (test_stair_of_another), cmocka_unit_test (test_own_distance),
    cmocka_unit_test (test_outline_alone),    cmocka_unit_test (test_remove_picture),
  };

  return cmocka_run_group_tests_name ("plan/surfaces", tests, NULL, NULL);
}
