/* ts-texture.h: a picture's pixels as cairo surfaces, made on another thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "image/ts-image.h"

G_BEGIN_DECLS

typedef enum
{
  TS_LOOK_COLOUR,
  TS_LOOK_VALUES, /* grey of the same lightness */
  TS_LOOK_ARMS_LENGTH
} TsLook;

/* Emits "changed" as finer levels arrive: the coarsest within a moment. A big picture is drawn from
 * tiles of its reduced copies: one texture of it all would be copied on every frame. */
#define TS_TYPE_TEXTURE (ts_texture_get_type ())
G_DECLARE_FINAL_TYPE (TsTexture, ts_texture, TS, TEXTURE, GObject)

TsTexture *ts_texture_new       (void);
void       ts_texture_set_image (TsTexture  *self,
                                 TsImage    *image,
                                 TsLook      look);
/* The rectangle of the picture, in its pixels, through @cr's present transform; @scale is device
 * pixels to one of the picture. */
void       ts_texture_draw      (TsTexture  *self,
                                 cairo_t    *cr,
                                 double      x,
                                 double      y,
                                 double      width,
                                 double      height,
                                 double      scale,
                                 guint       coarsest);

G_END_DECLS
