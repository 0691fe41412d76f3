/* ts-difference.h: how far apart two colours are
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

/* ISO/CIE 11664-6, all weights 1. */
double ts_delta_e_2000 (TsLab one,
                        TsLab other);
/* Euclidean distance in CIELAB (ISO/CIE 11664-4). */
double ts_delta_e_76   (TsLab one,
                        TsLab other);
/* Symmetric 3x3 metric of dE2000^2 about @lab: dE^2 is about d' M d for a small step d. */
void   ts_delta_e_2000_metric (TsLab  lab,
                               double metric[3][3]);

G_END_DECLS
