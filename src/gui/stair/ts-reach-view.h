/* ts-reach-view.h: a step that no mix reaches: how far, which way, and which kind of paint would help
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_REACH_VIEW (ts_reach_view_get_type ())
G_DECLARE_FINAL_TYPE (TsReachView, ts_reach_view, TS, REACH_VIEW, TsView)

/* Shows @step of the selected surface, or hides where it is within reach. */
void ts_reach_view_show (TsReachView *self,
                         int          step);

G_END_DECLS
