/* ts-application.h: the program: its windows, its keys, its style
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_TYPE_APPLICATION (ts_application_get_type ())
G_DECLARE_FINAL_TYPE (TsApplication, ts_application, TS, APPLICATION, GtkApplication)

TsApplication *ts_application_new (void);

G_END_DECLS
