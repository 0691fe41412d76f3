/* ts-accents-box.h: the accents of the selected step: its mix and something more
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_ACCENTS_BOX (ts_accents_box_get_type ())
G_DECLARE_FINAL_TYPE (TsAccentsBox, ts_accents_box, TS, ACCENTS_BOX, TsView)

G_END_DECLS
