/* ts-plan-surfaces.c: what counts surfaces, where they come, go and move
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan.h"

/**
 * ts_plan_get_stair_index:
 * @self: a plan
 * @index: of a surface
 *
 * Returns: index of the surface whose spots and steps it has: itself, or the one whose stair it
 * uses where that one has a stair of its own
 */
guint
ts_plan_get_stair_index (const TsPlan *self, guint index)
{
  int of = ts_plan_get_surface (self, index)->stair_of;
  const TsSurface *source;

  if (of < 0 || (guint) of >= self->surfaces->len)
    return index;
  source = ts_plan_get_surface (self, (guint) of);
  return source->stair_of < 0 && ts_surface_is_measured (source) ? (guint) of : index;
}

/**
 * ts_plan_get_stair_source:
 * @self: a plan
 * @index: of a surface
 *
 * Returns: (transfer none): the surface at ts_plan_get_stair_index()
 */
TsSurface *
ts_plan_get_stair_source (const TsPlan *self, guint index)
{
  return ts_plan_get_surface (self, ts_plan_get_stair_index (self, index));
}

/**
 * ts_plan_moved_index:
 * @index: of an element
 * @from: the place of one that moves
 * @to: where it moves to
 *
 * Returns: the index that the element has then
 */
guint
ts_plan_moved_index (guint index, guint from, guint to)
{
  if (index == from)
    return to;
  if (from < to && index > from && index <= to)
    return index - 1;
  if (from > to && index >= to && index < from)
    return index + 1;
  return index;
}

static void
order_touch (TsTouch *touch)
{
  guint one = MIN (touch->one, touch->other), other = MAX (touch->one, touch->other);

  touch->one = one;
  touch->other = other;
}

/* As if the surface had moved behind the last, and what counts it went. */
static void
forget_surface (TsPlan *self, guint index)
{
  for (guint i = self->finish->len; i-- > 0;)
    if (((TsFinishRun *) g_ptr_array_index (self->finish, i))->surface == index)
      g_ptr_array_remove_index (self->finish, i);
  for (guint i = self->touching->len; i-- > 0;)
    if (g_array_index (self->touching, TsTouch, i).one == index ||
        g_array_index (self->touching, TsTouch, i).other == index)
      g_array_remove_index (self->touching, i);
  for (guint i = 0; i < self->surfaces->len; i++)
    if (ts_plan_get_surface (self, i)->stair_of == (int) index)
      ts_plan_get_surface (self, i)->stair_of = -1;
}

/* All that counts surfaces, after one has moved. */
static void
renumber (TsPlan *self, guint from, guint to)
{
  for (guint i = 0; i < self->finish->len; i++)
    {
      TsFinishRun *finish = g_ptr_array_index (self->finish, i);

      finish->surface = ts_plan_moved_index (finish->surface, from, to);
    }
  for (guint i = 0; i < self->touching->len; i++)
    {
      TsTouch *touch = &g_array_index (self->touching, TsTouch, i);

      touch->one = ts_plan_moved_index (touch->one, from, to);
      touch->other = ts_plan_moved_index (touch->other, from, to);
      order_touch (touch);
    }
  for (guint i = 0; i < self->surfaces->len; i++)
    {
      TsSurface *surface = ts_plan_get_surface (self, i);

      if (surface->stair_of >= 0)
        surface->stair_of = (int) ts_plan_moved_index ((guint) surface->stair_of, from, to);
    }
}

/**
 * ts_plan_remove_surface:
 * @self: a plan that has not been given away
 * @index: of the surface that goes
 *
 * Its runs on the finished figure and what was said of its neighbours go with it; surfaces that
 * used its stair have their own again.
 */
void
ts_plan_remove_surface (TsPlan *self, guint index)
{
  g_return_if_fail (index < self->surfaces->len);

  forget_surface (self, index);
  renumber (self, index, self->surfaces->len - 1);
  g_ptr_array_remove_index (self->surfaces, index);
}

/**
 * ts_plan_move_surface:
 * @self: a plan that has not been given away
 * @from: index of a surface
 * @to: the index it is to have
 */
void
ts_plan_move_surface (TsPlan *self, guint from, guint to)
{
  gpointer surface;

  g_return_if_fail (from < self->surfaces->len && to < self->surfaces->len);

  surface = g_ptr_array_steal_index (self->surfaces, from);
  g_ptr_array_insert (self->surfaces, (int) to, surface);
  renumber (self, from, to);
}

static int
find_touch (const TsPlan *self, guint one, guint other)
{
  for (guint i = 0; i < self->touching->len; i++)
    {
      const TsTouch *touch = &g_array_index (self->touching, TsTouch, i);

      if (touch->one == MIN (one, other) && touch->other == MAX (one, other))
        return (int) i;
    }
  return -1;
}

/**
 * ts_plan_get_touch:
 * @self: a plan
 * @one: index of a surface
 * @other: index of another
 *
 * Returns: what the painter has said: 1 they touch, 0 they do not, -1 nothing
 */
int
ts_plan_get_touch (const TsPlan *self, guint one, guint other)
{
  int found = find_touch (self, one, other);

  return found < 0 ? -1 : g_array_index (self->touching, TsTouch, found).touch;
}

/**
 * ts_plan_set_touch:
 * @self: a plan that has not been given away
 * @one: index of a surface
 * @other: index of another
 * @touch: 1 they touch, 0 they do not, -1 nothing is said
 */
void
ts_plan_set_touch (TsPlan *self, guint one, guint other, int touch)
{
  TsTouch said = { one, other, touch > 0 };
  int found = find_touch (self, one, other);

  g_return_if_fail (one != other && MAX (one, other) < self->surfaces->len);

  if (found >= 0)
    g_array_remove_index (self->touching, (guint) found);
  order_touch (&said);
  if (touch >= 0)
    g_array_append_val (self->touching, said);
}
