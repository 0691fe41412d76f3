/* ts-finish-row.h: one surface in the list of the finish check: planned over achieved
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_FINISH_ROW (ts_finish_row_get_type ())
G_DECLARE_FINAL_TYPE (TsFinishRow, ts_finish_row, TS, FINISH_ROW, GtkListBoxRow)

GtkWidget *ts_finish_row_new    (void);
/* Shows what became of a surface. */
void       ts_finish_row_update (TsFinishRow  *self,
                                 TsDocument   *document,
                                 guint         surface,
                                 gboolean      grey);

G_END_DECLS
