/* test-plan-defaults.c: what the painter wants a new plan to start with
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "plan/ts-plan-defaults.h"

static void
test_nothing_said (void **state)
{
  g_autoptr (TsPlan) usual = ts_plan_new (), plan = ts_plan_new ();
  const TsPlanDefaults nothing = { 0 };

  ts_plan_start_with (plan, &nothing);
  assert_int_equal (plan->mix.max_paints, usual->mix.max_paints);
  assert_int_equal (plan->mix.max_parts, usual->mix.max_parts);
  assert_near (plan->figure_height, usual->figure_height, 1e-12);
  assert_near (plan->contrast.distance, usual->contrast.distance, 1e-12);
  assert_near (plan->contrast.band, usual->contrast.band, 1e-12);
}

/* A figure half as high has steps half as wide, and is looked at from where the painter says. */
static void
test_all_said (void **state)
{
  g_autoptr (TsPlan) usual = ts_plan_new (), plan = ts_plan_new ();
  const TsPlanDefaults said = {
    .max_paints = 2, .max_parts = 5, .distance = 450.0, .figure_height = 0.5 * usual->figure_height
  };

  ts_plan_start_with (plan, &said);
  assert_int_equal (plan->mix.max_paints, 2);
  assert_int_equal (plan->mix.max_parts, 5);
  assert_near (plan->figure_height, 0.5 * usual->figure_height, 1e-12);
  assert_near (plan->contrast.distance, 450.0, 1e-12);
  assert_near (plan->contrast.band, 0.5 * usual->contrast.band, 0.051); /* to 0.1 mm */
}

static void
test_held (void **state)
{
  g_autoptr (TsPlan) plan = ts_plan_new ();
  const TsPlanDefaults wild = { .max_paints = 900, .max_parts = 900 };

  ts_plan_start_with (plan, &wild);
  assert_int_equal (plan->mix.max_paints, 4);
  assert_int_equal (plan->mix.max_parts, 16);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_nothing_said),
    cmocka_unit_test (test_all_said),
    cmocka_unit_test (test_held),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
