/* ts-brief-pane.h: the colours a client asked for, and what is mixed for each
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_BRIEF_PANE (ts_brief_pane_get_type ())
G_DECLARE_FINAL_TYPE (TsBriefPane, ts_brief_pane, TS, BRIEF_PANE, TsView)

G_END_DECLS
