/* ts-joint.c: the recipes of several steps chosen together, so that they share paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "palette/ts-joint.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "palette/ts-joint-solve-private.h"

#include <math.h>
#include <string.h>

#define WITHIN 1.0       /* CIEDE2000 beyond the nearest mix: what is looked at first */
#define MOST_WITHIN 16.0 /* where so few paints are wanted that nothing nearer will do */

static const char *const ids[TS_N_TOGETHER] = { "apart", "truest", "between", "fewest" };

/**
 * ts_together_to_id:
 * @together: a choice
 *
 * Returns: (transfer none): its name in files
 */
const char *
ts_together_to_id (TsTogether together)
{
  g_return_val_if_fail ((guint) together < TS_N_TOGETHER, NULL);

  return ids[together];
}

/**
 * ts_together_from_id:
 * @id: a name in files
 * @together: (out): the choice
 *
 * Returns: whether there is such a choice
 */
gboolean
ts_together_from_id (const char *id, TsTogether *together)
{
  for (guint i = 0; i < TS_N_TOGETHER; i++)
    if (g_strcmp0 (id, ids[i]) == 0)
      {
        *together = (TsTogether) i;
        return TRUE;
      }
  return FALSE;
}

/**
 * ts_together_get_weights:
 * @together: the painter's choice
 *
 * Returns: what changes and paints count for. The figures are chosen by what they lead to: on
 * stairs of nine steps "fewest" halves the paints for some tenths a step, "truest" only drops what
 * does not matter.
 */
TsJointWeights
ts_together_get_weights (TsTogether together)
{
  static const TsJointWeights weights[TS_N_TOGETHER] = {
    { 0.0, 0.0, 0 },
    { 0.02, 0.10, 0 },
    { 0.05, 0.40, 0 },
    { 0.10, 1.60, 0 },
  };

  g_return_val_if_fail ((guint) together < TS_N_TOGETHER, weights[0]);

  return weights[together];
}

static void
clear_step (gpointer data)
{
  TsJointStep *step = data;

  g_array_unref (step->recipes);
}

/**
 * ts_joint_steps_new:
 *
 * Returns: (transfer full) (element-type TsJointStep): no steps yet
 */
GArray *
ts_joint_steps_new (void)
{
  GArray *steps = g_array_new (FALSE, FALSE, sizeof (TsJointStep));

  g_array_set_clear_func (steps, clear_step);
  return steps;
}

/**
 * ts_joint_steps_add_fixed:
 * @steps: (element-type TsJointStep): steps
 * @recipe: a predicted recipe, compared with what is wanted there
 *
 * Adds a step that has no choice, next to the last one.
 */
void
ts_joint_steps_add_fixed (GArray *steps, const TsRecipe *recipe)
{
  TsJointStep step = { g_array_new (FALSE, FALSE, sizeof (TsRecipe)), FALSE };

  g_array_append_val (step.recipes, *recipe);
  g_array_append_val (steps, step);
}

/**
 * ts_joint_gather:
 * @search: where to look for mixes
 * @targets: (array length=n): wanted colours, neighbours in this order, D50
 * @locked: (array length=n) (nullable): recipes that are settled, each nullable
 * @n: how many
 * @within: CIEDE2000 beyond each step's nearest mix, above 0; %TS_JOINT_WITHIN is usual
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsJointStep): the steps with all that may be
 *   taken; %NULL as ts_recipe_search_within()
 */
GArray *
ts_joint_gather (const TsRecipeSearch *search, const TsLab *targets, const TsRecipe *const *locked,
                 guint n, double within, GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) steps = ts_joint_steps_new ();

  for (guint i = 0; i < n; i++)
    {
      TsJointStep step = { NULL, FALSE };

      if (locked != NULL && locked[i] != NULL)
        {
          ts_joint_steps_add_fixed (steps, locked[i]);
          continue;
        }
      step.recipes = ts_recipe_search_within (search, targets[i], within, cancellable, error);
      if (step.recipes == NULL)
        return NULL;
      g_array_append_val (steps, step);
    }
  return g_steal_pointer (&steps);
}

static void
plan_clear (gpointer data)
{
  TsJointPlan *self = data;

  g_array_unref (self->recipes);
}

/**
 * ts_joint_plan_ref:
 * @self: a choice for all steps
 *
 * Returns: (transfer full): the same
 */
