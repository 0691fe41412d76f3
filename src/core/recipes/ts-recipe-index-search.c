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
#include "recipes/ts-lab-grid.h"

#include <math.h>

#define FIRST_RADIUS 0.5
#define GROWTH 1.6
#define WIDE_RADIUS 1.5    /* from here on bounds beside the box pay */
#define WHOLE_RADIUS 200.0 /* farther than any two colours of surfaces are apart */
#define RENEW 0.8          /* a best that falls to this share of the radius makes a new box */
#define EVERYWHERE 250.0   /* no colour of a surface has an a or b beyond */
#define RENEW_GRID 0.98
#define MANY_BOXES 200000 /* from here on the grid's cells are worth their time */
#define AT_ONCE 4096      /* families */
#define SLACK 1e-6        /* the double kernel's colours and the predicted ones differ by less */

typedef struct
{
  const TsRecipeIndex *index;
  TsRecipeBest *best;
  TsLab target;
  double radius;
  TsLabBox box;
  float low[3], high[3]; /* the box, widened by what single precision may err */
  guint8 low_byte[3], high_byte[3];
  guint *groups;     /* room for the hits among a family's groups */
  TsLabGrid *grid;   /* for wide radii, or NULL */
  double grid_worst; /* the radius it is set to */
  gboolean many;     /* boxes, so that a grid pays */
} Query;

static guint8
byte_of (double value, guint c)
{
  double scaled = (double) ts_index_scale[c] * (value + (double) ts_index_shift[c]);

  return (guint8) CLAMP (scaled, 0.0, 255.0);
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
      query->low[c] = (float) query->box.low[c] - TS_INDEX_MARGIN;
      query->high[c] = (float) query->box.high[c] + TS_INDEX_MARGIN;
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

/* Whether a box of bytes, its six numbers @stride apart, may hold a colour near enough. For a small
 * radius the overlap, which is known already, says nearly as much. */
static gboolean
may_be_near (const Query *query, const guint8 *box, gsize stride)
{
  double worst;
  TsLabBox lab;

  if (query->radius < WIDE_RADIUS)
    return TRUE;
  if (query->grid != NULL && !ts_lab_grid_may_hold (query->grid, box, stride))
    return FALSE;
  worst = MIN (query->radius, ts_recipe_best_get_worst (query->best) + SLACK);
  for (guint c = 0; c < 3; c++)
    {
      guint8 low = box[c * stride], high = box[(c + 3) * stride];
      double scale = (double) ts_index_scale[c], shift = (double) ts_index_shift[c];

      lab.low[c] = low == 0 ? -EVERYWHERE : low / scale - shift;
      lab.high[c] = high == 255 ? EVERYWHERE : (high + 1) / scale - shift;
    }
  lab.low[0] = MAX (lab.low[0], 0.0);
  lab.high[0] = MIN (lab.high[0], 101.0);
  return ts_lab_box_least_delta_e (&lab, query->target) <= worst;
}

static gboolean
is_in_box (const Query *query, float *const lab[3], guint i)
{
  return lab[0][i] >= query->low[0] && lab[0][i] <= query->high[0] && lab[1][i] >= query->low[1] &&
         lab[1][i] <= query->high[1] && lab[2][i] >= query->low[2] && lab[2][i] <= query->high[2];
}

/* The same by the cells that count, which follow the shape of what is near. */
static gboolean
is_in_cells (const Query *query, float *const lab[3], guint i)
{
  guint8 box[6];

  if (query->radius < WIDE_RADIUS || query->grid == NULL)
    return TRUE;
  for (guint c = 0; c < 3; c++)
    {
      double value = (double) lab[c][i], margin = (double) TS_INDEX_MARGIN;

      box[c] = byte_of (value - margin, c);
      box[c + 3] = byte_of (value + margin, c);
    }
  return ts_lab_grid_may_hold (query->grid, box, 1);
}

static void
try_group (Query *query, const TsIndexLevel *level, const guint *rows, guint group)
{
  const TsRecipeIndex *index = query->index;
  const float *K[TS_PARTS_MAX_PAINTS], *S[TS_PARTS_MAX_PAINTS];
  float run[3][TS_PACK];
  float *const lab[3] = { run[0], run[1], run[2] };
  guint at = level->first[group];

  for (guint p = 0; p < level->n_paints; p++)
    {
      K[p] = index->paint_K[rows[p]];
      S[p] = index->paint_S[rows[p]];
    }
  for (guint pack = level->first_pack[group]; pack < level->first_pack[group + 1]; pack++)
    {
      ts_index_kernel_mix (K, S, level->shares + (gsize) pack * level->n_paints * TS_PACK,
                           level->n_paints, &index->optics, lab, index->wide);
      for (guint i = 0; i < TS_PACK && at < level->first[group + 1]; i++, at++)
        if (is_in_box (query, lab, i) && is_in_cells (query, lab, i))
          try_mix (query, level, rows, &g_array_index (level->parts, TsParts, at));
    }
}

static void
try_family (Query *query, const TsIndexLevel *level, guint family)
{
  const guint8 *boxes = level->group_box + (gsize) family * 6 * level->n_groups;
  guint rows[TS_PARTS_MAX_PAINTS];
  guint n = ts_index_kernel_find (boxes, level->n_groups, level->n_groups, query->low_byte,
                                  query->high_byte, query->groups, query->index->wide);

  for (guint p = 0; p < level->n_paints; p++)
    rows[p] = level->rows[family][p];
  for (guint i = 0; i < n; i++)
    if (may_be_near (query, boxes + query->groups[i], level->n_groups))
      try_group (query, level, rows, query->groups[i]);
}

/* The cells that count are found anew where the best has come nearer by a little. */
static void
renew_grid (Query *query)
{
  double worst = MIN (query->radius, ts_recipe_best_get_worst (query->best) + SLACK);

  if (!query->many || query->radius < WIDE_RADIUS ||
      (query->grid != NULL && worst >= RENEW_GRID * query->grid_worst &&
       worst <= query->grid_worst))
    return;
  if (query->grid == NULL)
    query->grid = ts_lab_grid_new (query->target, ts_index_shift, ts_index_scale);
  ts_lab_grid_set_radius (query->grid, worst);
  query->grid_worst = worst;
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
      renew_grid (query);
      for (guint i = 0; i < n && !g_cancellable_is_cancelled (cancellable); i++)
        if (may_be_near (query, level->family_box + start + hits[i], level->stride))
          try_family (query, level, start + hits[i]);
    }
  return TRUE;
}

