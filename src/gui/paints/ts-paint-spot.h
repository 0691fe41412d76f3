/* ts-paint-spot.h: the shown picture, small, to measure one spot of it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "spots/ts-spot.h"
#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* Signal: "measured" (there is another spot). A click measures; so do arrows and Return. */
#define TS_TYPE_PAINT_SPOT (ts_paint_spot_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintSpot, ts_paint_spot, TS, PAINT_SPOT, TsView)

/* The last one measured, or %NULL. */
const TsSpot *ts_paint_spot_get   (TsPaintSpot  *self);
void          ts_paint_spot_clear (TsPaintSpot  *self);
/* What a click is for: shown over the picture. */
void          ts_paint_spot_ask   (TsPaintSpot  *self,
                                   const char   *text);

G_END_DECLS
