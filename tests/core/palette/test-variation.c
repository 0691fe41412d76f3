/* test-variation.c: other mixes from those that are there
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "invented-paints.h"
#include "palette/ts-variation.h"
#include "ts-test.h"

#include <string.h>

#define FEW 7

static TsRecipeSearch *
search_with (TsPaintSet *set, const guint *allowed, guint n)
{
  TsSearchLimits limits;

  ts_search_limits_init (&limits);
  limits.max_parts = 6;
  limits.allowed = allowed;
  limits.n_allowed = n;
  return ts_recipe_search_new (set, &limits, NULL, NULL);
}

static void
test_adding (void **state)
{
  InventedPaints *paints = invented_paints_new (9, 4);
  TsRecipe recipe = { .n_paints = 2, .paint = { 2, 3 }, .parts = { 3, 1 } };
  TsRecipe more, other;

  ts_recipe_predict (paints->set, &recipe);
  assert_true (ts_variation_add (paints->set, &recipe, 3, 2, &more));
  assert_int_equal (more.n_paints, 2);
  assert_int_equal (more.parts[0] + more.parts[1], 2);
  assert_true (ts_variation_add (paints->set, &recipe, 0, 1, &other));
  assert_int_equal (other.n_paints, 3);
  /* Paint 0 is white: the mix is lighter. */
  assert_true (other.lab.L > recipe.lab.L);
  for (guint i = 0; i < TS_RECIPE_MAX_PAINTS; i++)
    recipe.paint[i] = i, recipe.parts[i] = 1;
  recipe.n_paints = TS_RECIPE_MAX_PAINTS;
  assert_false (ts_variation_add (paints->set, &recipe, 8, 1, &other));
  invented_paints_free (paints);
}

static void
test_words (void **state)
{
  g_autofree char *warm = ts_variation_to_text ((TsLab){ 50, 0, 0 }, (TsLab){ 60, 8, 9 });
  g_autofree char *same = ts_variation_to_text ((TsLab){ 50, 0, 0 }, (TsLab){ 50.3, 0, 0.5 });

  assert_string_equal (warm, "lighter, warmer, stronger");
  assert_string_equal (same, "about the same");
}

/* As red as it is less yellow: neither warmer nor cooler. */
static void
test_words_of_hue (void **state)
{
  const struct
  {
    TsLab to;
    const char *words;
  } turns[] = { { { 50, 29, 12 }, "redder" },
                { { 50, 12, 29 }, "yellower" },
                { { 50, 11, 27 }, "greener" },
                { { 50, 27, 11 }, "bluer" } };

  for (guint i = 0; i < G_N_ELEMENTS (turns); i++)
    {
      g_autofree char *words = ts_variation_to_text ((TsLab){ 50, 20, 20 }, turns[i].to);

      assert_non_null (strstr (words, turns[i].words));
    }
}

static void
test_nearest_step (void **state)
{
  const TsLab steps[] = { { 80, 5, 20 }, { 60, 10, 20 }, { 40, 12, 10 } };
  double delta_e;

  assert_int_equal (ts_variation_nearest (steps, 3, (TsLab){ 58, 10, 21 }, &delta_e), 1);
  assert_true (delta_e > 0.5 && delta_e < 3.0);
}

static void
test_replacing (void **state)
{
  InventedPaints *paints = invented_paints_new (20, 6);
  g_autoptr (GArray) replaced = NULL;
  const TsRecipe recipes[] = {
    { .n_paints = 2, .paint = { 2, 0 }, .parts = { 1, 2 } },
    { .n_paints = 2, .paint = { 3, 1 }, .parts = { 1, 2 } },
    { .n_paints = 1, .paint = { 2 }, .parts = { 1 } },
  };
  TsRecipe own[3];
  TsSearchLimits limits;

  memcpy (own, recipes, sizeof own);
  for (guint i = 0; i < 3; i++)
    ts_recipe_predict (paints->set, &own[i]);
  ts_search_limits_init (&limits);
  replaced = ts_variation_replace (paints->set, &limits, own, 3, 2, NULL, NULL);
  assert_int_equal (replaced->len, 2);
  assert_int_equal (g_array_index (replaced, TsReplacement, 0).index, 0);
  assert_int_equal (g_array_index (replaced, TsReplacement, 1).index, 2);
  for (guint i = 0; i < 2; i++)
    {
      const TsReplacement *one = &g_array_index (replaced, TsReplacement, i);

      for (guint j = 0; j < one->after.n_paints; j++)
        assert_int_not_equal (one->after.paint[j], 2);
      assert_true (one->after.delta_e < 20.0);
    }
  invented_paints_free (paints);
}

/* Every choice of bottles, the smallest first. */
static guint
try_all_choices (const InventedPaints *paints, const TsLab *targets, guint n, double within)
{
  guint fewest = FEW + 1;

  for (guint mask = 1; mask < 1u << FEW; mask++)
    {
      guint allowed[FEW], count = 0;
      g_autoptr (TsRecipeSearch) search = NULL;
      gboolean enough = TRUE;

      for (guint i = 0; i < FEW; i++)
        if (mask & (1u << i))
          allowed[count++] = i;
      if (count >= fewest)
        continue;
      search = search_with (paints->set, allowed, count);
      for (guint i = 0; i < n && enough; i++)
        {
          g_autoptr (GArray) best =
            ts_recipe_search_run (search, targets[i], NULL, NULL, NULL, NULL);

          enough = g_array_index (best, TsRecipe, 0).delta_e <= within;
        }
      if (enough)
        fewest = count;
    }
  return fewest;
}

static void
test_smallest_is_smallest (void **state)
{
  InventedPaints *paints = invented_paints_new (FEW, 8);
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  g_autoptr (TsRecipeSearch) search = search_with (paints->set, NULL, 0);
  guint sizes = 0;

  for (guint round = 0; round < 6; round++)
    {
      TsLab targets[4];
      guint n = 1 + round % 4;
      g_autoptr (TsJointPlan) plan = NULL;
      double within = 3.0 + round % 3;

      for (guint i = 0; i < n; i++)
        targets[i] = invented_target (paints, rand, 0.5);
      plan = ts_variation_smallest (search, targets, n, within, NULL, NULL);
      assert_non_null (plan);
      assert_true (ts_joint_plan_is_proven (plan));
      for (guint i = 0; i < n; i++)
        assert_true (ts_joint_plan_get_recipe (plan, i)->delta_e <= within);
      assert_int_equal (plan->n_paints, try_all_choices (paints, targets, n, within));
      sizes |= 1u << plan->n_paints;
    }
  assert_true ((sizes & (sizes - 1)) != 0);
  invented_paints_free (paints);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_adding),       cmocka_unit_test (test_words),
    cmocka_unit_test (test_words_of_hue), cmocka_unit_test (test_nearest_step),
    cmocka_unit_test (test_replacing),    cmocka_unit_test (test_smallest_is_smallest),
  };

  return cmocka_run_group_tests_name ("palette/variation", tests, NULL, NULL);
}
