/* ts-recipe-best.c: the best few recipes so far, with unlike sets of paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-recipe-best.h"

#include "colour/ts-difference.h"
#include "recipes/ts-recipe-drop.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct _TsRecipeBest
{
  /* Borrowed */
  const TsPaintSet *set;

  /* Owned */
  GArray *recipes;  /* TsRecipe: nearest first, or without @within in the order of their coming */
  GHashTable *sets; /* with within: key of a set of paints -> place of its first recipe + 1 */

  TsLab target;
  guint n_best; /* recipes, or sets of paints with within */
  gboolean opaque_only;
  double within, nearest, limit;
};

/* Ties are decided at the ninth decimal: ts_recipe_rank(). */
#define TIE 1e-9
#define KEPT 3 /* mixes of one set of paints, from which the most forgiving is taken */
/* ISO 6504-3: a contrast ratio of 0.98 counts as hiding. Two coats: common practice, no source. */
#define HIDES 0.98
#define HIDING_COATS 2.0

TsRecipeBest *
ts_recipe_best_new (const TsPaintSet *set, TsLab target, guint n_best)
{
  TsRecipeBest *self = g_new0 (TsRecipeBest, 1);

  self->set = set;
  self->target = target;
  self->n_best = n_best;
  self->recipes = g_array_new (FALSE, TRUE, sizeof (TsRecipe));
  return self;
}

/**
 * ts_recipe_best_new_within:
 * @set: the paints
 * @target: the wanted colour, D50
 * @within: CIEDE2000 more than the nearest mix that still counts, above 0
 * @most_sets: sets of paints to keep at most; beyond, the farther half goes
 *
 * Returns: (transfer full): an empty collection of the nearest mixes of every set of paints
 */
TsRecipeBest *
ts_recipe_best_new_within (const TsPaintSet *set, TsLab target, double within, guint most_sets)
{
  TsRecipeBest *self = ts_recipe_best_new (set, target, most_sets);

  self->within = within;
  self->nearest = self->limit = (double) INFINITY;
  self->sets = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  return self;
}

void
ts_recipe_best_free (TsRecipeBest *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->sets, g_hash_table_unref);
  g_array_unref (self->recipes);
  g_free (self);
}

/**
 * ts_recipe_best_set_opaque_only:
 * @self: an empty collection
 * @opaque_only: whether to refuse mixes whose two coats do not hide a ground
 */
