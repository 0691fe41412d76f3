/* ts-stair-spacing.h: where on the run the steps of a stair lie
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "steps/ts-stair-lift.h"

G_BEGIN_DECLS

/* Fills @positions for the spacing of the settings, lightest first. */
void ts_stair_space (const TsStairLift *lift,
                     double             positions[TS_STAIR_MAX_STEPS]);

G_END_DECLS
