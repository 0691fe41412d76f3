/* ts-document-mixes.c: verbs on how mixes are chosen and worked
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>

/**
 * ts_document_set_rule:
 * @self: a document
 * @paint: name of a paint
 * @rule: its part in mixes
 *
 * Looks for all mixes anew; locked ones stay.
 */
void
ts_document_set_rule (TsDocument *self, const char *paint, TsPaintRule rule)
{
  TsPlan *plan;
  TsPaintRules *rules;

  if (ts_paint_rules_get (self->plan->rules, paint) == rule)
    return;
  plan = ts_plan_copy (self->plan);
  rules = ts_paint_rules_with (plan->rules, paint, rule);
  g_clear_pointer (&plan->rules, ts_paint_rules_unref);
  plan->rules = rules;
  ts_document_change (self, plan, _ ("Limits of mixes"), TS_SURFACE_ALL);
}

/**
 * ts_document_clear_rules:
 * @self: a document
 *
 * Lets every paint in stock into mixes.
 */
void
ts_document_clear_rules (TsDocument *self)
{
  TsPlan *plan;

  if (self->plan->rules == NULL)
    return;
  plan = ts_plan_copy (self->plan);
  g_clear_pointer (&plan->rules, ts_paint_rules_unref);
  ts_document_change (self, plan, _ ("Limits of mixes"), TS_SURFACE_ALL);
}

/**
 * ts_document_set_together:
 * @self: a document
 * @surface: index of a surface
 * @together: how its recipes are chosen
 * @most_paints: unlike paints in its stair, 0 for as many as pay
 */
void
ts_document_set_together (TsDocument *self, guint surface, TsTogether together, guint most_paints)
{
  const TsSurface *old;
  TsPlan *plan;
  TsSurface *of;

  surface = ts_plan_get_stair_index (self->plan, surface);
  old = ts_plan_get_surface (self->plan, surface);
  if (old->together == together && old->most_paints == most_paints)
    return;
  plan = ts_plan_copy (self->plan);
  of = ts_plan_get_surface (plan, surface);
  of->together = together;
  of->most_paints = most_paints;
  ts_document_change (self, plan, _ ("Choose mixes together"), (int) surface);
}

/**
 * ts_document_set_work:
 * @self: a document
 * @surface: index of a surface
 * @area: mm2 to be painted, 0 where it is not said
 * @coats: of each step, 0 where it is not said
 *
 * Says how much of each mix is wanted.
 */
void
ts_document_set_work (TsDocument *self, guint surface, double area, double coats)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsSurface *of = ts_plan_get_surface (plan, surface);

  of->area = area;
  of->coats = coats;
  ts_document_change (self, plan, _ ("Amount of paint"), TS_SURFACE_NONE);
}

/**
 * ts_document_set_card_work:
 * @self: a document with a plan
 * @work: whether the mixing card has the order of work of every surface
 */
void
ts_document_set_card_work (TsDocument *self, gboolean work)
{
  TsPlan *plan;

  if (self->plan->card_work == work)
    return;
  plan = ts_plan_copy (self->plan);
  plan->card_work = work;
  ts_document_change (self, plan, _ ("Order of work on the card"), TS_SURFACE_NONE);
}

/* The keys without @key, and with it at the end where it is @done. */
static char **
build_done (char **old, const char *key, gboolean done)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();

  for (guint i = 0; old != NULL && old[i] != NULL; i++)
    if (!g_str_equal (old[i], key))
      g_strv_builder_add (builder, old[i]);
  if (done)
    g_strv_builder_add (builder, key);
  return g_strv_builder_end (builder);
}

/**
 * ts_document_tick_work:
 * @self: a document
 * @surface: index of a surface
 * @key: ts_work_to_key() of a thing to do
 * @done: whether it has been done
 */
void
ts_document_tick_work (TsDocument *self, guint surface, const char *key, gboolean done)
{
  char **old = ts_plan_get_surface (self->plan, surface)->done;
  gboolean was = old != NULL && g_strv_contains ((const char *const *) old, key);
  TsPlan *plan;
  TsSurface *of;

  if (was == done)
    return;
  plan = ts_plan_copy (self->plan);
  of = ts_plan_get_surface (plan, surface);
  g_strfreev (of->done);
  of->done = build_done (old, key, done);
  ts_document_change (self, plan, done ? _ ("Tick off") : _ ("Take tick back"), TS_SURFACE_NONE);
}
