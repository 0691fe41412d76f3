/* ts-sheet-pane.h: paints from the photograph of a swatch sheet
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* Signal: "closed" (boolean added). */
#define TS_TYPE_SHEET_PANE (ts_sheet_pane_get_type ())
G_DECLARE_FINAL_TYPE (TsSheetPane, ts_sheet_pane, TS, SHEET_PANE, TsView)

/* Opens the photograph on another thread; what goes wrong is told by the document's messages. */
void ts_sheet_pane_open (TsSheetPane  *self,
                         const char   *path);

G_END_DECLS
