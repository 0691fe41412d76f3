/* ts-card-job.c: all that the mixing card of a document is made of, as it was at one moment
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/card/ts-card-job.h"

#include <glib/gi18n.h>
#include <gtk/gtk.h>

#include "gui/widgets/ts-format.h"

struct _TsCardJob
{
  TsPlan *plan;       /* owned */
  GPtrArray *results; /* owned, of TsSurfaceResult or NULL */
  TsImage *image;     /* owned, or NULL: the reference */
  char *date;         /* owned */
  TsPaper paper;
  TsLengthUnit unit;
  char *path; /* owned, or NULL: where the card is to be written */
};

static void
free_result (gpointer result)
{
  if (result != NULL)
    ts_surface_result_unref (result);
}

/* The document's own array changes as mixes are found. */
static GPtrArray *
copy_results (const GPtrArray *results)
{
  GPtrArray *copy = g_ptr_array_new_full (results->len, free_result);

  for (guint i = 0; i < results->len; i++)
    {
      TsSurfaceResult *result = g_ptr_array_index (results, i);

      g_ptr_array_add (copy, result != NULL ? ts_surface_result_ref (result) : NULL);
    }
  return copy;
}

/**
 * ts_card_job_get_paper:
 *
 * Returns: Letter where that is usual, else A4
 */
TsPaper
ts_card_job_get_paper (void)
{
  return g_strcmp0 (gtk_paper_size_get_default (), GTK_PAPER_NAME_LETTER) == 0 ? TS_PAPER_LETTER
                                                                               : TS_PAPER_A4;
}

/**
 * ts_card_job_new:
 * @document: the document
 *
 * Returns: (transfer full) (nullable): what its card is made of now, or %NULL without a plan
 */
TsCardJob *
ts_card_job_new (TsDocument *document)
{
  const TsPlan *plan = ts_document_get_plan (document);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  TsCardJob *self;
  TsImage *image;
  int reference;

  if (plan == NULL)
    return NULL;
  reference = ts_plan_find_picture (plan, TS_ROLE_REFERENCE);
  image = reference >= 0 ? ts_document_get_image (document, (guint) reference) : NULL;
  self = g_new0 (TsCardJob, 1);
  self->plan = ts_plan_ref ((TsPlan *) plan);
  self->results = copy_results (ts_document_get_results (document));
  self->image = image != NULL ? ts_image_ref (image) : NULL;
  self->date = g_date_time_format (now, _ ("%-d %B %Y"));
  self->paper = ts_card_job_get_paper ();
  self->unit = ts_format_get_length_unit ();
  return self;
}

void
ts_card_job_free (TsCardJob *self)
{
  ts_plan_unref (self->plan);
  g_ptr_array_unref (self->results);
  g_clear_pointer (&self->image, ts_image_unref);
  g_free (self->date);
  g_free (self->path);
  g_free (self);
}

/**
 * ts_card_job_make:
 * @self: a job
 *
 * Lays the card out; of a big picture that takes a while, so that the window lets a thread do it.
 *
 * Returns: (transfer full): the card
 */
TsCard *
ts_card_job_make (const TsCardJob *self)
{
  return ts_card_new (self->plan, self->results, self->image, self->date, self->paper, self->unit);
}

static void
free_job (gpointer job)
{
  ts_card_job_free (job);
}

static void
unref_card (gpointer card)
{
  ts_card_unref (card);
}

static void
run_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  const TsCardJob *self = task_data;
  TsCard *card = ts_card_job_make (self);
  GError *error = NULL;

  if (self->path == NULL || ts_card_save (card, self->path, &error))
    {
      g_task_return_pointer (task, card, unref_card);
      return;
    }
  ts_card_unref (card);
  g_task_return_error (task, error);
}

/**
 * ts_card_job_run:
 * @self: (transfer full): a job
 * @path: (nullable): where to write the card, or %NULL
 * @callback: called when it is there
 * @user_data: for @callback
 *
 * Lets a thread make the card, and save it, so that the window does not wait for a big picture or a
 * slow disk.
 */
void
ts_card_job_run (TsCardJob *self, const char *path, GAsyncReadyCallback callback,
                 gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, callback, user_data);

  self->path = g_strdup (path);
  g_task_set_task_data (task, self, free_job);
  g_task_run_in_thread (task, run_thread);
}

/**
 * ts_card_job_finish:
 * @result: of ts_card_job_run()
 * @error: see ts_card_save()
 *
 * Returns: (transfer full) (nullable): the card, or %NULL where it could not be saved
 */
TsCard *
ts_card_job_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
