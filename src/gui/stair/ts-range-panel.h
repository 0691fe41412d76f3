/* ts-range-panel.h: the wanted range of lightness, and the colours of light and shadow
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_RANGE_PANEL (ts_range_panel_get_type ())
G_DECLARE_FINAL_TYPE (TsRangePanel, ts_range_panel, TS, RANGE_PANEL, TsView)

G_END_DECLS
