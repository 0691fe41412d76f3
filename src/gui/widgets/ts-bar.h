/* ts-bar.h: a length among others
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* For the eye: the number stands beside it in words. */
#define TS_TYPE_BAR (ts_bar_get_type ())
G_DECLARE_FINAL_TYPE (TsBar, ts_bar, TS, BAR, GtkWidget)

GtkWidget *ts_bar_new (void);
/* @share 0 to 1 of its width; @strong in the colour of text. */
void       ts_bar_set (TsBar    *self,
                       double    share,
                       gboolean  strong);

G_END_DECLS
