/* ts-card-job.c: all that the mixing card of a document is made of, as it was at one moment
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-card-job.h"

#include <glib/gi18n.h>
#include <gtk/gtk.h>

struct _TsCardJob
{
  TsPlan *plan;       /* owned */
  GPtrArray *results; /* owned, of TsSurfaceResult or NULL */
  TsImage *image;     /* owned, or NULL: the reference */
  char *date;         /* owned */
  TsPaper paper;
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
  return self;
}

void
ts_card_job_free (TsCardJob *self)
{
  ts_plan_unref (self->plan);
  g_ptr_array_unref (self->results);
  g_clear_pointer (&self->image, ts_image_unref);
  g_free (self->date);
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
  return ts_card_new (self->plan, self->results, self->image, self->date, self->paper);
}
