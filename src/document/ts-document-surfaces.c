/* ts-document-surfaces.c: verbs that change surfaces as a whole
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>
#include <string.h>

static gboolean
name_is_taken (const TsPlan *plan, const char *name)
{
  for (guint i = 0; i < plan->surfaces->len; i++)
    if (g_strcmp0 (ts_plan_get_surface (plan, i)->name, name) == 0)
      return TRUE;
  return FALSE;
}

char *
ts_document_free_name (const TsPlan *plan)
{
  for (guint i = plan->surfaces->len + 1;; i++)
    {
      g_autofree char *name = g_strdup_printf (_ ("Surface %u"), i);

      if (!name_is_taken (plan, name))
        return g_steal_pointer (&name);
    }
}

/**
 * ts_document_rename_surface:
 * @self: a document
 * @surface: index of a surface
 * @name: what it is to be called
 */
void
ts_document_rename_surface (TsDocument *self, guint surface, const char *name)
{
  TsPlan *plan;
  TsSurface *of;

  if (g_strcmp0 (ts_plan_get_surface (self->plan, surface)->name, name) == 0)
    return;
  plan = ts_plan_copy (self->plan);
  of = ts_plan_get_surface (plan, surface);
  g_free (of->name);
  of->name = g_strdup (name);
  ts_document_change (self, plan, _ ("Rename surface"), TS_SURFACE_NONE);
}

/**
 * ts_document_set_polished:
 * @self: a document
 * @surface: index of a surface
 * @polished: whether it may go from light to dark and to light again, as polished metal does
 */
void
ts_document_set_polished (TsDocument *self, guint surface, gboolean polished)
{
  TsPlan *plan;

  surface = ts_plan_get_stair_index (self->plan, surface);
  if (!ts_plan_get_surface (self->plan, surface)->polished == !polished)
    return;
  plan = ts_plan_copy (self->plan);
  ts_plan_get_surface (plan, surface)->polished = polished;
  ts_document_change (self, plan, _ ("Polished surface"), (int) surface);
}

/**
 * ts_document_remove_surface:
 * @self: a document
 * @surface: index of a surface
 */
void
ts_document_remove_surface (TsDocument *self, guint surface)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  int selected = self->selected_surface;

  ts_plan_remove_surface (plan, surface);
  /* Results move with their surfaces, so that mixes are not looked for again. */
  if (surface < self->results->len)
    g_ptr_array_remove_index (self->results, surface);
  ts_document_change (self, plan, _ ("Remove surface"), TS_SURFACE_ALL);
  if (selected > (int) surface)
    ts_document_select_surface (self, selected - 1);
  else if (selected == (int) surface)
    {
      /* The next one has taken its number: it is another surface all the same. */
      ts_document_select_surface (self, -1);
      ts_document_select_surface (self, selected);
    }
}

static void
move_element (GPtrArray *array, guint from, guint to)
{
  gpointer element = array->pdata[from];

  for (guint i = from; i < to; i++)
    array->pdata[i] = array->pdata[i + 1];
  for (guint i = from; i > to; i--)
    array->pdata[i] = array->pdata[i - 1];
  array->pdata[to] = element;
}

/**
 * ts_document_move_surface:
 * @self: a document
 * @surface: index of a surface
 * @place: the index it is to have
 */
void
ts_document_move_surface (TsDocument *self, guint surface, guint place)
{
  TsPlan *plan;

  if (surface == place || place >= self->plan->surfaces->len)
    return;
  plan = ts_plan_copy (self->plan);
  ts_plan_move_surface (plan, surface, place);
  move_element (self->results, surface, place);
  ts_document_change (self, plan, _ ("Move surface"), TS_SURFACE_ALL);
  if (self->selected_surface >= 0)
    ts_document_select_surface (
      self, (int) ts_plan_moved_index ((guint) self->selected_surface, surface, place));
}

/* "Coat", "Coat 2", "Coat 3" ...: the first that no surface has. */
static char *
dup_name_of_copy (const TsPlan *plan, const char *name)
{
  gsize length = strlen (name);

  while (length > 0 && g_ascii_isdigit (name[length - 1]))
    length--;
  if (length == strlen (name) || length == 0 || name[length - 1] != ' ')
    length = strlen (name) + 1;
  for (guint i = 2;; i++)
    {
      g_autofree char *copy = g_strdup_printf ("%.*s %u", (int) length - 1, name, i);

      if (!name_is_taken (plan, copy))
        return g_steal_pointer (&copy);
    }
}

/**
 * ts_document_copy_surface:
 * @self: a document
 * @surface: index of a surface
 *
 * Adds another like it after it, with its runs, outline, stair and locked mixes, and selects it.
 */
void
ts_document_copy_surface (TsDocument *self, guint surface)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  TsSurface *copy = ts_surface_copy (ts_plan_get_surface (plan, surface));
  TsSurfaceResult *result = ts_document_get_result (self, surface);

  g_free (copy->name);
  copy->name = dup_name_of_copy (plan, ts_plan_get_surface (plan, surface)->name);
  g_ptr_array_add (plan->surfaces, copy);
  ts_plan_move_surface (plan, plan->surfaces->len - 1, surface + 1);
  if (surface < self->results->len)
    g_ptr_array_insert (self->results, (int) surface + 1,
                        result != NULL ? ts_surface_result_ref (result) : NULL);
  ts_document_change (self, plan, _ ("Copy surface"), TS_SURFACE_ALL);
  ts_document_select_surface (self, (int) surface + 1);
}

/**
 * ts_document_set_hidden:
 * @self: a document
 * @surface: index of a surface
 * @hidden: whether its runs are drawn on the picture only while it is selected
 */
void
ts_document_set_hidden (TsDocument *self, guint surface, gboolean hidden)
{
  TsPlan *plan;

  if (!ts_plan_get_surface (self->plan, surface)->hidden == !hidden)
    return;
  plan = ts_plan_copy (self->plan);
  ts_plan_get_surface (plan, surface)->hidden = hidden;
  ts_document_change (self, plan, hidden ? _ ("Hide surface") : _ ("Show surface"),
                      TS_SURFACE_NONE);
}
