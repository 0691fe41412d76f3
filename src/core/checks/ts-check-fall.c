/* ts-check-fall.c: does the light fall the way it is said to
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "checks/ts-check-fall.h"

#include <math.h>

/* A round form falls away from the light within a right angle to either side of it, seen from the
 * front (its normals turn so far); near the right angle a run tells nothing. Reasoned, not
 * measured. Cosine of 75 degrees. */
#define SURE 0.2588

/**
 * ts_check_fall_add:
 * @sum: where the lines before have led
 * @lit: the lit end of one more
 * @shadow: its shadow end
 *
 * Returns: @sum and the direction of the line, whatever its length
 */
TsPoint
ts_check_fall_add (TsPoint sum, TsPoint lit, TsPoint shadow)
{
  double length = hypot (shadow.x - lit.x, shadow.y - lit.y);

  if (!(length > 0.0))
    return sum;
  return (TsPoint){ sum.x + (shadow.x - lit.x) / length, sum.y + (shadow.y - lit.y) / length };
}

/**
 * ts_check_fall:
 * @way: from lit to shadow
 * @light: the way the light falls
 *
 * Returns: whether they go together
 */
TsFall
ts_check_fall (TsPoint way, TsPoint light)
{
  double lengths = hypot (way.x, way.y) * hypot (light.x, light.y), cosine;

  if (!(lengths > 1e-9))
    return TS_FALL_UNKNOWN;
  cosine = (way.x * light.x + way.y * light.y) / lengths;
  return cosine >= SURE ? TS_FALL_AWAY : cosine > -SURE ? TS_FALL_ACROSS : TS_FALL_AGAINST;
}