TsJointPlan *
ts_joint_plan_ref (TsJointPlan *self)
{
  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_joint_plan_unref:
 * @self: (transfer full) (nullable): a choice for all steps
 */
void
ts_joint_plan_unref (TsJointPlan *self)
{
  if (self != NULL)
    g_atomic_rc_box_release_full (self, plan_clear);
}

static int
compare_indices (gconstpointer one, gconstpointer other)
{
  const guint *first = one, *second = other;

  return *first < *second ? -1 : *first > *second;
}

static gboolean
holds (const TsRecipe *recipe, guint paint)
{
  for (guint i = 0; i < recipe->n_paints; i++)
    if (recipe->paint[i] == paint)
      return TRUE;
  return FALSE;
}

/**
 * ts_joint_plan_get_paints:
 * @self: a choice for all steps
 *
 * Returns: (transfer full) (element-type guint): the paints it needs, rising
 */
GArray *
ts_joint_plan_get_paints (const TsJointPlan *self)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  GArray *paints = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < self->recipes->len; i++)
    {
      const TsRecipe *recipe = ts_joint_plan_get_recipe (self, i);

      for (guint j = 0; j < recipe->n_paints; j++)
        if (g_hash_table_add (seen, GUINT_TO_POINTER (recipe->paint[j])))
          g_array_append_val (paints, recipe->paint[j]);
    }
  g_array_sort (paints, compare_indices);
  return paints;
}

/**
 * ts_joint_plan_get_recipe:
 * @self: a choice for all steps
 * @step: which step, from 0
 *
 * Returns: (transfer none): its recipe
 */
const TsRecipe *
ts_joint_plan_get_recipe (const TsJointPlan *self, guint step)
{
  g_return_val_if_fail (step < self->recipes->len, NULL);

  return &g_array_index (self->recipes, TsRecipe, step);
}

/**
 * ts_joint_plan_is_proven:
 * @self: a choice for all steps
 *
 * Returns: whether no other choice costs less, as far as the mixes it had to choose from go
 */
gboolean
ts_joint_plan_is_proven (const TsJointPlan *self)
{
  return self->bound >= self->cost - 1e-6;
}

static TsJointPlan *
make_plan (const GArray *steps, const guint *path, const TsJointWeights *weights)
{
  TsJointPlan *self = g_atomic_rc_box_new0 (TsJointPlan);
  g_autoptr (GArray) paints = NULL;

  self->recipes = g_array_new (FALSE, FALSE, sizeof (TsRecipe));
  for (guint i = 0; i < steps->len; i++)
    {
      const TsJointStep *step = &g_array_index (steps, TsJointStep, i);
      const TsRecipe *recipe = &g_array_index (step->recipes, TsRecipe, path[i]);

      self->delta_e += recipe->delta_e_drop_error;
      g_array_append_val (self->recipes, *recipe);
      if (i == 0 || step->apart)
        continue;
      for (guint j = 0; j < recipe->n_paints; j++)
        self->n_changes += holds (ts_joint_plan_get_recipe (self, i - 1), recipe->paint[j]) ? 0 : 1;
      recipe = ts_joint_plan_get_recipe (self, i - 1);
      for (guint j = 0; j < recipe->n_paints; j++)
        self->n_changes += holds (ts_joint_plan_get_recipe (self, i), recipe->paint[j]) ? 0 : 1;
    }
  paints = ts_joint_plan_get_paints (self);
  self->n_paints = paints->len;
  self->cost = self->delta_e + weights->change * self->n_changes + weights->paint * self->n_paints;
  return self;
}

/**
 * ts_joint_choose:
 * @steps: (element-type TsJointStep): one or more steps with what may be taken in each
 * @weights: what counts
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Minimises the sum of the expected differences, the changes between neighbours and the paints in
 * all, as they are weighed. The least is proven but for large cases, which stop after some seconds
 * of work with the best that was found; its bound tells how much better another could be.
 *
 * Returns: (transfer full) (nullable): the choice, or %NULL with %TS_ERROR_TOO_FEW where no choice
 *   is found within the limits or %G_IO_ERROR_CANCELLED
 */
