/* ts-paint-fit-problem.c: from a set and swatches to the problem that the fit solves
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "paint/ts-paint-fit-problem.h"

#include <math.h>
#include <stdlib.h>

#include "colour/ts-difference.h"
#include "paint/ts-paint-solve.h"

#define LEAST_K 1e-4 /* per coat; a logarithm needs more than nothing */
#define LEAST_S 1e-3

/* A mix teaches more than a single paint, and once there are many of them each may count less. Set
 * on measured watercolours (tests/fixtures/published/watercolour_*.csv), as are the next ones. */
#define WEIGHT_SINGLE 1.0
#define WEIGHT_MIX 3.0
#define MANY_MIXES 50
#define WEIGHT_SINGLE_MANY 0.5
#define WEIGHT_MIX_MANY 2.0
#define SPECTRUM_FROM_LAB                                                                          \
  0.5                  /* a spectrum worked out from a colour says less than a measured one */
#define USUAL_MISS 2.0 /* CIEDE2000; a reading's standard error adds to it */
#define LEAST_R 1e-4

/* How strongly what the set says of log K and log S is held, by where it comes from. 0.6 for a
 * scattering that was only expected is set as above; that measured ones are held more is chosen. */
static const struct
{
  double weight_K;
  double weight_S;
} trust[] = {
  [TS_SOURCE_WORD] = { 0.0, 0.6 },       [TS_SOURCE_MASSTONE] = { 0.0, 0.6 },
  [TS_SOURCE_FILMS_LAB] = { 0.3, 1.0 },  [TS_SOURCE_FILMS_SPECTRA] = { 0.5, 1.5 },
  [TS_SOURCE_TINTS] = { 0.5, 1.5 },      [TS_SOURCE_DIRECT] = { 1.0, 2.0 },
  [TS_SOURCE_CALIBRATED] = { 1.0, 2.0 },
};

static guint
count_mixes (const TsSwatch *swatches, guint n)
{
  guint count = 0;

  for (guint s = 0; s < n; s++)
    count += swatches[s].n_amounts > 1;
  return count;
}

/* Which paints of the set the swatches hold: their order in the problem, or -1. */
static int *
number_paints (TsFitSetup *self, const TsPaintSet *set, const TsSwatch *swatches)
{
  guint n = ts_paint_set_get_n_paints (set);
  int *numbers = g_new0 (int, n);

  for (guint s = 0; s < self->n_swatches; s++)
    for (guint i = 0; i < swatches[s].n_amounts; i++)
      numbers[swatches[s].amounts[i].paint] = 1;
  self->paints = g_new (guint, n);
  for (guint p = 0; p < n; p++)
    if (numbers[p] == 0)
      numbers[p] = -1;
    else
      {
        numbers[p] = (int) self->problem.n_paints;
        self->paints[self->problem.n_paints++] = p;
      }
  return numbers;
}

/* By how much the level of a paint's K and S is to be raised, as a logarithm. Where the set had but
 * a masstone, its own level was a compromise for want of swatches; to lean on the usual scattering
 * predicts better. */
static double
raise_of (const TsPaintSet *set, const TsPaint *paint)
{
  TsPaintKind kind = ts_paint_get_kind (paint);
  TsSpectrum masstone;
  double usual;

  if (ts_paint_get_source (paint) != TS_SOURCE_WORD &&
      ts_paint_get_source (paint) != TS_SOURCE_MASSTONE)
    return 0.0;

  ts_mix_get_masstone (ts_paint_get_K (paint), ts_paint_get_S (paint),
                       ts_paint_set_get_surface (set), &masstone);
  usual = ts_paint_kind_strength (kind) *
          ts_paint_usual_scattering (kind, ts_paint_get_opacity (paint), &masstone);
  return log (usual / MAX (ts_paint_get_S (paint)->band[0], LEAST_S));
}

static void
expect_paints (TsFitSetup *self, const TsPaintSet *set)
{
  TsFitPaint *paints = g_new0 (TsFitPaint, self->problem.n_paints);

  for (guint p = 0; p < self->problem.n_paints; p++)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, self->paints[p]);
      TsPaintSource source = ts_paint_get_source (paint);
      double raise = raise_of (set, paint);

      for (guint b = 0; b < TS_BANDS; b++)
        {
          paints[p].log_K[b] = raise + log (MAX (ts_paint_get_K (paint)->band[b], LEAST_K));
          paints[p].log_S[b] = raise + log (MAX (ts_paint_get_S (paint)->band[b], LEAST_S));
        }
      paints[p].weight_K = trust[source].weight_K;
      paints[p].weight_S = trust[source].weight_S;
    }
  self->problem.paints = paints;
}

