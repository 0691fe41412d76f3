/* test-joint.c: recipes chosen together
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "invented-paints.h"
#include "palette/ts-joint.h"
#include "ts-test.h"

#define N_STEPS 5
#define TOP 12
#define CASES 60

static TsRecipeSearch *
make_search (const InventedPaints *paints, guint max_paints)
{
  TsSearchLimits limits;
  TsRecipeSearch *search;

  ts_search_limits_init (&limits);
  limits.max_paints = max_paints;
  limits.n_best = TOP;
  search = ts_recipe_search_new (paints->set, &limits, NULL, NULL);
  assert_non_null (search);
  return search;
}

/* A stair between two colours that the paints give. */
static void
make_targets (const InventedPaints *paints, GRand *rand, TsLab *targets, guint n)
{
  TsLab light = invented_target (paints, rand, 1.0), dark = invented_target (paints, rand, 1.0);

  for (guint i = 0; i < n; i++)
    {
      double t = (double) i / (n - 1);

      targets[i] = (TsLab){ (1.0 - t) * light.L + t * dark.L, (1.0 - t) * light.a + t * dark.a,
                            (1.0 - t) * light.b + t * dark.b };
    }
}

/* The nearest mixes of each step and no more. */
static GArray *
take_top (const TsRecipeSearch *search, const TsLab *targets, guint n)
{
  GArray *steps = ts_joint_steps_new ();

  for (guint i = 0; i < n; i++)
    {
      TsJointStep step = { ts_recipe_search_run (search, targets[i], NULL, NULL, NULL, NULL),
                           FALSE };

      assert_int_equal (step.recipes->len, TOP);
      g_array_append_val (steps, step);
    }
  return steps;
}

static guint64
mask_of (const TsRecipe *recipe)
{
  guint64 mask = 0;

  for (guint i = 0; i < recipe->n_paints; i++)
    mask |= G_GUINT64_CONSTANT (1) << recipe->paint[i];
  return mask;
}

/* Every way, one after another. */
static double
try_all (const GArray *steps, const TsJointWeights *weights)
{
  double best = (double) INFINITY;
  guint ways = 1;

  for (guint i = 0; i < steps->len; i++)
    ways *= TOP;
  for (guint way = 0; way < ways; way++)
    {
      guint64 all = 0, before = 0;
      double cost = 0.0;
      guint rest = way;

      for (guint i = 0; i < steps->len; i++, rest /= TOP)
        {
          const TsJointStep *step = &g_array_index (steps, TsJointStep, i);
          const TsRecipe *recipe = &g_array_index (step->recipes, TsRecipe, rest % TOP);
          guint64 mask = mask_of (recipe);

          cost += recipe->delta_e_drop_error;
          if (i > 0 && !step->apart)
            cost += weights->change * __builtin_popcountll (mask ^ before);
          all |= mask;
          before = mask;
        }
      cost += weights->paint * __builtin_popcountll (all);
      if (weights->most_paints == 0 || __builtin_popcountll (all) <= (int) weights->most_paints)
        best = MIN (best, cost);
    }
  return best;
}

static void
test_equals_trying_all (void **state)
{
  static const TsJointWeights weights[] = {
    { 0.02, 0.10, 0 }, { 0.05, 0.40, 0 }, { 0.10, 1.20, 0 }, { 0.0, 3.0, 0 },
    { 0.3, 0.0, 0 },   { 0.05, 0.05, 6 }, { 0.05, 0.40, 5 },
  };
  InventedPaints *paints = invented_paints_new (40, 7);
  g_autoptr (TsRecipeSearch) search = make_search (paints, 3);
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  guint n_none = 0, n_unlike_first = 0;

  for (guint i = 0; i < CASES; i++)
    {
      const TsJointWeights *weigh = &weights[i % G_N_ELEMENTS (weights)];
      TsLab targets[N_STEPS];
      g_autoptr (GArray) steps = NULL;
      g_autoptr (TsJointPlan) plan = NULL;
      double best;

      make_targets (paints, rand, targets, N_STEPS);
      steps = take_top (search, targets, N_STEPS);
      g_array_index (steps, TsJointStep, 3).apart = i % 3 == 0;
      best = try_all (steps, weigh);
      plan = ts_joint_choose (steps, weigh, NULL, NULL);
      if (!(best < (double) INFINITY))
        {
          assert_null (plan);
          n_none++;
          continue;
        }
      assert_non_null (plan);
      assert_near (plan->cost, best, 1e-9);
      assert_true (ts_joint_plan_is_proven (plan));
      for (guint j = 0; j < N_STEPS; j++)
        n_unlike_first +=
          mask_of (ts_joint_plan_get_recipe (plan, j)) !=
              mask_of (&g_array_index (g_array_index (steps, TsJointStep, j).recipes, TsRecipe, 0))
            ? 1
            : 0;
    }
  /* The cases are no idle ones. */
  assert_in_range (n_unlike_first, CASES, CASES * N_STEPS);
  assert_in_range (n_none, 0, CASES / 3);
  invented_paints_free (paints);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_equals_trying_all),
  };

  return cmocka_run_group_tests_name ("palette/joint", tests, NULL, NULL);
}
