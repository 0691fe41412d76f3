/* ts-mixing-sequence.c: the order of work at the palette: put out, paint, keep, add
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each way from the base is planned from its end: the last puddle must do for its step, the one
 * before for its own step and for what is kept of it, and so on. What is kept, added and put out
 * are whole drops; of all ways to reach a mix so, the one that wastes least is taken.
 */
#include "palette/ts-mixing-sequence.h"

#include <math.h>
#include <string.h>

#define LEAST_NEED 1.0    /* drops: less cannot be mixed or brushed */
#define MORE 24           /* drops a puddle may be larger than needed */
#define MOST_KEPT 96      /* drops */
#define SHARE_ERROR 0.005 /* of each paint's share; what is promised is 0.01 */
#define NEW_PUDDLE 1.5    /* drops that a walk on the palette is worth more than a clean place */

struct _TsMixingSequence
{
  GArray *works; /* TsWork */
};

/* How a puddle comes about: of @kept drops of the one before and @drops of each paint. */
typedef struct
{
  double cost; /* infinity: not looked at, or no way */
  guint total, kept;
  guint drops[TS_RECIPE_MAX_PAINTS];
} Puddle;

/* One way from the base: recipes outwards, the base first, and what each step needs. */
typedef struct
{
  const TsRecipe *recipe[TS_MIXING_MOST_STEPS];
  double need[TS_MIXING_MOST_STEPS];
  guint step[TS_MIXING_MOST_STEPS];
  guint n;
  Puddle *puddles; /* [place][kept for the next one] */
} Branch;

/**
 * ts_sequence_settings_init:
 * @settings: (out): becomes the usual, with the first step as base
 */
void
ts_sequence_settings_init (TsSequenceSettings *settings)
{
  *settings = (TsSequenceSettings){
    .area = TS_USUAL_AREA,
    .coats = TS_USUAL_COATS,
    .drop = TS_USUAL_DROP,
  };
}

/**
 * ts_sequence_settings_get_need:
 * @settings: how much is painted
 * @n_steps: steps of the stair
 * @step: one of them
 *
 * Returns: drops of paint that @step takes, with something to spare, at least 1: the base covers
 *   the whole area and each other step its band of it
 */
double
ts_sequence_settings_get_need (const TsSequenceSettings *settings, guint n_steps, guint step)
{
  double share = settings->shares != NULL ? settings->shares[step] : 1.0 / MAX (1, n_steps);
  double area = settings->area * (step == settings->base ? 1.0 : share);
  double volume = area * settings->coats * TS_USUAL_FILM * (1.0 + TS_USUAL_SPARE);

  return MAX (LEAST_NEED, volume / settings->drop);
}

static guint
total_parts (const TsRecipe *recipe)
{
  guint total = 0;

  for (guint i = 0; i < recipe->n_paints; i++)
    total += recipe->parts[i];
  return total;
}

static double
share_of (const TsRecipe *recipe, guint paint)
{
  for (guint i = 0; i < recipe->n_paints; i++)
    if (recipe->paint[i] == paint)
      return (double) recipe->parts[i] / total_parts (recipe);
  return 0.0;
}

/* Whether @total drops of @to can be made from @kept drops of @from and whole drops. */
static gboolean
mix_from (const TsRecipe *from, const TsRecipe *to, guint total, guint kept, guint *drops)
{
  double common = 0.0;
  guint sum = kept;

  for (guint i = 0; i < to->n_paints; i++)
    {
      double share = share_of (to, to->paint[i]);
      double there = kept > 0 ? kept * share_of (from, to->paint[i]) : 0.0;
      double add = round (total * share - there);

      if (add < 0.0 || fabs ((there + add) / total - share) > SHARE_ERROR * share)
        return FALSE;
      drops[i] = (guint) add;
      sum += drops[i];
      common += there;
    }
  /* What is kept must hold no paint that is not wanted. */
  return sum == total && common >= kept * (1.0 - 1e-9);
}

static const Puddle *plan_puddle (Branch *branch, guint place, guint kept_for_next);

/* The cheapest puddle at @place of at least @need drops. */
static Puddle
find_puddle (Branch *branch, guint place, double need)
{
  Puddle best = { .cost = (double) INFINITY };
  guint least = (guint) ceil (need - 1e-9);
  guint more = MAX (MORE, total_parts (branch->recipe[place]));

  for (guint total = least; total <= least + more; total++)
    for (guint kept = 0; kept <= MIN (total, MOST_KEPT); kept++)
      {
        Puddle puddle = { .total = total, .kept = kept };

        if (!mix_from (branch->recipe[place - 1], branch->recipe[place], total, kept, puddle.drops))
          continue;
        puddle.cost = total - kept + (kept == 0 ? NEW_PUDDLE : 0.0) +
                      plan_puddle (branch, place - 1, kept)->cost;
        if (puddle.cost < best.cost - 1e-9)
          best = puddle;
      }
  return best;
}

