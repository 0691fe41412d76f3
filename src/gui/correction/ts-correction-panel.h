/* ts-correction-panel.h: the correction of one photograph, beside it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "document/ts-correction-draft.h"
#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* Emits "closed" where it is left, whether the correction was used or not. */
#define TS_TYPE_CORRECTION_PANEL (ts_correction_panel_get_type ())
G_DECLARE_FINAL_TYPE (TsCorrectionPanel, ts_correction_panel, TS, CORRECTION_PANEL, TsView)

/* Starts on the picture that is shown; the draft is the panel's. */
TsCorrectionDraft *ts_correction_panel_open  (TsCorrectionPanel *self);
void               ts_correction_panel_close (TsCorrectionPanel *self);
/* What a hand can do on the picture now. */
const char        *ts_correction_panel_get_hint (TsCorrectionPanel *self);

G_END_DECLS
