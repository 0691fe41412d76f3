/* ts-tiler.h: tiles of a picture as the screen shows them, made on another thread
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "gui/pixels/ts-texture.h"

G_BEGIN_DECLS

#define TS_TILE_SIZE 256

/* @factor pixels of the whole picture make one of the tile's, each way: a power of two. */
typedef struct
{
  guint factor;
  guint column;
  guint row;
} TsTileKey;

/* One picture in one look. Counted atomically: the thread that works for it holds it. */
typedef struct _TsTiler TsTiler;

/* On the main thread, for each tile; takes @tile. Not called once the tiler is stopped or @owner is
 * gone. */
typedef void (*TsTilerFunc) (GObject          *owner,
                             TsTiler          *tiler,
                             TsTileKey         key,
                             cairo_surface_t  *tile);

/* @monitor: (nullable): ICC profile of the screen; %NULL for sRGB. */
TsTiler *ts_tiler_new         (TsImage          *image,
                               TsLook            look,
                               GBytes           *monitor,
                               TsTilerFunc       func,
                               GObject          *owner);
void     ts_tiler_unref       (TsTiler          *self);
/* The thread ends with the tile it is at. */
void     ts_tiler_stop        (TsTiler          *self);
/* Wants tiles, the first most of all; earlier wishes come after them. */
void     ts_tiler_want        (TsTiler          *self,
                               const TsTileKey  *keys,
                               guint             n);

/* Greys in place of greys, 256 codes, where lightness alone is shown; before the first wish. */
void     ts_tiler_set_steps   (TsTiler          *self,
                               const guint8     *codes);
/* The finest factor there are pixels for, and the coarsest that still has some. */
guint    ts_tiler_get_finest  (const TsTiler    *self);
guint    ts_tiler_get_coarsest (const TsTiler   *self);

/* A tile carries one pixel more on each side that has a neighbour, so that drawing it enlarged
 * leaves no seam. */
static inline guint
ts_tile_get_apron (guint column_or_row)
{
  return column_or_row > 0 ? 1 : 0;
}

G_END_DECLS
