/* ts-plan-defaults.c: what the painter wants a new plan to start with
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan-defaults.h"

#include "recipes/ts-recipe-search.h"

/**
 * ts_plan_start_with:
 * @plan: a new plan
 * @defaults: the painter's
 *
 * A figure of another height is looked at in steps of another width; how far from is the painter's
 * to say.
 */
void
ts_plan_start_with (TsPlan *plan, const TsPlanDefaults *defaults)
{
  if (defaults->max_paints > 0)
    plan->mix.max_paints = MIN (defaults->max_paints, TS_SEARCH_MAX_PAINTS);
  if (defaults->max_parts > 0)
    plan->mix.max_parts = CLAMP (defaults->max_parts, 2, TS_SEARCH_MAX_PARTS);
  if (defaults->figure_height > 0.0)
    {
      plan->figure_height = defaults->figure_height;
      ts_contrast_settings_suit (&plan->contrast, plan->figure_height);
    }
  if (defaults->distance > 0.0)
    plan->contrast.distance = defaults->distance;
}
