/* ts-paint-list.h: the paints of a set, to be found, ordered and chosen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "paint/ts-paint-set.h"

G_BEGIN_DECLS

/* Signals: "chosen" (uint paint: index in the set), "activated" (uint paint: Return, double click). */
#define TS_TYPE_PAINT_LIST (ts_paint_list_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintList, ts_paint_list, TS, PAINT_LIST, GtkWidget)

/* A GListModel of all TsPaintItem, in the order of the set. */
GListModel *ts_paint_list_get_items  (TsPaintList  *self);
void        ts_paint_list_set_paints (TsPaintList  *self,
                                      TsPaintSet   *paints);
/* -1: none. Does not emit. */
void        ts_paint_list_choose     (TsPaintList  *self,
                                      int           paint);
void        ts_paint_list_find       (TsPaintList  *self);

G_END_DECLS
