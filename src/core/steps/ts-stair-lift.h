/* ts-stair-lift.h: from the photo's colours to the wanted ones
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "steps/ts-stair.h"

G_BEGIN_DECLS

/* Borrows the curve and the settings. */
typedef struct
{
  const TsCurve         *curve;
  const TsStairSettings *settings;
  double top, core;             /* places of the lightest and of the darkest colour of the fall */
  double photo_top, photo_core; /* L* there */
  double mixed_top, mixed_core; /* L* there with the colours of light and shadow mixed in */
  double light, dark;           /* wanted L* there */
  gboolean even;                /* there is no fall to speak of */
} TsStairLift;

void   ts_stair_lift_init (TsStairLift           *self,
                           const TsCurve         *curve,
                           const TsStairSettings *settings);
TsLab  ts_stair_lift_at   (const TsStairLift     *self,
                           double                 position);

G_END_DECLS
