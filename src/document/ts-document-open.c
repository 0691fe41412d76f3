/* ts-document-open.c: opening pictures and plans, saving, closing
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-error.h"
#include "plan/ts-plan-file.h"
#include "plan/ts-plan-pack.h"

#define TELL_DELAY (G_USEC_PER_SEC * 15 / 100) /* before an opening is spoken of */
#define TELL_EVERY (G_USEC_PER_SEC / 20)
/* Enough for the window. Twice as many would keep the first view back by half. */
#define PREVIEW_PIXELS 2000000

/* What the thread reads: a plan with the pictures it names, or one picture. */
typedef struct
{
  char *path;
  char *preview_path; /* or NULL */
  gboolean is_plan;
  gboolean is_finished; /* the picture is of the finished figure */
  TsPlan *plan;         /* result */
  GPtrArray *paths;     /* char *, of the pictures */
  GPtrArray *images;    /* TsImage or NULL */
  GPtrArray *faults;    /* char * or NULL: why a picture of the plan could not be read */
  GWeakRef document;
  GCancellable *cancellable; /* owned */
  gint64 next_telling;       /* us */
  guint n_done;
} OpenJob;

static void
free_image (gpointer image)
{
  if (image != NULL)
    ts_image_unref (image);
}

static void
open_job_free (gpointer data)
{
  OpenJob *job = data;

  g_free (job->path);
  g_free (job->preview_path);
  g_clear_pointer (&job->plan, ts_plan_unref);
  g_ptr_array_unref (job->paths);
  g_ptr_array_unref (job->images);
  g_ptr_array_unref (job->faults);
  g_weak_ref_clear (&job->document);
  g_object_unref (job->cancellable);
  g_free (job);
}

/* Something about an opening, on its way to the main thread. */
typedef struct
{
  TsDocument *document;      /* owned */
  GCancellable *cancellable; /* owned */
  double done;
  TsImage *preview; /* owned, or NULL */
} OpenNews;

/* Another opening may have taken this one's place. */
static gboolean
is_under_way (TsDocument *self, GCancellable *cancellable)
{
  return self->opening == cancellable && !g_cancellable_is_cancelled (cancellable);
}

static gboolean
on_open_news (gpointer data)
{
  OpenNews *news = data;
  g_autofree char *text = NULL;

  if (!is_under_way (news->document, news->cancellable))
    return G_SOURCE_REMOVE;
  if (news->preview != NULL)
    {
      ts_document_set_preview (news->document, g_steal_pointer (&news->preview));
      return G_SOURCE_REMOVE;
    }
  text = g_strdup_printf (_ ("Opening, %.0f %%"), 100.0 * news->done);
  ts_document_set_busy (news->document, text, news->done);
  ts_document_notify (news->document, PROP_OPENING);
  return G_SOURCE_REMOVE;
}

static void
open_news_free (gpointer data)
{
  OpenNews *news = data;

  g_object_unref (news->document);
  g_object_unref (news->cancellable);
  g_clear_pointer (&news->preview, ts_image_unref);
  g_free (news);
}

/* Takes @preview. */
static void
send_news (OpenJob *job, double done, TsImage *preview)
{
  TsDocument *document = g_weak_ref_get (&job->document);
  OpenNews *news;

  if (document == NULL)
    {
      g_clear_pointer (&preview, ts_image_unref);
      return;
    }
  news = g_new0 (OpenNews, 1);
  news->document = document;
  news->cancellable = g_object_ref (job->cancellable);
  news->done = done;
  news->preview = preview;
  g_idle_add_full (preview != NULL ? G_PRIORITY_DEFAULT : G_PRIORITY_DEFAULT_IDLE, on_open_news,
                   news, open_news_free);
}

/* On the working thread. */
static void
on_progress (double done, gpointer data)
{
  OpenJob *job = data;
  gint64 now = g_get_monotonic_time ();

  if (now < job->next_telling)
    return;
  job->next_telling = now + TELL_EVERY;
  send_news (job, (job->n_done + done) / MAX (job->paths->len, 1), NULL);
}