TsJointPlan *
ts_joint_choose (const GArray *steps, const TsJointWeights *weights, GCancellable *cancellable,
                 GError **error)
{
  g_autoptr (TsJointChain) chain = NULL;
  g_autofree guint *path = NULL;
  double cost, bound;
  TsJointPlan *plan;

  g_return_val_if_fail (steps->len > 0, NULL);

  chain = ts_joint_chain_new (steps, weights->change, cancellable);
  path = g_new0 (guint, steps->len);
  if (!ts_joint_solve (chain, weights, path, &cost, &bound, cancellable, error))
    return NULL;
  if (!(cost < (double) INFINITY))
    {
      g_set_error (
        error, TS_ERROR, TS_ERROR_TOO_FEW,
        _ ("No choice of mixes for all %u steps was found with so few paints; allow more "
           "paints"),
        steps->len);
      return NULL;
    }
  plan = make_plan (steps, path, weights);
  plan->bound = MIN (bound, plan->cost);
  return plan;
}

/**
 * ts_joint_choose_for:
 * @search: where to look for mixes
 * @targets: (array length=n): wanted colours, neighbours in this order, D50
 * @locked: (array length=n) (nullable): recipes that are settled, each nullable
 * @n: how many
 * @weights: what counts
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Chooses from the mixes within 1 of each step's nearest, and where so few paints as are allowed
 * cannot do it, from those within 2, 4, 8 and 16.
 *
 * Returns: (transfer full) (nullable): the choice, its recipes compared with what is wanted; %NULL
 *   as ts_joint_choose()
 */
TsJointPlan *
ts_joint_choose_for (const TsRecipeSearch *search, const TsLab *targets,
                     const TsRecipe *const *locked, guint n, const TsJointWeights *weights,
                     GCancellable *cancellable, GError **error)
{
  g_autoptr (TsJointPlan) plan = NULL;

  for (double within = TS_JOINT_WITHIN; plan == NULL; within *= 2.0)
    {
      g_autoptr (GArray) steps =
        ts_joint_gather (search, targets, locked, n, within, cancellable, error);
      g_autoptr (GError) fault = NULL;

      if (steps == NULL)
        return NULL;
      plan = ts_joint_choose (steps, weights, cancellable, &fault);
      if (plan == NULL &&
          (within >= MOST_WITHIN || !g_error_matches (fault, TS_ERROR, TS_ERROR_TOO_FEW)))
        {
          g_propagate_error (error, g_steal_pointer (&fault));
          return NULL;
        }
    }
  for (guint i = 0; i < n; i++)
    ts_recipe_compare (ts_recipe_search_get_set (search),
                       &g_array_index (plan->recipes, TsRecipe, i), targets[i]);
  return g_steal_pointer (&plan);
}

static gboolean
is_offered (const GPtrArray *plans, guint n_paints)
{
  for (guint i = 0; i < plans->len; i++)
    if (((const TsJointPlan *) g_ptr_array_index (plans, i))->n_paints == n_paints)
      return TRUE;
  return FALSE;
}

/**
 * ts_joint_offer:
 * @steps: (element-type TsJointStep): the steps with what may be taken in each
 * @change: what a change between neighbours counts for, CIEDE2000
 * @cancellable: (nullable): to stop it
 * @error: return location for an error, or %NULL
 *
 * Lets a paint count for more and more. Each choice that comes of it is the truest with so few
 * paints; numbers of paints that no weight leads to are worth less than those beside them and are
 * left out.
 *
 * Returns: (transfer full) (nullable) (element-type TsJointPlan): choices, most paints first; %NULL
 *   with %G_IO_ERROR_CANCELLED
 */
GPtrArray *
ts_joint_offer (const GArray *steps, double change, GCancellable *cancellable, GError **error)
{
  static const double prices[] = { 0.02, 0.06, 0.15, 0.3, 0.5, 0.8, 1.2, 2.0, 4.0 };
  g_autoptr (GPtrArray) plans =
    g_ptr_array_new_with_free_func ((GDestroyNotify) ts_joint_plan_unref);

  for (guint i = 0; i < G_N_ELEMENTS (prices); i++)
    {
      TsJointWeights weights = { change, prices[i], 0 };
      g_autoptr (TsJointPlan) plan = ts_joint_choose (steps, &weights, cancellable, error);

      if (plan == NULL)
        return NULL;
      if (!is_offered (plans, plan->n_paints))
        g_ptr_array_add (plans, g_steal_pointer (&plan));
    }
  return g_steal_pointer (&plans);
}
