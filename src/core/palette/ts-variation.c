/* ts-variation.c: other mixes from those that are there
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "palette/ts-variation.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/ts-error.h"
#include "colour/ts-colour-convert.h"
#include "colour/ts-difference.h"

#define NOTICED 1.0    /* L*, chroma, a* + b*: differences that are named */
#define SPARE 0.5      /* CIEDE2000 beyond the nearest, for a colour that is out of reach */
#define A_PAINT 1000.0 /* CIEDE2000: no difference is worth one paint more */

/**
 * ts_variation_add:
 * @set: the paints
 * @recipe: a recipe
 * @paint: index of the paint to add, in it already or not
 * @parts: how many parts of it, 1 or more
 * @changed: (out): the recipe with it, predicted
 *
 * Returns: %FALSE where the recipe holds as many paints as it can
 */
gboolean
ts_variation_add (const TsPaintSet *set, const TsRecipe *recipe, guint paint, guint parts,
                  TsRecipe *changed)
{
  guint place = 0;

  *changed = *recipe;
  while (place < recipe->n_paints && recipe->paint[place] != paint)
    place++;
  if (place == TS_RECIPE_MAX_PAINTS)
    return FALSE;
  if (place == recipe->n_paints)
    {
      changed->paint[changed->n_paints] = paint;
      changed->parts[changed->n_paints++] = 0;
    }
  changed->parts[place] += parts;
  ts_recipe_predict (set, changed);
  return TRUE;
}

/* Warm is towards yellow and red, cool towards blue and green: common practice, no source. What turns
 * from one of them to the other is named by where it goes. */
static const char *
name_warmth (TsLab from, TsLab to)
{
  double red = to.a - from.a, yellow = to.b - from.b, warmer = red + yellow;

  if (fabs (warmer) <= fmax (fabs (red), fabs (yellow)) / 2.0 &&
      fmax (fabs (red), fabs (yellow)) > 2.0 * NOTICED)
    {
      if (fabs (red) >= fabs (yellow))
        return red > 0.0 ? _ ("redder") : _ ("greener");
      return yellow > 0.0 ? _ ("yellower") : _ ("bluer");
    }
  return warmer > 2.0 * NOTICED ? _ ("warmer") : warmer < -2.0 * NOTICED ? _ ("cooler") : NULL;
}

/**
 * ts_variation_to_text:
 * @from: a colour, D50
 * @to: another
 *
 * Returns: (transfer full): how @to looks beside @from, in a few words
 */
char *
ts_variation_to_text (TsLab from, TsLab to)
{
  double lighter = to.L - from.L;
  double stronger = ts_lch_from_lab (to).C - ts_lch_from_lab (from).C;
  const char *words[4] = { NULL };
  guint n = 0;

  if (fabs (lighter) > NOTICED)
    words[n++] = lighter > 0.0 ? _ ("lighter") : _ ("darker");
  if (name_warmth (from, to) != NULL)
    words[n++] = name_warmth (from, to);
  if (fabs (stronger) > 2.0 * NOTICED)
    words[n++] = stronger > 0.0 ? _ ("stronger") : _ ("duller");
  return n > 0 ? g_strjoinv (_ (", "), (char **) words) : g_strdup (_ ("about the same"));
}

/**
 * ts_variation_nearest:
 * @colours: (array length=n): colours of steps, D50
 * @n: how many, 1 or more
 * @colour: a colour mixed by hand
 * @delta_e: (out) (optional): CIEDE2000 between the two
 *
 * Returns: index of the nearest
 */
guint
ts_variation_nearest (const TsLab *colours, guint n, TsLab colour, double *delta_e)
{
  double least = (double) INFINITY;
  guint nearest = 0;

  for (guint i = 0; i < n; i++)
    {
      double here = ts_delta_e_2000 (colour, colours[i]);

      if (here < least)
        {
          least = here;
          nearest = i;
        }
    }
  if (delta_e != NULL)
    *delta_e = least;
  return nearest;
}

static gboolean
holds (const TsRecipe *recipe, guint paint)
{
  for (guint i = 0; i < recipe->n_paints; i++)
    if (recipe->paint[i] == paint)
      return TRUE;
  return FALSE;
}

static GArray *
allow_all_but (const TsPaintSet *set, const TsSearchLimits *limits, guint paint)
{
  GArray *allowed = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; limits->allowed != NULL && i < limits->n_allowed; i++)
    if (limits->allowed[i] != paint)
      g_array_append_val (allowed, limits->allowed[i]);
  for (guint i = 0; limits->allowed == NULL && i < ts_paint_set_get_n_paints (set); i++)
    if (i != paint && ts_paint_is_for_mixing (ts_paint_set_get_paint (set, i)))
      g_array_append_val (allowed, i);
  return allowed;
}

/**
 * ts_variation_replace:
 * @set: the paints
 * @limits: what a mix may be
 * @recipes: (array length=n): recipes of a plan
 * @n: how many
 * @paint: index of the paint that has run out
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsReplacement): for each recipe with it the
 *   mix of others nearest to that recipe's colour; %NULL with a #TsError, %TS_ERROR_BAD_VALUE where
 *   every mix must hold that paint, or G_IO_ERROR_CANCELLED
 */
