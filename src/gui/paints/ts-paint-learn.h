/* ts-paint-learn.h: the test swatches of a set, what they have refined, and what to paint next
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_PAINT_LEARN (ts_paint_learn_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintLearn, ts_paint_learn, TS, PAINT_LEARN, TsView)

/* Calibrates by all swatches of the set, on another thread. */
void ts_paint_learn_start (TsPaintLearn  *self);

G_END_DECLS
