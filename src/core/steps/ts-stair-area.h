/* ts-stair-area.h: how much of a surface each step covers
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "spots/ts-outline.h"
#include "steps/ts-stair.h"

G_BEGIN_DECLS

/* The share of the surface in each step's band, 0..1, from tones in falling lightness. */
void ts_stair_get_areas     (const TsStair    *stair,
                             const TsTone     *tones,
                             guint             n_tones,
                             double            areas[TS_STAIR_MAX_STEPS]);
/* Places the steps of @settings by hand where each covers as much as the others. */
void ts_stair_space_by_area (const TsCurve    *curve,
                             const TsTone     *tones,
                             guint             n_tones,
                             TsStairSettings  *settings);

G_END_DECLS
