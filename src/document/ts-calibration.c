/* ts-calibration.c: a set's test swatches refine its paints, on another thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "document/ts-calibration.h"

#include <glib/gi18n.h>

#include "document/ts-document-paints.h"

#define PROGRESS_STEP 0.01 /* news of less is not worth a frame */

struct _TsCalibration
{
  GObject parent_instance;

  TsDocument *document; /* borrowed: it outlives the window's parts */

  /* Owned, nullable */
  GCancellable *cancellable; /* of the one under way */
  TsPaintFit *fit;
  GArray *swatches; /* guint: which swatches of the set the fit has used */
  char *problem;

  double progress;
};

/* Given values that nobody can change. */
typedef struct
{
  TsPaintSet *set; /* as the document has it */
  GArray *indices; /* guint, which of its swatches */
  GWeakRef calibration;
  GCancellable *cancellable;
  double told; /* progress */
} Job;

/* Progress on its way to the main thread. */
typedef struct
{
  TsCalibration *calibration; /* owned */
  GCancellable *cancellable;  /* owned */
  double done;
} News;

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsCalibration, ts_calibration, G_TYPE_OBJECT)

static void
job_free (gpointer data)
{
  Job *job = data;

  ts_paint_set_unref (job->set);
  g_array_unref (job->indices);
  g_weak_ref_clear (&job->calibration);
  g_object_unref (job->cancellable);
  g_free (job);
}

static void
news_free (gpointer data)
{
  News *news = data;

  g_object_unref (news->calibration);
  g_object_unref (news->cancellable);
  g_free (news);
}

static gboolean
on_news (gpointer data)
{
  News *news = data;
  TsCalibration *self = news->calibration;

  if (self->cancellable == news->cancellable)
    {
      self->progress = news->done;
      g_signal_emit (self, signals[CHANGED], 0);
    }
  return G_SOURCE_REMOVE;
}

/* On the thread that works. */
static void
on_progress (double done, gpointer user_data)
{
  Job *job = user_data;
  TsCalibration *self;
  News *news;

  if (done < job->told + PROGRESS_STEP)
    return;
  job->told = done;
  self = g_weak_ref_get (&job->calibration);
  if (self == NULL)
    return;
  news = g_new0 (News, 1);
  news->calibration = self;
  news->cancellable = g_object_ref (job->cancellable);
  news->done = done;
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, on_news, news, news_free);
}

static GArray *
read_swatches (const TsPaintSet *set, GArray *indices)
{
  GArray *swatches = g_array_new (FALSE, FALSE, sizeof (TsSwatch));

  for (guint i = 0; i < ts_paint_set_get_n_swatches (set); i++)
    {
      TsSwatch swatch;

      if (!ts_paint_set_get_swatch (set, i, &swatch))
        continue;
      g_array_append_val (swatches, swatch);
      g_array_append_val (indices, i);
    }
  return swatches;
}

static void
fit_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  Job *job = task_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TsPaintSet) measured = ts_paint_set_as_measured (job->set);
  g_autoptr (GArray) swatches = read_swatches (measured, job->indices);
  TsPaintFit *fit = ts_paint_fit_new (measured, (const TsSwatch *) swatches->data, swatches->len,
                                      cancellable, on_progress, job, &error);

  if (fit != NULL)
    g_task_return_pointer (task, fit, (GDestroyNotify) ts_paint_fit_unref);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

/* A set that was edited meanwhile is not overwritten: it would lose the edit. */
static void
on_fitted (GObject *source, GAsyncResult *result, gpointer data)
{
  TsCalibration *self = TS_CALIBRATION (source);
  GTask *task = G_TASK (result);
  Job *job = g_task_get_task_data (task);
  g_autoptr (GError) error = NULL;
  TsPaintFit *fit = g_task_propagate_pointer (task, &error);

  if (self->cancellable != g_task_get_cancellable (task))
    {
      g_clear_pointer (&fit, ts_paint_fit_unref);
      return;
    }
  g_clear_object (&self->cancellable);
  if (fit == NULL)
    self->problem = g_strdup (error->message);
  else if (ts_document_get_paints (self->document) != job->set)
    {
      self->problem = g_strdup (_ ("The paints have changed meanwhile. Calibrate again."));
      ts_paint_fit_unref (fit);
    }
  else
    {
      g_clear_pointer (&self->fit, ts_paint_fit_unref);
      g_clear_pointer (&self->swatches, g_array_unref);
      self->fit = fit;
      self->swatches = g_array_ref (job->indices);
      ts_document_take_paints (self->document, ts_paint_fit_get_set (fit),
                               ts_document_get_paints_name (self->document),
                               _ ("Refine Paints by Swatches"));
    }
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
ts_calibration_finalize (GObject *object)
{
  TsCalibration *self = TS_CALIBRATION (object);

  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->fit, ts_paint_fit_unref);
  g_clear_pointer (&self->swatches, g_array_unref);
  g_free (self->problem);
  G_OBJECT_CLASS (ts_calibration_parent_class)->finalize (object);
}

