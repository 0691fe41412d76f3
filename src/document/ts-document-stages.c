/* ts-document-stages.c: what follows from a change: at once on this thread, mixes on another
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>
#ifdef __linux__
#include <sys/resource.h>
#endif

#define STAND_BACK 4   /* nice value of the search */
#define MIX_DELAY 25   /* ms: a drag's next change comes sooner and saves the search */
#define BUSY_DELAY 150 /* ms before work is spoken of */

/* One search for mixes, given values that nobody can change. */
typedef struct
{
  TsPlan *plan;
  GPtrArray *results;     /* TsSurfaceResult or NULL, as they were at the start */
  GArray *order;          /* guint: the selected surface first */
  TsRecipeSearch *search; /* NULL: to be made */
  GWeakRef document;
  GCancellable *cancellable;
} MixJob;

/* What a job has found, on its way to the main thread. */
typedef struct
{
  TsDocument *document; /* owned */
  GCancellable *cancellable;
  TsRecipeSearch *search;
  TsPlan *plan;                   /* owned: that the search was made for */
  TsSurfaceResult *base, *result; /* or NULL: a line of the brief */
  guint index;
  GArray *choices;
  guint done, total;
} MixNews;

static void
mix_job_free (gpointer data)
{
  MixJob *job = data;

  ts_plan_unref (job->plan);
  g_ptr_array_unref (job->results);
  g_array_unref (job->order);
  g_clear_pointer (&job->search, ts_recipe_search_unref);
  g_weak_ref_clear (&job->document);
  g_object_unref (job->cancellable);
  g_free (job);
}

static void
mix_news_free (gpointer data)
{
  MixNews *news = data;

  g_object_unref (news->document);
  g_object_unref (news->cancellable);
  ts_recipe_search_unref (news->search);
  ts_plan_unref (news->plan);
  g_clear_pointer (&news->base, ts_surface_result_unref);
  g_clear_pointer (&news->result, ts_surface_result_unref);
  g_clear_pointer (&news->choices, g_array_unref);
  g_free (news);
}

static void
show_progress (TsDocument *self, const MixNews *news)
{
  g_autofree char *text = NULL;

  if (self->busy_source != 0 || news->done >= news->total)
    return;
  text = g_strdup_printf (_ ("looking for mixes, %u of %u"), news->done + 1, news->total);
  ts_document_set_busy (self, text, (double) news->done / news->total);
}

static void
take_result (TsDocument *self, MixNews *news)
{
  if (news->index >= self->results->len ||
      g_ptr_array_index (self->results, news->index) != news->base)
    return;
  ts_surface_result_unref (g_ptr_array_index (self->results, news->index));
  g_ptr_array_index (self->results, news->index) = g_steal_pointer (&news->result);
  ts_document_emit (self, TS_DOCUMENT_RESULTS_CHANGED, news->index);
}

static void
take_choices (TsDocument *self, MixNews *news)
{
  if (news->index >= self->brief->len)
    return;
  g_clear_pointer ((GArray **) &g_ptr_array_index (self->brief, news->index), g_array_unref);
  g_ptr_array_index (self->brief, news->index) = g_steal_pointer (&news->choices);
  ts_document_emit (self, TS_DOCUMENT_RESULTS_CHANGED, G_MAXUINT);
}

/* On the main thread. News of a job that was stopped is dropped. */
static gboolean
on_news (gpointer data)
{
  MixNews *news = data;
  TsDocument *self = news->document;

  if (g_cancellable_is_cancelled (news->cancellable) || self->plan == NULL)
    return G_SOURCE_REMOVE;
  if (self->search != news->search)
    {
      g_clear_pointer (&self->search, ts_recipe_search_unref);
      self->search = ts_recipe_search_ref (news->search);
      g_clear_pointer (&self->search_plan, ts_plan_unref);
      self->search_plan = ts_plan_ref (news->plan);
    }
  if (news->result != NULL)
    take_result (self, news);
  else if (news->choices != NULL)
    take_choices (self, news);
  show_progress (self, news);
  return G_SOURCE_REMOVE;
}