void
ts_recipe_best_set_opaque_only (TsRecipeBest *self, gboolean opaque_only)
{
  self->opaque_only = opaque_only;
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
  if (self->sets != NULL)
    return MIN (self->nearest + self->within, self->limit) + TIE;
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

static gboolean
hides (const TsPaintSet *set, const TsRecipe *recipe)
{
  TsAmount amounts[TS_RECIPE_MAX_PAINTS];
  TsSpectrum K, S;

  for (guint i = 0; i < recipe->n_paints; i++)
    amounts[i] = (TsAmount){ recipe->paint[i], recipe->parts[i] };
  ts_mix_get_K_S (set, amounts, recipe->n_paints, &K, &S);
  return ts_mix_get_contrast_ratio (&K, &S, ts_paint_set_get_surface (set), HIDING_COATS) >= HIDES;
}

/* Up to four paints, 16 bits each, in rising order. */
static gint64
key_of (const TsRecipe *recipe)
{
  guint paints[TS_RECIPE_MAX_PAINTS];
  guint64 key = 0;

  for (guint i = 0; i < recipe->n_paints; i++)
    {
      guint j = i;

      for (; j > 0 && paints[j - 1] > recipe->paint[i]; j--)
        paints[j] = paints[j - 1];
      paints[j] = recipe->paint[i];
    }
  for (guint i = 0; i < recipe->n_paints; i++)
    key = (key << 16) | (paints[i] + 1);
  return (gint64) key;
}

static int
compare_nearness (gconstpointer one, gconstpointer other, gpointer set)
{
  return ts_recipe_rank (set, one, other);
}

/* Each set of paints has KEPT places, nearest first; a place without paints is free. */
static void
insert_in_set (TsRecipe *places, const TsRecipe *recipe, const TsPaintSet *set)
{
  guint at = 0;

  while (at < KEPT && places[at].n_paints > 0 && ts_recipe_rank (set, &places[at], recipe) <= 0)
    at++;
  if (at == KEPT)
    return;
  memmove (&places[at + 1], &places[at], (KEPT - at - 1) * sizeof *places);
  places[at] = *recipe;
}

static int
compare_numbers (gconstpointer one, gconstpointer other)
{
  const double *first = one, *second = other;

  return *first < *second ? -1 : *first > *second;
}

/* Leaves the nearer half of the sets of paints. */
static void
halve (TsRecipeBest *self)
{
  guint n = self->recipes->len / KEPT;
  g_autofree double *nearest = g_new (double, n);
  g_autoptr (GArray) old = g_steal_pointer (&self->recipes);

  for (guint i = 0; i < n; i++)
    nearest[i] = g_array_index (old, TsRecipe, i * KEPT).delta_e;
  qsort (nearest, n, sizeof *nearest, compare_numbers);
  self->limit = nearest[n / 2];
  self->recipes = g_array_new (FALSE, TRUE, sizeof (TsRecipe));
  g_hash_table_remove_all (self->sets);
  for (guint i = 0; i < n; i++)
    if (g_array_index (old, TsRecipe, i * KEPT).delta_e <= self->limit)
      {
        gint64 key = key_of (&g_array_index (old, TsRecipe, i * KEPT));

        g_hash_table_insert (self->sets, g_memdup2 (&key, sizeof key),
                             GUINT_TO_POINTER (self->recipes->len + 1));
        g_array_append_vals (self->recipes, &g_array_index (old, TsRecipe, i * KEPT), KEPT);
      }
}

static void
collect (TsRecipeBest *self, const TsRecipe *recipe)
{
  gint64 key = key_of (recipe);
  guint place = GPOINTER_TO_UINT (g_hash_table_lookup (self->sets, &key));

  self->nearest = MIN (self->nearest, recipe->delta_e);
  if (place == 0)
    {
      if (self->recipes->len >= KEPT * self->n_best)
        halve (self);
      place = self->recipes->len + 1;
      g_array_set_size (self->recipes, self->recipes->len + KEPT);
      g_hash_table_insert (self->sets, g_memdup2 (&key, sizeof key), GUINT_TO_POINTER (place));
    }
  insert_in_set (&g_array_index (self->recipes, TsRecipe, place - 1), recipe, self->set);
}

/* Of each set of paints near enough the mix with the least expected difference. */
static GArray *
choose_of_each_set (const TsRecipeBest *self, GCancellable *cancellable)
{
  GArray *chosen = g_array_new (FALSE, FALSE, sizeof (TsRecipe));
  double worst = ts_recipe_best_get_worst (self);

  for (guint i = 0; i < self->recipes->len && !g_cancellable_is_cancelled (cancellable); i += KEPT)
    {
      TsRecipe *places = &g_array_index (self->recipes, TsRecipe, i);
      TsRecipe best = places[0];

      if (!(best.delta_e <= worst))
        continue;
      for (guint j = 0; j < KEPT && places[j].n_paints > 0 && places[j].delta_e <= worst; j++)
        {
          places[j].delta_e_drop_error =
            ts_recipe_get_rough_drop_error (self->set, &places[j], self->target);
          if (j == 0 || places[j].delta_e_drop_error < best.delta_e_drop_error)
            best = places[j];
        }
      g_array_append_val (chosen, best);
    }
  g_array_sort_with_data (chosen, compare_nearness, (gpointer) self->set);
  return chosen;
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
  if (!(recipe.delta_e <= ts_recipe_best_get_worst (self)) ||
      (self->opaque_only && !hides (self->set, &recipe)))
    return;
  if (self->sets != NULL)
    collect (self, &recipe);
  else
    insert (self, &recipe);
}

/**
 * ts_recipe_best_to_array:
 * @self: the best so far
 * @cancellable: (nullable): once it is cancelled some may be missing
 *
 * Returns: (transfer full) (element-type TsRecipe): nearest first, all differences filled in; of a
 *   collection within a difference one mix of each set of paints, illuminant A left out and the
 *   expected difference roughly
 */
GArray *
ts_recipe_best_to_array (const TsRecipeBest *self, GCancellable *cancellable)
{
  GArray *recipes;

  if (self->sets != NULL)
    return choose_of_each_set (self, cancellable);
  recipes = g_array_copy (self->recipes);
  for (guint i = 0; i < recipes->len; i++)
    ts_recipe_compare (self->set, &g_array_index (recipes, TsRecipe, i), self->target);
  return recipes;
}
