/* ts-joint-solve.c: the cheapest way along a chain when each paint in all costs once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What a paint costs is shared out among the steps: a step that uses it pays its share. However it
 * is shared out, the cheapest way at those prices costs no more than any way really does, which is
 * a bound (Lagrangian relaxation; Geoffrion 1974). The shares are moved to where the paint is used
 * until the bound rises no more (subgradients; Held, Wolfe and Crowder 1974). What gap is left is
 * closed by cases: a paint is bought, or it is not used (branch and bound; Land and Doig 1960).
 */
#include "palette/ts-joint-solve-private.h"

#include <math.h>
#include <string.h>

#define ROOT_TURNS 160
#define NODE_TURNS 14
#define MOST_WORK 400e6 /* subsets looked at: some seconds; then the gap is told */
#define SAME 1e-9
#define LIMIT_TURNS 12 /* to find what a paint costs where their number is limited */

typedef struct
{
  /* Borrowed */
  TsJointChain *chain;
  const TsJointWeights *weights;
  GCancellable *cancellable;

  /* Owned */
  guint *best;      /* places in the steps as given */
  guint8 *in_union; /* room */
  guint *path;      /* room */
  guint8 *polish;   /* room: states */
  guint *polished;  /* room: path */
  guint8 *marked;   /* of each paint: whether a way uses it */

  double paint_price; /* what a paint costs, the limit's price with it */
  double limit_price;
  double cost; /* of the best way */
  double open; /* least bound of what was not looked into */
  double work;
  guint n_paints;
} Solver;

/* One case: some paints bought, some not used, the rest at shared-out prices. */
typedef struct
{
  guint8 *state;
  double *price; /* [step][paint] */
} Case;

static Case
case_new (const Solver *self, const Case *parent)
{
  gsize n = (gsize) self->chain->n_steps * self->n_paints;
  Case result;

  result.state = parent != NULL ? g_memdup2 (parent->state, self->n_paints)
                                : g_malloc0 (MAX (1, self->n_paints));
  result.price =
    parent != NULL ? g_memdup2 (parent->price, n * sizeof (double)) : g_new0 (double, n + 1);
  return result;
}

static void
case_clear (Case *self)
{
  g_free (self->state);
  g_free (self->price);
}

static double
chain_size (const TsJointChain *chain)
{
  double size = 0.0;

  for (guint i = 0; i < chain->n_steps; i++)
    size += 8.0 * chain->steps[i]->len;
  return size;
}

/* Once it is stopped nothing has a way any more, and all that waits for one ends. */
static double
run (Solver *self, const guint8 *state, const double *price, guint *path)
{
  if (g_cancellable_is_cancelled (self->cancellable))
    return (double) INFINITY;
  self->work += chain_size (self->chain);
  return ts_joint_chain_run (self->chain, state, price, path);
}

/* Marks the paints of @path; returns how many. */
static guint
mark_union (const Solver *self, const guint *path, guint8 *marks)
{
  guint count = 0;

  memset (marks, 0, self->n_paints);
  for (guint i = 0; i < self->chain->n_steps; i++)
    {
      const TsChainRecipe *recipe = &g_array_index (self->chain->steps[i], TsChainRecipe, path[i]);

      for (guint j = 0; j < recipe->n; j++)
        {
          count += marks[recipe->paint[j]] ? 0 : 1;
          marks[recipe->paint[j]] = 1;
        }
    }
  return count;
}

/* What a way really costs; takes it where it is the best so far. */
static double
consider (Solver *self, const guint *path)
{
  guint n_changes;
  double sum = ts_joint_chain_sum (self->chain, path, &n_changes);
  guint n = mark_union (self, path, self->marked);
  double cost = sum + self->weights->change * n_changes + self->weights->paint * n;

  if (self->weights->most_paints > 0 && n > self->weights->most_paints)
    return (double) INFINITY;
  if (cost < self->cost - SAME)
    {
      self->cost = cost;
      for (guint i = 0; i < self->chain->n_steps; i++)
        self->best[i] = g_array_index (self->chain->steps[i], TsChainRecipe, path[i]).place;
    }
  return cost;
}

