/* ts-paint-item.h: one paint of a set, as lists and charts hold it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib-object.h>

#include "paint/ts-paint-samples.h"

G_BEGIN_DECLS

/* It never changes once made. */
#define TS_TYPE_PAINT_ITEM (ts_paint_item_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintItem, ts_paint_item, TS, PAINT_ITEM, GObject)

TsPaintItem          *ts_paint_item_new         (TsPaintSet   *set,
                                                 guint         index,
                                                 int           white);
guint                 ts_paint_item_get_index   (TsPaintItem  *self);
TsPaintSet           *ts_paint_item_get_set     (TsPaintItem  *self);
TsPaint              *ts_paint_item_get_paint   (TsPaintItem  *self);
const TsPaintSamples *ts_paint_item_get_samples (TsPaintItem  *self);
/* Whether each word of @words (casefolded, ends with %NULL) stands in its name, kind, opacity,
 * pigments, stock or notes. */
gboolean              ts_paint_item_matches     (TsPaintItem  *self,
                                                 char *const  *words);

typedef enum
{
  TS_PAINT_ORDER_NAME,
  TS_PAINT_ORDER_LIGHTNESS,
  TS_PAINT_ORDER_HUE,
  TS_PAINT_ORDER_HIDING,
  TS_PAINT_ORDER_STOCK,
  TS_PAINT_ORDER_FILE
} TsPaintOrder;

/* Which of two stands first; ties by name. */
int                   ts_paint_item_compare     (TsPaintItem  *one,
                                                 TsPaintItem  *other,
                                                 TsPaintOrder  order);

G_END_DECLS
