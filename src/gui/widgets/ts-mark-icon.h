/* ts-mark-icon.h: a widget that shows one verdict's shape
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "card/ts-mark.h"

G_BEGIN_DECLS

#define TS_TYPE_MARK_ICON (ts_mark_icon_get_type ())
G_DECLARE_FINAL_TYPE (TsMarkIcon, ts_mark_icon, TS, MARK_ICON, GtkWidget)

GtkWidget *ts_mark_icon_new (void);
void       ts_mark_icon_set (TsMarkIcon *self,
                             TsMark      mark);

G_END_DECLS