/* The puddle at @place from which @kept_for_next drops go on to the next. The base itself is put
 * out once for both ways, so here it costs what is taken of it. */
static const Puddle *
plan_puddle (Branch *branch, guint place, guint kept_for_next)
{
  Puddle *puddle = &branch->puddles[place * (MOST_KEPT + 1) + kept_for_next];

  if (puddle->total > 0)
    return puddle;
  if (place == 0)
    *puddle = (Puddle){ .cost = kept_for_next, .total = MAX (1, kept_for_next) };
  else
    *puddle = find_puddle (branch, place, branch->need[place] + kept_for_next);
  return puddle;
}

static void
branch_init (Branch *self, const TsRecipe *recipes, guint n_steps,
             const TsSequenceSettings *settings, gboolean down)
{
  guint base = settings->base;

  self->n = down ? n_steps - base : base + 1;
  for (guint i = 0; i < self->n; i++)
    {
      self->step[i] = down ? base + i : base - i;
      self->recipe[i] = &recipes[self->step[i]];
      self->need[i] = ts_sequence_settings_get_need (settings, n_steps, self->step[i]);
    }
  self->puddles = g_new0 (Puddle, self->n * (MOST_KEPT + 1));
}

/* Fills @kept with what is kept of each puddle for the next one. */
static void
plan_branch (Branch *self, guint kept[TS_MIXING_MOST_STEPS])
{
  guint next = 0;

  for (guint i = self->n; i-- > 0;)
    {
      kept[i] = next;
      next = plan_puddle (self, i, next)->kept;
    }
}

static TsWork *
add_work (TsMixingSequence *self, TsWorkKind kind, guint step, double puddle)
{
  TsWork work = { .kind = kind, .step = step, .puddle = puddle };

  g_array_append_val (self->works, work);
  return &g_array_index (self->works, TsWork, self->works->len - 1);
}

static void
add_paints (TsWork *work, const TsRecipe *recipe, const guint *drops)
{
  for (guint i = 0; i < recipe->n_paints; i++)
    if (drops[i] > 0)
      {
        work->paint[work->n_paints] = recipe->paint[i];
        work->drops[work->n_paints++] = drops[i];
      }
}

/* Returns what is left in the puddle. */
static double
add_painting (TsMixingSequence *self, guint step, double need, double puddle,
              const TsSequenceSettings *settings)
{
  TsWork *work = add_work (self, TS_WORK_PAINT, step, puddle - need);

  work->amount = need;
  work->medium = (guint) ceil (need * settings->thinning - 1e-9);
  return puddle - need;
}

/* Leaves @kept drops of @puddle, which were made for the step before. */
static void
add_keeping (TsMixingSequence *self, guint step, double puddle, double kept)
{
  double left = MAX (0.0, puddle - kept);
  TsWork *work;

  if (kept > 0.0 && left < 1e-9)
    return;
  if (kept <= 0.0 && puddle <= 1e-9)
    return;
  work = add_work (self, kept > 0.0 ? TS_WORK_KEEP : TS_WORK_CLEAR, step, kept);
  work->amount = kept;
  work->left = left;
}

/* From the base outwards; @kept drops of it are there. */
static void
walk_branch (TsMixingSequence *self, Branch *branch, const guint *kept,
             const TsSequenceSettings *settings)
{
  double puddle = kept[0];

  for (guint i = 1; i < branch->n; i++)
    {
      const Puddle *plan = plan_puddle (branch, i, kept[i]);
      TsWork *work;

      if (plan->total > plan->kept)
        {
          work = add_work (self, plan->kept > 0 ? TS_WORK_ADD : TS_WORK_PUT_OUT, branch->step[i],
                           plan->total);
          add_paints (work, branch->recipe[i], plan->drops);
        }
      puddle = add_painting (self, branch->step[i], branch->need[i], plan->total, settings);
      add_keeping (self, branch->step[i], puddle, kept[i]);
      puddle = kept[i];
    }
}

