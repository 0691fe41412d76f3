/* ts-document-accents.c: verbs about accents: a step and something more
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>

/**
 * ts_document_add_accent:
 * @self: a document with paints
 * @surface: index of a surface
 * @name: what the painter calls it
 * @step: index of the step it begins with
 * @paint: index of the paint that comes to the step's mix
 * @parts: of it
 */
void
ts_document_add_accent (TsDocument *self, guint surface, const char *name, guint step, guint paint,
                        guint parts)
{
  TsPlan *plan;
  const char *paint_name;

  if (ts_plan_get_surface (self->plan, surface)->accents->len >= TS_ACCENTS_MOST)
    return;
  plan = ts_plan_copy (self->plan);
  paint_name = ts_paint_get_name (ts_paint_set_get_paint (plan->paints, paint));
  g_ptr_array_add (ts_plan_get_surface (plan, surface)->accents,
                   ts_accent_new (name, step, paint_name, parts));
  ts_document_change (self, plan, _ ("Add accent"), TS_SURFACE_NONE);
}

/**
 * ts_document_set_accent_parts:
 * @self: a document
 * @surface: index of a surface
 * @accent: index of one of its accents
 * @parts: of the paint that comes to the step's mix
 */
void
ts_document_set_accent_parts (TsDocument *self, guint surface, guint accent, guint parts)
{
  const TsAccent *old =
    g_ptr_array_index (ts_plan_get_surface (self->plan, surface)->accents, accent);
  TsPlan *plan;

  if (old->parts == parts)
    return;
  plan = ts_plan_copy (self->plan);
  ((TsAccent *) g_ptr_array_index (ts_plan_get_surface (plan, surface)->accents, accent))->parts =
    CLAMP (parts, 1, TS_ACCENT_MOST_PARTS);
  ts_document_change (self, plan, _ ("Change accent"), TS_SURFACE_NONE);
}

/**
 * ts_document_remove_accent:
 * @self: a document
 * @surface: index of a surface
 * @accent: index of one of its accents
 */
void
ts_document_remove_accent (TsDocument *self, guint surface, guint accent)
{
  TsPlan *plan = ts_plan_copy (self->plan);

  g_ptr_array_remove_index (ts_plan_get_surface (plan, surface)->accents, accent);
  ts_document_change (self, plan, _ ("Remove accent"), TS_SURFACE_NONE);
}

/* Steps of the stair of @source have other numbers: accents of all that share it go along. */
void
ts_document_move_accents (TsPlan *plan, guint source, const guint *moved, guint n)
{
  for (guint i = 0; i < plan->surfaces->len; i++)
    if (ts_plan_get_stair_index (plan, i) == source)
      ts_accents_move (ts_plan_get_surface (plan, i)->accents, moved, n);
}
