/* ts-joint-chain.c: the steps as a chain, and the cheapest way along it at given prices
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Between neighbours A and B |A| + |B| - 2 |A and B| paints come in or go out. For a recipe B the
 * cheapest A before it is found over the subsets of B: a subset of both that is not all they have
 * in common only seems dearer, so the least over the subsets is right. That makes a step's cost
 * grow with the number of its recipes and not with its square.
 */
#include "palette/ts-joint-chain-private.h"

#include <math.h>
#include <string.h>

#define BLOCK 65536 /* numbers */

static guint
number_paint (TsJointChain *self, GHashTable *numbers, guint paint)
{
  gpointer key = GUINT_TO_POINTER (paint + 1);
  guint number = GPOINTER_TO_UINT (g_hash_table_lookup (numbers, key));

  if (number == 0)
    {
      g_array_append_val (self->paints, paint);
      number = self->paints->len;
      g_hash_table_insert (numbers, key, GUINT_TO_POINTER (number));
    }
  return number - 1;
}

/* In blocks: a chain of some ten thousand recipes is freed at once. */
static guint *
take_room (TsJointChain *self, guint n)
{
  guint *room;

  if (self->n_left < n)
    {
      self->n_left = MAX (n, BLOCK);
      g_ptr_array_add (self->subsets, g_new (guint, self->n_left));
      self->n_taken = 0;
    }
  room = (guint *) g_ptr_array_index (self->subsets, self->subsets->len - 1) + self->n_taken;
  self->n_taken += n;
  self->n_left -= n;
  return room;
}

/* Paints of a subset, rising, each plus 1; then 0. */
typedef struct
{
  guint16 paint[TS_RECIPE_MAX_PAINTS];
} Subset;

static guint
hash_subset (gconstpointer data)
{
  const Subset *subset = data;
  guint hash = 5381;

  for (guint i = 0; i < TS_RECIPE_MAX_PAINTS; i++)
    hash = hash * 33 + subset->paint[i];
  return hash;
}

static gboolean
equal_subsets (gconstpointer one, gconstpointer other)
{
  return memcmp (one, other, sizeof (Subset)) == 0;
}

static guint
number_subset (TsJointChain *self, GHashTable *numbers, const TsChainRecipe *recipe, guint mask)
{
  Subset subset = { { 0 } };
  gpointer found;
  guint n = 0;

  for (guint i = 0; i < recipe->n; i++)
    if (mask & (1u << i))
      subset.paint[n++] = (guint16) (recipe->paint[i] + 1);
  found = g_hash_table_lookup (numbers, &subset);
  if (found == NULL)
    {
      Subset *key = (Subset *) (gpointer) take_room (self, sizeof subset / sizeof (guint));

      *key = subset;
      found = GUINT_TO_POINTER (++self->n_subsets);
      g_hash_table_insert (numbers, key, found);
    }
  return GPOINTER_TO_UINT (found) - 1;
}

static int
compare_places (gconstpointer one, gconstpointer other)
{
  const guint16 *first = one, *second = other;

  return (int) *first - (int) *second;
}

static void
add_recipe (TsJointChain *self, guint step, const TsRecipe *recipe, guint place, GHashTable *paints,
            GHashTable *subsets)
{
  TsChainRecipe own = { .n = recipe->n_paints, .cost = recipe->delta_e_drop_error, .place = place };

  for (guint i = 0; i < own.n; i++)
    own.paint[i] = (guint16) number_paint (self, paints, recipe->paint[i]);
  qsort (own.paint, own.n, sizeof *own.paint, compare_places);
  own.subset = take_room (self, 1u << own.n);
  for (guint mask = 0; mask < 1u << own.n; mask++)
    own.subset[mask] = number_subset (self, subsets, &own, mask);
  g_array_append_val (self->steps[step], own);
}

static void
make_room (TsJointChain *self)
{
  self->reach = g_new (double, self->n_subsets + 1);
  self->reach_step = g_new0 (guint, self->n_subsets + 1);
  self->reach_from = g_new0 (guint, self->n_subsets + 1);
  self->least = g_new (double *, self->n_steps);
  self->from = g_new (guint *, self->n_steps);
  for (guint i = 0; i < self->n_steps; i++)
    {
      self->least[i] = g_new (double, self->steps[i]->len + 1);
      self->from[i] = g_new0 (guint, self->steps[i]->len + 1);
    }
}

