/* ts-bottles-panel.h: whether the mixes of a stair are chosen apart or together, and of how many paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_BOTTLES_PANEL (ts_bottles_panel_get_type ())
G_DECLARE_FINAL_TYPE (TsBottlesPanel, ts_bottles_panel, TS, BOTTLES_PANEL, TsView)

/* "9 paints": unlike ones in the selected stair, or what to press for. */
char *ts_bottles_panel_dup_label (TsSurfaceResult *result);

G_END_DECLS