/* The cheapest way with the paints marked in @in only, with what those used cost; infinity for
 * none. */
static double
cost_within (Solver *self, const guint8 *in, guint *n_used)
{
  double cost;

  for (guint p = 0; p < self->n_paints; p++)
    self->polish[p] = in[p] ? TS_PRICE_PAID : TS_PRICE_OUT;
  cost = run (self, self->polish, NULL, self->polished);
  if (!(cost < (double) INFINITY))
    return cost;
  consider (self, self->polished);
  *n_used = mark_union (self, self->polished, self->marked);
  return cost + self->weights->paint * *n_used;
}

/* Leaves out one paint after another as long as that pays, or as long as there are too many. */
static void
improve (Solver *self, const guint *path)
{
  guint n = mark_union (self, path, self->in_union);
  double cost = cost_within (self, self->in_union, &n);
  gboolean better = TRUE;

  memcpy (self->in_union, self->marked, self->n_paints);
  while (better)
    {
      gboolean too_many = self->weights->most_paints > 0 && n > self->weights->most_paints;
      double least = too_many ? (double) INFINITY : cost - SAME;
      int out = -1;

      for (guint p = 0; p < self->n_paints; p++)
        if (self->in_union[p])
          {
            guint n_used;
            double without;

            self->in_union[p] = 0;
            without = cost_within (self, self->in_union, &n_used);
            self->in_union[p] = 1;
            if (without < least)
              {
                least = without;
                out = (int) p;
              }
          }
      better = out >= 0;
      if (better)
        {
          self->in_union[out] = 0;
          cost = cost_within (self, self->in_union, &n);
          memcpy (self->in_union, self->marked, self->n_paints);
        }
    }
}

/* Nearest point with @n numbers of at least 0 that add up to @sum (Held, Wolfe and Crowder 1974):
 * the same is taken off all that stay above 0. */
static void
project (double *numbers, guint n, gsize stride, double sum)
{
  double off = 0.0;
  guint left = n;

  for (guint turn = 0; turn <= n; turn++)
    {
      double total = 0.0;
      guint above = 0;

      for (guint i = 0; i < n; i++)
        if (numbers[i * stride] > off)
          {
            total += numbers[i * stride];
            above++;
          }
      if (above == 0)
        break;
      off = (total - sum) / above;
      if (above == left && turn > 0)
        break;
      left = above;
    }
  for (guint i = 0; i < n; i++)
    numbers[i * stride] = MAX (0.0, numbers[i * stride] - off);
}

static gboolean
uses (const TsChainRecipe *recipe, guint paint)
{
  for (guint i = 0; i < recipe->n; i++)
    if (recipe->paint[i] == paint)
      return TRUE;
  return FALSE;
}

/* Moves the shares of each paint that @path uses towards the steps that use it. @gap is how far the
 * bound lies below the best way. */
static void
move_shares (Solver *self, Case *at, const guint *path, double gap, double eagerness)
{
  guint n_steps = self->chain->n_steps;
  double norm = 0.0;

  mark_union (self, path, self->marked);
  for (guint p = 0; p < self->n_paints; p++)
    {
      guint n = 0;

      if (!self->marked[p] || at->state[p] != TS_PRICE_FREE)
        continue;
      for (guint i = 0; i < n_steps; i++)
        n += uses (&g_array_index (self->chain->steps[i], TsChainRecipe, path[i]), p) ? 1 : 0;
      norm += (double) n * (n_steps - n) / n_steps;
    }
  if (!(norm > 0.0))
    return;
  for (guint p = 0; p < self->n_paints; p++)
    {
      if (!self->marked[p] || at->state[p] != TS_PRICE_FREE)
        continue;
      for (guint i = 0; i < n_steps; i++)
        if (uses (&g_array_index (self->chain->steps[i], TsChainRecipe, path[i]), p))
          at->price[(gsize) i * self->n_paints + p] += eagerness * gap / norm;
      project (at->price + p, n_steps, self->n_paints, self->paint_price);
    }
}