/* Once it is cancelled the chain is of no use, and nothing has a way. */
TsJointChain *
ts_joint_chain_new (const GArray *steps, double change, GCancellable *cancellable)
{
  TsJointChain *self = g_new0 (TsJointChain, 1);
  g_autoptr (GHashTable) paints = g_hash_table_new (NULL, NULL);
  g_autoptr (GHashTable) subsets = g_hash_table_new (hash_subset, equal_subsets);

  self->n_steps = steps->len;
  self->cancellable = cancellable;
  self->change = change;
  self->steps = g_new (GArray *, steps->len);
  self->apart = g_new (gboolean, steps->len);
  self->paints = g_array_new (FALSE, FALSE, sizeof (guint));
  self->subsets = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < steps->len; i++)
    {
      const TsJointStep *step = &g_array_index (steps, TsJointStep, i);

      self->apart[i] = step->apart;
      self->steps[i] = g_array_new (FALSE, FALSE, sizeof (TsChainRecipe));
      for (guint j = 0; j < step->recipes->len && !g_cancellable_is_cancelled (cancellable); j++)
        add_recipe (self, i, &g_array_index (step->recipes, TsRecipe, j), j, paints, subsets);
    }
  make_room (self);
  return self;
}

void
ts_joint_chain_free (TsJointChain *self)
{
  for (guint i = 0; i < self->n_steps; i++)
    {
      g_array_unref (self->steps[i]);
      g_free (self->least[i]);
      g_free (self->from[i]);
    }
  g_free (self->steps);
  g_free (self->apart);
  g_free (self->least);
  g_free (self->from);
  g_free (self->reach);
  g_free (self->reach_step);
  g_free (self->reach_from);
  g_array_unref (self->paints);
  g_ptr_array_unref (self->subsets);
  g_free (self);
}

/* What a recipe costs in its step, or infinity where it may not be used. */
static double
price_of (const TsJointChain *self, const TsChainRecipe *recipe, guint step, const guint8 *state,
          const double *price)
{
  double cost = recipe->cost;

  for (guint i = 0; i < recipe->n; i++)
    {
      guint paint = recipe->paint[i];

      if (state[paint] == TS_PRICE_OUT)
        return (double) INFINITY;
      if (state[paint] == TS_PRICE_FREE && price != NULL)
        cost += price[(gsize) step * self->paints->len + paint];
    }
  return cost;
}

/* Least cost of the way up to @recipe, without it. */
static double
cost_before (const TsJointChain *self, const TsChainRecipe *recipe, guint turn, guint *from)
{
  double least = (double) INFINITY;
  double together = 2.0 * self->change;

  for (guint mask = 0; mask < 1u << recipe->n; mask++)
    {
      guint subset = recipe->subset[mask];
      double cost;

      if (self->reach_step[subset] != turn)
        continue;
      cost = self->reach[subset] - together * __builtin_popcount (mask);
      if (cost < least)
        {
          least = cost;
          *from = self->reach_from[subset];
        }
    }
  return least + self->change * recipe->n;
}

static void
offer_subsets (TsJointChain *self, const TsChainRecipe *recipe, guint turn, double least,
               guint place)
{
  double cost = least + self->change * recipe->n;

  for (guint mask = 0; mask < 1u << recipe->n; mask++)
    {
      guint subset = recipe->subset[mask];

      if (self->reach_step[subset] == turn && self->reach[subset] <= cost)
        continue;
      self->reach_step[subset] = turn;
      self->reach[subset] = cost;
      self->reach_from[subset] = place;
    }
}

static guint
find_least (const double *least, guint n)
{
  guint best = 0;

  for (guint i = 1; i < n; i++)
    if (least[i] < least[best])
      best = i;
  return best;
}

