/* ts-sheet-photo.h: a photograph of a swatch sheet, opened by a thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "sheet/ts-sheet.h"

G_BEGIN_DECLS

typedef struct
{
  TsImage    *image; /* owned */
  TsSheetGrid grid;  /* of a printed sheet, laid on its rings where they were found */
  gboolean    found;
} TsSheetPhoto;

void          ts_sheet_photo_open   (const char           *path,
                                     GCancellable         *cancellable,
                                     GAsyncReadyCallback   callback,
                                     gpointer              user_data);
TsSheetPhoto *ts_sheet_photo_finish (GAsyncResult         *result,
                                     GError              **error);
void          ts_sheet_photo_free   (TsSheetPhoto         *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsSheetPhoto, ts_sheet_photo_free)

G_END_DECLS
