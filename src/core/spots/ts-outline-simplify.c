/* ts-outline-simplify.c: an outline with few corners, that a hand can move
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "spots/ts-outline.h"

#include <math.h>

/* The area of the triangle that goes with corner @index, square pixels. */
static double
area_lost (const GArray *points, guint index)
{
  TsPoint before = g_array_index (points, TsPoint, (index + points->len - 1) % points->len);
  TsPoint at = g_array_index (points, TsPoint, index);
  TsPoint after = g_array_index (points, TsPoint, (index + 1) % points->len);

  return 0.5 *
         fabs ((at.x - before.x) * (after.y - before.y) - (after.x - before.x) * (at.y - before.y));
}

/**
 * ts_outline_simplify:
 * @points: (element-type TsPoint): corners in order
 * @most: how many may stay, 3 or more
 *
 * Takes corners away until no more than @most are left, always the one whose going changes the
 * area least (Visvalingam and Whyatt 1993).
 */
void
ts_outline_simplify (GArray *points, guint most)
{
  g_return_if_fail (most >= 3);

  while (points->len > most)
    {
      guint least = 0;
      double lost = area_lost (points, 0);

      for (guint i = 1; i < points->len; i++)
        if (area_lost (points, i) < lost)
          {
            least = i;
            lost = area_lost (points, i);
          }
      g_array_remove_index (points, least);
    }
}
