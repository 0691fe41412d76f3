/* ts-promise.h: what will happen, as a drawing without colour
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TS_TYPE_PROMISE (ts_promise_get_type ())
G_DECLARE_FINAL_TYPE (TsPromise, ts_promise, TS, PROMISE, GtkWidget)

G_END_DECLS
