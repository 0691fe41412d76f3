/* ts-correction-handle.h: a ring on the picture that the keyboard can move
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "document/ts-correction-draft.h"

G_BEGIN_DECLS

/* One corner of the chart, or one disc. It lies where its parent puts it; arrows move what it stands
 * for, and its name says where that is. */
#define TS_TYPE_CORRECTION_HANDLE (ts_correction_handle_get_type ())
G_DECLARE_FINAL_TYPE (TsCorrectionHandle, ts_correction_handle, TS, CORRECTION_HANDLE, GtkWidget)

GtkWidget *ts_correction_handle_new_corner (guint               corner);
GtkWidget *ts_correction_handle_new_disc   (TsDraftDisc         disc);
void       ts_correction_handle_set_draft  (TsCorrectionHandle *self,
                                            TsCorrectionDraft  *draft);
/* Of the ring, pixels of the widget. */
void       ts_correction_handle_set_radius (TsCorrectionHandle *self,
                                            double              radius);

G_END_DECLS
