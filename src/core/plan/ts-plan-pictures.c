/* ts-plan-pictures.c: what counts pictures, where one goes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "plan/ts-plan.h"

/* Whether what lies on @picture stays; what comes after @removed counts one less. */
static gboolean
stays (guint *picture, guint removed)
{
  if (*picture == removed)
    return FALSE;
  if (*picture > removed)
    (*picture)--;
  return TRUE;
}

static void
leave_surface (TsSurface *surface, guint removed)
{
  for (guint i = surface->runs->len; i-- > 0;)
    if (!stays (&ts_surface_get_run (surface, i)->picture, removed))
      g_ptr_array_remove_index (surface->runs, i);
  if (surface->outline != NULL && !stays (&surface->outline->picture, removed))
    g_clear_pointer (&surface->outline, ts_outline_free);
  if (surface->finish_outline != NULL && !stays (&surface->finish_outline->picture, removed))
    g_clear_pointer (&surface->finish_outline, ts_outline_free);
}

/**
 * ts_plan_remove_picture:
 * @self: a plan that has not been given away
 * @index: of the picture that goes
 *
 * What lies on it goes with it, but for the colours of the brief that were measured there: those
 * are kept as if they had been typed.
 */
void
ts_plan_remove_picture (TsPlan *self, guint index)
{
  g_return_if_fail (index < self->pictures->len);

  for (guint i = 0; i < self->surfaces->len; i++)
    leave_surface (ts_plan_get_surface (self, i), index);
  for (guint i = self->finish->len; i-- > 0;)
    if (!stays (&((TsFinishRun *) g_ptr_array_index (self->finish, i))->run->picture, index))
      g_ptr_array_remove_index (self->finish, i);
  for (guint i = 0; i < self->brief->len; i++)
    {
      TsBriefLine *line = ts_plan_get_brief_line (self, i);

      if (line->radius > 0.0 && !stays (&line->picture, index))
        line->radius = 0.0;
    }
  g_ptr_array_remove_index (self->pictures, index);
}
