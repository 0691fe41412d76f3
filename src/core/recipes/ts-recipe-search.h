/* ts-recipe-search.h: the nearest mixes of a set to a colour, exactly
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "base/ts-progress.h"
#include "recipes/ts-recipe.h"

G_BEGIN_DECLS

#define TS_SEARCH_MAX_PAINTS 4
#define TS_SEARCH_MAX_PARTS  16

typedef struct
{
  guint    max_paints; /* in one mix: 1 to TS_SEARCH_MAX_PAINTS */
  guint    max_parts;  /* in all: 1 to TS_SEARCH_MAX_PARTS */
  guint    n_best;     /* how many with unlike sets of paints, 1 to 64 */
  double   reach;      /* CIEDE2000 within which a target counts as reachable */
  /* Indices of paints to use, or %NULL for all that are in stock and are no primer, varnish or medium. */
  const guint *allowed;
  guint        n_allowed;
  /* Indices of paints that every mix must hold, allowed or not; at most max_paints. */
  const guint *needed;
  guint        n_needed;
  gboolean     opaque_only; /* two coats hide what is under them */
} TsSearchLimits;

/* Ready to search one set: built once, then asked for many targets. It never changes once made;
 * threads may share it. */
typedef struct _TsRecipeSearch TsRecipeSearch;

void            ts_search_limits_init    (TsSearchLimits        *limits);
TsRecipeSearch *ts_recipe_search_new     (TsPaintSet            *set,
                                          const TsSearchLimits  *limits,
                                          GCancellable          *cancellable,
                                          GError               **error);
TsRecipeSearch *ts_recipe_search_ref     (TsRecipeSearch        *self);
void            ts_recipe_search_unref   (TsRecipeSearch        *self);
TsPaintSet     *ts_recipe_search_get_set (const TsRecipeSearch  *self);
/* Bytes that it holds to be fast. */
gsize           ts_recipe_search_get_size (const TsRecipeSearch *self);
/* The exact best, nearest first: a new array of TsRecipe. Ties: fewer paints, fewer parts, then
 * names in order. The same on every machine. */
GArray         *ts_recipe_search_run     (const TsRecipeSearch  *self,
                                          TsLab                  target,
                                          GCancellable          *cancellable,
                                          TsProgressFunc         progress,
                                          gpointer               progress_data,
                                          GError               **error);
/* Of every set of paints that comes within @within of the nearest mix, the mix with the least
 * expected difference (delta_e_drop_error, roughly): a new array of TsRecipe, nearest first. */
GArray         *ts_recipe_search_within  (const TsRecipeSearch  *self,
                                          TsLab                  target,
                                          double                 within,
                                          GCancellable          *cancellable,
                                          GError               **error);

/* How a colour differs from a wanted one, in one word. */
typedef enum
{
  TS_REACH_WITHIN,
  TS_REACH_TOO_CHROMATIC, /* the wanted colour is too chromatic for these paints */
  TS_REACH_TOO_LIGHT,
  TS_REACH_TOO_DARK,
  TS_REACH_OTHER_HUE
} TsReach;

TsReach         ts_reach_of              (TsLab                  wanted,
                                          const TsRecipe        *nearest,
                                          double                 reach);
const char     *ts_reach_to_word         (TsReach                reach);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsRecipeSearch, ts_recipe_search_unref)

G_END_DECLS
