/* ts-recipe-best.h: the best few recipes so far, with unlike sets of paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "recipes/ts-recipe.h"

G_BEGIN_DECLS

/* Fills itself by offers, in whatever order they come: the outcome is the same. */
typedef struct _TsRecipeBest TsRecipeBest;

TsRecipeBest *ts_recipe_best_new       (const TsPaintSet    *set,
                                        TsLab                target,
                                        guint                n_best);
/* Keeps every set of paints that has a mix within @within of the nearest, but @most_sets at most. */
TsRecipeBest *ts_recipe_best_new_within (const TsPaintSet   *set,
                                        TsLab                target,
                                        double               within,
                                        guint                most_sets);
void          ts_recipe_best_free      (TsRecipeBest        *self);
/* Refuses mixes that two coats do not hide a ground with. */
void          ts_recipe_best_set_opaque_only (TsRecipeBest  *self,
                                        gboolean             opaque_only);
/* A recipe farther than this cannot come in; infinity until there are enough. */
double        ts_recipe_best_get_worst (const TsRecipeBest  *self);
void          ts_recipe_best_offer     (TsRecipeBest        *self,
                                        const guint         *paints,
                                        const guint8        *parts,
                                        guint                n_paints);
/* All differences filled in, nearest first (TsRecipe); for new_within, illuminant A left out, and of
 * each set of paints the mix with the least expected difference. */
GArray       *ts_recipe_best_to_array  (const TsRecipeBest  *self,
                                        GCancellable        *cancellable);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsRecipeBest, ts_recipe_best_free)

G_END_DECLS
