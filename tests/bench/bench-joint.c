/* bench-joint.c: recipes chosen together against recipes chosen one by one
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * bench-joint [STAIRS]: a table of paints, changes and colour over that many random stairs (200) of
 * nine steps from 60 invented paints, 3 in a mix, 8 parts.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "invented-paints.h"
#include "palette/ts-joint.h"

#define N_STEPS 9
#define N_PAINTS 60

typedef struct
{
  double paints, changes, delta_e, nominal, seconds, most_seconds, gap;
  guint n, n_proven;
} Sums;

static double
seconds (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

/* From a light colour to a dark one, as a stair goes. */
static void
make_targets (const InventedPaints *paints, GRand *rand, TsLab *targets)
{
  TsLab middle = invented_target (paints, rand, 0.5);
  double chroma = g_rand_double_range (rand, 0.5, 0.9);

  for (guint i = 0; i < N_STEPS; i++)
    {
      double t = (double) i / (N_STEPS - 1);
      double fade = 1.0 - (1.0 - chroma) * fabs (2.0 * t - 1.0);

      targets[i] = (TsLab){ 88.0 - 66.0 * t, middle.a * fade + 4.0 * (0.5 - t),
                            middle.b * fade + 8.0 * (0.5 - t) };
    }
}

static void
add (Sums *sums, const TsJointPlan *plan, const TsLab *targets, const TsPaintSet *set, double took)
{
  sums->paints += plan->n_paints;
  sums->changes += plan->n_changes;
  sums->delta_e += plan->delta_e / N_STEPS;
  for (guint i = 0; i < N_STEPS; i++)
    {
      TsRecipe recipe = *ts_joint_plan_get_recipe (plan, i);

      ts_recipe_compare (set, &recipe, targets[i]);
      sums->nominal += recipe.delta_e / N_STEPS;
    }
  sums->seconds += took;
  sums->most_seconds = MAX (sums->most_seconds, took);
  sums->gap = MAX (sums->gap, plan->cost - plan->bound);
  sums->n_proven += ts_joint_plan_is_proven (plan) ? 1 : 0;
  sums->n++;
}

static void
tell (const char *what, const Sums *sums)
{
  printf ("%-22s %6.1f %8.1f %10.2f %8.2f %8u of %u %8.3f %8.1f %8.0f\n", what,
          sums->paints / sums->n, sums->changes / sums->n, sums->nominal / sums->n,
          sums->delta_e / sums->n, sums->n_proven, sums->n, sums->gap,
          1e3 * sums->seconds / sums->n, 1e3 * sums->most_seconds);
}

/* The nearest mix of each step, and no other. */
static TsJointPlan *
choose_apart (const TsRecipeSearch *search, const TsLab *targets)
{
  g_autoptr (GArray) steps = ts_joint_steps_new ();
  TsJointWeights weights = ts_together_get_weights (TS_TOGETHER_APART);

  for (guint i = 0; i < N_STEPS; i++)
    {
      g_autoptr (GArray) best = ts_recipe_search_run (search, targets[i], NULL, NULL, NULL, NULL);

      ts_joint_steps_add_fixed (steps, &g_array_index (best, TsRecipe, 0));
    }
  return ts_joint_choose (steps, &weights, NULL, NULL);
}

static void
tell_offers (const GPtrArray *offers)
{
  printf ("one stair, paints in all (expected difference a step):");
  for (guint i = 0; i < offers->len; i++)
    {
      const TsJointPlan *plan = g_ptr_array_index (offers, i);

      printf ("  %u (%.2f%s)", plan->n_paints, plan->delta_e / N_STEPS,
              ts_joint_plan_is_proven (plan) ? "" : "?");
    }
  printf ("\n");
}

static void
run_stair (const InventedPaints *paints, const TsRecipeSearch *search, GRand *rand, Sums *sums,
           double *gathering, gboolean with_offers)
{
  TsLab targets[N_STEPS];
  g_autoptr (TsJointPlan) apart = NULL;
  g_autoptr (GArray) steps = NULL;
  double start;

  make_targets (paints, rand, targets);
  start = seconds ();
  apart = choose_apart (search, targets);
  add (&sums[0], apart, targets, paints->set, seconds () - start);
  start = seconds ();
  steps = ts_joint_gather (search, targets, NULL, N_STEPS, TS_JOINT_WITHIN, NULL, NULL);
  *gathering += seconds () - start;
  for (guint i = TS_TOGETHER_TRUEST; i < TS_N_TOGETHER; i++)
    {
      TsJointWeights weights = ts_together_get_weights ((TsTogether) i);
      g_autoptr (TsJointPlan) plan = NULL;

      start = seconds ();
      plan = ts_joint_choose (steps, &weights, NULL, NULL);
      add (&sums[i], plan, targets, paints->set, seconds () - start);
    }
  if (with_offers)
    {
      g_autoptr (GPtrArray) offers = NULL;

      start = seconds ();
      offers = ts_joint_offer (steps, 0.05, NULL, NULL);
      tell_offers (offers);
      printf ("  %u mixes to choose from in step 5; the offers took %.0f ms\n",
              g_array_index (steps, TsJointStep, 4).recipes->len, 1e3 * (seconds () - start));
    }
}

int
main (int argc, char **argv)
{
  guint n_stairs = argc > 1 ? (guint) atoi (argv[1]) : 200;
  InventedPaints *paints = invented_paints_new (N_PAINTS, 3);
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  g_autoptr (TsRecipeSearch) search = NULL;
  Sums sums[TS_N_TOGETHER];
  TsSearchLimits limits;
  double gathering = 0.0;

  memset (sums, 0, sizeof sums);
  ts_search_limits_init (&limits);
  search = ts_recipe_search_new (paints->set, &limits, NULL, NULL);
  for (guint i = 0; i < n_stairs; i++)
    run_stair (paints, search, rand, sums, &gathering, i < 3);
  printf ("%u stairs of %d steps, %d paints, 3 in a mix, 8 parts; means a stair\n", n_stairs,
          N_STEPS, N_PAINTS);
  printf ("                       paints  changes  dE nominal expected      proven      gap"
          "  ms mean  ms most\n");
  tell ("each step alone", &sums[TS_TOGETHER_APART]);
  tell ("together, truest", &sums[TS_TOGETHER_TRUEST]);
  tell ("together, between", &sums[TS_TOGETHER_BETWEEN]);
  tell ("together, fewest", &sums[TS_TOGETHER_FEWEST]);
  printf ("gathering the mixes to choose from: %.0f ms a stair\n", 1e3 * gathering / n_stairs);
  invented_paints_free (paints);
  return 0;
}
