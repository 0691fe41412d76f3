/* ts-paint-row.h: one paint in the list of paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "gui/paints/ts-paint-item.h"

G_BEGIN_DECLS

#define TS_TYPE_PAINT_ROW (ts_paint_row_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintRow, ts_paint_row, TS, PAINT_ROW, GtkWidget)

/* @column: of all rows of the list. */
GtkWidget *ts_paint_row_new  (GtkSizeGroup  *column);
void       ts_paint_row_show (TsPaintRow    *self,
                              TsPaintItem   *item);

G_END_DECLS
