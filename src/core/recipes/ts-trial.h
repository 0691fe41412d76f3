/* ts-trial.h: a mix that is put together by hand
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "recipes/ts-recipe.h"

G_BEGIN_DECLS

#define TS_TRIAL_MOST_PARTS  99
#define TS_TRIAL_MOST_MEDIUM 20

/* A plain value: parts of paints, thinned with medium, over a base of the painter's choice. */
typedef struct
{
  TsRecipe recipe; /* n_paints 0: nothing yet */
  guint    medium; /* parts of medium to one part of the mix */
  int      base;   /* index of a paint, or -1 */
} TsTrial;

/* One part more of that paint of the set; FALSE where the mix has no room for it. */
gboolean ts_trial_add          (TsTrial           *self,
                                guint              paint);
/* More or less of the paint at that place of the mix, which leaves without parts; FALSE where it would
 * be too much. */
gboolean ts_trial_change_parts (TsTrial           *self,
                                guint              place,
                                int                by);
/* The same paints, by name, in another set (nullable: no paints); those that are gone leave it. */
void     ts_trial_follow       (TsTrial           *self,
                                const TsPaintSet  *from,
                                const TsPaintSet  *to);

G_END_DECLS
