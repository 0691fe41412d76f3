/* ts-progress.h: how long work tells how far it is
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* @done runs from 0 to 1 and never falls. Called on the thread that works, some tens of times a
 * second at most; long work also takes a GCancellable and looks at it as often. */
typedef void (*TsProgressFunc) (double   done,
                                gpointer user_data);

G_END_DECLS