/* The chain from its first step on, or from its last. Turns count from 1. */
static double
walk (TsJointChain *self, const guint8 *state, const double *price, gboolean backwards)
{
  guint last = 0;
  double cost = 0.0;

  memset (self->reach_step, 0, self->n_subsets * sizeof *self->reach_step);
  for (guint turn = 1; turn <= self->n_steps; turn++)
    {
      guint step = backwards ? self->n_steps - turn : turn - 1;
      GArray *recipes = self->steps[step];
      gboolean apart = turn == 1 || self->apart[backwards ? step + 1 : step];

      if (g_cancellable_is_cancelled (self->cancellable))
        return (double) INFINITY;

      for (guint i = 0; i < recipes->len; i++)
        {
          const TsChainRecipe *recipe = &g_array_index (recipes, TsChainRecipe, i);
          double here = price_of (self, recipe, step, state, price);

          self->from[step][i] = last;
          if (here < (double) INFINITY)
            here += apart ? cost : cost_before (self, recipe, turn - 1, &self->from[step][i]);
          self->least[step][i] = here;
        }
      for (guint i = 0; i < recipes->len; i++)
        if (self->least[step][i] < (double) INFINITY)
          offer_subsets (self, &g_array_index (recipes, TsChainRecipe, i), turn,
                         self->least[step][i], i);
      last = find_least (self->least[step], recipes->len);
      cost = recipes->len > 0 ? self->least[step][last] : (double) INFINITY;
    }
  return cost;
}

/**
 * ts_joint_chain_run:
 * @self: a chain
 * @state: (array): of each paint, a #TsPriceState
 * @price: (array) (nullable): of each step and paint, what using it there costs where it is free
 * @path: (out) (array): the recipe taken in each step
 *
 * Returns: what the cheapest way costs, or infinity where there is none
 */
double
ts_joint_chain_run (TsJointChain *self, const guint8 *state, const double *price, guint *path)
{
  double cost = walk (self, state, price, FALSE);
  guint last = self->n_steps - 1;

  if (!(cost < (double) INFINITY))
    return cost;
  path[last] = find_least (self->least[last], self->steps[last]->len);
  for (guint i = last; i > 0; i--)
    path[i - 1] = self->from[i][path[i]];
  return cost;
}

/**
 * ts_joint_chain_prune:
 * @self: a chain
 * @state: (array): as for ts_joint_chain_run()
 * @price: (array): as for ts_joint_chain_run()
 * @most: cost of a way that is known
 *
 * A recipe's cheapest way costs the least up to it and the least from it on, less its own price,
 * which is in both.
 */
void
ts_joint_chain_prune (TsJointChain *self, const guint8 *state, const double *price, double most)
{
  g_autofree double **forwards = g_new (double *, self->n_steps);

  walk (self, state, price, FALSE);
  for (guint i = 0; i < self->n_steps; i++)
    forwards[i] = g_memdup2 (self->least[i], self->steps[i]->len * sizeof (double));
  walk (self, state, price, TRUE);
  for (guint i = 0; i < self->n_steps; i++)
    {
      GArray *recipes = self->steps[i];
      guint kept = 0;

      for (guint j = 0; j < recipes->len; j++)
        {
          TsChainRecipe *recipe = &g_array_index (recipes, TsChainRecipe, j);
          double through =
            forwards[i][j] + self->least[i][j] - price_of (self, recipe, i, state, price);

          if (through <= most)
            g_array_index (recipes, TsChainRecipe, kept++) = *recipe;
        }
      g_array_set_size (recipes, kept);
      g_free (forwards[i]);
    }
}

static guint
count_common (const TsChainRecipe *one, const TsChainRecipe *other)
{
  guint count = 0;

  for (guint i = 0; i < one->n; i++)
    for (guint j = 0; j < other->n; j++)
      count += one->paint[i] == other->paint[j] ? 1 : 0;
  return count;
}

double
ts_joint_chain_sum (const TsJointChain *self, const guint *path, guint *n_changes)
{
  double sum = 0.0;

  *n_changes = 0;
  for (guint i = 0; i < self->n_steps; i++)
    {
      const TsChainRecipe *recipe = &g_array_index (self->steps[i], TsChainRecipe, path[i]);
      const TsChainRecipe *before =
        i > 0 ? &g_array_index (self->steps[i - 1], TsChainRecipe, path[i - 1]) : NULL;

      sum += recipe->cost;
      if (before != NULL && !self->apart[i])
        *n_changes += before->n + recipe->n - 2 * count_common (before, recipe);
    }
  return sum;
}
