/* ts-hover.h: what is under the pointer, so that picture, curve and stair mark the same thing
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib-object.h>

G_BEGIN_DECLS

/* Of the selected surface; -1: none. Emits "changed". */
#define TS_TYPE_HOVER (ts_hover_get_type ())
G_DECLARE_FINAL_TYPE (TsHover, ts_hover, TS, HOVER, GObject)

TsHover *ts_hover_new      (void);
int      ts_hover_get_step (TsHover *self);
/* Counted over all runs of the surface, in their order: as the curve's samples are. */
int      ts_hover_get_spot (TsHover *self);
void     ts_hover_set      (TsHover *self,
                            int      step,
                            int      spot);

G_END_DECLS
