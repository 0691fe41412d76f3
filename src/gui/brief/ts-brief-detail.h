/* ts-brief-detail.h: one line of the brief at large: why it fails, and what would pass
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/widgets/ts-view.h"

G_BEGIN_DECLS

#define TS_TYPE_BRIEF_DETAIL (ts_brief_detail_get_type ())
G_DECLARE_FINAL_TYPE (TsBriefDetail, ts_brief_detail, TS, BRIEF_DETAIL, TsView)

/* @line is an index in the plan's brief, or -1. */
void ts_brief_detail_show   (TsBriefDetail  *self,
                             int             line);
/* Takes what is being typed into the line that is shown, before another is. */
void ts_brief_detail_keep   (TsBriefDetail  *self);
/* Puts the keyboard into its name, all of it selected. */
void ts_brief_detail_rename (TsBriefDetail  *self);

G_END_DECLS