static void
prepare_swatch (TsFitSwatch *to, const TsSwatch *from, const int *numbers,
                TsSurfaceReflection surface, double weight)
{
  double total = 0.0;

  to->n_paints = from->n_amounts;
  to->hides = isinf (from->coats);
  for (guint i = 0; i < from->n_amounts; i++)
    total += from->amounts[i].parts;
  for (guint i = 0; i < from->n_amounts; i++)
    {
      to->paint[i] = (guint) numbers[from->amounts[i].paint];
      to->coats[i] = from->amounts[i].parts / total * (to->hides ? 1.0 : from->coats);
    }
  for (guint b = 0; b < TS_BANDS; b++)
    {
      to->ground[b] = to->hides ? 0.0 : ts_saunderson_inside (surface, from->ground.band[b]);
      to->cube_root[b] = cbrt (MAX (from->reflectance.band[b], LEAST_R));
    }
  to->lab = from->lab;
  ts_delta_e_2000_metric (from->lab, to->metric);
  to->weight = weight / (1.0 + from->se * from->se / (USUAL_MISS * USUAL_MISS));
  to->spectrum_weight = to->weight * (from->from_lab ? SPECTRUM_FROM_LAB : 1.0);
}

/* A masstone that the set was given stands for a swatch, where the painter painted none of that
 * paint alone. */
static gboolean
needs_masstone (const TsPaintSet *set, guint paint, const TsSwatch *swatches, guint n_swatches)
{
  TsPaintSource source = ts_paint_get_source (ts_paint_set_get_paint (set, paint));

  if (source != TS_SOURCE_WORD && source != TS_SOURCE_MASSTONE)
    return FALSE;
  for (guint s = 0; s < n_swatches; s++)
    if (swatches[s].n_amounts == 1 && swatches[s].amounts[0].paint == paint)
      return FALSE;
  return TRUE;
}

static TsSwatch
masstone_swatch (const TsPaintSet *set, guint paint_index)
{
  const TsPaint *paint = ts_paint_set_get_paint (set, paint_index);
  TsSwatch swatch = { .n_amounts = 1,
                      .amounts = { { paint_index, 1.0 } },
                      .coats = (double) INFINITY,
                      .lab = ts_paint_get_masstone (paint),
                      .from_lab = ts_paint_get_source (paint) == TS_SOURCE_WORD };

  ts_mix_get_masstone (ts_paint_get_K (paint), ts_paint_get_S (paint),
                       ts_paint_set_get_surface (set), &swatch.reflectance);
  return swatch;
}

static void
prepare_swatches (TsFitSetup *self, const TsPaintSet *set, const TsSwatch *swatches,
                  const int *numbers)
{
  gboolean many = count_mixes (swatches, self->n_swatches) >= MANY_MIXES;
  double single = many ? WEIGHT_SINGLE_MANY : WEIGHT_SINGLE;
  double mix = many ? WEIGHT_MIX_MANY : WEIGHT_MIX;
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);
  TsFitSwatch *ready = g_new0 (TsFitSwatch, self->n_swatches + self->problem.n_paints);
  guint n = 0;

  for (; n < self->n_swatches; n++)
    prepare_swatch (&ready[n], &swatches[n], numbers, surface,
                    swatches[n].n_amounts > 1 ? mix : single);
  for (guint p = 0; p < self->problem.n_paints; p++)
    if (needs_masstone (set, self->paints[p], swatches, self->n_swatches))
      {
        TsSwatch swatch = masstone_swatch (set, self->paints[p]);

        prepare_swatch (&ready[n++], &swatch, numbers, surface, single);
      }
  self->problem.swatches = ready;
  self->problem.n_swatches = n;
}

static int
compare_numbers (const void *one, const void *other)
{
  guint a = *(const guint *) one;
  guint b = *(const guint *) other;

  return (a > b) - (a < b);
}

