/* ts-sheet-corner.h: a ring that can be moved over a picture, by pointer and by keys
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_SHEET_CORNER_SIZE 26 /* pixels, the ring in the middle */

/* Signal: "moved" (double dx, double dy: screen pixels, from an arrow key). */
#define TS_TYPE_SHEET_CORNER (ts_sheet_corner_get_type ())
G_DECLARE_FINAL_TYPE (TsSheetCorner, ts_sheet_corner, TS, SHEET_CORNER, GtkWidget)

GtkWidget *ts_sheet_corner_new (void);

G_END_DECLS
