/* ts-recipe-index.h: where in colour the mixes of a set lie, by boxes around small groups of them
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "base/ts-progress.h"
#include "recipes/ts-recipe-best.h"
#include "recipes/ts-recipe-kernel-private.h"

G_BEGIN_DECLS

/* It never changes once made; threads may share it. */
typedef struct _TsRecipeIndex TsRecipeIndex;

/* @needed says of each row whether every mix must hold it. */
TsRecipeIndex *ts_recipe_index_new     (const TsMixRows      *rows,
                                        const gboolean       *needed,
                                        guint                 max_paints,
                                        guint                 max_parts,
                                        GCancellable         *cancellable,
                                        GError              **error);
void           ts_recipe_index_free    (TsRecipeIndex        *self);
/* Mixes of 2 to this many paints are searched by it; the rest must be tried one by one. */
guint          ts_recipe_index_get_most_paints (const TsRecipeIndex  *self);
gsize          ts_recipe_index_get_size        (const TsRecipeIndex  *self);
/* Offers every mix of 2 or more paints that can still come in among the best. */
gboolean       ts_recipe_index_search          (const TsRecipeIndex  *self,
                                                TsLab                 target,
                                                TsRecipeBest         *best,
                                                GCancellable         *cancellable,
                                                TsProgressFunc        progress,
                                                gpointer              progress_data,
                                                GError              **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsRecipeIndex, ts_recipe_index_free)

G_END_DECLS
