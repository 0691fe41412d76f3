/* ts-recipe-index-search.c: asking the index for what lies near a colour
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A radius is guessed; the part of CIELAB that can hold a colour within it becomes a box; families,
 * groups and mixes outside the box are passed over, the rest are offered. Where enough came in, no
 * mix outside can be better, and the search is done; else the radius grows. No step guesses an
 * outcome: what is passed over is farther away than what is kept.
 */
#include "recipes/ts-recipe-index-private.h"

#include "colour/ts-difference.h"
#include "recipes/ts-lab-box.h"

#include <math.h>

#define FIRST_RADIUS 0.5
#define GROWTH 2.0
#define WHOLE_RADIUS 200.0 /* farther than any two colours of surfaces are apart */
#define RENEW 0.8          /* a best that falls to this share of the radius makes a new box */
#define AT_ONCE 4096       /* families */
#define SLACK 1e-6         /* the double kernel's colours and the predicted ones differ by less */

typedef struct
{
  const TsRecipeIndex *index;
  TsRecipeBest *best;
  TsLab target;
  double radius;
  TsLabBox box;
  float low[3], high[3]; /* the box, widened by what single precision may err */
  guint8 low_byte[3], high_byte[3];
  guint *groups; /* room for the hits among a family's groups */
} Query;

static guint8
byte_of (double value, guint c)
{
  double scaled = (double)ts_index_scale[c] * (value + (double)ts_index_shift[c]);

  return (guint8)CLAMP (scaled, 0.0, 255.0);
}

static void
set_radius (Query *query, double radius)
{
  query->radius = radius;
  if (radius >= WHOLE_RADIUS)
    query->box = (TsLabBox){ { -1000.0, -1000.0, -1000.0 }, { 1000.0, 1000.0, 1000.0 } };
  else
    ts_lab_box_narrow (&query->box, query->target, radius);
  for (guint c = 0; c < 3; c++)
    {
      query->low[c] = (float)query->box.low[c] - TS_INDEX_MARGIN;
      query->high[c] = (float)query->box.high[c] + TS_INDEX_MARGIN;
      query->low_byte[c] = byte_of (query->box.low[c], c);
      query->high_byte[c] = byte_of (query->box.high[c], c);
    }
}

static void
try_mix (Query *query, const TsIndexLevel *level, const guint *rows, const TsParts *parts)
{
  const TsMixRows *mix_rows = query->index->rows;
  double worst = ts_recipe_best_get_worst (query->best);
  guint paints[TS_PARTS_MAX_PAINTS];
  TsLab lab;

  ts_recipe_kernel (mix_rows, rows, level->n_paints, parts, 1, &lab);
  if (!(ts_delta_e_2000 (lab, query->target) <= worst + SLACK))
    return;
  for (guint p = 0; p < level->n_paints; p++)
    paints[p] = mix_rows->paint[rows[p]];
  ts_recipe_best_offer (query->best, paints, parts->parts, level->n_paints);
  worst = ts_recipe_best_get_worst (query->best);
  if (worst + SLACK < RENEW * query->radius)
    set_radius (query, worst + SLACK);
}

static void
try_group (Query *query, const TsIndexLevel *level, const guint *rows, guint group)
{
  const TsRecipeIndex *index = query->index;
  const float *K[TS_PARTS_MAX_PAINTS], *S[TS_PARTS_MAX_PAINTS];
  float lab[3][TS_PACK];
  float *const run[3] = { lab[0], lab[1], lab[2] };
  guint first = level->first[group];
  guint n = level->first[group + 1] - first;

  for (guint p = 0; p < level->n_paints; p++)
    {
      K[p] = index->paint_K[rows[p]];
      S[p] = index->paint_S[rows[p]];
    }
  ts_index_kernel_mix (K, S, level->shares + (gsize)group * level->n_paints * TS_PACK,
                       level->n_paints, &index->optics, run, index->wide);
  for (guint i = 0; i < n; i++)
    if (lab[0][i] >= query->low[0] && lab[0][i] <= query->high[0] && lab[1][i] >= query->low[1] &&
        lab[1][i] <= query->high[1] && lab[2][i] >= query->low[2] && lab[2][i] <= query->high[2])
      try_mix (query, level, rows, &g_array_index (level->parts, TsParts, first + i));
}

static void
try_family (Query *query, const TsIndexLevel *level, guint family)
{
  const guint8 *boxes = level->group_box + (gsize)family * 6 * level->n_groups;
  guint rows[TS_PARTS_MAX_PAINTS];
  guint n = ts_index_kernel_find (boxes, level->n_groups, level->n_groups, query->low_byte,
                                  query->high_byte, query->groups, query->index->wide);

  for (guint p = 0; p < level->n_paints; p++)
    rows[p] = level->rows[family][p];
  for (guint i = 0; i < n; i++)
    try_group (query, level, rows, query->groups[i]);
}

static gboolean
pass_level (Query *query, const TsIndexLevel *level, GCancellable *cancellable, GError **error)
{
  guint hits[AT_ONCE];

  query->groups = g_renew (guint, query->groups, level->n_groups);
  for (guint start = 0; start < level->n_families; start += AT_ONCE)
    {
      guint n = ts_index_kernel_find (level->family_box + start, level->stride,
                                      MIN (AT_ONCE, level->n_families - start), query->low_byte,
                                      query->high_byte, hits, query->index->wide);

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      for (guint i = 0; i < n; i++)
        try_family (query, level, start + hits[i]);
    }
  return TRUE;
}

static gboolean
pass (Query *query, GCancellable *cancellable, GError **error)
{
  for (guint n = 2; n <= query->index->covers; n++)
    if (!pass_level (query, &query->index->level[n], cancellable, error))
      return FALSE;
  return TRUE;
}

/**
 * ts_recipe_index_search:
 * @self: the index
 * @target: the wanted colour, D50
 * @best: (inout): takes the offers
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with %G_IO_ERROR_CANCELLED
 */
gboolean
ts_recipe_index_search (const TsRecipeIndex *self, TsLab target, TsRecipeBest *best,
                        GCancellable *cancellable, GError **error)
{
  Query query = { .index = self, .best = best, .target = target };
  gboolean done = FALSE;
  gboolean stopped = FALSE;

  for (double radius = FIRST_RADIUS; !done && !stopped; radius *= GROWTH)
    {
      double worst = ts_recipe_best_get_worst (best) + SLACK;
      double here = MIN (radius, worst);

      query.box = (TsLabBox){ { -20.0, -250.0, -250.0 }, { 120.0, 250.0, 250.0 } };
      set_radius (&query, here);
      stopped = !pass (&query, cancellable, error);
      done = here >= WHOLE_RADIUS || ts_recipe_best_get_worst (best) + SLACK <= here;
    }
  g_free (query.groups);
  return !stopped;
}
