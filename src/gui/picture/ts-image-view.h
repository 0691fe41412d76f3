/* ts-image-view.h: the picture, with the runs drawn on it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/picture/ts-hover.h"
#include "gui/pixels/ts-texture.h"
#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* Signals: "view-changed" (zoom or place), "pointer-moved" (the pointer's place is another),
 * "surface-added" (int surface, a drag has made it). */
#define TS_TYPE_IMAGE_VIEW (ts_image_view_get_type ())
G_DECLARE_FINAL_TYPE (TsImageView, ts_image_view, TS, IMAGE_VIEW, TsView)

void     ts_image_view_set_hover   (TsImageView  *self,
                                    TsHover      *hover);
void     ts_image_view_set_look    (TsImageView  *self,
                                    TsLook        look);
/* Lightness alone, in the steps of the selected stair. */
void     ts_image_view_set_flat    (TsImageView  *self,
                                    gboolean      flat);
TsLook   ts_image_view_get_look    (TsImageView  *self);
/* Screen pixels to one of the picture. */
double   ts_image_view_get_zoom    (TsImageView  *self);
gboolean ts_image_view_is_fitted   (TsImageView  *self);
void     ts_image_view_fit         (TsImageView  *self);
/* About the middle of what is to be seen. */
void     ts_image_view_set_zoom    (TsImageView  *self,
                                    double        zoom);
/* Keeps the place under x, y (widget) where it is. */
void     ts_image_view_zoom_at     (TsImageView  *self,
                                    double        zoom,
                                    double        x,
                                    double        y);
void     ts_image_view_pan         (TsImageView  *self,
                                    double        dx,
                                    double        dy);
/* What is shown, whole or reduced; %NULL without a picture. */
TsImage *ts_image_view_get_image   (TsImageView  *self);
/* Whether it says in its corner how it shows the picture. */
void     ts_image_view_set_captioned (TsImageView *self,
                                      gboolean     captioned);
/* Marks where the pointer is in the picture beside it, upright pixels; %NULL: nowhere. */
void     ts_image_view_set_mark    (TsImageView    *self,
                                    const TsPoint  *place);
/* Keys that a picture beside it has as well; FALSE for any other. @widget: which was pressed in. */
gboolean ts_image_view_zoom_key    (TsImageView  *self,
                                    guint         keyval);
gboolean ts_image_view_look_key    (GtkWidget    *widget,
                                    guint         keyval);
/* The next click, or arrows and Return, tell where the grey card lies. */
void     ts_image_view_place_card  (TsImageView  *self);
/* The same for a colour that the client asks for: it becomes a line of the brief. */
void     ts_image_view_place_brief (TsImageView  *self);
/* The next drag, or arrows and Return, tell the way the imagined light falls. */
void     ts_image_view_place_light (TsImageView  *self);
/* A widget that stands over the picture in place of the runs, as large as the view and given to it;
 * %NULL: the runs. */
void     ts_image_view_set_over    (TsImageView  *self,
                                    GtkWidget    *over);
/* Shows the picture in colour as it is corrected by this; %NULL: as it was shot. */
void     ts_image_view_set_shown_correction (TsImageView *self,
                                             TsCorrection *correction);
/* Hatches clipped lights and lost shadows. */
void     ts_image_view_set_clipping (TsImageView *self,
                                     gboolean     clipping);
/* Whether a drag would pan. */
gboolean ts_image_view_is_panning  (TsImageView  *self);
TsPoint  ts_image_view_to_widget   (TsImageView  *self,
                                    TsPoint       place);
TsPoint  ts_image_view_to_picture  (TsImageView  *self,
                                    double        x,
                                    double        y);
/* FALSE where the pointer is not on the picture; upright pixels. */
gboolean ts_image_view_get_pointer (TsImageView  *self,
                                    TsPoint      *place);

G_END_DECLS
