/* ts-correction-overlay.h: the chart and the cards on the picture, while it is being corrected
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "document/ts-correction-draft.h"
#include "gui/picture/ts-image-view.h"

G_BEGIN_DECLS

/* Stands over the image view; see ts_image_view_set_over(). */
#define TS_TYPE_CORRECTION_OVERLAY (ts_correction_overlay_get_type ())
G_DECLARE_FINAL_TYPE (TsCorrectionOverlay, ts_correction_overlay, TS, CORRECTION_OVERLAY, GtkWidget)

GtkWidget *ts_correction_overlay_new       (TsImageView         *image_view);
/* %NULL: nothing is being corrected. */
void       ts_correction_overlay_set_draft (TsCorrectionOverlay *self,
                                            TsCorrectionDraft   *draft);

G_END_DECLS