/* Beside the opening: what it cannot read, the opening will speak of. */
static gpointer
preview_thread (gpointer data)
{
  OpenJob *job = data;
  TsImage *preview =
    ts_image_open_preview (job->preview_path, PREVIEW_PIXELS, job->cancellable, NULL);

  if (preview != NULL)
    send_news (job, 0.0, preview);
  return NULL;
}

static gboolean
read_picture (OpenJob *job, const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (GError) fault = NULL;
  TsImage *image = ts_image_open (path, cancellable, on_progress, job, &fault);

  job->n_done++;
  if (image == NULL && (!job->is_plan || g_error_matches (fault, G_IO_ERROR, G_IO_ERROR_CANCELLED)))
    {
      g_propagate_error (error, g_steal_pointer (&fault));
      return FALSE;
    }
  g_ptr_array_add (job->images, image);
  g_ptr_array_add (job->faults, fault != NULL ? g_strdup (fault->message) : NULL);
  return TRUE;
}

/* What the window will show first; the finished figure has its own place. */
static char *
choose_preview (const OpenJob *job)
{
  int reference;

  if (job->is_finished)
    return NULL;
  if (!job->is_plan)
    return g_strdup (job->path);
  reference = ts_plan_find_picture (job->plan, TS_ROLE_REFERENCE);
  return reference >= 0 ? g_strdup (ts_plan_get_picture (job->plan, (guint) reference)->path)
                        : NULL;
}

static gboolean
read_pictures (OpenJob *job, GCancellable *cancellable, GError **error)
{
  for (guint i = 0; i < job->paths->len; i++)
    if (!read_picture (job, g_ptr_array_index (job->paths, i), cancellable, error))
      return FALSE;
  return TRUE;
}

static void
open_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  OpenJob *job = task_data;
  GThread *preview = NULL;
  GError *error = NULL;
  gboolean done;

  if (job->is_plan)
    {
      job->plan = ts_plan_load (job->path, &error);
      if (job->plan == NULL)
        {
          g_task_return_error (task, error);
          return;
        }
      for (guint i = 0; i < job->plan->pictures->len; i++)
        g_ptr_array_add (job->paths, g_strdup (ts_plan_get_picture (job->plan, i)->path));
    }
  else
    g_ptr_array_add (job->paths, g_strdup (job->path));
  job->preview_path = choose_preview (job);
  if (job->preview_path != NULL)
    preview = g_thread_new ("preview", preview_thread, job);
  done = read_pictures (job, cancellable, &error);
  if (preview != NULL)
    g_thread_join (preview);
  if (done)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
keep_images (TsDocument *self, OpenJob *job)
{
  for (guint i = 0; i < job->images->len; i++)
    {
      TsImage *image = g_ptr_array_index (job->images, i);
      const char *path = g_ptr_array_index (job->paths, i);

      g_hash_table_remove (self->corrections, path);
      if (image != NULL)
        g_hash_table_replace (self->images, g_strdup (path), ts_image_ref (image));
      else
        g_hash_table_remove (self->images, path);
    }
}

/* Tells what became of the plan's pictures since they were measured. */
static void
tell_faults (TsDocument *self, OpenJob *job)
{
  for (guint i = 0; i < job->paths->len; i++)
    {
      const TsPicture *picture = ts_plan_get_picture (self->plan, i);
      const TsImage *image = g_ptr_array_index (job->images, i);
      g_autofree char *name = g_filename_display_basename (picture->path);
      g_autofree char *text = NULL;

      if (image == NULL)
        {
          text = g_strdup_printf (_ ("%s. The measured spots are kept."),
                                  (const char *) g_ptr_array_index (job->faults, i));
          ts_document_tell (self, text, NULL, NULL);
        }
      else if (picture->sha256 != NULL &&
               g_strcmp0 (picture->sha256, ts_image_get_sha256 (image)) != 0)
        {
          /* The question is about what is shown. */
          if (picture->role == TS_ROLE_REFERENCE)
            ts_document_show_picture (self, i);
          text =
            g_strdup_printf (_ ("%s has changed since the plan was made. Measure again?"), name);
          ts_document_tell (self, text, "win.measure-again", _ ("Measure again"));
        }
    }
}

