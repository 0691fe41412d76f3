/* ts-recipe-choice.h: a few offers from the best recipes, each with its reason
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-recipe.h"

G_BEGIN_DECLS

typedef enum
{
  TS_CHOICE_NEAREST,   /* least difference */
  TS_CHOICE_SIMPLEST,  /* fewest paints */
  TS_CHOICE_FORGIVING, /* least expected difference when drops vary */
  TS_CHOICE_WARM_LAMP, /* least difference under illuminant A */
  TS_CHOICE_WHITE_LED, /* least difference under LED-B1 */
  TS_CHOICE_OTHER
} TsChoiceReason;

typedef struct
{
  TsChoiceReason reason;
  TsRecipe       recipe;
  gboolean       equal; /* to the nearest within the error of both: they cannot be told apart */
} TsChoice;

/* Whether the mixed colours of two recipes differ by less than either's error. */
gboolean    ts_recipe_is_equal_within_error (const TsRecipe  *one,
                                             const TsRecipe  *other);
/* Offers from @recipes (TsRecipe, nearest first), at most @most: a new array of TsChoice. */
GArray     *ts_recipe_choose                (const GArray    *recipes,
                                             guint            most);
/* "nearest", "simplest: two paints", "simplest, and as near as can be told: two paints", "forgives a drop too many",
 * "holds under a warm lamp", "holds under a white LED". */
char       *ts_choice_to_words              (const TsChoice  *choice);

G_END_DECLS
