/* ts-paint-page.h: one paint: what it looks like, what is known of it, and how surely
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/paints/ts-paint-item.h"
#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* Signals: "stock" (int stock: the painter has chosen another), "edit". */
#define TS_TYPE_PAINT_PAGE (ts_paint_page_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintPage, ts_paint_page, TS, PAINT_PAGE, TsView)

/* %NULL: none. */
void ts_paint_page_show (TsPaintPage  *self,
                         TsPaintItem  *item);

G_END_DECLS
