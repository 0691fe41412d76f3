/* ts-mixes-panel.h: other mixes for the selected step, each with its reason
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* Emits "closed" when it has done its work. */
#define TS_TYPE_MIXES_PANEL (ts_mixes_panel_get_type ())
G_DECLARE_FINAL_TYPE (TsMixesPanel, ts_mixes_panel, TS, MIXES_PANEL, TsView)

void ts_mixes_panel_open (TsMixesPanel  *self);

G_END_DECLS