static void
ts_calibration_class_init (TsCalibrationClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ts_calibration_finalize;
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
}

static void
ts_calibration_init (TsCalibration *self)
{
}

/**
 * ts_calibration_new:
 * @document: the document, which lives longer
 *
 * Returns: (transfer full): calibrates the paints of @document
 */
TsCalibration *
ts_calibration_new (TsDocument *document)
{
  TsCalibration *self = g_object_new (TS_TYPE_CALIBRATION, NULL);

  self->document = document;
  return self;
}

static gboolean
has_swatch (const TsPaintSet *set)
{
  TsSwatch swatch;

  for (guint i = 0; set != NULL && i < ts_paint_set_get_n_swatches (set); i++)
    if (ts_paint_set_get_swatch (set, i, &swatch))
      return TRUE;
  return FALSE;
}

/**
 * ts_calibration_start:
 * @self: a calibration
 *
 * Fits the paints as they were measured to all test swatches that the set carries, and gives the
 * document the refined set, a step back of its own.
 *
 * Returns: %FALSE where the set carries no swatch that counts
 */
gboolean
ts_calibration_start (TsCalibration *self)
{
  TsPaintSet *set = ts_document_get_paints (self->document);
  g_autoptr (GTask) task = NULL;
  Job *job;

  ts_calibration_stop (self);
  if (!has_swatch (set))
    return FALSE;
  g_clear_pointer (&self->problem, g_free);
  self->progress = 0.0;
  self->cancellable = g_cancellable_new ();
  job = g_new0 (Job, 1);
  job->set = ts_paint_set_ref (set);
  job->indices = g_array_new (FALSE, FALSE, sizeof (guint));
  job->cancellable = g_object_ref (self->cancellable);
  g_weak_ref_init (&job->calibration, self);
  task = g_task_new (self, self->cancellable, on_fitted, NULL);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, fit_thread);
  g_signal_emit (self, signals[CHANGED], 0);
  return TRUE;
}

/**
 * ts_calibration_stop:
 * @self: a calibration
 *
 * Stops what is under way; the paints stay as they are.
 */
void
ts_calibration_stop (TsCalibration *self)
{
  if (self->cancellable == NULL)
    return;
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_signal_emit (self, signals[CHANGED], 0);
}

/**
 * ts_calibration_is_running:
 * @self: a calibration
 *
 * Returns: whether a fit is under way
 */
gboolean
ts_calibration_is_running (TsCalibration *self)
{
  return self->cancellable != NULL;
}

/**
 * ts_calibration_get_progress:
 * @self: a calibration
 *
 * Returns: 0..1
 */
double
ts_calibration_get_progress (TsCalibration *self)
{
  return self->progress;
}

/**
 * ts_calibration_get_fit:
 * @self: a calibration
 *
 * Returns: (transfer none) (nullable): the last fit, where the document's paints are still of it
 */
const TsPaintFit *
ts_calibration_get_fit (TsCalibration *self)
{
  return self->fit != NULL &&
             ts_document_get_paints (self->document) == ts_paint_fit_get_set (self->fit)
           ? self->fit
           : NULL;
}

/**
 * ts_calibration_get_swatch:
 * @self: a calibration with a fit
 * @residual: index in the fit's residuals
 *
 * Returns: index of that swatch in the set
 */
guint
ts_calibration_get_swatch (TsCalibration *self, guint residual)
{
  g_return_val_if_fail (self->swatches != NULL && residual < self->swatches->len, 0);

  return g_array_index (self->swatches, guint, residual);
}

/**
 * ts_calibration_get_problem:
 * @self: a calibration
 *
 * Returns: (transfer none) (nullable): why the last fit came to nothing, for the painter
 */
const char *
ts_calibration_get_problem (TsCalibration *self)
{
  return self->problem;
}
