/* ts-clip-mask.h: where a picture has lost its lights and shadows
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "image/ts-image.h"

G_BEGIN_DECLS

/* The whole picture in coarse cells, and what is looked at nearer in finer ones, both made on another
 * thread. A cell counts where more than a tenth of its pixels do. Emits "changed". */
#define TS_TYPE_CLIP_MASK (ts_clip_mask_get_type ())
G_DECLARE_FINAL_TYPE (TsClipMask, ts_clip_mask, TS, CLIP_MASK, GObject)

TsClipMask *ts_clip_mask_new        (void);
void        ts_clip_mask_set_image  (TsClipMask  *self,
                                     TsImage     *image);
/* Shares of the whole picture, 0 to 1; FALSE until they are known. */
gboolean    ts_clip_mask_get_shares (TsClipMask  *self,
                                     double      *lights,
                                     double      *shadows);
/* Hatches over the picture, widget = picture * zoom + left, top; the widget is so large. */
void        ts_clip_mask_draw       (TsClipMask  *self,
                                     cairo_t     *cr,
                                     double       zoom,
                                     double       left,
                                     double       top,
                                     int          width,
                                     int          height,
                                     int          scale);
/* A sample of the one hatching or the other, for a legend. */
void        ts_clip_mask_draw_sample (cairo_t    *cr,
                                      TsClipping  which,
                                      double      x,
                                      double      y,
                                      double      width,
                                      double      height,
                                      int         scale);

G_END_DECLS