static void
send_news (MixJob *job, guint index, TsSurfaceResult *base, TsSurfaceResult *result,
           GArray *choices, guint done, guint total)
{
  g_autoptr (TsDocument) document = g_weak_ref_get (&job->document);
  MixNews *news;

  if (document == NULL)
    {
      g_clear_pointer (&result, ts_surface_result_unref);
      g_clear_pointer (&choices, g_array_unref);
      return;
    }
  news = g_new0 (MixNews, 1);
  news->document = g_steal_pointer (&document);
  news->cancellable = g_object_ref (job->cancellable);
  news->search = ts_recipe_search_ref (job->search);
  news->plan = ts_plan_ref (job->plan);
  news->index = index;
  news->base = base != NULL ? ts_surface_result_ref (base) : NULL;
  news->result = result;
  news->choices = choices;
  news->done = done;
  news->total = total;
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, on_news, news, mix_news_free);
}

static gboolean
mix_surfaces (MixJob *job, guint total, GCancellable *cancellable, GError **error)
{
  for (guint i = 0; i < job->order->len; i++)
    {
      guint surface = g_array_index (job->order, guint, i);
      TsSurfaceResult *base = g_ptr_array_index (job->results, surface);
      TsSurfaceResult *result;

      result = ts_surface_result_mix (base, job->plan, surface, job->search, cancellable, NULL,
                                      NULL, error);
      if (result == NULL)
        return FALSE;
      send_news (job, surface, base, result, NULL, i + 1, total);
    }
  return TRUE;
}

static gboolean
mix_brief (MixJob *job, guint total, GCancellable *cancellable, GError **error)
{
  for (guint i = 0; i < job->plan->brief->len; i++)
    {
      TsLab target = ts_plan_get_brief_line (job->plan, i)->lab;
      GArray *choices;

      choices = ts_recipe_search_run (job->search, target, cancellable, NULL, NULL, error);
      if (choices == NULL)
        return FALSE;
      send_news (job, i, NULL, NULL, choices, job->order->len + i + 1, total);
    }
  return TRUE;
}

static void
mix_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  MixJob *job = task_data;
  guint total = job->order->len + job->plan->brief->len;
  g_autoptr (GError) error = NULL;

  if (job->search == NULL)
    job->search = ts_pipeline_search (job->plan, cancellable, &error);
  if (job->search != NULL)
    send_news (job, 0, NULL, NULL, NULL, 0, total);
  if (job->search == NULL || !mix_surfaces (job, total, cancellable, &error) ||
      !mix_brief (job, total, cancellable, &error))
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_boolean (task, TRUE);
}

static void
on_mixed (GObject *source, GAsyncResult *result, gpointer data)
{
  TsDocument *self = TS_DOCUMENT (source);
  g_autoptr (GError) error = NULL;

  if (g_cancellable_is_cancelled (g_task_get_cancellable (G_TASK (result))))
    return;
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    ts_document_tell (self, error->message, NULL, NULL);
  if (self->opening == NULL)
    ts_document_clear_busy (self);
}

static gboolean
on_busy_delay (gpointer data)
{
  TsDocument *self = data;

  self->busy_source = 0;
  ts_document_set_busy (self, _ ("looking for mixes"), 0.0);
  return G_SOURCE_REMOVE;
}

/* The search that was made last serves as long as paints and limits are the same. */
static gboolean
search_is_right (TsDocument *self)
{
  return self->search != NULL && ts_pipeline_is_same_search (self->search_plan, self->plan);
}

static void
free_result (gpointer result)
{
  if (result != NULL)
    ts_surface_result_unref (result);
}

static MixJob *
make_job (TsDocument *self)
{
  MixJob *job = g_new0 (MixJob, 1);

  job->plan = ts_plan_ref (self->plan);
  job->results = g_ptr_array_new_with_free_func (free_result);
  job->order = g_array_new (FALSE, FALSE, sizeof (guint));
  job->cancellable = g_object_ref (self->mixing);
  g_weak_ref_init (&job->document, self);
  if (search_is_right (self))
    job->search = ts_recipe_search_ref (self->search);
  for (guint i = 0; i < self->results->len; i++)
    {
      TsSurfaceResult *result = g_ptr_array_index (self->results, i);

      g_ptr_array_add (job->results, result != NULL ? ts_surface_result_ref (result) : NULL);
      if (result == NULL)
        continue;
      if ((int) i == self->selected_surface)
        g_array_prepend_val (job->order, i);
      else
        g_array_append_val (job->order, i);
    }
  return job;
}

