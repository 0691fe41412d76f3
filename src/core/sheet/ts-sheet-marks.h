/* ts-sheet-marks.h: the four rings at the corners of a printed sheet, found in its photograph
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "sheet/ts-sheet.h"

G_BEGIN_DECLS

/* The rings' middles lie outside the grid's corners, each way by this share of a cell. */
#define TS_SHEET_MARK_OUT 0.12
/* Radii of a ring's white and of its dot, of its own; the first corner's dot is the small one. */
#define TS_SHEET_MARK_WHITE 0.66
#define TS_SHEET_MARK_DOT   0.42
#define TS_SHEET_MARK_FIRST 0.22

/* Sets @grid's corners from the rings; its rows and columns are those of the sheet. */
gboolean ts_sheet_find_marks (const TsImage  *image,
                              TsSheetGrid    *grid,
                              GError        **error);

G_END_DECLS
