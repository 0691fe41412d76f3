/* ts-surface-accent.h: the mix of an accent
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-accent.h"
#include "plan/ts-surface-result.h"

G_BEGIN_DECLS

/* Predicted, and compared with its step's mix; FALSE before that is known, and where its paint is not in
 * the set. */
gboolean ts_surface_result_mix_accent (const TsSurfaceResult  *self,
                                       const TsAccent         *accent,
                                       TsRecipe               *recipe);
/* Its whole mix, and how it looks beside the step: "lighter, warmer"; %NULL where it cannot be told. */
char    *ts_surface_result_describe_accent (const TsSurfaceResult *self,
                                            const TsAccent    *accent);

G_END_DECLS
