/* ts-variation.h: other mixes from those that are there
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "palette/ts-joint.h"

G_BEGIN_DECLS

/* @recipe and @parts of @paint more in it; %FALSE where a recipe cannot hold so many paints. */
gboolean     ts_variation_add      (const TsPaintSet      *set,
                                    const TsRecipe        *recipe,
                                    guint                  paint,
                                    guint                  parts,
                                    TsRecipe              *changed);
/* "lighter and warmer", "about the same": how @to looks beside @from. */
char        *ts_variation_to_text  (TsLab                  from,
                                    TsLab                  to);
/* Which of @n colours is nearest to @colour, and how near. */
guint        ts_variation_nearest  (const TsLab           *colours,
                                    guint                  n,
                                    TsLab                  colour,
                                    double                *delta_e);

/* One use of a paint that has run out, and what takes its place. */
typedef struct
{
  guint    index;   /* of the recipe in the list */
  TsRecipe before;
  TsRecipe after;   /* compared with the colour of @before */
} TsReplacement;

/* For each of @recipes with @paint in it the nearest mix of other paints: an array of TsReplacement. */
GArray      *ts_variation_replace  (TsPaintSet            *set,
                                    const TsSearchLimits  *limits,
                                    const TsRecipe        *recipes,
                                    guint                  n,
                                    guint                  paint,
                                    GCancellable          *cancellable,
                                    GError               **error);
/* The fewest paints that mix all @targets within @within, or as near as can be: a recipe for each. */
TsJointPlan *ts_variation_smallest (const TsRecipeSearch  *search,
                                    const TsLab           *targets,
                                    guint                  n,
                                    double                 within,
                                    GCancellable          *cancellable,
                                    GError               **error);

G_END_DECLS
