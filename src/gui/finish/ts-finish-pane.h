/* ts-finish-pane.h: the finished figure against the plan
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_FINISH_PANE (ts_finish_pane_get_type ())
G_DECLARE_FINAL_TYPE (TsFinishPane, ts_finish_pane, TS, FINISH_PANE, TsView)

G_END_DECLS
