/* ts-swatch.h: a comparison swatch: a step's colour laid on the picture
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/picture/ts-image-view.h"

G_BEGIN_DECLS

#define TS_SWATCH_SIDE 56 /* pixels, of the widget */

/* A disc of what the selected step is mixed to, or wanted, and in words how far that is from the
 * picture it covers. It is a way of looking: the plan does not know of it. Emits "moved" and, when the
 * painter takes it away, "removed". */
#define TS_TYPE_SWATCH (ts_swatch_get_type ())
G_DECLARE_FINAL_TYPE (TsSwatch, ts_swatch, TS, SWATCH, GtkWidget)

GtkWidget *ts_swatch_new       (TsImageView  *view,
                                TsPoint       place);
/* Its middle, upright pixels. */
TsPoint    ts_swatch_get_place (TsSwatch     *self);
/* The step, the picture or the zoom is another. */
void       ts_swatch_refresh   (TsSwatch     *self);
void       ts_swatch_set_wanted (TsSwatch    *self,
                                 gboolean     wanted);
/* Between what is mixed and what is wanted. */
void       ts_swatch_turn      (TsSwatch     *self);

G_END_DECLS
