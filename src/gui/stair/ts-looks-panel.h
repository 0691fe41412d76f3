/* ts-looks-panel.h: what lightness alone, distance, other lights and other eyes leave of a stair
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_LOOKS_PANEL (ts_looks_panel_get_type ())
G_DECLARE_FINAL_TYPE (TsLooksPanel, ts_looks_panel, TS, LOOKS_PANEL, TsView)

void ts_looks_panel_set_arms_length (TsLooksPanel *self,
                                     gboolean      arms_length);

G_END_DECLS
