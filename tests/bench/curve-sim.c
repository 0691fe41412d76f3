/* curve-sim.c: simulated runs with a known curve, and how well the fit finds it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * curve-sim N SEED FOLDER [FACTOR] writes spots.csv, truth.csv and runs.csv there; curve-peers.R
 * reads them, lets other smoothers fit the same spots, and prints the table. The standard errors
 * that the spots state are FACTOR times the true ones, or as often that much too small.
 */
#include "curve/ts-curve.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define GRID 200
#define MOST_SPOTS 200
#define KINDS 12

typedef struct
{
  double bright, fall, rise, where, width, core;
  double ease; /* slope of a rise where it begins, over twice its mean one */
  guint kind;
} Truth;

typedef struct
{
  guint n;
  double noise;
  gboolean stated, unequal;
  TsCurveSample spot[MOST_SPOTS];
  gboolean outlier[MOST_SPOTS];
} Run;

static const char *const kind_names[KINDS] = {
  "soft terminator", "hard terminator", "lit plateau", "ledge",        "kink",        "straight",
  "constant",        "shadow plateau",  "two ledges",  "bounce early", "bounce late", "hard bounce",
};

static double
normal (GRand *random)
{
  double size = sqrt (-2.0 * log (1.0 - g_rand_double (random)));

  return size * cos (2.0 * G_PI * g_rand_double (random));
}

/* 0 to 1 around @where, as wide as @width. */
static double
soft_step (double x, double where, double width)
{
  return 1.0 / (1.0 + exp (-4.0 * (x - where) / width));
}

static double
share_of_fall (const Truth *t, double x)
{
  double end = 0.0;

  switch (t->kind)
    {
    case 0:
    case 9:
      return soft_step (x, t->where, t->width);
    case 1:
    case 11:
      return 0.15 * x + 0.85 * soft_step (x, t->where, 0.15 * t->width);
    case 2:
      return x < t->where ? 0.0 : pow ((x - t->where) / (1.0 - t->where), 1.3);
    case 3:
      return 0.5 * soft_step (x, 0.25, 0.25 * t->width) + 0.5 * soft_step (x, 0.75, 0.4 * t->width);
    case 4:
      return x < t->where ? 0.25 * x / t->where : 0.25 + 0.75 * (x - t->where) / (1.0 - t->where);
    case 5:
      return x;
    case 6:
      return 0.0;
    case 7:
      return x < t->where ? 1.0 - pow (1.0 - x / t->where, 1.6) : 1.0;
    case 8:
      for (guint i = 1; i <= 3; i++)
        end += soft_step (x, i / 3.0 - 1.0 / 6.0, 0.2 * t->width) / 3.0;
      return end;
    default:
      return 0.5 - 0.5 * cos (G_PI * MIN (x / t->core, 1.0));
    }
}

static double
truth_at (const Truth *t, double x)
{
  double L = t->bright - t->fall * share_of_fall (t, x);

  if (t->kind >= 9 && x > t->core)
    {
      double far = (x - t->core) / (1.0 - t->core);

      L += t->rise * (t->kind == 9 ? sin (0.5 * G_PI * far)
                                   : far * (2.0 * t->ease + (1.0 - 2.0 * t->ease) * far));
    }
  return L;
}

static void
draw_truth (Truth *t, guint kind, GRand *random)
{
  *t = (Truth){
    .kind = kind,
    .bright = g_rand_double_range (random, 50, 95),
    .where = g_rand_double_range (random, 0.3, 0.65),
    .width = g_rand_double_range (random, 0.15, 0.6),
    .core = kind == 9 ? g_rand_double_range (random, 0.55, 0.72)
                      : g_rand_double_range (random, 0.72, 0.9),
  };
  t->fall = g_rand_double_range (random, 20, t->bright - 5);
  t->ease = g_rand_double_range (random, 0.0, 1.0);
  t->rise = g_rand_double_range (random, 0.08, 0.45) * t->fall;
  if (kind == 9 || kind == 11)
    t->where = 0.6 * t->core;
  if (kind == 9)
    t->width = MIN (t->width, 0.5 * t->core);
}

static double
draw_place (GRand *random, guint i, guint n, guint manner)
{
  double x = i / (n - 1.0);

  if (manner == 0)
    return x;
  if (manner == 1)
    return g_rand_double (random);
  if (manner == 2) /* ties */
    return (i / 2) / MAX ((n - 1) / 2, 1.0);
  return x < 0.5 ? 0.7 * x : 1.0 - 0.7 * (1.0 - x); /* a gap */
}

static void
draw_run (Run *run, const Truth *truth, double wrong, GRand *random)
{
  static const guint counts[] = { 5, 7, 9, 12, 15, 20, 30, 50, 100, 200 };
  guint manner = g_rand_double (random) < 0.6 ? 0 : (guint) g_rand_int_range (random, 1, 4);
  gboolean stray = g_rand_double (random) < 0.4;
  double share = g_rand_double_range (random, 0.04, 0.15);

  run->n = counts[g_rand_int_range (random, 0, G_N_ELEMENTS (counts))];
  run->noise = exp (g_rand_double_range (random, log (0.5), log (4.0)));
  run->unequal = g_rand_boolean (random);
  run->stated = run->unequal || g_rand_boolean (random);
  for (guint i = 0; i < run->n; i++)
    {
      double x = CLAMP (draw_place (random, i, run->n, manner), 0.0, 1.0);
      double se = run->noise * (run->unequal ? exp (g_rand_double_range (random, -0.9, 0.9)) : 1.0);
      double off = se * normal (random);

      run->outlier[i] = stray && g_rand_double (random) < share;
      if (run->outlier[i])
        off = (g_rand_boolean (random) ? 1.0 : -1.0) * se * g_rand_double_range (random, 5, 15);
      run->spot[i] = (TsCurveSample){ x,
                                      { CLAMP (truth_at (truth, x) + off, -20.0, 200.0), 0, 0 },
                                      run->stated ? se * wrong : 0.0 };
    }
}

