/* ts-image-view.h: the picture, with the runs drawn on it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "ts-hover.h"
#include "ts-texture.h"
#include "ts-view.h"

G_BEGIN_DECLS

/* Signals: "view-changed" (zoom or place), "pointer-moved" (the pointer's place is another),
 * "surface-added" (int surface, a drag has made it). */
#define TS_TYPE_IMAGE_VIEW (ts_image_view_get_type ())
G_DECLARE_FINAL_TYPE (TsImageView, ts_image_view, TS, IMAGE_VIEW, TsView)

void     ts_image_view_set_hover   (TsImageView  *self,
                                    TsHover      *hover);
void     ts_image_view_set_look    (TsImageView  *self,
                                    TsLook        look);
TsLook   ts_image_view_get_look    (TsImageView  *self);
/* Screen pixels to one of the picture. */
double   ts_image_view_get_zoom    (TsImageView  *self);
gboolean ts_image_view_is_fitted   (TsImageView  *self);
void     ts_image_view_fit         (TsImageView  *self);
/* About the middle of what is to be seen. */
void     ts_image_view_set_zoom    (TsImageView  *self,
                                    double        zoom);
/* The next click, or arrows and Return, tell where the grey card lies. */
void     ts_image_view_place_card  (TsImageView  *self);
/* The next drag, or arrows and Return, tell the way the imagined light falls. */
void     ts_image_view_place_light (TsImageView  *self);
/* FALSE where the pointer is not on the picture; upright pixels. */
gboolean ts_image_view_get_pointer (TsImageView  *self,
                                    TsPoint      *place);

G_END_DECLS