static void
take_plan (TsDocument *self, OpenJob *job)
{
  g_hash_table_remove_all (self->images);
  g_hash_table_remove_all (self->corrections);
  keep_images (self, job);
  g_free (self->path);
  self->path = g_strdup (job->path);
  self->selected_surface = -1;
  self->selected_step = -1;
  g_clear_pointer (&self->saved_plan, ts_plan_unref);
  self->saved_plan = ts_plan_ref (job->plan);
  ts_document_forget_history (self);
  self->picture = (guint) MAX (0, ts_plan_find_picture (job->plan, TS_ROLE_REFERENCE));
  /* Results of another plan must not stand in for this one's. */
  g_ptr_array_set_size (self->results, 0);
  ts_document_replace (self, g_steal_pointer (&job->plan));
  ts_document_notify (self, PROP_PATH);
  if (self->plan->surfaces->len > 0)
    ts_document_select_surface (self, 0);
  tell_faults (self, job);
}

static char *
title_of (const char *path)
{
  g_autofree char *name = g_filename_display_basename (path);
  char *dot = strrchr (name, '.');

  if (dot != NULL && dot != name)
    *dot = '\0';
  return g_steal_pointer (&name);
}

static TsPlan *
start_plan (TsDocument *self, const char *path)
{
  TsPlan *plan = ts_plan_new ();

  g_free (plan->title);
  plan->title = title_of (path);
  if (self->default_paints != NULL)
    {
      plan->paints = ts_paint_set_ref (self->default_paints);
      plan->paints_name = g_strdup (self->default_paints_name);
    }
  ts_plan_start_with (plan, &self->defaults);
  return plan;
}

static void
take_reference (TsDocument *self, OpenJob *job)
{
  const TsImage *image = g_ptr_array_index (job->images, 0);
  TsPicture *picture = ts_picture_new (job->path, TS_ROLE_REFERENCE);
  gboolean starts = self->plan == NULL;
  TsPlan *plan = starts ? start_plan (self, job->path) : ts_plan_copy (self->plan);

  picture->sha256 = g_strdup (ts_image_get_sha256 (image));
  picture->size = ts_image_get_file_size (image);
  g_ptr_array_add (plan->pictures, picture);
  if (starts)
    {
      /* Its steps lead to paints, not to plans. */
      ts_document_forget_history (self);
      ts_document_replace (self, plan);
    }
  else
    ts_document_change (self, plan, _ ("Add picture"), TS_SURFACE_NONE);
  self->picture = plan->pictures->len - 1;
  ts_document_notify (self, PROP_PICTURE);
  ts_document_emit (self, TS_DOCUMENT_IMAGE_CHANGED, 0);
}

/* Gives @outer to the finished figure's photograph, which is there once it has been read. */
static void
take_picture (TsDocument *self, OpenJob *job, GTask *outer)
{
  TsImage *image = g_ptr_array_index (job->images, 0);

  keep_images (self, job);
  /* Without a plan there is nothing to hold a finished figure to. */
  if (job->is_finished && self->plan != NULL)
    ts_document_take_finished (self, job->path, image, outer);
  else
    take_reference (self, job);
  if (ts_image_get_note (image) != NULL)
    ts_document_tell (self, ts_image_get_note (image), NULL, NULL);
}

/* The end of the thread's work, before the caller is told. */
static void
on_opened (GObject *source, GAsyncResult *result, gpointer data)
{
  TsDocument *self = TS_DOCUMENT (source);
  g_autoptr (GTask) outer = data;
  OpenJob *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (TsImage) preview = NULL;
  gboolean answers_later;
  GError *error = NULL;

  /* Another opening may have taken this one's place. */
  if (self->opening == g_task_get_cancellable (G_TASK (result)))
    {
      g_clear_object (&self->opening);
      ts_document_clear_busy (self);
      /* The whole picture takes its place at once; without one the view goes back. */
      preview = g_steal_pointer (&self->preview);
      ts_document_notify (self, PROP_OPENING);
    }
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    {
      /* The search that the opening stopped goes on. */
      if (self->plan != NULL)
        ts_document_queue_mix (self);
      if (preview != NULL)
        ts_document_emit (self, TS_DOCUMENT_IMAGE_CHANGED, 0);
      g_task_return_error (outer, error);
      return;
    }
  answers_later = job->is_finished && self->plan != NULL;
  if (job->is_plan)
    take_plan (self, job);
  else
    take_picture (self, job, outer);
  ts_document_queue_mix (self);
  if (!answers_later)
    g_task_return_boolean (outer, TRUE);
}

