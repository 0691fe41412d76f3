/* ts-document-finish-outline.c: outlines on the finished figure: moved, and read on another thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>
#include <string.h>

/* What is read, and where it goes; the thread alone touches the outlines until it is done. */
typedef struct
{
  TsPlan *base; /* that the outlines were placed for */
  GPtrArray *placed;
  TsImage *image;
  TsCorrection *correction;
  const char *name; /* of the change */
  char *path;       /* of a photograph that is being opened, or NULL */
  GTask *opening;   /* that waits for it, or NULL */
} ReadJob;

static void
placed_free (gpointer data)
{
  TsFinishPlaced *placed = data;

  ts_outline_free (placed->outline);
  g_free (placed->fault);
  g_free (placed);
}

static void
add_placed (ReadJob *job, guint surface, TsOutline *outline)
{
  TsFinishPlaced *placed = g_new0 (TsFinishPlaced, 1);

  placed->surface = surface;
  placed->outline = outline;
  g_ptr_array_add (job->placed, placed);
}

static void
read_job_free (gpointer data)
{
  ReadJob *job = data;

  g_ptr_array_unref (job->placed);
  ts_image_unref (job->image);
  ts_correction_unref (job->correction);
  g_free (job->path);
  g_clear_object (&job->opening);
  g_free (job);
}

/* On the main thread, since plans share what is not counted for several. */
static void
read_job_let_go (ReadJob *job)
{
  g_clear_pointer (&job->base, ts_plan_unref);
  g_ptr_array_set_size (job->placed, 0);
}

static ReadJob *
read_job_new (TsDocument *self, TsImage *image, TsCorrection *correction)
{
  ReadJob *job = g_new0 (ReadJob, 1);

  job->base = ts_plan_ref (self->plan);
  job->placed = g_ptr_array_new_with_free_func (placed_free);
  job->image = ts_image_ref (image);
  job->correction = correction;
  return job;
}

static void
read_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  ReadJob *job = task_data;

  for (guint i = 0; i < job->placed->len; i++)
    {
      TsFinishPlaced *placed = g_ptr_array_index (job->placed, i);
      g_autoptr (GError) error = NULL;

      if (!ts_pipeline_measure_outline (placed->outline, job->image, job->correction, cancellable,
                                        &error))
        placed->fault = g_strdup (error->message);
    }
  g_task_return_boolean (task, TRUE);
}

/* Takes @job. */
static void
start (TsDocument *self, ReadJob *job, GCancellable *cancellable, GAsyncReadyCallback callback)
{
  g_autoptr (GTask) task = g_task_new (self, cancellable, callback, NULL);

  g_task_set_task_data (task, job, read_job_free);
  g_task_run_in_thread (task, read_thread);
}

static gboolean
has_same_points (const TsOutline *one, const TsOutline *other)
{
  return one != NULL && other != NULL && one->points->len == other->points->len &&
         memcmp (one->points->data, other->points->data, one->points->len * sizeof (TsPoint)) == 0;
}

/* Whether the surface is still the one that the outline was placed for. */
static gboolean
is_still_there (const TsPlan *plan, const ReadJob *job, const TsFinishPlaced *placed)
{
  const TsSurface *then = ts_plan_get_surface (job->base, placed->surface), *now;

  if (placed->surface >= plan->surfaces->len)
    return FALSE;
  now = ts_plan_get_surface (plan, placed->surface);
  return g_str_equal (then->name, now->name) && (has_same_points (then->outline, now->outline) ||
                                                 (then->outline == NULL && now->outline == NULL));
}

