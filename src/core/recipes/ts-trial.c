/* ts-trial.c: a mix that is put together by hand
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "recipes/ts-trial.h"

/**
 * ts_trial_add:
 * @self: a trial
 * @paint: index in the set it is made for
 *
 * Puts one part more of it into the mix, behind the paints that are there.
 *
 * Returns: %FALSE where there are %TS_TRIAL_MOST_PARTS of it, or %TS_RECIPE_MAX_PAINTS others
 */
gboolean
ts_trial_add (TsTrial *self, guint paint)
{
  TsRecipe *recipe = &self->recipe;

  for (guint i = 0; i < recipe->n_paints; i++)
    if (recipe->paint[i] == paint)
      return ts_trial_change_parts (self, i, 1);
  if (recipe->n_paints >= TS_RECIPE_MAX_PAINTS)
    return FALSE;
  recipe->paint[recipe->n_paints] = paint;
  recipe->parts[recipe->n_paints] = 1;
  recipe->n_paints++;
  return TRUE;
}

/**
 * ts_trial_change_parts:
 * @self: a trial
 * @place: of a paint in the mix, below its number of paints
 * @by: parts more, or less where below 0
 *
 * A paint that is left without parts leaves the mix.
 *
 * Returns: %FALSE where that would be more than %TS_TRIAL_MOST_PARTS; nothing is changed then
 */
gboolean
ts_trial_change_parts (TsTrial *self, guint place, int by)
{
  TsRecipe *recipe = &self->recipe;
  int parts;

  g_return_val_if_fail (place < recipe->n_paints, FALSE);

  parts = (int) recipe->parts[place] + by;
  if (parts > TS_TRIAL_MOST_PARTS)
    return FALSE;
  if (parts > 0)
    {
      recipe->parts[place] = (guint) parts;
      return TRUE;
    }
  for (guint i = place; i + 1 < recipe->n_paints; i++)
    {
      recipe->paint[i] = recipe->paint[i + 1];
      recipe->parts[i] = recipe->parts[i + 1];
    }
  recipe->n_paints--;
  return TRUE;
}

/**
 * ts_trial_follow:
 * @self: a trial
 * @from: (nullable): the set it is made for; may be %NULL where the trial has no paint
 * @to: (nullable): another set, or none
 *
 * Finds its paints and its base by name in another set; those that are gone leave it.
 */
void
ts_trial_follow (TsTrial *self, const TsPaintSet *from, const TsPaintSet *to)
{
  TsRecipe *recipe = &self->recipe;
  guint n = 0;

  for (guint i = 0; i < recipe->n_paints && to != NULL; i++)
    {
      const char *name = ts_paint_get_name (ts_paint_set_get_paint (from, recipe->paint[i]));
      int found = ts_paint_set_find (to, name);

      if (found < 0)
        continue;
      recipe->paint[n] = (guint) found;
      recipe->parts[n] = recipe->parts[i];
      n++;
    }
  recipe->n_paints = n;
  if (self->base >= 0)
    self->base = to != NULL
                   ? ts_paint_set_find (
                       to, ts_paint_get_name (ts_paint_set_get_paint (from, (guint) self->base)))
                   : -1;
}
