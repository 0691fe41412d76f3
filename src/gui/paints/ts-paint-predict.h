/* ts-paint-predict.h: parts put together by hand, and what the mix will look like
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* Signal: "closed". */
#define TS_TYPE_PAINT_PREDICT (ts_paint_predict_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintPredict, ts_paint_predict, TS, PAINT_PREDICT, TsView)

/* The paint that "Add" puts one part of into the mix: what is chosen in the list. -1: none. */
void ts_paint_predict_choose (TsPaintPredict  *self,
                              int              paint);
/* One part more of a paint. */
void ts_paint_predict_add    (TsPaintPredict  *self,
                              guint            paint);

G_END_DECLS
