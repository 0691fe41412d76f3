/* ts-surface-accent.c: the mix of an accent
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-surface-accent.h"

#include <glib/gi18n.h>

#include "palette/ts-variation.h"

/**
 * ts_surface_result_mix_accent:
 * @self: a result
 * @accent: an accent of its surface
 * @recipe: (out): the step's mix with what comes to it, predicted and compared with the step's
 *
 * Returns: %FALSE where its step has no mix yet, where its paint is not in the set, or where a
 *   recipe cannot hold so many
 */
gboolean
ts_surface_result_mix_accent (const TsSurfaceResult *self, const TsAccent *accent, TsRecipe *recipe)
{
  TsPaintSet *paints = ts_surface_result_get_paints (self);
  const TsRecipe *step = accent->step < ts_surface_result_get_n_steps (self)
                           ? ts_surface_result_get_recipe (self, accent->step)
                           : NULL;
  int paint = paints != NULL ? ts_paint_set_find (paints, accent->paint) : -1;

  if (step == NULL || paint < 0 ||
      !ts_variation_add (paints, step, (guint) paint, accent->parts, recipe))
    return FALSE;
  ts_recipe_compare (paints, recipe, step->lab);
  return TRUE;
}

/**
 * ts_surface_result_describe_accent:
 * @self: a result
 * @accent: an accent of its surface
 *
 * Returns: (transfer full) (nullable): its whole mix and how it looks beside its step, or %NULL
 *   where ts_surface_result_mix_accent() is %FALSE
 */
char *
ts_surface_result_describe_accent (const TsSurfaceResult *self, const TsAccent *accent)
{
  g_autofree char *mix = NULL, *looks = NULL;
  TsRecipe recipe;

  if (!ts_surface_result_mix_accent (self, accent, &recipe))
    return NULL;
  mix = ts_recipe_to_text (ts_surface_result_get_paints (self), &recipe);
  looks = ts_variation_to_text (ts_surface_result_get_colour (self, accent->step), recipe.lab);
  return g_strdup_printf (_ ("%s; %s"), mix, looks);
}
