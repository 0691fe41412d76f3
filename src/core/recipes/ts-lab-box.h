/* ts-lab-box.h: boxes in CIELAB, and how near to a colour they can come
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-colour.h"

G_BEGIN_DECLS

/* L, a, b from low to high, both ends included. */
typedef struct
{
  double low[3], high[3];
} TsLabBox;

/* No colour of the box is nearer to @target than this. */
double ts_lab_box_least_delta_e (const TsLabBox  *self,
                                 TsLab            target);
/* Narrows the box as long as that pays, losing no colour within @radius of @target. */
void   ts_lab_box_narrow        (TsLabBox        *self,
                                 TsLab            target,
                                 double           radius);

G_END_DECLS