/* All mixes of @rows' first paints with each later one, coloured anew. */
static void
scan_prefix (Query *query, const TsIndexLevel *level, guint *rows, float *const lab[3])
{
  const TsRecipeIndex *index = query->index;
  guint last = level->n_paints - 1;
  guint start = (rows[last - 1] + 1) / TS_PACK * TS_PACK;
  guint n = (guint) index->stride - start;
  guint held = ts_index_count_needed (index, rows, last);

  if (held + 1 < index->n_needed)
    return;
  for (guint m = 0; m < level->parts->len; m++)
    {
      const TsParts *parts = &g_array_index (level->parts, TsParts, m);
      float K[TS_BANDS], S[TS_BANDS];

      ts_index_mix_prefix (index, rows, last, parts, K, S);
      ts_index_kernel_add (&index->optics, K, S, index->K + start, index->S + start, index->stride,
                           n, lab, index->wide);
      for (guint i = rows[last - 1] + 1 - start; i < index->rows->n_paints - start; i++)
        if (is_in_box (query, lab, i))
          {
            rows[last] = start + i;
            if (held + (index->needed[rows[last]] ? 1 : 0) == index->n_needed)
              try_mix (query, level, rows, parts);
          }
    }
}

/* Mixes that the index has no room for. */
static gboolean
scan_level (Query *query, const TsIndexLevel *level, GCancellable *cancellable,
            TsProgressFunc progress, gpointer progress_data, GError **error)
{
  guint n_rows = query->index->rows->n_paints;
  guint rows[TS_PARTS_MAX_PAINTS] = { 0, 1, 2, 3 };
  g_autofree float *room = g_new (float, 3 * query->index->stride);
  float *const lab[3] = { room, room + query->index->stride, room + 2 * query->index->stride };
  guint told = 0;

  do
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      if (rows[0] > told && progress != NULL)
        {
          double left = (double) (n_rows - rows[0]) / n_rows;

          /* Choices that begin with a later paint are fewer by the power of their number. */
          progress (1.0 - pow (left, level->n_paints), progress_data);
          told = rows[0];
        }
      scan_prefix (query, level, rows, lab);
    }
  while (ts_index_next_choice (rows, level->n_paints - 1, n_rows - 1));
  return TRUE;
}

static gboolean
pass (Query *query, GCancellable *cancellable, GError **error)
{
  for (guint n = 2; n <= query->index->most; n++)
    if (query->index->level[n].is_boxed &&
        !pass_level (query, &query->index->level[n], cancellable, error))
      return FALSE;
  return TRUE;
}

/**
 * ts_recipe_index_search:
 * @self: the index
 * @target: the wanted colour, D50
 * @best: (inout): takes the offers
 * @cancellable: (nullable): to stop it
 * @progress: (nullable) (scope call): told how far it is, where it takes long
 * @progress_data: for @progress
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with %G_IO_ERROR_CANCELLED
 */
gboolean
ts_recipe_index_search (const TsRecipeIndex *self, TsLab target, TsRecipeBest *best,
                        GCancellable *cancellable, TsProgressFunc progress, gpointer progress_data,
                        GError **error)
{
  static const TsLabBox everywhere = { { -20.0, -250.0, -250.0 }, { 120.0, 250.0, 250.0 } };
  Query query = { .index = self, .best = best, .target = target };
  gboolean done = FALSE;
  gboolean stopped = FALSE;
  double n_boxes = 0.0;

  for (guint n = 2; n <= self->most; n++)
    if (self->level[n].is_boxed)
      n_boxes += (double) self->level[n].n_families * self->level[n].n_groups;
  query.many = n_boxes > MANY_BOXES;

  for (double radius = FIRST_RADIUS; !done && !stopped; radius *= GROWTH)
    {
      double worst = ts_recipe_best_get_worst (best) + SLACK;
      double here = MIN (radius, worst);

      query.box = everywhere;
      set_radius (&query, here);
      stopped = !pass (&query, cancellable, error);
      done = here >= WHOLE_RADIUS || ts_recipe_best_get_worst (best) + SLACK <= here;
    }
  for (guint n = 2; n <= self->most && !stopped; n++)
    {
      if (self->level[n].is_boxed || self->level[n].parts->len == 0)
        continue;
      query.box = everywhere;
      set_radius (&query, MIN (ts_recipe_best_get_worst (best) + SLACK, WHOLE_RADIUS));
      stopped = !scan_level (&query, &self->level[n], cancellable, progress, progress_data, error);
    }
  g_free (query.groups);
  ts_lab_grid_free (query.grid);
  return !stopped;
}
