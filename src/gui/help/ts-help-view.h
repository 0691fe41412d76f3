/* ts-help-view.h: the widgets of one chapter of the manual
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef void (*TsHelpLinkFunc) (const char *target, gpointer user_data);

void       ts_help_view_centre (GtkWidget     *column);
GtkWidget *ts_help_view_fill (GtkBox          *page,
                              const GPtrArray *blocks,
                              guint            wanted,
                              const char      *folder,
                              TsHelpLinkFunc   func,
                              gpointer         user_data);
void       ts_help_view_mark (GtkWidget       *page,
                              const char      *phrase);

G_END_DECLS
