/* ts-limits-panel.h: limits of mixes: paints, parts, what is left out and what must be in
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_LIMITS_PANEL (ts_limits_panel_get_type ())
G_DECLARE_FINAL_TYPE (TsLimitsPanel, ts_limits_panel, TS, LIMITS_PANEL, TsView)

G_END_DECLS
