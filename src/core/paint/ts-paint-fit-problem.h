/* ts-paint-fit-problem.h: from a set and swatches to the problem that the fit solves
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "paint/ts-paint-fit-loss.h"

G_BEGIN_DECLS

typedef struct
{
  TsFitProblem problem;
  guint       *paints;     /* index in the set of each of its paints */
  int         *folds;      /* of each of its swatches; -1 for one that is never left out */
  guint        n_folds;
  guint        n_swatches; /* the painter's own, which come first */
} TsFitSetup;

TsFitSetup *ts_fit_setup_new       (const TsPaintSet  *set,
                                    const TsSwatch    *swatches,
                                    guint              n_swatches,
                                    guint              max_folds);
void        ts_fit_setup_free      (TsFitSetup        *self);
/* Where the search starts: K and S as the set has them. */
double     *ts_fit_setup_dup_start (const TsFitSetup  *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsFitSetup, ts_fit_setup_free)

G_END_DECLS
