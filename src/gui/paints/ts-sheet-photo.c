/* ts-sheet-photo.c: a photograph of a swatch sheet, opened by a thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-sheet-photo.h"

#include "card/ts-sheet-template.h"
#include "sheet/ts-sheet-marks.h"

static void
free_photo (gpointer photo)
{
  ts_sheet_photo_free (photo);
}

static void
open_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  GError *error = NULL;
  TsImage *image = ts_image_open (task_data, cancellable, NULL, NULL, &error);
  TsSheetPhoto *self;

  if (image == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  self = g_new0 (TsSheetPhoto, 1);
  self->image = image;
  self->grid = (TsSheetGrid){ .n_rows = TS_TEMPLATE_ROWS,
                              .n_columns = TS_TEMPLATE_COLUMNS,
                              .halves = TRUE,
                              .bare = TS_TEMPLATE_BARE };
  self->found = ts_sheet_find_marks (image, &self->grid, NULL);
  g_task_return_pointer (task, self, free_photo);
}

/**
 * ts_sheet_photo_open:
 * @path: a photograph of a swatch sheet
 * @cancellable: (nullable): stops it
 * @callback: called when it is open or has failed
 * @user_data: for @callback
 *
 * Opens it on another thread, and looks for the rings of a printed sheet in it.
 */
void
ts_sheet_photo_open (const char *path, GCancellable *cancellable, GAsyncReadyCallback callback,
                     gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, user_data);

  g_task_set_task_data (task, g_strdup (path), g_free);
  g_task_run_in_thread (task, open_thread);
}

/**
 * ts_sheet_photo_finish:
 * @result: of ts_sheet_photo_open()
 * @error: see ts_image_open(); %G_IO_ERROR_CANCELLED where it was stopped
 *
 * Returns: (transfer full) (nullable): the photograph
 */
TsSheetPhoto *
ts_sheet_photo_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}

/**
 * ts_sheet_photo_free:
 * @self: (transfer full): a photograph
 */
void
ts_sheet_photo_free (TsSheetPhoto *self)
{
  ts_image_unref (self->image);
  g_free (self);
}
