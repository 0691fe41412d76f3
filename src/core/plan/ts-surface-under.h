/* ts-surface-under.h: a stair under other lights, and to other eyes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "plan/ts-surface-result.h"

G_BEGIN_DECLS

typedef enum
{
  TS_UNDER_LED,    /* CIE LED-B1: a white LED of a display cabinet */
  TS_UNDER_A,      /* CIE A: a tungsten lamp */
  TS_UNDER_PROTAN, /* eyes without red cones */
  TS_UNDER_DEUTAN, /* without green ones */
  TS_UNDER_TRITAN, /* without blue ones */
  TS_N_UNDERS
} TsUnder;

/* The step's colour there; from its recipe's spectrum, or before there is one a smooth spectrum. */
TsLab      ts_surface_result_get_colour_under   (const TsSurfaceResult  *self,
                                                 guint                   step,
                                                 TsUnder                 under);
/* Between @step and the next. */
TsContrast ts_surface_result_get_contrast_under (const TsSurfaceResult  *self,
                                                 guint                   step,
                                                 TsUnder                 under);
/* How many neighbours that read under daylight, to the usual eye, are too close there. */
guint      ts_surface_result_count_lost         (const TsSurfaceResult  *self,
                                                 TsUnder                 under);
/* The band, mm, under which the two neighbours that are nearest to each other merge. */
double     ts_surface_result_get_least_band     (const TsSurfaceResult  *self);

G_END_DECLS
