/* ts-stair-bar.h: the bar over the stair: how many steps, how they lie, what could be done
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_STAIR_BAR (ts_stair_bar_get_type ())
G_DECLARE_FINAL_TYPE (TsStairBar, ts_stair_bar, TS, STAIR_BAR, TsView)

/* In a small window surfaces are chosen here, and less is said. */
void ts_stair_bar_set_compact (TsStairBar  *self,
                               gboolean     compact);

G_END_DECLS
