/* ts-finish-view.h: one of the two pictures of the finish check, with the selected surface's runs
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/pixels/ts-texture.h"
#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* On the finished figure the runs, or the outline, can be moved. Emits "moved" when it is panned or zoomed. Its keys call
 * "finish.next-look", "finish.place-card" and "finish.lay". */
#define TS_TYPE_FINISH_VIEW (ts_finish_view_get_type ())
G_DECLARE_FINAL_TYPE (TsFinishView, ts_finish_view, TS, FINISH_VIEW, TsView)

void     ts_finish_view_set_role   (TsFinishView   *self,
                                    TsPictureRole   role);
void     ts_finish_view_set_look   (TsFinishView   *self,
                                    TsLook          look);
/* Shows the same part as another view does, each of its own picture. */
void     ts_finish_view_follow     (TsFinishView   *self,
                                    TsFinishView   *other);
/* Screen pixels to one of the picture. */
double   ts_finish_view_get_zoom   (TsFinishView   *self);
void     ts_finish_view_set_zoom   (TsFinishView   *self,
                                    double          zoom);
/* The whole picture. */
void     ts_finish_view_fit        (TsFinishView   *self);
gboolean ts_finish_view_is_fitted  (TsFinishView   *self);
/* The next click says where the grey card lies. */
void     ts_finish_view_place_card (TsFinishView   *self);

G_END_DECLS
