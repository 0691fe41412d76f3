/* ts-surface-curve.h: from what was measured of a surface to its stair
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-plan.h"

G_BEGIN_DECLS

TsStair *ts_surface_cut_stair (const TsSurface  *of,
                               const TsCurve    *curve,
                               GError          **error);
/* The fewest steps that keep every neighbour apart and still blending; where no number does, the
 * one that comes nearest. */
guint    ts_surface_get_fewest_steps (const TsSurface           *of,
                                      const TsCurve             *curve,
                                      const TsContrastSettings  *settings);

G_END_DECLS
