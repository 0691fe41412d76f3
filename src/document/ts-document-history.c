/* ts-document-history.c: changing the plan, and going back
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <string.h>

#include "colour/ts-difference.h"

void
ts_history_entry_free (gpointer data)
{
  TsHistoryEntry *entry = data;

  g_free (entry->name);
  g_clear_pointer (&entry->plan, ts_plan_unref);
  g_clear_pointer (&entry->paints, ts_paint_set_unref);
  g_free (entry->paints_name);
  g_free (entry);
}

/* What there is now, to be come back to. */
static void
push (GPtrArray *history, const char *name, TsDocument *self)
{
  TsHistoryEntry *entry = g_new0 (TsHistoryEntry, 1);

  entry->name = g_strdup (name);
  if (self->plan != NULL)
    entry->plan = ts_plan_ref (self->plan);
  else if (self->default_paints != NULL)
    entry->paints = ts_paint_set_ref (self->default_paints);
  entry->paints_name = self->plan == NULL ? g_strdup (self->default_paints_name) : NULL;
  g_ptr_array_add (history, entry);
  self->n_changes++;
}

static void
notify_history (TsDocument *self)
{
  ts_document_notify (self, PROP_UNDO_NAME);
  ts_document_notify (self, PROP_REDO_NAME);
  ts_document_notify (self, PROP_SAVED);
}

/* Mixes for another colour, or of other paints, must not stand beside a line. */
static void
keep_brief_choices (TsDocument *self, const TsPlan *plan)
{
  const TsPlan *old = self->plan;
  gboolean same_paints = old != NULL && plan != NULL && old->paints == plan->paints;
  guint n = same_paints ? MIN (old->brief->len, plan->brief->len) : 0;

  g_ptr_array_set_size (self->brief, (int) MIN (self->brief->len, n));
  for (guint i = 0; i < self->brief->len; i++)
    if (ts_delta_e_76 (ts_plan_get_brief_line (old, i)->lab,
                       ts_plan_get_brief_line (plan, i)->lab) > 0.0)
      g_clear_pointer ((GArray **) &g_ptr_array_index (self->brief, i), g_array_unref);
}

/* Takes @plan; the selection is held within what it has. */
static void
put_plan (TsDocument *self, TsPlan *plan)
{
  gboolean had = self->plan != NULL;
  int n_surfaces = plan != NULL ? (int) plan->surfaces->len : 0;

  keep_brief_choices (self, plan);
  g_clear_pointer (&self->plan, ts_plan_unref);
  self->plan = plan;
  if (plan == NULL || self->picture >= plan->pictures->len)
    self->picture = 0;
  if (self->selected_surface >= n_surfaces)
    ts_document_select_surface (self, n_surfaces - 1);
  ts_document_select_step (self, self->selected_step);
  ts_document_notify (self, PROP_TITLE);
  if (had != (plan != NULL))
    ts_document_notify (self, PROP_HAS_PLAN);
}

void
ts_document_change (TsDocument *self, TsPlan *plan, const char *name, int surface)
{
  g_return_if_fail (self->plan != NULL);

  if (!self->gesture_open)
    push (self->undo, name, self);
  else if (!self->gesture_pushed)
    {
      push (self->undo, self->gesture_name != NULL ? self->gesture_name : name, self);
      self->gesture_pushed = TRUE;
    }
  g_ptr_array_set_size (self->redo, 0);
  put_plan (self, plan);
  ts_document_recompute (self, surface);
  notify_history (self);
  ts_document_emit (self, TS_DOCUMENT_PLAN_CHANGED, 0);
}

void
ts_document_change_default_paints (TsDocument *self, TsPaintSet *paints, const char *set_name,
                                   const char *name)
{
  g_return_if_fail (self->plan == NULL);

  push (self->undo, name, self);
  g_ptr_array_set_size (self->redo, 0);
  ts_document_set_default_paints (self, paints, set_name);
  notify_history (self);
}

static gboolean
surface_is_same (const TsSurface *one, const TsSurface *other)
{
  if (g_strcmp0 (one->name, other->name) != 0 || one->runs->len != other->runs->len)
    return FALSE;
  for (guint i = 0; i < one->runs->len; i++)
    {
      const GArray *a = ts_surface_get_run (one, i)->points;
      const GArray *b = ts_surface_get_run (other, i)->points;

      if (a->len != b->len || memcmp (a->data, b->data, a->len * sizeof (TsPoint)) != 0)
        return FALSE;
    }
  return TRUE;
}

