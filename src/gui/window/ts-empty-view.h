/* ts-empty-view.h: what a window without a plan shows
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_TYPE_EMPTY_VIEW (ts_empty_view_get_type ())
G_DECLARE_FINAL_TYPE (TsEmptyView, ts_empty_view, TS, EMPTY_VIEW, GtkWidget)

/* While something hovers that would be opened. */
void ts_empty_view_set_dropping (TsEmptyView  *self,
                                 gboolean      dropping);

G_END_DECLS
