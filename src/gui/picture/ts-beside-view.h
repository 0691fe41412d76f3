/* ts-beside-view.h: a second picture beside the first, or the same with other eyes
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/picture/ts-image-view.h"

G_BEGIN_DECLS

typedef enum
{
  TS_BESIDE_AS_IT_IS,
  TS_BESIDE_VALUES,
  TS_BESIDE_STEPS, /* values, in the steps of the selected stair */
  TS_BESIDE_ARMS_LENGTH,
  TS_BESIDE_N_LOOKS
} TsBeside;

/* Moves and zooms with the view that it follows, and that with it; nothing is drawn on it. Emits
 * "pointer-moved". */
#define TS_TYPE_BESIDE_VIEW (ts_beside_view_get_type ())
G_DECLARE_FINAL_TYPE (TsBesideView, ts_beside_view, TS, BESIDE_VIEW, TsView)

void     ts_beside_view_follow       (TsBesideView  *self,
                                      TsImageView   *view);
/* @picture: index of another picture, or -1 for the one that is followed. */
void     ts_beside_view_show         (TsBesideView  *self,
                                      TsBeside       look,
                                      int            picture);
/* FALSE where the pointer is not on its picture; upright pixels of that. */
gboolean ts_beside_view_get_pointer  (TsBesideView  *self,
                                      guint         *picture,
                                      TsPoint       *place);

G_END_DECLS
