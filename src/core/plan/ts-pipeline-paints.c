/* ts-pipeline-paints.c: what the whole plan asks of the paints: which would help, which would do
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-pipeline.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"

/* Every colour that is wanted: surface after surface, step after step, then the brief. */
static GArray *
list_wanted (const TsPlan *plan, const GPtrArray *results, int surface)
{
  GArray *wanted = g_array_new (FALSE, FALSE, sizeof (TsLab));

  for (guint i = 0; i < results->len; i++)
    {
      const TsSurfaceResult *result = g_ptr_array_index (results, i);

      if (result == NULL || (surface >= 0 && (int) i != surface))
        continue;
      for (guint j = 0; j < ts_surface_result_get_n_steps (result); j++)
        g_array_append_val (wanted,
                            ts_stair_get_step (ts_surface_result_get_stair (result), j)->wanted);
    }
  for (guint i = 0; surface < 0 && i < plan->brief->len; i++)
    g_array_append_val (wanted, ts_plan_get_brief_line (plan, i)->lab);
  return wanted;
}

/* The colours that are out of reach, and how near their nearest mixes come. */
static gboolean
list_out_of_reach (const TsPlan *plan, const GArray *wanted, GArray *targets, GArray *nearest,
                   GCancellable *cancellable, GError **error)
{
  g_autoptr (TsRecipeSearch) search = ts_pipeline_search (plan, cancellable, error);

  if (search == NULL)
    return FALSE;
  for (guint i = 0; i < wanted->len; i++)
    {
      TsLab target = g_array_index (wanted, TsLab, i);
      g_autoptr (GArray) best =
        ts_recipe_search_run (search, target, cancellable, NULL, NULL, error);

      if (best == NULL)
        return FALSE;
      if (best->len == 0 || g_array_index (best, TsRecipe, 0).delta_e <= plan->mix.reach)
        continue;
      g_array_append_val (targets, target);
      g_array_append_val (nearest, g_array_index (best, TsRecipe, 0).delta_e);
    }
  return TRUE;
}

/**
 * ts_pipeline_advise:
 * @plan: a plan with paints
 * @results: (element-type TsSurfaceResult): its results
 * @surface: index of a surface, or -1 for all of them and the brief
 * @n_out: (out): how many colours are out of reach
 * @cancellable: (nullable): stops it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsPaintAdvice): as ts_paint_advice_find()
 */
GArray *
ts_pipeline_advise (const TsPlan *plan, const GPtrArray *results, int surface, guint *n_out,
                    GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) wanted = list_wanted (plan, results, surface);
  g_autoptr (GArray) targets = g_array_new (FALSE, FALSE, sizeof (TsLab));
  g_autoptr (GArray) nearest = g_array_new (FALSE, FALSE, sizeof (double));
  g_auto (TsRuledLimits) ruled = { 0 };

  if (!list_out_of_reach (plan, wanted, targets, nearest, cancellable, error) ||
      !ts_pipeline_limits (plan, &ruled, error))
    return NULL;
  *n_out = targets->len;
  return ts_paint_advice_find (plan->paints, &ruled.limits, (const TsLab *) targets->data,
                               (const double *) nearest->data, targets->len, cancellable, error);
}

/**
 * ts_pipeline_smallest:
 * @plan: a plan with paints
 * @results: (element-type TsSurfaceResult): its results
 * @within: CIEDE2000 that each colour may be off
 * @cancellable: (nullable): stops it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): as ts_variation_smallest(), for all steps of all surfaces
 *   and then all lines of the brief
 */
TsJointPlan *
ts_pipeline_smallest (const TsPlan *plan, const GPtrArray *results, double within,
                      GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) wanted = list_wanted (plan, results, -1);
  g_autoptr (TsRecipeSearch) search = NULL;

  if (wanted->len == 0)
    {
      g_set_error_literal (
        error, TS_ERROR, TS_ERROR_TOO_FEW,
        _ ("The plan asks for no colours yet; measure a surface or write a brief"));
      return NULL;
    }
  search = ts_pipeline_search (plan, cancellable, error);
  if (search == NULL)
    return NULL;
  return ts_variation_smallest (search, (const TsLab *) wanted->data, wanted->len, within,
                                cancellable, error);
}

/* The recipes in use. A step without one has no paints. */
static GArray *
list_recipes (const GPtrArray *results)
{
  GArray *recipes = g_array_new (FALSE, FALSE, sizeof (TsRecipe));

  for (guint i = 0; i < results->len; i++)
    {
      const TsSurfaceResult *result = g_ptr_array_index (results, i);

      for (guint j = 0; result != NULL && j < ts_surface_result_get_n_steps (result); j++)
        {
          const TsRecipe *recipe = ts_surface_result_get_recipe (result, j);
          const TsRecipe none = { .n_paints = 0 };

          g_array_append_vals (recipes, recipe != NULL ? recipe : &none, 1);
        }
    }
  return recipes;
}

/**
 * ts_pipeline_replace:
 * @plan: a plan with paints
 * @results: (element-type TsSurfaceResult): its results
 * @paint: index of the paint that has run out
 * @cancellable: (nullable): stops it
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable) (element-type TsReplacement): as ts_variation_replace(), for
 *   all steps of all surfaces
 */
GArray *
ts_pipeline_replace (const TsPlan *plan, const GPtrArray *results, guint paint,
                     GCancellable *cancellable, GError **error)
{
  g_autoptr (GArray) recipes = list_recipes (results);
  g_auto (TsRuledLimits) ruled = { 0 };

  if (!ts_pipeline_limits (plan, &ruled, error))
    return NULL;
  return ts_variation_replace (plan->paints, &ruled.limits, (const TsRecipe *) recipes->data,
                               recipes->len, paint, cancellable, error);
}
