/* ts-recipe-best.h: the best few recipes so far, with unlike sets of paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-recipe.h"

G_BEGIN_DECLS

/* Fills itself by offers, in whatever order they come: the outcome is the same. */
typedef struct _TsRecipeBest TsRecipeBest;

TsRecipeBest *ts_recipe_best_new       (const TsPaintSet    *set,
                                        TsLab                target,
                                        guint                n_best);
void          ts_recipe_best_free      (TsRecipeBest        *self);
/* A recipe farther than this cannot come in; infinity until there are enough. */
double        ts_recipe_best_get_worst (const TsRecipeBest  *self);
void          ts_recipe_best_offer     (TsRecipeBest        *self,
                                        const guint         *paints,
                                        const guint8        *parts,
                                        guint                n_paints);
/* All differences filled in, nearest first (TsRecipe). */
GArray       *ts_recipe_best_to_array  (const TsRecipeBest  *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsRecipeBest, ts_recipe_best_free)

G_END_DECLS
