/* ts-card-pane.h: the mixing card as it will be printed
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_CARD_PANE (ts_card_pane_get_type ())
G_DECLARE_FINAL_TYPE (TsCardPane, ts_card_pane, TS, CARD_PANE, TsView)

G_END_DECLS
