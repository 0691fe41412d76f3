/* ts-fit.h: shows the first of its children that has room
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_TYPE_FIT (ts_fit_get_type ())

/* Children in the order of preference; where none has room the last is shown, so its least width is
 * that of the whole. An empty box as the last hides what does not fit. */
G_DECLARE_FINAL_TYPE (TsFit, ts_fit, TS, FIT, GtkWidget)

G_END_DECLS
