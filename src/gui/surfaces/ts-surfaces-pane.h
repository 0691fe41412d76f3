/* ts-surfaces-pane.h: the list of surfaces
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_SURFACES_PANE (ts_surfaces_pane_get_type ())
G_DECLARE_FINAL_TYPE (TsSurfacesPane, ts_surfaces_pane, TS, SURFACES_PANE, TsView)

void ts_surfaces_pane_set_grey (TsSurfacesPane  *self,
                                gboolean         grey);
/* The name of the selected surface is to be typed. */
void ts_surfaces_pane_rename   (TsSurfacesPane  *self);

G_END_DECLS