static double
fixed_cost (const Solver *self, const Case *at)
{
  guint n_bought = 0;

  for (guint p = 0; p < self->n_paints; p++)
    n_bought += at->state[p] == TS_PRICE_PAID ? 1 : 0;
  return self->paint_price * n_bought - self->limit_price * self->weights->most_paints;
}

/* Raises the bound of a case; the prices of the best one stay in it, its way in self->path. */
static double
raise_bound (Solver *self, Case *at, guint turns)
{
  gsize n = (gsize) self->chain->n_steps * self->n_paints;
  g_autofree double *best_price = g_memdup2 (at->price, n * sizeof (double));
  double fixed = fixed_cost (self, at);
  double best = -(double) INFINITY;
  double eagerness = 1.0;
  guint idle = 0;

  for (guint turn = 0; turn < turns; turn++)
    {
      double bound = run (self, at->state, at->price, self->path) + fixed;
      double gap;

      if (!(bound < (double) INFINITY))
        return (double) INFINITY;
      consider (self, self->path);
      if (bound > best + SAME)
        {
          best = bound;
          idle = 0;
          if (best_price != NULL)
            memcpy (best_price, at->price, n * sizeof (double));
        }
      else if (++idle == 4)
        {
          eagerness *= 0.6;
          idle = 0;
        }
      if (best >= self->cost - SAME)
        break;
      gap = self->cost < (double) INFINITY ? self->cost - bound : 0.1 * fabs (bound) + 0.5;
      if (turn % 40 == 8)
        improve (self, self->path);
      move_shares (self, at, self->path, gap, eagerness);
    }
  if (best_price != NULL)
    memcpy (at->price, best_price, n * sizeof (double));
  run (self, at->state, at->price, self->path);
  return best;
}

/* The paint of self->path, still at prices, that pays the least of its cost; -1 where there is
 * none. */
static int
choose_paint (Solver *self, const Case *at)
{
  double most = -1.0;
  int chosen = -1;

  mark_union (self, self->path, self->marked);
  for (guint p = 0; p < self->n_paints; p++)
    {
      double unpaid = self->paint_price;

      if (!self->marked[p] || at->state[p] != TS_PRICE_FREE)
        continue;
      for (guint i = 0; i < self->chain->n_steps; i++)
        if (uses (&g_array_index (self->chain->steps[i], TsChainRecipe, self->path[i]), p))
          unpaid -= at->price[(gsize) i * self->n_paints + p];
      if (unpaid > most)
        {
          most = unpaid;
          chosen = (int) p;
        }
    }
  return chosen;
}

static guint
count_bought (const Solver *self, const Case *at)
{
  guint n = 0;

  for (guint p = 0; p < self->n_paints; p++)
    n += at->state[p] == TS_PRICE_PAID ? 1 : 0;
  return n;
}

static void
close_rest (Solver *self, Case *at)
{
  guint limit = self->weights->most_paints;

  if (limit == 0 || count_bought (self, at) < limit)
    return;
  for (guint p = 0; p < self->n_paints; p++)
    if (at->state[p] == TS_PRICE_FREE)
      at->state[p] = TS_PRICE_OUT;
}

/* Both cases of one paint, and so on. @bound is what the case is known to cost at least. */
static gboolean
explore (Solver *self, const Case *at, int paint, double bound, GError **error)
{
  static const guint8 states[2] = { TS_PRICE_PAID, TS_PRICE_OUT };

  for (guint i = 0; i < 2; i++)
    {
      Case child;
      double least;
      gboolean go_on = TRUE;
      int next;

      if (g_cancellable_set_error_if_cancelled (self->cancellable, error))
        return FALSE;
      if (bound >= self->cost - SAME)
        return TRUE;
      if (self->work > MOST_WORK)
        {
          self->open = MIN (self->open, bound);
          return TRUE;
        }
      child = case_new (self, at);
      child.state[paint] = states[i];
      close_rest (self, &child);
      least = MAX (bound, raise_bound (self, &child, NODE_TURNS));
      next = least < self->cost - SAME ? choose_paint (self, &child) : -1;
      if (next >= 0)
        go_on = explore (self, &child, next, least, error);
      case_clear (&child);
      if (!go_on)
        return FALSE;
    }
  return TRUE;
}

