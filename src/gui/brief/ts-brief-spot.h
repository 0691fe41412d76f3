/* ts-brief-spot.h: where in a picture a line of the brief was measured
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gtk/gtk.h>

#include "image/ts-image.h"
#include "plan/ts-plan.h"

G_BEGIN_DECLS

#define TS_TYPE_BRIEF_SPOT (ts_brief_spot_get_type ())
G_DECLARE_FINAL_TYPE (TsBriefSpot, ts_brief_spot, TS, BRIEF_SPOT, GtkWidget)

/* The part of @image about the spot of @line, pixel by pixel. */
void ts_brief_spot_show (TsBriefSpot        *self,
                         TsImage            *image,
                         const TsBriefLine  *line);

G_END_DECLS
