/* ts-sheet-view.h: the photograph of a swatch sheet with the grid laid over it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "plan/ts-correction-settings.h"
#include "sheet/ts-sheet.h"

G_BEGIN_DECLS

/* Signals: "changed" (a corner has moved), "chosen" (uint cell). */
#define TS_TYPE_SHEET_VIEW (ts_sheet_view_get_type ())
G_DECLARE_FINAL_TYPE (TsSheetView, ts_sheet_view, TS, SHEET_VIEW, GtkWidget)

/* Lays the grid on the middle of it. */
void               ts_sheet_view_set_image (TsSheetView      *self,
                                            TsImage          *image);
const TsSheetGrid *ts_sheet_view_get_grid  (TsSheetView      *self);
/* Lays the grid as @grid does, corners and all; "changed" is not emitted. */
void               ts_sheet_view_set_grid  (TsSheetView       *self,
                                            const TsSheetGrid *grid);
/* Rows, columns and what a cell is; the corners stay. */
void               ts_sheet_view_set_cells (TsSheetView      *self,
                                            guint             n_rows,
                                            guint             n_columns,
                                            gboolean          halves,
                                            double            bare);
/* A quarter: what was the first column becomes the first row. */
void               ts_sheet_view_turn      (TsSheetView      *self);
/* What the colours are corrected with, and so which further rings there are. */
void               ts_sheet_view_set_kind  (TsSheetView      *self,
                                            TsCorrectionKind  kind);
/* Where card or chart lie: fills what @kind asks for. */
void               ts_sheet_view_get_settings
                                           (TsSheetView           *self,
                                            TsCorrectionSettings  *settings);
/* What was read: its inner frames and marks are shown. %NULL while it is read. */
void               ts_sheet_view_set_sheet (TsSheetView      *self,
                                            TsSheet          *sheet);
void               ts_sheet_view_choose    (TsSheetView      *self,
                                            int               cell);

G_END_DECLS