static void
open_path (TsDocument *self, const char *path, gboolean is_finished, GAsyncReadyCallback callback,
           gpointer user_data)
{
  GTask *outer = g_task_new (self, NULL, callback, user_data);
  g_autoptr (GTask) task = NULL;
  OpenJob *job = g_new0 (OpenJob, 1);

  ts_document_stop (self);
  g_clear_object (&self->opening);
  self->opening = g_cancellable_new ();
  job->cancellable = g_object_ref (self->opening);
  job->next_telling = g_get_monotonic_time () + TELL_DELAY;
  job->path = g_canonicalize_filename (path, NULL);
  job->is_finished = is_finished;
  job->is_plan = !is_finished && g_str_has_suffix (path, ".tonestair");
  job->paths = g_ptr_array_new_with_free_func (g_free);
  job->images = g_ptr_array_new_with_free_func (free_image);
  job->faults = g_ptr_array_new_with_free_func (g_free);
  g_weak_ref_init (&job->document, self);
  task = g_task_new (self, self->opening, on_opened, outer);
  g_task_set_task_data (task, job, open_job_free);
  g_task_run_in_thread (task, open_thread);
}

/**
 * ts_document_set_defaults:
 * @self: a document
 * @defaults: the painter's
 *
 * Sets what a new plan starts with; one that is open stays as it is, but for the spots of its next
 * runs.
 */
void
ts_document_set_defaults (TsDocument *self, const TsPlanDefaults *defaults)
{
  self->defaults = *defaults;
}

void
ts_document_set_preview (TsDocument *self, TsImage *preview)
{
  if (self->preview == NULL && preview == NULL)
    return;
  g_clear_pointer (&self->preview, ts_image_unref);
  self->preview = preview;
  ts_document_notify (self, PROP_OPENING);
  ts_document_emit (self, TS_DOCUMENT_IMAGE_CHANGED, 0);
}

/**
 * ts_document_get_preview:
 * @self: a document
 *
 * Returns: (transfer none) (nullable): a reduced form of the picture that opens, for the eye alone
 */
TsImage *
ts_document_get_preview (TsDocument *self)
{
  return self->preview;
}

/**
 * ts_document_get_opening:
 * @self: a document
 *
 * Returns: whether an opening is under way that there is something to tell or to show of
 */
gboolean
ts_document_get_opening (TsDocument *self)
{
  return self->opening != NULL && !g_cancellable_is_cancelled (self->opening) &&
         (self->busy || self->preview != NULL);
}

/**
 * ts_document_open:
 * @self: a document
 * @path: a picture or a plan, absolute
 * @callback: called when it is there or has failed
 * @user_data: for @callback
 *
 * Reads on another thread. A picture starts a plan, or joins the one that is open; a plan takes the
 * place of the one that is open.
 */
void
ts_document_open (TsDocument *self, const char *path, GAsyncReadyCallback callback,
                  gpointer user_data)
{
  open_path (self, path, FALSE, callback, user_data);
}

/**
 * ts_document_open_finished:
 * @self: a document with a plan
 * @path: a photograph of the finished figure, absolute
 * @callback: called when it is there or has failed
 * @user_data: for @callback
 *
 * Reads on another thread. The photograph takes the place of the one before, and the runs of each
 * surface, or where it has none its outline, are laid on it where they lie on the reference. End it
 * by ts_document_open_finish().
 */
void
ts_document_open_finished (TsDocument *self, const char *path, GAsyncReadyCallback callback,
                           gpointer user_data)
{
  open_path (self, path, TRUE, callback, user_data);
}

/**
 * ts_document_open_finish:
 * @self: a document
 * @result: what the callback was given
 * @error: return location for an error, or %NULL
 *
 * Returns: %TRUE where it is open, else %FALSE with a #TsError or G_IO_ERROR_CANCELLED
 */
gboolean
ts_document_open_finish (TsDocument *self, GAsyncResult *result, GError **error)
{
  return g_task_propagate_boolean (G_TASK (result), error);
}

