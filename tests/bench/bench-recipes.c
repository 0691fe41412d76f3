/* bench-recipes.c: the search against trying every mix: equal outcomes, and how many times faster
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * bench-recipes                    ratios for 120 paints, 3 in a mix, 10 parts
 * bench-recipes --check [FROM TO]  differences over 20 invented sets, or those from FROM to TO
 * bench-recipes --large            300 paints, 3 in a mix, 12 parts; 120 paints, 4 in a mix, 8
 * parts; how the cost grows; a drag with 60 paints
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

/* One set and how many targets; every second one is known by colours alone. */
typedef struct
{
  guint n_paints, max_paints, max_parts, n_targets;
} CheckSet;

static const CheckSet check_sets[] = {
  { 30, 3, 10, 140 },  { 30, 3, 10, 140 },  { 30, 3, 10, 140 },  { 30, 3, 10, 140 },
  { 30, 3, 10, 140 },  { 40, 3, 8, 120 },   { 40, 3, 8, 120 },   { 40, 3, 8, 120 },
  { 60, 3, 6, 100 },   { 60, 3, 6, 100 },   { 80, 2, 10, 150 },  { 80, 2, 10, 150 },
  { 120, 2, 10, 150 }, { 120, 2, 10, 150 }, { 100, 2, 10, 150 }, { 30, 4, 6, 100 },
  { 35, 4, 5, 100 },   { 90, 3, 5, 60 },    { 60, 3, 10, 40 },   { 120, 3, 10, 12 },
};

/* Differences between the search and trying every mix, for one set. */
static guint
check_set (const CheckSet *set, guint seed, guint *n_reached)
{
  guint each = set->n_targets;
  InventedPaints *paints = seed % 2 == 0 ? invented_paints_new_colours (set->n_paints, seed)
                                         : invented_paints_new (set->n_paints, seed);
  g_autoptr (TsRecipeSearch) search =
    make_search (paints, set->max_paints, set->max_parts, MOST_BEST);
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  g_autofree double (*targets)[3] = g_malloc_n (each, sizeof *targets);
  g_autofree PlainMix *best = g_new (PlainMix, each * MOST_BEST);
  g_autofree guint *n_found = g_new (guint, each);
  guint n_different = 0;

  for (guint i = 0; i < each; i++)
    {
      TsLab target = invented_target (paints, rand, i % 2 == 0 ? 0.5 : 30.0);

      memcpy (targets[i], (const double[3]){ target.L, target.a, target.b }, sizeof *targets);
    }
  plain_search_all (&paints->plain, set->max_paints, set->max_parts, (const double (*)[3]) targets,
                    each, best, MOST_BEST, n_found);
  for (guint i = 0; i < each; i++)
    {
      TsLab target = { targets[i][0], targets[i][1], targets[i][2] };
      g_autoptr (GArray) found = ts_recipe_search_run (search, target, NULL, NULL, NULL, NULL);
      gboolean same = found->len == n_found[i];

      for (guint j = 0; j < n_found[i] && same; j++)
        same = is_same (paints, &g_array_index (found, TsRecipe, j), &best[i * MOST_BEST + j]);
      n_different += same ? 0 : 1;
      *n_reached += best[i * MOST_BEST].delta_e <= 2.0 ? 1 : 0;
    }
  invented_paints_free (paints);
  return n_different;
}

/* Sets from @first to @last, counted from 1. */
static int
check (guint first, guint last)
{
  guint n = 0, n_different = 0, n_reached = 0;

  for (guint i = first; i <= MIN (last, G_N_ELEMENTS (check_sets)); i++)
    {
      const CheckSet *set = &check_sets[i - 1];
      guint different = check_set (set, i, &n_reached);

      printf ("%3u paints%s, %u in a mix, %2u parts: %3u targets, %u differences\n", set->n_paints,
              i % 2 == 0 ? " by colour" : "", set->max_paints, set->max_parts, set->n_targets,
              different);
      fflush (stdout);
      n += set->n_targets;
      n_different += different;
    }
  printf ("%u targets, %u within reach: %u differences\n", n, n_reached, n_different);
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

/* A stair of nine steps from nothing: the index, then every step. */
static void
tell_stair (const InventedPaints *paints, double plain)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);
  TsLab light = invented_target (paints, rand, 0.5), dark = invented_target (paints, rand, 0.5);
  double start = seconds ();
  g_autoptr (TsRecipeSearch) search = make_search (paints, 3, 10, 6);
  double took;

  for (guint i = 0; i < 9; i++)
    {
      double t = i / 8.0;
      TsLab target = { (1.0 - t) * light.L + t * dark.L, (1.0 - t) * light.a + t * dark.a,
                       (1.0 - t) * light.b + t * dark.b };
      g_autoptr (GArray) found = ts_recipe_search_run (search, target, NULL, NULL, NULL, NULL);
    }
  took = seconds () - start;
  printf ("nine steps from nothing: 1/%.0f (%.2f s)\n", plain / took, took);
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

  /* The least of three: the first also waits for memory. */
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (TsRecipeSearch) again = NULL;

      start = seconds ();
      again = make_search (paints, 3, 10, 6);
      build = MIN (build, seconds () - start);
    }
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
  tell_stair (paints, plain);
  invented_paints_free (paints);
  return 0;
}

/* One size: the index, then targets of both kinds. No plain search is waited for. */
static void
tell_size (guint n_paints, guint max_paints, guint max_parts, guint n_targets)
{
  InventedPaints *paints = invented_paints_new (n_paints, 1);
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  double start = seconds ();
  g_autoptr (TsRecipeSearch) search = make_search (paints, max_paints, max_parts, 6);
  double build = seconds () - start;
  g_autofree double *near = g_new (double, n_targets);
  g_autofree double *far = g_new (double, n_targets);
  guint n_near = 0, n_far = 0;

  for (guint i = 0; i < n_targets; i++)
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
  qsort (near, n_near, sizeof *near, compare);
  qsort (far, n_far, sizeof *far, compare);
  printf ("%3u paints, %u in a mix, %2u parts: index %.2f s, %.0f MB", n_paints, max_paints,
          max_parts, build, 1e-6 * (double) ts_recipe_search_get_size (search));
  if (n_near > 0)
    printf ("; near median %.1f ms, 95 in 100 %.1f ms", 1e3 * near[n_near / 2],
            1e3 * near[n_near * 19 / 20]);
  if (n_far > 0)
    printf ("; far median %.0f ms, most %.0f ms", 1e3 * far[n_far / 2], 1e3 * far[n_far - 1]);
  printf ("\n");
  fflush (stdout);
  invented_paints_free (paints);
}

static int
measure_large (void)
{
  tell_size (30, 3, 8, 100);
  tell_size (60, 3, 8, 200);
  tell_size (60, 3, 10, 100);
  tell_size (120, 3, 8, 60);
  tell_size (120, 3, 10, 60);
  tell_size (240, 3, 8, 20);
  tell_size (300, 3, 12, 20);
  tell_size (120, 4, 8, 8);
  return 0;
}

int
main (int argc, char **argv)
{
  if (argc == 4 && strcmp (argv[1], "--check") == 0)
    return check ((guint) atoi (argv[2]), (guint) atoi (argv[3]));
  if (argc == 2 && strcmp (argv[1], "--check") == 0)
    return check (1, G_MAXUINT);
  if (argc == 2 && strcmp (argv[1], "--large") == 0)
    return measure_large ();
  if (argc != 1)
    {
      fprintf (stderr, "usage: bench-recipes [--check [FROM TO] | --large]\n");
      return 2;
    }
  return measure ();
}
