/* ts-sheet-reading.h: a swatch sheet corrected and read by a thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "plan/ts-correction-settings.h"
#include "sheet/ts-sheet.h"

G_BEGIN_DECLS

void     ts_sheet_reading_run    (TsImage                     *image,
                                  const TsCorrectionSettings  *settings,
                                  const TsSheetGrid           *grid,
                                  GCancellable                *cancellable,
                                  GAsyncReadyCallback          callback,
                                  gpointer                     user_data);
TsSheet *ts_sheet_reading_finish (GAsyncResult                *result,
                                  double                      *within,
                                  GError                     **error);

G_END_DECLS
