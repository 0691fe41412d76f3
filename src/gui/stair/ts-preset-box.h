/* ts-preset-box.h: the painter's own wishes for stairs, taken by name and kept
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_PRESET_BOX (ts_preset_box_get_type ())
G_DECLARE_FINAL_TYPE (TsPresetBox, ts_preset_box, TS, PRESET_BOX, TsView)

G_END_DECLS
