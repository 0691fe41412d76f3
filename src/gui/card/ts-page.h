/* ts-page.h: one page of the mixing card on the screen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "card/ts-card.h"

G_BEGIN_DECLS

#define TS_TYPE_PAGE (ts_page_get_type ())
G_DECLARE_FINAL_TYPE (TsPage, ts_page, TS, PAGE, GtkWidget)

GtkWidget *ts_page_new      (TsCard  *card,
                             guint    index);
/* Another card, of which it shows the same page. */
void       ts_page_set_card (TsPage  *self,
                             TsCard  *card);

G_END_DECLS