/* Puts what was read into @plan, which has not been given away, and tells what could not be. */
static gboolean
put (TsDocument *self, TsPlan *plan, guint picture, const ReadJob *job)
{
  gboolean any = FALSE;

  for (guint i = 0; i < job->placed->len; i++)
    {
      TsFinishPlaced *placed = g_ptr_array_index (job->placed, i);
      TsSurface *surface;

      if (placed->fault != NULL)
        ts_document_tell (self, placed->fault, NULL, NULL);
      if (placed->fault != NULL || !is_still_there (plan, job, placed))
        continue;
      surface = ts_plan_get_surface (plan, placed->surface);
      ts_outline_free (surface->finish_outline);
      surface->finish_outline = g_steal_pointer (&placed->outline);
      surface->finish_outline->picture = picture;
      any = TRUE;
    }
  return any;
}

/* The plan and the photograph may have gone, or another may have been opened. */
static void
on_photo_read (GObject *source, GAsyncResult *result, gpointer data)
{
  TsDocument *self = TS_DOCUMENT (source);
  ReadJob *job = g_task_get_task_data (G_TASK (result));

  if (self->plan != NULL && g_hash_table_lookup (self->images, job->path) == job->image)
    {
      guint picture;
      TsPlan *plan = ts_document_lay_photo (self, job->path, job->image, &picture);

      put (self, plan, picture, job);
      ts_document_change_finish (self, plan, job->name, TS_SURFACE_ALL);
    }
  read_job_let_go (job);
  g_task_return_boolean (job->opening, TRUE);
}

void
ts_document_take_finished (TsDocument *self, const char *path, TsImage *image, GTask *opening)
{
  ReadJob *job = read_job_new (self, image, ts_correction_new_none ());

  job->name = _ ("Open finished figure");
  job->path = g_strdup (path);
  job->opening = g_object_ref (opening);
  for (guint i = 0; i < self->plan->surfaces->len; i++)
    {
      const TsSurface *surface = ts_plan_get_surface (self->plan, i);
      const TsOutline *outline = surface->outline;

      if (surface->runs->len == 0 && outline != NULL)
        add_placed (job, i,
                    ts_finish_place_outline (
                      outline, 0, ts_document_get_image (self, outline->picture), image));
    }
  start (self, job, NULL, on_photo_read);
}

/* Where the outline is moved to is in the plan now, or is given up. */
static void
end_draft (TsDocument *self, const TsFinishPlaced *placed)
{
  if (self->finish_draft_surface == placed->surface &&
      has_same_points (self->finish_draft, placed->outline))
    g_clear_pointer (&self->finish_draft, ts_outline_free);
}

static void
take_draft (TsDocument *self, ReadJob *job)
{
  TsFinishPlaced *placed = g_ptr_array_index (job->placed, 0);
  guint surface = placed->surface, picture = placed->outline->picture;
  TsPlan *plan = ts_plan_copy (self->plan);

  end_draft (self, placed);
  if (ts_document_get_image (self, picture) == job->image && put (self, plan, picture, job))
    ts_document_change_finish (self, plan, job->name, (int) surface);
  else
    {
      ts_plan_unref (plan);
      ts_document_emit (self, TS_DOCUMENT_RESULTS_CHANGED, surface);
    }
}

static void
on_draft_read (GObject *source, GAsyncResult *result, gpointer data)
{
  ReadJob *job = g_task_get_task_data (G_TASK (result));

  if (g_task_propagate_boolean (G_TASK (result), NULL))
    take_draft (TS_DOCUMENT (source), job);
  read_job_let_go (job);
}

/**
 * ts_document_get_finish_outline:
 * @self: a document with a plan
 * @surface: index of a surface
 *
 * Returns: (transfer none) (nullable): its outline on the finished figure, where it is being moved
 *   to or else where the plan has it
 */
const TsOutline *
ts_document_get_finish_outline (TsDocument *self, guint surface)
{
  return self->finish_draft != NULL && self->finish_draft_surface == surface
           ? self->finish_draft
           : ts_plan_get_surface (self->plan, surface)->finish_outline;
}

void
ts_document_drop_finish_draft (TsDocument *self)
{
  g_cancellable_cancel (self->finishing);
  g_clear_object (&self->finishing);
  g_clear_pointer (&self->finish_draft, ts_outline_free);
}