/* A thread of its own, that comes after the window wherever both want the processor: a thread that
 * has once stood back may not come forward again. */
static gpointer
mix_in_background (gpointer data)
{
  g_autoptr (GTask) task = data;

#ifdef __linux__
  setpriority (PRIO_PROCESS, 0, STAND_BACK); /* on Linux of this thread alone */
#endif
  mix_thread (task, g_task_get_source_object (task), g_task_get_task_data (task),
              g_task_get_cancellable (task));
  return NULL;
}

static gboolean
on_mix_delay (gpointer data)
{
  TsDocument *self = data;
  g_autoptr (GTask) task = NULL;

  self->mix_source = 0;
  if (self->plan == NULL || self->plan->paints == NULL)
    {
      if (self->opening == NULL)
        ts_document_clear_busy (self);
      return G_SOURCE_REMOVE;
    }
  self->mixing = g_cancellable_new ();
  task = g_task_new (self, self->mixing, on_mixed, NULL);
  g_task_set_task_data (task, make_job (self), mix_job_free);
  /* As its news: the end must not overtake them. */
  g_task_set_priority (task, G_PRIORITY_DEFAULT_IDLE);
  g_thread_unref (g_thread_new ("mixes", mix_in_background, g_object_ref (task)));
  if (self->busy_source == 0 && !self->busy)
    self->busy_source = g_timeout_add (BUSY_DELAY, on_busy_delay, self);
  return G_SOURCE_REMOVE;
}

/* Looks for mixes a little later; an earlier search is stopped. */
void
ts_document_queue_mix (TsDocument *self)
{
  if (self->mixing != NULL)
    g_cancellable_cancel (self->mixing);
  g_clear_object (&self->mixing);
  g_clear_handle_id (&self->mix_source, g_source_remove);
  self->mix_source = g_timeout_add (MIX_DELAY, on_mix_delay, self);
}

static void
recompute_surface (TsDocument *self, guint surface)
{
  TsSurfaceResult *previous = g_ptr_array_index (self->results, surface);
  TsSurfaceResult *result = NULL;
  g_autoptr (GError) error = NULL;

  if (ts_surface_is_measured (ts_plan_get_stair_source (self->plan, surface)))
    result = ts_surface_result_new (self->plan, surface, previous, &error);
  g_ptr_array_index (self->results, surface) = result;
  free_result (previous);
  g_free (g_ptr_array_index (self->problems, surface));
  g_ptr_array_index (self->problems, surface) = error != NULL ? g_strdup (error->message) : NULL;
}

/* Curve, stair and checks of @surface (or TS_SURFACE_ALL), now; then a search for mixes. */
void
ts_document_recompute (TsDocument *self, int surface)
{
  guint n = self->plan != NULL ? self->plan->surfaces->len : 0;

  if (surface == TS_SURFACE_NONE)
    return;
  g_ptr_array_set_size (self->results, (int) n);
  g_ptr_array_set_size (self->problems, (int) n);
  g_ptr_array_set_size (self->brief, self->plan != NULL ? (int) self->plan->brief->len : 0);
  for (guint i = 0; i < n; i++)
    if (surface == TS_SURFACE_ALL || surface == (int) i ||
        ts_plan_get_surface (self->plan, i)->stair_of == surface)
      recompute_surface (self, i);
  ts_document_check_finish (self, surface);
  ts_document_queue_mix (self);
  ts_document_emit (self, TS_DOCUMENT_RESULTS_CHANGED,
                    surface == TS_SURFACE_ALL ? G_MAXUINT : (guint) surface);
}

/**
 * ts_document_stop:
 * @self: a document
 *
 * Stops what is under way: opening a picture, or a search for mixes. What is known stays.
 */
void
ts_document_stop (TsDocument *self)
{
  if (self->mixing != NULL)
    g_cancellable_cancel (self->mixing);
  g_clear_object (&self->mixing);
  if (self->opening != NULL)
    g_cancellable_cancel (self->opening);
  ts_document_clear_busy (self);
  ts_document_set_preview (self, NULL);
  if (self->opening != NULL)
    ts_document_notify (self, PROP_OPENING);
}
