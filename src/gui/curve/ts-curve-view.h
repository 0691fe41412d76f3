/* ts-curve-view.h: lightness along the run: what the photo has, and what is wanted
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/picture/ts-hover.h"
#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_CURVE_VIEW (ts_curve_view_get_type ())
G_DECLARE_FINAL_TYPE (TsCurveView, ts_curve_view, TS, CURVE_VIEW, TsView)

void ts_curve_view_set_hover (TsCurveView  *self,
                              TsHover      *hover);

G_END_DECLS
