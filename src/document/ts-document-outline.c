/* ts-document-outline.c: whole surfaces: read on another thread within a loose outline
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>

/* Given values that nobody can change. */
typedef struct
{
  TsImage *image;
  TsCorrection *correction;
  TsOutline *outline;
  int surface; /* or -1: a new one */
} OutlineJob;

static void
outline_job_free (gpointer data)
{
  OutlineJob *job = data;

  ts_image_unref (job->image);
  ts_correction_unref (job->correction);
  ts_outline_free (job->outline);
  g_free (job);
}

static void
outline_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  OutlineJob *job = task_data;
  GError *error = NULL;

  if (ts_pipeline_measure_outline (job->outline, job->image, job->correction, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

/* Reads @outline on another thread; the callback takes it into the plan as it is then. */
static void
start (TsDocument *self, int surface, TsOutline *outline, TsImage *image, TsCorrection *correction,
       GAsyncReadyCallback callback, gpointer user_data)
{
  OutlineJob *job = g_new0 (OutlineJob, 1);
  g_autoptr (GTask) task = NULL;

  g_cancellable_cancel (self->outlining);
  g_clear_object (&self->outlining);
  self->outlining = g_cancellable_new ();
  job->image = ts_image_ref (image);
  job->correction = ts_correction_ref (correction);
  job->outline = outline;
  job->surface = surface;
  task = g_task_new (self, self->outlining, callback, user_data);
  g_task_set_task_data (task, job, outline_job_free);
  g_task_run_in_thread (task, outline_thread);
}

/**
 * ts_document_outline:
 * @self: a document with a picture
 * @surface: index of the surface that is outlined, or -1 for a new one
 * @points: (array length=n_points): corners of the outline on the shown picture
 * @n_points: how many
 * @callback: called when it is read
 * @user_data: for @callback
 *
 * Reads the whole surface within the outline on another thread; an earlier reading that is under
 * way is stopped.
 */
void
ts_document_outline (TsDocument *self, int surface, const TsPoint *points, guint n_points,
                     GAsyncReadyCallback callback, gpointer user_data)
{
  TsImage *image = ts_document_get_image (self, self->picture);
  TsCorrection *correction = NULL;
  g_autofree TsPoint *held = g_new (TsPoint, MAX (n_points, 1));

  if (image != NULL && ts_image_get_width (image) < ts_image_get_full_width (image))
    {
      ts_document_tell (self, _ ("The picture is still being opened. Draw it again in a moment."),
                        NULL, NULL);
      return;
    }
  if (image != NULL && n_points >= 3)
    correction = ts_document_need_correction (self, self->picture);
  if (correction == NULL)
    return;
  for (guint i = 0; i < n_points; i++)
    held[i] = ts_document_hold_within (image, points[i]);
  start (self, surface, ts_outline_new (self->picture, held, n_points), image, correction, callback,
         user_data);
}

/**
 * ts_document_outline_finish:
 * @self: a document
 * @result: what the callback was given
 *
 * Takes what was read into the plan. Where it could not be read, the document has said why.
 *
 * Returns: index of the surface, or -1
 */
int
ts_document_outline_finish (TsDocument *self, GAsyncResult *result)
{
  OutlineJob *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  int index = job->surface;
  TsSurface *surface;
  TsPlan *plan;

  if (!g_task_propagate_boolean (G_TASK (result), &error))
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        ts_document_tell (self, error->message, NULL, NULL);
      return -1;
    }
  if (self->plan == NULL || index >= (int) self->plan->surfaces->len ||
      ts_document_get_image (self, job->outline->picture) != job->image)
    return -1;
  plan = ts_plan_copy (self->plan);
  if (index < 0)
    {
      g_autofree char *name = ts_document_free_name (plan);

      index = (int) plan->surfaces->len;
      g_ptr_array_add (plan->surfaces, ts_surface_new (name));
    }
  surface = ts_plan_get_surface (plan, (guint) index);
  ts_outline_free (surface->outline);
  surface->outline = ts_outline_copy (job->outline);
  ts_document_change (self, plan, _ ("Outline surface"), index);
  ts_document_select_surface (self, index);
  return index;
}

/**
 * ts_document_remove_outline:
 * @self: a document
 * @surface: index of a surface
 */
void
ts_document_remove_outline (TsDocument *self, guint surface)
{
  TsPlan *plan;
  TsSurface *of;

  if (ts_plan_get_surface (self->plan, surface)->outline == NULL)
    return;
  plan = ts_plan_copy (self->plan);
  of = ts_plan_get_surface (plan, surface);
  g_clear_pointer (&of->outline, ts_outline_free);
  ts_document_change (self, plan, _ ("Remove outline"), (int) surface);
}