/* Takes @outline. */
static void
set_draft (TsDocument *self, guint surface, TsOutline *outline, const char *name)
{
  ts_outline_free (self->finish_draft);
  self->finish_draft = outline;
  self->finish_draft_surface = surface;
  self->finish_draft_name = name;
}

/* As far as the picture reaches, so that it keeps its shape. */
static TsPoint
hold_move (const TsOutline *outline, const TsImage *image, TsPoint by)
{
  for (guint i = 0; i < outline->points->len; i++)
    {
      TsPoint at = g_array_index (outline->points, TsPoint, i);
      TsPoint to = ts_document_hold_within (image, (TsPoint){ at.x + by.x, at.y + by.y });

      by = (TsPoint){ to.x - at.x, to.y - at.y };
    }
  return by;
}

/**
 * ts_document_move_finish_outline:
 * @self: a document
 * @surface: index of a surface with an outline on the finished figure
 * @corner: index of a corner, or %G_MAXUINT for all of them
 * @dx: pixels to the right
 * @dy: pixels down
 *
 * Moves a corner, or the whole. What the surface is like there is known once
 * ts_document_read_finish_outline() has been called; the plan is as it was until then.
 */
void
ts_document_move_finish_outline (TsDocument *self, guint surface, guint corner, double dx,
                                 double dy)
{
  const TsOutline *from = ts_document_get_finish_outline (self, surface);
  TsImage *image = from != NULL ? ts_document_get_image (self, from->picture) : NULL;
  TsPoint by = { dx, dy };
  TsOutline *moved;

  if (image == NULL)
    return;
  moved = ts_outline_copy (from);
  g_array_set_size (moved->tones, 0);
  if (corner == G_MAXUINT)
    by = hold_move (moved, image, by);
  for (guint i = 0; i < moved->points->len; i++)
    {
      TsPoint *at = &g_array_index (moved->points, TsPoint, i);

      if (corner == i || corner == G_MAXUINT)
        *at = ts_document_hold_within (image, (TsPoint){ at->x + by.x, at->y + by.y });
    }
  set_draft (self, surface, moved, _ ("Move outline on finished figure"));
  ts_document_emit (self, TS_DOCUMENT_RESULTS_CHANGED, surface);
}

/**
 * ts_document_read_finish_outline:
 * @self: a document
 *
 * Reads the outline that was moved last, on another thread, and takes it into the plan; an earlier
 * reading that is under way is stopped. Where it cannot be read the document says why, and the
 * outline is where it was.
 */
void
ts_document_read_finish_outline (TsDocument *self)
{
  TsOutline *draft = self->finish_draft;
  TsImage *image = draft != NULL ? ts_document_get_image (self, draft->picture) : NULL;
  TsCorrection *correction =
    image != NULL ? ts_document_need_correction (self, draft->picture) : NULL;
  ReadJob *job;

  if (draft == NULL)
    return;
  if (correction == NULL)
    {
      ts_document_drop_finish_draft (self);
      return;
    }
  g_cancellable_cancel (self->finishing);
  g_clear_object (&self->finishing);
  self->finishing = g_cancellable_new ();
  job = read_job_new (self, image, ts_correction_ref (correction));
  job->name = self->finish_draft_name;
  add_placed (job, self->finish_draft_surface, ts_outline_copy (draft));
  start (self, job, self->finishing, on_draft_read);
}

void
ts_document_lay_finish_outline (TsDocument *self, guint surface, guint picture, TsImage *image)
{
  const TsOutline *outline = ts_plan_get_surface (self->plan, surface)->outline;
  TsImage *reference = ts_document_get_image (self, outline->picture);

  set_draft (self, surface, ts_finish_place_outline (outline, picture, reference, image),
             _ ("Lay outline on finished figure"));
  ts_document_read_finish_outline (self);
}