GArray *
ts_variation_replace (TsPaintSet *set, const TsSearchLimits *limits, const TsRecipe *recipes,
                      guint n, guint paint, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) replaced = g_array_new (FALSE, FALSE, sizeof (TsReplacement));
  g_autoptr (GArray) allowed = allow_all_but (set, limits, paint);
  g_autoptr (TsRecipeSearch) search = NULL;
  TsSearchLimits others = *limits;

  for (guint i = 0; i < limits->n_needed; i++)
    if (limits->needed[i] == paint)
      {
        g_set_error (error, TS_ERROR, TS_ERROR_BAD_VALUE,
                     _ ("Every mix must hold “%s”; take that back before it is replaced"),
                     ts_paint_get_name (ts_paint_set_get_paint (set, paint)));
        return NULL;
      }
  others.allowed = (const guint *) (gpointer) allowed->data;
  others.n_allowed = allowed->len;
  search = ts_recipe_search_new (set, &others, cancellable, error);
  if (search == NULL)
    return NULL;
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GArray) best = NULL;
      TsReplacement replacement = { .index = i, .before = recipes[i] };

      if (!holds (&recipes[i], paint))
        continue;
      best = ts_recipe_search_run (search, recipes[i].lab, cancellable, NULL, NULL, error);
      if (best == NULL)
        return NULL;
      if (best->len == 0)
        continue;
      replacement.after = g_array_index (best, TsRecipe, 0);
      g_array_append_val (replaced, replacement);
    }
  return g_steal_pointer (&replaced);
}

static gboolean
holds_all (const TsRecipe *recipe, const TsRecipe *other)
{
  for (guint i = 0; i < other->n_paints; i++)
    if (!holds (recipe, other->paint[i]))
      return FALSE;
  return TRUE;
}

static int
compare_n_paints (gconstpointer one, gconstpointer other)
{
  const TsRecipe *first = one, *second = other;

  return (int) first->n_paints - (int) second->n_paints;
}

/* Leaves sets of paints that come near enough and of which no part does. */
static GArray *
take_least_sets (GArray *recipes, double within)
{
  GArray *least = g_array_new (FALSE, FALSE, sizeof (TsRecipe));

  g_array_sort (recipes, compare_n_paints);
  for (guint i = 0; i < recipes->len; i++)
    {
      TsRecipe *recipe = &g_array_index (recipes, TsRecipe, i);
      gboolean more_than_needed = !(recipe->delta_e <= within);

      for (guint j = 0; j < least->len && !more_than_needed; j++)
        more_than_needed = holds_all (recipe, &g_array_index (least, TsRecipe, j));
      if (!more_than_needed)
        g_array_append_val (least, *recipe);
    }
  return least;
}

static double
nearest_of (const GArray *recipes)
{
  double nearest = (double) INFINITY;

  for (guint i = 0; i < recipes->len; i++)
    nearest = MIN (nearest, g_array_index (recipes, TsRecipe, i).delta_e);
  return nearest;
}

/* The steps and what each may be, neighbours of nothing. */
static GArray *
gather_least (const TsRecipeSearch *search, const TsLab *targets, guint n, double within,
              GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) steps = ts_joint_steps_new ();

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GArray) recipes =
        ts_recipe_search_within (search, targets[i], MAX (within, SPARE), cancellable, error);
      TsJointStep step = { NULL, TRUE };

      if (recipes == NULL)
        return NULL;
      step.recipes = take_least_sets (recipes, MAX (within, nearest_of (recipes) + SPARE));
      for (guint j = 0; j < step.recipes->len; j++)
        {
          TsRecipe *recipe = &g_array_index (step.recipes, TsRecipe, j);

          recipe->delta_e_drop_error = recipe->delta_e;
        }
      g_array_append_val (steps, step);
    }
  return g_steal_pointer (&steps);
}

/**
 * ts_variation_smallest:
 * @search: where to look for mixes
 * @targets: (array length=n): wanted colours of the whole plan, D50
 * @n: how many
 * @within: CIEDE2000 that each may be off; a colour that is out of that reach may be off by half
 *   more than its nearest mix
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the fewest paints, and a recipe of them for each colour; its
 *   bound is in thousands: a paint each. %NULL with a #TsError or G_IO_ERROR_CANCELLED
 */
TsJointPlan *
ts_variation_smallest (const TsRecipeSearch *search, const TsLab *targets, guint n, double within,
                       GCancellable *cancellable, GError **error)
{
  const TsJointWeights weights = { 0.0, A_PAINT, 0 };
  g_autoptr (GArray) steps = gather_least (search, targets, n, within, cancellable, error);
  TsJointPlan *plan;

  if (steps == NULL)
    return NULL;
  plan = ts_joint_choose (steps, &weights, cancellable, error);
  for (guint i = 0; plan != NULL && i < n; i++)
    ts_recipe_compare (ts_recipe_search_get_set (search),
                       &g_array_index (plan->recipes, TsRecipe, i), targets[i]);
  return plan;
}
