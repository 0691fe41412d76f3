/* ts-sequence-view.h: the order of work for one stair, to be ticked off while painting
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_SEQUENCE_VIEW (ts_sequence_view_get_type ())
G_DECLARE_FINAL_TYPE (TsSequenceView, ts_sequence_view, TS, SEQUENCE_VIEW, TsView)

G_END_DECLS
