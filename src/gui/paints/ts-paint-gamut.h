/* ts-paint-gamut.h: the whole set: its colours, what they can mix, and where they cannot
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "paint/ts-paint-set.h"

G_BEGIN_DECLS

/* Signal: "chosen" (uint paint). */
#define TS_TYPE_PAINT_GAMUT (ts_paint_gamut_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintGamut, ts_paint_gamut, TS, PAINT_GAMUT, GtkWidget)

void ts_paint_gamut_set_items  (TsPaintGamut  *self,
                                GListModel    *items);
/* The edge is worked out on another thread. */
void ts_paint_gamut_set_paints (TsPaintGamut  *self,
                                TsPaintSet    *paints);
void ts_paint_gamut_choose     (TsPaintGamut  *self,
                                int            paint);

G_END_DECLS