/**
 * ts_document_save:
 * @self: a document with a plan
 * @path: where to; a relative one is taken from the working folder
 * @error: see ts_plan_save()
 *
 * Plans are small; the file is written and flushed before this returns.
 *
 * Returns: %TRUE where the file stands whole on the disk
 */
gboolean
ts_document_save (TsDocument *self, const char *path, GError **error)
{
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);

  g_return_val_if_fail (self->plan != NULL, FALSE);

  if (!ts_plan_save (self->plan, absolute, error))
    return FALSE;
  g_clear_pointer (&self->saved_plan, ts_plan_unref);
  self->saved_plan = ts_plan_ref (self->plan);
  if (g_strcmp0 (self->path, absolute) != 0)
    {
      g_free (self->path);
      self->path = g_steal_pointer (&absolute);
      ts_document_notify (self, PROP_PATH);
    }
  ts_document_notify (self, PROP_SAVED);
  return TRUE;
}

static void
pack_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const TsPlan *plan = g_object_get_data (G_OBJECT (task), "plan");
  GError *error = NULL;
  char *path = ts_plan_pack (plan, data, &error);

  if (path != NULL)
    g_task_return_pointer (task, path, g_free);
  else
    g_task_return_error (task, error);
}

/**
 * ts_document_pack:
 * @self: a document with a plan
 * @folder: a folder that is there
 * @callback: called when it is done
 * @user_data: for @callback
 *
 * Photographs are large: they are copied on another thread.
 */
void
ts_document_pack (TsDocument *self, const char *folder, GAsyncReadyCallback callback,
                  gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (self, NULL, callback, user_data);

  g_return_if_fail (self->plan != NULL);

  g_object_set_data_full (G_OBJECT (task), "plan", ts_plan_ref (self->plan),
                          (GDestroyNotify) ts_plan_unref);
  g_task_set_task_data (task, g_strdup (folder), g_free);
  g_task_run_in_thread (task, pack_in_thread);
}

/**
 * ts_document_pack_finish:
 * @self: a document
 * @result: of ts_document_pack()
 * @error: see ts_plan_pack()
 *
 * Returns: (transfer full) (nullable): where the copy of the plan is
 */
char *
ts_document_pack_finish (TsDocument *self, GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}

void
ts_document_set_origin (TsDocument *self, const char *path)
{
  g_free (self->path);
  self->path = g_strdup (path);
  g_clear_pointer (&self->saved_plan, ts_plan_unref);
  ts_document_notify (self, PROP_PATH);
  ts_document_notify (self, PROP_SAVED);
}

/**
 * ts_document_close:
 * @self: a document
 *
 * Closes the plan without saving it; ask before.
 */
void
ts_document_close (TsDocument *self)
{
  ts_document_stop (self);
  g_clear_handle_id (&self->mix_source, g_source_remove);
  g_clear_pointer (&self->saved_plan, ts_plan_unref);
  g_clear_pointer (&self->path, g_free);
  ts_document_select_surface (self, -1);
  ts_document_forget_history (self);
  ts_document_replace (self, NULL);
  g_hash_table_remove_all (self->images);
  g_hash_table_remove_all (self->corrections);
  ts_document_notify (self, PROP_PATH);
}

/**
 * ts_document_measure_again:
 * @self: a document
 * @picture: index of a picture whose pixels are there
 *
 * Measures all spots on it where they stand, and takes the file as it is now for the plan's.
 */
void
ts_document_measure_again (TsDocument *self, guint picture)
{
  TsImage *image = ts_document_get_image (self, picture);
  g_autoptr (TsPlan) plan = NULL;
  g_autoptr (GError) error = NULL;
  TsPicture *of;

  if (image == NULL)
    return;
  plan = ts_plan_copy (self->plan);
  of = ts_plan_get_picture (plan, picture);
  g_free (of->sha256);
  of->sha256 = g_strdup (ts_image_get_sha256 (image));
  of->size = ts_image_get_file_size (image);
  if (!ts_pipeline_measure_plan (plan, picture, image, &error))
    {
      ts_document_tell (self, error->message, NULL, NULL);
      return;
    }
  ts_document_change (self, g_steal_pointer (&plan), _ ("Measure again"), TS_SURFACE_ALL);
}
