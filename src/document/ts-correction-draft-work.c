/* ts-correction-draft-work.c: a draft's wishes worked out on another thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-correction-draft-private.h"

#include <math.h>

#include "correction/ts-chart-read.h"

/* One wish, given values that nobody else changes. */
typedef struct
{
  TsCorrectionSettings settings;
  TsImage *image, *source; /* source: or NULL */
  guint wish;
  TsCorrection *correction; /* result, or NULL */
  TsChartReading reading;
  TsChartReference reference;
  char *fault;
} DraftJob;

static void
draft_job_free (gpointer data)
{
  DraftJob *job = data;

  ts_correction_settings_clear (&job->settings);
  ts_image_unref (job->image);
  g_clear_pointer (&job->source, ts_image_unref);
  g_clear_pointer (&job->correction, ts_correction_unref);
  g_free (job->fault);
  g_free (job);
}

static void
load_reference (DraftJob *job)
{
  const char *name = job->settings.chart;

  if (g_str_equal (name, "earlier") || g_str_equal (name, "later"))
    ts_chart_reference_get (name, &job->reference, NULL);
  else
    ts_chart_reference_load (name, &job->reference, NULL);
}

static void
draft_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  DraftJob *job = task_data;
  g_autoptr (GError) error = NULL;

  job->correction =
    ts_pipeline_correct_with (&job->settings, job->image, job->source, &job->reading, &error);
  if (job->correction == NULL)
    job->fault = g_strdup (error->message);
  else if (job->settings.kind == TS_CORRECTION_CHART)
    load_reference (job);
  g_task_return_boolean (task, TRUE);
}

static TsPoint
get_middle (const double x[4], const double y[4])
{
  return (TsPoint){ (x[0] + x[1] + x[2] + x[3]) / 4.0, (y[0] + y[1] + y[2] + y[3]) / 4.0 };
}

/* Which of the chart's patches lies at each place of the picture, lying or standing. */
static double
match_patches (const TsChartPatch *seen, const TsChartReading *reading, int patch[TS_CHART_PATCHES])
{
  double off = 0.0;

  for (guint i = 0; i < TS_CHART_PATCHES; i++)
    {
      TsPoint at = get_middle (seen[i].x, seen[i].y);
      double least = G_MAXDOUBLE;

      for (guint k = 0; k < TS_CHART_PATCHES; k++)
        {
          TsPoint there = get_middle (reading->patch[k].x, reading->patch[k].y);
          double away = hypot (there.x - at.x, there.y - at.y);

          if (away < least)
            {
              least = away;
              patch[i] = (int) k;
            }
        }
      off += least;
    }
  return off;
}

static void
find_turn (TsCorrectionDraft *self, const TsCorrectionSettings *settings)
{
  double least = G_MAXDOUBLE;

  self->read_columns = 0;
  for (guint columns = TS_CHART_COLUMNS; columns >= TS_CHART_ROWS;
       columns -= TS_CHART_COLUMNS - TS_CHART_ROWS)
    {
      TsChartPatch seen[TS_CHART_PATCHES];
      int patch[TS_CHART_PATCHES];
      double off;

      if (!ts_chart_lay_out (settings->corner, columns, seen))
        return;
      off = match_patches (seen, &self->reading, patch);
      if (off >= least)
        continue;
      least = off;
      self->read_columns = columns;
      memcpy (self->patch, patch, sizeof patch);
    }
}

static void
take_job (TsCorrectionDraft *self, DraftJob *job)
{
  g_clear_pointer (&self->correction, ts_correction_unref);
  g_free (self->fault);
  self->correction = g_steal_pointer (&job->correction);
  self->fault = g_steal_pointer (&job->fault);
  self->has_reading = self->correction != NULL && job->settings.kind == TS_CORRECTION_CHART;
  self->reading = job->reading;
  self->reference = job->reference;
  if (self->has_reading && job->settings.source == NULL)
    find_turn (self, &job->settings);
}

static void start (TsCorrectionDraft *self);

static void
on_done (GObject *source, GAsyncResult *result, gpointer data)
{
  TsCorrectionDraft *self = TS_CORRECTION_DRAFT (source);
  DraftJob *job = g_task_get_task_data (G_TASK (result));

  self->running = FALSE;
  if (job->wish > self->done && job->wish >= self->least)
    {
      self->done = job->wish;
      take_job (self, job);
    }
  if (self->done < self->wish)
    start (self);
  ts_correction_draft_changed (self);
}

static void
forget (TsCorrectionDraft *self)
{
  self->done = self->wish;
  self->has_reading = FALSE;
  g_clear_pointer (&self->correction, ts_correction_unref);
  g_clear_pointer (&self->fault, g_free);
}

static void
start (TsCorrectionDraft *self)
{
  TsImage *image = ts_document_get_image (self->document, self->picture);
  int source = ts_correction_draft_get_source (self);
  TsImage *other = source >= 0 ? ts_document_get_image (self->document, (guint) source) : NULL;
  g_auto (TsCorrectionSettings) settings = { .kind = TS_CORRECTION_NONE };
  g_autoptr (GTask) task = NULL;
  DraftJob *job;

  if (image == NULL || !ts_correction_draft_compile (self, &settings))
    {
      forget (self);
      return;
    }
  job = g_new0 (DraftJob, 1);
  ts_correction_settings_copy (&job->settings, &settings);
  job->image = ts_image_ref (image);
  job->source = settings.source != NULL && other != NULL ? ts_image_ref (other) : NULL;
  job->wish = self->wish;
  self->running = TRUE;
  task = g_task_new (self, NULL, on_done, NULL);
  g_task_set_task_data (task, job, draft_job_free);
  g_task_run_in_thread (task, draft_thread);
}

/* Another wish: it waits while one is worked out, and takes the place of one that waits. */
void
ts_correction_draft_wish (TsCorrectionDraft *self, gboolean other)
{
  self->wish++;
  if (other)
    {
      forget (self);
      self->done = self->wish - 1;
      self->least = self->wish;
    }
  if (!self->running)
    start (self);
  ts_correction_draft_changed (self);
}

static void
guess_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  TsLightGuess *guess = g_new0 (TsLightGuess, 1);

  if (ts_light_guess (task_data, guess, NULL))
    {
      g_task_return_pointer (task, guess, g_free);
      return;
    }
  g_free (guess);
  g_task_return_pointer (task, NULL, NULL);
}

static void
on_guessed (GObject *source, GAsyncResult *result, gpointer data)
{
  TsCorrectionDraft *self = TS_CORRECTION_DRAFT (source);
  g_autofree TsLightGuess *guess = g_task_propagate_pointer (G_TASK (result), NULL);

  if (guess == NULL)
    return;
  self->guess = *guess;
  self->has_guess = TRUE;
  ts_correction_draft_changed (self);
}

/* Guesses the light of the photograph, once. */
void
ts_correction_draft_guess (TsCorrectionDraft *self)
{
  TsImage *image = ts_document_get_image (self->document, self->picture);
  g_autoptr (GTask) task = NULL;

  if (image == NULL)
    return;
  task = g_task_new (self, NULL, on_guessed, NULL);
  g_task_set_task_data (task, ts_image_ref (image), (GDestroyNotify) ts_image_unref);
  g_task_run_in_thread (task, guess_thread);
}
