/* ts-paint-layout.h: where list, one paint and the set stand, and which folds away in a small window
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Children by type: "list", "one", "set". Folded, one of the latter two is to be seen at a time.
 * Emits "folded" when its own width asks for the other, and not while sizes are being given out. */
#define TS_TYPE_PAINT_LAYOUT (ts_paint_layout_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintLayout, ts_paint_layout, TS, PAINT_LAYOUT, GtkWidget)

gboolean ts_paint_layout_is_folded    (TsPaintLayout  *self);
/* Whether the set is to be seen where there is room for one only. */
void     ts_paint_layout_set_show_set (TsPaintLayout  *self,
                                       gboolean        show_set);

G_END_DECLS
