/* ts-texture.h: a picture of any size on the screen, from tiles made as they are looked at
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

/* Draws what it has: where a tile is missing a coarser one stands in, and "changed" is emitted when
 * it is there. Work begins with the first drawing, so that a texture nobody sees costs nothing. Tiles
 * that were not drawn for long are given up. All coordinates are pixels of the whole picture, also
 * while a reduced one stands in for it. */
#define TS_TYPE_TEXTURE (ts_texture_get_type ())
G_DECLARE_FINAL_TYPE (TsTexture, ts_texture, TS, TEXTURE, GObject)

TsTexture *ts_texture_new       (void);
/* The tiles of the same picture in another look, or of its reduced form, stay until the new ones are
 * there. */
void       ts_texture_set_image (TsTexture  *self,
                                 TsImage    *image,
                                 TsLook      look);
/* Greys in place of greys where lightness alone is shown: 256 codes, or %NULL for each its own. */
void       ts_texture_set_steps (TsTexture     *self,
                                 const guint8  *codes);
/* The rectangle of the picture, in its pixels, through @cr's present transform; @scale is device
 * pixels to one of the picture. @least is the finest factor to draw from, 1 for all there is: a
 * power of two of pixels that are to merge into one, each way. */
void       ts_texture_draw      (TsTexture  *self,
                                 cairo_t    *cr,
                                 double      x,
                                 double      y,
                                 double      width,
                                 double      height,
                                 double      scale,
                                 guint       least);
/* Whether all that was last drawn had its own tiles: nothing more will come. */
gboolean   ts_texture_is_sharp  (TsTexture  *self);

G_END_DECLS
