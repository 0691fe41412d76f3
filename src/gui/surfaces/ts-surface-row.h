/* ts-surface-row.h: one surface in the list: its name, its verdicts, its stair
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "document/ts-document.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_TYPE_SURFACE_ROW (ts_surface_row_get_type ())
G_DECLARE_FINAL_TYPE (TsSurfaceRow, ts_surface_row, TS, SURFACE_ROW, GtkListBoxRow)

GtkWidget *ts_surface_row_new    (TsDocument    *document,
                                  guint          index);
void       ts_surface_row_update (TsSurfaceRow  *self,
                                  gboolean       grey);
/* The name is selected, for typing another. */
void       ts_surface_row_rename (TsSurfaceRow  *self);

G_END_DECLS