/* The base: put out, painted, part set aside, part kept. */
static void
begin (TsMixingSequence *self, const Branch *down, guint for_down, guint for_up,
       const TsSequenceSettings *settings)
{
  const TsRecipe *recipe = down->recipe[0];
  guint parts = total_parts (recipe);
  double needed = down->need[0] + for_down + for_up;
  guint times = (guint) MAX (1.0, ceil (needed / parts - 1e-9));
  guint drops[TS_RECIPE_MAX_PAINTS];
  double puddle = times * parts;

  for (guint i = 0; i < recipe->n_paints; i++)
    drops[i] = times * recipe->parts[i];
  add_paints (add_work (self, TS_WORK_PUT_OUT, settings->base, puddle), recipe, drops);
  puddle = add_painting (self, settings->base, down->need[0], puddle, settings);
  if (for_up > 0 && down->n > 1)
    {
      TsWork *work = add_work (self, TS_WORK_SET_ASIDE, settings->base, puddle - for_up);

      work->amount = for_up;
      puddle -= for_up;
    }
  else if (down->n == 1)
    for_down = for_up;
  add_keeping (self, settings->base, puddle, for_down);
}

/**
 * ts_mixing_sequence_new:
 * @recipes: (array length=n_steps): predicted recipes, the lightest step first
 * @n_steps: 1 to %TS_MIXING_MOST_STEPS
 * @settings: the base and how much is painted
 *
 * Returns: (transfer full): what to do in which order
 */
TsMixingSequence *
ts_mixing_sequence_new (const TsRecipe *recipes, guint n_steps, const TsSequenceSettings *settings)
{
  TsMixingSequence *self = g_atomic_rc_box_new0 (TsMixingSequence);
  guint kept_down[TS_MIXING_MOST_STEPS], kept_up[TS_MIXING_MOST_STEPS];
  Branch down, up;

  g_return_val_if_fail (n_steps >= 1 && n_steps <= TS_MIXING_MOST_STEPS, NULL);
  g_return_val_if_fail (settings->base < n_steps && settings->drop > 0.0, NULL);

  self->works = g_array_new (FALSE, FALSE, sizeof (TsWork));
  branch_init (&down, recipes, n_steps, settings, TRUE);
  branch_init (&up, recipes, n_steps, settings, FALSE);
  plan_branch (&down, kept_down);
  plan_branch (&up, kept_up);
  begin (self, &down, kept_down[0], kept_up[0], settings);
  walk_branch (self, &down, kept_down, settings);
  if (kept_up[0] > 0 && down.n > 1)
    add_work (self, TS_WORK_TAKE_UP, settings->base, kept_up[0])->amount = kept_up[0];
  walk_branch (self, &up, kept_up, settings);
  g_free (down.puddles);
  g_free (up.puddles);
  return self;
}

/**
 * ts_mixing_sequence_ref:
 * @self: a sequence
 *
 * Returns: (transfer full): the same
 */
TsMixingSequence *
ts_mixing_sequence_ref (TsMixingSequence *self)
{
  return g_atomic_rc_box_acquire (self);
}

static void
sequence_clear (gpointer data)
{
  TsMixingSequence *self = data;

  g_array_unref (self->works);
}

/**
 * ts_mixing_sequence_unref:
 * @self: (transfer full) (nullable): a sequence
 */
void
ts_mixing_sequence_unref (TsMixingSequence *self)
{
  if (self != NULL)
    g_atomic_rc_box_release_full (self, sequence_clear);
}

/**
 * ts_mixing_sequence_get_n:
 * @self: a sequence
 *
 * Returns: how many things there are to do
 */
guint
ts_mixing_sequence_get_n (const TsMixingSequence *self)
{
  return self->works->len;
}

/**
 * ts_mixing_sequence_get_work:
 * @self: a sequence
 * @index: which, from 0
 *
 * Returns: (transfer none): what to do
 */
const TsWork *
ts_mixing_sequence_get_work (const TsMixingSequence *self, guint index)
{
  g_return_val_if_fail (index < self->works->len, NULL);

  return &g_array_index (self->works, TsWork, index);
}

/**
 * ts_mixing_sequence_get_drops:
 * @self: a sequence
 * @left: (out) (optional): drops of mixed paint left over
 *
 * Returns: drops of paint that are put out in all
 */
guint
ts_mixing_sequence_get_drops (const TsMixingSequence *self, double *left)
{
  guint drops = 0;
  double rest = 0.0;

  for (guint i = 0; i < self->works->len; i++)
    {
      const TsWork *work = ts_mixing_sequence_get_work (self, i);

      for (guint j = 0; j < work->n_paints; j++)
        drops += work->drops[j];
      rest += work->left;
    }
  if (left != NULL)
    *left = rest;
  return drops;
}
