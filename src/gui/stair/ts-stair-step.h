/* ts-stair-step.h: one step of the stair, as a widget of its own so that it can be reached
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/stair/ts-stair-view.h"

G_BEGIN_DECLS

#define TS_TYPE_STAIR_STEP (ts_stair_step_get_type ())
G_DECLARE_FINAL_TYPE (TsStairStep, ts_stair_step, TS, STAIR_STEP, GtkWidget)

/* @view is its parent. */
GtkWidget *ts_stair_step_new     (TsStairView  *view,
                                  guint         index);
void       ts_stair_step_refresh (TsStairStep  *self);

G_END_DECLS
