/* bench-cancel.c: how soon work that is stopped has stopped
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * bench-cancel [TIMES]: stops each kind of work at that many moments (20) and prints the longest
 * time of the working thread's processor from the stop to the answer.
 */
#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "invented-paints.h"
#include "paint/ts-paint-fit.h"
#include "palette/ts-joint.h"
#include "palette/ts-paint-advice.h"
#include "palette/ts-variation.h"

#define N_STEPS 9

typedef struct
{
  InventedPaints *paints;
  TsSearchLimits limits;
  TsRecipeSearch *search;
  GArray *steps;
  TsLab targets[N_STEPS];
} World;

typedef gboolean (*Work) (World *world, GCancellable *cancellable);

static double
seconds_of (clockid_t clock)
{
  struct timespec now;

  clock_gettime (clock, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

static gboolean
build_index (World *world, GCancellable *cancellable)
{
  g_autoptr (TsRecipeSearch) search =
    ts_recipe_search_new (world->paints->set, &world->limits, cancellable, NULL);

  return search != NULL;
}

static gboolean
search_far (World *world, GCancellable *cancellable)
{
  for (guint i = 0; i < N_STEPS; i++)
    {
      TsLab target = { world->targets[i].L, -70.0, 80.0 };
      g_autoptr (GArray) found =
        ts_recipe_search_run (world->search, target, cancellable, NULL, NULL, NULL);

      if (found == NULL)
        return FALSE;
    }
  return TRUE;
}

static gboolean
gather (World *world, GCancellable *cancellable)
{
  g_autoptr (GArray) steps =
    ts_joint_gather (world->search, world->targets, NULL, N_STEPS, 2.0, cancellable, NULL);

  return steps != NULL;
}

static gboolean
choose (World *world, GCancellable *cancellable)
{
  const TsJointWeights weights = { 0.05, 1.2, 5 };
  g_autoptr (TsJointPlan) plan = ts_joint_choose (world->steps, &weights, cancellable, NULL);

  return plan != NULL;
}

static gboolean
advise (World *world, GCancellable *cancellable)
{
  const double nearest[N_STEPS] = { 9, 9, 9, 9, 9, 9, 9, 9, 9 };
  g_autoptr (GArray) advice = ts_paint_advice_find (
    world->paints->set, &world->limits, world->targets, nearest, N_STEPS, cancellable, NULL);

  return advice != NULL;
}

static gboolean
find_smallest (World *world, GCancellable *cancellable)
{
  g_autoptr (TsJointPlan) plan =
    ts_variation_smallest (world->search, world->targets, N_STEPS, 3.0, cancellable, NULL);

  return plan != NULL;
}

/* Sixty paints refined by 300 test mixes of two. */
static gboolean
calibrate (World *world, GCancellable *cancellable)
{
  const TsPaintSet *set = world->paints->set;
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  g_autoptr (GArray) swatches = g_array_new (FALSE, FALSE, sizeof (TsSwatch));
  g_autoptr (TsPaintFit) fit = NULL;

  for (guint i = 0; i < 300; i++)
    {
      guint one = i % 60, other = (one + 1 + (guint) g_rand_int_range (rand, 0, 59)) % 60;
      TsSwatch swatch = { .n_amounts = 2,
                          .amounts = { { one, 1.0 }, { other, 1.0 } },
                          .coats = (double) INFINITY };

      swatch.lab = ts_swatch_predict (set, &swatch, &swatch.reflectance);
      for (guint b = 0; b < TS_BANDS; b++)
        swatch.reflectance.band[b] *= g_rand_double_range (rand, 0.8, 1.0);
      swatch.lab = ts_spectrum_to_lab (&swatch.reflectance, TS_LIGHT_D50);
      g_array_append_val (swatches, swatch);
    }
  fit = ts_paint_fit_new (set, (const TsSwatch *) (const void *) swatches->data, swatches->len,
                          cancellable, NULL, NULL, NULL);
  return fit != NULL;
}

/* What the working thread and the one that stops it share. */
typedef struct
{
  World *world;
  Work work;
  GCancellable *cancellable;
  clockid_t clock;
  gint ready;
  double stopped; /* the worker's clock when it was told to stop */
  double answered;
  gboolean finished;
} Run;

static gpointer
run_thread (gpointer data)
{
  Run *run = data;

  pthread_getcpuclockid (pthread_self (), &run->clock);
  g_atomic_int_set (&run->ready, 1);
  run->finished = run->work (run->world, run->cancellable);
  run->answered = seconds_of (run->clock);
  g_atomic_int_set (&run->ready, 2);
  while (g_atomic_int_get (&run->ready) != 3)
    g_usleep (200);
  return NULL;
}

/* Processor time from the stop to the answer, or -1 where the work was done before. */
static double
stop_after (World *world, Work work, double after)
{
  Run run = { .world = world, .work = work, .cancellable = g_cancellable_new () };
  GThread *thread = g_thread_new ("work", run_thread, &run);
  double took = -1.0;

  while (g_atomic_int_get (&run.ready) == 0)
    g_usleep (50);
  while (g_atomic_int_get (&run.ready) == 1 && seconds_of (run.clock) < after)
    g_usleep (200);
  run.stopped = seconds_of (run.clock);
  g_cancellable_cancel (run.cancellable);
  while (g_atomic_int_get (&run.ready) != 2)
    g_usleep (200);
  if (!run.finished)
    took = MAX (0.0, run.answered - run.stopped);
  g_atomic_int_set (&run.ready, 3);
  g_thread_join (thread);
  g_object_unref (run.cancellable);
  return took;
}

static void
tell (World *world, const char *what, Work work, guint times)
{
  double start = seconds_of (CLOCK_PROCESS_CPUTIME_ID);
  double whole, most = 0.0;
  guint n = 0;

  work (world, NULL);
  whole = seconds_of (CLOCK_PROCESS_CPUTIME_ID) - start;
  for (guint i = 0; i < times; i++)
    {
      double took = stop_after (world, work, whole * (i + 0.5) / times);

      if (took < 0.0)
        continue;
      most = MAX (most, took);
      n++;
    }
  printf ("%-28s takes %6.0f ms; stopped at %2u moments, the longest answer %.1f ms\n", what,
          1e3 * whole, n, 1e3 * most);
  fflush (stdout);
}

int
main (int argc, char **argv)
{
  guint times = argc > 1 ? (guint) atoi (argv[1]) : 20;
  World world = { .paints = invented_paints_new (300, 1) };
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);

  ts_search_limits_init (&world.limits);
  for (guint i = 0; i < N_STEPS; i++)
    world.targets[i] = invented_target (world.paints, rand, 2.0);
  tell (&world, "index, 300 paints", build_index, times);
  world.search = ts_recipe_search_new (world.paints->set, &world.limits, NULL, NULL);
  tell (&world, "colours out of reach", search_far, times);
  tell (&world, "mixes to choose from", gather, times);
  world.steps = ts_joint_gather (world.search, world.targets, NULL, N_STEPS, 1.0, NULL, NULL);
  tell (&world, "recipes chosen together", choose, times);
  tell (&world, "which kind of paint helps", advise, times);
  tell (&world, "fewest paints", find_smallest, times);
  tell (&world, "paints refined by swatches", calibrate, times);
  return 0;
}
