/* ts-check-fall.h: does the light fall the way it is said to
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "spots/ts-run.h"

G_BEGIN_DECLS

typedef enum
{
  TS_FALL_UNKNOWN,
  TS_FALL_AWAY,   /* from lit to shadow as the light falls */
  TS_FALL_ACROSS, /* sideways: neither for nor against */
  TS_FALL_AGAINST /* towards the light: lit from elsewhere */
} TsFall;

/* The sum of lines from lit to shadow, each of length 1: which way a surface falls. */
TsPoint ts_check_fall_add (TsPoint  sum,
                           TsPoint  lit,
                           TsPoint  shadow);
/* Two ways against each other; either may be of length 0, which tells nothing. */
TsFall  ts_check_fall     (TsPoint  way,
                           TsPoint  light);

G_END_DECLS