/* Shares out every paint's cost evenly. */
static void
share_evenly (const Solver *self, Case *at)
{
  gsize n = (gsize) self->chain->n_steps * self->n_paints;

  for (gsize i = 0; i < n; i++)
    at->price[i] = self->paint_price / self->chain->n_steps;
}

/* What a further paint should cost so that no more are taken than may be: the price of the limit at
 * which the bound is highest, found by halving. */
static void
price_the_limit (Solver *self, Case *root)
{
  double low = 0.0, high = 8.0;

  if (self->weights->most_paints == 0)
    return;
  for (guint turn = 0; turn < LIMIT_TURNS; turn++)
    {
      self->limit_price = 0.5 * (low + high);
      self->paint_price = self->weights->paint + self->limit_price;
      share_evenly (self, root);
      if (!(raise_bound (self, root, ROOT_TURNS / 4) < (double) INFINITY))
        return;
      if (mark_union (self, self->path, self->marked) > self->weights->most_paints)
        low = self->limit_price;
      else
        high = self->limit_price;
    }
  self->limit_price = high;
  self->paint_price = self->weights->paint + high;
  share_evenly (self, root);
}

static gboolean
solve (Solver *self, GError **error)
{
  Case root = case_new (self, NULL);
  gboolean done = TRUE;
  double bound;
  int paint;

  price_the_limit (self, &root);
  share_evenly (self, &root);
  bound = raise_bound (self, &root, ROOT_TURNS);
  if (bound < self->cost - SAME && self->cost < (double) INFINITY)
    ts_joint_chain_prune (self->chain, root.state, root.price,
                          self->cost - fixed_cost (self, &root) + 1e-6);
  self->open = (double) INFINITY;
  if (bound < self->cost - SAME && bound < (double) INFINITY)
    {
      bound = MAX (bound, raise_bound (self, &root, ROOT_TURNS / 4));
      paint = choose_paint (self, &root);
      if (paint >= 0)
        done = explore (self, &root, paint, bound, error);
    }
  self->open = MIN (self->open, self->cost);
  case_clear (&root);
  return done && !g_cancellable_set_error_if_cancelled (self->cancellable, error);
}

static void
solver_clear (Solver *self)
{
  g_free (self->best);
  g_free (self->in_union);
  g_free (self->path);
  g_free (self->polish);
  g_free (self->polished);
  g_free (self->marked);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Solver, solver_clear)

/**
 * ts_joint_solve:
 * @chain: the steps; recipes that no best way goes through are lost
 * @weights: what changes and paints cost, and how many there may be
 * @path: (out) (array): place of the recipe of each step
 * @cost: (out): what it costs, or infinity where no way was found
 * @bound: (out): no way costs less
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Returns: %FALSE with %G_IO_ERROR_CANCELLED
 */
gboolean
ts_joint_solve (TsJointChain *chain, const TsJointWeights *weights, guint *path, double *cost,
                double *bound, GCancellable *cancellable, GError **error)
{
  g_auto (Solver) self = {
    .chain = chain,
    .weights = weights,
    .cancellable = cancellable,
    .cost = (double) INFINITY,
    .paint_price = weights->paint,
    .n_paints = chain->paints->len,
  };

  self.best = g_new0 (guint, chain->n_steps);
  self.path = g_new0 (guint, chain->n_steps);
  self.polished = g_new0 (guint, chain->n_steps);
  self.in_union = g_malloc0 (self.n_paints + 1);
  self.polish = g_malloc0 (self.n_paints + 1);
  self.marked = g_malloc0 (self.n_paints + 1);
  if (g_cancellable_set_error_if_cancelled (cancellable, error) || !solve (&self, error))
    return FALSE;
  memcpy (path, self.best, chain->n_steps * sizeof (guint));
  *cost = self.cost;
  *bound = self.open;
  return TRUE;
}
