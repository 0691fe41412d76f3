/* ts-document-finish.c: the finished figure's photograph, the runs on it, and what became of the
 * plan
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-document-private.h"

#include <glib/gi18n.h>

#include "plan/ts-finish-words.h"

/**
 * ts_document_get_finished:
 * @self: a document
 * @surface: index of a surface
 *
 * Returns: (transfer none) (nullable): the finished figure against the surface's stair, or %NULL
 *   without a run or an outline on its photograph
 */
const TsFinished *
ts_document_get_finished (TsDocument *self, guint surface)
{
  return surface < self->finished->len ? g_ptr_array_index (self->finished, surface) : NULL;
}

/**
 * ts_document_report_finish:
 * @self: a document with a plan
 *
 * Returns: (transfer full): the finish check as plain text, for a message
 */
char *
ts_document_report_finish (TsDocument *self)
{
  int photo = ts_plan_find_picture (self->plan, TS_ROLE_FINISHED);
  const TsCorrection *correction =
    photo >= 0 ? ts_document_get_correction (self, (guint) photo) : NULL;

  return ts_finish_report (self->plan, ts_document_get_results (self), self->finished,
                           correction != NULL ? ts_correction_get_kind (correction)
                                              : TS_CORRECTION_NONE);
}

static TsFinished *
check_surface (TsDocument *self, guint surface)
{
  int picture = ts_finish_find_picture (self->plan, surface);
  g_autoptr (TsSurface) achieved = ts_finish_get_surface (self->plan, surface);
  TsSurfaceResult *planned = ts_document_get_result (self, surface);
  g_autofree TsFinished *finished = g_new0 (TsFinished, 1);

  if (picture < 0 || planned == NULL ||
      !ts_finish_check_surface (self->plan, surface, planned, achieved,
                                ts_document_get_correction (self, (guint) picture), finished, NULL))
    return NULL;
  return g_steal_pointer (&finished);
}

void
ts_document_check_finish (TsDocument *self, int surface)
{
  guint n = self->plan != NULL ? self->plan->surfaces->len : 0;

  g_ptr_array_set_size (self->finished, (int) n);
  for (guint i = 0; i < n; i++)
    if (surface == TS_SURFACE_ALL || surface == (int) i)
      {
        g_free (g_ptr_array_index (self->finished, i));
        g_ptr_array_index (self->finished, i) = check_surface (self, i);
      }
}

/* The stairs are as they were; only what became of them is another. */
void
ts_document_change_finish (TsDocument *self, TsPlan *plan, const char *name, int surface)
{
  ts_document_change (self, plan, name, TS_SURFACE_NONE);
  ts_document_check_finish (self, surface);
  ts_document_emit (self, TS_DOCUMENT_RESULTS_CHANGED,
                    surface == TS_SURFACE_ALL ? G_MAXUINT : (guint) surface);
}

static void
remove_laid (TsPlan *plan, guint surface)
{
  TsFinishRun *finish;

  g_clear_pointer (&ts_plan_get_surface (plan, surface)->finish_outline, ts_outline_free);
  while ((finish = ts_finish_find_run (plan, surface, 0)) != NULL)
    g_ptr_array_remove (plan->finish, finish);
}

/* Lays all of the surface's runs on the finished figure, in their order. */
static gboolean
lay_surface (TsDocument *self, TsPlan *plan, guint surface, guint picture, const TsImage *image,
             const TsCorrection *correction, GError **error)
{
  const TsSurface *of = ts_plan_get_surface (plan, surface);

  remove_laid (plan, surface);
  for (guint i = 0; i < of->runs->len; i++)
    {
      const TsRun *run = ts_surface_get_run (of, i);
      TsRun *laid = ts_finish_lay_run (run, picture, ts_document_get_image (self, run->picture),
                                       image, correction, error);

      if (laid == NULL)
        return FALSE;
      g_ptr_array_add (plan->finish, ts_finish_run_new (surface, laid));
    }
  return TRUE;
}

/* The finished figure's picture in @plan: the one that is there, emptied, or a new one. */
static guint
take_place (TsPlan *plan, const char *path)
{
  TsPicture *picture = ts_picture_new (path, TS_ROLE_FINISHED);
  int index = ts_plan_find_picture (plan, TS_ROLE_FINISHED);

  if (index < 0)
    {
      g_ptr_array_add (plan->pictures, picture);
      return plan->pictures->len - 1;
    }
  ts_picture_free (ts_plan_get_picture (plan, (guint) index));
  g_ptr_array_index (plan->pictures, (guint) index) = picture;
  return (guint) index;
}

TsPlan *
ts_document_lay_photo (TsDocument *self, const char *path, TsImage *image, guint *index)
{
  TsPlan *plan = ts_plan_copy (self->plan);
  g_autoptr (TsCorrection) none = ts_correction_new_none ();
  TsPicture *picture;

  *index = take_place (plan, path);
  picture = ts_plan_get_picture (plan, *index);
  picture->sha256 = g_strdup (ts_image_get_sha256 (image));
  picture->size = ts_image_get_file_size (image);
  for (guint i = 0; i < plan->surfaces->len; i++)
    {
      g_autoptr (GError) error = NULL;

      if (!lay_surface (self, plan, i, *index, image, none, &error))
        ts_document_tell (self, error->message, NULL, NULL);
    }
  return plan;
}

