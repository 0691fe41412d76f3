/* ts-picture-choice.h: which of several references is shown
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* Hidden while there is one reference. */
#define TS_TYPE_PICTURE_CHOICE (ts_picture_choice_get_type ())
G_DECLARE_FINAL_TYPE (TsPictureChoice, ts_picture_choice, TS, PICTURE_CHOICE, TsView)

G_END_DECLS
