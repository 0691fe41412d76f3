/* ts-looked-at.h: how one surface is lit and looked at, and whose stair it has
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_LOOKED_AT (ts_looked_at_get_type ())
G_DECLARE_FINAL_TYPE (TsLookedAt, ts_looked_at, TS, LOOKED_AT, TsView)

G_END_DECLS
