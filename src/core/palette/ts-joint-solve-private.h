/* ts-joint-solve-private.h: the cheapest way along a chain when each paint in all costs once
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "palette/ts-joint-chain-private.h"

G_BEGIN_DECLS

/* Fills @path (places in each step's recipes as given) and @bound; infinity where there is no way
 * that is known. Recipes of the chain are lost. */
gboolean ts_joint_solve (TsJointChain          *chain,
                         const TsJointWeights  *weights,
                         guint                 *path,
                         double                *cost,
                         double                *bound,
                         GCancellable          *cancellable,
                         GError               **error);

G_END_DECLS
