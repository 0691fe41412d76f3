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

G_END_DECLS
