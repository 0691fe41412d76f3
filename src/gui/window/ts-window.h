/* ts-window.h: one window: one document, its places, and the one bar of messages
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "document/ts-document.h"

G_BEGIN_DECLS

#define TS_TYPE_WINDOW (ts_window_get_type ())
G_DECLARE_FINAL_TYPE (TsWindow, ts_window, TS, WINDOW, GtkApplicationWindow)

GtkWidget  *ts_window_new          (GtkApplication  *application);
TsDocument *ts_window_get_document (TsWindow        *self);
/* A picture or a plan. */
void        ts_window_open         (TsWindow        *self,
                                    const char      *path);
/* Pictures one after the other; of plans the first. */
void        ts_window_open_files   (TsWindow        *self,
                                    GFile          **files,
                                    int              n_files);
/* What the program kept when it ended without saving. */
void        ts_window_offer_kept   (TsWindow        *self);
/* The chapter of the manual about what is being looked at. */
const char *ts_window_get_help     (TsWindow        *self);

G_END_DECLS
