/* ts-paint-editor.h: every field of one paint, new or there already
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

/* Signals: "closed" (int paint: the one that was saved, or -1), "remove" (the paint is to go). */
#define TS_TYPE_PAINT_EDITOR (ts_paint_editor_get_type ())
G_DECLARE_FINAL_TYPE (TsPaintEditor, ts_paint_editor, TS, PAINT_EDITOR, TsView)

/* @paint: index in the document's set, or -1 for a new one. */
void ts_paint_editor_edit (TsPaintEditor  *self,
                           int             paint);

G_END_DECLS
