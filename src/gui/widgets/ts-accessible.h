/* ts-accessible.h: names for assistive technology where GTK 4.8 finds none
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Drop-downs, menu buttons and colour buttons hold a button that takes the focus: both are named. */
void ts_accessible_name_inner (GtkWidget   *widget,
                               const char  *name);
/* Tab leaves the list instead of going through its rows, which in GTK 4.8 selects each. */
void ts_accessible_tab_leaves (GtkListBox  *list);
/* A label that ellipsizes in a small window or in long words: the whole is told where the pointer rests. */
void ts_accessible_may_be_cut (GtkWidget   *label);

G_END_DECLS
