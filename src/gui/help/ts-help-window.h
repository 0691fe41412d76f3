/* ts-help-window.h: the window in which the manual is read
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_TYPE_HELP_WINDOW (ts_help_window_get_type ())
G_DECLARE_FINAL_TYPE (TsHelpWindow, ts_help_window, TS, HELP_WINDOW, GtkWindow)

GtkWidget *ts_help_window_new  (void);
void       ts_help_window_show (TsHelpWindow *self,
                                const char   *target);

G_END_DECLS
