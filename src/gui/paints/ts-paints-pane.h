/* ts-paints-pane.h: the set of paints, and the choice of another
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_PAINTS_PANE (ts_paints_pane_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintsPane, ts_paints_pane, TS, PAINTS_PANE, TsView)

G_END_DECLS
