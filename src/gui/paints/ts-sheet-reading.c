/* ts-sheet-reading.c: a swatch sheet corrected and read by a thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-sheet-reading.h"

#include <math.h>

#include "plan/ts-pipeline.h"

static const TsLab mid_grey = { 50.0, 0.0, 0.0 };

/* Of the thread alone until it has ended. */
typedef struct
{
  TsImage *image;                /* owned */
  TsCorrectionSettings settings; /* owned */
  TsSheetGrid grid;
  double within;
} Reading;

static void
free_reading (gpointer data)
{
  Reading *self = data;

  ts_image_unref (self->image);
  ts_correction_settings_clear (&self->settings);
  g_free (self);
}

/* Where the light is known: at the card, or in the middle of the chart. */
static gboolean
find_light (const TsCorrectionSettings *settings, double *at)
{
  at[0] = settings->card_x;
  at[1] = settings->card_y;
  if (settings->kind == TS_CORRECTION_CHART)
    for (guint i = 0; i < 2; i++)
      at[i] = (settings->corner[0][i] + settings->corner[2][i]) / 2.0;
  return settings->kind != TS_CORRECTION_NONE;
}

static void
read_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  Reading *self = task_data;
  GError *error = NULL;
  g_autoptr (TsCorrection) correction =
    ts_pipeline_correct (&self->settings, self->image, NULL, &error);
  TsSheet *sheet = NULL;
  double at[2];

  if (correction != NULL)
    {
      gboolean has_light = find_light (&self->settings, at);

      self->within = ts_correction_get_error (correction, mid_grey);
      sheet = ts_sheet_read (self->image, correction, &self->grid, has_light ? at : NULL, &error);
    }
  if (sheet != NULL)
    g_task_return_pointer (task, sheet, (GDestroyNotify) ts_sheet_unref);
  else
    g_task_return_error (task, error);
}

/**
 * ts_sheet_reading_run:
 * @image: a photograph of a swatch sheet
 * @settings: how its colours are corrected; places in upright pixels
 * @grid: where the cells lie, upright pixels
 * @cancellable: (nullable): makes what is read count for nothing
 * @callback: called when it is read or cannot be
 * @user_data: for @callback
 *
 * Corrects and reads it on another thread: see ts_sheet_read().
 */
void
ts_sheet_reading_run (TsImage *image, const TsCorrectionSettings *settings, const TsSheetGrid *grid,
                      GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, user_data);
  Reading *self = g_new0 (Reading, 1);

  self->image = ts_image_ref (image);
  ts_correction_settings_copy (&self->settings, settings);
  self->grid = *grid;
  self->within = (double) NAN;
  g_task_set_task_data (task, self, free_reading);
  g_task_run_in_thread (task, read_thread);
}

/**
 * ts_sheet_reading_finish:
 * @result: of ts_sheet_reading_run()
 * @within: (out): 95 % radius of the correction about mid grey, CIEDE2000, or NaN where there is
 * none
 * @error: see ts_pipeline_correct() and ts_sheet_read(); %G_IO_ERROR_CANCELLED where it was stopped
 *
 * Returns: (transfer full) (nullable): the sheet
 */
TsSheet *
ts_sheet_reading_finish (GAsyncResult *result, double *within, GError **error)
{
  const Reading *self = g_task_get_task_data (G_TASK (result));

  *within = self->within;
  return g_task_propagate_pointer (G_TASK (result), error);
}