/* The paints of a mix, whatever their order and parts. */
static char *
dup_kind_of_mix (const TsSwatch *swatch)
{
  g_autoptr (GString) text = g_string_new (NULL);
  guint paints[TS_SWATCH_MAX_PAINTS];

  for (guint i = 0; i < swatch->n_amounts; i++)
    paints[i] = swatch->amounts[i].paint;
  qsort (paints, swatch->n_amounts, sizeof *paints, compare_numbers);
  for (guint i = 0; i < swatch->n_amounts; i++)
    g_string_append_printf (text, "%u ", paints[i]);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* The fold that holds least of the swatch's paints so far, the emptiest of several: no paint should
 * lose all its mixes at once. @counts has a row for each fold, a column for each paint and one for
 * all. */
static guint
choose_fold (const TsFitSwatch *swatch, guint *counts, guint n_paints, guint n_folds)
{
  guint best = 0, best_here = G_MAXUINT, best_all = G_MAXUINT;

  for (guint fold = 0; fold < n_folds; fold++)
    {
      const guint *row = counts + (gsize) fold * (n_paints + 1);
      guint here = 0;

      for (guint i = 0; i < swatch->n_paints; i++)
        here += row[swatch->paint[i]];
      if (here < best_here || (here == best_here && row[n_paints] < best_all))
        {
          best = fold;
          best_here = here;
          best_all = row[n_paints];
        }
    }
  for (guint i = 0; i < swatch->n_paints; i++)
    counts[(gsize) best * (n_paints + 1) + swatch->paint[i]]++;
  counts[(gsize) best * (n_paints + 1) + n_paints]++;
  return best;
}

/* All mixes of the same paints share a fold, so that none of them helps to predict another. */
static void
deal_folds (TsFitSetup *self, const TsSwatch *swatches, guint max_folds)
{
  g_autoptr (GHashTable) kinds = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  guint n_paints = self->problem.n_paints;
  g_autofree guint *counts = g_new0 (guint, (gsize) max_folds * (n_paints + 1));

  self->folds = g_new (int, self->problem.n_swatches);
  for (guint s = 0; s < self->problem.n_swatches; s++)
    {
      g_autofree char *kind = NULL;
      gpointer fold;

      self->folds[s] = -1;
      if (s >= self->n_swatches || swatches[s].n_amounts < 2)
        continue;
      kind = dup_kind_of_mix (&swatches[s]);
      if (!g_hash_table_lookup_extended (kinds, kind, NULL, &fold))
        {
          fold = GUINT_TO_POINTER (
            choose_fold (&self->problem.swatches[s], counts, n_paints, max_folds));
          g_hash_table_insert (kinds, g_steal_pointer (&kind), fold);
        }
      self->folds[s] = (int) GPOINTER_TO_UINT (fold);
    }
  self->n_folds = g_hash_table_size (kinds) < 2 ? 0 : MIN (g_hash_table_size (kinds), max_folds);
}

/**
 * ts_fit_setup_new:
 * @set: the paints
 * @swatches: (array length=n_swatches): the painter's swatches
 * @n_swatches: how many, at least 1
 * @max_folds: into how many groups the mixes are dealt at most, at least 2
 *
 * Returns: (transfer full): the problem
 */
TsFitSetup *
ts_fit_setup_new (const TsPaintSet *set, const TsSwatch *swatches, guint n_swatches,
                  guint max_folds)
{
  TsFitSetup *self = g_new0 (TsFitSetup, 1);
  g_autofree int *numbers = NULL;

  self->n_swatches = n_swatches;
  self->problem.surface = ts_paint_set_get_surface (set);
  numbers = number_paints (self, set, swatches);
  expect_paints (self, set);
  prepare_swatches (self, set, swatches, numbers);
  deal_folds (self, swatches, max_folds);
  return self;
}

/**
 * ts_fit_setup_free:
 * @self: (transfer full): a problem
 */
void
ts_fit_setup_free (TsFitSetup *self)
{
  g_free ((gpointer) self->problem.paints);
  g_free ((gpointer) self->problem.swatches);
  g_free (self->paints);
  g_free (self->folds);
  g_free (self);
}

/**
 * ts_fit_setup_dup_start:
 * @self: a problem
 *
 * Returns: (transfer full): log K and log S of its paints, as expected
 */
double *
ts_fit_setup_dup_start (const TsFitSetup *self)
{
  double *x = g_new (double, (gsize) self->problem.n_paints *TS_FIT_UNKNOWNS);

  for (guint p = 0; p < self->problem.n_paints; p++)
    for (guint b = 0; b < TS_BANDS; b++)
      {
        x[p * TS_FIT_UNKNOWNS + b] = self->problem.paints[p].log_K[b];
        x[p * TS_FIT_UNKNOWNS + TS_BANDS + b] = self->problem.paints[p].log_S[b];
      }
  return x;
}
