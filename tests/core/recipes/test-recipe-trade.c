/* test-recipe-trade.c: the demo's paints mixed as painters know them to mix
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Facts of the trade: common practice, no source.
 */
#include "colour/ts-colour-convert.h"
#include "recipes/ts-recipe.h"
#include "ts-test.h"

static int
setup (void **state)
{
  g_autofree char *path = ts_test_source ("data/demo/lighthouse-paints.csv");
  g_autoptr (GError) error = NULL;

  *state = ts_paint_set_load (path, &error);
  assert_no_error (error);
  return 0;
}

static int
teardown (void **state)
{
  ts_paint_set_unref (*state);
  return 0;
}

static TsLab
mix (TsPaintSet *set, const char *text)
{
  g_autoptr (GError) error = NULL;
  TsRecipe recipe;

  if (!ts_recipe_parse (set, text, &recipe, &error))
    fail_msg ("%s", error->message);
  return recipe.lab;
}

static void
test_black_and_blue_stay_near_black (void **state)
{
  TsLab black = mix (*state, "Lamp Black");
  TsLch both = ts_lch_from_lab (mix (*state, "2 Lamp Black + 1 Night Blue"));

  assert_true (both.L < black.L + 3.0);
  assert_true (both.C < 6.0);
}

static void
test_blue_and_turquoise_lie_between (void **state)
{
  TsLab deep = mix (*state, "Deep Sea Blue");
  TsLab light = mix (*state, "Shallow Turquoise");
  TsLab both = mix (*state, "1 Deep Sea Blue + 1 Shallow Turquoise");

  assert_true (both.L > deep.L && both.L < light.L);
  assert_true (both.a < deep.a && both.a > light.a);
}

static void
test_yellow_and_white_lighten_and_turn_to_green (void **state)
{
  TsLch blue = ts_lch_from_lab (mix (*state, "4 Strong Blue + 1 Plain White"));
  TsLch turned = ts_lch_from_lab (mix (*state, "4 Strong Blue + 4 Harbour Yellow + 3 Plain White"));

  assert_true (turned.L > blue.L);
  /* From blue, near 270 degrees, down towards green, near 150. */
  assert_true (turned.h < blue.h - 15.0 && turned.h > 90.0);
}

static void
test_black_and_violet_darken (void **state)
{
  TsLab red = mix (*state, "4 Signal Red");
  TsLab darker = mix (*state, "4 Signal Red + 1 Lamp Black + 1 Dark Violet");

  assert_true (darker.L < red.L - 5.0);
}

static void
test_white_lightens_every_paint (void **state)
{
  TsPaintSet *set = *state;
  TsLab white = mix (set, "Plain White");

  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, i);
      g_autofree char *text = g_strdup_printf ("1 %s + 2 Plain White", ts_paint_get_name (paint));

      if (ts_paint_get_masstone (paint).L < white.L - 10.0)
        assert_true (mix (set, text).L > ts_paint_get_masstone (paint).L);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_black_and_blue_stay_near_black),
    cmocka_unit_test (test_blue_and_turquoise_lie_between),
    cmocka_unit_test (test_yellow_and_white_lighten_and_turn_to_green),
    cmocka_unit_test (test_black_and_violet_darken),
    cmocka_unit_test (test_white_lightens_every_paint),
  };

  return cmocka_run_group_tests_name ("recipes/trade", tests, setup, teardown);
}
