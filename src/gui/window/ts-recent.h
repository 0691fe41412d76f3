/* ts-recent.h: the plans that were opened last
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* GtkRecentInfo of at most @most plans that are still there, the newest first. */
GPtrArray *ts_recent_find       (guint             most);
/* Without the ending. */
char      *ts_recent_dup_title  (GtkRecentInfo    *info);
/* Fills @menu anew whenever @popover comes up. */
void       ts_recent_fill_menu  (GMenu            *menu,
                                 GtkWidget        *popover);

G_END_DECLS
