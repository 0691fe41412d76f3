/* ts-flow.h: a row that goes on in a next line where there is no room
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_TYPE_FLOW (ts_flow_get_type ())

/* As a GtkBox, but words in another language, or larger ones, may take a line more. Children go into a
 * line as long as all of it have their least width; those that expand share what is left. */
G_DECLARE_FINAL_TYPE (TsFlow, ts_flow, TS, FLOW, GtkWidget)

G_END_DECLS