/* Results of a surface that another one takes the place of must not stand in for its own. */
static void
drop_other_results (TsDocument *self, const TsPlan *plan)
{
  for (guint i = 0; i < self->results->len; i++)
    {
      TsSurfaceResult *result = g_ptr_array_index (self->results, i);

      if (result == NULL ||
          (plan != NULL && self->plan != NULL && i < plan->surfaces->len &&
           i < self->plan->surfaces->len &&
           surface_is_same (ts_plan_get_surface (plan, i), ts_plan_get_surface (self->plan, i))))
        continue;
      ts_surface_result_unref (result);
      g_ptr_array_index (self->results, i) = NULL;
    }
}

void
ts_document_replace (TsDocument *self, TsPlan *plan)
{
  drop_other_results (self, plan);
  ts_document_drop_finish_draft (self);
  put_plan (self, plan);
  ts_document_recompute (self, TS_SURFACE_ALL);
  notify_history (self);
  ts_document_emit (self, TS_DOCUMENT_PLAN_CHANGED, 0);
  ts_document_emit (self, TS_DOCUMENT_IMAGE_CHANGED, 0);
}

void
ts_document_forget_history (TsDocument *self)
{
  g_ptr_array_set_size (self->undo, 0);
  g_ptr_array_set_size (self->redo, 0);
  self->gesture_open = FALSE;
  notify_history (self);
}

/* Moves the latest of @from onto @to, and shows the plan it leads to. */
static void
step_history (TsDocument *self, GPtrArray *from, GPtrArray *to)
{
  TsHistoryEntry *entry;

  if (from->len == 0 || self->gesture_open)
    return;
  entry = g_ptr_array_steal_index (from, from->len - 1);
  push (to, entry->name, self);
  if (entry->plan == NULL)
    {
      ts_document_set_default_paints (self, entry->paints, entry->paints_name);
      notify_history (self);
    }
  else
    ts_document_replace (self, ts_plan_ref (entry->plan));
  /* A surface that comes back is to be seen. */
  if (self->plan != NULL && self->selected_surface < 0)
    ts_document_select_surface (self, (int) self->plan->surfaces->len - 1);
  ts_history_entry_free (entry);
}

/**
 * ts_document_undo:
 * @self: a document
 *
 * Takes the last change back.
 */
void
ts_document_undo (TsDocument *self)
{
  step_history (self, self->undo, self->redo);
}

/**
 * ts_document_redo:
 * @self: a document
 *
 * Makes the change again that was taken back last.
 */
void
ts_document_redo (TsDocument *self)
{
  step_history (self, self->redo, self->undo);
}

/**
 * ts_document_begin_gesture:
 * @self: a document
 * @name: (nullable): what the step back will be called; %NULL takes the first change's name
 *
 * Until ts_document_end_gesture() all changes are one step back.
 */
void
ts_document_begin_gesture (TsDocument *self, const char *name)
{
  if (self->gesture_open)
    ts_document_end_gesture (self);
  self->gesture_open = TRUE;
  self->gesture_pushed = FALSE;
  self->new_run_surface = -1;
  g_free (self->gesture_name);
  self->gesture_name = g_strdup (name);
}

/**
 * ts_document_end_gesture:
 * @self: a document
 *
 * Ends the gesture. A run that was drawn in it from shadow to lit is turned round.
 */
void
ts_document_end_gesture (TsDocument *self)
{
  if (!self->gesture_open)
    return;
  ts_document_settle_new_run (self);
  self->gesture_open = FALSE;
  if (self->gesture_pushed)
    notify_history (self);
}

/**
 * ts_document_is_in_gesture:
 * @self: a document
 *
 * Returns: whether a gesture is under way
 */
gboolean
ts_document_is_in_gesture (TsDocument *self)
{
  return self->gesture_open;
}

/**
 * ts_document_get_n_changes:
 * @self: a document
 *
 * What is said of a change is out of date once there are more. A gesture counts as one from its
 * first change on; when it ends, "undo-name" is notified once more.
 *
 * Returns: how many changes there have been, those that were taken back and made again among them
 */
guint
ts_document_get_n_changes (TsDocument *self)
{
  return self->n_changes;
}

/**
 * ts_document_cancel_gesture:
 * @self: a document
 *
 * Ends the gesture and takes back what was changed in it. It was given up: it cannot be made again.
 */
void
ts_document_cancel_gesture (TsDocument *self)
{
  gboolean pushed = self->gesture_open && self->gesture_pushed;

  self->gesture_open = FALSE;
  if (!pushed)
    return;
  step_history (self, self->undo, self->redo);
  g_ptr_array_set_size (self->redo, (int) self->redo->len - 1);
  notify_history (self);
}