/**
 * ts_document_lay_finish:
 * @self: a document with a photograph of the finished figure
 * @surface: index of a surface
 *
 * Lays the surface's runs on the finished figure anew, where they lie on the reference, or where it
 * has none its outline, which is read on another thread.
 */
void
ts_document_lay_finish (TsDocument *self, guint surface)
{
  int index = ts_plan_find_picture (self->plan, TS_ROLE_FINISHED);
  TsImage *image = index >= 0 ? ts_document_get_image (self, (guint) index) : NULL;
  g_autoptr (TsPlan) plan = NULL;
  g_autoptr (GError) error = NULL;
  const TsSurface *of;

  if (image == NULL)
    return;
  of = ts_plan_get_surface (self->plan, surface);
  if (of->runs->len == 0 && of->outline != NULL)
    {
      ts_document_lay_finish_outline (self, surface, (guint) index, image);
      return;
    }
  plan = ts_plan_copy (self->plan);
  if (lay_surface (self, plan, surface, (guint) index, image,
                   ts_document_get_correction (self, (guint) index), &error))
    ts_document_change_finish (self, g_steal_pointer (&plan), _ ("Lay run on finished figure"),
                               (int) surface);
  else
    ts_document_tell (self, error->message, NULL, NULL);
}

/* Moves point @point, or all for G_MAXUINT, by @by. */
static void
move_points (TsDocument *self, guint surface, guint run, guint point, TsPoint by)
{
  g_autoptr (TsPlan) plan = ts_plan_copy (self->plan);
  TsFinishRun *finish = ts_finish_find_run (plan, surface, run);
  TsImage *image = finish != NULL ? ts_document_get_image (self, finish->run->picture) : NULL;
  g_autoptr (GError) error = NULL;

  if (image == NULL)
    return;
  for (guint i = 0; i < finish->run->points->len; i++)
    {
      TsPoint *at = &g_array_index (finish->run->points, TsPoint, i);

      if (point == i || point == G_MAXUINT)
        *at = ts_document_hold_within (image, (TsPoint){ at->x + by.x, at->y + by.y });
    }
  if (ts_pipeline_lay_run (finish->run, image,
                           ts_document_get_correction (self, finish->run->picture), &error))
    ts_document_change_finish (self, g_steal_pointer (&plan), _ ("Move run on finished figure"),
                               (int) surface);
  else
    ts_document_tell (self, error->message, NULL, NULL);
}

/**
 * ts_document_move_finish_point:
 * @self: a document
 * @surface: index of a surface with runs on the finished figure
 * @run: which of them
 * @point: index of a point of that run's line
 * @place: where to, upright pixels of the finished figure's picture
 *
 * Moves an end; the spots follow, evenly laid.
 */
void
ts_document_move_finish_point (TsDocument *self, guint surface, guint run, guint point,
                               TsPoint place)
{
  const TsFinishRun *finish = ts_finish_find_run (self->plan, surface, run);
  TsPoint at;

  g_return_if_fail (finish != NULL && point < finish->run->points->len);

  at = g_array_index (finish->run->points, TsPoint, point);
  move_points (self, surface, run, point, (TsPoint){ place.x - at.x, place.y - at.y });
}

/**
 * ts_document_move_finish:
 * @self: a document
 * @surface: index of a surface with runs on the finished figure
 * @run: which of them
 * @dx: pixels to the right
 * @dy: pixels down
 *
 * Moves the whole line; the spots are laid anew.
 */
void
ts_document_move_finish (TsDocument *self, guint surface, guint run, double dx, double dy)
{
  move_points (self, surface, run, G_MAXUINT, (TsPoint){ dx, dy });
}

static guint
count_references (const TsPlan *plan)
{
  guint n = 0;

  for (guint i = 0; i < plan->pictures->len; i++)
    if (ts_plan_get_picture (plan, i)->role == TS_ROLE_REFERENCE)
      n++;
  return n;
}

/**
 * ts_document_remove_picture:
 * @self: a document
 * @picture: index of a picture
 *
 * Removes it with all that lies on it. The only reference stays.
 */
void
ts_document_remove_picture (TsDocument *self, guint picture)
{
  TsPlan *plan;

  if (ts_plan_get_picture (self->plan, picture)->role == TS_ROLE_REFERENCE &&
      count_references (self->plan) < 2)
    return;
  plan = ts_plan_copy (self->plan);
  ts_plan_remove_picture (plan, picture);
  if (self->picture > picture)
    self->picture--;
  else if (self->picture == picture)
    self->picture = (guint) MAX (0, ts_plan_find_picture (plan, TS_ROLE_REFERENCE));
  ts_document_change (self, plan, _ ("Remove picture"), TS_SURFACE_ALL);
  ts_document_notify (self, PROP_PICTURE);
  ts_document_emit (self, TS_DOCUMENT_IMAGE_CHANGED, 0);
}
