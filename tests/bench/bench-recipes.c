/* bench-recipes.c: the search against trying every mix: equal outcomes, and how many times faster
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * bench-recipes                     ratios for 120 paints, 3 in a mix, 10 parts
 * bench-recipes --check SETS EACH   differences over SETS invented sets with EACH targets
 *
 * Times are of the processor, so that other work on the machine does not count.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "invented-paints.h"
#include "recipes/ts-recipe-search.h"

#define N_TARGETS 41
#define MOST_BEST 8

static double
seconds (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

static TsRecipeSearch *
make_search (const InventedPaints *paints, guint max_paints, guint max_parts, guint n_best)
{
  TsSearchLimits limits;
  g_autoptr (GError) error = NULL;
  TsRecipeSearch *search;

  ts_search_limits_init (&limits);
  limits.max_paints = max_paints;
  limits.max_parts = max_parts;
  limits.n_best = n_best;
  search = ts_recipe_search_new (paints->set, &limits, NULL, &error);
  if (search == NULL)
    g_error ("%s", error->message);
  return search;
}

static gboolean
is_same (const InventedPaints *paints, const TsRecipe *recipe, const PlainMix *mix)
{
  TsRecipe plain = { .n_paints = mix->n_paints };

  memcpy (plain.paint, mix->paint, sizeof mix->paint);
  memcpy (plain.parts, mix->parts, sizeof mix->parts);
  ts_recipe_predict (paints->set, &plain);
  return fabs (recipe->delta_e - mix->delta_e) <= 1e-9 && recipe->n_paints == plain.n_paints &&
         memcmp (recipe->paint, plain.paint, plain.n_paints * sizeof (guint)) == 0 &&
         memcmp (recipe->parts, plain.parts, plain.n_paints * sizeof (guint)) == 0;
}

/* Differences between the search and trying every mix, for one set. */
static guint
check_set (guint seed, guint each, guint *n_reached)
{
  static const guint sizes[][3] = { { 20, 3, 8 }, { 8, 4, 8 }, { 12, 3, 10 }, { 40, 2, 16 } };
  const guint *size = sizes[seed % G_N_ELEMENTS (sizes)];
  InventedPaints *paints = invented_paints_new (size[0], seed);
  g_autoptr (TsRecipeSearch) search = make_search (paints, size[1], size[2], MOST_BEST);
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  guint n_different = 0;

  for (guint i = 0; i < each; i++)
    {
      TsLab target = invented_target (paints, rand, i % 2 == 0 ? 0.5 : 30.0);
      const double lab[3] = { target.L, target.a, target.b };
      g_autoptr (GArray) found = ts_recipe_search_run (search, target, NULL, NULL, NULL, NULL);
      PlainMix best[MOST_BEST];
      guint n = plain_search (&paints->plain, size[1], size[2], lab, best, MOST_BEST);
      gboolean same = found->len == n;

      for (guint j = 0; j < n && same; j++)
        same = is_same (paints, &g_array_index (found, TsRecipe, j), &best[j]);
      n_different += same ? 0 : 1;
      *n_reached += best[0].delta_e <= 2.0 ? 1 : 0;
    }
  invented_paints_free (paints);
  return n_different;
}

static int
check (guint sets, guint each)
{
  guint n_different = 0, n_reached = 0;

  for (guint seed = 1; seed <= sets; seed++)
    n_different += check_set (seed, each, &n_reached);
  printf ("%u targets over %u sets, %u within reach: %u differences\n", sets * each, sets,
          n_reached, n_different);
  return n_different == 0 ? 0 : 1;
}

static int
compare (const void *one, const void *other)
{
  const double *first = one, *second = other;

  return *first < *second ? -1 : *first > *second;
}

static void
tell (const char *what, double *times, guint n, double plain)
{
  if (n == 0)
    return;
  qsort (times, n, sizeof *times, compare);
  printf ("%-12s %2u targets: median 1/%.0f (%.1f ms), 90 in 100 within 1/%.0f (%.1f ms)\n", what,
          n, plain / times[n / 2], 1e3 * times[n / 2], plain / times[n * 9 / 10],
          1e3 * times[n * 9 / 10]);
}

static int
measure (void)
{
  InventedPaints *paints = invented_paints_new (120, 1);
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  double near[N_TARGETS], far[N_TARGETS];
  guint n_near = 0, n_far = 0;
  double start = seconds ();
  g_autoptr (TsRecipeSearch) search = make_search (paints, 3, 10, 6);
  double build = seconds () - start;
  double plain;
  PlainMix best[6];

  for (guint i = 0; i < N_TARGETS; i++)
    {
      TsLab target = invented_target (paints, rand, i % 2 == 0 ? 0.5 : 45.0);
      g_autoptr (GArray) found = NULL;
      double took;

      start = seconds ();
      found = ts_recipe_search_run (search, target, NULL, NULL, NULL, NULL);
      took = seconds () - start;
      if (g_array_index (found, TsRecipe, 0).delta_e <= 2.0)
        near[n_near++] = took;
      else
        far[n_far++] = took;
    }
  start = seconds ();
  plain_search (&paints->plain, 3, 10, (const double[3]){ 50.0, 10.0, 10.0 }, best, 6);
  plain = seconds () - start;

  printf ("120 paints, 3 in a mix, 10 parts; every mix tried: %.1f s\n", plain);
  printf ("index: 1/%.0f (%.2f s), %.1f MB\n", plain / build, build,
          1e-6 * (double) ts_recipe_search_get_size (search));
  tell ("reachable", near, n_near, plain);
  tell ("unreachable", far, n_far, plain);
  invented_paints_free (paints);
  return 0;
}

int
main (int argc, char **argv)
{
  if (argc == 4 && strcmp (argv[1], "--check") == 0)
    return check ((guint) atoi (argv[2]), (guint) atoi (argv[3]));
  if (argc != 1)
    {
      fprintf (stderr, "usage: bench-recipes [--check SETS EACH]\n");
      return 2;
    }
  return measure ();
}
