/* ts-layout.h: where the parts of the Picture place stand, and what folds away in a small window
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum
{
  TS_FOLD_NONE,
  TS_FOLD_NARROW, /* below 1200 wide */
  TS_FOLD_SMALL,  /* below 1000 wide or 700 high */
  TS_FOLD_TINY    /* below 800 wide */
} TsFold;

/* Children by type: "picture", "bar", "side", "stair". Emits "folded" when its own size asks for
 * another fold, with some play, and not while sizes are being given out. */
#define TS_TYPE_LAYOUT (ts_layout_get_type ())
G_DECLARE_FINAL_TYPE (TsLayout, ts_layout, TS, LAYOUT, GtkWidget)

TsFold ts_layout_get_fold       (TsLayout  *self);
/* In pixels; 0 for the usual. */
void   ts_layout_set_side_width (TsLayout  *self,
                                 int        width);
/* Below 800 wide the side panel has no place of its own: it stands over the picture, or not at all. */
void   ts_layout_set_side_over  (TsLayout  *self,
                                 gboolean   over);

G_END_DECLS
