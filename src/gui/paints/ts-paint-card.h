/* ts-paint-card.h: a paint at full strength, as a tint, and as one coat on a contrast card
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "paint/ts-paint-samples.h"

G_BEGIN_DECLS

#define TS_TYPE_PAINT_CARD (ts_paint_card_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintCard, ts_paint_card, TS, PAINT_CARD, GtkWidget)

/* @width and @height are of the whole in pixels, -1 for as it falls; @edge is the field's. */
GtkWidget *ts_paint_card_new  (int                   width,
                               int                   height,
                               int                   edge);
void       ts_paint_card_show (TsPaintCard          *self,
                               const TsPaintSamples *samples,
                               const char           *name);

G_END_DECLS
