/* ts-recipe-best.c: the best few recipes so far, with unlike sets of paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-recipe-best.h"

#include "colour/ts-difference.h"

#include <math.h>

struct _TsRecipeBest
{
  /* Borrowed */
  const TsPaintSet *set;

  /* Owned */
  GArray *recipes; /* TsRecipe, nearest first */

  TsLab target;
  guint n_best;
};

/* Ties are decided at the ninth decimal: ts_recipe_rank(). */
#define TIE 1e-9

TsRecipeBest *
ts_recipe_best_new (const TsPaintSet *set, TsLab target, guint n_best)
{
  TsRecipeBest *self = g_new0 (TsRecipeBest, 1);

  self->set = set;
  self->target = target;
  self->n_best = n_best;
  self->recipes = g_array_sized_new (FALSE, FALSE, sizeof (TsRecipe), n_best + 1);
  return self;
}

void
ts_recipe_best_free (TsRecipeBest *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->recipes);
  g_free (self);
}

/**
 * ts_recipe_best_get_worst:
 * @self: the best so far
 *
 * Returns: the CIEDE2000 beyond which an offer changes nothing
 */
double
ts_recipe_best_get_worst (const TsRecipeBest *self)
{
  if (self->recipes->len < self->n_best)
    return (double) INFINITY;
  return g_array_index (self->recipes, TsRecipe, self->n_best - 1).delta_e + TIE;
}

static gboolean
has_paint (const TsRecipe *recipe, guint paint)
{
  for (guint i = 0; i < recipe->n_paints; i++)
    if (recipe->paint[i] == paint)
      return TRUE;
  return FALSE;
}

static gboolean
has_same_paints (const TsRecipe *one, const TsRecipe *other)
{
  if (one->n_paints != other->n_paints)
    return FALSE;
  for (guint i = 0; i < one->n_paints; i++)
    if (!has_paint (other, one->paint[i]))
      return FALSE;
  return TRUE;
}

/* Puts @recipe in its place, unless a better one of the same paints is there; a worse one goes. */
static void
insert (TsRecipeBest *self, const TsRecipe *recipe)
{
  guint place = 0;

  for (guint i = 0; i < self->recipes->len; i++)
    {
      const TsRecipe *other = &g_array_index (self->recipes, TsRecipe, i);

      if (has_same_paints (other, recipe))
        {
          if (ts_recipe_rank (self->set, other, recipe) <= 0)
            return;
          g_array_remove_index (self->recipes, i);
          break;
        }
    }
  while (place < self->recipes->len &&
         ts_recipe_rank (self->set, &g_array_index (self->recipes, TsRecipe, place), recipe) < 0)
    place++;
  g_array_insert_val (self->recipes, place, *recipe);
  if (self->recipes->len > self->n_best)
    g_array_set_size (self->recipes, self->n_best);
}

/**
 * ts_recipe_best_offer:
 * @self: the best so far
 * @paints: (array length=n_paints): unlike indices in the set
 * @parts: (array length=n_paints): parts of each, at least 1, no common divisor
 * @n_paints: 1 to %TS_RECIPE_MAX_PAINTS
 *
 * Predicts the mix and keeps it where it is among the best.
 */
void
ts_recipe_best_offer (TsRecipeBest *self, const guint *paints, const guint8 *parts, guint n_paints)
{
  TsRecipe recipe = { .n_paints = n_paints };

  for (guint i = 0; i < n_paints; i++)
    {
      recipe.paint[i] = paints[i];
      recipe.parts[i] = parts[i];
    }
  ts_recipe_predict (self->set, &recipe);
  recipe.delta_e = ts_delta_e_2000 (recipe.lab, self->target);
  if (recipe.delta_e <= ts_recipe_best_get_worst (self))
    insert (self, &recipe);
}

/**
 * ts_recipe_best_to_array:
 * @self: the best so far
 *
 * Returns: (transfer full) (element-type TsRecipe): nearest first, all differences filled in
 */
GArray *
ts_recipe_best_to_array (const TsRecipeBest *self)
{
  GArray *recipes = g_array_copy (self->recipes);

  for (guint i = 0; i < recipes->len; i++)
    ts_recipe_compare (self->set, &g_array_index (recipes, TsRecipe, i), self->target);
  return recipes;
}