/* The darkest place, and the middle of the stretch of 0.08 that falls most. */
static void
find_marks (const Truth *truth, double *core, double *terminator)
{
  double least = G_MAXDOUBLE, most = -G_MAXDOUBLE;

  *core = *terminator = 0.0;
  for (guint i = 0; i <= 2000; i++)
    {
      double x = i / 2000.0, L = truth_at (truth, x);

      if (L < least - 1e-9)
        {
          least = L;
          *core = x;
        }
      if (x >= 0.04 && x <= 0.96 &&
          truth_at (truth, x - 0.04) - truth_at (truth, x + 0.04) > most + 1e-9)
        {
          most = truth_at (truth, x - 0.04) - truth_at (truth, x + 0.04);
          *terminator = x;
        }
    }
}

static void
write_fit (FILE *spots, FILE *runs, FILE *truths, guint id, const Truth *truth, const Run *run)
{
  clock_t start = clock ();
  g_autoptr (TsCurve) curve = ts_curve_fit (run->spot, run->n, TS_CURVE_RULE_SURFACE, NULL);
  double took = (double) (clock () - start) * 1000.0 / CLOCKS_PER_SEC;
  double square = 0.0, core, terminator, place = -1, low = 0, high = 0, core_low, core_high, found;
  guint inside = 0, named = 0, right = 0, strays = 0, after = 0;

  find_marks (truth, &core, &terminator);
  for (guint i = 0; i <= GRID; i++)
    {
      double x = (double) i / GRID, want = truth_at (truth, x), down, up;
      double got = ts_curve_get_lightness (curve, x);

      ts_curve_get_band (curve, x, &down, &up);
      square += (got - want) * (got - want);
      inside += want >= down && want <= up;
      fprintf (truths, "%u,%.6f,%.6f,%.6f,%.6f,%.6f\n", id, x, want, got, down, up);
    }
  for (guint i = 0; i < run->n; i++)
    {
      gboolean outlier = ts_curve_sample_is_outlier (curve, i);

      fprintf (spots, "%u,%.9f,%.9f,%.9f,%d,%d\n", id, run->spot[i].position, run->spot[i].lab.L,
               run->spot[i].standard_error, run->outlier[i], outlier);
      strays += run->outlier[i];
      named += outlier;
      right += outlier && run->outlier[i];
      after += run->spot[i].position > core;
    }
  found = ts_curve_get_core_shadow (curve, &core_low, &core_high);
  ts_curve_get_terminator (curve, &place, &low, &high);
  fprintf (runs,
           "%u,%u,%s,%u,%.4f,%d,%.6f,%.6f,%d,%.4f,%u,%u,%u,%u,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%."
           "4f,%d,%.4f,%.4f\n",
           id, truth->kind, kind_names[truth->kind], run->n, run->noise, run->stated,
           sqrt (square / (GRID + 1)), inside / (GRID + 1.0),
           ts_curve_get_shape (curve) == TS_CURVE_FALLING_THEN_RISING,
           truth->kind >= 9 ? truth->rise : 0.0, after, named, right, strays, core, found, core_low,
           core_high, terminator, place, low, high, ts_curve_is_sound (curve), took,
           ts_curve_get_noise (curve));
}

static FILE *
open_table (const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);

  return fopen (path, "w");
}

int
main (int argc, char **argv)
{
  g_autoptr (GRand) random = NULL;
  FILE *spots, *truths, *runs;
  double wrong;
  guint n;

  if (argc != 4 && argc != 5)
    {
      g_printerr ("usage: curve-sim N SEED FOLDER [FACTOR]\n");
      return 2;
    }
  n = (guint) atoi (argv[1]);
  wrong = argc == 5 ? g_ascii_strtod (argv[4], NULL) : 1.0;
  random = g_rand_new_with_seed ((guint32) atoi (argv[2]));
  spots = open_table (argv[3], "spots.csv");
  truths = open_table (argv[3], "truth.csv");
  runs = open_table (argv[3], "runs.csv");
  if (spots == NULL || truths == NULL || runs == NULL)
    {
      g_printerr ("cannot write in %s\n", argv[3]);
      return 1;
    }
  fprintf (spots, "run,x,y,se,outlier,named\n");
  fprintf (truths, "run,x,truth,ours,low,high\n");
  fprintf (runs, "run,kind,name,n,noise,stated,rmse,covered,rising,rise,after,named,right,strays,"
                 "core,core_found,core_low,core_high,terminator,terminator_found,terminator_low,"
                 "terminator_high,sound,ms,noise_found\n");
  for (guint id = 0; id < n; id++)
    {
      Truth truth;
      Run run;

      draw_truth (&truth, id % KINDS, random);
      draw_run (&run, &truth, id / KINDS % 2 ? wrong : 1.0 / wrong, random);
      write_fit (spots, runs, truths, id, &truth, &run);
    }
  return fclose (spots) + fclose (truths) + fclose (runs) == 0 ? 0 : 1;
}
