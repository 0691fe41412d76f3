/* ts-surface-fall.c: which way the light falls on a surface, and whether it does on the others
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-surface-fall.h"

/* So many other surfaces must be there before one can be lit from elsewhere than they. */
#define LEAST_OTHERS 2

static TsPoint
get_light (const TsPlan *plan, guint picture)
{
  const TsPicture *of = ts_plan_get_picture (plan, picture);

  if (!of->has_light)
    return (TsPoint){ 0.0, 0.0 };
  return (TsPoint){ of->light_to.x - of->light_from.x, of->light_to.y - of->light_from.y };
}

static TsPoint
add_run (TsPoint sum, const TsRun *run)
{
  return ts_check_fall_add (sum, g_array_index (run->points, TsPoint, 0),
                            g_array_index (run->points, TsPoint, run->points->len - 1));
}

/* Of the runs on one picture; a polished surface mirrors what is around it and tells nothing. */
static TsPoint
get_way (const TsSurface *surface, guint picture)
{
  TsPoint way = { 0.0, 0.0 };

  for (guint i = 0; i < surface->runs->len && !surface->polished; i++)
    if (ts_surface_get_run (surface, i)->picture == picture)
      way = add_run (way, ts_surface_get_run (surface, i));
  return way;
}

/**
 * ts_run_get_fall:
 * @plan: a plan
 * @run: one of its runs
 *
 * Returns: whether it falls away from the light; unknown where the painter has not said where that
 * is
 */
TsFall
ts_run_get_fall (const TsPlan *plan, const TsRun *run)
{
  return ts_check_fall (add_run ((TsPoint){ 0.0, 0.0 }, run), get_light (plan, run->picture));
}

static TsPoint
get_way_of_others (const TsPlan *plan, guint surface, guint picture, guint *n)
{
  TsPoint sum = { 0.0, 0.0 }, none = { 0.0, 0.0 };

  *n = 0;
  for (guint i = 0; i < plan->surfaces->len; i++)
    {
      TsPoint way = get_way (ts_plan_get_surface (plan, i), picture);
      TsPoint added = ts_check_fall_add (sum, none, way);

      if (i == surface || (added.x == sum.x && added.y == sum.y))
        continue;
      sum = added;
      (*n)++;
    }
  return sum;
}

/**
 * ts_surface_get_fall:
 * @plan: a plan
 * @surface: index of a surface
 *
 * Returns: whether it is lit from where the arrow of its picture comes, or, without an arrow, from
 *   where the other surfaces are; unknown for a polished one, or where there is nothing to go by
 */
TsFall
ts_surface_get_fall (const TsPlan *plan, guint surface)
{
  const TsSurface *of = ts_plan_get_surface (plan, surface);
  TsPoint light;
  guint picture, n;

  if (of->runs->len == 0)
    return TS_FALL_UNKNOWN;
  picture = ts_surface_get_run (of, 0)->picture;
  light = get_light (plan, picture);
  if (!ts_plan_get_picture (plan, picture)->has_light)
    {
      light = get_way_of_others (plan, surface, picture, &n);
      if (n < LEAST_OTHERS)
        return TS_FALL_UNKNOWN;
    }
  return ts_check_fall (get_way (of, picture), light);
}
