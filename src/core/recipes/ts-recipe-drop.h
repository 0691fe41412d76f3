/* ts-recipe-drop.h: how far a recipe strays when drops are not all alike
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-recipe.h"

G_BEGIN_DECLS

#define TS_DROP_SPREAD 0.10 /* standard deviation of one drop's volume, share of the mean */

double ts_recipe_get_drop_error       (const TsPaintSet  *set,
                                       const TsRecipe    *recipe,
                                       TsLab              target);
/* The same from fewer draws, for comparing many recipes. */
double ts_recipe_get_rough_drop_error (const TsPaintSet  *set,
                                       const TsRecipe    *recipe,
                                       TsLab              target);

G_END_DECLS
