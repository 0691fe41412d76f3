/* ts-correction-cards.h: the neutral cards that are laid on the picture, beside it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "document/ts-correction-draft.h"

G_BEGIN_DECLS

/* One line a disc: which of them a click lays, its L*, and a way to take it off again. */
#define TS_TYPE_CORRECTION_CARDS (ts_correction_cards_get_type ())
G_DECLARE_FINAL_TYPE (TsCorrectionCards, ts_correction_cards, TS, CORRECTION_CARDS, GtkWidget)

/* Discs from @first to @last; their lightness is asked for where it counts. */
GtkWidget *ts_correction_cards_new       (TsDraftDisc         first,
                                          TsDraftDisc         last,
                                          gboolean            lightness);
void       ts_correction_cards_set_draft (TsCorrectionCards  *self,
                                          TsCorrectionDraft  *draft);

G_END_DECLS
