/* ts-touching.c: surfaces that touch, and whether their lightness separates
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-touching.h"

#include <math.h>

/* Outlines are loose: those nearer than this share of the smaller one's side touch (reasoned, not
 * measured). */
#define NEAR 0.08

static double
distance_to_segment (TsPoint p, TsPoint a, TsPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
  double share = square > 0.0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / square : 0.0;

  share = CLAMP (share, 0.0, 1.0);
  return hypot (p.x - a.x - share * dx, p.y - a.y - share * dy);
}

/* Whether a corner of @one lies in @other, or nearer to it than @near. */
static gboolean
corner_is_near (const GArray *one, const GArray *other, double near)
{
  const TsPoint *points = (const TsPoint *) other->data;

  for (guint i = 0; i < one->len; i++)
    {
      TsPoint p = g_array_index (one, TsPoint, i);

      if (ts_outline_contains (points, other->len, p))
        return TRUE;
      for (guint j = 0, k = other->len - 1; j < other->len; k = j++)
        if (distance_to_segment (p, points[k], points[j]) <= near)
          return TRUE;
    }
  return FALSE;
}

/**
 * ts_surfaces_meet:
 * @one: a surface
 * @other: another
 *
 * Returns: whether both have outlines on one picture that touch, as near as outlines are drawn
 */
gboolean
ts_surfaces_meet (const TsSurface *one, const TsSurface *other)
{
  const TsOutline *a = one->outline, *b = other->outline;
  double area;

  if (a == NULL || b == NULL || a->picture != b->picture)
    return FALSE;
  area = fmin (ts_outline_get_area ((const TsPoint *) a->points->data, a->points->len),
               ts_outline_get_area ((const TsPoint *) b->points->data, b->points->len));
  return corner_is_near (a->points, b->points, NEAR * sqrt (area)) ||
         corner_is_near (b->points, a->points, NEAR * sqrt (area));
}

static guint
find_base (const TsSurfaceResult *result)
{
  const TsStair *stair = ts_surface_result_get_stair (result);

  for (guint i = 0; i < ts_stair_get_n_steps (stair); i++)
    if (g_strcmp0 (ts_stair_get_role (stair, i), "base") == 0)
      return i;
  return 0;
}

static TsContrast
check_bases (const TsSurfaceResult *one, const TsSurfaceResult *other)
{
  guint i = find_base (one), j = find_base (other);

  if (ts_surface_result_get_colour (one, i).L >= ts_surface_result_get_colour (other, j).L)
    return ts_surface_result_compare (one, i, other, j);
  return ts_surface_result_compare (other, j, one, i);
}

/**
 * ts_plan_check_touching:
 * @plan: a plan
 * @results: (element-type TsSurfaceResult): one a surface, or %NULL
 *
 * What the painter has said goes before what the outlines tell.
 *
 * Returns: (transfer full) (element-type TsTouching): the pairs that touch
 */
GArray *
ts_plan_check_touching (const TsPlan *plan, const GPtrArray *results)
{
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (TsTouching));

  for (guint i = 0; i < MIN (plan->surfaces->len, results->len); i++)
    for (guint j = i + 1; j < MIN (plan->surfaces->len, results->len); j++)
      {
        const TsSurfaceResult *one = results->pdata[i], *other = results->pdata[j];
        int said = ts_plan_get_touch (plan, i, j);
        TsTouching pair = { .one = i, .other = j, .said = said > 0 };

        if (one == NULL || other == NULL || said == 0 ||
            (said < 0 &&
             !ts_surfaces_meet (ts_plan_get_surface (plan, i), ts_plan_get_surface (plan, j))))
          continue;
        pair.contrast = check_bases (one, other);
        g_array_append_val (pairs, pair);
      }
  return pairs;
}
