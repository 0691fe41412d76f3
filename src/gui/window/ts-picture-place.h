/* ts-picture-place.h: the place where one picture becomes stairs
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-layout.h"
#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_PICTURE_PLACE (ts_picture_place_get_type ())
G_DECLARE_FINAL_TYPE (TsPicturePlace, ts_picture_place, TS, PICTURE_PLACE, TsView)

/* Whether the correction of the photograph is open. */
gboolean ts_picture_place_is_correcting (TsPicturePlace  *self);
/* Another picture of the plan, beside the one that is shown. */
void     ts_picture_place_show_beside_it (TsPicturePlace  *self,
                                          guint            picture);
/* F6: the next or the previous of picture, bar, surfaces, curve, stair. FALSE past the last. */
gboolean ts_picture_place_next_area (TsPicturePlace  *self,
                                     gboolean         back);

G_END_DECLS
